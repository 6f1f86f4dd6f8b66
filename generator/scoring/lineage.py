"""The configurations of a device: which was made from which, and what was measured before and after a change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.base import NotRecorded
from generator.model.configuration import Configuration, State
from generator.model.device import Device
from generator.model.fit_result import Basis, FitResult
from generator.model.flow_result import FlowResult
from generator.model.lineage_result import (
    ConfigurationResult,
    Side,
    SideBySideFit,
    SideBySideFlow,
    SideRun,
    SideSession,
)
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import RecordResult
from generator.scoring.fit_groups import session_counter

_Grouped = dict[str, list[PublishedTest]]


def device_configurations(
    device: Device, results: Mapping[str, RecordResult], catalogue: PublishedCatalogue
) -> tuple[ConfigurationResult, ...]:
    """Return a device's configurations, as supplied ones first, then by the day of their first test."""
    grouped = _grouped([catalogue.device_tests[record] for record in results])
    return tuple(_configuration(key, grouped, device, results, catalogue) for key in grouped)


def _grouped(tests: Sequence[PublishedTest]) -> _Grouped:
    """Put records of the same configuration together; `tests` come oldest first."""
    supplied = [test for test in tests if test.configuration.state is State.AS_SUPPLIED]
    names = {test.configuration.name for test in supplied if test.configuration.name is not None}
    # Without a name a device as supplied is the one that has a name elsewhere, if there is only one.
    unnamed = names.pop() if len(names) == 1 else State.AS_SUPPLIED.value
    grouped: _Grouped = {}
    for test in [*supplied, *(test for test in tests if test.configuration.state is State.MODIFIED)]:
        configuration = test.configuration
        fallback = unnamed if configuration.state is State.AS_SUPPLIED else configuration.description
        grouped.setdefault(configuration.name or fallback, []).append(test)
    return grouped


def _base_key(configuration: Configuration, grouped: _Grouped) -> str | None:
    """Return the configuration that was changed, where a standing record has it."""
    if configuration.state is State.AS_SUPPLIED:
        return None
    if configuration.based_on is not None:
        return configuration.based_on if configuration.based_on in grouped else None
    supplied = [key for key, tests in grouped.items() if tests[0].configuration.state is State.AS_SUPPLIED]
    return supplied[0] if len(supplied) == 1 else None


def _mass_before(base: str | None, grouped: _Grouped, device: Device) -> Quantity | NotRecorded:
    costs = grouped[base][0].configuration.costs if base is not None else None
    if costs is not None:
        return costs.mass
    if base is not None and grouped[base][0].configuration.state is State.MODIFIED:
        return NotRecorded(not_recorded="the record of the configuration before does not say")
    return device.mass


def _configuration(
    key: str,
    grouped: _Grouped,
    device: Device,
    results: Mapping[str, RecordResult],
    catalogue: PublishedCatalogue,
) -> ConfigurationResult:
    tests = grouped[key]
    first = tests[0].configuration
    base = _base_key(first, grouped)
    before = grouped[base] if base is not None and base != key else []
    return ConfigurationResult(
        key=key,
        name=first.name,
        state=first.state,
        description=first.description,
        based_on=base,
        changes=first.changes,
        costs=first.costs,
        mass_before=_mass_before(base, grouped, device) if first.state is State.MODIFIED else None,
        records=tuple(test.id for test in tests),
        fit=_fit(before, tests, results, catalogue) if before else (),
        flow=_flow(before, tests, results) if before else (),
    )


def _sided(before: Sequence[PublishedTest], after: Sequence[PublishedTest]) -> list[tuple[Side, PublishedTest]]:
    return [(Side.BEFORE, test) for test in before] + [(Side.AFTER, test) for test in after]


def _fit(
    before: Sequence[PublishedTest],
    after: Sequence[PublishedTest],
    results: Mapping[str, RecordResult],
    catalogue: PublishedCatalogue,
) -> tuple[SideBySideFit, ...]:
    groups: dict[tuple[str, str | None, str | None, Basis], list[SideSession]] = {}
    for side, test in _sided(before, after):
        scored = results[test.id].topics.get("fit")
        for session in scored.sessions if isinstance(scored, FitResult) else ():
            if session.counted and session.overall is not None and session.overall.value is not None:
                key = (session.protocol, session.blower, session_counter(session, test, catalogue), session.basis)
                groups.setdefault(key, []).append(
                    SideSession(
                        side=side,
                        record=test.id,
                        session=session.session,
                        wearer=session.wearer,
                        donning=session.donning,
                        overall=session.overall,
                    )
                )
    pairs = []
    for (protocol, blower, kind, basis), sessions in groups.items():
        on = {side: {session.wearer for session in sessions if session.side is side} for side in Side}
        both = on[Side.BEFORE] & on[Side.AFTER]
        if not both:
            continue
        # Stable: within a wearer's side the sessions stay by day and as the record has them.
        shown = sorted(
            (session for session in sessions if session.wearer in both),
            key=lambda session: (session.wearer, session.side is Side.AFTER),
        )
        pairs.append(
            SideBySideFit(
                protocol=protocol,
                blower=blower,
                counter=kind,
                basis=basis,
                sessions=tuple(shown),
                one_side_only=tuple(sorted((on[Side.BEFORE] | on[Side.AFTER]) - both)),
            )
        )
    return tuple(pairs)


def _flow(
    before: Sequence[PublishedTest], after: Sequence[PublishedTest], results: Mapping[str, RecordResult]
) -> tuple[SideBySideFlow, ...]:
    groups: dict[tuple[str, str, str], list[SideRun]] = {}
    for side, test in _sided(before, after):
        scored = results[test.id].topics.get("flow")
        for run in scored.runs if isinstance(scored, FlowResult) else ():
            key = (run.setting, run.battery, run.filter)
            groups.setdefault(key, []).append(SideRun(side=side, record=test.id, run=run.run, mean=run.mean))
    return tuple(
        SideBySideFlow(setting=setting, battery=battery, filter=filter_state, runs=tuple(runs))
        for (setting, battery, filter_state), runs in groups.items()
    )
