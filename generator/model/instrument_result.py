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
    """The day of the calibration."""
    due: Day
    """The day until which it holds."""
    certificate: str
    """The number of the certificate."""
    state: CalibrationState
    """How it stands."""
    found: str | None
    """What was found before anything was adjusted; None where the certificate does not say."""
    within_tolerance: bool | None
    """Whether the instrument was found within its tolerance; null where the certificate does not say."""
    before: Day | None
    """The day of the calibration before it; None for the first."""
    affected: tuple[str, ...]
    """The records tested with the instrument since then, oldest first, where it was found out of tolerance."""


class ControlLimits(Frozen):
    """The lines of a control chart, in the check standard's unit."""

    action_low: float
    """The lower action limit."""
    warning_low: float
    """The lower warning limit."""
    centre: float
    """The centre line."""
    warning_high: float
    """The upper warning limit."""
    action_high: float
    """The upper action limit."""
    method: str
    """The id of the method."""


class ReadingState(StrEnum):
    """Where a reading of a check standard lies. A reading on a limit is within it."""

    INSIDE = "inside"
    BEYOND_WARNING = "beyond_warning"
    BEYOND_ACTION = "beyond_action"


class ReadingResult(Frozen):
    """One reading of a check standard."""

    date: Day
    """The day of the reading."""
    value: float
    """What was read, in the check standard's unit."""
    state: ReadingState
    """Where it lies."""


class MeanOfReadings(Frozen):
    """The mean of all readings since the limits were set, with an interval, to hold against the centre."""

    value: float
    """The mean, in the check standard's unit."""
    low: float | None
    """The lower limit of its interval; null where there is none."""
    high: float | None
    """The upper limit of its interval; null where there is none."""
    coverage: float
    """The coverage probability of the interval, such as 0.95."""
    readings: int
    """How many readings it is made from."""
    no_interval: str | None
    """Why there is no interval."""
    holds_centre: bool | None
    """Whether the interval holds the centre; None where there is no interval."""
    method: str
    """The id of the method."""


class CheckResult(Frozen):
    """One check standard: its limits, and its readings against them, oldest first."""

    standard: str
    """The check standard's id."""
    unit: str
    """The unit of its readings and limits."""
    limits: ControlLimits
    """The lines of its control chart."""
    readings: tuple[ReadingResult, ...]
    """Its readings, oldest first."""
    mean: MeanOfReadings
    """The mean of its readings since the limits were set."""


class InstrumentResult(Frozen):
    """Everything scored for one instrument."""

    instrument: str
    """The instrument's id."""
    as_of: Day
    """The day it is looked at: that of the newest test in the catalogue."""
    state: CalibrationState | None
    """The state of the newest calibration made by then; None where there was none."""
    calibrations: tuple[CalibrationResult, ...]
    """Oldest first."""
    records: tuple[str, ...]
    """The test records that used the instrument, oldest first."""
    checks: tuple[CheckResult, ...]
    """Each check standard."""
