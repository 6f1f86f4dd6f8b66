"""Data sheets: tagged PDF/UA-1 by WeasyPrint, from the build's own bytes and nothing else."""

from __future__ import annotations

import logging
from importlib.resources import files

from generator.errors import GeneratorFailed, LibraryMissing
from generator.presenting.page_views import Letterhead, Sheet
from generator.rendering.fonts import font_bytes
from generator.rendering.pages import page_markup

_BASE = "build:/"
_MISSING = (
    "The libraries that set PDFs are missing ({reason}). On Debian: "
    "apt-get install --no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0. "
    "Elsewhere: install Pango 1.44 or newer"
)


class _StopOnTrouble(logging.Handler):
    """WeasyPrint logs what it cannot do and goes on; a sheet with something missing must not be published."""

    def emit(self, record: logging.LogRecord) -> None:
        raise GeneratorFailed(f"The PDF could not be set as it should be: {record.getMessage()}")


def render_sheet(sheet: Sheet, letterhead: Letterhead) -> bytes:
    """Return a data sheet as PDF.

    Raises
    ------
    LibraryMissing
        A system library for PDFs is not there; the message says what to install.
    GeneratorFailed
        WeasyPrint complained, or the sheet asked for anything but the build's own files.
    """
    try:
        import weasyprint
        from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse
    except OSError as error:
        raise LibraryMissing(_MISSING.format(reason=str(error).splitlines()[0])) from error

    class OwnFiles(URLFetcher):  # type: ignore[misc]
        """Serves the style sheet and the fonts; anything else stops the build."""

        def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
            name = url.removeprefix(_BASE)
            if name == "sheet.css":
                body, kind = (files("site_templates") / "sheet.css").read_bytes(), "text/css"
            elif name.startswith("fonts/") and name.count("/") == 1:
                body, kind = font_bytes(name.removeprefix("fonts/")), "font/ttf"
            else:
                raise FatalURLFetchingError(f"a sheet asked for {url!r}, which is not part of the build")
            return URLFetcherResponse(url, body, {"Content-Type": kind})

    log = logging.getLogger("weasyprint")
    handler = _StopOnTrouble(logging.WARNING)
    log.addHandler(handler)
    try:
        markup = page_markup("sheet.html", sheet, letterhead, paper=True)
        document = weasyprint.HTML(string=markup, base_url=_BASE, url_fetcher=OwnFiles())
        pdf = document.write_pdf(pdf_variant="pdf/ua-1")
    except FatalURLFetchingError as error:
        # The library makes it a BaseException, so that nothing on the way swallows it; above here it is an error.
        raise GeneratorFailed(f"The PDF could not be set as it should be: {error}") from error
    finally:
        log.removeHandler(handler)
    assert isinstance(pdf, bytes)
    return pdf
