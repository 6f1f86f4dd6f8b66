"""Blanks: keys of a record behind which nothing stands, as a draft has them until they are filled in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.errors import Problem
from generator.loading.asked import Asked, asked
from generator.loading.yaml_source import Steps, YamlSource
from generator.model.base import Frozen, NotRecorded

SLUG = "left-blank"
NOTHING = "nothing"
"""What is found in a blank."""
NOT_RECORDED = "`{not_recorded: <reason>}`"


def left_blanks(source: YamlSource, model: type[Frozen], within: Steps = ()) -> Iterator[tuple[Steps, Problem]]:
    """Yield the way to each blank in the part of a file that the steps lead to, with the problem that tells of it."""
    for steps, what in _blanks(source.value(within), (model,), within):
        yield steps, source.problem(steps, SLUG, NOTHING, _expected(what), _remedy(what, str(steps[-1])))


def _blanks(data: Any, models: tuple[type[Frozen], ...], steps: Steps) -> Iterator[tuple[Steps, Asked]]:
    """Go through the keys that the models know; what else is wrong with the data is told by the model."""
    if not isinstance(data, Mapping):
        return
    for key, value in data.items():
        model = next((each for each in models if key in each.model_fields), None)
        if model is None:
            continue
        what = asked(model, key)
        if value is None and not what.nothing_is_an_answer:
            yield (*steps, key), what
        inside: tuple[type[Frozen], ...] = (*what.parts, NotRecorded) if what.may_be_not_recorded else what.parts
        for place, item in enumerate(value) if isinstance(value, list) else ():
            yield from _blanks(item, inside, (*steps, key, place))
        yield from _blanks(value, inside, (*steps, key))


def _expected(what: Asked) -> str:
    example = f" such as `{what.example}`" if what.example is not None else ""
    if not what.is_list:
        return f"{what.form}{example}"
    return f"{what.form} with at least one item" if what.needs_items else what.form


def _remedy(what: Asked, key: str) -> str:
    if what.may_be_not_recorded:
        return f"Fill in the blank, or write {NOT_RECORDED}"
    if what.may_be_left_out:
        return f"Fill in the blank, or take `{key}` out where it is not needed"
    return "Fill in the blank"
