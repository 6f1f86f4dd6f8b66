"""A device's group of donnings against the panel rules of its own method; no other rule is applied."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.configuration import State
from generator.model.device import Device
from generator.model.fit_result import SessionResult
from generator.model.panel import PanelOutcome, PanelRule
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.wearers_result import PanelCountResult, PanelResult, WearerDonning
from generator.scoring.donnings import by_wearer, known_at_least
from generator.scoring.panels import Panel, number_reaching, panel_outcome

Sessions = Mapping[tuple[str, str], SessionResult]
"""Sessions by the id of their record and their own."""


def panel_results(
    device: Device,
    donnings: Sequence[WearerDonning],
    sessions: Sequence[tuple[str, SessionResult]],
    catalogue: PublishedCatalogue,
) -> tuple[PanelResult, ...]:
    """Return the outcome of every rule whose protocol and aerosol are those of these donnings."""
    places = {(record, session.session): session for record, session in sessions}
    tests = [catalogue.device_tests[each.record] for each in donnings]
    protocols = {places[each.record, each.session].protocol for each in donnings}
    return tuple(
        _held_against(rule, device, tests, donnings, places)
        for rule in catalogue.panels.values()
        if protocols == {rule.protocol} and all(rule.aerosol in (None, test.aerosol) for test in tests)
    )


def _held_against(
    rule: PanelRule,
    device: Device,
    tests: Sequence[PublishedTest],
    donnings: Sequence[WearerDonning],
    sessions: Sessions,
) -> PanelResult:
    reason = _why_not(rule, device, tests)
    if reason is not None:
        return PanelResult(rule=rule.id, outcome=PanelOutcome.NOT_ITS_METHOD, reason=reason)
    worn = {wearer: each[: rule.donnings] for wearer, each in by_wearer(donnings).items()}
    panel = {
        wearer: [_results(rule, sessions[each.record, each.session], each) for each in first]
        for wearer, first in worn.items()
    }
    outcome = panel_outcome(rule, rule.method, panel)
    if outcome is PanelOutcome.NOT_COMPLETE:
        return PanelResult(rule=rule.id, outcome=outcome, reason=_what_is_missing(rule, panel))
    counted = tuple(
        PanelCountResult(
            counts=condition.counts,
            sense=condition.sense,
            limit=condition.limit,
            required=condition.required,
            found=number_reaching(condition, panel),
        )
        for condition in rule.conditions
    )
    if outcome is PanelOutcome.NOT_REACHED and any(each.bound for first in worn.values() for each in first):
        reason = "some results are only known as “at least”, and without their factors the rule is not reached"
        return PanelResult(rule=rule.id, outcome=PanelOutcome.NOT_COMPLETE, counted=counted, reason=reason)
    met = "every condition holds" if outcome is PanelOutcome.REACHED else "a condition does not hold"
    return PanelResult(rule=rule.id, outcome=outcome, counted=counted, reason=met)


def _why_not(rule: PanelRule, device: Device, tests: Sequence[PublishedTest]) -> str | None:
    if device.kind not in rule.kinds:
        return "the rule is for another kind of device"
    if any(test.configuration.state is State.MODIFIED for test in tests):
        return "the device was modified, and the rule is for devices as their maker supplies them"
    return None


def _results(rule: PanelRule, session: SessionResult, donning: WearerDonning) -> list[float]:
    """Return what a rule counts of one donning, in its unit: the overall factor, or the leakage of each exercise."""
    if rule.results_each == 1:
        return [100 / donning.least if rule.unit == "%" else donning.least]
    known = [known_at_least(exercise.fit_factor) for exercise in session.exercises if exercise.counted]
    factors = [found[0] for found in known if found is not None]
    return [100 / factor if rule.unit == "%" else factor for factor in factors]


def _what_is_missing(rule: PanelRule, panel: Panel) -> str:
    if len(panel) != rule.wearers:
        return f"the rule asks for {rule.wearers} wearers, and there were {len(panel)}"
    if any(len(donnings) != rule.donnings for donnings in panel.values()):
        return f"the rule asks for {rule.donnings} donnings of each wearer, and some have fewer"
    return "the rule asks for every exercise of each donning, and some are missing"
