"""Criteria, protocols, methods and caution rules: the published ones, and a reviewer's own."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Id, LongText, Text
from generator.model.configuration import LocalName
from generator.model.device import DeviceKind
from generator.model.flow_run import FilterState
from generator.model.instrument import ReferenceConditions
from generator.model.quantity import Duration, quantity_problem


class SourceStatus(StrEnum):
    """How a fact is known."""

    SEEN = "seen"
    """The document itself was read."""
    SEEN_IN_SECONDARY = "seen_in_secondary"
    """Another document that quotes it was read."""
    FROM_MEMORY = "from_memory"
    """Written down without looking it up."""
    COMMON_PRACTICE = "common_practice"
    """Done so by many, without a document."""
    OWN = "own"
    """The reviewer's own."""


class Source(Frozen):
    """Where a fact comes from."""

    document: Text
    """The document."""
    edition: Text
    """Its edition or year."""
    clause: Text
    """Where in it."""
    status: SourceStatus
    """How well the fact is known."""
    note: Text | None = None
    """What was seen and what was not."""


class ProtocolExercise(Frozen):
    """One movement of a protocol."""

    id: LocalName
    """The name that records use."""
    name: Text
    """The name that readers see."""
    duration: Duration
    """How long it takes."""
    counted: bool
    """Whether it counts towards the overall fit factor."""


class AmbientRule(StrEnum):
    """Which ambient samples an exercise is compared with."""

    AROUND_EACH_EXERCISE = "around_each_exercise"
    """Before and after each exercise."""
    FIRST_AND_LAST = "first_and_last"
    """Before the first exercise and after the last."""
    DURING_EACH_EXERCISE = "during_each_exercise"
    """All the time, by a second channel or counter."""
    NONE = "none"
    """None: the instrument gives factors."""


class Principle(StrEnum):
    """What a protocol's factors are made from."""

    PARTICLES = "particles"
    """Particles, counted outside and inside."""
    CONTROLLED_NEGATIVE_PRESSURE = "controlled_negative_pressure"
    """The air that leaks in while the pressure inside is held below that outside."""


class PeakLimit(Frozen):
    """The peak penetration at which a test is to be stopped, for some kinds of device."""

    kinds: Annotated[tuple[DeviceKind, ...], Field(min_length=1)]
    """The kinds of device that it is for."""
    percent: Annotated[float, Field(gt=0, le=100, examples=[5, 10])]
    """The highest peak penetration that is allowed, in percent."""


class Protocol(Frozen):
    """A list of exercises and a rule for the ambient value; published, or the reviewer's own."""

    id: Id
    """The file name without its ending."""
    title: Text
    """The name that readers see."""
    source: Source
    """Where the protocol comes from."""
    ambient: AmbientRule
    """Where ambient samples are taken."""
    exercises: Annotated[tuple[ProtocolExercise, ...], Field(min_length=1)]
    """The exercises in their order."""
    principle: Principle = Principle.PARTICLES
    """What the factors are made from: particles counted, or the air that leaks in at a controlled negative pressure."""
    generated_aerosol: bool = False
    """Whether it is done in an aerosol that is sprayed for it."""
    peak_limits: tuple[PeakLimit, ...] = ()
    """Peak penetrations at which it is to be stopped."""


class CriterionQuantity(StrEnum):
    """The figure a criterion is about."""

    OVERALL_FIT_FACTOR = "overall_fit_factor"
    """The overall fit factor of a session."""
    SUPPLY_FLOW = "supply_flow"
    """The air flow that a blower delivers."""
    INHALATION_RESISTANCE = "inhalation_resistance"
    """The pressure lost when air is drawn through the device."""
    EXHALATION_RESISTANCE = "exhalation_resistance"
    """The pressure lost when air is pushed through the device."""
    NOISE = "noise"
    """The sound level at the ear."""
    SPEECH = "speech"
    """The words understood with the device as a share of those understood without it."""


class Bound(StrEnum):
    """On which side of the limit a figure must lie."""

    AT_LEAST = "at_least"
    """At or above the limit."""
    AT_MOST = "at_most"
    """At or below the limit."""


class DecisionRule(StrEnum):
    """How uncertainty enters the verdict."""

    GUARDED = "guarded"
    """The whole 95 % interval must lie on the right side of the limit."""
    PLAIN = "plain"
    """The figure itself is compared, as the regulation does."""


class Criterion(Frozen):
    """One published requirement, bound to its method and device kinds."""

    id: Id
    """The file name without its ending."""
    title: Text
    """The name that readers see."""
    label: Text
    """A few words that name the level where it stands on a scale."""
    quantity: CriterionQuantity
    """The figure that it is about."""
    limit: Annotated[float, Field(gt=0, examples=[100, 170])]
    """The limit."""
    unit: Annotated[str, StringConstraints(pattern=r"^(1|L/min|Pa|dB\(A\))$")]
    """The limit's unit."""
    bound: Bound = Bound.AT_LEAST
    """On which side of the limit the figure must lie; `at_most` is always decided by the guarded rule."""
    filter: FilterState | None = None
    """For a resistance: the state of the filter that it is for; without it, either."""
    conditions: Text | None = None
    """The conditions that its method states, such as the temperature and pressure that a flow is meant at."""
    reference_air: ReferenceConditions | None = None
    """For a flow: the air whose volume the limit is of, where the clause states it; a flow is compared in that air."""
    decision_rule: DecisionRule
    """How uncertainty enters the verdict."""
    kinds: Annotated[tuple[DeviceKind, ...], Field(min_length=1)]
    """The kinds of device that it is for."""
    protocols: tuple[Id, ...] = ()
    """The protocols that it is bound to; none for a flow."""
    meaning: LongText
    """What it says, and what it does not say, for the reader."""
    sources: Annotated[tuple[Source, ...], Field(min_length=1)]
    """Where it comes from."""

    @model_validator(mode="after")
    def _upper_limits_are_guarded(self) -> Criterion:
        if self.bound is Bound.AT_MOST and self.decision_rule is not DecisionRule.GUARDED:
            raise quantity_problem(
                "upper-limit-not-guarded",
                f"`decision_rule: {self.decision_rule.value}` with `bound: at_most`",
                "`decision_rule: guarded`",
                "Correct one of the two",
            )
        return self


class ScaleLandmark(Frozen):
    """A named span of the fit factor scale that helps a reader to place a value; not a requirement."""

    id: Id
    label: Text
    low: Annotated[float, Field(gt=0)]
    high: Annotated[float, Field(gt=0)]
    source: Source


class Symbol(Frozen):
    """One symbol of an equation."""

    symbol: Text
    meaning: Text
    unit: Text


Scalar = bool | int | float | str | None
CheckInput = Scalar | tuple[Scalar, ...]


class CheckValue(Frozen):
    """One value from outside the project that a method must reproduce."""

    inputs: dict[str, CheckInput]
    expected: CheckInput
    relative_tolerance: Annotated[float, Field(gt=0, le=0.05)]
    source: Text


class MethodSubject(StrEnum):
    """What a method is about; the list of methods is ordered by it."""

    PARTICLES = "particles"
    COUNTING = "counting"
    LOGS = "logs"
    WEARERS = "wearers"
    DONNINGS = "donnings"
    SHARES = "shares"
    BOUNDS = "bounds"
    DIFFERENCES = "differences"
    OFF_TIME = "off_time"
    FLOW = "flow"
    AIR_BALANCE = "air_balance"
    BREATHING = "breathing"
    GAS = "gas"
    FILTER = "filter"
    BLOWER = "blower"
    RUN_TIME = "run_time"
    BURDEN = "burden"
    VERDICTS = "verdicts"
    INSTRUMENTS = "instruments"


class Method(Frozen):
    """How a figure is computed. `function` names it below generator.scoring as module:function."""

    id: Id
    title: Text
    subject: MethodSubject
    purpose: LongText
    equation: Text
    symbols: Annotated[tuple[Symbol, ...], Field(min_length=1)]
    range: LongText
    sources: Annotated[tuple[Source, ...], Field(min_length=1)]
    function: Annotated[str, StringConstraints(pattern=r"^[a-z_.]+:[a-z_]+$")]
    check_values: Annotated[tuple[CheckValue, ...], Field(min_length=1)]


class CautionRule(Frozen):
    """A box a reader sees when a finding is raised; rule and words are data."""

    id: Id
    when: Id | Literal["always"]
    condition: Text
    """When that is, in words."""
    severity: Annotated[int, Field(ge=1, le=9)]
    heading: Text
    text: LongText
    source: Text
