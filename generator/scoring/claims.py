"""A maker's claims, held against what was measured.

A claim of a least value is held against every figure that it is about: of the device as supplied, from records that
stand, in sessions that count and did a whole protocol. A claim of time on one charge is held against the times for
which the flow stayed at or above what is required, not against how long the blower turned. A claim is contradicted
where the whole 95 % interval of a figure lies below the claimed value, supported where the intervals of all figures
lie at or above it, and otherwise undecided: the guarded decision of JCGM 106:2012, as for requirements. A figure
without an interval decides nothing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.model.claim_result import ClaimOutcome, ClaimResult
from generator.model.claims import Claim
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.fit_result import Basis, FitResult
from generator.model.flow_result import FlowResult
from generator.model.published import PublishedCatalogue
from generator.model.result import Figure, Finding, Outcome, RecordResult
from generator.model.run_time_result import RunTimeResult
from generator.model.session import BLOWER_OFF
from generator.scoring.conformity import guarded_outcome

_NOT_MEASURABLE = "Nothing that is measured here could show whether this is so."
_BREATH = "The air flow follows the breath, so that a steady reading on a bench cannot decide it."
_OUTCOMES = {
    Outcome.MEETS: ClaimOutcome.SUPPORTED,
    Outcome.DOES_NOT_MEET: ClaimOutcome.CONTRADICTED,
    Outcome.UNDECIDED: ClaimOutcome.UNDECIDED,
}


@dataclass(frozen=True)
class _Measured:
    """A figure that a claim is about, and the record it stands in."""

    record: str
    figure: Figure
    value: float


def claim_results(
    device: Device, results: Mapping[str, RecordResult], catalogue: PublishedCatalogue
) -> tuple[ClaimResult, ...]:
    """Hold each claim of a device's maker against the results of its records that stand."""
    as_supplied = {
        name: result
        for name, result in results.items()
        if catalogue.device_tests[name].configuration.state is State.AS_SUPPLIED
    }
    return tuple(
        _claim_result(number, claim, device, as_supplied) for number, claim in enumerate(device.claims, start=1)
    )


def _claim_result(number: int, claim: Claim, device: Device, results: Mapping[str, RecordResult]) -> ClaimResult:
    means = claim.means
    if means is None:
        return _not_tested(number, None, None, None, _NOT_MEASURABLE)
    if means.supply_flow_at_least is not None:
        claimed, unit, what = means.supply_flow_at_least.to("L/min"), "L/min", "air flow"
        measured = _flows(results, means.setting)
        if device.breath_responsive:
            return _not_tested(number, claimed, unit, means.setting, _BREATH)
    elif means.run_time_at_least is not None:
        claimed, unit, what = means.run_time_at_least.to("min"), "min", "time above the required flow"
        measured = _run_times(results, means.setting)
    else:
        assert means.fit_factor_at_least is not None
        claimed, unit, what = means.fit_factor_at_least, "1", "overall fit factor"
        measured = _factors(results, means.setting)
    if not measured:
        setting = f" at the setting {means.setting}" if means.setting is not None else ""
        reason = f"No {what}{setting} of the device as supplied is on record."
        return _not_tested(number, claimed, unit, means.setting, reason)
    outcome, deciding = _decided(claimed, measured)
    return ClaimResult(
        number=number,
        claimed=claimed,
        unit=unit,
        setting=means.setting,
        outcome=outcome,
        figures=len(measured),
        record=deciding.record,
        figure=deciding.figure,
        reason=_reason(outcome, deciding.figure, unit),
    )


def _not_tested(number: int, claimed: float | None, unit: str | None, setting: str | None, reason: str) -> ClaimResult:
    return ClaimResult(
        number=number,
        claimed=claimed,
        unit=unit,
        setting=setting,
        outcome=ClaimOutcome.NOT_TESTED,
        figures=0,
        record=None,
        figure=None,
        reason=reason,
    )


def _flows(results: Mapping[str, RecordResult], setting: str | None) -> list[_Measured]:
    return [
        _Measured(record, run.mean, run.mean.value)
        for record, result in results.items()
        if isinstance(flow := result.topics.get("flow"), FlowResult)
        for run in flow.runs
        if run.mean.value is not None and setting in (None, run.setting)
    ]


def _run_times(results: Mapping[str, RecordResult], setting: str | None) -> list[_Measured]:
    return [
        _Measured(record, run_down.run_time, run_down.run_time.value)
        for record, result in results.items()
        if isinstance(run_time := result.topics.get("run_time"), RunTimeResult)
        for run_down in run_time.run_downs
        if run_down.run_time.value is not None and setting in (None, run_down.setting)
    ]


def _factors(results: Mapping[str, RecordResult], setting: str | None) -> list[_Measured]:
    return [
        _Measured(record, session.overall, session.overall.value)
        for record, result in results.items()
        if isinstance(fit := result.topics.get("fit"), FitResult)
        for session in fit.sessions
        if session.counted
        and session.basis is Basis.WHOLE_PROTOCOL
        and session.overall is not None
        and session.overall.value is not None
        and (session.blower == setting or (setting is None and session.blower != BLOWER_OFF))
    ]


def _decided(claimed: float, measured: Sequence[_Measured]) -> tuple[ClaimOutcome, _Measured]:
    """Return the outcome, and the lowest figure among those that bring it about."""
    lowest_first = sorted(measured, key=lambda item: (item.value, item.record, item.figure.key))
    outcomes = [_outcome(item.figure, claimed) for item in lowest_first]
    for outcome in (Outcome.DOES_NOT_MEET, Outcome.UNDECIDED):
        if outcome in outcomes:
            return _OUTCOMES[outcome], lowest_first[outcomes.index(outcome)]
    return ClaimOutcome.SUPPORTED, lowest_first[0]


def _outcome(figure: Figure, claimed: float) -> Outcome:
    assert figure.value is not None
    interval = figure.interval
    if interval is None:
        return Outcome.UNDECIDED
    low = -math.inf if interval.low is None else interval.low
    high = math.inf if interval.high is None else interval.high
    return guarded_outcome(low, high, claimed)


def _reason(outcome: ClaimOutcome, figure: Figure, unit: str) -> str:
    of_whom = " It holds for the wearers tested; its interval covers counting, not the next donning." * (unit == "1")
    if outcome is ClaimOutcome.CONTRADICTED:
        # Another figure may be lower and yet leave the claim undecided, where its interval is wider or it has none.
        return f"The whole 95 % interval of this figure lies below what is claimed.{of_whom}"
    if outcome is ClaimOutcome.SUPPORTED:
        return f"The 95 % intervals of all figures lie at or above what is claimed.{of_whom}"
    if figure.interval is None:
        return "A figure without an interval cannot decide it."
    return "What is claimed lies within the 95 % interval of a figure."


def claim_findings(device: Device, claims: Sequence[ClaimResult]) -> tuple[Finding, ...]:
    """Return a finding for each claim that a figure contradicts."""
    return tuple(
        Finding(
            rule="claim-contradicted",
            where=f"devices/{device.id}: claims[{claim.number - 1}]",
            facts={"claimed": claim.claimed, "measured": claim.figure.value, "record": claim.record},
        )
        for claim in claims
        if claim.outcome is ClaimOutcome.CONTRADICTED
        and claim.claimed is not None
        and claim.record is not None
        and claim.figure is not None
        and claim.figure.value is not None
    )
