"""Markdown of records to markup: no raw HTML, no pictures, no headings, links to the web and to mail only."""

from __future__ import annotations

from functools import cache

from markdown_it import MarkdownIt
from markupsafe import Markup

_LINK_SCHEMES = ("https://", "http://", "mailto:")


def _is_allowed_link(url: str) -> bool:
    return url.lower().startswith(_LINK_SCHEMES)


@cache
def _parser() -> MarkdownIt:
    parser = MarkdownIt("commonmark", {"html": False}).disable(
        ["image", "heading", "lheading", "html_block", "html_inline"]
    )
    parser.validateLink = _is_allowed_link  # type: ignore[method-assign]
    return parser


def markdown(text: str) -> Markup:
    """Return the markup of a text written in Markdown; everything else in it is escaped."""
    tokens = _parser().parse(text)
    for token in tokens:
        for child in token.children or ():
            if child.type == "link_open":
                child.attrSet("rel", "nofollow noopener noreferrer")
    return Markup(_parser().renderer.render(tokens, _parser().options, {}))
