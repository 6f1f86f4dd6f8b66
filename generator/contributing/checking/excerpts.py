"""The line of a file that a remark is about, as a terminal can show it, and the place in it."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.contributing.checking.remarks import Remark
from generator.errors import End
from generator.loading.characters import lines_of
from generator.loading.yaml_source import WHOLE_FILE

TAB = "    "
_CUT = "..."
_WIDE = ("W", "F")
_NO_ROOM = ("Mn", "Me")


@dataclass(frozen=True)
class Excerpt:
    """One line, and what of it is meant, in the cells of a terminal."""

    line: int
    text: str
    """The line without anything that a terminal would obey, cut round the place where it is long."""
    start: int
    """How many cells stand before the place."""
    length: int
    """How many cells the place takes, at least one."""

    @property
    def marks(self) -> str:
        """The line to stand below: a caret at the place, and what else is meant underlined."""
        return " " * self.start + "^" + "~" * (self.length - 1)


class Lines:
    """The lines of the files that were checked, each file split when its first line is asked for."""

    def __init__(self, contents: Mapping[str, bytes]) -> None:
        """Keep the files' bytes."""
        self._contents = contents
        self._lines: dict[str, Sequence[str]] = {}

    def line(self, remark: Remark) -> str | None:
        """Return the line that a remark is about as it stands, or None where it is about no place in a text."""
        if remark.path == WHOLE_FILE and (remark.line, remark.column) == (1, 1):
            return None
        if remark.file not in self._contents:
            return None
        if remark.file not in self._lines:
            self._lines[remark.file] = lines_of(self._contents[remark.file])
        lines = self._lines[remark.file]
        return lines[remark.line - 1] if remark.line <= len(lines) else None

    def excerpt(self, remark: Remark, width: int) -> Excerpt | None:
        """Return the excerpt for a remark in so many cells, or None where there is none to show."""
        line = self.line(remark)
        return None if line is None else excerpt(line, remark.line, remark.column, remark.end, width)


def excerpt(text: str, line: int, column: int, end: End | None, width: int) -> Excerpt:
    """Return a line so that it can be shown in so many cells, with the place from the column up to its end.

    Columns and cells are counted in characters and in what they take on a terminal: a tab is shown as four spaces, what
    a terminal would obey or hide as its number, and a wide character takes two cells.
    """
    first = min(column - 1, len(text))
    last = _last(text, first, line, end)
    # No more of a long line is looked at than can be shown.
    cut = max(0, first - width)
    near = text[cut : first + width]
    shown = [_shown(character) for character in near]
    cells = [sum(map(_cells, piece)) for piece in shown]
    first, last = first - cut, min(last - cut, len(near))
    low, high = _window(cells, first, last, width, whole=len(near) == len(text))
    before = _CUT if cut + low > 0 else ""
    after = _CUT if cut + high < len(text) else ""
    start = len(before) + sum(cells[low:first])
    return Excerpt(
        line, f"{before}{''.join(shown[low:high])}{after}", start, max(1, sum(cells[first : min(last, high)]))
    )


def _last(text: str, first: int, line: int, end: End | None) -> int:
    """Return the place after the last character that is meant."""
    if end is None:
        return min(first + 1, len(text))
    to_the_end = len(text.rstrip())
    return max(first + 1, to_the_end if end[0] > line else min(end[1] - 1, len(text)))


def _window(cells: Sequence[int], first: int, last: int, width: int, *, whole: bool) -> tuple[int, int]:
    """Return from where up to where a line is shown: all of it, else the place with more before it than after."""
    if whole and sum(cells) <= width:
        return 0, len(cells)
    room = width - 2 * len(_CUT)
    low = high = first
    taken = 0
    # What is meant goes first, then what leads to it, then what follows.
    while high < min(last, len(cells)) and taken + cells[high] <= room:
        taken += cells[high]
        high += 1
    while low > 0 and taken + cells[low - 1] <= max(room * 2 // 3, 0):
        low -= 1
        taken += cells[low]
    while high < len(cells) and taken + cells[high] <= room:
        taken += cells[high]
        high += 1
    while low > 0 and taken + cells[low - 1] <= room:
        low -= 1
        taken += cells[low]
    return low, high


def _shown(character: str) -> str:
    if character == "\t":
        return TAB
    return character if character.isprintable() else f"<U+{ord(character):04X}>"


def _cells(character: str) -> int:
    if unicodedata.category(character) in _NO_ROOM:
        return 0
    return 2 if unicodedata.east_asian_width(character) in _WIDE else 1
