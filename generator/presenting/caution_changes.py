"""Which cautions a change raises, which it takes away, and which it words otherwise, page by page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.presenting.cautions import cautions_of_record
from generator.presenting.context import Context
from generator.presenting.device_page import cautions_of_device
from generator.presenting.instrument_doubts import with_instruments_named
from generator.presenting.views import Caution


@dataclass(frozen=True)
class CautionChange:
    """One box of one page that comes, goes, or reads otherwise."""

    page: str
    """The page's path."""
    id: str
    before: Caution | None
    after: Caution | None


def caution_changes(before: Context, after: Context, renames: Mapping[str, str]) -> tuple[CautionChange, ...]:
    """Return the cautions that differ, of the pages that both have or only one; records may have other ids after."""
    old, new = dict(_raised(before, renames)), dict(_raised(after, {}))
    return tuple(
        CautionChange(*place, old.get(place), new.get(place))
        for place in dict.fromkeys([*new, *old])
        if old.get(place) != new.get(place)
    )


def _raised(context: Context, renames: Mapping[str, str]) -> Iterator[tuple[tuple[str, str], Caution]]:
    """Yield each caution that the findings raise, by its page and its id."""
    for name, result in context.result.devices.items():
        for caution in cautions_of_device(result, context).raised:
            yield (f"devices/{name}.html", caution.id), caution
    for name, test in context.catalogue.device_tests.items():
        cautions = with_instruments_named(cautions_of_record(test, context), [name], context)
        for caution in cautions.raised:
            yield (f"records/{renames.get(name, name)}.html", caution.id), caution
