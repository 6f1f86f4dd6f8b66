"""The YAML parser: libyaml where PyYAML has it, else the pure one. Both give the same nodes."""

from __future__ import annotations

from typing import Any

import yaml
from yaml.composer import Composer
from yaml.nodes import CollectionNode, Node, ScalarNode
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner

PLAIN, TEXT = "plain", "text"
"""Tags of scalars: what a plain one means is decided in one place, `scalars`; a text one means what it says."""


class _Resolving:
    """Tags nodes without reading meaning into them: the core schema does not depend on where a scalar stands."""

    def resolve(self, kind: type[Node], _value: object, implicit: tuple[bool, bool]) -> str:
        return PLAIN if kind is ScalarNode and implicit[0] else TEXT

    def descend_resolver(self, _parent: Node | None, _index: object) -> None:
        """Called by the parser on the way down; there is nothing to prepare."""

    def ascend_resolver(self) -> None:
        """Called by the parser on the way up; there is nothing to undo."""


class PureParser(_Resolving, Reader, Scanner, Parser, Composer):
    """For a machine whose PyYAML has no C library."""

    def __init__(self, content: bytes) -> None:
        """Read from UTF-8 bytes."""
        Reader.__init__(self, content)
        Scanner.__init__(self)
        Parser.__init__(self)
        Composer.__init__(self)


parser: type[Any] = PureParser
"""What the loader reads with; made with the bytes of one file."""

if yaml.__with_libyaml__:
    from yaml._yaml import CParser

    class FastParser(_Resolving, CParser):
        """Parses in C: about eight times as fast."""

    parser = FastParser


def position(node: Node | None) -> tuple[int, int]:
    """Return line and column of a node, both counted from 1."""
    if node is None or node.start_mark is None:
        return 1, 1
    return node.start_mark.line + 1, node.start_mark.column + 1


def end(node: Node | None) -> tuple[int, int] | None:
    """Return line and column of the character after a node; None where it is written out over lines by indentation."""
    if node is None or node.end_mark is None:
        return None
    # The parser ends a block where the next thing begins, and a text of `|` or `>` below its last line.
    if isinstance(node, CollectionNode) and not node.flow_style:
        return None
    if isinstance(node, ScalarNode) and (node.style in ("|", ">") or node.start_mark.index == node.end_mark.index):
        return None
    return node.end_mark.line + 1, node.end_mark.column + 1
