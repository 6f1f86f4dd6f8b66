"""Words understood with a device and without it: the score without guesses, the ratio of two, its limits."""

from __future__ import annotations

import math

from generator.scoring.proportions import score_share_limits
from generator.scoring.valid_range import require_coverage, require_not_negative, require_positive


def score_without_guesses(understood: int, words: int, choices: int) -> float:
    """Return how many words were understood beside those that guessing got right.

    Parameters
    ----------
    understood : int
        Words chosen rightly. [count]
    words : int
        Words read. [count]
    choices : int
        Words to choose from for each one, all equally likely to a listener who guesses. [count]

    Returns
    -------
    float
        Words understood without guesses; zero or below where no more were right than guessing gives. [count]

    Raises
    ------
    OutsideRange
        There is no word, fewer than two to choose from, or more understood than read or fewer than none.

    Notes
    -----
    S = R - W / (n - 1), with W = N - R: who guesses every word gets N/n right and N (n - 1)/n wrong, so that S is 0 on
    average; who understands every word has S = N.

    References
    ----------
    .. [1] Own derivation, as in the notes; that speech tests use this form is from memory.
    """
    require_positive("words read", words)
    require_not_negative("words understood", understood)
    require_not_negative("words not understood", words - understood)
    require_positive("words to choose from, less one", choices - 1)
    return understood - (words - understood) / (choices - 1)


def speech_rating(score_with: float, score_without: float) -> float:
    """Return which share of what was understood without a device was understood with it.

    Parameters
    ----------
    score_with : float
        Words understood with the device, without guesses. [count]
    score_without : float
        Words understood without it, of as many, without guesses. [count]

    Returns
    -------
    float
        Rating. [%]

    Raises
    ------
    OutsideRange
        A score is not above zero: no more was understood than guessing gives.

    Notes
    -----
    P = 100 S_with / S_without.

    References
    ----------
    .. [1] Own definition; that 42 CFR 84.181 rates so is from memory.
    """
    require_positive("score with the device", score_with)
    require_positive("score without the device", score_without)
    return 100 * (score_with / score_without)


def speech_rating_limits(
    understood_with: int, understood_without: int, words: int, choices: int, coverage: float
) -> tuple[float, float | None]:
    """Return the limits of a rating, from the chance in which words were caught.

    Parameters
    ----------
    understood_with : int
        Words chosen rightly with the device. [count]
    understood_without : int
        Words chosen rightly without it. [count]
    words : int
        Words read with the device, and as many without. [count]
    choices : int
        Words to choose from for each one. [count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit; no upper one where all that was understood without the device may be guesses. [%]

    Raises
    ------
    OutsideRange
        No more was understood than guessing gives, with the device or without it, there are fewer than two words to
        choose from, or the coverage is not between 0 and 1.

    Notes
    -----
    a and b are the shares of words right with and without the device, above guessing: a = R/N - 1/n, of which the
    rating is the ratio. Wilson's limits of R/N, less 1/n and never below 0, are l_a, u_a, l_b, u_b. A limit of a/b is
    where that of a - t b is 0: low = l_a (2a - l_a) / (ab + sqrt((ab)^2 - l_a (2a - l_a) u_b (2b - u_b))),
    high = (ab + sqrt((ab)^2 - u_a (2a - u_a) l_b (2b - l_b))) / (l_b (2b - l_b)), none for l_b = 0.
    Each word is taken for itself; words of one listener are more alike than that, so that the limits are too narrow.

    References
    ----------
    .. [1] Donner A, Zou GY. Stat Methods Med Res 2012;21:347-359 (from memory); checked against a numerical root.
    """
    require_coverage(coverage)
    require_positive("score with the device", score_without_guesses(understood_with, words, choices))
    require_positive("score without the device", score_without_guesses(understood_without, words, choices))
    a, a_low, a_high = _share_above_guessing(understood_with, words, choices, coverage)
    b, b_low, b_high = _share_above_guessing(understood_without, words, choices, coverage)
    product = a * b
    of_a, of_b = a_low * (2 * a - a_low), b_low * (2 * b - b_low)
    low = of_a / (product + math.sqrt(product * product - of_a * b_high * (2 * b - b_high)))
    high = (product + math.sqrt(product * product - a_high * (2 * a - a_high) * of_b)) / of_b if of_b else None
    return 100 * low, None if high is None else 100 * high


def _share_above_guessing(understood: int, words: int, choices: int, coverage: float) -> tuple[float, float, float]:
    low, high = score_share_limits(understood, words, coverage)
    guessed = 1 / choices
    return understood / words - guessed, max(low - guessed, 0), high - guessed
