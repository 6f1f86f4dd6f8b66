"""What of a record contradicts itself, or another one, as it does after a slip of the hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from generator.model.base import NotRecorded
from generator.model.device_test import DeviceTest
from generator.model.flow_run import FlowReadings
from generator.model.instrument import Instrument
from generator.model.quantity import Quantity
from generator.scoring.plausible_values import Steps

APART = 5.0
"""How many times the median of the others a reading is, or is of it, from where on it stands apart (own rule)."""
LEAST_COMPARED = 3
"""Readings of which one can stand apart, and that are no chance when another part has the very same (own rule)."""
ALIKE = 6
"""Readings of a flow that are alike to the last digit from where on it is noted (own rule)."""
LONGEST_BETWEEN_DAYS = 3 * 366
"""Days between two days of a test from where on one of them may have a wrong year (own rule). [day]"""
LONGEST_UNTIL_DUE = 5 * 366
"""Days from a calibration to its due day from where on one of them may have a wrong year (own rule). [day]"""

Facts = Mapping[str, str | int | float]


@dataclass(frozen=True)
class Slip:
    """What was found, where, and by which rule."""

    rule: str
    steps: Steps
    facts: Facts


def slips_of_test(test: DeviceTest) -> Iterator[Slip]:
    """Return what of a test record contradicts itself."""
    for place, run in enumerate(test.flow):
        yield from _of_readings(("flow", place, "readings"), run.readings)
    for place, exhaust in enumerate(test.exhaust):
        yield from _of_readings(("exhaust", place, "readings"), exhaust.readings)
    yield from _ambient_apart(test)
    for place, reading in enumerate(test.burden.noise if test.burden is not None else ()):
        off, on = reading.background, reading.level
        if not isinstance(off, NotRecorded) and off.to("dB(A)") > on.to("dB(A)"):
            facts: Facts = {"background": str(off), "level": str(on)}
            yield Slip("background-above-level", ("burden", "noise", place, "background"), facts)
    days = test.dates
    for (before, first), (after, then) in pairwise(
        (("received", days.received), ("performed", days.performed), ("issued", days.issued))
    ):
        if (then - first).days > LONGEST_BETWEEN_DAYS:
            facts = {"before": before, "first": first.isoformat(), "after": after, "then": then.isoformat()}
            yield Slip("days-far-apart", ("dates", after), facts)


def slips_of_instrument(instrument: Instrument) -> Iterator[Slip]:
    """Return what of an instrument's record contradicts itself."""
    for place, calibration in enumerate(instrument.calibrations):
        if (calibration.due - calibration.date).days > LONGEST_UNTIL_DUE:
            facts: Facts = {
                "before": "date",
                "first": calibration.date.isoformat(),
                "after": "due",
                "then": calibration.due.isoformat(),
            }
            yield Slip("days-far-apart", ("calibrations", place, "due"), facts)


def copied_readings(tests: Iterable[DeviceTest]) -> Iterator[tuple[str, Slip]]:
    """Return the sessions and flow runs whose readings another one has to the last digit, by the record's id.

    Of several the first, by the order of the records, is the one that the others are told to be like.
    """
    seen: dict[tuple[str, ...], str] = {}
    for test in tests:
        for steps, name, readings in _sets_of_readings(test):
            if len(readings) < LEAST_COMPARED or len(set(readings)) == 1:
                continue
            other = seen.setdefault(readings, f"{test.id}, {name}")
            if other != f"{test.id}, {name}":
                own = other.removeprefix(f"{test.id}, ")
                yield test.id, Slip("readings-copied", steps, {"other": own, "count": len(readings)})


def _sets_of_readings(test: DeviceTest) -> Iterator[tuple[Steps, str, tuple[str, ...]]]:
    for place, session in enumerate(test.fit):
        readings = tuple(
            f"{reading.exercise} {reading.in_mask} {reading.in_mask_count} {reading.fit_factor}"
            for reading in session.exercises
            # Zeros and bounds recur where a device does well.
            if reading.fit_factor_at_least is None and reading.in_mask_count != 0
        )
        yield ("fit", place, "exercises"), f"fit[{session.id}]", readings
    for place, run in enumerate(test.flow):
        values = tuple(f"{value} {run.readings.unit}" for value in run.readings.values)
        yield ("flow", place, "readings"), f"flow[{run.id}]", values


def _of_readings(steps: Steps, readings: FlowReadings) -> Iterator[Slip]:
    values = readings.values
    if len(values) >= ALIKE and len(set(values)) == 1:
        facts: Facts = {"reading": values[0], "unit": readings.unit, "count": len(values)}
        yield Slip("readings-all-alike", (*steps, "values"), facts)
    for place, others in _apart(values):
        facts = {"reading": values[place], "unit": readings.unit, "median": others, "count": len(values)}
        yield Slip("reading-apart", (*steps, "values", place), facts)


def _ambient_apart(test: DeviceTest) -> Iterator[Slip]:
    for place, session in enumerate(test.fit):
        keys = ("ambient_before", "ambient_during", "ambient_after")
        samples: list[tuple[Steps, Quantity]] = [
            (("fit", place, "exercises", number, key), value)
            for number, reading in enumerate(session.exercises)
            for key in keys
            if (value := getattr(reading, key)) is not None
        ]
        numbers = tuple(value.to("/cm3") for _, value in samples)
        for which, others in _apart(numbers):
            steps, value = samples[which]
            facts: Facts = {
                "reading": value.number,
                "unit": value.unit,
                "median": Quantity(number=others, unit="/cm3").to(value.unit),
                "count": len(numbers),
            }
            yield Slip("reading-apart", steps, facts)


def _apart(values: tuple[float, ...]) -> Iterator[tuple[int, float]]:
    """Yield the place of each value that stands apart from the median of the others, and that median."""
    if len(values) < LEAST_COMPARED:
        return
    for place, value in enumerate(values):
        others = median(values[:place] + values[place + 1 :])
        if others > 0 and not others / APART < value < others * APART:
            yield place, others
