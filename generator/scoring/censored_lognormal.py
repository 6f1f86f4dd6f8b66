"""Results of which some are only known to be "at least" so much: one of each wearer by likelihood, else bounds only."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from generator.scoring.nested_lognormal import grouped_logs
from generator.scoring.valid_range import (
    require_at_least_items,
    require_different,
    require_not_negative,
    require_positive,
)

MOST_CENSORED = 0.5
"""Where more than this share of results is only a bound, their distribution is not estimated."""


def censored_mean_and_deviation(measured: Sequence[float], at_least: Sequence[float]) -> tuple[float, float]:
    """Return the geometric mean and deviation of results of which some are only known to be at least so much.

    Parameters
    ----------
    measured : Sequence[float]
        Fit factors that were measured, one of each wearer. [1]
    at_least : Sequence[float]
        Lower bounds of the fit factors of further wearers. [1]

    Returns
    -------
    tuple[float, float]
        Geometric mean and geometric standard deviation, by greatest likelihood. [1]

    Raises
    ------
    OutsideRange
        There are no two different measured factors, more than half of all are only bounds, or one is not above zero.

    Notes
    -----
    GM = e^mu and GSD = e^sigma, where mu and sigma make sum(ln phi((ln FF_i - mu)/sigma) - ln sigma) +
    sum(ln Phi((mu - ln B_j)/sigma)) greatest, over measured factors and bounds. For few wearers this sigma is too
    small, as any estimate of greatest likelihood is, so no bound of a percentile follows from it.

    References
    ----------
    .. [1] Cohen AC. Truncated and Censored Samples. 1991 (from memory).
    """
    # Imported here: it takes longer than all else in scoring, and few records need it.
    from scipy.stats import CensoredData, norm

    require_different("measured factors", measured)
    for factor in (*measured, *at_least):
        require_positive("factor", factor)
    number = len(measured) + len(at_least)
    require_not_negative("results that may be only bounds, less those that are", MOST_CENSORED * number - len(at_least))
    # On a scale of their own spread, so that the search ends equally near whatever the unit.
    logs, bounds = np.log(measured), np.log(np.asarray(at_least, dtype=float))
    centre, spread = float(np.mean(logs)), float(np.std(logs))
    data = CensoredData(uncensored=(logs - centre) / spread, right=(bounds - centre) / spread)
    mean, deviation = norm.fit(data, optimizer=_closest)
    return math.exp(centre + spread * float(mean)), math.exp(spread * float(deviation))


def _closest(function: Callable[..., float], start: Any, args: tuple[Any, ...] = (), disp: bool = False) -> Any:
    """Return where a function is least, more closely than a fit of scipy's looks by itself."""
    from scipy.optimize import fmin

    return fmin(function, start, args=args, disp=disp, xtol=1e-10, ftol=1e-13, maxiter=2000)


def least_geometric_mean(values: Sequence[float], wearers: Sequence[str]) -> float:
    """Return what the geometric mean of those tested is at least, where some results are only bounds.

    Parameters
    ----------
    values : Sequence[float]
        Fit factors, or their lower bounds where no more is known, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]

    Returns
    -------
    float
        Lower bound of the geometric mean over the wearers tested, each counting once. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, the lists differ in length, or a value is not above zero.

    Notes
    -----
    GM >= exp(sum(m_i) / a), m_i the mean logarithm of wearer i with every bound taken as the value. It says nothing of
    other wearers, and nothing of the spread.

    References
    ----------
    .. [1] Own derivation: a mean never falls where one of its values rises.
    """
    return math.exp(grouped_logs(values, wearers).mean)


def least_of_first_donnings(values: Sequence[float]) -> float:
    """Return the level that every wearer reached at the prespecified donning, whatever the capped results really were.

    Parameters
    ----------
    values : Sequence[float]
        Fit factors, or their lower bounds where no more is known, of one prespecified donning of each wearer. [1]

    Returns
    -------
    float
        The level; the share of new wearers who reach it follows from the number of wearers alone. [1]

    Raises
    ------
    OutsideRange
        There is no value, or one is not above zero.

    Notes
    -----
    L = min(FF_i); with confidence c at least the share (1 - c)^(1/n) of new wearers reaches it.

    References
    ----------
    .. [1] Own derivation, from the exact limit of a share without failures.
    """
    require_at_least_items("values", values, 1)
    for value in values:
        require_positive("value", value)
    return min(values)
