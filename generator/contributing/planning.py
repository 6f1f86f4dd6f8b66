"""What to test next of a device: its records and those that it is compared with are scored, and no others."""

from __future__ import annotations

from dataclasses import replace

from generator.model.base import Day
from generator.model.plan_result import Plan
from generator.model.published import PublishedCatalogue
from generator.scoring.catalogue import score_catalogue
from generator.scoring.comparisons import MOST_PAIRED
from generator.scoring.planning.plan import plan_of
from generator.scoring.planning.reviewed import Reviewed


def planned(device: str, catalogue: PublishedCatalogue, day: Day | None = None) -> Plan:
    """Return the plan of a device, for a day, or without one for the day of the newest test on record."""
    return plan_of(Reviewed(catalogue.devices[device], catalogue, score_catalogue(_around(device, catalogue))), day)


def _around(device: str, catalogue: PublishedCatalogue) -> PublishedCatalogue:
    """Return the part of a catalogue that bears on a device: with all devices of each comparison that it is in."""
    kind = catalogue.devices[device].kind
    of_kind = {name for name, other in catalogue.devices.items() if other.kind is kind and other.withdrawn is None}
    comparisons = {name: each for name, each in catalogue.comparisons.items() if device in each.devices}
    names = {device, *(other for each in comparisons.values() for other in each.devices)}
    # Among more of a kind no pairs are compared.
    names |= of_kind if len(of_kind) <= MOST_PAIRED else set()
    return replace(
        catalogue,
        devices={name: catalogue.devices[name] for name in sorted(names)},
        device_tests={name: test for name, test in catalogue.device_tests.items() if test.device in names},
        comparisons=comparisons,
    )
