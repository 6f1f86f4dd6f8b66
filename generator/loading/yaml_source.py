"""YAML text to plain data, and the line and column of every key and value in it.

Records use a small part of YAML 1.2: mappings with text keys, lists, and scalars of the core schema. Everything else
(duplicate keys, aliases, tags, merge keys, directives, several documents) is a problem, never a guess.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from generator.errors import End, Problem
from generator.loading import yaml_parser
from generator.loading.characters import NOT_ALLOWED, character_not_allowed, shortened
from generator.loading.plain_nodes import MOST_BYTES, NotPlain, plain_data
from generator.loading.scalars import RefusedScalar, plain_value
from generator.loading.yaml_parser import PLAIN, TEXT, end, position
from generator.loading.yaml_refusals import (
    DEEPEST,
    LONGEST_KEY,
    LONGEST_TEXT,
    MOST_MAPPINGS,
    MOST_VALUES,
    YAML_TEXT,
    refused_features,
    syntax_problem,
    too_deep,
    too_many_values,
    unusable_bytes,
)

MOST_PROBLEMS = 50
"""Problems told of one file; one that is broken through and through would otherwise give thousands."""
WHOLE_FILE = "(file)"
"""Path of a problem with the file as such; its position is 1:1."""
WHOLE_RECORD = "(record)"
"""Path of a problem with the record as a whole; its position is that of its first key."""

Steps = tuple[str | int, ...]
"""The way from the root of a file to a value: keys, and places in lists counted from 0."""


@dataclass(frozen=True)
class YamlSource:
    """One YAML file as plain data; positions are looked up only when a problem needs one."""

    file: str
    content: bytes
    data: Any
    problems: tuple[Problem, ...] = ()
    readable: bool = True
    """Whether `data` holds the file; otherwise `problems` say why not."""

    @cached_property
    def _root(self) -> Node | None:
        # Nodes take fifty times the room of the text, so that keeping them for every good record would not pay.
        root: Node | None = yaml_parser.parser(self.content).get_single_node() if self.readable else None
        return root

    def steps(self, location: Steps) -> Steps:
        """Return a location without the steps that are not in the file, such as the tags of a union."""
        node = self._root
        steps: list[str | int] = []
        for step in location:
            child = _child(node, step)
            if child is not None:
                node = child[1]
                steps.append(step)
        return tuple(steps)

    def position(self, steps: Steps, *, of_key: bool = False) -> tuple[int, int]:
        """Return line and column of the value at the end of the steps, or of the last one that is in the file."""
        node, _ = self._node(steps, of_key)
        return position(node)

    def _node(self, steps: Steps, of_key: bool) -> tuple[Node | None, bool]:
        """Return the node of the value (or its key) at the end of the steps, or the last in the file, and whether."""
        key: Node | None = None
        node = self._root
        for step in steps:
            child = _child(node, step)
            if child is None:
                return (key if of_key and key is not None else node), False
            key, node = child
        return (key if of_key and key is not None else node), True

    def value(self, steps: Steps) -> Any:
        """Return the value at the end of the steps, or None where there is none."""
        data = self.data
        for step in steps:
            try:
                data = data[step]
            except (KeyError, IndexError, TypeError):
                return None
        return data

    def shown(self, steps: Steps) -> str:
        """Say what stands at the end of the steps."""
        node = self._root
        for step in steps:
            child = _child(node, step)
            node = None if child is None else child[1]
        return _shown(node)

    def problem(
        self, steps: Steps, slug: str, found: str, expected: str, remedy: str, *, of_key: bool = False
    ) -> Problem:
        """Make a problem with the value (or its key) at the end of the steps."""
        node, there = self._node(steps, of_key)
        extent: End | None = end(node) if there else None
        return Problem(self.file, *position(node), path_text(steps), slug, found, expected, remedy, extent)


def path_text(steps: Steps) -> str:
    """Write steps as in `fit[0].exercises[2].in_mask`."""
    text = "".join(f"[{step}]" if isinstance(step, int) else f".{shortened(step)}" for step in steps)
    return text.removeprefix(".") or WHOLE_RECORD


def read_yaml(content: bytes, file: str) -> YamlSource:
    """Read one YAML file; what is wrong with it as YAML stands in the `problems` of what is returned."""
    content = content.removeprefix(b"\xef\xbb\xbf")
    unusable = unusable_bytes(content, file)
    if unusable is not None:
        return _unreadable(content, file, unusable)
    try:
        return _read(content, file)
    except yaml.YAMLError as error:
        return _unreadable(content, file, syntax_problem(error, content, file))
    except RecursionError:
        # Only the pure parser gets here; the C parser has a limit of its own.
        return _unreadable(content, file, too_deep(file, (1, 1)))


def _unreadable(content: bytes, file: str, *problems: Problem) -> YamlSource:
    return YamlSource(file, content, None, problems, readable=False)


def _read(content: bytes, file: str) -> YamlSource:
    refused = refused_features(content, file)
    if refused:
        return _unreadable(content, file, *refused)
    root = yaml_parser.parser(content).get_single_node()
    if root is None:
        empty = ("empty-file", "nothing", "the keys of a record", "Fill the file, or remove it")
        return _unreadable(content, file, Problem(file, 1, 1, YAML_TEXT, *empty))
    if len(content) <= MOST_BYTES:
        try:
            return YamlSource(file, content, plain_data(root))
        except (NotPlain, RefusedScalar):
            # What it is, and where, is told below.
            pass
    conversion = _Conversion(file)
    try:
        data = conversion.value(root, 0)
    except _CannotGoOn as stop:
        return _unreadable(content, file, *conversion.problems, stop.problem)
    return YamlSource(file, content, data, tuple(conversion.problems))


class _CannotGoOn(Exception):
    """The file is beyond a limit, so that the rest of it is not looked at."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


@dataclass
class _Conversion:
    """One walk through the nodes of a file."""

    file: str
    problems: list[Problem] = field(default_factory=list)
    values: int = 0
    mappings: int = 0

    def value(self, node: Node, depth: int) -> Any:
        """Return a node as plain data and note what is not allowed in it."""
        self.values += 1
        if self.values > MOST_VALUES:
            raise _CannotGoOn(too_many_values(self.file, position(node)))
        if isinstance(node, ScalarNode):
            return self._scalar(node)
        if depth >= DEEPEST:
            raise _CannotGoOn(too_deep(self.file, position(node)))
        if isinstance(node, SequenceNode):
            return [self.value(child, depth + 1) for child in node.value]
        return self._mapping(node, depth)

    def _scalar(self, node: ScalarNode) -> bool | int | float | str | None:
        if len(node.value) > LONGEST_TEXT:
            found, expected = f"{len(node.value)} characters", f"at most {LONGEST_TEXT} characters"
            self._note(node, "text-too-long", found, expected, "Shorten it, or move readings to a log")
            return None
        if node.tag == TEXT:
            return self._text(node)
        try:
            return plain_value(node.value)
        except RefusedScalar as refused:
            self._note(node, refused.slug, f"`{shortened(node.value)}`", refused.expected, refused.remedy)
            return None

    def _text(self, node: ScalarNode) -> str:
        # Between double quotes an escape such as \x0b brings in what the file itself may not hold.
        escaped = NOT_ALLOWED.search(node.value) if node.style == '"' else None
        if escaped is not None:
            self._note(node, *character_not_allowed(escaped[0]))
        return str(node.value)

    def _mapping(self, node: Node, depth: int) -> dict[str, Any]:
        self.mappings += 1
        if self.mappings > MOST_MAPPINGS:
            raise _CannotGoOn(too_many_values(self.file, position(node)))
        data: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key = self._key(key_node)
            if key is None:
                continue
            if key in data:
                found = f"the key `{shortened(key)}` a second time"
                remedy = "Remove one of the two, or give it the key that was meant"
                self._note(key_node, "duplicate-key", found, "each key once", remedy)
                continue
            data[key] = self.value(value_node, depth + 1)
        return data

    def _key(self, node: Node) -> str | None:
        if isinstance(node, ScalarNode):
            if node.tag == PLAIN and node.value == "<<":
                remedy = "Write the keys out where they belong"
                self._note(node, "merge-key-not-allowed", "the merge key `<<`", "plain keys", remedy)
                return None
            if len(node.value) > LONGEST_KEY:
                found, expected = f"a key of {len(node.value)} characters", f"at most {LONGEST_KEY} characters"
                self._note(node, "key-too-long", found, expected, "Look for a missing quote or colon; correct the key")
                return None
            key = self._text(node) if node.tag == TEXT else _meaning(node)
            if isinstance(key, str):
                return key
        self._note(node, "key-not-text", f"the key {_shown(node)}", "a key that is text", "Correct the key")
        return None

    def _note(self, node: Node, slug: str, found: str, expected: str, remedy: str) -> None:
        if len(self.problems) >= MOST_PROBLEMS:
            raise _CannotGoOn(more_problems(self.file, position(node)))
        self.problems.append(Problem(self.file, *position(node), YAML_TEXT, slug, found, expected, remedy, end(node)))


def more_problems(file: str, where: tuple[int, int]) -> Problem:
    """Make the problem that stands for those of a file that are not told."""
    found, remedy = f"more than {MOST_PROBLEMS} problems in this file", "Mend those above first, and check again"
    return Problem(file, *where, YAML_TEXT, "more-problems", found, "a file without problems", remedy)


def _meaning(node: ScalarNode) -> bool | int | float | str | None:
    try:
        return plain_value(node.value)
    except RefusedScalar:
        return None


def _child(node: Node | None, step: str | int) -> tuple[Node | None, Node] | None:
    if isinstance(node, SequenceNode) and isinstance(step, int) and step < len(node.value):
        return None, node.value[step]
    if isinstance(node, MappingNode) and isinstance(step, str):
        for key, value in node.value:
            if isinstance(key, ScalarNode) and key.value == step:
                return key, value
    return None


def _shown(node: Node | None) -> str:
    if isinstance(node, MappingNode):
        return "a mapping"
    if isinstance(node, SequenceNode):
        return "a list"
    if node is None or (node.tag == PLAIN and node.value in ("", "~")):
        return "nothing"
    is_text = node.tag == TEXT or (isinstance(node, ScalarNode) and isinstance(_meaning(node), str))
    return f"the text `{shortened(node.value)}`" if is_text else f"`{shortened(node.value)}`"
