"""What is said of filters: states, particles, resistances, outcomes."""

from __future__ import annotations

from generator.model.air import Aerosol
from generator.model.base import NotRecorded
from generator.model.filter_result import PressureDropResult
from generator.model.filter_test import FilterPenetration, FilterTest, MediaCharge, ParticleCharge
from generator.model.result import Outcome, Verdict
from generator.presenting.context import blower_words
from generator.presenting.digits import decimals_for_digits, quantity_text, rounded, value_text, with_unit
from generator.presenting.wording import count_text, recorded_text
from generator.scoring.face_velocity import face_velocity
from generator.scoring.filter_velocities import FACEPIECE_AREA, TEST_FLOW

PA_PER_MMH2O = 9.80665
"""Standard gravity, exact (CGPM 1901), with water taken as 1000 kg/m3."""
LEAST_NOTICED, MOST_NOTICED = 58.8, 74.5
"""Resistances to breathing in that people just notice, in Pa/(L/s): Kim JH and others 2015, PMC4499853, seen."""
WHAT_FACE_VELOCITY_IS = (
    "Face velocity is how fast air goes through the filter medium. The faster, the more small particles get through "
    "and the more pressure it costs."
)
EQUAL_ONLY = (
    "Quality factors can be compared only at equal face velocity and particle size. The class of a filter says nothing "
    "of the highest fit factor, and none is worked out from it."
)
LINEAR = (
    "Of masks in general the pressure was found to be linear in the flow from 5 to 85 L/min, with less than 2 % of the "
    "variation left over (Pushpawela and others 2023)."
)
FACEPIECE_SOURCE = "its area: a published study equates 105 L/min with 10 cm/s (seen)"
_OF = {
    "filter": "the filter alone",
    "hose": "the hose alone",
    "filter_and_hose": "filter and hose",
    "inhalation": "breathing in",
    "exhalation": "breathing out",
}
_PARTICLES = {Aerosol.ROOM_AIR: "the room's particles", Aerosol.SALT: "salt", Aerosol.OIL: "oil"}
_CHARGE = {
    ParticleCharge.NEUTRALISED: "neutralised",
    ParticleCharge.AS_IN_ROOM: "as in the room",
    ParticleCharge.NOT_KNOWN: "not known",
}
_MEDIUM = {
    MediaCharge.CHARGED: "yes, it catches particles by its own charge too",
    MediaCharge.NOT_CHARGED: "no",
    MediaCharge.NOT_KNOWN: "not known",
}
_OUTCOME = {
    Outcome.MEETS: "at or below the limit",
    Outcome.DOES_NOT_MEET: "above the limit",
    Outcome.UNDECIDED: "undecided",
    Outcome.NOT_APPLICABLE: "not compared",
}


def facepiece_velocity() -> str:
    """Return the face velocity through a filtering facepiece, for comparison."""
    velocity = face_velocity(TEST_FLOW, FACEPIECE_AREA)
    return with_unit(rounded(velocity, decimals_for_digits(velocity, 3)), "cm/s")


def medium_words(filter_test: FilterTest) -> str:
    """Say whether the medium is charged."""
    return _MEDIUM[filter_test.media_charge]


def particle_words(item: FilterPenetration) -> str:
    """Say which particles a penetration is of."""
    size = "" if isinstance(item.diameter, NotRecorded) else f" of {recorded_text(item.diameter)}"
    return f"{_PARTICLES[item.aerosol]}{size}"


def charge_words(item: FilterPenetration) -> str:
    """Say how the test particles were charged."""
    return _CHARGE[item.charge]


def flow_words(item: FilterPenetration) -> str:
    """Say at which flow a penetration was measured, and through how many filters."""
    flow = recorded_text(item.flow)
    through = "" if item.filters_at_once == 1 else f" through {count_text(item.filters_at_once, 'filter')} together"
    return f"breathing, {flow} on average{through}" if item.breathing else f"{flow}{through}"


def penetration_words(item: FilterPenetration) -> str:
    """Say what was measured, in a few words that stand at the head of a row."""
    return f"{item.filter.value} filter, {particle_words(item)}, {flow_words(item)}"


def drop_words(of: str, filter_state: str, blower: str | None) -> str:
    """Say what the pressure was lost in, in which state."""
    words = f"{_OF[of]}, {filter_state} filter"
    return words if blower is None else f"{words}, {blower_words(blower)}"


def outcome_words(verdict: Verdict) -> str:
    """Say how a resistance stands to its limit."""
    words = _OUTCOME[verdict.outcome]
    return f"{words}, a benchmark only" if verdict.benchmark_only and verdict.limit is not None else words


def limit_words(verdict: Verdict, blower: str | None) -> str:
    """Say the limit in both units and why the verdict is so."""
    if verdict.limit is None:
        return verdict.reason
    in_water = quantity_text(verdict.limit / PA_PER_MMH2O, "mmH2O", 3)
    stays_on = "" if blower is None else ", for devices that are kept on when the blower fails"
    return f"limit {quantity_text(verdict.limit, 'Pa', 3)} ({in_water}){stays_on}; {verdict.reason}"


def noticed_words(drop: PressureDropResult) -> str:
    """Say whether people notice such a resistance to breathing in; nothing where it is none."""
    if drop.of != "inhalation" or drop.resistance.value is None:
        return ""
    value, held_off = drop.resistance.value, " and the blower off" if drop.blower is not None else ""
    place = "below" if value < LEAST_NOTICED else "above" if value > MOST_NOTICED else "among"
    return (
        f"Breathing in with a {drop.filter} filter{held_off} meets {value_text(drop.resistance)}. That lies {place} "
        f"what people just notice: {LEAST_NOTICED:g} to {MOST_NOTICED:g} Pa/(L/s) (Kim and others 2015)."
    )


def above_limit_words(drop: PressureDropResult) -> str:
    """Say that breathing through a device costs more than a limit allows; nothing where it does not."""
    figure, verdict = drop.at_test_flow, drop.verdict
    if figure is None or verdict is None or verdict.limit is None or verdict.outcome is not Outcome.DOES_NOT_MEET:
        return ""
    held_off = " with its blower off" if drop.blower is not None else ""
    held = "the benchmark of" if verdict.benchmark_only else "the limit of"
    return (
        f"{_OF[drop.of].capitalize()} through it{held_off} costs {value_text(figure, verdict.limit)} at "
        f"{TEST_FLOW:g} L/min, more than {held} {quantity_text(verdict.limit, 'Pa', 3)} (42 CFR 84.172)."
    )
