"""The short way from the nodes of a good file to its data; of what is not plainly good it says no more than that.

Nearly all files are good, and reading them node by node with a place at hand for each takes most of the time of a
check. What this way refuses is read again by `yaml_source`, which tells what is wrong and where.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from yaml.nodes import Node, ScalarNode, SequenceNode

from generator.loading.characters import NOT_ALLOWED
from generator.loading.scalars import plain_value
from generator.loading.yaml_parser import PLAIN
from generator.loading.yaml_refusals import DEEPEST, LONGEST_KEY, LONGEST_TEXT, MOST_MAPPINGS

MOST_BYTES = 2 * MOST_MAPPINGS
"""A file that is not longer holds no more mappings or values than are allowed: each takes two bytes at least."""
_OFTEN_AGAIN = 32
"""Characters of a scalar that is likely to stand in many records, so that its meaning is kept."""

_meaning = lru_cache(maxsize=8192)(plain_value)


class NotPlain(Exception):
    """There is something that has to be told, or looked at more closely."""


def plain_data(node: Node, depth: int = 0) -> Any:
    """Return a node of a file of at most `MOST_BYTES` as plain data.

    Raises
    ------
    NotPlain
        It is not plainly good.
    RefusedScalar
        The same, of an unquoted scalar.
    """
    kind = node.__class__
    if kind is ScalarNode:
        return _scalar(node)
    if depth >= DEEPEST:
        raise NotPlain
    inside = depth + 1
    if kind is SequenceNode:
        return [plain_data(child, inside) for child in node.value]
    data = {}
    for key, value in node.value:
        name = _key(key.value) if key.tag == PLAIN else _quoted(key, LONGEST_KEY)
        data[name] = _scalar(value) if value.__class__ is ScalarNode else plain_data(value, inside)
    if len(data) != len(node.value):
        # A key stands there twice.
        raise NotPlain
    return data


def _scalar(node: Node) -> bool | int | float | str | None:
    text = node.value
    if node.tag != PLAIN:
        return _quoted(node, LONGEST_TEXT)
    if len(text) <= _OFTEN_AGAIN:
        return _meaning(text)
    if len(text) > LONGEST_TEXT:
        raise NotPlain
    return plain_value(text)


def _quoted(node: Node, longest: int) -> str:
    text = node.value
    # Between double quotes an escape brings in what the file itself may not hold.
    if node.__class__ is not ScalarNode or len(text) > longest or (node.style == '"' and NOT_ALLOWED.search(text)):
        raise NotPlain
    return str(text)


@lru_cache(maxsize=4096)
def _key(text: str) -> str:
    if text == "<<" or len(text) > LONGEST_KEY:
        raise NotPlain
    meaning = plain_value(text)
    if not isinstance(meaning, str):
        raise NotPlain
    return meaning
