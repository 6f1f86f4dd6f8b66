"""Every free text of a folder of records, found by the models and put another way."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from pydantic import StringConstraints

from generator.loading.yaml_source import read_yaml
from generator.model.base import Frozen, NotRecorded
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import Criterion, Protocol
from generator.model.series import SeriesColumn, SeriesReference
from generator.model.session import LogColumns

KINDS: Mapping[str, type[Frozen]] = {
    "publication.yaml": Publication,
    "devices/*.yaml": Device,
    "device_tests/*.yaml": DeviceTest,
    "instruments/*.yaml": Instrument,
    "testers/*.yaml": Tester,
    "wearers/*.yaml": Wearer,
    "criteria/*.yaml": Criterion,
    "protocols/*.yaml": Protocol,
    "comparisons/*.yaml": Comparison,
}
HEADINGS = (LogColumns, SeriesReference, SeriesColumn)
"""Models whose texts are headings, which must be those of the log."""
BLOWERLESS = ("off", "none")
"""Words that stand in place of a setting, for a blower that did not run and for a device without one."""
Place = tuple[str, str]
"""A model and its field."""
Change = Callable[[str, int], str]
"""Gets a text and the most characters it may have, and returns what stands in its place."""


def is_free(hint: Any) -> int:
    """Return how long a text of this type may be, or 0 where its form is prescribed."""
    if get_origin(hint) is Annotated and get_args(hint)[0] is str:
        for extra in get_args(hint)[1:]:
            if isinstance(extra, StringConstraints) and extra.pattern is None:
                return extra.max_length or 600
    return 0


def free_fields(model: type[Frozen], within: frozenset[type[Frozen]] = frozenset()) -> Iterator[Place]:
    """Go through the fields below a model that hold free text."""
    for name, hint in get_type_hints(model, include_extras=True).items():
        if name in model.model_fields:
            for part in parts(hint):
                if is_free(part):
                    yield model.__name__, name
                elif isinstance(part, type) and issubclass(part, Frozen) and part not in within:
                    yield from free_fields(part, within | {model})


def parts(hint: Any) -> Iterator[Any]:
    """Go through what a type hint is made of, down to texts and models."""
    if is_free(hint) or isinstance(hint, type):
        yield hint
    for argument in get_args(hint) if not is_free(hint) else ():
        yield from parts(argument)


def retold(model: type[Frozen], data: Any, change: Change, seen: set[Place]) -> Any:
    """Return the data of a record with every free text changed; note where there was one."""
    if not isinstance(data, dict) or model in HEADINGS:
        return data
    hints = get_type_hints(model, include_extras=True)
    return {
        name: _retold_value(hints[name], value, change, seen, (model.__name__, name)) for name, value in data.items()
    }


def _retold_value(hint: Any, data: Any, change: Change, seen: set[Place], place: Place) -> Any:
    if isinstance(data, list):
        return [_retold_value(hint, item, change, seen, place) for item in data]
    if isinstance(data, dict) and "not_recorded" in data:
        return retold(NotRecorded, data, change, seen)
    for part in parts(hint):
        if isinstance(data, dict) and isinstance(part, type) and issubclass(part, Frozen) and part is not NotRecorded:
            return retold(part, data, change, seen)
        if isinstance(data, str) and is_free(part) and data not in BLOWERLESS:
            seen.add(place)
            return change(data, is_free(part))
    return data


def retell(folder: Path, change: Change) -> set[Place]:
    """Change every free text of every record of a folder; return the fields that had one."""
    seen: set[Place] = set()
    for pattern, model in KINDS.items():
        for path in sorted(folder.glob(pattern)):
            source = read_yaml(path.read_bytes(), str(path))
            assert source.problems == (), source.problems
            path.write_text(json.dumps(retold(model, source.data, change, seen), ensure_ascii=False, indent=1))
    return seen
