"""The zero check of a session, as particles counted in a volume."""

from __future__ import annotations

from generator.model.published import PublishedSession
from generator.scoring.samples import CountingAir, Particles, particles_behind, particles_counted


def zero_particles(session: PublishedSession, air: CountingAir | None) -> Particles | None:
    """Return what the counter counted by itself, or None without a zero check or without single counts."""
    check = session.zero_check
    if check is None or air is None or not air.single_particle:
        return None
    where, seconds = f"fit[{session.id}].zero_check", check.time.to("s")
    if check.concentration is not None:
        read = check.concentration.to("/cm3")
        return particles_behind(read, f"{where}.concentration", seconds, f"{where}.time", air)
    assert check.count is not None, "the model takes exactly one of the two"
    return particles_counted(check.count, f"{where}.count", seconds, f"{where}.time", air)
