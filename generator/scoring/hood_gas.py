"""Carbon dioxide and oxygen of a hood's air, taken as mixed: what goes in, what the wearer gives off and takes up."""

from __future__ import annotations

from generator.scoring.valid_range import require_not_negative, require_positive


def carbon_dioxide_from_oxygen(uptake: float, quotient: float) -> float:
    """Return the carbon dioxide that a person gives off, from the oxygen taken up.

    Parameters
    ----------
    uptake : float
        Oxygen taken up. [L/min]
    quotient : float
        Respiratory quotient. [1]

    Returns
    -------
    float
        Carbon dioxide given off, at the conditions of the uptake. [L/min]

    Raises
    ------
    OutsideRange
        The uptake or the quotient is not above zero.

    Notes
    -----
    G = R V_O2, for V_O2 > 0 and R > 0. R is about 0.8 to 0.9 at rest and rises towards 1 with the load.

    References
    ----------
    .. [1] By definition of the respiratory quotient.
    """
    require_positive("oxygen uptake [L/min]", uptake)
    require_positive("respiratory quotient", quotient)
    return quotient * uptake


def mixed_hood_carbon_dioxide(room: float, production: float, supply: float) -> float:
    """Return the mean carbon dioxide of a hood's air in the steady state.

    Parameters
    ----------
    room : float
        Carbon dioxide of the room's air. [%]
    production : float
        Carbon dioxide that the wearer gives off, in the air of the room. [L/min]
    supply : float
        All the air that comes into the hood. [L/min]

    Returns
    -------
    float
        Carbon dioxide of the hood's air, by volume of dry gas. [%]

    Raises
    ------
    OutsideRange
        The room's carbon dioxide is below zero, or a flow is not above zero.

    Notes
    -----
    C = C_a + 100 G / Q, for Q > 0: the steady state of V dC/dt = G - Q (C - C_a), which holds where G is much smaller
    than Q and the air in the hood is mixed.

    References
    ----------
    .. [1] Balance of a gas in a mixed volume.
    """
    require_not_negative("carbon dioxide of the room [%]", room)
    require_positive("carbon dioxide given off [L/min]", production)
    require_positive("supply flow [L/min]", supply)
    return room + 100 * production / supply


def mixed_hood_oxygen(fresh: float, production: float, quotient: float, supply: float) -> float:
    """Return the mean oxygen of a hood's air in the steady state.

    Parameters
    ----------
    fresh : float
        Oxygen of the room's air, by volume of dry gas. [%]
    production : float
        Carbon dioxide that the wearer gives off, in the air of the room. [L/min]
    quotient : float
        Respiratory quotient. [1]
    supply : float
        All the air that comes into the hood. [L/min]

    Returns
    -------
    float
        Oxygen of the hood's air, by volume of dry gas. [%]

    Raises
    ------
    OutsideRange
        A number is not above zero.

    Notes
    -----
    C_O2 = C_f - 100 (G / R) / Q, for Q > 0, with the same limits as the balance of carbon dioxide.

    References
    ----------
    .. [1] Balance of a gas in a mixed volume; oxygen taken up is G / R by definition of the respiratory quotient.
    """
    require_positive("oxygen of fresh air [%]", fresh)
    require_positive("carbon dioxide given off [L/min]", production)
    require_positive("respiratory quotient", quotient)
    require_positive("supply flow [L/min]", supply)
    return fresh - 100 * production / quotient / supply


def least_supply(room: float, production: float, limit: float) -> float:
    """Return the least flow that holds the carbon dioxide of a hood's mixed air at a limit.

    Parameters
    ----------
    room : float
        Carbon dioxide of the room's air. [%]
    production : float
        Carbon dioxide that the wearer gives off, in the air of the room. [L/min]
    limit : float
        The limit. [%]

    Returns
    -------
    float
        Least flow of air into the hood. [L/min]

    Raises
    ------
    OutsideRange
        The room's carbon dioxide is below zero, the production is not above zero, or the limit is not above the room's.

    Notes
    -----
    Q = 100 G / (C_lim - C_a), for C_lim > C_a.

    References
    ----------
    .. [1] Balance of a gas in a mixed volume, solved for the flow.
    """
    require_not_negative("carbon dioxide of the room [%]", room)
    require_positive("carbon dioxide given off [L/min]", production)
    require_positive("limit less the carbon dioxide of the room [%]", limit - room)
    return 100 * production / (limit - room)


def sealed_hood_time(volume: float, start: float, limit: float, production: float) -> float:
    """Return how long the carbon dioxide of a sealed hood's mixed air takes to reach a limit.

    Parameters
    ----------
    volume : float
        Air in the hood. [L]
    start : float
        Carbon dioxide at the start. [%]
    limit : float
        The limit. [%]
    production : float
        Carbon dioxide that the wearer gives off, in the air of the room. [L/min]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    OutsideRange
        The start is below zero, the limit is not above it, or volume or production is not above zero.

    Notes
    -----
    t = V (C_lim - C_0) / (100 G), for Q = 0 and C_lim > C_0.

    References
    ----------
    .. [1] Balance of a gas in a mixed volume without any flow.
    """
    require_positive("air in the hood [L]", volume)
    require_not_negative("carbon dioxide at the start [%]", start)
    require_positive("limit less the start [%]", limit - start)
    require_positive("carbon dioxide given off [L/min]", production)
    minutes = volume * (limit - start) / (100 * production)
    return 60 * minutes
