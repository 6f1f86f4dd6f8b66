"""Which item a record tested, as far as that is recorded, and what is put together under one key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from generator.model.base import NotRecorded
from generator.model.configuration import State
from generator.model.evidence_result import Item
from generator.model.published import PublishedCatalogue, PublishedTest

_Part = TypeVar("_Part")


def item_of(test: PublishedTest) -> Item:
    """Return the item of a record. A number tells units apart; the lot counts where there is none."""
    unit, lot = test.sample.unit, test.sample.lot
    if not isinstance(unit, NotRecorded):
        return Item(unit=unit, lot=None)
    return Item(unit=None, lot=None if isinstance(lot, NotRecorded) else lot)


def units_of_tests(tests: list[PublishedTest]) -> tuple[str, ...]:
    """Return the recorded units, each once."""
    return tuple(sorted({test.sample.unit for test in tests if isinstance(test.sample.unit, str)}))


def lots_of_tests(tests: list[PublishedTest]) -> tuple[str, ...]:
    """Return the recorded lots, each once."""
    return tuple(sorted({test.sample.lot for test in tests if isinstance(test.sample.lot, str)}))


def configuration_key(test: PublishedTest) -> str:
    """Return under which key results of a configuration may be put together."""
    state = test.configuration.state
    return state.value if state is State.AS_SUPPLIED else f"{state.value}: {test.configuration.description}"


def as_supplied_first(
    parts: Sequence[tuple[str, _Part]], catalogue: PublishedCatalogue
) -> tuple[tuple[str, _Part], ...]:
    """Return the parts, each given with its record, of a device as supplied; where there are none, those modified."""
    supplied = tuple(part for part in parts if catalogue.device_tests[part[0]].configuration.state is State.AS_SUPPLIED)
    return supplied or tuple(parts)
