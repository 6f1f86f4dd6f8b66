"""From a model and what is known of a record to its lines: known values as they are, for the rest a blank."""

from __future__ import annotations

import re
from collections.abc import Mapping as Known
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from generator.contributing.drafting.commented_yaml import Line, Listed, Mapping
from generator.contributing.drafting.examples import EXAMPLES
from generator.loading.asked import Asked, asked
from generator.loading.left_blanks import NOT_RECORDED
from generator.model.base import Frozen

_IN_PLACE_OF = re.compile(r"^In place of [^:]{1,40}: ")

BLANK = None
"""In `known`: a key that is to be filled in although the model could do without it, or a part as one blank."""


@dataclass(frozen=True)
class Offered:
    """In `known`: a key that is written commented out, for who needs it; of its content, this is known."""

    content: Any = BLANK


@dataclass(frozen=True)
class Wording:
    """What is said in the comments of one mapping in place of what is usual."""

    above: Known[str, Sequence[str]] = field(default_factory=dict)
    """Comment lines that stand above a key, before its own."""
    examples: Known[str, str] = field(default_factory=dict)
    choices: Known[str, Sequence[str]] = field(default_factory=dict)
    """The words to choose from, where fewer can stand here than the model allows."""
    brief: bool = False
    """Whether the form of a blank is enough, since the same keys were explained above."""


def lines_of(model: type[Frozen], known: Known[str, Any], wording: Wording | None = None) -> tuple[Line, ...]:
    """Return the lines of a mapping that a model describes.

    Parameters
    ----------
    model : type of Frozen
        The model. Each key that it needs, and each that `known` has, becomes a line.
    known : mapping
        What is known by key: a value, a mapping or tuple of mappings for parts, `BLANK`, or `Offered`.
    wording : Wording, optional
        Words for these keys alone.
    """
    wording = wording or Wording()
    lines = [
        _line(model, key, known, wording)
        for key, about in model.model_fields.items()
        if about.is_required() or key in known
    ]
    return _optional_ones_before_the_last(lines)


def _line(model: type[Frozen], key: str, known: Known[str, Any], wording: Wording) -> Line:
    given = known.get(key)
    offered = isinstance(given, Offered)
    what = asked(model, key)
    value = given.content if isinstance(given, Offered) else given
    if value is BLANK and what.parts and (offered or key not in known):
        value = {}
    content = _content(what, value, wording.brief)
    comment = ""
    if value is BLANK:
        example = wording.examples.get(key) or EXAMPLES.get((model, key)) or what.example
        comment = comment_of(what, example, wording.choices.get(key, what.choices), wording.brief)
    elif value == {} and not wording.brief:
        comment = comment_of(what, None, ())
    return Line(key, content, comment, tuple(wording.above.get(key, ())), offered)


def _content(what: Asked, value: Any, brief: bool) -> Any:
    """Return what stands behind a key, parts of it as lines of their own."""
    if isinstance(value, dict):
        inside = Mapping(lines_of(what.parts[0], value, Wording(brief=brief)))
        return Listed((inside,)) if what.is_list else inside
    if isinstance(value, tuple):
        return Listed(value)
    return value


def _optional_ones_before_the_last(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Put what is commented out before the last line that is not, so that it stands within its mapping."""
    needed = [place for place, line in enumerate(lines) if not line.optional]
    last = needed[-1]
    return (*lines[:last], *lines[last + 1 :], lines[last])


def comment_of(what: Asked, example: str | None, choices: Sequence[str], brief: bool = False) -> str:
    """Say what goes into a blank, with an example or the words to choose from; the latter alone where it is brief."""
    # Which of several keys is written was chosen before the draft was made.
    said = _IN_PLACE_OF.sub("", what.description).rstrip(".")
    said = f"{said[:1].upper()}{said[1:]}"
    form = ""
    if choices:
        form = f"one of {', '.join(f'`{choice}`' for choice in choices)}"
    elif example is not None and (brief or "such as `" not in said):
        form = f"such as `{example}`"
    if brief:
        said = form
    elif form:
        several = ". " in said or ": " in said
        said += f". {form[0].upper()}{form[1:]}" if several else f"{':' if choices else ','} {form}"
    if what.may_be_not_recorded:
        said += f", or {NOT_RECORDED}"
    return said
