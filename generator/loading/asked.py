"""What a key of a record asks for, in words: read from the models, for blanks and for drafts."""

from __future__ import annotations

import datetime
import inspect
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from generator.loading.model_keys import parts_of
from generator.loading.text_forms import FORMS
from generator.model.base import Frozen, NotRecorded
from generator.model.field_meanings import field_meanings
from generator.model.quantity import Quantity, QuantityOf

_SIMPLE = {int: "a whole number", float: "a number", bool: "`true` or `false`", str: "text"}


@dataclass(frozen=True)
class Asked:
    """What belongs behind one key."""

    model: type[Frozen]
    key: str
    form: str
    """What is to be written, with its article, without an example: `a concentration`."""
    example: str | None = None
    choices: tuple[str, ...] = ()
    """The words of which one is to be written, where the list of them is closed."""
    parts: tuple[type[Frozen], ...] = ()
    """The models of the mapping, or of the list's items, that is to be written."""
    is_list: bool = False
    needs_items: bool = False
    """Whether the list must not be empty."""
    may_be_not_recorded: bool = False
    may_be_left_out: bool = False
    nothing_is_an_answer: bool = False
    """Whether nothing is a value like others, as in reference data."""

    @property
    def description(self) -> str:
        """What the key holds, as the record guide says it."""
        return field_meanings(self.model).get(self.key, "")


@cache
def asked(model: type[Frozen], key: str) -> Asked:
    """Return what a key of a model asks for."""
    known = model.model_fields[key]
    hint = _hints(model)[key]
    alternatives = list(_alternatives(hint, ()))
    kinds = [kind for kind, _ in alternatives]
    kind, of_it = next(each for each in alternatives if each[0] not in (NoneType, NotRecorded))
    is_list = get_origin(kind) is tuple
    parts = tuple(part for part in parts_of(kind) if part is not NotRecorded)
    choices, form, example = _form(kind, of_it, parts)
    return Asked(
        model=model,
        key=key,
        form=form,
        example=example,
        choices=choices,
        parts=parts,
        is_list=is_list,
        needs_items=any(getattr(extra, "min_length", None) for extra in constraints(of_it)) if is_list else False,
        may_be_not_recorded=NotRecorded in kinds,
        may_be_left_out=not known.is_required(),
        nothing_is_an_answer=NoneType in kinds and known.is_required(),
    )


@cache
def _hints(model: type[Frozen]) -> Mapping[str, Any]:
    return get_type_hints(model, include_extras=True)


def _alternatives(hint: Any, extras: tuple[Any, ...]) -> Iterator[tuple[Any, tuple[Any, ...]]]:
    """Yield the types that a hint allows, each with what is annotated to it."""
    origin = get_origin(hint)
    if origin is Annotated:
        inner, *more = get_args(hint)
        yield from _alternatives(inner, (*extras, *more))
    elif origin in (Union, UnionType):
        for each in get_args(hint):
            yield from _alternatives(each, extras)
    else:
        yield hint, extras


def constraints(extras: tuple[Any, ...]) -> Iterator[Any]:
    """Yield the constraints of a type, also those that stand inside a `Field`."""
    for extra in extras:
        yield extra
        if isinstance(extra, FieldInfo):
            yield from extra.metadata


def _form(
    kind: Any, extras: tuple[Any, ...], parts: tuple[type[Frozen], ...]
) -> tuple[tuple[str, ...], str, str | None]:
    """Return the choices, the form in words and the example of one type."""
    if kind is Quantity:
        rule = next(extra for extra in extras if isinstance(extra, QuantityOf))
        return (), _with_article(" or ".join(rule.dimensions)), rule.example
    if get_origin(kind) is tuple:
        return (), "a list", None
    if parts:
        return (), f"a mapping with {_keys_shown(parts[0])}", None
    if inspect.isclass(kind) and issubclass(kind, Enum):
        choices = tuple(str(each.value) for each in kind)
        return choices, _one_of(choices), None
    if kind is datetime.date:
        return (), "a day", "2025-03-14"
    if kind is bool:
        return ("true", "false"), _SIMPLE[bool], None
    if kind is str:
        return _text(extras)
    return (), _SIMPLE.get(kind, "a value"), None


_CHOICE_PATTERN = "^("


def _text(extras: tuple[Any, ...]) -> tuple[tuple[str, ...], str, str | None]:
    pattern = next((each.pattern for each in extras if isinstance(each, StringConstraints) and each.pattern), None)
    example = next((str(each.examples[0]) for each in extras if isinstance(each, FieldInfo) and each.examples), None)
    if pattern is None:
        return (), "text", example
    form, _, rest = FORMS[str(pattern)].partition(" such as ")
    if str(pattern).startswith(_CHOICE_PATTERN):
        choices = tuple(FORMS[str(pattern)].split("`")[1::2])
        return choices, _one_of(choices), None
    named = rest.split(" or ")[0].strip("`'")
    return (), form.rstrip(","), example or named or None


def _one_of(choices: tuple[str, ...]) -> str:
    return f"one of {', '.join(f'`{choice}`' for choice in choices)}"


def _keys_shown(model: type[Frozen]) -> str:
    needed = [name for name, known in model.model_fields.items() if known.is_required()]
    return ", ".join(f"`{name}`" for name in needed or model.model_fields)


def _with_article(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"
