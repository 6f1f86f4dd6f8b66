"""What is said of a difference, word for word, for every case there is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import pytest

from generator.model.difference_result import Apart, Decision, FactorDifference, People
from generator.model.result import Figure, Interval
from generator.presenting.difference_words import (
    SideWords,
    chance_text,
    decision_lines,
    people_lines,
    ratio_lines,
    short_answer,
    sure_lines,
)

DEVICES = SideWords("with Alder", "with Birch", "The two", "wore both", "of this comparison")
CHANGE = SideWords("after the change", "before the change", "Before and after", "wore it before and after", "of it")
SAME = "ABCDEF"
NARROW = "\N{NARROW NO-BREAK SPACE}"


def figure(name: str, value: float | None, size: int, interval: Sequence[float] = (), **said: Any) -> Figure:
    method = "made-for-a-test"
    limits = (
        Interval(low=interval[0], high=interval[1], coverage=0.95, method=method, covers="a test") if interval else None
    )
    return Figure(
        key=f"difference-alder-birch{name}",
        name="a figure",
        value=value,
        unit="1",
        interval=limits,
        sample_size=size,
        sample_of="wearers in common",
        method=method,
        **said,
    )


def paired(
    ratio: float,
    interval: Sequence[float],
    chance: float | None,
    apart: Apart | None,
    wearers: str = SAME,
    adjusted: float | None = None,
    among: int = 1,
    better: Figure | None = None,
) -> FactorDifference:
    pairs = len(wearers)
    return FactorDifference(
        people=People.SAME_WEARERS,
        wearers=tuple(wearers),
        first_only=(),
        second_only=(),
        ratio=figure("", ratio, pairs, interval),
        chance=figure(".chance", chance, pairs, not_scored=None if chance is not None else "too many wearers"),
        least_chance=figure(".least", 2 / 2**pairs, pairs),
        adjusted_chance=None if apart is None else figure(".adjusted", chance if adjusted is None else adjusted, among),
        better_for_new_wearer=better,
        decision=None if apart is None else decided(apart),
    )


def unpaired(
    ratio: float, interval: Sequence[float], chance: float, apart: Apart, common: str = ""
) -> FactorDifference:
    return FactorDifference(
        people=People.OTHER_WEARERS,
        wearers=tuple(common),
        first_only=("A", "B", "C"),
        second_only=("D", "E", "F", "G"),
        ratio=figure("", ratio, 7, interval),
        chance=figure(".chance", chance, 7),
        adjusted_chance=figure(".adjusted", chance, 1),
        decision=decided(apart),
    )


def decided(apart: Apart) -> Decision:
    return Decision(apart=apart, level=0.05, method="told-apart", working=None)


HIGHER, LOWER, ALIKE = Apart.FIRST_HIGHER, Apart.SECOND_HIGHER, Apart.CANNOT_BE_TOLD_APART
NOT_EQUAL = "cannot be told apart, which is not the same as equal."
START = "If there were no difference at all, chance alone would set the two this far apart or further"
START_OTHERS = "If there were no difference at all, chance alone would set such people this far apart or further"
EITHER = "The interval includes 1, so that either may have the higher fit factor."
RARELY = "The whole interval lies on one side of 1, and chance alone does that rarely: the probability,"
SIX_PAIRS = "with six wearers it cannot go below 0.031."


@pytest.mark.parametrize(
    ("found", "words", "sentences"),
    [
        (
            paired(2.5, (1.4, 4.1), 0.03125, HIGHER),
            DEVICES,
            [
                "On these wearers the fit factor was higher with Alder than with Birch. "
                f"{RARELY} 0.031, is not above 0.05.",
                f"{START} with a probability of 0.031; {SIX_PAIRS}",
            ],
        ),
        (
            paired(0.4, (0.2, 0.7), 0.03125, LOWER),
            DEVICES,
            [
                "On these wearers the fit factor was higher with Birch than with Alder. "
                f"{RARELY} 0.031, is not above 0.05.",
                f"{START} with a probability of 0.031; {SIX_PAIRS}",
            ],
        ),
        (
            paired(1.2, (0.6, 2.3), 0.5, ALIKE),
            DEVICES,
            [
                f"The two {NOT_EQUAL} {EITHER}",
                f"{START} with a probability of 0.50; {SIX_PAIRS}",
            ],
        ),
        (
            paired(2.5, (1.4, 4.1), 0.03125, ALIKE, adjusted=0.09375, among=3),
            DEVICES,
            [
                f"The two {NOT_EQUAL} The interval lies on one side of 1, but chance alone does that too often: the "
                "adjusted probability, 0.094, is above 0.05.",
                f"{START} with a probability of 0.031; {SIX_PAIRS}",
                "Of several differences, one may look large by chance. "
                "Adjusted for the three differences of this comparison: 0.094.",
            ],
        ),
        (
            paired(2.5, (1.4, 4.1), 0.0625, ALIKE),
            DEVICES,
            [
                f"The two {NOT_EQUAL} The interval lies on one side of 1, but chance alone does that too often: the "
                "probability, 0.063, is above 0.05.",
                f"{START} with a probability of 0.063; {SIX_PAIRS}",
            ],
        ),
        (
            paired(9.0, (4.0, 20.0), 0.0625, ALIKE, wearers="ABCDE"),
            CHANGE,
            [
                f"Before and after {NOT_EQUAL} The interval lies on one side of 1, but five wearers are too few to "
                "tell anything apart: even where all differ the same way, chance alone does that too often.",
                f"{START} with a probability of 0.063; with five wearers it cannot go below 0.063.",
            ],
        ),
        (
            paired(1.3, (0.6, 2.9), 0.5, ALIKE, wearers="ABC"),
            DEVICES,
            [
                f"The two {NOT_EQUAL} Three wearers are too few to tell anything apart: even where all differ the same "
                "way, chance alone does that too often.",
                f"{START} with a probability of 0.50; with three wearers it cannot go below 0.25.",
            ],
        ),
        (
            paired(2.5, (1.4, 4.1), None, None),
            DEVICES,
            ["Nothing is decided. The exact test is not made: too many wearers."],
        ),
        (
            paired(2.5, (1.4, 4.1), 0.03125, HIGHER, better=figure(".new-wearer", 0.9, 6, (0.6612, 0.9831))),
            CHANGE,
            [
                "On these wearers the fit factor was higher after the change than before the change. "
                f"{RARELY} 0.031, is not above 0.05.",
                f"{START} with a probability of 0.031; {SIX_PAIRS}",
                "A new wearer like these gets the higher fit factor after the change with a probability of "
                f"90{NARROW}% (95 % interval 66{NARROW}% to 99{NARROW}%).",
            ],
        ),
        (
            paired(1.2, (0.6, 2.3), 0.5, ALIKE, better=figure(".new-wearer", 0.9999, 6, (0.004, 1.0))),
            DEVICES,
            [
                f"The two {NOT_EQUAL} {EITHER}",
                f"{START} with a probability of 0.50; {SIX_PAIRS}",
                "A new wearer like these gets the higher fit factor with Alder with a probability of above "
                f"99{NARROW}% (95 % interval below 1{NARROW}% to above 99{NARROW}%).",
            ],
        ),
        (
            paired(1.2, (0.6, 2.3), 0.5, ALIKE, better=figure(".new-wearer", None, 6, not_scored="all the same")),
            DEVICES,
            [
                f"The two {NOT_EQUAL} {EITHER}",
                f"{START} with a probability of 0.50; {SIX_PAIRS}",
                "Nothing is said of a new wearer: all the same.",
            ],
        ),
        (
            unpaired(3.0, (1.5, 6.0), 0.0004, HIGHER),
            DEVICES,
            [
                "On these wearers the fit factor was higher with Alder than with Birch. "
                f"{RARELY} below 0.001, is not above 0.05.",
                f"{START_OTHERS} with a probability of below 0.001.",
            ],
        ),
        (
            unpaired(1.1, (0.5, 2.4), 0.8, ALIKE),
            CHANGE,
            [
                f"Before and after {NOT_EQUAL} {EITHER}",
                f"{START_OTHERS} with a probability of 0.80.",
            ],
        ),
    ],
)
def test_what_follows(found: FactorDifference, words: SideWords, sentences: list[str]) -> None:
    lines = [*decision_lines(found, words), *sure_lines(found, words)]
    assert [" ".join(text for text in (line.text, line.note) if text) for line in lines] == sentences
    answer = sentences[0]
    if found.decision is not None and found.decision.apart is not ALIKE:
        answer = answer.partition(" The whole interval")[0]
    assert short_answer(found, words) == answer
    names = [(line.id or "").removeprefix("difference-alder-birch.") for line in lines]
    assert names == [name for name in ("apart", "chance", "adjusted", "new-wearer") if name in names]


LESS = "That tells less than the same people on both sides."


@pytest.mark.parametrize(
    ("found", "words", "sentences"),
    [
        (paired(1.2, (0.6, 2.3), 0.5, ALIKE), DEVICES, ["The same six wearers wore both: A, B, C, D, E and F."]),
        (
            paired(1.2, (0.6, 2.3), 0.5, ALIKE, wearers="ABC"),
            CHANGE,
            ["The same three wearers wore it before and after: A, B and C."],
        ),
        (
            unpaired(1.1, (0.5, 2.4), 0.8, ALIKE),
            DEVICES,
            [f"Different people: A, B and C with Alder, D, E, F and G with Birch. {LESS}"],
        ),
        (
            unpaired(1.1, (0.5, 2.4), 0.8, ALIKE, common="H"),
            DEVICES,
            [
                f"Different people: A, B and C with Alder, D, E, F and G with Birch. {LESS}",
                "Wearer H wore both and is left out: this way of comparing holds for different people only.",
            ],
        ),
        (
            unpaired(1.1, (0.5, 2.4), 0.8, ALIKE, common="HI"),
            CHANGE,
            [
                f"Different people: A, B and C after the change, D, E, F and G before the change. {LESS}",
                "Wearers H and I wore it before and after and are left out: this way of comparing holds for different "
                "people only.",
            ],
        ),
    ],
)
def test_whose_fit_factors_they_are(found: FactorDifference, words: SideWords, sentences: list[str]) -> None:
    assert [line.note for line in people_lines(found, words)] == sentences


@pytest.mark.parametrize(
    ("ratio", "interval", "lines"),
    [
        (2.5, (1.4, 4.1), [("2.5 times", "95 % interval 1.4 to 4.1")]),
        (
            0.5,
            (0.2, 0.9),
            [("0.50 times", "95 % interval 0.20 to 0.90"), ("", "With Alder it was half of that with Birch.")],
        ),
    ],
)
def test_how_many_times(ratio: float, interval: Sequence[float], lines: list[tuple[str, str]]) -> None:
    found = paired(ratio, interval, 0.5, ALIKE)
    assert [(line.text, line.note) for line in ratio_lines(found, DEVICES, "page#working")] == lines


@pytest.mark.parametrize(
    ("probability", "text"),
    [
        (1.0, "1"),
        (0.9996, "above 0.999"),
        (0.8594, "0.86"),
        (0.25, "0.25"),
        (0.125, "0.13"),
        (0.0625, "0.063"),
        (0.0503, "0.0503"),
        (0.05, "0.050"),
        (0.0497, "0.0497"),
        (0.03125, "0.031"),
        (0.00390625, "0.0039"),
        (0.0009, "below 0.001"),
        (math.nextafter(0.05, 1), "0.05000000000000001"),
    ],
)
def test_a_probability_stays_on_its_side_of_the_level(probability: float, text: str) -> None:
    assert chance_text(probability) == text
