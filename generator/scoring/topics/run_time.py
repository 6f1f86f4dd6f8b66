"""Run time: how long a powered device delivers the required flow on one charge."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.reference import Criterion
from generator.model.result import Figure, Finding, Outcome, Relation, TopicResult
from generator.model.run_down import RunDown
from generator.model.run_time_result import AlarmOutcome, RunDownResult, RunTimeResult, RunTimeSummary
from generator.scoring.items import as_supplied_first
from generator.scoring.requirements import flow_criterion
from generator.scoring.run_down import first_below
from generator.scoring.run_down_energy import energy_figures
from generator.scoring.run_down_figures import (
    alarm_margin_figure,
    first_alarm_figure,
    run_time_figure,
    to_stop_figure,
)
from generator.scoring.run_down_flow import logged_flow

ORDER = 80
BREATH_RESPONSIVE = "the device follows the wearer's breath, and the requirement is for a constant flow"
NO_REQUIREMENT = "no supply flow requirement is on record for this kind of device"


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> RunTimeResult | None:
    """Score the run-downs of a record, or return None where it has none."""
    if not test.run_downs:
        return None
    results = tuple(_score(run_down, test, catalogue) for run_down in test.run_downs)
    return RunTimeResult(
        figures=tuple(figure for result in results for figure in result.figures),
        verdicts=(),
        findings=tuple(finding for result in results for finding in _findings(result)),
        run_downs=results,
    )


def _score(run_down: RunDown, test: PublishedTest, catalogue: PublishedCatalogue) -> RunDownResult:
    device = catalogue.devices[test.device]
    criterion, reason = _requirement(device, catalogue)
    logged = logged_flow(run_down, test, catalogue)
    time = run_time_figure(logged, criterion, reason)
    alarm = first_alarm_figure(logged)
    margin = alarm_margin_figure(logged, time.figure, alarm)
    energy = energy_figures(logged, time.figure, device)
    task = run_down.task.duration.to("min") if run_down.task is not None else None
    return RunDownResult(
        run_down=run_down.id,
        setting=run_down.setting,
        filter=run_down.filter.value,
        criterion=criterion.id if criterion is not None else None,
        required_l_per_min=criterion.limit if criterion is not None else None,
        benchmark_only=device.home_built and criterion is not None,
        run_time=time.figure,
        fell_below=time.fell_below,
        came_back=criterion is not None and _came_back(logged.flows, criterion.limit),
        to_stop=to_stop_figure(logged),
        first_alarm=alarm,
        alarm_margin=margin,
        alarm=alarm_outcome(time.figure, time.fell_below, margin),
        energy=energy.energy if energy is not None else None,
        energy_for_cubic_metre=energy.for_cubic_metre if energy is not None else None,
        share_of_stated_energy=energy.share_of_stated if energy is not None else None,
        task_minutes=task,
        task=task_outcome(time.figure, task) if task is not None else None,
    )


def _requirement(device: Device, catalogue: PublishedCatalogue) -> tuple[Criterion | None, str]:
    """Return the flow that a device is held against, the strictest of its kind, or why there is none."""
    if device.breath_responsive:
        return None, BREATH_RESPONSIVE
    return flow_criterion(device, catalogue), NO_REQUIREMENT


def _came_back(flows: tuple[float, ...], required: float) -> bool:
    below = first_below(flows, required)
    return below is not None and any(flow >= required for flow in flows[below:])


def alarm_outcome(time: Figure, fell_below: bool, margin: Figure | None) -> AlarmOutcome:
    """Say how the first alarm stands to the end of the run time: by the interval, without one by the value."""
    if time.value is None:
        return AlarmOutcome.NOT_SCORED
    if margin is None or margin.value is None:
        return AlarmOutcome.NONE_HEARD if fell_below else AlarmOutcome.NOT_NEEDED
    low, high = _ends(margin)
    if low is not None and low >= 0:
        return AlarmOutcome.BEFORE
    return AlarmOutcome.AFTER if high is not None and high < 0 else AlarmOutcome.UNDECIDED


def task_outcome(time: Figure, task: float) -> Outcome:
    """Say whether a run time is as long as a task: by the whole interval, without one by the value."""
    if time.value is None:
        return Outcome.UNDECIDED
    low, high = _ends(time)
    if low is not None and low >= task:
        return Outcome.MEETS
    return Outcome.DOES_NOT_MEET if high is not None and high < task else Outcome.UNDECIDED


def _ends(figure: Figure) -> tuple[float | None, float | None]:
    """Return the limits of a figure; without an interval its value, which as a bound is the lower one alone."""
    if figure.interval is not None:
        return figure.interval.low, figure.interval.high
    return figure.value, None if figure.relation is Relation.AT_LEAST else figure.value


def _findings(result: RunDownResult) -> list[Finding]:
    where, time = f"run_downs[{result.run_down}]", result.run_time
    facts: dict[str, str | int | float] = {"setting": result.setting, "filter": result.filter}
    if time.value is None:
        return []
    facts["run_time_min"] = time.value
    found = []
    if result.alarm is AlarmOutcome.AFTER and result.first_alarm is not None and result.first_alarm.value is not None:
        late = {**facts, "first_alarm_min": result.first_alarm.value}
        found.append(Finding(rule="alarm-after-flow-fell", where=where, facts=late))
    if result.alarm is AlarmOutcome.NONE_HEARD:
        found.append(Finding(rule="no-alarm-when-flow-fell", where=where, facts=facts))
    if result.task is Outcome.DOES_NOT_MEET and result.task_minutes is not None:
        task = {**facts, "task_min": result.task_minutes}
        found.append(Finding(rule="run-time-shorter-than-task", where=where, facts=task))
    return found


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> RunTimeSummary | None:
    """Sum up all run-downs of a device: the shortest run time that was measured to its end governs.

    What was measured modified governs only where nothing was measured as supplied.
    """
    every = [
        (record, result)
        for record, topic in results.items()
        if isinstance(topic, RunTimeResult)
        for result in topic.run_downs
    ]
    if not every:
        return None
    scored = [
        # A time that is only a lower bound governs where there is no other: it says nothing of where the flow ends.
        (result.run_time.relation is Relation.AT_LEAST, result.run_time.value, record, result.run_down, result)
        for record, result in as_supplied_first(every, catalogue)
        if result.run_time.value is not None
    ]
    shortest = min(scored, key=lambda item: item[:4], default=None)
    return RunTimeSummary(
        findings=(),
        run_downs=len(every),
        governing=shortest[4] if shortest is not None else None,
        governing_record=shortest[2] if shortest is not None else None,
    )
