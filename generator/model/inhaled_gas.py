"""Oxygen and carbon dioxide of inhaled air."""

from __future__ import annotations

from generator.model.base import Frozen, Recorded, Text
from generator.model.configuration import LocalName
from generator.model.quantity import Fraction, Share


class InhaledGas(Frozen):
    """The mean oxygen and carbon dioxide of inhaled air, measured at the mouth over one stretch of time, as dry gas."""

    id: LocalName
    """A name that is unique in the record, such as `blower-off-walking`."""
    blower: Text
    """`off`, or the setting it ran at."""
    work: Text
    """What the wearer, or the breathing machine, did."""
    oxygen: Fraction
    """The mean oxygen of the inhaled air, as a share of dry gas."""
    oxygen_uncertainty: Recorded[Share]
    """Its expanded uncertainty (95 %), as a share of the gas, such as `0.1 %`."""
    carbon_dioxide: Fraction
    """The mean carbon dioxide of the inhaled air, as a share of dry gas."""
    carbon_dioxide_uncertainty: Recorded[Share]
    """Its expanded uncertainty (95 %), as a share of the gas."""
    how: Text
    """How the inhaled part of each breath was told from the exhaled one, and with what."""
