"""What the clean air that a hood holds does for a wearer who draws in more than the blower supplies.

Two ways of reckoning: the stored air is used first, unmixed, or what is in the hood is always well mixed. Both see a
half sine of breathing in, which takes as long as its volume needs, and a half sine of breathing out.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import roots_legendre

from generator.scoring.over_breathing import over_breathed_percent
from generator.scoring.valid_range import require_between, require_not_negative, require_positive

_Array = NDArray[np.float64]
# What is integrated below gathers at the later end, the more the less a hood holds: pieces halve towards it.
_ENDS = 1 - 0.5 ** np.append(np.arange(0.0, 24.0), np.inf)
_PLACES, _WEIGHTS = roots_legendre(16)
_NODES = (_ENDS[:-1, None] + (_ENDS[1:] - _ENDS[:-1])[:, None] * (_PLACES + 1) / 2).ravel()
_SHARES = ((_ENDS[1:] - _ENDS[:-1])[:, None] * _WEIGHTS / 2).ravel()


def inhaling_part(minute_volume: float, peak: float) -> float:
    """Return the part of a breath that breathing in takes.

    Parameters
    ----------
    minute_volume : float
        Air breathed in a minute, VE. [L/min]
    peak : float
        Peak inspiratory flow A. [L/min]

    Returns
    -------
    float
        Part of the time of a breath. [1]

    Raises
    ------
    OutsideRange
        One of them is not above zero, or the peak is too low: nothing of the breath would be left for breathing out.

    Notes
    -----
    D = pi VE / (2 A): a half sine of height A and length D holds 2 A D / pi. It needs A > pi VE / 2.

    References
    ----------
    .. [1] Own derivation by calculus.
    """
    require_positive("minute volume [L/min]", minute_volume)
    require_positive("peak inspiratory flow [L/min]", peak)
    part = math.pi * minute_volume / (2 * peak)
    require_positive("part of the breath that is left for breathing out", 1 - part)
    return part


def supplied_while_exhaling(supply: float, minute_volume: float, peak: float, breaths: float) -> float:
    """Return what a blower supplies while the wearer breathes out once.

    Parameters
    ----------
    supply : float
        Constant supply flow Q. [L/min]
    minute_volume : float
        Air breathed in a minute, VE. [L/min]
    peak : float
        Peak inspiratory flow A. [L/min]
    breaths : float
        Breaths a minute, f. [/min]

    Returns
    -------
    float
        Volume supplied. [L]

    Raises
    ------
    OutsideRange
        The supply is below zero, one of the others is not above zero, or the peak is too low for the minute volume.

    Notes
    -----
    V_Q = Q (1 - D) / f, with D = pi VE / (2 A) the part of the breath that breathing in takes.

    References
    ----------
    .. [1] Own derivation.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_positive("breaths a minute", breaths)
    return supply * (1 - inhaling_part(minute_volume, peak)) / breaths


def beyond_stored_air(over_breathed: float, volume: float) -> float:
    """Return what is drawn in from outside in a breath once the stored air is used up.

    Parameters
    ----------
    over_breathed : float
        Over-breathed volume of one breath. [L]
    volume : float
        Volume of clean air that the hood holds when over-breathing begins. [L]

    Returns
    -------
    float
        Volume from outside. [L]

    Raises
    ------
    OutsideRange
        The over-breathed volume is below zero, or the hood's volume is not above zero.

    Notes
    -----
    V_out = max(0, V_ob - V): the wearer breathes all of the stored air before any from outside, and the blower has
    filled the hood anew before the next breath.

    References
    ----------
    .. [1] Own derivation.
    """
    require_not_negative("over-breathed volume [L]", over_breathed)
    require_positive("volume of the hood [L]", volume)
    return max(0.0, over_breathed - volume)


def mixed_share(
    supply: float, minute_volume: float, peak: float, breaths: float, volume: float, returned: float
) -> float:
    """Return the concentration breathed in from a hood whose air is always well mixed, as a share of that outside.

    Parameters
    ----------
    supply : float
        Constant supply flow Q of clean air. [L/min]
    minute_volume : float
        Air breathed in a minute, VE. [L/min]
    peak : float
        Peak inspiratory flow A. [L/min]
    breaths : float
        Breaths a minute, f. [/min]
    volume : float
        Volume of air in the hood, V. [L]
    returned : float
        Share of the inhaled particles that is breathed out again, e. [1]

    Returns
    -------
    float
        Mean inhaled concentration over that outside, when one breath is like the next. [1]

    Raises
    ------
    OutsideRange
        The supply is below zero, the share breathed out is not between 0 and 1, one of the others is not above zero, or
        the peak is too low for the minute volume.

    Notes
    -----
    V dC/dt = max(d - Q, 0) - max(d, Q) C while d is breathed in, V dC/dt = e c x - (Q + x) C while x is breathed out,
    with C(T) = C(0) and c the mean of C over the inhaled volume; d = A sin, x a half sine of the same volume for the
    rest of T = 1/f. The equation is linear, so that one breath, solved by integrating factors, gives the lasting state.
    0 where Q >= A. For V to 0 it is the over-breathed share; for V to infinity and e = 0, V_ob / (V_ob + Q T + VT).

    References
    ----------
    .. [1] Own derivation: the balance of particles in one well-mixed volume.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_positive("breaths a minute", breaths)
    require_positive("volume of the hood [L]", volume)
    require_between("share of the inhaled particles that is breathed out", returned, 0, 1)
    part = inhaling_part(minute_volume, peak)
    breath = _Breath(supply, minute_volume / breaths, peak, part / breaths, (1 - part) / breaths, volume)
    inhaling, exhaling = _while_inhaling(breath), _while_exhaling(breath)
    # One breath takes a concentration C at its beginning to `kept` C + `gained` + e `added` c at its end.
    kept, gained, added = inhaling.left * exhaling.left, inhaling.gained * exhaling.left, exhaling.gained
    start = (gained + returned * added * inhaling.from_outside) / (1 - kept - returned * added * inhaling.from_start)
    # Where nothing enters, rounding may leave less than nothing.
    return max(0.0, inhaling.from_start * start + inhaling.from_outside)


def times_cleaner(share: float) -> float:
    """Return how many times cleaner air is of which a share is as outside.

    Parameters
    ----------
    share : float
        Concentration breathed in as a share of that outside. [1]

    Returns
    -------
    float
        Concentration outside divided by the one breathed in. [1]

    Raises
    ------
    OutsideRange
        The share is not above zero, or above 1.

    Notes
    -----
    P = 1 / c, for 0 < c <= 1.

    References
    ----------
    .. [1] By the definition of the share.
    """
    require_positive("share of the concentration outside", share)
    require_between("share of the concentration outside", share, 0, 1)
    return 1 / share


@dataclass(frozen=True)
class _Inhaling:
    """What is left of a starting concentration after breathing in, what is gained, and what the wearer gets of both."""

    left: float
    gained: float
    from_start: float
    from_outside: float


@dataclass(frozen=True)
class _Exhaling:
    """What is left of a concentration after breathing out, and what is gained of the one breathed out."""

    left: float
    gained: float


@dataclass(frozen=True)
class _Breath:
    """One breath: flows in L/min, volumes in L, times in min."""

    supply: float
    tidal: float
    peak: float
    inhaling: float
    exhaling: float
    volume: float


def _while_inhaling(breath: _Breath) -> _Inhaling:
    """Follow the hood's air while the wearer breathes in: cleared by the supply, over-breathed, cleared again."""
    supply, peak, volume = breath.supply, breath.peak, breath.volume
    height = min(1.0, supply / peak)
    along = math.sqrt(1 - height**2)
    speed = math.pi / breath.inhaling
    begins = math.asin(height) / speed
    rate = supply / volume
    cleared = math.exp(-rate * begins)
    # Integrals of sin(wt) exp(-at) from 0 to t1, and of sin(w(t1 - t)) exp(-at): what is breathed in while d < Q.
    before = (speed - cleared * (rate * height + speed * along)) / (rate**2 + speed**2)
    after = (rate * height - speed * along + speed * cleared) / (rate**2 + speed**2)
    at_end = cleared * math.exp(-2 * peak * along / (speed * volume))

    def entering(time: _Array) -> _Array:
        moment = begins + time
        still = peak * (np.cos(speed * moment) + along) / speed
        result: _Array = (peak * np.sin(speed * moment) - supply) * np.exp(-still / volume)
        return result

    gained = _integral(entering, breath.inhaling - 2 * begins) / volume
    # While over-breathing, what enters is breathed in or stays: no integral of the concentration is needed.
    over = over_breathed_percent(supply, peak) / 100 * breath.tidal
    return _Inhaling(
        left=at_end * cleared,
        gained=gained * cleared,
        from_start=(peak * (before + after * at_end) + volume * (cleared - at_end)) / breath.tidal,
        from_outside=(over - volume * gained + peak * after * gained) / breath.tidal,
    )


def _while_exhaling(breath: _Breath) -> _Exhaling:
    """Follow the hood's air while the wearer breathes out."""
    speed = math.pi / breath.exhaling

    def entering(time: _Array) -> _Array:
        still = breath.supply * (breath.exhaling - time) + breath.tidal * (1 + np.cos(speed * time)) / 2
        result: _Array = speed * breath.tidal / 2 * np.sin(speed * time) * np.exp(-still / breath.volume)
        return result

    passed = breath.supply * breath.exhaling + breath.tidal
    return _Exhaling(math.exp(-passed / breath.volume), _integral(entering, breath.exhaling) / breath.volume)


def _integral(of: Callable[[_Array], _Array], length: float) -> float:
    return float(length * np.dot(_SHARES, of(length * _NODES)))
