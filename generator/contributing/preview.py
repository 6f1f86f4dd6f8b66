"""The catalogue shown while its records are written: as it would be published, with what is wrong with them above."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path, PurePosixPath

from generator.contributing.kept_scores import KeptScores
from generator.contributing.site_in_memory import SiteInMemory
from generator.errors import InwardError, Problem
from generator.loading import load_catalogue
from generator.loading.files import find_files
from generator.model.published import published
from generator.presenting.preview_views import (
    PreviewNotice,
    failure_notice,
    missing_notice,
    page_failure_notice,
    problems_notice,
)

KINDS: Mapping[str, str] = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".txt": "text/plain; charset=utf-8",
    ".xml": "application/xml",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
}
"""Media types by the ending of a path, the same on every machine."""
OTHER_KIND = "application/octet-stream"
FIRST_PAGE = "index.html"
ASKED_UNBIDDEN = ("favicon.ico",)
"""Paths that browsers ask for though no page names them; that they are not there is nothing to tell a reader."""
UNEXPECTED = "unexpected"
"""Slug of a failure that nobody foresaw, as the command line names it."""


@dataclass(frozen=True)
class Answer:
    """What is sent for a path: HTTP status, media type, content; of pages a text that differs whenever they do."""

    status: int
    kind: str
    content: bytes
    state: str | None = None


@dataclass(frozen=True)
class Refreshed:
    """What became of a change to the records."""

    changed: bool
    """Whether what is shown differs from before."""
    scored: tuple[str, ...] = ()
    """Records that were scored anew."""
    problems: tuple[Problem, ...] = ()
    failure: str | None = None
    """Why the catalogue could not be made although the records have no problem."""


@dataclass(frozen=True)
class _Shown:
    """The newest catalogue that could be made, and what is to be said above its pages."""

    site: SiteInMemory | None = None
    notice: PreviewNotice | None = None


class Preview:
    """Keeps the catalogue of a folder of records and answers with its pages, also to several threads at once."""

    def __init__(self, records: Path) -> None:
        """Take the records folder; `refresh` reads it."""
        self._records = records
        self._scores = KeptScores()
        self._shown = _Shown()
        self._changes = threading.Condition()
        self._number = 0

    def refresh(self) -> Refreshed:
        """Read the records, and show what they are now, or what is wrong with them above what they were before."""
        before = self._shown
        stands = before.site is not None
        scored: tuple[str, ...] = ()
        problems: tuple[Problem, ...] = ()
        failure = None
        try:
            loaded = load_catalogue(self._records)
            problems = loaded.problems
            if loaded.catalogue is None:
                shown = _Shown(before.site, problems_notice(problems, self._lines(), stands=stands))
            else:
                catalogue = published(loaded.catalogue)
                if before.site is not None and catalogue == before.site.catalogue:
                    shown = _Shown(before.site)
                else:
                    result, scored = self._scores.score(catalogue)
                    shown = _Shown(SiteInMemory(catalogue, result))
        except Exception as error:
            slug, words = _told(error)
            failure = f"[{slug}] {words}"
            shown = _Shown(before.site, failure_notice(slug, words, stands=stands))
        changed = shown != before
        if changed:
            with self._changes:
                self._shown = shown
                self._number += 1
                self._changes.notify_all()
        return Refreshed(changed, scored, problems, failure)

    def _lines(self) -> dict[str, list[str]]:
        """Return the lines of the files that can be read, by the names that problems use."""
        found = find_files(self._records)
        return {
            found.shown(*filter(None, (kind, name))): content.decode(errors="replace").splitlines()
            for kind, contents in found.contents.items()
            for name, content in contents.items()
        }

    def number_after(self, number: int, wait_s: float) -> int:
        """Return the number of the state that is shown, after waiting so long for another than the given one."""
        with self._changes:
            self._changes.wait_for(lambda: self._number != number, wait_s)
            return self._number

    def answer(self, path: str) -> Answer:
        """Return what is to be sent for a path, which begins without a slash."""
        from generator.rendering.preview_pages import notice_page, with_preview

        shown = self._shown
        path = path or FIRST_PAGE
        status, notice = 200, shown.notice
        try:
            content = _file(path, shown.site)
            if content is None and path in ASKED_UNBIDDEN:
                return Answer(204, OTHER_KIND, b"")
            if content is not None and not path.endswith(".html"):
                return Answer(status, KINDS.get(PurePosixPath(path).suffix, OTHER_KIND), content)
            if content is None and shown.site is None and notice is not None:
                # Without a catalogue the notice is the page, wherever the reader is.
                content, notice = notice_page(notice), None
            elif content is None:
                status, content = 404, notice_page(missing_notice(path))
            content, state = with_preview(content, notice)
        except Exception as error:
            status = 500
            content, state = with_preview(notice_page(page_failure_notice(*_told(error))), shown.notice)
        return Answer(status, KINDS[".html"], content, state)


@cache
def _shared() -> Mapping[str, bytes]:
    # Read once: each page asks for the style sheet and the typefaces.
    from generator.rendering.assets import shared_files

    return shared_files()


def _file(path: str, site: SiteInMemory | None) -> bytes | None:
    from generator.rendering.preview_pages import FILES, preview_file

    if path in FILES:
        return preview_file(path)
    shared = _shared()
    if path in shared or site is None:
        return shared.get(path)
    return site.file(path)


def _told(error: Exception) -> tuple[str, str]:
    """Return slug and words of a failure."""
    if isinstance(error, InwardError):
        return error.slug, str(error)
    words = f"{type(error).__name__}: {error}".strip().replace("\n", " ")
    return UNEXPECTED, f"{words}. This is a fault of the generator, not of the records."
