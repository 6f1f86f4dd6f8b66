"""What a plan says of a powered device's air: the governing flow, the states that count, and the time on one charge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.model.flow_result import FlowRunResult, FlowState, FlowSummary
from generator.model.flow_run import BatteryState, FilterState
from generator.model.plan_result import Activity, Facts, PlannedSession, PlannedStatement, Standing, Tier
from generator.model.result import Outcome
from generator.model.run_time_result import RunDownResult, RunTimeResult
from generator.scoring.flow_states import claimed_settings, flow_states
from generator.scoring.items import as_supplied_first
from generator.scoring.planning.reviewed import IN_DOUBT, Reviewed, Ruled
from generator.scoring.requirements import flow_criterion


def flow_session(tier: Tier, settings: Iterable[str], battery: str, filter_state: str) -> PlannedSession:
    """Return flow runs at some settings, in one state of battery and filter."""
    return PlannedSession(
        id=f"flow-{battery}-{filter_state}",
        tier=tier,
        activity=Activity.FLOW,
        settings=tuple(settings),
        battery=battery,
        filter=filter_state,
    )


def run_down_session(tier: Tier, settings: Iterable[str]) -> PlannedSession:
    """Return run-downs at some settings."""
    return PlannedSession(id="run-down", tier=tier, activity=Activity.RUN_DOWN, settings=tuple(settings))


def states_of(of: Reviewed) -> tuple[FlowState, ...]:
    """Return the states in which the device's flow counts, measured or not."""
    summary = of.summary("flow", FlowSummary)
    states = summary.states if summary is not None else flow_states(of.device, ())
    return tuple(state for state in states if state.claimed)


def flow(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices: whether the blower delivers what its kind is held to."""
    if of.device.power is None:
        return
    criterion = flow_criterion(of.device, of.catalogue)
    if of.device.breath_responsive or criterion is None:
        rule = "flow-follows-breath" if of.device.breath_responsive else "flow-without-requirement"
        yield Ruled(PlannedStatement(id="flow", rule=rule, standing=Standing.NOT_MEASURABLE))
        return
    limit: Facts = {"limit": criterion.limit, "unit": criterion.unit}
    summary = of.summary("flow", FlowSummary)
    run = summary.governing if summary is not None else None
    if summary is None or run is None:
        first = states_of(of)[0]
        missing = flow_session(Tier.GOVERNING, claimed_settings(of.device), first.battery, first.filter)
        yield Ruled(
            PlannedStatement(id="flow", rule="flow", standing=Standing.LACKING, facts=limit),
            (missing,),
        )
        return
    assert summary.governing_record is not None
    decided = run.verdict.outcome in (Outcome.MEETS, Outcome.DOES_NOT_MEET)
    open_states = sum(not state.runs for state in states_of(of))
    doubted = _meter_in_doubt(of, summary.governing_record)
    facts: Facts = limit | {"outcome": run.verdict.outcome.value, "setting": run.setting}
    facts |= {"battery": run.battery, "filter": run.filter} | (_widest(run) if not decided else {})
    facts |= {"open_states": open_states} | ({"meter": "in doubt"} if doubted else {})
    in_part = doubted or (run.verdict.outcome is Outcome.MEETS and open_states)
    again = (flow_session(Tier.GOVERNING, (run.setting,), run.battery, run.filter),)
    yield Ruled(
        PlannedStatement(
            id="flow",
            rule="flow",
            standing=Standing.LACKING if not decided else Standing.IN_PART if in_part else Standing.SAID,
            records=(summary.governing_record,),
            facts=facts,
        ),
        () if decided else again,
    )


def _meter_in_doubt(of: Reviewed, record: str) -> bool:
    findings = of.scored.records[record].findings
    return any(each.rule in IN_DOUBT and each.where == "instruments.flow_meter" for each in findings)


def _widest(run: FlowRunResult) -> Facts:
    """Return the largest source of a flow's uncertainty: more readings narrow nothing but their own scatter."""
    if run.budget is None or not run.budget.standard_uncertainty > 0:
        return {}
    widest = max(run.budget.rows, key=lambda row: row.share)
    return {"source": widest.id, "source_name": widest.name, "share": widest.share}


def flow_in_every_state(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices with a flow on record or still without: in which of the states that count it was measured."""
    states = states_of(of)
    missing = [state for state in states if not state.runs]
    if of.device.power is None or not states:
        return
    measured = [state for state in states if state.runs]
    standing = Standing.LACKING if not measured else Standing.IN_PART if missing else Standing.SAID
    yield Ruled(
        PlannedStatement(
            id="flow-every-state",
            rule="flow-every-state",
            standing=standing,
            records=tuple(dict.fromkeys(state.record for state in measured if state.record is not None)),
            facts={"states": len(states), "measured": len(measured)},
            missing=tuple(f"{state.setting}, {state.battery}, {state.filter}" for state in missing),
        ),
        tuple(
            flow_session(Tier.HARM, (state.setting,), state.battery, state.filter) for state in _worst_first(missing)
        ),
    )


def _worst_first(states: Iterable[FlowState]) -> list[FlowState]:
    """Order states: the battery at its alarm before a fresh one, a loaded filter before a new one."""
    return sorted(
        states,
        key=lambda state: (state.battery != BatteryState.AT_ALARM, state.filter != FilterState.LOADED),
    )


def run_time(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices with a battery: how long the flow is enough on one charge, at each setting that counts."""
    states = states_of(of)
    if of.device.power is None or {state.battery for state in states} == {BatteryState.MAINS.value}:
        return
    scored = _run_downs(of)
    settings = claimed_settings(of.device)
    missing = tuple(setting for setting in settings if setting not in {each.setting for _, each in scored})
    standing = Standing.LACKING if not scored else Standing.IN_PART if missing else Standing.SAID
    yield Ruled(
        PlannedStatement(
            id="run-time",
            rule="run-time",
            standing=standing,
            records=tuple(dict.fromkeys(record for record, _ in scored)),
            facts={"settings": len(settings)},
            missing=missing,
        ),
        (run_down_session(Tier.RUN_TIME, missing),) if missing else (),
    )


def _run_downs(of: Reviewed) -> tuple[tuple[str, RunDownResult], ...]:
    """Return the run-downs with a run time, each with its record: as supplied, where there are any."""
    found = [
        (record, run_down)
        for record, result in of.results("run_time", RunTimeResult)
        for run_down in result.run_downs
        if run_down.run_time.value is not None
    ]
    return as_supplied_first(found, of.catalogue)
