"""Filter: how fast air goes through it, what it lets through, and what breathing through it costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.model.device import Device
from generator.model.filter_result import (
    FilterResult,
    FilterSummary,
    PastSealResult,
    PenetrationResult,
)
from generator.model.filter_test import FilterPenetration, FilterTest
from generator.model.flow_result import FlowRunResult
from generator.model.pressure_flow import DropOf, PressureDrops
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, Outcome, TopicResult
from generator.scoring.filter_and_seal import (
    above_filter_findings,
    fitting_sessions,
    highest_figure,
    past_seal,
    why_other_particles,
)
from generator.scoring.filter_drops import drop_result, resistance_findings
from generator.scoring.filter_loading_figures import loading_result
from generator.scoring.filter_penetrations import (
    measured_velocity,
    other_flow,
    other_flow_figure,
    quality_figure,
    together_figure,
)
from generator.scoring.filter_velocities import area_input, face_velocities, required_flow
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.topics import fit

ORDER = 60
_OF_THE_HOSE = (DropOf.HOSE, DropOf.FILTER_AND_HOSE)
"""Drops that say nothing of the filter alone nor of breathing through the device."""


def own_drops(test: PublishedTest) -> tuple[PressureDrops, ...]:
    """Return a record's pressure drops of the filter, and of the whole device, as they were tested."""
    return tuple(item for item in test.pressure_drops if item.of not in _OF_THE_HOSE and not item.alternative)


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> FilterResult | None:
    """Score what a record says of the filter, or return None where it says nothing, not even the area."""
    device = catalogue.devices[test.device]
    if test.filter_test is None and not test.pressure_drops and area_input(test, device) is None:
        return None
    runs, drops = flow_run_results(test, catalogue), own_drops(test)
    # Where only a hose was measured, nothing is missed of the filter.
    of_filter = test.filter_test is not None or bool(drops) or area_input(test, device) is not None
    scored, findings = _penetrations(test, runs, device, catalogue)
    resistances = tuple(drop_result(item, device, catalogue) for item in drops)
    loadings = test.filter_test.loading if test.filter_test is not None else ()
    required = required_flow(device, catalogue)
    result = FilterResult(
        figures=(),
        verdicts=tuple(item.verdict for item in resistances if item.verdict is not None),
        findings=(*findings, *(finding for item in resistances for finding in resistance_findings(item))),
        velocities=face_velocities(test, runs, device, catalogue) if of_filter else (),
        penetrations=tuple(item for item, _ in scored),
        past_seal=_each_session_once(share for _, shares in scored for share in shares),
        drops=resistances,
        loading=tuple(loading_result(item, catalogue.series[item.log.file], required) for item in loadings),
    )
    figures = tuple(_figures(result))
    return result.model_copy(update={"figures": figures}) if figures or test.pressure_drops else None


def _penetrations(
    test: PublishedTest, runs: tuple[FlowRunResult, ...], device: Device, catalogue: PublishedCatalogue
) -> tuple[list[tuple[PenetrationResult, list[PastSealResult]]], list[Finding]]:
    filter_test = test.filter_test or FilterTest()
    # Sessions are scored anew only where a penetration is of the particles that they count.
    wanted = any(why_other_particles(item, test) is None for item in filter_test.penetrations)
    of_fit = fit.score_record(test, catalogue) if wanted else None
    scored, findings = [], []
    for item in filter_test.penetrations:
        held, why_none = (
            fitting_sessions(item, of_fit, runs, test, device)
            if of_fit is not None
            else ([], why_other_particles(item, test) or "the record has no fit sessions")
        )
        highest = highest_figure(item, held, why_none)
        findings += above_filter_findings(item, held, highest)
        result = _penetration(item, highest, test, runs, device)
        scored.append((result, [past_seal(item, session) for session in held]))
    return scored, findings


def _penetration(
    item: FilterPenetration, highest: Figure, test: PublishedTest, runs: tuple[FlowRunResult, ...], device: Device
) -> PenetrationResult:
    other = other_flow(item, runs, device)
    assert test.filter_test is not None
    return PenetrationResult(
        penetration=item.id,
        velocity=measured_velocity(item, area_input(test, device), device),
        together=together_figure(item, device),
        quality=quality_figure(item, test),
        other_flow=other.words if other is not None else None,
        at_other_flow=other_flow_figure(item, other, test.filter_test.media_charge),
        highest_fit_factor=highest,
    )


def _each_session_once(shares: Iterator[PastSealResult]) -> tuple[PastSealResult, ...]:
    """Return one share for each session: that of the first penetration on record that holds for it."""
    first: dict[str, PastSealResult] = {}
    for share in shares:
        first.setdefault(share.session, share)
    return tuple(first.values())


def _figures(result: FilterResult) -> Iterator[Figure]:
    found: list[Figure | None] = [item.velocity for item in result.velocities]
    for each in result.penetrations:
        found += [each.velocity, each.together, each.quality, each.at_other_flow, each.highest_fit_factor]
    found += [share.share for share in result.past_seal]
    for drop in result.drops:
        found += [drop.resistance, drop.off_line, drop.together, drop.at_test_flow]
    for log in result.loading:
        found += [log.flow_change, log.pressure_change, log.time_to_required]
    yield from (figure for figure in found if figure is not None)


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> FilterSummary | None:
    """Sum up a device: the resistance that lies above its limit by the most, where one does."""
    if not results:
        return None
    above = [
        (drop.verdict.ratio or 0.0, record, drop)
        for record, result in results.items()
        if isinstance(result, FilterResult)
        for drop in result.drops
        if drop.verdict is not None and drop.verdict.outcome is Outcome.DOES_NOT_MEET
    ]
    if not above:
        return FilterSummary(findings=(), above_limit=None, above_limit_record=None)
    _, record, worst = max(above, key=lambda item: (item[0], item[1], item[2].drops))
    return FilterSummary(findings=(), above_limit=worst, above_limit_record=record)
