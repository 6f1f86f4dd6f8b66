"""How steady a run was: the scatter of its readings as a share of the mean, and a straight line through them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.flow_statistics import coverage_factor
from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_different,
    require_not_negative,
    require_positive,
    require_same_length,
)


def coefficient_of_variation(deviation: float, mean: float) -> float:
    """Return the standard deviation of readings in percent of their mean.

    Parameters
    ----------
    deviation : float
        Standard deviation of one reading. [L/min]
    mean : float
        Mean of the readings. [L/min]

    Returns
    -------
    float
        Coefficient of variation. [%]

    Raises
    ------
    OutsideRange
        The deviation is below zero, or the mean is not above zero.

    Notes
    -----
    v = 100 s / Q, for s >= 0 and Q > 0.

    References
    ----------
    .. [1] ISO 3534-1:2006, 2.38 (from memory).
    """
    require_not_negative("standard deviation [L/min]", deviation)
    require_positive("mean [L/min]", mean)
    return 100 * deviation / mean


def least_squares_slope(places: Sequence[float], flows: Sequence[float]) -> float:
    """Return the slope of the straight line through readings.

    Parameters
    ----------
    places : Sequence[float]
        Where on the line each reading stands, such as its number. [any]
    flows : Sequence[float]
        Readings. [L/min]

    Returns
    -------
    float
        Slope: change of the readings from one place to the next. [L/min]

    Raises
    ------
    OutsideRange
        The lists differ in length, or there are fewer than two different places.

    Notes
    -----
    b = sum((x_i - x) Q_i) / sum((x_i - x)^2), for n >= 2.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) H.3.
    """
    require_same_length("places and readings", places, flows)
    require_different("places", places)
    middle = math.fsum(places) / len(places)
    products = math.fsum((place - middle) * flow for place, flow in zip(places, flows, strict=True))
    return products / math.fsum((place - middle) ** 2 for place in places)


def slope_uncertainty(places: Sequence[float], flows: Sequence[float]) -> float:
    """Return the standard uncertainty of the slope of a straight line through readings, from their scatter about it.

    Parameters
    ----------
    places : Sequence[float]
        Where on the line each reading stands, such as its number. [any]
    flows : Sequence[float]
        Readings. [L/min]

    Returns
    -------
    float
        Standard uncertainty of the slope. [L/min]

    Raises
    ------
    OutsideRange
        The lists differ in length, there are fewer than three readings or fewer than two different places.

    Notes
    -----
    u(b) = sqrt(sum(r_i^2) / (n - 2) / sum((x_i - x)^2)), for n >= 3; r_i is what reading i lies off the line.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) H.3.
    """
    require_at_least_items("readings", flows, 3)
    slope = least_squares_slope(places, flows)
    middle, mean = math.fsum(places) / len(places), math.fsum(flows) / len(flows)
    residuals = math.fsum(
        (flow - mean - slope * (place - middle)) ** 2 for place, flow in zip(places, flows, strict=True)
    )
    return math.sqrt(residuals / (len(places) - 2) / math.fsum((place - middle) ** 2 for place in places))


def change_over_run(slope: float, readings: int) -> float:
    """Return how far a flow went along a straight line from the first reading to the last.

    Parameters
    ----------
    slope : float
        Change from one reading to the next. [L/min]
    readings : int
        Number of readings. [count]

    Returns
    -------
    float
        Change over the run. [L/min]

    Raises
    ------
    OutsideRange
        There is no reading.

    Notes
    -----
    D = b (n - 1), for n >= 1.

    References
    ----------
    .. [1] Own rule.
    """
    require_positive("number of readings", readings)
    return slope * (readings - 1)


def change_limits(slope: float, uncertainty: float, readings: int, coverage: float) -> tuple[float, float]:
    """Return the limits of the change over a run.

    Parameters
    ----------
    slope : float
        Change from one reading to the next. [L/min]
    uncertainty : float
        Standard uncertainty of the slope. [L/min]
    readings : int
        Number of readings. [count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the change. [L/min]

    Raises
    ------
    OutsideRange
        There are fewer than three readings, the uncertainty is below zero, or the coverage is not between 0 and 1.

    Notes
    -----
    (n - 1) (b +- t((1 + p) / 2; n - 2) u(b)), for n >= 3.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) H.3 and G.3.
    """
    require_positive("degrees of freedom", readings - 2)
    require_not_negative("standard uncertainty of the slope [L/min]", uncertainty)
    require_coverage(coverage)
    half_width = coverage_factor(readings - 2, coverage) * uncertainty
    return (readings - 1) * (slope - half_width), (readings - 1) * (slope + half_width)
