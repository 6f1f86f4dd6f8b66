"""How many times one set of fit factors is another, wearer by wearer."""

from __future__ import annotations

import math
from collections.abc import Sequence

from scipy.special import stdtrit

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_positive,
    require_same_length,
)


def paired_log_ratio(first: Sequence[float], second: Sequence[float], coverage: float) -> tuple[float, float, float]:
    """Return the geometric mean of paired ratios, with the lower and upper limit of its interval.

    Parameters
    ----------
    first : Sequence[float]
        Fit factor of each wearer with the first device. [1]
    second : Sequence[float]
        Fit factor of each wearer with the second device, in the same order. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float, float]
        Ratio, lower limit, upper limit. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two pairs, the lists differ in length, a factor is not above zero, or the coverage is not
        between 0 and 1.

    Notes
    -----
    With d_i = ln(a_i / b_i), their mean d and standard deviation s, R = exp(d) and the limits are
    exp(d -+ t((1 + p) / 2; n - 1) s / sqrt(n)); for n >= 2, and for d_i that scatter as a normal distribution.

    References
    ----------
    .. [1] Student, The probable error of a mean, Biometrika 1908;6:1-25, paired differences (from memory).
    """
    require_at_least_items("wearers", first, 2)
    require_same_length("factors of the first and of the second device", first, second)
    for fit_factor in (*first, *second):
        require_positive("fit factor of a wearer", fit_factor)
    require_coverage(coverage)
    logs = [math.log(one / other) for one, other in zip(first, second, strict=True)]
    wearers = len(logs)
    mean = sum(logs) / wearers
    variance = sum((log - mean) ** 2 for log in logs) / (wearers - 1)
    half = float(stdtrit(wearers - 1, (1 + coverage) / 2)) * math.sqrt(variance / wearers)
    return math.exp(mean), math.exp(mean - half), math.exp(mean + half)
