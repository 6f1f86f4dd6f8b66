"""Data sheets: what stands on them, and that anything foreign, odd or missing stops the build with its reason."""

from __future__ import annotations

import builtins
import io
import logging
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

import pypdf
import pytest

from generator.errors import GeneratorFailed, LibraryMissing
from generator.presenting.page_views import Site
from generator.rendering import sheets
from generator.rendering.sheets import render_sheet
from tests.conftest import Complaints
from tests.presenting.small_sites import STANDARD, a_whole_catalogue, shown
from tests.scoring.builders import a_device, a_run, a_session, a_test, readings


@pytest.fixture(scope="module")
def site() -> Site:
    test = a_test([a_session(readings(0, 4, 9), blower="high")], [a_run([17.0, 17.1])])
    return shown(a_whole_catalogue(test, device=a_device("loose_powered_hood", name="Hood of a Test")))


def sheet_of(body: str, site: Site, monkeypatch: pytest.MonkeyPatch, head: str = "") -> bytes:
    """Set a sheet from markup that no template would make."""
    markup = f'<!doctype html><html lang="en"><head><title>x</title>{head}</head><body>{body}</body></html>'
    monkeypatch.setattr(sheets, "page_markup", lambda *parts, **named: markup)
    return render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})


def test_a_sheet_says_whose_it_is_and_where_it_ends(site: Site) -> None:
    reader = pypdf.PdfReader(
        io.BytesIO(
            render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})
        )
    )
    texts = [" ".join(page.extract_text().split()) for page in reader.pages]
    assert "Hood of a Test" in texts[0]
    assert all("Hood of a Test · device · issued 1 July 2025" in text for text in texts)
    assert "End of the data sheet of Hood of a Test (device)." in texts[-1]
    for number, text in enumerate(texts, start=1):
        assert text.endswith(f"{number} of {len(texts)}")
    assert reader.metadata is not None
    assert reader.metadata.title == "Hood of a Test: data sheet"
    root = reader.trailer["/Root"].get_object()
    assert isinstance(root, pypdf.generic.DictionaryObject)
    assert (str(root["/MarkInfo"]), str(root["/Lang"])) == ("{'/Marked': True}", "en")
    assert reader.outline != []


def test_units_stay_on_one_line(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    texts = ["9.66 L/min of air", "2.83 cm/s at most", "about 2000 /cm³ there", "41 Pa/(L/s) then", "1.2 kg/m³"]
    body = "".join(f'<p style="width: 1mm">{text}</p>' for text in texts)
    (page,) = pypdf.PdfReader(io.BytesIO(sheet_of(body, site, monkeypatch))).pages
    lines = page.extract_text().split()
    assert {"L/min", "cm/s", "/cm³", "Pa/(L/s)", "kg/m³"} <= set(lines)


def test_addresses_and_drawings_keep_their_slashes(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    body = '<p><a href="https://reviews.example/s/min">there</a></p><svg role="img"><title>L/min</title></svg>'
    content = sheet_of(body, site, monkeypatch)
    (page,) = pypdf.PdfReader(io.BytesIO(content)).pages
    assert [note.get_object()["/A"]["/URI"] for note in page.annotations or ()] == ["https://reviews.example/s/min"]


def test_the_running_head_of_a_changed_record_says_when(site: Site) -> None:
    amendment = {"date": "2025-07-09", "reason": "A slip", "changed": "The lot"}
    changed = shown(a_whole_catalogue(a_test(flow=[a_run([17.0, 17.1])], amendments=[amendment], version="2")))
    assert changed.sheets[0].running_head == "Device · device · issued 1 July 2025, amended 9 July 2025"
    gone = {"date": "2025-08-01", "reason": "A leak in the tube"}
    withdrawn = shown(a_whole_catalogue(a_test(flow=[a_run([17.0, 17.1])], withdrawn=gone)))
    assert withdrawn.sheets[0].running_head == "Device · device · no record stands"


def test_an_annex_rounds_no_figure_across_its_limit() -> None:
    # by hand: 3000 outside and 30.1 inside are a factor of 99.67, below the level of 100; two digits would say 100
    exercises = readings(*["30.1 /cm3"] * 8, names=STANDARD)
    test = a_test([a_session(exercises, protocol="eight-standard-exercises")])
    (annex,) = shown(a_whole_catalogue(test)).sheets[0].annexes
    results = [line.result for method in annex.methods for line in method.lines if "overall fit factor" in line.figure]
    assert any(result.startswith("99.7") for result in results)
    assert not any(result.startswith("100") for result in results)
    assert annex.report.end == "End of test report test, version 1."


def test_every_sheet_of_the_demo_names_its_device_and_ends(demo_site: Path) -> None:
    paths = sorted(demo_site.glob("devices/*.pdf"))
    assert len(paths) >= 8
    for path in paths:
        reader = pypdf.PdfReader(path)
        first, last = (" ".join(reader.pages[number].extract_text().split()) for number in (0, -1))
        assert re.search(rf"· {path.stem} · (issued [1-9]|no record stands)", first), path.name
        assert "End of the data sheet of" in last, path.name
        assert "Invented demonstration" in first, path.name


FOREIGN = "The PDF could not be set as it should be: a sheet asked for '{}', which is not part of the build"


@pytest.mark.parametrize(
    ("body", "address"),
    [
        ('<img src="http://other.example/x.png" alt="x">', "http://other.example/x.png"),
        ('<img src="https://other.example/x.png" alt="x">', "https://other.example/x.png"),
        ('<img src="//other.example/x.png" alt="x">', "//other.example/x.png"),
        ('<img src="file:///etc/hostname" alt="x">', "file:///etc/hostname"),
        ('<img src="data:image/png;base64,eA==" alt="x">', "data:image/png;base64,eA=="),
        ('<img src="records/secret.yaml" alt="x">', "records/secret.yaml"),
        ('<img src="../fonts/x" alt="x">', "../fonts/x"),
        ('<object data="https://other.example/"></object>', "https://other.example/"),
        ('<a rel="attachment" href="file:///etc/hostname">x</a>', "file:///etc/hostname"),
        ('<style>@import "https://other.example/x.css";</style>', "https://other.example/x.css"),
        ('<p style="background: url(http://other.example/x.png)">x</p>', "http://other.example/x.png"),
    ],
)
def test_a_request_for_anything_foreign_stops_the_build(
    body: str, address: str, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(GeneratorFailed, match=f"^{re.escape(FOREIGN.format(address))}$"):
        sheet_of(body, site, monkeypatch)


@pytest.mark.parametrize(
    ("head", "reason"),
    [
        ('<link rel="stylesheet" href="other.css">', "asked for 'other.css'"),
        ('<link rel="stylesheet" href="fonts/missing.css">', "asked for 'fonts/missing.css'"),
        ("<style>p { colour: red }</style>", "Ignored `colour:"),
        ("<style>@font-face { font-family: x; src: url(fonts/missing.ttf) }</style>", "asked for 'fonts/missing.ttf'"),
    ],
)
def test_what_the_library_only_warns_of_stops_the_build(
    head: str, reason: str, site: Site, monkeypatch: pytest.MonkeyPatch, complaints: Complaints
) -> None:
    with pytest.raises(GeneratorFailed, match=r"^The PDF could not be set as it should be: ") as caught:
        sheet_of("<p>x</p>", site, monkeypatch, head)
    assert reason in str(caught.value)
    complaints.heard.clear()


def test_the_builds_own_style_and_fonts_are_served(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    pdf = sheet_of("<p>x</p>", site, monkeypatch, '<link rel="stylesheet" href="sheet.css">')
    fonts = {
        str(font.get_object()["/BaseFont"]).partition("+")[2]
        for page in pypdf.PdfReader(io.BytesIO(pdf)).pages
        for font in page["/Resources"]["/Font"].values()  # type: ignore[index]
    }
    assert fonts != set()
    assert all(name.startswith(("Literata", "Source-Sans", "SourceSans")) for name in fonts), fonts


def test_characters_without_a_typeface_become_boxes_that_are_named(complaints: Complaints) -> None:
    # U+10FFFD is the last character for private use: no typeface has it.
    lacking = "\U0010fffd"
    test = a_test([a_session(readings(0, 4, 9), blower="high")])
    site = shown(a_whole_catalogue(test, device=a_device("loose_powered_hood", name=f"Hood {lacking} two")))
    reader = pypdf.PdfReader(
        io.BytesIO(
            render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})
        )
    )
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    assert "Hood □ two" in text
    assert lacking not in text
    assert "A □ stands for a character that no typeface at hand has: U+10FFFD. The page of the catalogue" in text
    assert reader.metadata is not None
    assert reader.metadata.title == f"Hood {lacking} two: data sheet"
    assert {words.partition(":")[0] for words in complaints.heard} == {"weasyprint"}
    assert all("U+10FFFD" in words for words in complaints.heard)
    complaints.heard.clear()


def test_a_sheet_without_such_characters_says_nothing_of_boxes(site: Site) -> None:
    pdf = render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})
    assert "□" not in "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def test_a_failure_leaves_no_handler_behind(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    before = list(logging.getLogger("weasyprint").handlers)
    with pytest.raises(GeneratorFailed, match="not part of the build"):
        sheet_of('<img src="http://other.example/x.png" alt="x">', site, monkeypatch)
    assert logging.getLogger("weasyprint").handlers == before


def test_missing_system_libraries_are_named_with_what_to_install(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without_pango(
        name: str,
        globals_: Mapping[str, object] | None = None,
        locals_: Mapping[str, object] | None = None,
        fromlist: Sequence[str] = (),
        level: int = 0,
    ) -> object:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'\nand a second line")
        return real(name, globals_, locals_, fromlist, level)

    monkeypatch.setattr(builtins, "__import__", without_pango)
    with pytest.raises(LibraryMissing, match=r"libpangoft2-1\.0-0 libharfbuzz-subset0") as caught:
        render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})
    assert str(caught.value) == (
        "The libraries that set PDFs are missing (cannot load library 'libpango-1.0-0'). On Debian: apt-get install "
        "--no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0. Elsewhere: install Pango 1.44 or newer"
    )
