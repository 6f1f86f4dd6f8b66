"""What makes a file unusable as YAML: bytes that are not text, broken syntax, features that records do without."""

from __future__ import annotations

import re

import yaml
from yaml.events import AliasEvent, DocumentStartEvent, NodeEvent

from generator.errors import Problem
from generator.loading import yaml_parser

LARGEST_FILE = 512 * 1024
"""Bytes of a YAML file."""
DEEPEST = 20
"""Mappings and lists inside one another."""
YAML_TEXT = "(yaml)"
"""Path of a problem with the YAML itself, before there is a path."""

# Only here can an anchor, an alias, a tag or a directive begin; most files have none, and need no second pass.
_MAY_HOLD_REFUSED_FEATURE = re.compile(rb"(?:^|[\s\[{},:])[&*!]|^%", re.MULTILINE)
CONTROL_CHARACTER = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_SYNTAX_REMEDY = (
    "Look at this line and the one above: indent with spaces, put a space after each colon, "
    "close brackets and quotes, put quotes round text that holds `: ` or ` #`"
)


def unusable_bytes(content: bytes, file: str) -> Problem | None:
    """Return why bytes cannot be parsed at all, or None."""
    if len(content) > LARGEST_FILE:
        return Problem(
            file,
            1,
            1,
            YAML_TEXT,
            "file-too-large",
            f"more than {LARGEST_FILE} bytes",
            f"at most {LARGEST_FILE} bytes",
            "Move long series of readings to a log, or split the record",
        )
    try:
        content.decode()
    except UnicodeDecodeError as error:
        line, column = _position_at(content[: error.start].decode())
        return Problem(
            file,
            line,
            column,
            YAML_TEXT,
            "not-utf-8",
            f"the byte 0x{content[error.start]:02x}",
            "text encoded as UTF-8",
            "Save the file as UTF-8 in your editor",
        )
    return None


def syntax_problem(error: yaml.YAMLError, content: bytes, file: str) -> Problem:
    """Turn the parser's error into a problem."""
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        return _control_character(content, file)
    mark = error.problem_mark
    line, column = mark.line + 1, mark.column + 1
    if "single document" in (error.context or ""):
        return Problem(
            file,
            line,
            column,
            YAML_TEXT,
            "several-documents",
            "a second document",
            "one document in a file",
            "Put the second one into a file of its own",
        )
    words = f"{error.context or ''} {error.problem or ''}".strip()
    return Problem(
        file, line, column, YAML_TEXT, "yaml-syntax", f"broken YAML ({words})", "well-formed YAML", _SYNTAX_REMEDY
    )


def _control_character(content: bytes, file: str) -> Problem:
    text = content.decode()
    match = CONTROL_CHARACTER.search(text)
    line, column = _position_at(text[: match.start()] if match else "")
    found = f"the control character U+{ord(match[0]):04X}" if match else "a character that YAML does not allow"
    return Problem(
        file, line, column, YAML_TEXT, "character-not-allowed", found, "printable text", "Remove the character"
    )


def too_deep(file: str, where: tuple[int, int]) -> Problem:
    """Make the problem with a file that nests too deeply."""
    return Problem(
        file,
        *where,
        YAML_TEXT,
        "too-deep",
        f"more than {DEEPEST} levels",
        f"at most {DEEPEST} mappings and lists inside one another",
        "Flatten the record as the record guide shows it",
    )


def refused_features(content: bytes, file: str) -> tuple[Problem, ...]:
    """Return the first use of each YAML feature that records do without."""
    if not _MAY_HOLD_REFUSED_FEATURE.search(content):
        return ()
    first: dict[str, Problem] = {}
    parser = yaml_parser.parser(content)
    while parser.check_event():
        event = parser.get_event()
        feature = _feature(event)
        if feature is not None:
            slug, found, remedy = feature
            where = (event.start_mark.line + 1, event.start_mark.column + 1)
            first.setdefault(
                slug, Problem(file, *where, YAML_TEXT, slug, found, "plain mappings, lists and values", remedy)
            )
    return tuple(first.values())


def _feature(event: object) -> tuple[str, str, str] | None:
    if isinstance(event, DocumentStartEvent) and (event.version or event.tags):
        return "directive-not-allowed", "a `%` directive", "Remove the line"
    if isinstance(event, AliasEvent):
        return (
            "alias-not-allowed",
            f"the alias `*{event.anchor}`",
            "Write the value out, or put quotes round text that begins with `*`",
        )
    if isinstance(event, NodeEvent) and event.anchor is not None:
        return (
            "anchor-not-allowed",
            f"the anchor `&{event.anchor}`",
            "Remove the anchor, or put quotes round text that begins with `&`",
        )
    tag = getattr(event, "tag", None)
    if tag is not None:
        shown = str(tag).replace("tag:yaml.org,2002:", "!!")
        return "tag-not-allowed", f"the tag `{shown}`", "Remove the tag, or put quotes round text that begins with `!`"
    return None


def _position_at(text_before: str) -> tuple[int, int]:
    line = text_before.count("\n") + 1
    return line, len(text_before) - (text_before.rfind("\n") + 1) + 1
