"""The air of the room during a test, and the particles that were counted in it."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen, Recorded
from generator.model.quantity import (
    AirPressure,
    Fraction,
    PressureUncertainty,
    Temperature,
    TemperatureUncertainty,
)


class Aerosol(StrEnum):
    """The particles that were counted."""

    ROOM_AIR = "room_air"
    """The particles that were in the room's air; nothing was sprayed."""
    SALT = "salt"
    """Particles of salt, sprayed for the test."""
    OIL = "oil"
    """Droplets of oil, sprayed for the test."""


class Environment(Frozen):
    """The air of the room during the test."""

    temperature: Temperature
    """The temperature of the room."""
    pressure: AirPressure
    """The pressure of the air in the room, absolute and not reduced to sea level."""
    temperature_uncertainty: TemperatureUncertainty | None = None
    """The expanded uncertainty (95 %) of that temperature over the test, in kelvin."""
    pressure_uncertainty: PressureUncertainty | None = None
    """The expanded uncertainty (95 %) of that pressure."""
    humidity: Recorded[Fraction]
    """The relative humidity."""
    carbon_dioxide: Recorded[Fraction] | None = None
    """The carbon dioxide in the room's air, where it was measured."""
