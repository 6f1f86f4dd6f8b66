"""Instruments: which calibrations hold, which tests a bad one touches, and how the check standards stand."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.base import Day
from generator.model.instrument import Calibration, CheckStandard, Instrument
from generator.model.instrument_result import (
    CalibrationResult,
    CalibrationState,
    CheckResult,
    ControlLimits,
    InstrumentResult,
    MeanOfReadings,
    ReadingResult,
    ReadingState,
)
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Finding
from generator.scoring.control_charts import control_limits, mean_interval
from generator.scoring.counting import COVERAGE

ONE_READING = "there is one reading"
ALL_EQUAL = "the readings do not differ"


def is_affected(performed: Day, before: Day | None, found: Day) -> bool:
    """Say whether a test is in doubt because the calibration of the day `found` found its instrument out of tolerance.

    Both days count: no record tells whether a test on the day of a calibration came before or after it. Without a
    calibration before, every test up to that day is in doubt.
    """
    return (before is None or before <= performed) and performed <= found


def _in_order(instrument: Instrument) -> list[tuple[Calibration, Day | None]]:
    """Return the calibrations, oldest first, each with the day of the one before it."""
    ordered = sorted(instrument.calibrations, key=lambda calibration: calibration.date)
    return list(zip(ordered, [None, *(calibration.date for calibration in ordered)], strict=False))


def _out_of_tolerance(instrument: Instrument) -> list[tuple[Calibration, Day | None]]:
    return [
        (calibration, before)
        for calibration, before in _in_order(instrument)
        if calibration.as_found is not None and not calibration.as_found.within_tolerance
    ]


def _state(calibration: Calibration, instrument: Instrument, day: Day) -> CalibrationState:
    if calibration.date > day:
        return CalibrationState.MADE_LATER
    if calibration != instrument.calibration_on(day):
        return CalibrationState.SUPERSEDED
    return CalibrationState.LAPSED if calibration.lapsed_on(day) else CalibrationState.IN_FORCE


def limits_of(standard: CheckStandard) -> ControlLimits:
    """Return the limits of a check standard's control chart."""
    action_low, warning_low, warning_high, action_high = control_limits(standard.centre, standard.standard_deviation)
    return ControlLimits(
        action_low=action_low,
        warning_low=warning_low,
        centre=standard.centre,
        warning_high=warning_high,
        action_high=action_high,
        method="control-limits",
    )


def reading_state(value: float, limits: ControlLimits) -> ReadingState:
    """Say where a reading lies. One on a limit is within it, whatever the last digit of the limit's computing."""
    if _outside(value, limits.action_low, limits.action_high):
        return ReadingState.BEYOND_ACTION
    if _outside(value, limits.warning_low, limits.warning_high):
        return ReadingState.BEYOND_WARNING
    return ReadingState.INSIDE


def _outside(value: float, low: float, high: float) -> bool:
    # In binary 0.1 + 3 * 0.1 is not 0.4; no reading lies beyond a limit by less than a billionth of their distance.
    slack = (high - low) * 1e-9
    return value < low - slack or value > high + slack


def _mean(standard: CheckStandard) -> MeanOfReadings:
    values = [reading.value for reading in standard.readings]
    low = high = reason = None
    if len(values) == 1:
        value, reason = values[0], ONE_READING
    else:
        value, low, high = mean_interval(values, COVERAGE)
        if min(values) == max(values):
            low, high, reason = None, None, ALL_EQUAL
    return MeanOfReadings(
        value=value,
        low=low,
        high=high,
        coverage=COVERAGE,
        readings=len(values),
        no_interval=reason,
        holds_centre=None if low is None or high is None else low <= standard.centre <= high,
        method="mean-of-check-readings",
    )


def _check(standard: CheckStandard) -> CheckResult:
    limits = limits_of(standard)
    return CheckResult(
        standard=standard.id,
        unit=standard.unit,
        limits=limits,
        readings=tuple(
            ReadingResult(date=reading.date, value=reading.value, state=reading_state(reading.value, limits))
            for reading in standard.readings
        ),
        mean=_mean(standard),
    )


def score_instrument(instrument: Instrument, catalogue: PublishedCatalogue) -> InstrumentResult:
    """Score one instrument. Withdrawn records are listed too: they were measured with it all the same."""
    tested = catalogue.oldest_first
    as_of = tested[-1].dates.performed if tested else max(calibration.date for calibration in instrument.calibrations)
    tests = catalogue.tests_by_instrument.get(instrument.id, ())
    bad = {calibration for calibration, _ in _out_of_tolerance(instrument)}
    newest = instrument.calibration_on(as_of)
    return InstrumentResult(
        instrument=instrument.id,
        as_of=as_of,
        state=None if newest is None else _state(newest, instrument, as_of),
        calibrations=tuple(
            CalibrationResult(
                date=calibration.date,
                due=calibration.due,
                certificate=calibration.certificate,
                state=_state(calibration, instrument, as_of),
                found=None if calibration.as_found is None else calibration.as_found.found,
                within_tolerance=None if calibration.as_found is None else calibration.as_found.within_tolerance,
                before=before,
                affected=tuple(
                    test.id
                    for test in tests
                    if calibration in bad and is_affected(test.dates.performed, before, calibration.date)
                ),
            )
            for calibration, before in _in_order(instrument)
        ),
        records=tuple(test.id for test in tests),
        checks=tuple(_check(standard) for standard in instrument.check_standards),
    )


def score_instruments(catalogue: PublishedCatalogue) -> dict[str, InstrumentResult]:
    """Score every instrument of a catalogue."""
    return {name: score_instrument(instrument, catalogue) for name, instrument in catalogue.instruments.items()}


def instrument_findings(test: PublishedTest, instruments: Mapping[str, Instrument]) -> list[Finding]:
    """Return what later calibrations and earlier check readings say about a record."""
    findings = []
    for role, name in test.instruments.by_role.items():
        for calibration, before in _out_of_tolerance(instruments[name]):
            if calibration.as_found is not None and is_affected(test.dates.performed, before, calibration.date):
                facts: dict[str, str | int | float] = {
                    "instrument": name,
                    "found": calibration.as_found.found,
                    "calibrated": calibration.date.isoformat(),
                    "calibrated_before": "never" if before is None else before.isoformat(),
                }
                findings.append(Finding(rule="calibration-out-of-tolerance", where=f"instruments.{role}", facts=facts))
        for standard in instruments[name].check_standards:
            findings += _check_findings(test, role, name, standard)
    return findings


def _check_findings(test: PublishedTest, role: str, instrument: str, standard: CheckStandard) -> list[Finding]:
    """Return a finding where the last reading by the end of the test's day lies beyond an action limit."""
    taken = [reading for reading in standard.readings if reading.date <= test.dates.performed]
    limits = limits_of(standard)
    if not taken or reading_state(taken[-1].value, limits) is not ReadingState.BEYOND_ACTION:
        return []
    facts: dict[str, str | int | float] = {
        "instrument": instrument,
        "check_standard": standard.id,
        "read": taken[-1].date.isoformat(),
        "value": taken[-1].value,
        "unit": standard.unit,
        "action_low": limits.action_low,
        "action_high": limits.action_high,
    }
    return [Finding(rule="check-standard-beyond-limits", where=f"instruments.{role}", facts=facts)]
