"""What is left of the supply after an exhaust has taken its part, and how fast that leaves through the openings."""

from __future__ import annotations

import math

from generator.scoring.flow_statistics import coverage_factor
from generator.scoring.valid_range import require_coverage, require_not_negative, require_positive


def net_flow(supply: float, exhaust: float) -> float:
    """Return what is left of the supply after an exhaust has taken its part.

    Parameters
    ----------
    supply : float
        Mean supply flow. [L/min]
    exhaust : float
        Mean flow that the exhaust draws out. [L/min]

    Returns
    -------
    float
        Net flow: outwards through the openings where above zero, inwards where below. [L/min]

    Raises
    ------
    OutsideRange
        A flow is below zero.

    Notes
    -----
    Q_net = Q_s - Q_e, both at one temperature and pressure, for Q_s >= 0 and Q_e >= 0.

    References
    ----------
    .. [1] Balance of volumes of a gas at constant temperature and pressure.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_not_negative("exhaust flow [L/min]", exhaust)
    return supply - exhaust


def net_flow_interval(
    supply: float,
    supply_uncertainty: float,
    supply_degrees: float | None,
    exhaust: float,
    exhaust_uncertainty: float,
    exhaust_degrees: float | None,
    coverage: float,
) -> tuple[float, float]:
    """Return the interval of a net flow whose two parts are taken as independent.

    Parameters
    ----------
    supply : float
        Mean supply flow. [L/min]
    supply_uncertainty : float
        Combined standard uncertainty of the supply. [L/min]
    supply_degrees : float | None
        Its effective degrees of freedom; None where they are infinite. [1]
    exhaust : float
        Mean flow that the exhaust draws out. [L/min]
    exhaust_uncertainty : float
        Combined standard uncertainty of the exhaust. [L/min]
    exhaust_degrees : float | None
        Its effective degrees of freedom; None where they are infinite. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the net flow. [L/min]

    Raises
    ------
    OutsideRange
        A flow or an uncertainty is below zero, both uncertainties are zero, degrees of freedom are not above zero, or
        the coverage is not between 0 and 1.

    Notes
    -----
    Q_s - Q_e -+ t((1 + p) / 2; nu) u, with u = sqrt(u_s^2 + u_e^2) and nu = u^4 / (u_s^4 / nu_s + u_e^4 / nu_e). Where
    one meter read both and its error has the same sign at both flows, u is smaller than this.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.2, eq. 10, and G.4.1, eq. G.2b; 5.2.2, eq. 16, for correlated parts.
    """
    net = net_flow(supply, exhaust)
    require_not_negative("standard uncertainty of the supply [L/min]", supply_uncertainty)
    require_not_negative("standard uncertainty of the exhaust [L/min]", exhaust_uncertainty)
    require_coverage(coverage)
    combined = math.hypot(supply_uncertainty, exhaust_uncertainty)
    require_positive("combined standard uncertainty [L/min]", combined)
    parts = ((supply_uncertainty, supply_degrees), (exhaust_uncertainty, exhaust_degrees))
    divisor = math.fsum(part**4 / degrees for part, degrees in parts if degrees is not None)
    half_width = coverage_factor(combined**4 / divisor if divisor else None, coverage) * combined
    return net - half_width, net + half_width


def outward_velocity(net: float, area: float) -> float:
    """Return the mean velocity at which a flow passes an opening.

    Parameters
    ----------
    net : float
        Net flow through all openings together; below zero where it goes inwards. [L/min]
    area : float
        Area of all openings together. [cm2]

    Returns
    -------
    float
        Mean velocity, outwards where above zero. [m/s]

    Raises
    ------
    OutsideRange
        The area is not above zero.

    Notes
    -----
    v = Q_net / A, for A > 0. A mean over the area and over the breath: air can leave at one place and enter at another.

    References
    ----------
    .. [1] Conservation of volume at low speed.
    """
    require_positive("area of the openings [cm2]", area)
    cubic_metres_a_second = net / 60_000
    square_metres = area / 10_000
    return cubic_metres_a_second / square_metres
