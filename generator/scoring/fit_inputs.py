"""The numbers that go into a fit session's figures, each with the place where it stands."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.result import Input, Working
from generator.scoring.samples import AirSample, Measured, Particles


def count_inputs(
    measured: Sequence[Measured],
    particles: Sequence[Particles],
    ambient_meaning: str,
    ambient_symbol: str,
    ambients: Sequence[float],
) -> tuple[Input, ...]:
    """Return the counts, volumes and ambient concentrations of exercises, numbered from one."""
    inputs: list[Input] = []
    for number, (item, counted, ambient) in enumerate(zip(measured, particles, ambients, strict=True), start=1):
        exercise = f", exercise {number}"
        inputs += [
            count_input(f"n_{{{number}}}", f"particles counted in the mask{exercise}", counted),
            volume_input(f"V_{{{number}}}", f"volume counted in the mask{exercise}", counted),
            ambient_input(f"{ambient_symbol}_{{{number}}}", f"{ambient_meaning}{exercise}", ambient, item),
        ]
    return tuple(inputs)


def count_input(symbol: str, meaning: str, particles: Particles) -> Input:
    """Return a count of particles."""
    return Input(
        symbol=symbol,
        meaning=meaning,
        value=particles.count,
        unit="count",
        where=particles.count_where,
        working=particles.count_working,
    )


def volume_input(symbol: str, meaning: str, particles: Particles) -> Input:
    """Return a counted volume."""
    return Input(
        symbol=symbol,
        meaning=meaning,
        value=particles.volume,
        unit="cm3",
        where=particles.volume_where,
        working=particles.volume_working,
    )


def zero_inputs(zero: Particles | None) -> tuple[Input, ...]:
    """Return what was counted in the zero check, or nothing without one."""
    if zero is None:
        return ()
    return (
        count_input("z", "particles counted in the zero check", zero),
        volume_input("Z", "volume counted in the zero check", zero),
    )


def ambient_input(symbol: str, meaning: str, value: float, measured: Measured) -> Input:
    """Return a concentration taken from the ambient samples of an exercise."""
    where = f"{measured.before.where} and {measured.after.where}"
    return Input(symbol=symbol, meaning=meaning, value=value, unit="/cm3", where=where)


def concentration_input(symbol: str, meaning: str, sample: AirSample) -> Input:
    """Return a concentration as read, or as derived from a count."""
    return Input(
        symbol=symbol,
        meaning=meaning,
        value=sample.concentration,
        unit="/cm3",
        where=sample.where,
        working=sample.working,
    )


def before_and_after_inputs(measured: Measured) -> tuple[Input, Input]:
    """Return the two ambient samples of an exercise."""
    return (
        concentration_input(r"C_{\mathrm{before}}", "ambient concentration before", measured.before),
        concentration_input(r"C_{\mathrm{after}}", "ambient concentration after", measured.after),
    )


def exercise_ambient(measured: Measured) -> Input:
    """Return the ambient concentration that an exercise is compared with, and how it comes about."""
    if measured.during:
        return concentration_input("C", "mean ambient concentration during it", measured.before)
    return Input(
        symbol="C",
        meaning="mean ambient concentration",
        value=measured.ambient,
        unit="/cm3",
        where=f"mean of {measured.before.where} and {measured.after.where}",
        working=Working(method="ambient-mean", inputs=before_and_after_inputs(measured)),
    )
