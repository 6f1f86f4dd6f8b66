"""Air balance: what an exhaust leaves of the supply, and whether the pressure inside stays above that of the room."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.air_balance_result import (
    AirBalanceResult,
    AirBalanceSummary,
    Balance,
    NetFlowResult,
    PressureStretch,
    PressureTraceResult,
)
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, TopicResult
from generator.model.session import BLOWER_OFF
from generator.scoring.exhaust_runs import exhaust_results
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.net_flows import net_flows
from generator.scoring.pressure_stretches import ROOM, pressure_trace_result

ORDER = 40


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> AirBalanceResult | None:
    """Score the air balance of a record, or return None where nothing of it was measured."""
    device = catalogue.devices[test.device]
    exhausts = exhaust_results(test, catalogue)
    runs = flow_run_results(test, catalogue) if test.exhaust or test.openings is not None else ()
    balances = net_flows(runs, exhausts, test.openings, device)
    traces = tuple(pressure_trace_result(trace, catalogue.series[trace.log.file]) for trace in test.pressure_traces)
    if not (exhausts or balances or traces):
        return None
    return AirBalanceResult(
        figures=(
            *(figure for exhaust in exhausts for figure in (exhaust.mean, exhaust.standard_deviation)),
            *(figure for balance in balances for figure in _figures(balance)),
            *(figure for trace in traces for each in stretches(trace) for figure in stretch_figures(each)),
        ),
        verdicts=(),
        findings=(*_exhausted(balances), *_below_room(traces)),
        exhausts=exhausts,
        balances=balances,
        traces=traces,
    )


def stretches(trace: PressureTraceResult) -> tuple[PressureStretch, ...]:
    """Return the whole of a trace, then its exercises."""
    return (trace.whole, *trace.exercises)


def stretch_figures(stretch: PressureStretch) -> tuple[Figure, Figure, Figure]:
    """Return the figures of a stretch in the order in which they are shown."""
    return stretch.lowest, stretch.mean, stretch.below_room


def fell_below_room(trace: PressureTraceResult) -> bool:
    """Say whether the pressure was below that of the room for any time while the blower ran."""
    lowest = trace.whole.lowest.value
    return trace.setting != BLOWER_OFF and lowest is not None and lowest < ROOM


def _figures(balance: NetFlowResult) -> list[Figure]:
    return [figure for figure in (balance.net, balance.velocity) if figure is not None]


def _exhausted(balances: tuple[NetFlowResult, ...]) -> list[Finding]:
    return [
        Finding(
            rule="exhaust-exceeds-supply",
            where=f"flow[{balance.run}]",
            facts={
                "setting": balance.setting,
                "battery": balance.battery,
                "filter": balance.filter,
                "net_l_per_min": balance.net.value,
            },
        )
        for balance in balances
        if balance.balance is Balance.INWARD and balance.net is not None and balance.net.value is not None
    ]


def _below_room(traces: tuple[PressureTraceResult, ...]) -> list[Finding]:
    return [
        Finding(
            rule="pressure-below-room",
            where=f"pressure_traces[{trace.trace}]",
            facts={
                "setting": trace.setting,
                "lowest_pa": trace.whole.lowest.value or 0.0,
                "share_percent": trace.whole.below_room.value or 0.0,
            },
        )
        for trace in traces
        if fell_below_room(trace)
    ]


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> AirBalanceSummary | None:
    """Count over all records of a device in how many states room air is drawn in."""
    every = [result for result in results.values() if isinstance(result, AirBalanceResult)]
    if not every:
        return None
    balances = [balance for result in every for balance in result.balances]
    running = [trace for result in every for trace in result.traces if trace.setting != BLOWER_OFF]
    return AirBalanceSummary(
        findings=(),
        inward=sum(balance.balance is Balance.INWARD for balance in balances),
        balances=sum(balance.balance is not Balance.NOT_SCORED for balance in balances),
        below_room=sum(fell_below_room(trace) for trace in running),
        running_traces=len(running),
    )
