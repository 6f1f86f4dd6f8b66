"""The kinds of record: where each stands, which model it is checked against, what it is called."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from generator.model.base import Frozen
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import Criterion, Protocol


@dataclass(frozen=True)
class RecordKind:
    """One kind of record."""

    place: str
    """Where a record of it stands, below the records folder."""
    model: type[Frozen]
    """What it is checked against."""
    what: str
    """What it is, in a sentence."""


RECORD_KINDS: Mapping[str, RecordKind] = {
    "device_test": RecordKind(
        "device_tests/<id>.yaml", DeviceTest, "One device, in one configuration, tested by one tester on one day."
    ),
    "device": RecordKind("devices/<id>.yaml", Device, "A device, its parts, and what its maker says of it."),
    "instrument": RecordKind("instruments/<id>.yaml", Instrument, "An instrument and its calibrations."),
    "wearer": RecordKind(
        "wearers/<id>.yaml", Wearer, "Who wears devices in tests, by a pseudonym. No name goes into a record."
    ),
    "tester": RecordKind("testers/<id>.yaml", Tester, "Who tests, by a pseudonym."),
    "publication": RecordKind(
        "publication.yaml", Publication, "Who publishes the catalogue, and what a reader must know of them."
    ),
    "protocol": RecordKind(
        "protocols/<id>.yaml", Protocol, "A reviewer's own list of exercises and rule for the ambient value."
    ),
    "criterion": RecordKind(
        "criteria/<id>.yaml", Criterion, "A reviewer's own requirement, bound to its method and kinds of device."
    ),
    "comparison": RecordKind(
        "comparisons/<id>.yaml", Comparison, "A question, and the devices that it is asked of, side by side."
    ),
}
"""Every kind of record by its name, in the order of the record guide."""


def heading(model: type[Frozen]) -> str:
    """Return the heading of a model: its name in words."""
    return name_in_words(model.__name__)


def name_in_words(name: str) -> str:
    """Return the name of a class in words."""
    return re.sub(r"(?<=[a-z])([A-Z])", lambda match: f" {match[1].lower()}", name)
