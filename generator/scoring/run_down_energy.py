"""The energy that a run-down took from its battery: over the run time, for 1000 L of air, and until the stop."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.device import Device
from generator.model.quantity import Quantity
from generator.model.result import Figure, Input, Relation, Working
from generator.model.run_down import RunEnd
from generator.scoring.blower_energy import (
    delivered_volume,
    electrical_energy,
    energy_for_cubic_metre,
    share_of_stated_energy,
)
from generator.scoring.run_down import SECONDS_PER_MINUTE, elapsed_time
from generator.scoring.run_down_figures import key_of
from generator.scoring.run_down_flow import LoggedFlow

NO_UNCERTAINTY = "the uncertainty of voltage and current is not on record"
NO_RUN_TIME = "no run time is scored that it could be counted for"
NO_TIME = "the flow was never at the required one"
NO_ENERGY = "the current as logged is not that of a battery that gives energy"


@dataclass(frozen=True)
class EnergyFigures:
    """The figures of a run-down that has voltage and current."""

    energy: Figure
    for_cubic_metre: Figure
    share_of_stated: Figure | None


def energy_figures(logged: LoggedFlow, time: Figure, device: Device) -> EnergyFigures | None:
    """Return what the blower took from its battery, or None where voltage and current were not logged."""
    voltages, currents = logged.series.voltage_v, logged.series.current_a
    if voltages is None or currents is None:
        return None
    reason = None
    if time.value is None:
        reason = NO_RUN_TIME
    elif not time.value:
        reason = NO_TIME
    end = logged.times[0] + (time.value or 0.0) * SECONDS_PER_MINUTE
    # Minutes and back may lead a last digit past the end of the log.
    counted = _energy(logged, voltages, currents, min(end, logged.times[-1]))
    whole = _energy(logged, voltages, currents, logged.times[-1])
    share = _share(logged, whole, device)
    if reason is None and counted.value < 0:
        reason = NO_ENERGY
    if reason is not None:
        return EnergyFigures(
            _figure(logged, "energy", _ENERGY, None, None, not_scored=reason),
            _figure(logged, "energy_for_cubic_metre", _FOR_AIR, None, None, not_scored=reason),
            share,
        )
    volume = _volume(logged, min(end, logged.times[-1]))
    assert counted.working is not None, "an energy has its working"
    return EnergyFigures(
        _figure(logged, "energy", _ENERGY, counted.value, counted.working),
        _figure(
            logged,
            "energy_for_cubic_metre",
            _FOR_AIR,
            energy_for_cubic_metre(counted.value, volume.value),
            Working(method="energy-for-cubic-metre", inputs=(counted, volume)),
        ),
        share,
    )


_ENERGY = "energy from the battery during the run time"
_FOR_AIR = "energy for 1000 L of air during the run time"
_SHARE = "energy until the blower stopped, of what the maker states"


def _share(logged: LoggedFlow, whole: Input, device: Device) -> Figure | None:
    """Return the share of the stated energy; only a blower that stopped tells what its battery gave."""
    stated = device.power.energy if device.power is not None else None
    if not isinstance(stated, Quantity) or logged.run_down.ended is not RunEnd.BLOWER_STOPPED:
        return None
    if whole.value < 0:
        return _figure(logged, "share_of_stated_energy", _SHARE, None, None, unit="%", not_scored=NO_ENERGY)
    said = Input(
        symbol=r"E_{\mathrm{s}}",
        meaning="energy of a full battery by its maker's statement",
        value=stated.to("Wh"),
        unit="Wh",
        where=f"devices/{device.id}: power.energy",
    )
    working = Working(method="share-of-stated-energy", inputs=(whole, said))
    share = share_of_stated_energy(whole.value, said.value)
    return _figure(logged, "share_of_stated_energy", _SHARE, share, working, unit="%")


def _figure(
    logged: LoggedFlow,
    name: str,
    words: str,
    value: float | None,
    working: Working | None,
    unit: str = "Wh",
    not_scored: str | None = None,
) -> Figure:
    methods = {"energy": "electrical-energy", "energy_for_cubic_metre": "energy-for-cubic-metre"}
    return Figure(
        key=key_of(logged, name),
        name=words,
        value=value,
        unit=unit,
        relation=Relation.EQUAL,
        no_interval=NO_UNCERTAINTY if value is not None else None,
        sample_size=len(logged.times),
        sample_of="lines of the log",
        method=methods.get(name, "share-of-stated-energy"),
        working=working,
        not_scored=not_scored,
    )


def _energy(logged: LoggedFlow, voltages: tuple[float, ...], currents: tuple[float, ...], end: float) -> Input:
    working = Working(method="electrical-energy", inputs=_counted(logged, end))
    value = electrical_energy(logged.times, voltages, currents, end)
    return Input(symbol="E", meaning="energy", value=value, unit="Wh", where=logged.where, working=working)


def _volume(logged: LoggedFlow, end: float) -> Input:
    working = Working(method="delivered-volume", inputs=_counted(logged, end))
    value = delivered_volume(logged.times, logged.flows, end)
    return Input(symbol="V", meaning="air delivered", value=value, unit="L", where=logged.where, working=working)


def _counted(logged: LoggedFlow, end: float) -> tuple[Input, ...]:
    lines = sum(time < end for time in logged.times) + 1
    return (
        Input(symbol="n", meaning="lines of the log up to the end", value=lines, unit="count", where=logged.where),
        Input(
            symbol="T",
            meaning="time that is counted",
            value=elapsed_time(logged.times[0], end),
            unit="min",
            where=logged.where,
        ),
    )
