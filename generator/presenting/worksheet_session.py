"""The page of a worksheet that one session is written on: steps with their times, boxes for readings."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.base import NotRecorded
from generator.model.device import Fitting
from generator.model.instrument import Instrument
from generator.model.planned_test import PlannedSession, PlannedTest, ReadingsForm
from generator.model.reference import AmbientRule, Principle, Protocol
from generator.model.session import BLOWER_OFF
from generator.presenting.digits import quantity_text, rounded
from generator.presenting.views import Fact
from generator.presenting.wording import recorded_text
from generator.presenting.worksheet_views import Check, SessionSheet, StepRow

CONDITIONS = ("Day", "Time, from", "Temperature", "Pressure (not reduced)", "Humidity")
"""Boxes that every page has: what a reading means depends on them."""
_INSIDE = {
    ReadingsForm.COUNTS: ("Particles counted inside",),
    ReadingsForm.CONCENTRATIONS: ("Inside, with unit",),
    ReadingsForm.FACTORS: ("Factor as shown",),
    ReadingsForm.LOG: ("Begun, log’s clock", "Ended, log’s clock"),
}
_OUTSIDE = "Outside, with unit"
_MINUTE_S = 60


def session_sheet(
    session: PlannedSession, plan: PlannedTest, protocol: Protocol, counter: Instrument | None
) -> SessionSheet:
    """Return the page of one session."""
    blower = [f"blower {session.blower}"] if session.blower is not None else []
    heading = ["Session " + session.id, f"wearer {session.wearer}", f"donning {session.donning}", *blower]
    has_outside = _has_outside(plan.readings, protocol)
    return SessionSheet(
        heading=" · ".join(heading),
        facts=(Fact("Protocol", protocol.title), Fact("Exercises take", _minutes(_total(protocol)))),
        conditions=(*CONDITIONS, "Filter, size"),
        checks=in_pairs(_checks(session, plan, protocol, counter)),
        steps_heading=_STEPS_OF_LOG if plan.readings is ReadingsForm.LOG else "Steps",
        steps_note=_steps_note(plan.readings, protocol),
        readings=(*((_OUTSIDE,) if has_outside else ()), *_INSIDE[plan.readings]),
        steps=tuple(_steps(plan.readings, protocol)),
        stop=_stop(session, plan, protocol),
        then=_THEN,
        afterwards=in_pairs(_AFTERWARDS),
    )


_STEPS_OF_LOG = "Steps, to be found again in the log"
_AFTERWARDS = (
    Check(("completed", "aborted", "voided"), ("why it was aborted or voided",)),
    Check(("adjusted after the first exercise: then it is voided",), ("what",)),
    Check(("the wearer was troubled or harmed",), ("how, in words that do not tell who it was",)),
    Check(("something was done otherwise than the protocol says",), ("what",)),
)


def in_pairs(checks: Sequence[Check]) -> tuple[tuple[Check, ...], ...]:
    """Return checks two to a row; where one is left over, nothing stands beside it."""
    even = [*checks, *([Check(())] if len(checks) % 2 else [])]
    return tuple(zip(even[::2], even[1::2], strict=True))


def _checks(session: PlannedSession, plan: PlannedTest, protocol: Protocol, counter: Instrument | None) -> list[Check]:
    checks = [Check(("wearer agrees, feels well, knows how to end it",))]
    if protocol.principle is Principle.PARTICLES:
        checks += [
            Check(("zero check: filter on the counter’s inlet",), ("particles", "seconds")),
            Check(("enough particles outside",), (f"outside, with unit{_advised(counter)}",)),
            Check(("sampling line tight, not kinked; probe in place",)),
        ]
        if plan.readings in (ReadingsForm.COUNTS, ReadingsForm.CONCENTRATIONS):
            checks.append(Check(("sampling times set",), ("inside, s", "outside, s")))
    if plan.kind.fitting is not Fitting.LOOSE:
        checks.append(Check(("nothing between edge and skin: hair, strap, glasses",), ("what, if anything",)))
    if session.blower == BLOWER_OFF:
        checks.append(Check(("blower off: longest time agreed, somebody beside the wearer",), ("seconds",)))
    elif session.blower is not None:
        checks.append(Check((f"blower runs at {session.blower}; state of the battery",), ("charge or volts",)))
    return checks


def _advised(counter: Instrument | None) -> str:
    least = counter.counter.ambient_minimum if counter is not None and counter.counter is not None else None
    if least is None or isinstance(least, NotRecorded):
        return ""
    return f"; its maker advises at least {recorded_text(least)}"


def _has_outside(form: ReadingsForm, protocol: Protocol) -> bool:
    return form in (ReadingsForm.COUNTS, ReadingsForm.CONCENTRATIONS) and protocol.ambient is not AmbientRule.NONE


def _steps_note(form: ReadingsForm, protocol: Protocol) -> str:
    starts = "Starts: as if nothing came between exercises."
    if form is ReadingsForm.LOG:
        return f"Start the log before the first step and let it run to the end. {starts}"
    if form is ReadingsForm.FACTORS or protocol.ambient is AmbientRule.NONE:
        return f"Where only “more than” a number is shown, write that down too. {starts}"
    if protocol.ambient is AmbientRule.DURING_EACH_EXERCISE:
        return f"The outside is counted during each exercise. {starts}"
    return f"Zero is written as 0, a missed reading as a dash. {starts}"


def _steps(form: ReadingsForm, protocol: Protocol) -> list[StepRow]:
    """Return the exercises in their order, with the samples of outside air where the protocol takes them."""
    outside, inside = _has_outside(form, protocol), (True,) * len(_INSIDE[form])
    apart = protocol.ambient in (AmbientRule.AROUND_EACH_EXERCISE, AmbientRule.FIRST_AND_LAST)
    sample_apart = StepRow("", "outside air", "", "", ((True,) if outside else ()) + _inside_of_sample(form))
    sampled_apart = apart and (outside or form is ReadingsForm.LOG)
    rows, seconds = ([sample_apart] if sampled_apart else []), 0.0
    for number, exercise in enumerate(protocol.exercises, start=1):
        duration = exercise.duration.to("s")
        during = ((protocol.ambient is AmbientRule.DURING_EACH_EXERCISE,) if outside else ()) + inside
        what = exercise.name if exercise.counted else f"{exercise.name} (does not count)"
        rows.append(StepRow(str(number), what, quantity_text(duration, "s"), _clock(seconds), during))
        seconds += duration
        if sampled_apart and protocol.ambient is AmbientRule.AROUND_EACH_EXERCISE:
            rows.append(sample_apart)
    if sampled_apart and protocol.ambient is AmbientRule.FIRST_AND_LAST:
        rows.append(sample_apart)
    return rows


def _inside_of_sample(form: ReadingsForm) -> tuple[bool, ...]:
    """Say which columns of the inside a sample of outside air is written in: in a log, when it was."""
    return tuple(form is ReadingsForm.LOG for _ in _INSIDE[form])


def _total(protocol: Protocol) -> float:
    return sum(exercise.duration.to("s") for exercise in protocol.exercises)


def _clock(seconds: float) -> str:
    """Write a time from the start as minutes and seconds."""
    minutes, rest = divmod(int(rounded(seconds, 0).replace("\N{NARROW NO-BREAK SPACE}", "")), _MINUTE_S)
    return f"{minutes}:{rest:02d}"


def _minutes(seconds: float) -> str:
    return f"{_clock(seconds)} (min:s)"


_THEN = (
    "Then the device comes off where the air is clean, and the wearer is seen to first. The session stays on record, "
    "with its reason."
)
_STOP = (
    "the wearer asks for it, for whatever reason",
    "dizziness, pain, shortness of breath, nausea, fear, or anything else that troubles",
)
_STOP_WITH_BLOWER = "an alarm sounds, the battery is at its end, or the blower slows or stops unasked"
_STOP_IN_HOOD = "the carbon dioxide inside, where it is read, is at the limit that was agreed"


def _stop(session: PlannedSession, plan: PlannedTest, protocol: Protocol) -> tuple[str, ...]:
    peaks = tuple(
        f"the peak inside is above {quantity_text(limit.percent, '%')} of the outside, as the protocol has it"
        for limit in protocol.peak_limits
        if plan.kind in limit.kinds
    )
    time = ("the time that was agreed for the blower off is over",) if session.blower == BLOWER_OFF else ()
    powered = (_STOP_WITH_BLOWER, _STOP_IN_HOOD) if plan.kind.powered else ()
    return (*_STOP, *powered, *time, *peaks)
