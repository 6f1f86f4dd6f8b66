"""Gas: carbon dioxide and oxygen of a hood's mixed air by calculation, and of inhaled air as measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.device import Device
from generator.model.gas_result import GasResult, GasSummary, InhaledGasResult, LevelGas, Plausible, RunGas
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, TopicResult
from generator.model.work_gas import WorkGas
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.hood_gas_figures import least_supplies, run_gas, sealed_times
from generator.scoring.inhaled_gas_figures import inhaled_gas_result
from generator.scoring.items import as_supplied_first

ORDER = 50
TIGHT = "a tight-fitting facepiece holds little air, so that a mean of it says nothing of what is inhaled"
FOLLOWS_THE_BREATH = (
    "the device follows the wearer’s breath, so that the flow on the bench is not what a wearer is given"
)


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> GasResult | None:
    """Score carbon dioxide and oxygen of a record, or return None where nothing of it follows or was measured."""
    device = catalogue.devices[test.device]
    levels = tuple(catalogue.work_gas.values())
    reason = _why_no_hood(device)
    hooded = bool(test.flow) and reason is None
    runs: tuple[RunGas, ...] = ()
    if hooded:
        runs = tuple(run_gas(run, test, device, levels) for run in flow_run_results(test, catalogue))
    sealed = sealed_times(test, test.hood, levels) if test.hood is not None and not device.kind.tight else ()
    inhaled = tuple(inhaled_gas_result(gas, test, tuple(catalogue.gas_limits.values())) for gas in test.inhaled_gas)
    if not (runs or sealed or inhaled):
        return None
    least = least_supplies(test, levels) if runs else ()
    return GasResult(
        figures=(
            *(figure for run in runs for level in run.levels for figure in (level.carbon_dioxide, level.oxygen)),
            *(each.supply for each in least),
            *(each.time for each in sealed),
            *(figure for gas in inhaled for figure in inhaled_figures(gas)),
        ),
        verdicts=(),
        findings=(*_findings_of_runs(runs, catalogue.work_gas), *_impossible(inhaled)),
        runs=runs,
        least=least,
        sealed=sealed,
        inhaled=inhaled,
        hood_not_scored=reason if test.flow else None,
    )


def _why_no_hood(device: Device) -> str | None:
    if device.kind.tight:
        return TIGHT
    return FOLLOWS_THE_BREATH if device.breath_responsive else None


def inhaled_figures(gas: InhaledGasResult) -> tuple[Figure, Figure, Figure]:
    """Return the figures of a reading of inhaled air in the order in which they are shown."""
    return gas.oxygen, gas.carbon_dioxide, gas.ratio


def lightest(levels: Sequence[LevelGas], work: Mapping[str, WorkGas], what: str) -> LevelGas | None:
    """Return the lightest everyday level of work at which something is so, or None."""
    return next((level for level in levels if work[level.level].everyday and getattr(level, what)), None)


def _findings_of_runs(runs: Sequence[RunGas], work: Mapping[str, WorkGas]) -> list[Finding]:
    findings = []
    for run in runs:
        state: dict[str, str | int | float] = {
            "setting": run.setting,
            "battery": run.battery,
            "filter": run.filter,
        }
        where = f"flow[{run.run}]"
        high = lightest(run.levels, work, "above_one_percent") if run.claimed else None
        if high is not None:
            facts = state | {"level": work[high.level].name}
            findings.append(Finding(rule="carbon-dioxide-above-one-percent", where=where, facts=facts))
        low = lightest(run.levels, work, "oxygen_low") if run.claimed else None
        if low is not None:
            facts = state | {"level": work[low.level].name}
            findings.append(Finding(rule="hood-oxygen-low", where=where, facts=facts))
    return findings


def _impossible(inhaled: Sequence[InhaledGasResult]) -> list[Finding]:
    return [
        Finding(
            rule="inhaled-gas-impossible",
            where=f"inhaled_gas[{gas.gas}]",
            facts={"blower": gas.blower, "work": gas.work, "ratio": gas.ratio.value},
        )
        for gas in inhaled
        if gas.plausible is Plausible.IMPOSSIBLE and gas.ratio.value is not None
    ]


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> GasSummary | None:
    """Sum up a device: the claimed run with the most carbon dioxide in the hood's air, and how much was measured.

    What was measured modified counts only where nothing was measured as supplied.
    """
    every = {record: result for record, result in results.items() if isinstance(result, GasResult)}
    if not every:
        return None
    runs = [(record, run) for record, result in every.items() for run in result.runs]
    claimed = [item for item in as_supplied_first(runs, catalogue) if item[1].claimed]
    record, worst = max(claimed, key=lambda item: (_most(item[1]), item[0], item[1].run), default=(None, None))
    return GasSummary(
        findings=(),
        worst=worst,
        worst_record=record,
        inhaled=sum(len(result.inhaled) for result in every.values()),
    )


def _most(run: RunGas) -> float:
    """Return the carbon dioxide at the lightest level; one that is not scored counts as the most."""
    value = run.levels[0].carbon_dioxide.value if run.levels else None
    return 100.0 if value is None else value
