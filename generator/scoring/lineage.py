"""The configurations of a device: which was made from which, and what was measured before and after a change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.base import NotRecorded
from generator.model.comparison_result import ComparedSession
from generator.model.configuration import Configuration, State
from generator.model.device import Device
from generator.model.difference_result import People
from generator.model.fit_result import FitResult
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
from generator.scoring.compared_sessions import compared_session
from generator.scoring.decided_differences import decided_together
from generator.scoring.difference_figures import Sides
from generator.scoring.factor_differences import factor_difference
from generator.scoring.fit_groups import GroupKey, group_key

_Grouped = dict[str, list[PublishedTest]]
"""What sessions share to stand side by side: protocol, blower state, kind of counter, how much of the protocol."""


def device_configurations(
    device: Device, results: Mapping[str, RecordResult], catalogue: PublishedCatalogue
) -> tuple[ConfigurationResult, ...]:
    """Return a device's configurations, as supplied ones first, then by the day of their first test."""
    grouped = _grouped([catalogue.device_tests[record] for record in results])
    found = [
        _configuration(key, number, grouped, device, results, catalogue) for number, key in enumerate(grouped, start=1)
    ]
    return _decided(found)


def _decided(configurations: Sequence[ConfigurationResult]) -> tuple[ConfigurationResult, ...]:
    """Decide about all changes of a device together, since each is one more chance to find a difference."""
    decided = iter(decided_together([pair.difference for part in configurations for pair in part.fit]))
    return tuple(
        part.model_copy(
            update={"fit": tuple(pair.model_copy(update={"difference": next(decided)}) for pair in part.fit)}
        )
        for part in configurations
    )


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
    number: int,
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
        fit=_fit(before, tests, results, catalogue, first.name or str(number)) if before else (),
        flow=_flow(before, tests, results) if before else (),
    )


def _sided(before: Sequence[PublishedTest], after: Sequence[PublishedTest]) -> list[tuple[Side, PublishedTest]]:
    return [(Side.BEFORE, test) for test in before] + [(Side.AFTER, test) for test in after]


def _fit(
    before: Sequence[PublishedTest],
    after: Sequence[PublishedTest],
    results: Mapping[str, RecordResult],
    catalogue: PublishedCatalogue,
    anchor: str,
) -> tuple[SideBySideFit, ...]:
    groups: dict[GroupKey, dict[Side, dict[str, list[ComparedSession]]]] = {}
    for side, test in _sided(before, after):
        scored = results[test.id].topics.get("fit")
        if not isinstance(scored, FitResult):
            continue
        for session, recorded in zip(scored.sessions, test.fit, strict=True):
            compared = compared_session(session, recorded, test, catalogue)
            if compared is not None:
                # Before and after are of two configurations, so that this part of the key is left out.
                alike = group_key(session, test, catalogue)._replace(configuration="")
                worn = groups.setdefault(alike, {each: {} for each in Side})
                worn[side].setdefault(compared.wearer, []).append(compared)
    pairs: list[SideBySideFit] = []
    for alike, worn in groups.items():
        pair = _side_by_side(alike, worn, f"change-{anchor}-{len(pairs) + 1}")
        if pair is not None:
            pairs.append(pair)
    return tuple(pairs)


def _side_by_side(
    alike: GroupKey, worn: Mapping[Side, Mapping[str, Sequence[ComparedSession]]], key: str
) -> SideBySideFit | None:
    sides = Sides(
        key=key,
        name="overall fit factor after the change as a multiple of that before it",
        first="after the change",
        second="before the change",
    )
    difference = factor_difference(sides, worn[Side.AFTER], worn[Side.BEFORE])
    others = difference.people is People.OTHER_WEARERS
    if not difference.wearers and not others:
        return None
    one_side_only = tuple(sorted(difference.first_only + difference.second_only))
    shown = sorted({*difference.wearers, *one_side_only}) if others else difference.wearers
    return SideBySideFit(
        protocol=alike.protocol,
        blower=alike.blower,
        counter=alike.counter,
        aerosol=alike.aerosol,
        basis=alike.basis,
        # Within a wearer's side the sessions stay by day and as the record has them.
        sessions=tuple(
            SideSession(
                side=side,
                record=session.record,
                session=session.session,
                wearer=wearer,
                donning=session.donning,
                overall=session.overall,
            )
            for wearer in shown
            for side in Side
            for session in worn[side].get(wearer, ())
        ),
        one_side_only=() if others else one_side_only,
        difference=difference,
    )


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
