"""What is wrong with broken YAML, in the words of somebody who never learned it.

The parser tells where it gave up and what it looked for; the cause is found in the text there, or just above.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from generator.loading.characters import named, shortened

Place = tuple[int, int]
"""Line and column, both counted from 0."""


@dataclass(frozen=True)
class Mistake:
    """What broke the YAML: where, what was found, what was expected, what to do."""

    line: int
    column: int
    found: str
    expected: str
    remedy: str
    length: int | None = None
    """How many characters of the line are meant; None for a place."""


_TAB_INDENT = re.compile(r"^ *\t")
_KEY = re.compile(r"^[ ]*(?:- )?[\w-]+[ ]*:(?=[ \t]|$)")
_KEY_WITHOUT_SPACE = re.compile(r"^[ ]*(?:- )?[A-Za-z_]\w*:(?=[^\s/])")
_HYPHEN_WITHOUT_SPACE = re.compile(r"^[ ]*-(?=[A-Za-z_]\w*:)")
_EQUALS = re.compile(r"^[ ]*(?:- )?\w+[ ]*=")
_OPEN_QUOTE = re.compile(r"""(?:: |- )[ ]*(?:"[^"]*|'[^']*)$""")
_CURLY = "“”„‘’«»"
_CLOSING = {"[": "]", "{": "}"}

_QUOTE = "Put quotes round the text"
_INDENT = "Begin it in the same column as the keys that it belongs with; each step inwards is two spaces"


def mistake_in(lines: Sequence[str], words: str, mark: Place, context: Place | None) -> Mistake | None:
    """Return what is wrong, or None where it is nothing that is often done.

    Parameters
    ----------
    lines : Sequence[str]
        The lines of the file.
    words : str
        What the parser said.
    mark : Place
        Where it gave up.
    context : Place or None
        Where what it was reading began.
    """
    line, column = min(mark[0], len(lines) - 1), mark[1]
    here = lines[line]
    if tab := _TAB_INDENT.match(here):
        remedy = "Indent with spaces; most editors can write them when the tab key is pressed"
        return Mistake(line, tab.end() - 1, "a tab that indents a line", "spaces", remedy, 1)
    if "end of stream" in words and context is not None and "quoted" in words:
        return _quote_not_closed(lines, context[0], context[1])
    if "escape character" in words:
        return _backslash(line, column, here)
    if "cannot start any token" in words:
        return _begins_with(line, column, here)
    if "could not find expected ':'" in words:
        return _without_colon(lines, context or mark)
    if "mapping values are not allowed" in words:
        return _colon_where_none_can_be(lines, line, column)
    if "did not find expected key" in words or "expected <block end>" in words or "'-' indicator" in words:
        return _belongs_to_nothing(lines, line, column)
    if "',' or" in words and context is not None:
        return _bracket(lines, context, (line, column))
    if "sequence entries are not allowed" in words:
        expected, remedy = "each item of a list on a line of its own", "Begin a new line for it, or quote the text"
        return Mistake(line, column, "`- ` where no list can begin", expected, remedy, 1)
    if "expected node content" in words or "expected the node content" in words or "mapping keys are not" in words:
        return _begins_with(line, column, here)
    return None


def _begins_with(line: int, column: int, here: str) -> Mistake | None:
    sign = here[column : column + 1]
    if not sign.strip():
        return None
    shown = named(sign) if sign == "`" or not sign.isascii() else f"`{shortened(sign)}`"
    expected = "text in quotes where it begins with such a sign"
    return Mistake(line, column, f"text that begins with {shown}", expected, _QUOTE, 1)


def _backslash(line: int, column: int, here: str) -> Mistake:
    # One parser stops at the backslash, the other behind it.
    column = max(here.rfind("\\", 0, column + 1), 0)
    found = f"`{shortened(here[column : column + 2])}` in double quotes, where a backslash means something else"
    expected = "text in single quotes where it holds a backslash"
    return Mistake(line, column, found, expected, "Put single quotes round the text", 2)


def _quote_not_closed(lines: Sequence[str], line: int, column: int) -> Mistake:
    sign = lines[line][column : column + 1]
    found, expected = "a quote that is not closed", f"a second `{sign}` at the end of the text"
    return Mistake(line, column, found, expected, "Close it, or remove it", len(lines[line].rstrip()) - column)


def _without_colon(lines: Sequence[str], at: Place) -> Mistake:
    line = at[0]
    here = lines[line]
    missing = _space_missing(lines, line)
    if missing is not None:
        return missing
    start = len(here) - len(here.lstrip())
    remedy = "Write it as `key: value`; put quotes round a text that goes on over several lines"
    if _EQUALS.match(here):
        remedy = "Write a colon and a space in place of the `=`"
    found, expected = "a line without a colon", "a key, a colon, a space and a value"
    return Mistake(line, start, found, expected, remedy, len(here.rstrip()) - start)


def _space_missing(lines: Sequence[str], line: int) -> Mistake | None:
    """Return the mistake of a colon or hyphen with no space after it, where a line has one."""
    here = lines[line]
    if match := _HYPHEN_WITHOUT_SPACE.match(here):
        remedy = "Put a space after the hyphen"
        return Mistake(line, match.end() - 1, "a hyphen without a space after it", "`- ` before an item", remedy, 1)
    if (match := _KEY_WITHOUT_SPACE.match(here)) and not _KEY.match(here):
        found, expected = "a colon without a space after it", "a key, a colon, a space and a value"
        return Mistake(line, match.end() - 1, found, expected, "Put a space after the colon", 1)
    return None


def _above(lines: Sequence[str], line: int) -> int | None:
    """Return the line above that holds more than a comment."""
    told = (each for each in range(line - 1, -1, -1) if lines[each].strip() and lines[each].lstrip()[0] != "#")
    return next(told, None)


def _colon_where_none_can_be(lines: Sequence[str], line: int, column: int) -> Mistake | None:
    here = lines[line]
    key = _KEY.match(here)
    if key is not None and key.end() <= column:
        value = here[key.end() :]
        start = key.end() + len(value) - len(value.lstrip())
        expected = "text in quotes where it holds a colon and a space"
        curly = value.lstrip()[:1] in tuple(_CURLY)
        remedy = "Put straight quotes round the text, not curly ones" if curly else _QUOTE
        length = len(here.rstrip()) - start
        return Mistake(line, start, "text that holds a colon and a space", expected, remedy, length)
    above = _above(lines, line)
    return None if above is None else _space_missing(lines, above) or _indented(lines, line)


def _belongs_to_nothing(lines: Sequence[str], line: int, column: int) -> Mistake:
    here = lines[line]
    if here[:column].strip():
        # Something stands before it in the line: mostly a text in quotes that was closed too early.
        before = next((each for each in range(line - 1, -1, -1) if _OPEN_QUOTE.search(lines[each])), None)
        if before is not None and lines[line][:column].count('"') + lines[line][:column].count("'") < 2:
            return _quote_not_closed(lines, before, _quote_column(lines[before]))
        found, expected = "text after a closing quote", "nothing more in the line"
        remedy = "Put the whole text in quotes; inside single quotes write an apostrophe twice"
        return Mistake(line, column, found, expected, remedy, len(here.rstrip()) - column)
    return _space_missing(lines, line) or _indented(lines, line)


def _quote_column(line: str) -> int:
    match = _OPEN_QUOTE.search(line)
    assert match is not None
    return match.start() + min(place for place in (match[0].find('"'), match[0].find("'")) if place >= 0)


def _indented(lines: Sequence[str], line: int) -> Mistake:
    here = lines[line]
    start = len(here) - len(here.lstrip())
    found, expected = "a line that is indented unlike those above it", "keys that belong together in one column"
    return Mistake(line, start, found, expected, _INDENT, max(len(here.rstrip()) - start, 1))


def _bracket(lines: Sequence[str], context: Place, mark: Place) -> Mistake:
    line, column = context
    opened = lines[line][column : column + 1]
    closing = _CLOSING.get(opened, "]")
    if mark[0] == line:
        found, expected = "no comma between two values", f"a comma, or `{closing}` where the list or mapping ends"
        remedy = "Add the comma; put quotes round text that holds a comma, a bracket or a colon and a space"
        return Mistake(line, mark[1], found, expected, remedy, 1)
    found, expected = f"a `{opened}` that is not closed in its line", f"`{closing}` behind the last value"
    return Mistake(line, column, found, expected, f"Add the `{closing}`, or put quotes round the text", 1)
