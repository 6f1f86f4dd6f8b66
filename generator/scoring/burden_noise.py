"""The sound at the ear as figures: of the device alone, with its surroundings, and as a dose of a day."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.burden import Burden, NoiseReading
from generator.model.burden_result import NoiseResult
from generator.model.device import Device
from generator.model.published import PublishedCatalogue
from generator.model.reference import CriterionQuantity
from generator.model.result import Figure, Input, Verdict, Working
from generator.scoring.noise_dose import (
    HIGHEST_TABLED,
    LOWEST_TABLED,
    eight_hour_level,
    noise_dose,
    reference_duration,
)
from generator.scoring.noise_levels import LEAST_ABOVE_BACKGROUND, level_without_background, summed_level
from generator.scoring.requirements import criteria_for, strictest, verdict_on

UNIT = "dB(A)"
NO_UNCERTAINTY = "the uncertainty of the sound level meter is not on record"
BACKGROUND_NOT_RECORDED = "the background was not recorded"
BACKGROUND_TOO_NEAR = f"background too near: less than {LEAST_ABOVE_BACKGROUND:g} dB below the level"
BELOW_THE_TABLE = f"below {LOWEST_TABLED:g} dB(A), where the rule's table begins"
ABOVE_THE_TABLE = f"above {HIGHEST_TABLED:g} dB(A), where the rule's table ends"


def noise_results(burden: Burden, device: Device, catalogue: PublishedCatalogue) -> tuple[NoiseResult, ...]:
    """Score every sound level of a record, in its order."""
    return tuple(_score(reading, burden, device, catalogue) for reading in burden.noise)


def _score(reading: NoiseReading, burden: Burden, device: Device, catalogue: PublishedCatalogue) -> NoiseResult:
    level = level_figure(reading)
    together = _with_surroundings(reading, level, burden)
    dose = _dose(reading, level if together is None or level.value is None else together, burden)
    return NoiseResult(
        reading=reading.id,
        setting=reading.setting,
        level=level,
        with_surroundings=together,
        dose=dose,
        eight_hour_level=_eight_hours(reading, dose),
        verdict=_verdict(reading, level, device, catalogue),
    )


def level_figure(reading: NoiseReading) -> Figure:
    """Return the level that the device makes alone, or why it cannot be told."""
    key, name, method = f"burden.{reading.id}.level", "sound level of the device alone", "level-without-background"
    level, background = reading.level.to(UNIT), reading.background
    if isinstance(background, NotRecorded):
        return _not_scored(key, name, UNIT, method, BACKGROUND_NOT_RECORDED)
    off = background.to(UNIT)
    if level - off < LEAST_ABOVE_BACKGROUND:
        return _not_scored(key, name, UNIT, method, BACKGROUND_TOO_NEAR)
    where = f"burden.noise[{reading.id}]"
    inputs = (
        Input(symbol="L", meaning="level at the ear, blower running", value=level, unit=UNIT, where=f"{where}.level"),
        Input(
            symbol=r"L_{\mathrm{b}}",
            meaning="level at the same place, blower off",
            value=off,
            unit=UNIT,
            where=f"{where}.background",
        ),
    )
    return _scored(key, name, level_without_background(level, off), UNIT, method, inputs)


def _with_surroundings(reading: NoiseReading, level: Figure, burden: Burden) -> Figure | None:
    if burden.surroundings is None:
        return None
    key, name = f"burden.{reading.id}.with_surroundings", "sound level with the surroundings"
    if level.value is None:
        return _not_scored(key, name, UNIT, "summed-level", _unknown(level))
    around = burden.surroundings.to(UNIT)
    inputs = (
        _of_figure("L_{1}", "level of the device alone", level, reading),
        Input(
            symbol="L_{2}",
            meaning="level of the surroundings, as if the device let all of it through",
            value=around,
            unit=UNIT,
            where="burden.surroundings",
        ),
    )
    return _scored(key, name, summed_level([level.value, around]), UNIT, "summed-level", inputs)


def _dose(reading: NoiseReading, level: Figure, burden: Burden) -> Figure | None:
    if burden.hours_a_day is None:
        return None
    key, name = f"burden.{reading.id}.dose", "noise dose of a day"
    if level.value is None:
        return _not_scored(key, name, "%", "noise-dose", _unknown(level))
    if level.value < LOWEST_TABLED:
        return _not_scored(key, name, "%", "noise-dose", BELOW_THE_TABLE)
    if level.value > HIGHEST_TABLED:
        return _not_scored(key, name, "%", "noise-dose", ABOVE_THE_TABLE)
    hours, allowed = burden.hours_a_day.to("h"), reference_duration(level.value)
    of_level = Working(method="reference-duration", inputs=(_of_figure("L", level.name, level, reading),))
    inputs = (
        Input(symbol="C", meaning="hours of wearing in a day", value=hours, unit="h", where="burden.hours_a_day"),
        Input(
            symbol="T",
            meaning="reference duration of the level",
            value=allowed,
            unit="h",
            where=f"burden.noise[{reading.id}]",
            working=of_level,
        ),
    )
    return _scored(key, name, noise_dose(hours, allowed), "%", "noise-dose", inputs)


def _eight_hours(reading: NoiseReading, dose: Figure | None) -> Figure | None:
    if dose is None or dose.value is None:
        return None
    return _scored(
        f"burden.{reading.id}.eight_hours",
        "level that makes the same dose in eight hours",
        eight_hour_level(dose.value),
        UNIT,
        "eight-hour-level",
        (_of_figure("D", dose.name, dose, reading),),
    )


def _verdict(reading: NoiseReading, level: Figure, device: Device, catalogue: PublishedCatalogue) -> Verdict | None:
    criteria = criteria_for(CriterionQuantity.NOISE, device, catalogue)
    if not criteria:
        return None
    key = f"burden.{reading.id}.verdict"
    return verdict_on(key, level, strictest(criteria), benchmark_only=device.home_built)


def _unknown(level: Figure) -> str:
    return f"the level of the device alone is not known: {level.not_scored}"


def _of_figure(symbol: str, meaning: str, figure: Figure, reading: NoiseReading) -> Input:
    assert figure.value is not None
    where = f"burden.noise[{reading.id}]: {figure.key}"
    return Input(symbol=symbol, meaning=meaning, value=figure.value, unit=figure.unit, where=where)


def _scored(key: str, name: str, value: float, unit: str, method: str, inputs: tuple[Input, ...]) -> Figure:
    return Figure(
        key=key,
        name=name,
        value=value,
        unit=unit,
        no_interval=NO_UNCERTAINTY,
        sample_size=1,
        sample_of="reading",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def _not_scored(key: str, name: str, unit: str, method: str, reason: str) -> Figure:
    return Figure(
        key=key, name=name, value=None, unit=unit, sample_size=1, sample_of="reading", method=method, not_scored=reason
    )
