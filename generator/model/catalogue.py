"""Everything that was loaded and checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.model.assigned_protection import AssignedProtection
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.log import Log
from generator.model.panel import PanelRule
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import CautionRule, Criterion, Method, Protocol, ScaleLandmark
from generator.model.series import Series
from generator.model.work_gas import GasLimit, WorkGas
from generator.model.work_level import WorkLevel


@dataclass(frozen=True, kw_only=True)
class PublicRecords:
    """Checked records that anybody may see, by id and sorted by id, and the reference data they are scored with."""

    publication: Publication
    devices: Mapping[str, Device]
    instruments: Mapping[str, Instrument]
    testers: Mapping[str, Tester]
    criteria: Mapping[str, Criterion]
    protocols: Mapping[str, Protocol]
    methods: Mapping[str, Method]
    caution_rules: tuple[CautionRule, ...]
    landmarks: tuple[ScaleLandmark, ...] = ()
    panels: Mapping[str, PanelRule] = field(default_factory=dict)
    """Rules about whole panels of wearers, by id."""
    assigned_protection: tuple[AssignedProtection, ...] = ()
    work_levels: tuple[WorkLevel, ...] = ()
    """Breathing demand as printed, in the order of the peaks."""
    work_gas: Mapping[str, WorkGas] = field(default_factory=dict)
    """What a person gives off and takes up at levels of work, the lightest first, by id."""
    gas_limits: Mapping[str, GasLimit] = field(default_factory=dict)
    """Limits of carbon dioxide, by id."""
    comparisons: Mapping[str, Comparison] = field(default_factory=dict)
    logs: Mapping[str, Log] = field(default_factory=dict)
    """Logs by the file name that records use, such as `logs/hood-a.csv`."""
    series: Mapping[str, Series] = field(default_factory=dict)
    """Logs of flow, pressure, voltage or current, by the file name that records use."""
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    """Pictures, made anew, by the file name that records use, such as `pictures/hood-a.jpg`."""
    record_sha256: Mapping[str, str] = field(default_factory=dict)
    """SHA-256 of each device test's file, by record id."""


@dataclass(frozen=True, kw_only=True)
class Catalogue(PublicRecords):
    """Everything that was loaded and checked, with what stays in the house: wearers, and tests as recorded."""

    device_tests: Mapping[str, DeviceTest]
    wearers: Mapping[str, Wearer]
