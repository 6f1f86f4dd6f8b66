"""The zero check of a session, as particles counted in a volume."""

from __future__ import annotations

from generator.model.published import PublishedSession
from generator.model.result import Input, Working
from generator.scoring.fit_factors import count_from_concentration, counted_volume
from generator.scoring.samples import CountingAir, Particles


def zero_particles(session: PublishedSession, air: CountingAir | None) -> Particles | None:
    """Return what the counter counted by itself, or None without a zero check or without single counts."""
    check = session.zero_check
    if check is None or air is None or not air.single_particle:
        return None
    where, seconds = f"fit[{session.id}].zero_check", check.time.to("s")
    volume = counted_volume(air.flow, seconds)
    flow_and_time = (
        Input(symbol="Q", meaning="counted flow", value=air.flow, unit="cm3/min", where=air.where),
        Input(symbol="t", meaning="time of counting", value=seconds, unit="s", where=f"{where}.time"),
    )
    of_volume = Working(method="counted-volume", inputs=flow_and_time)
    if check.concentration is None:
        assert check.count is not None, "the model takes exactly one of the two"
        return Particles(check.count, volume, f"{where}.count", None, f"{where}.time", of_volume)
    read, of_read = check.concentration.to("/cm3"), f"{where}.concentration"
    inputs = (
        Input(symbol="c", meaning="concentration as read", value=read, unit="/cm3", where=of_read),
        Input(symbol="V", meaning="counted volume", value=volume, unit="cm3", where=f"{where}.time", working=of_volume),
    )
    of_count = Working(method="count-from-concentration", inputs=inputs)
    return Particles(count_from_concentration(read, volume), volume, of_read, of_count, f"{where}.time", of_volume)
