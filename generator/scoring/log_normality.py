"""Whether results look log-normal at all: a model that the data contradict carries no statement about other wearers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from generator.scoring.valid_range import require_at_least_items, require_different, require_positive

LEAST_WEARERS = 8
"""Fewer wearers say next to nothing about a distribution."""
DOUBTFUL_BELOW = 0.05


def log_normality(factors: Sequence[float]) -> float:
    """Return how probable results as little log-normal as these are by chance.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factor of each wearer. [1]

    Returns
    -------
    float
        Probability of the test by Shapiro and Wilk on the logarithms. [1]

    Raises
    ------
    OutsideRange
        There are fewer than eight factors, they are all the same, or one is not above zero.

    Notes
    -----
    W = (sum a_i x_(i))^2 / sum((x_i - m)^2), x = ln FF in rising order, a_i from normal order statistics; n >= 8.

    References
    ----------
    .. [1] Shapiro SS, Wilk MB. Biometrika 1965;52:591-611; Royston P. Applied Statistics 1995;44:547-551 (from memory).
    """
    # Imported here: it takes longer than all else in scoring, and few devices have wearers enough.
    from scipy.stats import shapiro

    require_at_least_items("wearers", factors, LEAST_WEARERS)
    require_different("factors", factors)
    for factor in factors:
        require_positive("factor", factor)
    return float(shapiro(np.log(factors)).pvalue)
