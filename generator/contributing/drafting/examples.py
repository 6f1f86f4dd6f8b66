"""What could stand in a text or a number of a record: an example for each, since the models have none.

All of it is invented, and none of it is written into a draft as a value.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.air import Environment
from generator.model.base import Frozen
from generator.model.claims import Claim, StatedApproval
from generator.model.configuration import ChangeCosts, Configuration, Fitted
from generator.model.device import AirPath, Consumable, Device, Filter, Opening, Power, PoweredExhaust
from generator.model.device_test import DeviceTest, Sample
from generator.model.flow_run import FlowReadings, FlowRun
from generator.model.instrument import Calibration, Counter, Instrument, ReferenceConditions
from generator.model.people import Consent, Publication, Tester
from generator.model.session import ExerciseReading, FitSession
from generator.model.zero_check import ZeroCheck

EXAMPLES: Mapping[tuple[type[Frozen], str], str] = {
    (Publication, "title"): "The Dust Shelf",
    (Publication, "subtitle"): "Breathing protection, measured before it is lent",
    (Publication, "publisher"): "Tool library of an invented town",
    (Publication, "address"): "1 Slipway Row, Invented Town",
    (Publication, "contact"): "catalogue@reviews.example",
    (Publication, "data_licence"): "CC0-1.0",
    (Publication, "disclosure"): "Run by volunteers, paid for by members. It sells nothing.",
    (Publication, "authorised_by"): "the committee of the library",
    (Publication, "scenario"): "An invented town, where volunteers test what the library lends.",
    (Device, "name"): "Hood of the North",
    (Device, "maker"): "Invented Makers",
    (Device, "summary"): "A hood, fed through a hose from a blower on the belt.",
    (Filter, "count"): "2",
    (Power, "source"): "lithium-ion pack, 14.4 V",
    (Consumable, "item"): "pair of filters",
    (Opening, "where"): "both cheeks, through the filters",
    (AirPath, "seals"): "rubber edge over mouth and nose",
    (AirPath, "alarms"): "[low battery, low flow]",
    (PoweredExhaust, "where"): "behind the head",
    (Power, "settings"): "[low, high]",
    (Power, "protective_settings"): "[high]",
    (Claim, "quotation"): "At least 180 litres a minute until the alarm sounds.",
    (StatedApproval, "scheme"): "Dust list of an invented harbour board",
    (StatedApproval, "number"): "HB-77-2",
    (StatedApproval, "covers"): "the hood with hose, blower, battery and two filters as sold",
    (Instrument, "name"): "Particle counter of the workshop",
    (Instrument, "serial"): '"0417"',
    (Calibration, "date"): "2025-01-20",
    (Calibration, "due"): "2026-01-20",
    (Calibration, "laboratory"): "Calibration bench of an invented school",
    (Calibration, "certificate"): "C-2025-031",
    (Calibration, "correction"): "0.9 %",
    (Calibration, "k"): "2.0",
    (Counter, "counted_flow"): "100 cm3/min",
    (Counter, "ambient_minimum"): "1000 /cm3",
    (Counter, "ceiling"): "100000 /cm3",
    (ReferenceConditions, "temperature"): "21.11 degC",
    (Tester, "pseudonym"): "Lamplighter",
    (Tester, "disclosure"): "Volunteer of the library; has no part in any maker.",
    (Consent, "given"): "2025-03-01",
    (Consent, "covers"): "fit tests, and publication of the results under a letter",
    (Configuration, "description"): "facepiece size M, both filters new",
    (Configuration, "changes"): "[a third strap, sewn on behind the ears]",
    (ChangeCosts, "approval"): "none is stated",
    (ChangeCosts, "noise"): "none",
    (Fitted, "filters"): "[pair of filters]",
    (Sample, "source"): "a shop for work clothes",
    (Sample, "lot"): '"83-C"',
    (Sample, "unit"): '"002190"',
    (Sample, "condition"): "one corner of the box dented",
    (DeviceTest, "place"): "the old workshop, ground floor",
    (DeviceTest, "customer"): "the harbour board of an invented town",
    (DeviceTest, "deviations"): "[the last exercise was done twice, the second time was written down]",
    (DeviceTest, "not_tested"): "[how the device holds after a day of work]",
    (DeviceTest, "raw_data"): "the notebook of the workshop, page 12",
    (DeviceTest, "hygiene"): "wiped with alcohol before each wearer",
    (DeviceTest, "notes"): "The strap was at its third hole for every wearer.",
    (Environment, "humidity"): "45 %",
    (FitSession, "filter"): "new",
    (FitSession, "reason"): "the wearer asked to stop",
    (FitSession, "size"): "M",
    (FitSession, "adverse_event"): "redness at the bridge of the nose, gone after an hour",
    (FitSession, "in_mask_time"): "40 s",
    (FitSession, "ambient_time"): "15 s",
    (ExerciseReading, "in_mask"): "5.64 /cm3",
    (ExerciseReading, "in_mask_count"): "96",
    (ExerciseReading, "fit_factor"): "250",
    (ZeroCheck, "count"): "0",
    (FlowRun, "where"): "end of the hose, before the hood, through a straight tube of 40 cm",
    (FlowReadings, "values"): "[182.5, 181.9, 182.1, 182.4, 182.0]",
}
"""Examples by model and key, as they would be written into the YAML."""
