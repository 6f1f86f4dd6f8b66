"""Keys with their values and comments to the YAML text of a record, as a contributor fills it in."""

from __future__ import annotations

import io
import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import CommentMark
from ruamel.yaml.scalarstring import DoubleQuotedScalarString
from ruamel.yaml.tokens import CommentToken

WIDTH = 100
"""Columns of a line with its comment; a comment that does not fit there stands above its key."""
_GAP = 3
"""Blanks between the longest key of a mapping and the comments behind."""
_NULL_IN_FLOW = ": null"
_QUOTED = re.compile(r"`[^`]*`")
_KEPT = "\0"
"""Stands for a blank at which no line may break; no text of a record can hold it."""

Scalar: TypeAlias = str | int | bool | None


@dataclass(frozen=True)
class Line:
    """A key of a mapping. None is a blank."""

    key: str
    value: Scalar | Mapping | Listed = None
    comment: str = ""
    above: tuple[str, ...] = ()
    """Comments that stand above the key, before its own."""
    optional: bool = False
    """Whether it is commented out, to be used by who needs it."""


@dataclass(frozen=True)
class Mapping:
    """Keys below a key; `in_one_line` puts them between braces."""

    lines: tuple[Line, ...]
    in_one_line: bool = False


@dataclass(frozen=True)
class Listed:
    """A list below a key; of texts, it stands between brackets."""

    items: tuple[Mapping, ...] | tuple[str, ...]


def yaml_text(lines: Sequence[Line], opening: Sequence[str] = ()) -> str:
    """Return a record as text; what is optional is commented out by a `#` without a blank behind it."""
    written = _written(Mapping(tuple(lines)), 0)
    return "".join(f"# {line}\n" for words in opening for line in _wrapped(words, 0)) + written


def _written(mapping: Mapping, column: int) -> str:
    """Return a mapping as text that begins at a column."""
    yaml = YAML()
    yaml.width = 4096
    yaml.indent(mapping=2, sequence=4, offset=2)
    out = io.StringIO()
    inside, trailing = _node(mapping, column)
    yaml.dump(inside, out)
    text = "".join(f"{line}\n" if line else "\n" for line in out.getvalue().splitlines())
    # Between braces the library writes nothing as `null`; a blank there is to be filled in like any other.
    text = "\n".join(line.replace(_NULL_IN_FLOW, ": ") if "- {" in line else line for line in text.split("\n"))
    return text + "".join(trailing)


def _node(mapping: Mapping, column: int) -> tuple[CommentedMap, list[str]]:
    """Return a mapping for the library, and the lines that stand after its last key."""
    node = CommentedMap()
    if mapping.in_one_line:
        node.fa.set_flow_style()
    place = _place_of_comments(mapping.lines, column)
    waiting: list[str] = []
    for line in mapping.lines:
        if line.optional:
            waiting += _commented_out(line, column)
            continue
        node[line.key] = _value(line.value, column + 2)
        behind = _fits_behind(line, place)
        above = [*line.above, *([] if behind or not line.comment else [line.comment])]
        before = [*waiting, *(f"{' ' * column}# {text}\n" for words in above for text in _wrapped(words, column))]
        end = CommentToken(f"# {line.comment}\n", CommentMark(place), None) if behind and line.comment else None
        tokens = [
            CommentToken(text.lstrip(" "), CommentMark(len(text) - len(text.lstrip(" "))), None) for text in before
        ]
        if tokens or end is not None:
            node.ca.items[line.key] = [None, tokens or None, end, None]
        waiting = []
    return node, waiting


def _value(value: Scalar | Mapping | Listed, column: int) -> object:
    if isinstance(value, Mapping):
        node, trailing = _node(value, column)
        assert not trailing, "what is optional stands before a key that is not"
        return node
    if isinstance(value, Listed):
        items = [_value(item, column + 2) if isinstance(item, Mapping) else item for item in value.items]
        listed = CommentedSeq(items)
        if not any(isinstance(item, Mapping) for item in value.items):
            listed.fa.set_flow_style()
        return listed
    return DoubleQuotedScalarString(value) if isinstance(value, str) and _reads_as_number(value) else value


def _reads_as_number(text: str) -> bool:
    return text.replace(".", "", 1).isdigit()


def _place_of_comments(lines: Sequence[Line], column: int) -> int:
    """Return the column at which the comments behind the blanks of a mapping stand, one below the other."""
    widths = [len(line.key) + 1 for line in lines if line.comment and line.value is None and not line.optional]
    return column + max(widths, default=0) + _GAP


def _fits_behind(line: Line, place: int) -> bool:
    return line.value is None and place + len(line.comment) + 2 <= WIDTH


def _wrapped(comment: str, column: int) -> list[str]:
    """Return a comment in lines; what stands between backticks, to be written as it is, stays on one."""
    kept = _QUOTED.sub(lambda quoted: quoted[0].replace(" ", _KEPT), comment)
    lines = textwrap.wrap(kept, WIDTH - column - 2, break_long_words=False, break_on_hyphens=False)
    return [line.replace(_KEPT, " ") for line in lines]


def _commented_out(line: Line, column: int) -> list[str]:
    """Return the lines of an optional key: its comments as they are, what is YAML behind a `#`."""
    text = _written(Mapping((replace(line, optional=False),)), 0)
    pad = " " * column
    return [f"{pad}{each}\n" if each.startswith("#") else f"{pad}#{each}\n" for each in text.splitlines()]
