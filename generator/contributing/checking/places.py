"""Places that scoring names, such as `fit[morning].exercises[talking]`, as steps into the record's file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from generator.loading.yaml_source import Steps

_STEP = re.compile(r"([a-z_]+)(?:\[([a-z0-9_-]+)\])?", re.ASCII)
_NAMES = ("id", "exercise")
"""Keys by which an item of a list is named in a place."""


def steps_to(where: str, data: Any) -> Steps:
    """Return the steps to a place as far as they can be followed in the data of a file."""
    steps: list[str | int] = []
    here = data
    for step in where.split("."):
        match = _STEP.fullmatch(step)
        if match is None or not isinstance(here, Mapping) or match[1] not in here:
            break
        here = here[match[1]]
        steps.append(match[1])
        if match[2] is None:
            continue
        place = _place_of(match[2], here)
        if place is None:
            break
        here = here[place]
        steps.append(place)
    return tuple(steps)


def _place_of(name: str, items: Any) -> int | None:
    if not isinstance(items, list):
        return None
    return next(
        (
            place
            for place, item in enumerate(items)
            if isinstance(item, Mapping) and any(item.get(key) == name for key in _NAMES)
        ),
        None,
    )
