"""Everything that was loaded and checked, ready to be scored."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.log import Log
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import CautionRule, Criterion, Method, Protocol, ScaleLandmark


@dataclass(frozen=True)
class Catalogue:
    """Checked records by id, sorted by id, and the reference data they are scored with."""

    publication: Publication
    devices: Mapping[str, Device]
    device_tests: Mapping[str, DeviceTest]
    instruments: Mapping[str, Instrument]
    testers: Mapping[str, Tester]
    wearers: Mapping[str, Wearer]
    criteria: Mapping[str, Criterion]
    protocols: Mapping[str, Protocol]
    methods: Mapping[str, Method]
    caution_rules: tuple[CautionRule, ...]
    landmarks: tuple[ScaleLandmark, ...] = ()
    logs: Mapping[str, Log] = field(default_factory=dict)
    """Logs by the file name that records use, such as `logs/hood-a.csv`."""
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    """Pictures, made anew, by the file name that records use, such as `pictures/hood-a.jpg`."""
    record_sha256: Mapping[str, str] = field(default_factory=dict)
    """SHA-256 of each device test's file, by record id."""

    def tests_of(self, device_id: str) -> tuple[DeviceTest, ...]:
        """Return a device's test records, oldest first."""
        tests = [test for test in self.device_tests.values() if test.device == device_id]
        return tuple(sorted(tests, key=lambda test: (test.dates.performed, test.id)))
