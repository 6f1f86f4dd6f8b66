"""A figure against a requirement of at least a limit: decided with its uncertainty, never on rounded numbers."""

from __future__ import annotations

import math

from scipy.special import stdtr

from generator.model.result import Outcome, Relation
from generator.scoring.valid_range import require_ordered, require_positive


def guarded_outcome(low: float, high: float, limit: float) -> Outcome:
    """Decide whether a figure is at least a limit, with its whole interval.

    Parameters
    ----------
    low : float
        Lower end of the expanded interval, or minus infinity. [any]
    high : float
        Upper end of the expanded interval, or infinity. [as low]
    limit : float
        The least that is required. [as low]

    Returns
    -------
    Outcome
        `meets` where the whole interval is at or above the limit, `does_not_meet` where it is below, otherwise
        `undecided`. [-]

    Raises
    ------
    OutsideRange
        The upper end lies below the lower one.

    Notes
    -----
    Meets if low >= L; does not meet if high < L. The guard band is the expanded uncertainty, w = U.

    References
    ----------
    .. [1] JCGM 106:2012 8.3 (guarded acceptance and rejection); ILAC-G8:09/2019 4.2.2 (secondary pages).
    """
    require_ordered("interval", low, high)
    if low >= limit:
        return Outcome.MEETS
    if high < limit:
        return Outcome.DOES_NOT_MEET
    return Outcome.UNDECIDED


def plain_outcome(value: float, relation: Relation, limit: float) -> Outcome:
    """Decide whether a figure is at least a limit by the figure alone, as some regulations do.

    Parameters
    ----------
    value : float
        The figure, unrounded. [any]
    relation : Relation
        How the true value stands to the figure: equal, or at least. [-]
    limit : float
        The least that is required. [as value]

    Returns
    -------
    Outcome
        `meets` where the figure is at or above the limit. Below it `does_not_meet`, or `undecided` where the figure is
        only a lower bound. [-]

    Raises
    ------
    OutsideRange
        The limit is not above zero.

    Notes
    -----
    Meets if value >= L.

    References
    ----------
    .. [1] 29 CFR 1910.134(f)(7): a fit factor equal to or greater than the pass level (secondary page).
    """
    require_positive("limit", limit)
    if value >= limit:
        return Outcome.MEETS
    if relation == Relation.AT_LEAST:
        return Outcome.UNDECIDED
    return Outcome.DOES_NOT_MEET


def probability_of_conformity(value: float, standard_uncertainty: float, limit: float, degrees: float | None) -> float:
    """Return the probability that the true value is at least a limit.

    Parameters
    ----------
    value : float
        The figure. [any]
    standard_uncertainty : float
        Its combined standard uncertainty. [as value]
    limit : float
        The least that is required. [as value]
    degrees : float | None
        Effective degrees of freedom; None where they are infinite. [1]

    Returns
    -------
    float
        Probability of conformity. [1]

    Raises
    ------
    OutsideRange
        The uncertainty or the degrees of freedom are not above zero.

    Notes
    -----
    p = F((y - L) / u; nu), where F is the distribution function of Student's t with nu degrees of freedom, and of the
    normal distribution where nu is infinite. So it agrees with the guarded decision that uses the same t: at y - U = L
    it is 0.975.

    References
    ----------
    .. [1] JCGM 106:2012 7.3 (one-sided, normal); JCGM 101:2008 6.4.9 (scaled and shifted t) (both from memory).
    """
    require_positive("standard uncertainty", standard_uncertainty)
    if degrees is not None:
        require_positive("degrees of freedom", degrees)
    return float(stdtr(math.inf if degrees is None else degrees, (value - limit) / standard_uncertainty))


def ratio_to_requirement(value: float, limit: float) -> float:
    """Return a figure as a share of what is required.

    Parameters
    ----------
    value : float
        The figure. [any]
    limit : float
        The least that is required. [as value]

    Returns
    -------
    float
        Ratio. [1]

    Raises
    ------
    OutsideRange
        The limit is not above zero.

    Notes
    -----
    r = y / L, for L > 0.

    References
    ----------
    .. [1] Own definition.
    """
    require_positive("limit", limit)
    return value / limit
