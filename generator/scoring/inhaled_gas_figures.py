"""The figures of inhaled air as measured: oxygen, carbon dioxide, and whether the two can belong together."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.base import NotRecorded
from generator.model.gas_result import InhaledGasResult, LimitSide, Plausible, Side
from generator.model.inhaled_gas import InhaledGas
from generator.model.published import PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import Figure, Input, Interval, Working
from generator.model.work_gas import GasLimit, GasLimitOf
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_statistics import certificate_uncertainty, coverage_factor
from generator.scoring.gas_exchange import gas_exchange_interval, gas_exchange_ratio, stated_interval
from generator.scoring.hood_gas_figures import FRESH_OXYGEN, room_carbon_dioxide

LEAST_RATIO, GREATEST_RATIO = 0.7, 1.0
"""What the ratio of a body that burns fat or sugar alone is, and so the ends of what is possible at an even pace."""
LEAST_OXYGEN_LOST = 0.3
"""Own rule: with less oxygen lost, the ratio says nothing. [%]"""
UNCERTAINTIES_OF_LOSS = 3
"""Own rule: so many standard uncertainties must the oxygen lost be away from nothing."""
NEAR_FRESH = "inhaled oxygen too near that of fresh air"
NO_UNCERTAINTY = "no uncertainty of it is on record"
NOT_BOTH = "the uncertainties of both gases are needed"


def inhaled_gas_result(gas: InhaledGas, test: PublishedTest, limits: Sequence[GasLimit]) -> InhaledGasResult:
    """Score one reading of inhaled air."""
    oxygen = _share(gas.id, "oxygen", gas.oxygen, gas.oxygen_uncertainty)
    carbon_dioxide = _share(gas.id, "carbon-dioxide", gas.carbon_dioxide, gas.carbon_dioxide_uncertainty)
    ratio = _ratio(gas, test)
    return InhaledGasResult(
        gas=gas.id,
        blower=gas.blower,
        work=gas.work,
        oxygen=oxygen,
        carbon_dioxide=carbon_dioxide,
        ratio=ratio,
        plausible=plausible(ratio),
        sides=tuple(
            LimitSide(limit=limit.id, side=side_of(carbon_dioxide, limit.percent, plausible(ratio)))
            for limit in limits
            if limit.of is GasLimitOf.MEAN_INHALED
        ),
    )


def plausible(ratio: Figure) -> Plausible:
    """Say whether two gases can belong together, by the whole interval of their ratio."""
    if ratio.value is None:
        return Plausible.NOT_SCORED
    if ratio.interval is None or ratio.interval.low is None or ratio.interval.high is None:
        return Plausible.UNDECIDED
    if ratio.interval.low > GREATEST_RATIO or ratio.interval.high < LEAST_RATIO:
        return Plausible.IMPOSSIBLE
    return Plausible.POSSIBLE


def side_of(carbon_dioxide: Figure, limit: float, pair: Plausible) -> Side:
    """Say where a measured mean lies to a limit; one of a pair that cannot be right lies nowhere."""
    if pair is Plausible.IMPOSSIBLE:
        return Side.NOT_COMPARED
    assert carbon_dioxide.value is not None, "a measured share has a value"
    low, high = carbon_dioxide.value, carbon_dioxide.value
    if carbon_dioxide.interval is not None:
        low = carbon_dioxide.interval.low if carbon_dioxide.interval.low is not None else low
        high = carbon_dioxide.interval.high if carbon_dioxide.interval.high is not None else high
    if low > limit:
        return Side.ABOVE
    return Side.NOT_ABOVE if high <= limit else Side.UNDECIDED


def _share(gas: str, name: str, share: Quantity, uncertainty: Quantity | NotRecorded) -> Figure:
    field = name.replace("-", "_")
    value, interval = share.to("%"), None
    y = _given("y", f"mean {name.replace('-', ' ')} inhaled", value, "%", f"inhaled_gas[{gas}].{field}")
    if not isinstance(uncertainty, NotRecorded):
        expanded = uncertainty.to("%")
        low, high = stated_interval(value, expanded)
        where = f"inhaled_gas[{gas}].{field}_uncertainty"
        inputs = (y, _given("U", "its expanded uncertainty", expanded, "%", where))
        interval = Interval(
            low=low,
            high=high,
            coverage=COVERAGE,
            method="stated-share-of-gas",
            covers="what the record states as the uncertainty of the measurement; not other wearers or other work",
            working=Working(method="stated-share-of-gas", inputs=inputs),
        )
    return Figure(
        key=f"gas.{gas}.{name}",
        name=f"mean {name.replace('-', ' ')} inhaled",
        value=value,
        unit="%",
        interval=interval,
        no_interval=NO_UNCERTAINTY if interval is None else None,
        sample_size=1,
        sample_of="measurement",
        method="stated-share-of-gas",
        working=Working(method="stated-share-of-gas", inputs=(y,)),
    )


def _ratio(gas: InhaledGas, test: PublishedTest) -> Figure:
    key, name, method = f"gas.{gas.id}.exchange", "carbon dioxide gained over oxygen lost", "gas-exchange-ratio"
    oxygen, carbon_dioxide, room = gas.oxygen.to("%"), gas.carbon_dioxide.to("%"), room_carbon_dioxide(test)
    lost, gained = FRESH_OXYGEN - oxygen, carbon_dioxide - room.value
    k = coverage_factor(None, COVERAGE)
    of_oxygen = _standard(gas.oxygen_uncertainty, k)
    of_carbon_dioxide = _standard(gas.carbon_dioxide_uncertainty, k)
    if lost < LEAST_OXYGEN_LOST or (of_oxygen is not None and lost < UNCERTAINTIES_OF_LOSS * of_oxygen):
        return Figure(
            key=key,
            name=name,
            value=None,
            unit="1",
            sample_size=2,
            sample_of="measurements",
            method=method,
            not_scored=NEAR_FRESH,
        )
    where = f"inhaled_gas[{gas.id}]"
    inputs = (
        _given(r"F_{\mathrm{CO2}}", "carbon dioxide inhaled", carbon_dioxide, "%", f"{where}.carbon_dioxide"),
        _given(r"F_{\mathrm{O2}}", "oxygen inhaled", oxygen, "%", f"{where}.oxygen"),
        room,
        _given("C_{f}", "oxygen of fresh air", FRESH_OXYGEN, "%", "fixed here"),
    )
    interval = None
    if of_oxygen is not None and of_carbon_dioxide is not None:
        low, high = gas_exchange_interval(gained, of_carbon_dioxide, lost, of_oxygen, COVERAGE)
        of_gained = f"{where}.carbon_dioxide_uncertainty"
        parts = (
            _given("n", "carbon dioxide gained", gained, "%", f"{where}.carbon_dioxide"),
            _given("d", "oxygen lost", lost, "%", f"{where}.oxygen"),
            _given("u_{n}", "standard uncertainty of the carbon dioxide gained", of_carbon_dioxide, "%", of_gained),
            _given("u_{d}", "standard uncertainty of the oxygen lost", of_oxygen, "%", f"{where}.oxygen_uncertainty"),
            _given("p", "coverage probability", COVERAGE, "1", "fixed here"),
        )
        interval = Interval(
            low=low,
            high=high,
            coverage=COVERAGE,
            method="gas-exchange-interval",
            covers="the uncertainties of both gases as the record states them; fresh air is taken as exactly known",
            working=Working(method="gas-exchange-interval", inputs=parts),
        )
    return Figure(
        key=key,
        name=name,
        value=gas_exchange_ratio(carbon_dioxide, oxygen, room.value, FRESH_OXYGEN),
        unit="1",
        interval=interval,
        no_interval=NOT_BOTH if interval is None else None,
        sample_size=2,
        sample_of="measurements",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def _standard(uncertainty: Quantity | NotRecorded, k: float) -> float | None:
    """Return a standard uncertainty from an expanded one of 95 % coverage, which records state."""
    return None if isinstance(uncertainty, NotRecorded) else certificate_uncertainty(uncertainty.to("%"), k)


def _given(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
