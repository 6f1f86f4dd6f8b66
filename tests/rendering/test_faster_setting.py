"""What makes papers faster to set changes no byte of them, and still fits the library that it speeds up."""

from __future__ import annotations

import gc
from importlib.resources import files
from shutil import rmtree

import pytest
import weasyprint
import weasyprint.svg
from weasyprint.pdf import pydyf
from weasyprint.text.fonts import FontConfiguration

from generator.errors import GeneratorFailed
from generator.presenting.page_views import Site
from generator.rendering import faster_setting, sheets
from generator.rendering.sheets import render_sheet
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import a_run, a_session, a_test, readings

RING = '<path d="M 1 1 L 9 1 Q 9 9 1 9 C 1 7 2 5 3.25 2.5 H 4 V 6 Z" fill="#5f594e"/>'
MARKUP = f"""<!doctype html><html lang="en"><head><title>x</title><link rel="stylesheet" href="sheet.css"></head><body>
<h1>One</h1><ul class="lines"><li>a bullet</li></ul><ol><li>a number</li></ol><p>Two <b>b</b> <small>s</small></p>
<table><thead><tr><th scope="col">a</th></tr></thead><tbody><tr><td>7</td></tr></tbody></table>
<svg width="40" height="40" viewBox="0 0 10 10"><title>a "ring" &amp; text</title>{RING}<text>t</text></svg>
<svg width="40" height="40" viewBox="0 0 10 10"><title>again</title>{RING}</svg>
<svg width="40" height="40" viewBox="0 0 10 10"><title>again</title>{RING}</svg></body></html>"""


@pytest.fixture(scope="module")
def site() -> Site:
    return shown(a_whole_catalogue(a_test([a_session(readings(0, 4, 9), blower="high")], [a_run([17.0, 17.1])])))


def as_pdf(site: Site, monkeypatch: pytest.MonkeyPatch, markup: str = MARKUP) -> bytes:
    monkeypatch.setattr(sheets, "page_markup", lambda *parts, **named: markup)
    return render_sheet(site.sheets[0], site.letterhead, {item.name: b"{}" for item in site.sheets[0].attached})


def test_the_bytes_are_those_that_the_library_makes_by_itself(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    faster = as_pdf(site, monkeypatch)
    monkeypatch.setattr(sheets, "_drawings_apart", lambda markup: (markup, {}))
    monkeypatch.setattr(faster_setting, "PaperMarkup", weasyprint.HTML)
    monkeypatch.setattr(faster_setting, "typefaces", FontConfiguration)
    monkeypatch.setitem(weasyprint.svg.TAGS, "path", weasyprint.svg.path)
    assert faster == as_pdf(site, monkeypatch)


@pytest.fixture
def brought(monkeypatch: pytest.MonkeyPatch) -> list[FontConfiguration]:
    """Configurations of typefaces as they are made, the first of them by the next paper."""
    faster_setting.forget_typefaces()
    made: list[FontConfiguration] = []

    class Noted(FontConfiguration):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__()
            made.append(self)

    monkeypatch.setattr(faster_setting, "FontConfiguration", Noted)
    monkeypatch.setattr("weasyprint.document.FontConfiguration", Noted)
    return made


def test_typefaces_are_brought_once_for_all_papers_of_a_process(
    site: Site, monkeypatch: pytest.MonkeyPatch, brought: list[FontConfiguration]
) -> None:
    first, second = as_pdf(site, monkeypatch), as_pdf(site, monkeypatch)
    assert first == second
    assert len(brought) == 1


def test_typefaces_whose_passing_folder_was_taken_away_are_brought_anew(
    site: Site, monkeypatch: pytest.MonkeyPatch, brought: list[FontConfiguration]
) -> None:
    first = as_pdf(site, monkeypatch)
    rmtree(brought[0]._folder)
    assert as_pdf(site, monkeypatch) == first
    assert len(brought) == 2


def test_typefaces_are_brought_anew_after_a_paper_that_failed(
    site: Site, monkeypatch: pytest.MonkeyPatch, brought: list[FontConfiguration]
) -> None:
    first = as_pdf(site, monkeypatch)
    foreign = MARKUP.replace("<h1>", '<img src="http://other.example/x.png" alt="x"><h1>')
    with pytest.raises(GeneratorFailed, match="not part of the build"):
        as_pdf(site, monkeypatch, foreign)
    assert as_pdf(site, monkeypatch) == first
    assert len(brought) == 2


def test_a_paper_is_set_with_the_shorter_defaults(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[object] = []
    shorter = faster_setting.PaperMarkup._ua_stylesheets

    def noted(markup: faster_setting.PaperMarkup, forms: bool = False) -> list[weasyprint.CSS]:
        asked.append(markup)
        return shorter(markup, forms)

    monkeypatch.setattr(faster_setting.PaperMarkup, "_ua_stylesheets", noted)
    as_pdf(site, monkeypatch)
    assert len(asked) == 1


def test_what_the_defaults_lack_are_the_rules_that_hold_for_every_element() -> None:
    whole = (files("weasyprint") / "css" / "html5_ua.css").read_text(encoding="utf-8").splitlines()
    kept = faster_setting.defaults_without_notes().splitlines()
    assert [line.partition(" {")[0] for line in whole if line not in kept] == [
        "::marker",
        "::footnote-call",
        "::footnote-marker",
        "::note-call",
        "::note-marker",
        "::note-callback",
    ]
    assert [line.partition(" {")[0] for line in kept if line not in whole] == ["li::marker"]
    assert not any(line.startswith("::") for line in kept)


class ADrawing:
    """What the library gives to what draws a path."""

    def __init__(self) -> None:
        self.stream = pydyf.Stream()

    def point(self, x: str, y: str, font_size: float) -> tuple[float, float]:
        return float(x), float(y)


@pytest.mark.parametrize(
    "d", ["", "M1 2L3,4Z", "m 1 2 l 3 4 h 5 v 6 z m 1 1 l 2 2", "M0 0A3 4 0 0 1 6 7", "M0 0q1 2 3 4t5 6"]
)
def test_a_path_is_drawn_as_the_library_draws_it_also_again(d: str) -> None:
    for _ in range(2):
        ours, theirs = ADrawing(), ADrawing()
        node, other = (weasyprint.svg.SVG(a_path(d), None, None).tree for _ in range(2))
        weasyprint.svg.TAGS["path"](ours, node, 12)
        weasyprint.svg.path(theirs, other, 12)
        assert b"\n".join(ours.stream.stream) == b"\n".join(theirs.stream.stream)
        assert node.vertices == other.vertices
    assert weasyprint.svg.TAGS["path"] is not weasyprint.svg.path


def a_path(d: str) -> weasyprint.svg.ElementTree.Element:
    return weasyprint.svg.ElementTree.fromstring(f'<path d="{d}"/>')


def test_garbage_is_looked_for_again_after_a_paper_and_after_a_failure(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    states: list[bool] = []

    def failing(*parts: object) -> bytes:
        states.append(gc.isenabled())
        raise LookupError("as planned")

    monkeypatch.setattr(sheets, "_set", failing)
    with pytest.raises(LookupError, match="as planned"):
        as_pdf(site, monkeypatch)
    assert states == [False]
    assert (gc.isenabled(), gc.get_freeze_count()) == (True, 0)
