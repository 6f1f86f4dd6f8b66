"""The figures of a hood's mixed air: for every flow run and level of work, and the flow that each level asks for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.model.base import NotRecorded
from generator.model.device import Device
from generator.model.flow_result import FlowRunResult
from generator.model.gas_result import LeastSupply, LevelGas, RunGas, SealedTime
from generator.model.hood import HoodMeasured
from generator.model.published import PublishedTest
from generator.model.result import Figure, Input, Interval, Working
from generator.model.work_gas import StatedGas, WorkGas
from generator.scoring.flow_statistics import flow_at_room_conditions
from generator.scoring.hood_gas import (
    carbon_dioxide_from_oxygen,
    least_supply,
    mixed_hood_carbon_dioxide,
    mixed_hood_oxygen,
    sealed_hood_time,
)

FRESH_OXYGEN = 20.94
"""Oxygen of fresh air, by volume of dry gas. [%]"""
FRESH_CARBON_DIOXIDE = 0.04
"""Carbon dioxide that the room is taken to have where it was not measured. [%]"""
HELD_LIMIT = 1.0
"""The carbon dioxide that the least supply holds, and above which a finding is made. [%]"""
LOW_OXYGEN = 19.5
"""Oxygen below which a finding is made; 42 CFR 84.141 asks as much of supplied air. [%]"""
HIGHEST = 5.0
"""Carbon dioxide up to which the balance is used: beyond, nobody works on as before. [%]"""
SEALED_LIMITS = (1.0, 3.0)
"""What the carbon dioxide in a sealed hood is followed to. [%]"""
TABLE_TEMPERATURE = 273.15
"""The temperature at which production is tabled. [K]"""
TABLE_PRESSURE = 101_000.0
"""The pressure at which production is tabled. [Pa]"""
COVERS = (
    "the uncertainty of the supply flow; not how people differ, nor leaks, nor how well the air in the hood is mixed"
)
TOO_HIGH = "carbon dioxide above five percent by calculation"
NO_AIR = "no air was delivered"
NO_SUPPLY_INTERVAL = "the supply flow has no interval"


def room_carbon_dioxide(test: PublishedTest) -> Input:
    """Return the carbon dioxide of the room's air, as measured or else as assumed."""
    measured = test.environment.carbon_dioxide
    if measured is None or isinstance(measured, NotRecorded):
        meaning, value, where = "carbon dioxide of the room’s air, assumed", FRESH_CARBON_DIOXIDE, "fixed here"
    else:
        meaning, value, where = "carbon dioxide of the room’s air", measured.to("%"), "environment.carbon_dioxide"
    return Input(symbol="C_{a}", meaning=meaning, value=value, unit="%", where=where)


def production_in_room(level: WorkGas, test: PublishedTest) -> Input:
    """Return the carbon dioxide that a person gives off at a level of work, in the air of the room."""
    where = f"carbon_dioxide_generation[{level.id}]"
    tabled = tabled_production(level)
    temperature, pressure = test.environment.temperature.to("K"), test.environment.pressure.to("Pa")
    inputs = (
        tabled.model_copy(update={"symbol": "G_{0}"}),
        _given("T", "room temperature", temperature, "K", "environment.temperature"),
        _given("T_{0}", "temperature that the table refers to", TABLE_TEMPERATURE, "K", "fixed here"),
        _given("p", "room pressure", pressure, "Pa", "environment.pressure"),
        _given("p_{0}", "pressure that the table refers to", TABLE_PRESSURE, "Pa", "fixed here"),
    )
    value = flow_at_room_conditions(tabled.value, TABLE_TEMPERATURE, TABLE_PRESSURE, temperature, pressure)
    return Input(
        symbol="G",
        meaning="carbon dioxide given off, in the air of the room",
        value=value,
        unit="L/min",
        where=where,
        working=Working(method="carbon-dioxide-in-the-room", inputs=inputs),
    )


def tabled_production(level: WorkGas) -> Input:
    """Return the carbon dioxide that a person gives off, at the conditions of the table."""
    where = f"carbon_dioxide_generation[{level.id}]"
    flow = level.flow.to("L/min")
    if level.stated is StatedGas.CARBON_DIOXIDE:
        return _given("G", "carbon dioxide given off, as tabled", flow, "L/min", where)
    inputs = (
        _given(r"V_{\mathrm{O2}}", "oxygen taken up", flow, "L/min", where),
        _given("R", "respiratory quotient", level.quotient, "1", where),
    )
    return Input(
        symbol="G",
        meaning="carbon dioxide given off",
        value=carbon_dioxide_from_oxygen(flow, level.quotient),
        unit="L/min",
        where=where,
        working=Working(method="carbon-dioxide-from-oxygen", inputs=inputs),
    )


def run_gas(run: FlowRunResult, test: PublishedTest, device: Device, levels: Sequence[WorkGas]) -> RunGas:
    """Return the hood's mixed air with the supply of one flow run, at every level of work."""
    protective = device.power.protective_settings if device.power is not None else ()
    return RunGas(
        run=run.run,
        setting=run.setting,
        battery=run.battery,
        filter=run.filter,
        claimed=not protective or run.setting in protective,
        levels=tuple(_level_gas(run, level, test) for level in levels),
    )


@dataclass(frozen=True)
class _Gas:
    """One of the two gases: how its figure is named and computed from a supply."""

    key: str
    name: str
    method: str
    inputs: tuple[Input, ...]
    of_supply: Callable[[float], float]


def _level_gas(run: FlowRunResult, level: WorkGas, test: PublishedTest) -> LevelGas:
    room, production = room_carbon_dioxide(test), production_in_room(level, test)
    quotient = _given("R", "respiratory quotient", level.quotient, "1", f"carbon_dioxide_generation[{level.id}]")
    fresh = _given("C_{f}", "oxygen of fresh air", FRESH_OXYGEN, "%", "fixed here")
    carbon_dioxide = _Gas(
        f"gas.{run.run}.{level.id}-carbon-dioxide",
        f"mean carbon dioxide of the hood’s air, {level.name}; not that of inhaled air",
        "mixed-hood-carbon-dioxide",
        (room, production),
        lambda supply: mixed_hood_carbon_dioxide(room.value, production.value, supply),
    )
    oxygen = _Gas(
        f"gas.{run.run}.{level.id}-oxygen",
        f"mean oxygen of the hood’s air, {level.name}; not that of inhaled air",
        "mixed-hood-oxygen",
        (fresh, production, quotient),
        lambda supply: mixed_hood_oxygen(fresh.value, production.value, quotient.value, supply),
    )
    supply = run.mean.interval
    least = supply.low if supply is not None else None
    most = supply.high if supply is not None else None
    reason = _not_scored(run, carbon_dioxide)
    return LevelGas(
        level=level.id,
        carbon_dioxide=_mixed(carbon_dioxide, run, reason),
        oxygen=_mixed(oxygen, run, reason),
        # Decided on the supply that is best for the wearer, whether or not the mean is within the balance's range.
        above_one_percent=least is not None
        and most is not None
        and (most <= 0 or carbon_dioxide.of_supply(most) > HELD_LIMIT),
        oxygen_low=least is not None and most is not None and (most <= 0 or oxygen.of_supply(most) < LOW_OXYGEN),
    )


def _not_scored(run: FlowRunResult, carbon_dioxide: _Gas) -> str | None:
    if run.mean.value is None:
        return run.mean.not_scored
    if run.mean.value <= 0:
        return NO_AIR
    return TOO_HIGH if carbon_dioxide.of_supply(run.mean.value) > HIGHEST else None


def _mixed(gas: _Gas, run: FlowRunResult, reason: str | None) -> Figure:
    mean = run.mean.value
    if mean is None or reason is not None:
        return Figure(
            key=gas.key,
            name=gas.name,
            value=None,
            unit="%",
            sample_size=1,
            sample_of="mean flow",
            method=gas.method,
            not_scored=reason,
        )
    supply = _given("Q", "mean supply flow", mean, "L/min", f"flow[{run.run}]: {run.mean.key}")
    interval = _interval(gas, run.mean)
    return Figure(
        key=gas.key,
        name=gas.name,
        value=gas.of_supply(mean),
        unit="%",
        interval=interval,
        no_interval=NO_SUPPLY_INTERVAL if interval is None else None,
        sample_size=1,
        sample_of="mean flow",
        method=gas.method,
        working=Working(method=gas.method, inputs=(*gas.inputs, supply)),
    )


def _interval(gas: _Gas, supply: Figure) -> Interval | None:
    """Return the gas at the ends of the supply's interval; a supply that may be none leaves one side open."""
    if supply.interval is None:
        return None
    ends = [
        gas.of_supply(end) if end is not None and end > 0 else None
        for end in (supply.interval.low, supply.interval.high)
    ]
    low, high = (ends[0], ends[1]) if gas.method == "mixed-hood-oxygen" else (ends[1], ends[0])
    return Interval(low=low, high=high, coverage=supply.interval.coverage, method=gas.method, covers=COVERS)


def least_supplies(test: PublishedTest, levels: Sequence[WorkGas]) -> tuple[LeastSupply, ...]:
    """Return the flow that each level of work asks for."""
    return tuple(LeastSupply(level=level.id, supply=_least(test, level)) for level in levels)


def _least(test: PublishedTest, level: WorkGas) -> Figure:
    room, production = room_carbon_dioxide(test), production_in_room(level, test)
    key, name, method = f"gas.hood.{level.id}-least", f"least supply that holds 1 %, {level.name}", "least-supply"
    if room.value >= HELD_LIMIT:
        reason = "the room’s own air has 1 % or more"
        return Figure(
            key=key,
            name=name,
            value=None,
            unit="L/min",
            sample_size=1,
            sample_of="level of work",
            method=method,
            not_scored=reason,
        )
    limit = _given(r"C_{\mathrm{lim}}", "the carbon dioxide that is held", HELD_LIMIT, "%", "fixed here")
    return Figure(
        key=key,
        name=name,
        value=least_supply(room.value, production.value, HELD_LIMIT),
        unit="L/min",
        no_interval="how people differ is not known from this test",
        sample_size=1,
        sample_of="level of work",
        method=method,
        working=Working(method=method, inputs=(room, production, limit)),
    )


def sealed_times(test: PublishedTest, hood: HoodMeasured, levels: Sequence[WorkGas]) -> tuple[SealedTime, ...]:
    """Return how fast carbon dioxide would rise in the hood if it were sealed, at the everyday levels of work."""
    room = room_carbon_dioxide(test)
    return tuple(
        SealedTime(level=level.id, percent=limit, time=_sealed(test, hood, level, room, limit))
        for level in levels
        for limit in SEALED_LIMITS
        if level.everyday and room.value < limit
    )


def _sealed(test: PublishedTest, hood: HoodMeasured, level: WorkGas, room: Input, limit: float) -> Figure:
    production, volume = production_in_room(level, test), hood.volume.to("L")
    inputs = (
        _given("V", "air in the hood", volume, "L", "hood.volume"),
        room.model_copy(update={"symbol": "C_{0}"}),
        _given(r"C_{\mathrm{lim}}", "the carbon dioxide that is reached", limit, "%", "fixed here"),
        production,
    )
    return Figure(
        key=f"gas.hood.{level.id}-sealed-to-{limit:g}",
        name=f"time to {limit:g} % in a sealed hood, {level.name}; an illustration",
        value=sealed_hood_time(volume, room.value, limit, production.value),
        unit="s",
        no_interval="an illustration: no hood is sealed, and the volume has no uncertainty on record",
        sample_size=1,
        sample_of="level of work",
        method="sealed-hood-time",
        working=Working(method="sealed-hood-time", inputs=inputs),
    )


def _given(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
