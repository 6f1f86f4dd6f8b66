"""The air balance of each flow run: its supply less the exhaust of the same setting, and the velocity outwards."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.air_balance_result import Balance, ExhaustResult, NetFlowResult
from generator.model.device import Device
from generator.model.flow_result import FlowRunResult
from generator.model.hood import OpeningsMeasured
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.air_balance import net_flow, net_flow_interval, outward_velocity
from generator.scoring.counting import COVERAGE

EXHAUST_NOT_MEASURED = "what the powered exhaust takes at this setting was not measured"
NO_NET_INTERVAL = "the supply or the exhaust has no interval"
DRAWN_IN = "the net flow goes inwards"
NET_COVERS = (
    "the intervals of supply and exhaust, taken as independent; one meter read both, so that its common error partly "
    "cancels and the interval is rather too wide"
)
VELOCITY_COVERS = "the uncertainty of the flow; not that of the area, which is not on record"


def net_flows(
    runs: Sequence[FlowRunResult],
    exhausts: Sequence[ExhaustResult],
    openings: OpeningsMeasured | None,
    device: Device,
) -> tuple[NetFlowResult, ...]:
    """Return the balance of every flow run."""
    return tuple(_balance(run, exhausts, openings, device) for run in runs)


def _balance(
    run: FlowRunResult, exhausts: Sequence[ExhaustResult], openings: OpeningsMeasured | None, device: Device
) -> NetFlowResult:
    at_setting = [exhaust for exhaust in exhausts if exhaust.setting == run.setting]
    # Of several readings of the exhaust at one setting the one that leaves the least air is taken.
    taken = max(at_setting, key=lambda exhaust: (exhaust.mean.value or 0.0, exhaust.exhaust), default=None)
    exhausting = bool(exhausts) or device.air_path.powered_exhaust is not None
    net = _net(run, taken) if exhausting else None
    leaving = run.mean if net is None else net
    return NetFlowResult(
        run=run.run,
        exhaust=taken.exhaust if taken is not None else None,
        setting=run.setting,
        battery=run.battery,
        filter=run.filter,
        net=net,
        velocity=_velocity(run.run, leaving, openings) if openings is not None else None,
        balance=balance_of(leaving),
    )


def balance_of(net: Figure) -> Balance:
    """Say which way the air goes by the whole interval of a net flow."""
    if net.value is None:
        return Balance.NOT_SCORED
    if net.interval is None or net.interval.low is None or net.interval.high is None:
        return Balance.UNDECIDED
    if net.interval.low > 0:
        return Balance.OUTWARD
    return Balance.INWARD if net.interval.high < 0 else Balance.UNDECIDED


def _net(run: FlowRunResult, taken: ExhaustResult | None) -> Figure:
    key, name = f"air_balance.{run.run}.net", "net flow: supply less exhaust"
    supply, exhaust = run.mean.value, taken.mean.value if taken is not None else None
    if taken is None or supply is None or exhaust is None:
        return _missing(key, name, "L/min", "net-flow", EXHAUST_NOT_MEASURED)
    inputs = (
        _flow("Q_{s}", "mean supply flow", supply, f"flow[{run.run}]: {run.mean.key}"),
        _flow("Q_{e}", "mean flow of the exhaust", exhaust, f"exhaust[{taken.exhaust}]: {taken.mean.key}"),
    )
    interval = _net_interval(run, taken, inputs)
    return Figure(
        key=key,
        name=name,
        value=net_flow(supply, exhaust),
        unit="L/min",
        interval=interval,
        no_interval=NO_NET_INTERVAL if interval is None else None,
        sample_size=2,
        sample_of="mean flows",
        method="net-flow",
        working=Working(method="net-flow", inputs=inputs),
    )


def _net_interval(run: FlowRunResult, taken: ExhaustResult, means: tuple[Input, Input]) -> Interval | None:
    supply_uncertainty, exhaust_uncertainty = run.standard_uncertainty, taken.standard_uncertainty
    if supply_uncertainty is None or exhaust_uncertainty is None or supply_uncertainty + exhaust_uncertainty == 0:
        return None
    low, high = net_flow_interval(
        means[0].value,
        supply_uncertainty,
        run.degrees_of_freedom,
        means[1].value,
        exhaust_uncertainty,
        taken.degrees_of_freedom,
        COVERAGE,
    )
    places = (means[0].where, means[1].where)
    known = (
        (r"\nu_{s}", "effective degrees of freedom of the supply", run.degrees_of_freedom, places[0]),
        (r"\nu_{e}", "effective degrees of freedom of the exhaust", taken.degrees_of_freedom, places[1]),
    )
    inputs = (
        *means,
        _flow("u_{s}", "standard uncertainty of the supply", supply_uncertainty, places[0]),
        _flow("u_{e}", "standard uncertainty of the exhaust", exhaust_uncertainty, places[1]),
        *(
            Input(symbol=symbol, meaning=meaning, value=degrees, unit="1", where=where)
            for symbol, meaning, degrees, where in known
            if degrees is not None
        ),
        Input(symbol="p", meaning="coverage probability", value=COVERAGE, unit="1", where="fixed here"),
    )
    return Interval(
        low=low,
        high=high,
        coverage=COVERAGE,
        method="net-flow-interval",
        covers=NET_COVERS,
        working=Working(method="net-flow-interval", inputs=inputs),
    )


def _velocity(run: str, net: Figure, openings: OpeningsMeasured) -> Figure:
    key, name = f"air_balance.{run}.velocity", "mean velocity outwards through the openings"
    if net.value is None:
        return _missing(key, name, "m/s", "outward-velocity", net.not_scored or EXHAUST_NOT_MEASURED)
    if net.value <= 0:
        return _missing(key, name, "m/s", "outward-velocity", DRAWN_IN)
    area = openings.area.to("cm2")
    inputs = (
        _flow(r"Q_{\mathrm{net}}", "net flow", net.value, f"flow[{run}]: {net.key}"),
        Input(symbol="A", meaning="area of all openings", value=area, unit="cm2", where="openings.area"),
    )
    interval = None
    if net.interval is not None and net.interval.low is not None and net.interval.high is not None:
        interval = Interval(
            low=outward_velocity(net.interval.low, area),
            high=outward_velocity(net.interval.high, area),
            coverage=net.interval.coverage,
            method="outward-velocity",
            covers=VELOCITY_COVERS,
        )
    return Figure(
        key=key,
        name=name,
        value=outward_velocity(net.value, area),
        unit="m/s",
        interval=interval,
        no_interval=NO_NET_INTERVAL if interval is None else None,
        sample_size=1,
        sample_of="net flow",
        method="outward-velocity",
        working=Working(method="outward-velocity", inputs=inputs),
    )


def _missing(key: str, name: str, unit: str, method: str, reason: str) -> Figure:
    return Figure(
        key=key,
        name=name,
        value=None,
        unit=unit,
        sample_size=0,
        sample_of="mean flows",
        method=method,
        not_scored=reason,
    )


def _flow(symbol: str, meaning: str, value: float, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="L/min", where=where)
