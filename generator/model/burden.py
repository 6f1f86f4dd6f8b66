"""What wearing a device costs: noise, mass, hearing and speaking, sight, fogging, money."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Frozen, Recorded, Text
from generator.model.configuration import LocalName
from generator.model.quantity import Duration, Fraction, Mass, Quantity, SoundLevel, of, quantity_problem

_part_of_a_day = of("time", example="6 h", also="90 min", above=0, at_most=86_400)
PartOfADay = Annotated[Quantity, _part_of_a_day[0], _part_of_a_day[1]]
"""A time of at most a day."""


class NoiseReading(Frozen):
    """The A-weighted sound level inside, at the ear, at one setting."""

    id: LocalName
    """A name that is unique in the record, such as `noise-high`."""
    setting: Text
    """One of the device's settings."""
    where: Text
    """Where the microphone sat, and with what it was measured."""
    level: SoundLevel
    """The level with the blower running."""
    background: Recorded[SoundLevel]
    """The level at the same place with the blower off."""


class CarriedOn(StrEnum):
    """Where on the body something is carried."""

    HEAD = "head"
    """On the head or face."""
    SHOULDERS = "shoulders"
    """On the shoulders."""
    BACK = "back"
    """On the back."""
    WAIST = "waist"
    """At the waist."""
    HAND = "hand"
    """In the hand."""


class CarriedMass(Frozen):
    """A part and where it is carried."""

    what: Text
    """The part."""
    where: CarriedOn
    """Where it is carried."""
    mass: Mass
    """Its mass, with battery and filter where they belong to it."""


class SpeechTest(Frozen):
    """Words understood by a listener, with the device and without it."""

    id: LocalName
    """A name that is unique in the record, such as `words-high`."""
    setting: Text
    """The setting it ran at, or `off`; for devices without blower `none`."""
    method: Text
    """The word lists and how they were read, at which distance and in which noise."""
    words: Annotated[int, Field(ge=1, le=10_000, examples=[50, 100])]
    """Words read with the device, and as many without."""
    choices: Annotated[int, Field(ge=2, le=50, examples=[6, 4])]
    """Words to choose from for each one, so that guesses can be allowed for."""
    understood_with: Annotated[int, Field(ge=0, le=10_000, examples=[43, 88])]
    """Words chosen rightly with the device worn."""
    understood_without: Annotated[int, Field(ge=0, le=10_000, examples=[49, 97])]
    """Words chosen rightly without it."""
    listeners: Annotated[int, Field(ge=1, le=1_000, examples=[1, 5])]
    """How many listened."""
    talkers: Annotated[int, Field(ge=1, le=1_000, examples=[1, 2])]
    """How many talked."""

    @model_validator(mode="after")
    def _no_more_than_read(self) -> SpeechTest:
        most = max(self.understood_with, self.understood_without)
        if most > self.words:
            raise quantity_problem(
                "more-than-read", f"{most} words understood", f"at most {self.words}, as were read", "Correct a number"
            )
        return self


class FieldOfView(Frozen):
    """How much of the free field of view is left."""

    effective: Fraction
    """The share of the field of both eyes together."""
    overlapped: Recorded[Fraction]
    """The share of the field that both eyes see."""
    how: Text
    """How it was measured."""


class FoggingNote(Frozen):
    """Whether the visor fogged."""

    setting: Text
    """The setting it ran at, or `off`; for devices without blower `none`."""
    conditions: Text
    """Air, work and how long."""
    seen: Text
    """What was seen."""


class Use(Frozen):
    """A use for which the cost of an hour is worked out."""

    what: Text
    """Whose use, such as `a volunteer in the smoke season`."""
    hours: Duration
    """Hours of use over its life."""
    reason: Text
    """Why so many."""


class Burden(Frozen):
    """What wearing the device costs."""

    noise: tuple[NoiseReading, ...] = ()
    """Sound levels at the ear."""
    hours_a_day: PartOfADay | None = None
    """For a noise dose: how long a day it is worn."""
    surroundings: SoundLevel | None = None
    """For a noise dose: the level of the place where it is worn, beside the noise of the device; leave it out for the
    dose of the device alone."""
    masses: tuple[CarriedMass, ...] = ()
    """What is carried where."""
    speech: tuple[SpeechTest, ...] = ()
    """Words understood."""
    field_of_view: FieldOfView | None = None
    """How much can be seen."""
    fogging: tuple[FoggingNote, ...] = ()
    """Whether the visor fogged."""
    use: Use | None = None
    """A use for which the cost of an hour is worked out."""
