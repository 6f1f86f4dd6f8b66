"""Penetration of a filter: against its pressure drop, at another flow, and beside a leak past the seal."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_between, require_positive

LEAST_RATIO, GREATEST_RATIO = 0.25, 4.0
"""Ratios of two flows between which the change of penetration is worked out: an own limit."""
LARGEST_DIAMETER_NM = 100.0
"""Above it the exponent of 2/3 overstates the change: about 0.60 at 100 nm, 0.37 at 200 nm."""


def quality_factor(penetration: float, pressure_drop: float) -> float:
    """Return how much a filter keeps back for the pressure it costs.

    Parameters
    ----------
    penetration : float
        Share of the particles that gets through. [1]
    pressure_drop : float
        Pressure drop at the same flow. [Pa]

    Returns
    -------
    float
        Quality factor. [1/Pa]

    Raises
    ------
    OutsideRange
        The penetration is not above 0 and at most 1, or the pressure drop is not above zero.

    Notes
    -----
    q = -ln P / dp, for 0 < P <= 1 and dp > 0. Compare filters by it only at equal face velocity and particle size: in
    the range of diffusion it falls with the velocity to the power 5/3.

    References
    ----------
    .. [1] Eninger RM et al. Annals of Occupational Hygiene 2008, doi 10.1093/annhyg/men019 (its use for respirators).
    """
    require_positive("penetration", penetration)
    require_between("penetration", penetration, 0, 1)
    require_positive("pressure drop [Pa]", pressure_drop)
    return -math.log(penetration) / pressure_drop


def penetration_at_other_flow(penetration: float, flow: float, other_flow: float) -> float:
    """Return the penetration of small particles through a medium without charge at another flow.

    Parameters
    ----------
    penetration : float
        Penetration as measured. [1]
    flow : float
        Flow through one filter at which it was measured. [L/min]
    other_flow : float
        Flow through one such filter for which it is asked. [L/min]

    Returns
    -------
    float
        Penetration at the other flow. [1]

    Raises
    ------
    OutsideRange
        The penetration is not above 0 and at most 1, a flow is not above zero, or their ratio is not 0.25 to 4.

    Notes
    -----
    ln P2 = ln P1 (q1 / q2)^(2/3), for particles of up to 100 nm, a medium without charge and flows of a ratio from
    0.25 to 4 (own limit). Flows through the same filter are in the ratio of its face velocities.

    References
    ----------
    .. [1] Deposition by diffusion, E ~ Pe^(-2/3), as Lee KW, Liu BYH give it (seen in a text on air pollution).
    """
    require_positive("penetration", penetration)
    require_between("penetration", penetration, 0, 1)
    require_positive("flow [L/min]", flow)
    require_positive("other flow [L/min]", other_flow)
    require_between("ratio of the flows", other_flow / flow, LEAST_RATIO, GREATEST_RATIO)
    return float(penetration ** ((flow / other_flow) ** (2 / 3)))


def total_inward_leakage(seal_share: float, penetration: float) -> float:
    """Return the share of the particles that gets inside, past the seal and through the filter.

    Parameters
    ----------
    seal_share : float
        Share of the air that comes in past the seal. [1]
    penetration : float
        Share of the particles that gets through the filter. [1]

    Returns
    -------
    float
        Total inward leakage. [1]

    Raises
    ------
    OutsideRange
        A share is not 0 to 1.

    Notes
    -----
    T = f + (1 - f) P, for shares from 0 to 1. Adding f and P, as is sometimes done, counts f P twice.

    References
    ----------
    .. [1] Balance of particles.
    """
    require_between("share of the air past the seal", seal_share, 0, 1)
    require_between("penetration", penetration, 0, 1)
    return seal_share + (1 - seal_share) * penetration


def share_past_seal(leakage: float, penetration: float) -> float:
    """Return the share of the air that comes in past the seal, below zero where less got in than through the filter.

    Parameters
    ----------
    leakage : float
        Total inward leakage, the reciprocal of the fit factor. [1]
    penetration : float
        Share of the same particles that gets through the filter at the same flow. [1]

    Returns
    -------
    float
        Share of the air past the seal. [1]

    Raises
    ------
    OutsideRange
        The leakage is not above zero, or the penetration is not 0 or more and below 1.

    Notes
    -----
    f = (T - P) / (1 - P), for T > 0 and 0 <= P < 1: T = f + (1 - f) P solved for f. Below zero it says that the two
    measurements contradict each other, or differ by chance.

    References
    ----------
    .. [1] Balance of particles.
    """
    require_positive("inward leakage", leakage)
    require_between("penetration", penetration, 0, 1)
    require_positive("share that the filter keeps back", 1 - penetration)
    return (leakage - penetration) / (1 - penetration)


def highest_fit_factor(penetration: float) -> float:
    """Return the fit factor that a filter leaves possible where nothing comes in past the seal.

    Parameters
    ----------
    penetration : float
        Share of the same particles that gets through the filter at the same flow. [1]

    Returns
    -------
    float
        Highest fit factor. [1]

    Raises
    ------
    OutsideRange
        The penetration is not above 0 and at most 1.

    Notes
    -----
    F = 1 / P, for 0 < P <= 1. It holds only where P was measured with the aerosol, sizes, charge and flow of the fit
    sessions. The limit of a filter class gives no such bound.

    References
    ----------
    .. [1] T = f + (1 - f) P at f = 0.
    """
    require_positive("penetration", penetration)
    require_between("penetration", penetration, 0, 1)
    return 1 / penetration
