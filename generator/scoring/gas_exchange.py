"""Inhaled oxygen and carbon dioxide that belong together: what is inhaled again was given off for what was taken up."""

from __future__ import annotations

import math

from generator.scoring.flow_statistics import coverage_factor
from generator.scoring.valid_range import require_coverage, require_not_negative, require_positive


def stated_interval(value: float, expanded: float) -> tuple[float, float]:
    """Return the interval of a share of gas whose expanded uncertainty is on record.

    Parameters
    ----------
    value : float
        The share. [%]
    expanded : float
        Its expanded uncertainty, of 95 % coverage. [%]

    Returns
    -------
    tuple[float, float]
        Lower limit, not below zero, and upper limit. [%]

    Raises
    ------
    OutsideRange
        The share is below zero, or the uncertainty is not above zero.

    Notes
    -----
    y -+ U, for y >= 0 and U > 0; a share of gas is never below zero.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 6.2.1.
    """
    require_not_negative("share of gas [%]", value)
    require_positive("expanded uncertainty [%]", expanded)
    return max(value - expanded, 0.0), value + expanded


def gas_exchange_ratio(carbon_dioxide: float, oxygen: float, room: float, fresh: float) -> float:
    """Return carbon dioxide gained over oxygen lost in inhaled air.

    Parameters
    ----------
    carbon_dioxide : float
        Mean carbon dioxide of the inhaled air, as dry gas. [%]
    oxygen : float
        Mean oxygen of the inhaled air, as dry gas. [%]
    room : float
        Carbon dioxide of the room's air. [%]
    fresh : float
        Oxygen of fresh air, as dry gas. [%]

    Returns
    -------
    float
        Gas exchange ratio. [1]

    Raises
    ------
    OutsideRange
        A share is below zero, or the inhaled oxygen is not below that of fresh air.

    Notes
    -----
    q = (F_CO2 - C_a) / (C_f - F_O2), for F_O2 < C_f. What is inhaled again was exhaled before, so that q is near the
    respiratory quotient, whatever the way it took.

    References
    ----------
    .. [1] Balance of two gases in air that is breathed again.
    """
    require_not_negative("inhaled carbon dioxide [%]", carbon_dioxide)
    require_not_negative("inhaled oxygen [%]", oxygen)
    require_not_negative("carbon dioxide of the room [%]", room)
    require_positive("oxygen lost [%]", fresh - oxygen)
    return (carbon_dioxide - room) / (fresh - oxygen)


def gas_exchange_interval(
    gained: float, gained_uncertainty: float, lost: float, lost_uncertainty: float, coverage: float
) -> tuple[float, float]:
    """Return the limits of a gas exchange ratio, by Fieller's way for a ratio of two measured differences.

    Parameters
    ----------
    gained : float
        Carbon dioxide gained; below zero where less was inhaled than the room has. [%]
    gained_uncertainty : float
        Its standard uncertainty. [%]
    lost : float
        Oxygen lost. [%]
    lost_uncertainty : float
        Its standard uncertainty. [%]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the ratio. [1]

    Raises
    ------
    OutsideRange
        An uncertainty or the oxygen lost is not above zero, the oxygen lost is not above k times its standard
        uncertainty, or the coverage is not between 0 and 1.

    Notes
    -----
    The roots q of (n - q d)^2 = k^2 (u_n^2 + q^2 u_d^2), for d > k u_d, with k the normal quantile. Near it the limits
    are those of first order; close to d = k u_d the upper one goes far up, as it should.

    References
    ----------
    .. [1] Fieller EC, Some problems in interval estimation, Journal of the Royal Statistical Society B 16:175-185,
       1954 (from memory).
    """
    require_positive("standard uncertainty of the carbon dioxide gained [%]", gained_uncertainty)
    require_positive("standard uncertainty of the oxygen lost [%]", lost_uncertainty)
    require_coverage(coverage)
    k = coverage_factor(None, coverage)
    require_positive("oxygen lost [%], less k times its standard uncertainty", lost - k * lost_uncertainty)
    # q^2 a - 2 q b + c = 0
    a = lost**2 - (k * lost_uncertainty) ** 2
    b = gained * lost
    c = gained**2 - (k * gained_uncertainty) ** 2
    root = math.sqrt(b**2 - a * c)
    return (b - root) / a, (b + root) / a
