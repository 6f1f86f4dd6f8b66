"""Results without their workings: most of what a result weighs, and what only its own page and data sheet show."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import BaseModel

from generator.model.result import Working

_Model = TypeVar("_Model", bound=BaseModel)
_Slim = dict[int, BaseModel]
"""The copies made so far, by the identity of what they were made from: what stands in two places is one copy."""


def without_workings(result: _Model) -> _Model:
    """Return the result of a record, a device or a comparison with every working in it gone, and all else as it was."""
    return _slim_model(result, {})


def _slim_model(model: _Model, made: _Slim) -> _Model:
    found = made.get(id(model))
    if found is None:
        changed = {}
        for name, value in model.__dict__.items():
            slim = _slim(value, made)
            if slim is not value:
                changed[name] = slim
        # What holds no working stays the very same object.
        found = made[id(model)] = model.model_copy(update=changed) if changed else model
    assert isinstance(found, type(model))
    return found


def _slim(value: Any, made: _Slim) -> Any:
    if isinstance(value, Working):
        return None
    if isinstance(value, BaseModel):
        return _slim_model(value, made)
    if isinstance(value, tuple):
        items = [_slim(item, made) for item in value]
        return tuple(items) if any(new is not old for new, old in zip(items, value, strict=True)) else value
    if isinstance(value, dict):
        slim = {name: _slim(item, made) for name, item in value.items()}
        return slim if any(slim[name] is not value[name] for name in value) else value
    return value
