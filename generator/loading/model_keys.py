"""Which keys a part of a record knows: a walk along the fields of the models."""

from __future__ import annotations

import inspect
from typing import Any, get_args

from generator.model.base import NOT_RECORDED_TAG, RECORDED_TAG, Frozen, NotRecorded
from generator.model.quantity import Quantity


def parts_of(annotation: Any) -> tuple[type[Frozen], ...]:
    """Return the models that a field's annotation may hold. A quantity is text in a record, so it is none."""
    if inspect.isclass(annotation) and issubclass(annotation, Frozen):
        return () if annotation is Quantity else (annotation,)
    return tuple(dict.fromkeys(part for argument in get_args(annotation) for part in parts_of(argument)))


def known_keys(model: type[Frozen], location: tuple[str | int, ...]) -> tuple[str, ...]:
    """Return the keys of the mapping that a pydantic location leads to from `model`."""
    models: tuple[type[Frozen], ...] = (model,)
    for step in location:
        if step == RECORDED_TAG:
            models = tuple(part for part in models if part is not NotRecorded)
        elif step == NOT_RECORDED_TAG:
            models = (NotRecorded,)
        elif isinstance(step, str):
            fields = [part.model_fields[step] for part in models if step in part.model_fields]
            models = tuple(part for known in fields for part in parts_of(known.annotation))
    return tuple(dict.fromkeys(name for part in models for name in part.model_fields))
