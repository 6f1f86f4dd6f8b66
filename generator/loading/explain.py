"""From data to a checked model, or to problems in the words of the record guide."""

from __future__ import annotations

import calendar
import datetime
import difflib
import json
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, islice
from typing import TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails, to_json

from generator.errors import GeneratorFailed, Problem
from generator.loading.characters import not_ascii, shortened
from generator.loading.left_blanks import left_blanks
from generator.loading.model_keys import known_keys
from generator.loading.text_forms import FORMS
from generator.loading.yaml_source import MOST_PROBLEMS, Steps, YamlSource, more_problems, path_text
from generator.model.base import RECORDED_TAG, Frozen

_Model = TypeVar("_Model", bound=Frozen)
_LONGEST_COMPARED = 100
"""Characters of a word for which a similar one is looked for; longer ones would take long."""


@dataclass(frozen=True)
class Wording:
    """How one kind of pydantic error is told; `expected` is filled from the error's context."""

    slug: str
    expected: str
    remedy: str


WORDINGS: Mapping[str, Wording] = {
    "missing": Wording("missing-key", "the key `{key}`", "Add it as the record guide shows"),
    "extra_forbidden": Wording("unknown-key", "one of {keys}", "Remove it, or look up its name in the record guide"),
    "model_type": Wording("not-a-mapping", "a mapping", "Write it as keys with values, as the record guide shows"),
    "dict_type": Wording("not-a-mapping", "a mapping", "Write it as keys with values, as the record guide shows"),
    "tuple_type": Wording("not-a-list", "a list", "Begin each item on a line of its own with `- `"),
    "string_type": Wording("not-text", "text", "Write text; put quotes round a number or a word that is meant as text"),
    "int_type": Wording("not-a-whole-number", "a whole number", "Write digits only, without quotes"),
    "float_type": Wording("not-a-number", "a number", "Write a number with a decimal point, without quotes or unit"),
    "finite_number": Wording("not-finite", "a finite number", "Write the number that was read"),
    "bool_type": Wording("not-true-or-false", "`true` or `false`", "Write one of the two, without quotes"),
    "date_type": Wording("not-a-date", "a day such as 2025-03-14", "Write year, month and day with hyphens"),
    "date_parsing": Wording("not-a-date", "a day such as 2025-03-14", "Write year, month and day with hyphens"),
    "enum": Wording("not-one-of", "{expected}", "Choose one of them"),
    "literal_error": Wording("not-one-of", "{expected}", "Choose one of them"),
    "string_too_short": Wording("text-too-short", "at least {min_length} character(s)", "Write what is asked for"),
    "string_too_long": Wording("text-too-long", "at most {max_length} characters", "Shorten it"),
    "string_pattern_mismatch": Wording("wrong-form", "{form}", "Write it in that form"),
    "too_short": Wording("too-few-items", "at least {min_length} item(s)", "Add what is missing"),
    "too_long": Wording("too-many-items", "at most {max_length} items", "Split it, or move readings to a log"),
    "greater_than": Wording("too-small", "a number above {gt:.12g}", "Correct the number"),
    "greater_than_equal": Wording("too-small", "a number of at least {ge:.12g}", "Correct the number"),
    "less_than_equal": Wording("too-large", "a number of at most {le:.12g}", "Correct the number"),
}
"""Every kind of error that the models can give; a test holds the table to the models."""

_OF_SIGNS = frozenset(
    ("string_pattern_mismatch", "date_type", "date_parsing", "enum", "literal_error", "not-a-quantity", "unknown-unit")
)
"""Errors that a sign can cause that only looks like a plain one, or is not seen at all."""
_YEAR_FIRST = re.compile(r"([0-9]{4})[^0-9]{1,3}([0-9]{1,2})[^0-9]{1,3}([0-9]{1,2})")
_DAY_FIRST = re.compile(r"([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})")
_REST_OF_A_NUMBER = re.compile(r"[0-9]{1,9}( [^ ]{1,10})?")
"""A key that a comma within a number leaves in a mapping in braces: `{in_mask: 21,4 /cm3}` has the key `4 /cm3`."""
_COMMA_REMEDY = (
    "A comma parts the keys in braces: write a decimal point, as in `21.4 /cm3`, and nothing between thousands"
)
_YES_OR_NO: Mapping[str, str] = {"yes": "true", "y": "true", "on": "true", "no": "false", "n": "false", "off": "false"}


def checked(source: YamlSource, model: type[_Model], within: Steps = ()) -> tuple[_Model | None, tuple[Problem, ...]]:
    """Check the data of a file, or the part of it that the steps lead to, against a model.

    Problems of the YAML itself are passed on; where there are any, no model is returned.
    """
    if not source.readable:
        return None, source.problems
    data = source.data
    for step in within:
        data = data[step]
    # What was refused may hold halves of characters, which only the slower way writes as something to refuse again.
    as_json = to_json(data) if not source.problems else json.dumps(data, separators=(",", ":")).encode()
    # A value that YAML refused is None in the data, which the model refuses once more.
    told = {(problem.line, problem.column) for problem in source.problems}
    blanks = {
        steps: problem
        # Most files have no blank, and are not gone through key by key.
        for steps, problem in (left_blanks(source, model, within) if b":null" in as_json else ())
        if (problem.line, problem.column) not in told
    }
    explained: Iterator[Problem] = iter(())
    record = None
    try:
        record = model.model_validate_json(as_json)
    except ValidationError as error:
        # Without what was found, of which pydantic would make a copy for each error.
        errors = error.errors(include_url=False, include_input=False)
        explained = _explained(source, model, errors, within, blanks)
    news = (each for each in explained if each.slug == "missing-key" or (each.line, each.column) not in told)
    first = list(islice(chain(blanks.values(), news), MOST_PROBLEMS + 1))
    if len(first) > MOST_PROBLEMS:
        first[-1] = more_problems(source.file, (first[-1].line, first[-1].column))
    problems = (*source.problems, *first)
    return (None if problems else record), problems


def _of_a_blank(error: ErrorDetails, steps: Steps, blanks: Collection[Steps]) -> bool:
    """Say whether an error tells once more of a blank: at its place, or of the mapping that it is left out of."""
    if error["type"] == "missing":
        return False
    of_mapping = error["type"] not in WORDINGS and any(blank[:-1] == steps for blank in blanks)
    return steps in blanks or of_mapping


def nearest(word: str, known: Sequence[str]) -> str | None:
    """Return the known word that is most like this one, or None where none is like it."""
    if len(word) > _LONGEST_COMPARED:
        return None
    close = difflib.get_close_matches(word, [each for each in known if len(each) <= _LONGEST_COMPARED], n=1, cutoff=0.6)
    return close[0] if close else None


def _explained(
    source: YamlSource, model: type[Frozen], errors: Sequence[ErrorDetails], within: Steps, blanks: Collection[Steps]
) -> Iterator[Problem]:
    # Items that failed are not counted by pydantic, so that it calls a list of bad items too short as well.
    with_failed_items = {error["loc"][:place] for error in errors for place in range(len(error["loc"]))}
    for error in errors:
        told = error["type"] == "too_short" and error["loc"] in with_failed_items
        told = told or (bool(blanks) and _of_a_blank(error, source.steps((*within, *error["loc"])), blanks))
        if not told:
            yield _problem(source, model, error, within)


def _problem(source: YamlSource, model: type[Frozen], error: ErrorDetails, within: Steps) -> Problem:
    kind, context = error["type"], dict(error.get("ctx", {}))
    location = (*within, *error["loc"])
    steps = source.steps(location)
    if {"found", "expected", "remedy"} <= context.keys():
        look_alike = _look_alike(source.value(steps)) if kind in _OF_SIGNS else ""
        found = f"{context['found']}{look_alike}"
        beside = source.value(steps[:-1]) if kind == "unit-missing" else None
        parted = isinstance(beside, dict) and any(_REST_OF_A_NUMBER.fullmatch(str(key)) for key in beside)
        remedy = _COMMA_REMEDY if parted else context["remedy"]
        return source.problem(steps, kind, found, context["expected"], remedy)
    wording = WORDINGS.get(kind)
    if wording is None:
        raise GeneratorFailed(
            f"{source.file}: {path_text(steps)}: found the error type {kind!r} of a model, expected one of the table "
            "in generator/loading/explain.py. Add it to the table"
        )
    if kind == "missing":
        return _missing_key(source, wording, steps, str(location[-1]))
    if kind == "extra_forbidden":
        return _unknown_key(source, wording, steps, known_keys(model, error["loc"][:-1]))
    remedy = wording.remedy
    if kind in ("enum", "literal_error"):
        context["expected"] = re.sub(r"'([^']*)'", r"`\1`", context["expected"])
        remedy = _choice_remedy(str(source.value(steps)), context["expected"], remedy)
    if kind == "string_pattern_mismatch":
        context["form"] = FORMS.get(context["pattern"], f"text that matches {context['pattern']}")
    if wording.slug == "not-a-date":
        remedy = _date_remedy(source.value(steps), remedy)
    if wording.slug == "not-true-or-false":
        remedy = _yes_or_no_remedy(source.value(steps), remedy)
    if location[-1:] == (RECORDED_TAG,):
        remedy = f"{remedy}, or `{{not_recorded: <reason>}}`"
    return source.problem(steps, wording.slug, _found(source, steps, kind), wording.expected.format(**context), remedy)


def _missing_key(source: YamlSource, wording: Wording, steps: Steps, key: str) -> Problem:
    expected = wording.expected.format(key=key)
    return source.problem((*steps, key), wording.slug, f"no `{key}`", expected, wording.remedy)


def _unknown_key(source: YamlSource, wording: Wording, steps: Steps, keys: tuple[str, ...]) -> Problem:
    key = str(steps[-1])
    close = nearest(key, keys)
    remedy = wording.remedy if close is None else f"Did you mean `{close}`? Correct the key, or remove it"
    if _REST_OF_A_NUMBER.fullmatch(key):
        remedy = _COMMA_REMEDY
    expected = wording.expected.format(keys=", ".join(f"`{name}`" for name in keys))
    return source.problem(
        steps, wording.slug, f"the key `{shortened(key)}`{not_ascii(key)}", expected, remedy, of_key=True
    )


def _choice_remedy(word: str, expected: str, remedy: str) -> str:
    close = nearest(word, re.findall(r"`([^`]*)`", expected))
    return remedy if close is None else f"Did you mean `{close}`? {remedy}"


def _date_remedy(value: object, remedy: str) -> str:
    """Ask whether a day was meant that is written otherwise, where no other can have been, or say why there is none."""
    if not isinstance(value, str):
        return remedy
    if (match := _YEAR_FIRST.fullmatch(value)) is not None:
        year, month, day = map(int, match.groups())
    elif (match := _DAY_FIRST.fullmatch(value)) is not None and int(match[1]) > 12:
        day, month, year = map(int, match.groups())
    else:
        return remedy
    return _day_remedy(year, month, day, remedy)


def _day_remedy(year: int, month: int, day: int, remedy: str) -> str:
    try:
        return f"Did you mean `{datetime.date(year, month, day).isoformat()}`? {remedy}"
    except ValueError:
        pass
    try:
        # Day and month changed places: there is no such month.
        meant = datetime.date(year, day, month)
    except ValueError:
        days = calendar.monthrange(year, month)[1] if year and 1 <= month <= 12 else 0
        return f"That month has {days} days: correct the day" if days else remedy
    return f"Did you mean `{meant.isoformat()}`? There is no month {month}"


def _yes_or_no_remedy(value: object, remedy: str) -> str:
    meant = _YES_OR_NO.get(value.lower()) if isinstance(value, str) else None
    return remedy if meant is None else f"Did you mean `{meant}`? {remedy}"


def _look_alike(value: object) -> str:
    if not isinstance(value, str):
        return ""
    with_tab = " (with a tab in it)" if "\t" in value else ""
    return f"{not_ascii(value)}{with_tab}"


def _found(source: YamlSource, steps: Steps, kind: str) -> str:
    value = source.value(steps)
    if kind == "string_too_long":
        return f"{len(value)} characters"
    if kind in ("too_short", "too_long"):
        return f"{len(value)} items"
    look_alike = _look_alike(value) if kind in _OF_SIGNS else ""
    return f"{source.shown(steps)}{look_alike}"
