"""What makes a file unusable as YAML: bytes that are not text, broken syntax, features that records do without.

All of it is found in one pass over the text or over the parser's events, before anything is built from them.
"""

from __future__ import annotations

import re

import yaml
from yaml.events import AliasEvent, CollectionEndEvent, CollectionStartEvent, DocumentStartEvent, NodeEvent

from generator.errors import Problem
from generator.loading import yaml_parser
from generator.loading.characters import lines_of, shortened, unusable_text
from generator.loading.yaml_mistakes import mistake_in

LARGEST_FILE = 512 * 1024
"""Bytes of a YAML file."""
DEEPEST = 20
"""Mappings and lists inside one another."""
YAML_TEXT = "(yaml)"
"""Path of a problem with the YAML itself, before there is a path."""

# Only here can an anchor, an alias, a tag or a directive begin; most files have none, and need no second pass.
_MAY_HOLD_REFUSED_FEATURE = re.compile(rb"(?:^|[\s\[{},:])[&*!]|^%", re.MULTILINE)
_SMALL = 32 * 1024
"""Bytes of a file that cannot keep the parser busy for long, however it nests."""
MOST_VALUES = 50_000
"""Values in one file, mappings and lists included."""
MOST_MAPPINGS = 10_000
"""Mappings in one file: each one that lacks its keys gives a dozen problems, which take room before any is told."""
LONGEST_TEXT = 20_000
"""Characters of one text."""
LONGEST_KEY = 100
"""Characters of one key."""

_SYNTAX_REMEDY = (
    "Look at this line and the one above: indent with spaces, put a space after each colon, "
    "close brackets and quotes, put quotes round text that holds `: ` or ` #`"
)
_PLAIN = "plain mappings, lists and values"
_DIRECTIVE = ("a `%` directive", _PLAIN, "Remove the line")


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
    return unusable_text(content, file, YAML_TEXT)


def syntax_problem(error: yaml.YAMLError, content: bytes, file: str) -> Problem:
    """Turn the parser's error into a problem: what is wrong where that is seen in the text, else the parser's words."""
    mark = error.problem_mark if isinstance(error, yaml.MarkedYAMLError) else None
    if not isinstance(error, yaml.MarkedYAMLError) or mark is None:
        # The parser's reader has no place to tell; what it refuses is found in the text before it is parsed.
        return Problem(file, 1, 1, YAML_TEXT, "yaml-syntax", "broken YAML", "well-formed YAML", _SYNTAX_REMEDY)
    line, column = mark.line + 1, mark.column + 1
    if "single document" in (error.context or ""):
        return _several_documents(file, (line, column))
    if "directive" in (error.context or ""):
        return Problem(file, line, 1, YAML_TEXT, "directive-not-allowed", *_DIRECTIVE)
    if "nesting depth" in (error.problem or ""):
        return too_deep(file, (line, column))
    words = shortened(f"{error.context or ''} {error.problem or ''}".strip(), LONGEST_KEY)
    context = None if error.context_mark is None else (error.context_mark.line, error.context_mark.column)
    mistake = mistake_in(lines_of(content), words, (mark.line, mark.column), context)
    if mistake is not None:
        where, end = (mistake.line + 1, mistake.column + 1), None
        if mistake.length is not None:
            end = (where[0], where[1] + mistake.length)
        told = (mistake.found, mistake.expected, mistake.remedy)
        return Problem(file, *where, YAML_TEXT, "yaml-syntax", *told, end)
    return Problem(
        file, line, column, YAML_TEXT, "yaml-syntax", f"broken YAML ({words})", "well-formed YAML", _SYNTAX_REMEDY
    )


def _several_documents(file: str, where: tuple[int, int]) -> Problem:
    return Problem(
        file,
        *where,
        YAML_TEXT,
        "several-documents",
        "a second document",
        "one document in a file",
        "Put the second one into a file of its own",
    )


def too_many_values(file: str, where: tuple[int, int]) -> Problem:
    """Make the problem with a file that holds more values than any record."""
    return Problem(
        file,
        *where,
        YAML_TEXT,
        "too-many-values",
        "more values",
        f"at most {MOST_VALUES} values, {MOST_MAPPINGS} of them mappings",
        "Move long series of readings to a log",
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


def _may_hold_refused_feature(content: bytes) -> bool:
    # Most files hold none of the signs, which is told before the pattern is looked for.
    signs = b"&" in content or b"*" in content or b"!" in content or b"\n%" in content or content.startswith(b"%")
    return signs and _MAY_HOLD_REFUSED_FEATURE.search(content) is not None


def refused_features(content: bytes, file: str) -> tuple[Problem, ...]:
    """Return the first use of each YAML feature that records do without, or the first place beyond a limit."""
    if len(content) <= _SMALL and not _may_hold_refused_feature(content):
        return ()
    first: dict[str, Problem] = {}
    depth = values = 0
    parser = yaml_parser.parser(content)
    while parser.check_event():
        event = parser.get_event()
        where = (event.start_mark.line + 1, event.start_mark.column + 1)
        feature = _feature(event)
        if feature is not None:
            slug, found, remedy = feature
            first.setdefault(slug, Problem(file, *where, YAML_TEXT, slug, found, _PLAIN, remedy))
        depth += isinstance(event, CollectionStartEvent) - isinstance(event, CollectionEndEvent)
        values += isinstance(event, NodeEvent)
        # The parser's work for each value grows with the depth, and the nodes take room: neither is let go on.
        if depth > DEEPEST:
            return (*first.values(), too_deep(file, where))
        if values > 2 * MOST_VALUES:
            return (*first.values(), too_many_values(file, where))
    return tuple(first.values())


def _feature(event: object) -> tuple[str, str, str] | None:
    if isinstance(event, DocumentStartEvent) and (event.version or event.tags):
        found, _, remedy = _DIRECTIVE
        return "directive-not-allowed", found, remedy
    if isinstance(event, AliasEvent):
        return (
            "alias-not-allowed",
            f"the alias `*{shortened(event.anchor or '')}`",
            "Write the value out, or put quotes round text that begins with `*`",
        )
    if isinstance(event, NodeEvent) and event.anchor is not None:
        return (
            "anchor-not-allowed",
            f"the anchor `&{shortened(event.anchor)}`",
            "Remove the anchor, or put quotes round text that begins with `&`",
        )
    tag = getattr(event, "tag", None)
    if tag is not None:
        shown = shortened(str(tag).replace("tag:yaml.org,2002:", "!!"))
        return "tag-not-allowed", f"the tag `{shown}`", "Remove the tag, or put quotes round text that begins with `!`"
    return None
