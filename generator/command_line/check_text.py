"""What `inward check` tells as text: whole lines for other programs, grouped and wrapped for a terminal."""

from __future__ import annotations

import os
import shutil
import textwrap
from collections.abc import Iterator
from itertools import groupby

import click

from generator.command_line.counting import counted
from generator.command_line.plain_text import WIDTH, colours_wanted
from generator.contributing.checking.checked import Checked
from generator.contributing.checking.excerpts import Excerpt, Lines
from generator.contributing.checking.remarks import Level, Remark
from generator.errors import on_one_line

_INDENT = 4
_NARROWEST = 40
_COLOURS = {Level.PROBLEM: "red", Level.FINDING: "yellow"}


def plain_lines(checked: Checked) -> Iterator[str]:
    """Yield each remark on a line of its own, and below it the line that it is about."""
    lines = Lines(checked.contents)
    for remark in checked.remarks:
        yield str(remark)
        excerpt = lines.excerpt(remark, _room(remark, WIDTH))
        if excerpt is not None:
            yield from _excerpt_lines(excerpt, None)


def terminal_lines(checked: Checked) -> Iterator[str]:
    """Yield the remarks file by file, wrapped to the terminal, with colours where it has them."""
    lines = Lines(checked.contents)
    width = max(_NARROWEST, min(WIDTH, shutil.get_terminal_size().columns))
    colours = colours_wanted() and os.environ.get("TERM") != "dumb"
    for file, remarks in groupby(checked.remarks, key=lambda remark: remark.file):
        yield _styled(on_one_line(file), colours, bold=True)
        for remark in remarks:
            yield ""
            yield from _remark_lines(remark, lines.excerpt(remark, _room(remark, width)), width, colours)
        yield ""


def summary(checked: Checked) -> tuple[str, str]:
    """Return how many problems and findings there are, and what must be said of findings that were not looked for."""
    others = f" ({counted(checked.elsewhere, 'problem')} elsewhere in the records)" if checked.elsewhere else ""
    if not checked.remarks:
        told = f"No problems{' and no findings' if checked.findings_looked_for else ''} in "
        told += f"{counted(checked.files, 'file')}{others}."
    else:
        faulty = len({remark.file for remark in checked.remarks})
        parts = [counted(checked.problems, "problem")] if checked.problems else []
        parts += [counted(checked.findings, "finding")] if checked.findings else []
        told = f"{' and '.join(parts)} in {faulty} of {counted(checked.files, 'file')}{others}."
    if not checked.findings_looked_for:
        return told, "Findings were not looked for; name files, or add `--findings`."
    return told, "" if checked.scored else "Scoring looks for more findings once no record has a problem."


def _remark_lines(remark: Remark, excerpt: Excerpt | None, width: int, colours: bool) -> Iterator[str]:
    colour = _COLOURS[remark.level] if colours else None
    place = f"{remark.line}:{remark.column}"
    what = remark.path if remark.level is Level.PROBLEM else f"finding: {remark.path}"
    head = on_one_line(f"{what} [{remark.slug}]")
    coloured = f"{_styled(place, colours, bold=True)}  {_styled(head, colours, fg=colour)}"
    yield f"  {coloured}"
    yield from textwrap.wrap(
        remark.message,
        width,
        initial_indent=" " * _INDENT,
        subsequent_indent=" " * _INDENT,
        break_on_hyphens=False,
    )
    if excerpt is not None:
        yield from _excerpt_lines(excerpt, colour)


def _excerpt_lines(excerpt: Excerpt, colour: str | None) -> Iterator[str]:
    before = _before(excerpt.line)
    yield f"{before}{excerpt.text}".rstrip()
    yield f"{'| ':>{len(before)}}{_styled(excerpt.marks, colour is not None, fg=colour)}"


def _before(line: int) -> str:
    """Return what stands before a line of a file: never at the margin, where the next remark is looked for."""
    return f" {line:>4} | "


def _room(remark: Remark, width: int) -> int:
    return width - len(_before(remark.line))


def _styled(text: str, colours: bool, *, fg: str | None = None, bold: bool | None = None) -> str:
    return click.style(text, fg=fg, bold=bold) if colours else text
