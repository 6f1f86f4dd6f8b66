"""Words understood: a numerical root for the limits, how often they hold, and directions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, stats

from generator.errors import OutsideRange
from generator.scoring.speech_scores import score_without_guesses, speech_rating, speech_rating_limits


def limits_by_root(
    understood_with: int, understood_without: int, words: int, choices: int
) -> tuple[float, float | None]:
    """Return the limits as roots of the limits of a - t b, from the library's own score limits of two shares."""

    def share(understood: int) -> tuple[float, float, float]:
        low, high = stats.binomtest(understood, words).proportion_ci(0.95, "wilson")
        scaled = [(choices * each - 1) / (choices - 1) for each in (understood / words, low, high)]
        return scaled[0], max(scaled[1], 0.0), scaled[2]

    a, a_low, a_high = share(understood_with)
    b, b_low, b_high = share(understood_without)

    def low_of_difference(t: float) -> float:
        return a - t * b - math.hypot(a - a_low, t * (b_high - b))

    def high_of_difference(t: float) -> float:
        return a - t * b + math.hypot(a_high - a, t * (b - b_low))

    low = optimize.brentq(low_of_difference, 0, 1e3, xtol=1e-13) if a_low else 0.0
    high = optimize.brentq(high_of_difference, 0, 1e6, xtol=1e-13) if b_low else None
    return 100 * low, None if high is None else 100 * high


@pytest.mark.parametrize(
    "case",
    [(171, 288, 300, 6), (252, 288, 300, 6), (50, 50, 50, 6), (24, 25, 25, 2), (12, 50, 50, 50), (9, 30, 50, 6)],
)
def test_limits_are_roots_of_the_limits_of_a_difference(case: tuple[int, int, int, int]) -> None:
    # source: scipy 1.17.1: optimize.brentq, stats.binomtest(R, N).proportion_ci(0.95, "wilson")
    low, high = limits_by_root(*case)
    found_low, found_high = speech_rating_limits(*case, 0.95)
    assert found_low == pytest.approx(low, rel=1e-9, abs=1e-9)
    assert high is not None
    assert found_high == pytest.approx(high, rel=1e-9)


def right_answers(understands: float, words: int, choices: int) -> stats.rv_discrete:
    """Return how many words are right where each is understood with a chance, and else guessed."""
    return stats.binom(words, understands + (1 - understands) / choices)


@pytest.mark.parametrize(
    ("understands_with", "understands_without"), [(0.48, 1.0), (0.8, 0.95), (0.3, 0.9), (0.95, 0.97), (0.5, 0.6)]
)
def test_the_interval_holds_the_true_rating_about_as_often_as_it_says(
    understands_with: float, understands_without: float
) -> None:
    # source: scipy 1.17.1: every outcome of 50 words of 6 choices with its probability, stats.binom.pmf
    words, choices = 50, 6
    chance_with = right_answers(understands_with, words, choices).pmf(np.arange(words + 1))
    chance_without = right_answers(understands_without, words, choices).pmf(np.arange(words + 1))
    true, held, scored = 100 * understands_with / understands_without, 0.0, 0.0
    for right_with in range(words + 1):
        for right_without in range(words + 1):
            chance = chance_with[right_with] * chance_without[right_without]
            if chance < 1e-12 or min(right_with, right_without) * choices <= words:
                continue
            low, high = speech_rating_limits(right_with, right_without, words, choices, 0.95)
            scored += chance
            held += chance if low <= true and (high is None or true <= high) else 0.0
    assert scored > 0.99
    # Where nearly all is understood both ways it holds more often than it says, as the score limits of shares do.
    assert 0.93 < held / scored < 0.995


@given(st.integers(1, 200), st.integers(2, 50), st.data())
def test_more_words_understood_never_lower_the_rating(words: int, choices: int, data: st.DataObject) -> None:
    above_guessing = words // choices + 1
    if above_guessing > words:
        above_guessing = words
    without = data.draw(st.integers(above_guessing, words))
    fewer = data.draw(st.integers(above_guessing, words))
    more = data.draw(st.integers(fewer, words))
    scores = [score_without_guesses(right, words, choices) for right in (fewer, more, without)]
    assert 0 < scores[0] <= scores[1] <= words
    lower, higher = (speech_rating(score, scores[2]) for score in scores[:2])
    assert lower <= higher
    limits = [speech_rating_limits(right, without, words, choices, 0.95) for right in (fewer, more)]
    assert limits[0][0] <= limits[1][0] + 1e-9
    for (low, high), rating in zip(limits, (lower, higher), strict=True):
        assert 0 <= low <= rating + 1e-9
        assert high is None or rating <= high + 1e-9


def test_without_choices_to_speak_of_guesses_are_nothing() -> None:
    # source: limit of the definition, n to infinity: a score is what was right
    assert score_without_guesses(37, 50, 10**12) == pytest.approx(37, abs=1e-9)


def test_out_of_range() -> None:
    with pytest.raises(OutsideRange, match="words not understood: found -1, expected a finite number of 0 or more"):
        score_without_guesses(51, 50, 6)
    with pytest.raises(OutsideRange, match="words understood: found -1, expected a finite number of 0 or more"):
        score_without_guesses(-1, 50, 6)
    with pytest.raises(OutsideRange, match="words read: found 0, expected a finite number above 0"):
        score_without_guesses(0, 0, 6)
    with pytest.raises(OutsideRange, match="words to choose from, less one: found 0, expected a finite number above"):
        score_without_guesses(5, 50, 1)
    with pytest.raises(OutsideRange, match="score with the device: found 0, expected a finite number above 0"):
        speech_rating_limits(10, 50, 60, 6, 0.95)
    with pytest.raises(OutsideRange, match="score without the device: found -2, expected a finite number above 0"):
        speech_rating(10, -2)
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        speech_rating_limits(50, 50, 60, 6, 1.0)
