"""What scoring gives for what wearing a device costs: noise, words understood, mass, money."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary, Verdict


class NoiseResult(Frozen):
    """The sound at the ear at one setting."""

    reading: str
    """The reading's id in the record."""
    setting: str
    """The blower setting."""
    level: Figure
    """The level of the device alone, in dB(A)."""
    with_surroundings: Figure | None
    """The level of device and surroundings together, in dB(A); null where the record names no surroundings."""
    dose: Figure | None
    """The noise dose of a day, in percent of what is allowed; null where the record names no hours."""
    eight_hour_level: Figure | None
    """The level that makes the same dose in eight hours, in dB(A); null where there is no dose."""
    verdict: Verdict | None
    """The level of the device alone held against a requirement; null where none is on record for its kind."""


class SpeechResult(Frozen):
    """Words understood with the device, of those understood without it."""

    test: str
    """The test's id in the record."""
    setting: str
    """The blower setting, `off`, or `none` for a device without blower."""
    rating: Figure
    """Words understood with the device as a percentage of those understood without it, guesses taken off."""
    verdict: Verdict | None
    """The rating held against a requirement; null where none is on record for its kind."""


class CarriedResult(Frozen):
    """What the wearer carries."""

    total: Figure
    """The mass of all parts, in g."""
    head_share: Figure
    """The share of it on the head, in percent."""


class CostResult(Frozen):
    """What an hour of use costs."""

    an_hour: Figure
    """The cost of an hour; a least one where something is not on record."""
    not_counted: tuple[str, ...]
    """What is not in it because its price, or how long it lasts, is not on record."""


class BurdenResult(TopicResult):
    """What wearing the device costs, by one record."""

    noise: tuple[NoiseResult, ...]
    """Every sound level, in the order of the record."""
    speech: tuple[SpeechResult, ...]
    """Every test of words, in the order of the record."""
    carried: CarriedResult | None
    """What is carried; null where no parts were weighed."""
    cost: CostResult | None
    """What an hour costs; null where no use is named."""


class BurdenSummary(TopicSummary):
    """What wearing the device costs, over its records."""

    loudest: Figure | None
    """The highest level of the device alone; null where none was scored."""
    loudest_record: str | None
    """The record that holds it; null where there is none."""
    least_rating: Figure | None
    """The lowest speech rating; null where none was scored."""
    least_rating_record: str | None
    """The record that holds it; null where there is none."""
