"""What a change does, as Markdown for a pull request: nothing that a record says is taken for markup.

Texts of records become code: there no program makes a link, a mention, an element or a picture of them.
"""

from __future__ import annotations

import re
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from generator.errors import on_one_line
from generator.presenting.impact_views import ImpactView, Said, with_most_rows

MOST_ROWS = 40
"""Rows of each section: a comment has room for 65,536 characters."""
_BACKTICKS = re.compile(r"`+")
_PLAIN = re.compile(r"[^\W\d_]++(?:(?:,? |-)[^\W\d_]++)*+")
"""Words that mean nothing to Markdown wherever they stand, nor to programs that link numbers, names and addresses."""


def markdown_words(piece: Said) -> Markup | str:
    """Return a piece of text for a paragraph; one of a record as code, unless it is plain words."""
    if not piece.quoted:
        return piece.text
    # One line, since another one could begin a block; nothing that turns the direction of what stands beside it.
    line = " ".join(on_one_line(piece.text).split())
    if _PLAIN.fullmatch(line):
        return line
    longest = max((len(run) for run in _BACKTICKS.findall(line)), default=0)
    fence = "`" * (longest + 1)
    shown = line or "-"
    gap = " " if shown[0] in "` " or shown[-1] in "` " else ""
    return Markup(f"{fence}{gap}{shown}{gap}{fence}")


def markdown_cell(piece: Said) -> Markup | str:
    """Return a piece of text for a cell, which ends at a bar, even within code, but for a backslash before it."""
    words = markdown_words(piece)
    return Markup(words.replace("|", "\\|")) if isinstance(words, Markup) else words


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("site_templates", ""),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["markdown_words"] = markdown_words
    environment.filters["markdown_cell"] = markdown_cell
    return environment


def impact_comment(view: ImpactView, most_rows: int = MOST_ROWS) -> str:
    """Return what a change does as Markdown with tables, each with at most so many rows."""
    text = _environment().get_template("impact.md").render(view=with_most_rows(view, most_rows))
    return f"{text.strip()}\n"
