"""Breathing: for which work a constant supply of air is enough, and what a wearer draws in beyond it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.breathing_result import BreathingResult, BreathingRun, BreathingSummary, LevelResult
from generator.model.device import Device
from generator.model.flow_result import FlowRunResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, Input, TopicResult
from generator.model.work_level import WorkLevel
from generator.scoring.breathing_figures import (
    NO_VOLUME,
    Breathing,
    covered_figure,
    covered_range,
    level_result,
    printed_ratio,
    sine_ratio,
)
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.items import as_supplied_first
from generator.scoring.varied_inputs import VariedInput, varied

ORDER = 30
ASSUMED_BREATHS = 20.0
"""Breaths a minute where none were counted: a breathing machine's setting (GB 30864-2014), borrowed for want of any."""
BREATH_RESPONSIVE = "the blower follows the wearer's breath, and this reckoning is for a constant flow"
AT_REST, AT_LIGHT_WORK = "very-light", "light"


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> BreathingResult | None:
    """Hold every flow run of a record against printed breathing demands; None without runs or demands."""
    if not test.flow or not catalogue.work_levels:
        return None
    device, levels = catalogue.devices[test.device], catalogue.work_levels
    runs = tuple(_score_run(run, test, device, levels) for run in flow_run_results(test, catalogue))
    return BreathingResult(
        figures=tuple(figure for run in runs for figure in run.figures),
        verdicts=(),
        findings=tuple(finding for run in runs for finding in _findings(run, device, levels)),
        breathing_runs=runs,
    )


def _score_run(run: FlowRunResult, test: PublishedTest, device: Device, levels: Sequence[WorkLevel]) -> BreathingRun:
    breathing = _breathing(test, device)
    counted = test.hood is not None and test.hood.breaths_per_minute is not None
    scored = BreathingRun(
        run=run.run,
        setting=run.setting,
        battery=run.battery,
        filter=run.filter,
        supply=run.mean,
        breaths_per_minute=breathing.breaths.value,
        breaths_counted=counted,
        hood_volume=breathing.hood.value if breathing.hood is not None else None,
    )
    reason = BREATH_RESPONSIVE if device.breath_responsive else run.mean.not_scored
    if reason is not None:
        return scored.model_copy(update={"not_scored": _missing(run, "demand", "breathing demand", reason)})
    supply = varied(run.mean, "Q", f"flow[{run.run}]: {run.mean.key}", "supply flow")
    of_levels = tuple(level_result(run.run, level, supply, breathing) for level in levels)
    changes: dict[str, object] = {"levels": of_levels, **_covered(run.run, supply, levels)}
    if breathing.leaks and breathing.hood is None and any(level.factor is not None for level in of_levels):
        changes["stored"] = _missing(run, "stored", "what the hood's stored air does", NO_VOLUME)
    return scored.model_copy(update=changes)


def _breathing(test: PublishedTest, device: Device) -> Breathing:
    hood, leaks = test.hood, not device.kind.tight
    if hood is not None and hood.breaths_per_minute is not None:
        breaths = Input(
            symbol="f",
            meaning="breaths a minute, counted on a wearer at work",
            value=hood.breaths_per_minute,
            unit="/min",
            where="hood.breaths_per_minute",
        )
    else:
        breaths = Input(
            symbol="f",
            meaning="breaths a minute, assumed: none were counted",
            value=ASSUMED_BREATHS,
            unit="/min",
            where="fixed here",
        )
    held = None
    if hood is not None and leaks:
        litres = hood.volume.to("L")
        held = Input(symbol="V", meaning="air that the hood holds", value=litres, unit="L", where="hood.volume")
    return Breathing(breaths=breaths, hood=held, leaks=leaks)


def _missing(run: FlowRunResult, key: str, name: str, reason: str) -> Figure:
    return Figure(
        key=f"breathing.{run.run}.{key}",
        name=name,
        value=None,
        unit="1",
        sample_size=run.mean.sample_size,
        sample_of=run.mean.sample_of,
        method="cleaner-with-mixed-air" if key == "stored" else "over-breathed-share",
        not_scored=reason,
    )


def _covered(run: str, supply: VariedInput, levels: Sequence[WorkLevel]) -> dict[str, Figure]:
    silent = sorted((level for level in levels if not level.speaking), key=lambda level: level.ratio)
    speaking = [level for level in levels if level.speaking]
    found = {
        "covered_silent": covered_figure(
            run, "covered-silent", "largest minute volume covered, silent, in a sine", supply, sine_ratio()
        )
    }
    if silent:
        ratios = printed_ratio("k_{1}", silent[0]), printed_ratio("k_{2}", silent[-1])
        words = "largest minute volume covered, silent, at printed ratios"
        found["covered_printed"] = covered_range(run, words, supply, ratios)
    if speaking:
        ratio = printed_ratio("k", max(speaking, key=lambda level: level.ratio))
        words = "largest minute volume covered while reading aloud"
        found["covered_speaking"] = covered_figure(run, "covered-speaking", words, supply, ratio)
    return found


def _findings(run: BreathingRun, device: Device, levels: Sequence[WorkLevel]) -> list[Finding]:
    """Return what is worst of a run: at rest, else at light work, else when speaking; nothing for tight devices."""
    if device.kind.tight:
        return []
    over = {result.level: result for result in run.levels if result.factor is not None}
    printed = {level.id: level for level in levels}
    if AT_REST in over:
        return [Finding(rule="over-breathed-at-rest", where=_where(run), facts=_facts(run, over, printed[AT_REST]))]
    if AT_LIGHT_WORK in over:
        facts = _facts(run, over, printed[AT_LIGHT_WORK])
        return [Finding(rule="over-breathed-at-light-work", where=_where(run), facts=facts)]
    for level in levels:
        if level.speaking and level.id in over:
            facts = _facts(run, over, level)
            return [Finding(rule="over-breathed-when-speaking", where=_where(run), facts=facts)]
    return []


def _where(run: BreathingRun) -> str:
    return f"flow[{run.run}]"


def _facts(run: BreathingRun, over: Mapping[str, LevelResult], level: WorkLevel) -> dict[str, str | int | float]:
    return {
        "setting": run.setting,
        "battery": run.battery,
        "filter": run.filter,
        "supply_l_per_min": run.supply.value or 0.0,
        "peak_l_per_min": level.peak,
        "share_percent": over[level.id].share.value or 0.0,
    }


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> BreathingSummary | None:
    """Sum up a device: the least supply among the settings at which its maker says that it protects governs.

    What was measured modified governs only where nothing was measured as supplied.
    """
    runs = [
        (record, run)
        for record, result in results.items()
        if isinstance(result, BreathingResult)
        for run in result.breathing_runs
    ]
    if not runs:
        return None
    protective = device.power.protective_settings if device.power is not None else ()
    counted = as_supplied_first(runs, catalogue)
    claimed = [item for item in counted if item[1].setting in protective] or counted
    record, governing = min(claimed, key=lambda item: (item[1].supply.value or 0.0, item[0], item[1].run))
    return BreathingSummary(findings=(), breathing_runs=len(runs), governing_demand=governing, governing_record=record)
