"""Overall fit factors where an exercise is known only as `more than`: what the instrument's ceiling leaves open."""

from __future__ import annotations

from collections.abc import Sequence

from generator.scoring.fit_factors import overall_fit_factor


def overall_fit_factor_bounds(fit_factors: Sequence[float], at_least: Sequence[float]) -> tuple[float, float | None]:
    """Return between which values the overall fit factor lies, where some exercises have only a lower bound.

    Parameters
    ----------
    fit_factors : Sequence[float]
        Fit factors of the exercises that have one. [1]
    at_least : Sequence[float]
        What the fit factors of the other exercises are at least, such as the ceiling of the instrument. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper bound of the overall fit factor; None where every exercise has only a lower bound. [1]

    Raises
    ------
    OutsideRange
        There is no exercise, or a value is not above zero.

    Notes
    -----
    lower = N / (sum(1 / FF_i) + sum(1 / L_j)), as if every bound were the factor itself;
    upper = N / sum(1 / FF_i), as if nothing came in during the exercises that have only a bound. N counts both.

    References
    ----------
    .. [1] Derived here from the harmonic mean of `overall_fit_factor`.
    """
    lower = overall_fit_factor([*fit_factors, *at_least])
    if not fit_factors:
        return lower, None
    share_known = len(fit_factors) / (len(fit_factors) + len(at_least))
    return lower, overall_fit_factor(fit_factors) / share_known
