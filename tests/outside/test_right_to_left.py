"""A name that runs from right to left leaves the figure behind it in its place: in a browser, and on paper."""

import io

import pypdf
import pytest
import weasyprint
from markupsafe import Markup
from playwright.sync_api import sync_playwright

from generator.rendering.pages import isolated
from tests.outside.conftest import QUIET

HEBREW = "קסדה"
ARABIC = "كمامة"
SENTENCE = "<p>Flow of <b id='name'>{}</b> <span id='figure'>12</span> L/min</p>"


@pytest.mark.parametrize(
    "text", ["", "Mask", "Маска №4", "防塵口罩", "17.2 ± 0.4 L/min", Markup(f"<p>{HEBREW}</p>"), None, 3]
)
def test_other_texts_and_markup_stay_as_they_are(text: object) -> None:
    assert isolated(text) is text


@pytest.mark.parametrize("text", [HEBREW, ARABIC, f"Mask {ARABIC} 3"])
def test_marks_stand_round_a_text_with_letters_from_right_to_left(text: str) -> None:
    # source: Unicode Standard Annex 9, 2.6: first strong isolate U+2068, pop directional isolate U+2069
    assert isolated(text) == f"\u2068{text}\u2069"


@pytest.mark.parametrize("name", [HEBREW, ARABIC])
def test_on_paper(name: str) -> None:
    def shown(text: object) -> str:
        pdf = weasyprint.HTML(string=f"<p>Flow of {text} 12 L/min</p>").write_pdf()
        return pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text()

    assert shown(isolated(name)).split()[3:] == ["12", "L/min"]
    # Without the marks the figure goes to the other side, by the rules of Unicode Standard Annex 9.
    assert shown(name).split()[2] == "12"


@pytest.mark.parametrize("name", [HEBREW, ARABIC])
def test_in_a_browser(name: str) -> None:
    script = "['name', 'figure'].map(id => document.getElementById(id).getBoundingClientRect().left)"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        page = browser.new_page()
        page.set_content(SENTENCE.format(isolated(name)))
        left, right = page.evaluate(script)
        assert left < right
        page.set_content(SENTENCE.format(name))
        left, right = page.evaluate(script)
        assert right < left
        browser.close()
