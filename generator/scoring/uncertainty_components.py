"""Standard uncertainties of what a budget is made of: limits, a display's step, drift, stated uncertainties."""

from __future__ import annotations

import math

from generator.scoring.flow_statistics import coverage_factor
from generator.scoring.valid_range import require_not_negative, require_positive


def rectangular_uncertainty(half_width: float) -> float:
    """Return the standard uncertainty of a value that lies anywhere within limits.

    Parameters
    ----------
    half_width : float
        Half of the width between the limits. [any]

    Returns
    -------
    float
        Standard uncertainty. [as half_width]

    Raises
    ------
    OutsideRange
        The half-width is below zero.

    Notes
    -----
    u = a / sqrt(3), for a >= 0; degrees of freedom are taken as infinite.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.3.7.
    """
    require_not_negative("half-width", half_width)
    return half_width / math.sqrt(3)


def resolution_uncertainty(step: float) -> float:
    """Return the standard uncertainty that the step of a display brings.

    Parameters
    ----------
    step : float
        Smallest step of the display. [any]

    Returns
    -------
    float
        Standard uncertainty. [as step]

    Raises
    ------
    OutsideRange
        The step is below zero.

    Notes
    -----
    u = d / sqrt(12), for d >= 0: anywhere within half a step to either side.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) F.2.2.1.
    """
    require_not_negative("step of the display", step)
    return step / math.sqrt(12)


def drift_limit(rate: float, days: float) -> float:
    """Return how far an instrument may have drifted since its calibration.

    Parameters
    ----------
    rate : float
        Largest drift in a year. [any]
    days : float
        Days since the calibration. [d]

    Returns
    -------
    float
        Largest drift since then. [as rate]

    Raises
    ------
    OutsideRange
        The rate or the days are below zero.

    Notes
    -----
    a = r t / 365.25, for r >= 0 and t >= 0: drift in proportion to time.

    References
    ----------
    .. [1] Own rule; the year of 365.25 days is the Julian one.
    """
    require_not_negative("drift in a year", rate)
    require_not_negative("days since the calibration", days)
    return rate * days / 365.25


def stated_uncertainty(expanded: float, factor: float) -> float:
    """Return the standard uncertainty behind an expanded one that a record states.

    Parameters
    ----------
    expanded : float
        Expanded uncertainty. [any]
    factor : float
        Coverage factor. [1]

    Returns
    -------
    float
        Standard uncertainty. [as expanded]

    Raises
    ------
    OutsideRange
        The uncertainty is below zero, or the factor is not above zero.

    Notes
    -----
    u = U / k, for U >= 0 and k > 0; degrees of freedom are taken as infinite.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.3.4.
    """
    require_not_negative("expanded uncertainty", expanded)
    require_positive("coverage factor", factor)
    return expanded / factor


def uncertainty_contribution(sensitivity: float, standard_uncertainty: float) -> float:
    """Return what the uncertainty of one input adds to that of the result.

    Parameters
    ----------
    sensitivity : float
        Sensitivity coefficient: change of the result for a change of the input. [any]
    standard_uncertainty : float
        Standard uncertainty of the input. [any]

    Returns
    -------
    float
        Contribution. [as the result]

    Raises
    ------
    OutsideRange
        The standard uncertainty is below zero.

    Notes
    -----
    u_i = |c_i| u(x_i), with u(x_i) >= 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.3, eq. 11.
    """
    require_not_negative("standard uncertainty", standard_uncertainty)
    return abs(sensitivity) * standard_uncertainty


def widened_coverage_factor(factor: float, scatter: float, degrees: int, combined: float, coverage: float) -> float:
    """Return a coverage factor that leaves the interval no narrower than the scatter of few readings alone makes it.

    Parameters
    ----------
    factor : float
        Coverage factor for the effective degrees of freedom. [1]
    scatter : float
        Standard uncertainty from the scatter. [L/min]
    degrees : int
        Its degrees of freedom. [1]
    combined : float
        Combined standard uncertainty. [L/min]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    float
        Coverage factor. [1]

    Raises
    ------
    OutsideRange
        The scatter is below zero, the combined uncertainty or the degrees of freedom are not above zero, or the
        coverage is not between 0 and 1.

    Notes
    -----
    k = max(k_eff, t((1 + p) / 2; nu_A) u_A / u), for u > 0 and nu_A > 0.

    References
    ----------
    .. [1] Own rule. By Welch and Satterthwaite alone (JCGM 100:2008, G.4.1) an interval over fewer than about seven
       readings becomes narrower when another source of uncertainty is added.
    """
    require_not_negative("standard uncertainty from the scatter [L/min]", scatter)
    require_positive("combined standard uncertainty [L/min]", combined)
    return max(factor, coverage_factor(degrees, coverage) * scatter / combined)
