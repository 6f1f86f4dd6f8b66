"""What a preview adds to a page on its way to the browser, and the pages that stand only in a preview."""

from __future__ import annotations

import hashlib
from importlib.resources import files

from generator.errors import GeneratorFailed
from generator.presenting.preview_views import PreviewNotice
from generator.rendering.pages import part_markup

FILES = ("preview/preview.css", "preview/reload.js")
"""Files that only a preview serves, by path. Nothing of them is published."""

_POLICY_ENDS = "base-uri 'none'"
_HEAD_ENDS = "</head>"
_BODY_BEGINS = '<header class="letterhead">'


def preview_file(path: str) -> bytes:
    """Return one of the files that only a preview serves."""
    return (files("site_templates") / path).read_bytes()


def with_preview(page: bytes, notice: PreviewNotice | None) -> tuple[bytes, str]:
    """Return a page with the preview's strip, notice and script, and the state that the script compares.

    Pages of the site hold nothing of this: it is put into them between the marks that every page has once.

    Raises
    ------
    GeneratorFailed
        The page lacks such a mark.
    """
    above = part_markup("preview/notice.html", notice=notice)
    state = hashlib.sha256(page + above.encode()).hexdigest()
    markup = page.decode()
    for mark, put_before in (
        # The script asks the server that the page came from, and no other.
        (_POLICY_ENDS, "connect-src 'self'; "),
        (_HEAD_ENDS, part_markup("preview/head.html", state=state)),
        (_BODY_BEGINS, above),
    ):
        if markup.count(mark) != 1:
            raise GeneratorFailed(f"expected the mark {mark} once in a page, found it {markup.count(mark)} times")
        markup = markup.replace(mark, f"{put_before}{mark}")
    return markup.encode(), state


def notice_page(notice: PreviewNotice) -> bytes:
    """Return a page that holds a notice and nothing else, in the look of the site."""
    return part_markup("preview/page.html", notice=notice).encode()
