"""Data sheets and other papers: tagged PDF/UA-1 by WeasyPrint, from the build's own bytes and nothing else."""

from __future__ import annotations

import io
import logging
import re
import warnings
from collections.abc import Mapping, Sequence
from contextlib import redirect_stdout
from datetime import UTC, datetime
from importlib.resources import files
from typing import Any

from generator.errors import GeneratorFailed, LibraryMissing
from generator.garbage import looked_for_afterwards
from generator.model.base import Day
from generator.presenting.page_parts import Attached, Letterhead, Paper
from generator.rendering.fonts import FACES, font_bytes
from generator.rendering.pages import page_markup

_BASE = "build:/"
_SVG = "http://www.w3.org/2000/svg"
_FONTS = frozenset(f"fonts/{name}.ttf" for _, name, _ in FACES)
_STYLES = frozenset({"sheet.css", "us-letter.css", "worksheet.css"})
_MISSING = (
    "The libraries that set PDFs are missing ({reason}). On Debian: "
    "apt-get install --no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0. "
    "Elsewhere: install Pango 1.44 or newer"
)


_LACKING = re.compile(
    r"^\.notdef glyph rendered for Unicode string unsupported by fonts: .*\(U\+([0-9A-F]+)\)$", re.DOTALL
)
_STAND_IN = "\u25a1"
"""Both families have it. The sign for a missing glyph itself is not allowed in PDF/UA-1 (ISO 14289-1, 7.21.8)."""


_DRAWING = re.compile(r"<svg\b([^<>]*)>.*?</svg>", re.DOTALL)
_CLASS = re.compile(r' class="[^"]*"')
_TITLE = re.compile(r"<title\b[^<>]*>([^<>]*)</title>")
_TAG = re.compile(r"(<[^<>]*>)")
_SLASH_IN_UNIT = re.compile(r"/(?=(?:min|s|h|cm³|m³|L|\(L)(?![\w-]))")
_WORD_JOINER = "\u2060"

_EMPTY_MAPPING = re.compile(rb"<[0-9a-f]{4}> <>")


def _complete_mappings(document: object, pdf: Any) -> None:
    """Give every glyph a text: WeasyPrint leaves it out for a mark that it first meets behind its letter.

    The letter's text holds the mark already, so that a space without width suffices. PDF/UA-1 allows no empty one.
    """
    for thing in pdf.objects:
        lines = getattr(thing, "stream", None)
        if isinstance(lines, list) and b"begincmap" in lines:
            lines[:] = [line.replace(b"<>", b"<200b>") if _EMPTY_MAPPING.fullmatch(line) else line for line in lines]


class _StopOnTrouble(logging.Handler):
    """WeasyPrint logs what it cannot do and goes on; a sheet with something missing must not be published.

    Characters that no typeface has are noted in `lacking` where that is given.
    """

    def __init__(self, lacking: set[str] | None) -> None:
        super().__init__(logging.WARNING)
        self.lacking = lacking

    def emit(self, record: logging.LogRecord) -> None:
        message = record.getMessage()
        if message.startswith("Using fontTools instead of HarfBuzz-Subset"):
            raise LibraryMissing(_MISSING.format(reason="HarfBuzz-Subset 4.1 or newer"))
        missing = _LACKING.match(message)
        if missing is None or self.lacking is None:
            raise GeneratorFailed(f"The PDF could not be set as it should be: {message}")
        self.lacking.add(chr(int(missing[1], 16)))


def _midnight(day: Day) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)


def render_sheet(sheet: Paper, letterhead: Letterhead, attached: Mapping[str, bytes]) -> bytes:
    """Return a data sheet or another paper as PDF. A character that no typeface has is shown as a box, and named.

    `attached` holds the published records that go with it, by name.

    Raises
    ------
    LibraryMissing
        A system library for PDFs is not there; the message says what to install.
    GeneratorFailed
        WeasyPrint complained, or the sheet asked for anything but the build's own files.
    """
    enclosed = [(item, attached[item.name]) for item in sheet.attached]
    lacking: set[str] = set()
    markup = page_markup(sheet.template, sheet, letterhead, paper=True)
    with looked_for_afterwards():
        pdf = _set(markup, lacking, enclosed)
    if not lacking:
        return pdf
    codes = tuple(f"U+{ord(character):04X}" for character in sorted(lacking))
    head, body, content = page_markup(sheet.template, sheet, letterhead, paper=True, lacking=codes).partition("<body")
    with looked_for_afterwards():
        return _set(head + body + content.translate(dict.fromkeys(map(ord, lacking), _STAND_IN)), None, enclosed)


def _drawings_apart(markup: str) -> tuple[str, dict[str, str]]:
    """Return the markup with its drawings as pictures of their own, and those by name, each once.

    Within the markup, every line of a drawing would be read and styled as an element of the page.
    """
    names: dict[str, str] = {}

    def picture(drawing: re.Match[str]) -> str:
        svg = drawing[0] if " xmlns=" in drawing[1] else drawing[0].replace("<svg", f'<svg xmlns="{_SVG}"', 1)
        title, kind = _TITLE.search(svg), _CLASS.search(drawing[1])
        alternative = title[1].replace('"', "&quot;") if title else ""
        name = names.setdefault(svg, f"drawings/{len(names)}.svg")
        return f'<img src="{name}"{kind[0] if kind else ""} alt="{alternative}">'

    apart = _DRAWING.sub(picture, markup)
    return apart, {name: svg for svg, name in names.items()}


def _unbroken_units(markup: str) -> str:
    """Keep units such as `L/min` on one line: the library breaks lines after a slash."""
    parts = _TAG.split(markup)
    parts[::2] = [_SLASH_IN_UNIT.sub(f"/{_WORD_JOINER}", part) for part in parts[::2]]
    return "".join(parts)


def setting_library() -> Any:
    """Return WeasyPrint, imported when it is first asked for: it takes time, and pages do without.

    Raises
    ------
    LibraryMissing
        A system library for PDFs is not there; the message says what to install.
    """
    try:
        with warnings.catch_warnings(), redirect_stdout(io.StringIO()):
            # Where a library is missing, it prints advice of its own. Where the system has no typeface at all, it
            # warns of it; the brought families suffice.
            warnings.filterwarnings("ignore", "No fonts configured in FontConfig|FontConfig cannot load", UserWarning)
            import weasyprint

            import generator.rendering.faster_setting  # noqa: F401  # it takes part from the first paper on
    except OSError as error:
        raise LibraryMissing(_MISSING.format(reason=str(error).splitlines()[0])) from error
    return weasyprint


def _set(markup: str, lacking: set[str] | None, enclosed: Sequence[tuple[Attached, bytes]]) -> bytes:
    weasyprint = setting_library()
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    from generator.rendering.faster_setting import PaperMarkup, forget_typefaces, typefaces

    page, drawings = _drawings_apart(markup)

    class OwnFiles(URLFetcher):  # type: ignore[misc]
        """Serves the style sheets, the fonts and the paper's own drawings; anything else stops the build."""

        def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
            name = url.removeprefix(_BASE)
            if name in _STYLES:
                body, kind = (files("site_templates") / name).read_bytes(), "text/css"
            elif name in _FONTS:
                body, kind = font_bytes(name.removeprefix("fonts/")), "font/ttf"
            elif name in drawings:
                body, kind = drawings[name].encode(), "image/svg+xml"
            else:
                raise FatalURLFetchingError(f"a sheet asked for {url!r}, which is not part of the build")
            return URLFetcherResponse(url, body, {"Content-Type": kind})

    log = logging.getLogger("weasyprint")
    handler = _StopOnTrouble(lacking)
    log.addHandler(handler)
    # What it says is heard here, and nowhere else.
    told_others, log.propagate = log.propagate, False
    try:
        document = PaperMarkup(string=_unbroken_units(page), base_url=_BASE, url_fetcher=OwnFiles())
        pdf = document.write_pdf(
            font_config=typefaces(),
            pdf_variant="pdf/ua-1",
            finisher=_complete_mappings,
            attachments=[
                weasyprint.Attachment(
                    string=content,
                    name=item.name,
                    description=item.description,
                    relationship="Data",
                    # Without dates of its own an attachment would hold the time of the build.
                    created=_midnight(item.day),
                    modified=_midnight(item.day),
                )
                for item, content in enclosed
            ],
        )
    except BaseException as error:
        forget_typefaces()  # one of them may have been brought by half
        if isinstance(error, FatalURLFetchingError):
            # The library makes it a BaseException, so that nothing on the way swallows it; above here it is an error.
            raise GeneratorFailed(f"The PDF could not be set as it should be: {error}") from error
        raise
    finally:
        log.propagate = told_others
        log.removeHandler(handler)
    assert isinstance(pdf, bytes)
    return pdf
