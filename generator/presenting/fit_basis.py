"""What a fit factor is made from and how much of a protocol it stands for, in words."""

from __future__ import annotations

from generator.model.fit_result import Basis, DataLevel
from generator.model.reference import Principle, Protocol

DRAWN_IN = "of the air drawn in at a set pressure, not of particles"
_MADE_FROM = {
    DataLevel.RAW_LOG: "A raw log of readings, cut into exercises here.",
    DataLevel.COUNTS: "Particles counted one by one, in a known volume of air.",
    DataLevel.CONCENTRATIONS: "Mean concentrations as read; how many particles were counted is not on record.",
    DataLevel.EXERCISE_FACTORS: "Factors of exercises as the instrument gave them; what they rest on is not on record.",
    DataLevel.OVERALL_ONLY: "One overall factor as given; neither exercises nor readings are on record.",
}
_LEVEL_OF_MANY = {
    DataLevel.RAW_LOG: "a raw log",
    DataLevel.COUNTS: "counts of particles",
    DataLevel.CONCENTRATIONS: "concentrations",
    DataLevel.EXERCISE_FACTORS: "factors of exercises as given",
    DataLevel.OVERALL_ONLY: "an overall factor as given",
}
_BASIS = {
    Basis.WHOLE_PROTOCOL: "",
    Basis.PARTIAL: "part of the exercises only",
    Basis.OVERALL_ONLY: "overall factor as given, nothing else on record",
}


def made_from_text(level: DataLevel, protocol: Protocol) -> str:
    """Say what a session's factors are made from."""
    if protocol.principle is Principle.CONTROLLED_NEGATIVE_PRESSURE:
        return f"{_MADE_FROM[level]} They are {DRAWN_IN}: they say nothing of the filter, and are no inward leakage."
    return _MADE_FROM[level]


def level_words(level: DataLevel) -> str:
    """Name a level of data where several are listed."""
    return _LEVEL_OF_MANY[level]


def basis_words(basis: Basis) -> str:
    """Say what a factor stands for where that is not a whole protocol; nothing where it is."""
    return _BASIS[basis]
