"""What scoring gives for an instrument: the state of its calibrations, the tests they touch, its check standards."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Day, Frozen


class CalibrationState(StrEnum):
    """How a calibration stands on the day that an instrument is looked at."""

    IN_FORCE = "in_force"
    LAPSED = "lapsed"
    """The newest one, and due before that day."""
    SUPERSEDED = "superseded"
    MADE_LATER = "made_later"


class CalibrationResult(Frozen):
    """One calibration, and the test records that it puts in doubt."""

    date: Day
    due: Day
    certificate: str
    state: CalibrationState
    found: str | None
    """What was found before anything was adjusted; None where the certificate does not say."""
    within_tolerance: bool | None
    before: Day | None
    """The day of the calibration before it; None for the first."""
    affected: tuple[str, ...]
    """The records tested with the instrument since then, oldest first, where it was found out of tolerance."""


class ControlLimits(Frozen):
    """The lines of a control chart, in the check standard's unit."""

    action_low: float
    warning_low: float
    centre: float
    warning_high: float
    action_high: float
    method: str


class ReadingState(StrEnum):
    """Where a reading of a check standard lies. A reading on a limit is within it."""

    INSIDE = "inside"
    BEYOND_WARNING = "beyond_warning"
    BEYOND_ACTION = "beyond_action"


class ReadingResult(Frozen):
    """One reading of a check standard."""

    date: Day
    value: float
    state: ReadingState


class MeanOfReadings(Frozen):
    """The mean of all readings since the limits were set, with an interval, to hold against the centre."""

    value: float
    low: float | None
    high: float | None
    coverage: float
    readings: int
    no_interval: str | None
    """Why there is no interval."""
    holds_centre: bool | None
    """Whether the interval holds the centre; None where there is no interval."""
    method: str


class CheckResult(Frozen):
    """One check standard: its limits, and its readings against them, oldest first."""

    standard: str
    unit: str
    limits: ControlLimits
    readings: tuple[ReadingResult, ...]
    mean: MeanOfReadings


class InstrumentResult(Frozen):
    """Everything scored for one instrument."""

    instrument: str
    as_of: Day
    """The day it is looked at: that of the newest test in the catalogue."""
    state: CalibrationState | None
    """The state of the newest calibration made by then; None where there was none."""
    calibrations: tuple[CalibrationResult, ...]
    """Oldest first."""
    records: tuple[str, ...]
    """The test records that used the instrument, oldest first."""
    checks: tuple[CheckResult, ...]
