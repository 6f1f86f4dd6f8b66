"""Which requirement a figure is held against, and what the verdict is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.configuration import State
from generator.model.device import Device, Fitting
from generator.model.instrument import InstrumentKind
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.reference import Bound, Criterion, CriterionQuantity, DecisionRule, Principle
from generator.model.result import Figure, Outcome, Verdict
from generator.model.session import BLOWER_OFF
from generator.scoring.conformity import (
    guarded_outcome,
    plain_outcome,
    probability_of_conformity,
    ratio_to_requirement,
)
from generator.scoring.samples import particle_counter

LEVEL_UNITS = ("dB(A)",)
NO_PASS_LEVEL = "no fit-test pass level applies: "
BREATH_RESPONSIVE = (
    "not scored against a supply flow requirement: the device follows the wearer's breath, and the requirement is for "
    "a constant flow"
)
_GUARDED_REASONS = {
    Outcome.MEETS: "the whole interval lies at or above the limit",
    Outcome.DOES_NOT_MEET: "the whole interval lies below the limit",
    Outcome.UNDECIDED: "the limit lies within the interval",
}
_PLAIN_REASONS = {
    Outcome.MEETS: "the figure itself is at or above the limit, compared without its uncertainty",
    Outcome.DOES_NOT_MEET: "the figure itself is below the limit, compared without its uncertainty",
    Outcome.UNDECIDED: "the figure is known only as a lower bound, and that bound is below the limit",
}
_AT_MOST_REASONS = {
    Outcome.MEETS: "the whole interval lies at or below the limit",
    Outcome.DOES_NOT_MEET: "the whole interval lies above the limit",
    Outcome.UNDECIDED: "the limit lies within the interval",
}
_UPPER_BOUND_BELOW = "even the highest value that the instrument's ceiling leaves open is below the limit"


@dataclass(frozen=True)
class Spread:
    """The combined standard uncertainty of a figure and its effective degrees of freedom (None: infinite)."""

    standard_uncertainty: float
    degrees: float | None


def fit_verdict(
    session: PublishedSession, overall: Figure, complete: bool, test: PublishedTest, catalogue: PublishedCatalogue
) -> Verdict:
    """Return the verdict on a completed session: a pass level only where method, kind and state are its own."""
    key, device = f"fit.{session.id}.verdict", catalogue.devices[test.device]
    of_kind = criteria_for(CriterionQuantity.OVERALL_FIT_FACTOR, device, catalogue)
    accepting = [criterion for criterion in of_kind if session.protocol in criterion.protocols]
    reason = _why_no_pass_level(session, complete, device, of_kind, accepting, test, catalogue)
    if reason is not None:
        return not_applicable(key, overall, NO_PASS_LEVEL + reason)
    return verdict_on(key, overall, strictest(accepting))


def flow_verdict(
    run: str, mean: Figure, spread: Spread | None, device: Device, catalogue: PublishedCatalogue
) -> Verdict:
    """Return the verdict on the supply flow of one run."""
    key, criterion = f"flow.{run}.verdict", flow_criterion(device, catalogue)
    if device.breath_responsive:
        return not_applicable(key, mean, BREATH_RESPONSIVE)
    if criterion is None:
        return not_applicable(key, mean, "no supply flow requirement is on record for this kind of device")
    return verdict_on(key, mean, criterion, spread, benchmark_only=device.home_built)


def flow_criterion(device: Device, catalogue: PublishedCatalogue) -> Criterion | None:
    """Return the requirement that a device's flow is held against: the strictest for its kind."""
    criteria = criteria_for(CriterionQuantity.SUPPLY_FLOW, device, catalogue)
    return strictest(criteria) if criteria else None


def criteria_for(quantity: CriterionQuantity, device: Device, catalogue: PublishedCatalogue) -> list[Criterion]:
    """Return the criteria about a quantity that a device's kind is held against."""
    return [
        criterion
        for criterion in catalogue.criteria.values()
        if criterion.quantity is quantity and device.kind in criterion.kinds
    ]


def strictest(criteria: Sequence[Criterion]) -> Criterion:
    """Return the strictest of criteria about one quantity: the highest least value, or the lowest limit from above."""
    strictest_of = min if criteria[0].bound is Bound.AT_MOST else max
    return strictest_of(criteria, key=lambda criterion: (criterion.limit, criterion.id))


def _why_no_pass_level(
    session: PublishedSession,
    complete: bool,
    device: Device,
    of_kind: Sequence[Criterion],
    accepting: Sequence[Criterion],
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> str | None:
    counter = particle_counter(test, catalogue)
    by_particles = catalogue.protocols[session.protocol].principle is Principle.PARTICLES
    condensation = counter is not None and counter.kind is InstrumentKind.CONDENSATION_PARTICLE_COUNTER
    if device.kind.fitting in (Fitting.LOOSE, Fitting.NONE):
        return "pass levels belong to tight-fitting facepieces"
    if device.home_built:
        return "the device is home-built, and pass levels belong to facepieces that can be approved for use at work"
    if test.configuration.state is State.MODIFIED:
        return "the facepiece was modified, and pass levels belong to facepieces as their maker supplies them"
    if not of_kind:
        return "none is on record for this kind of device"
    if not accepting:
        return "the protocol is not one that a pass level is bound to"
    if device.kind.powered and session.blower != BLOWER_OFF:
        return "powered facepieces are fit tested with the blower off, and it was running"
    if by_particles and not condensation:
        return "the accepted protocols count particles of the room's air with a condensation particle counter"
    if session.overall_only:
        return "only an overall factor is on record, and not whether every exercise was done"
    if session.partial is not None:
        return "only a part of the protocol was done"
    if not complete:
        return "not every exercise of the protocol was measured"
    return None


def not_applicable(key: str, figure: Figure, reason: str) -> Verdict:
    """Return the verdict that none applies, with its reason."""
    return Verdict(key=key, figure=figure.key, criterion=None, outcome=Outcome.NOT_APPLICABLE, rule=None, reason=reason)


def verdict_on(
    key: str, figure: Figure, criterion: Criterion, spread: Spread | None = None, benchmark_only: bool = False
) -> Verdict:
    """Hold a figure against a criterion by the criterion's own rule; `spread` gives the probability of conformity."""
    outcome, reason = _decide(figure, criterion)
    probability = None
    # By a certificate in percent, readings of zero have no uncertainty: the figure decides, without a probability.
    if spread is not None and spread.standard_uncertainty == 0:
        spread = None
    if criterion.decision_rule is DecisionRule.GUARDED and figure.value is not None and spread is not None:
        probability = probability_of_conformity(
            figure.value, spread.standard_uncertainty, criterion.limit, spread.degrees
        )
        if criterion.bound is Bound.AT_MOST:
            probability = 1 - probability
    return Verdict(
        key=key,
        figure=figure.key,
        criterion=criterion.id,
        outcome=outcome,
        rule=criterion.decision_rule.value,
        benchmark_only=benchmark_only,
        limit=criterion.limit,
        unit=criterion.unit,
        ratio=_ratio(figure, criterion),
        probability_of_conformity=probability,
        reason=reason,
    )


def _ratio(figure: Figure, criterion: Criterion) -> float | None:
    """Return a figure as a share of its limit; decibels are logarithms, of which a ratio says nothing."""
    if figure.value is None or criterion.unit in LEVEL_UNITS:
        return None
    return ratio_to_requirement(figure.value, criterion.limit)


def _decide(figure: Figure, criterion: Criterion) -> tuple[Outcome, str]:
    if figure.value is None:
        return Outcome.UNDECIDED, f"there is no figure to decide on: {figure.not_scored}"
    if criterion.decision_rule is DecisionRule.PLAIN:
        if figure.other_bound is not None and figure.other_bound < criterion.limit:
            return Outcome.DOES_NOT_MEET, _UPPER_BOUND_BELOW
        outcome = plain_outcome(figure.value, figure.relation, criterion.limit)
        return outcome, _PLAIN_REASONS[outcome]
    if figure.interval is None:
        return Outcome.UNDECIDED, f"there is no interval to decide with: {figure.no_interval}"
    low, high = figure.interval.low, figure.interval.high
    if criterion.bound is Bound.AT_MOST:
        # At most L is at least -L of the opposite number.
        outcome = guarded_outcome(
            -math.inf if high is None else -high, math.inf if low is None else -low, -criterion.limit
        )
        return outcome, _AT_MOST_REASONS[outcome]
    outcome = guarded_outcome(-math.inf if low is None else low, math.inf if high is None else high, criterion.limit)
    return outcome, _GUARDED_REASONS[outcome]
