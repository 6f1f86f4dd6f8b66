"""Limits of a control chart, and the mean of a check standard's readings."""

from __future__ import annotations

from collections.abc import Sequence

from generator.scoring.flow_statistics import coverage_factor, mean_flow, standard_deviation, uncertainty_of_mean
from generator.scoring.valid_range import require_at_least_items, require_coverage, require_positive

WARNING_FACTOR = 2
"""Standard deviations from the centre to the warning limits."""
ACTION_FACTOR = 3
"""Standard deviations from the centre to the action limits."""


def control_limits(centre: float, deviation: float) -> tuple[float, float, float, float]:
    """Return the warning and action limits of single readings.

    Parameters
    ----------
    centre : float
        Value that readings scatter about when all is well. [any]
    deviation : float
        Standard deviation of single readings when all is well. [as centre]

    Returns
    -------
    tuple[float, float, float, float]
        Lower action, lower warning, upper warning and upper action limit. [as centre]

    Raises
    ------
    OutsideRange
        The standard deviation is not above zero.

    Notes
    -----
    W = c -+ 2 s and A = c -+ 3 s, for s > 0. While nothing changes and readings are normally distributed, about 1 in
    22 lies beyond a warning limit and 1 in 370 beyond an action limit.

    References
    ----------
    .. [1] NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.
    .. [2] ISO 7870-2, Control charts, Shewhart control charts.
    """
    require_positive("standard deviation", deviation)
    warning, action = WARNING_FACTOR * deviation, ACTION_FACTOR * deviation
    return centre - action, centre - warning, centre + warning, centre + action


def mean_interval(readings: Sequence[float], coverage: float) -> tuple[float, float, float]:
    """Return the mean of readings and the interval that their scatter gives it.

    Parameters
    ----------
    readings : Sequence[float]
        Readings of one check standard. [any]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float, float]
        Mean, lower and upper limit. [as readings]

    Raises
    ------
    OutsideRange
        There are fewer than two readings, or the coverage is not between 0 and 1.

    Notes
    -----
    m -+ t((1 + p) / 2; n - 1) s / sqrt(n), for n >= 2 independent readings.

    References
    ----------
    .. [1] NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2.
    """
    require_at_least_items("readings", readings, 2)
    require_coverage(coverage)
    mean, count = mean_flow(readings), len(readings)
    half = coverage_factor(count - 1, coverage) * uncertainty_of_mean(standard_deviation(readings), count)
    return mean, mean - half, mean + half
