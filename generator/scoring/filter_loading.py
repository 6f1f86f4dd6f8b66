"""What loading with dust does to a filter: the change from first to last, and when the flow falls below a limit."""

from __future__ import annotations

from generator.scoring.valid_range import require_not_negative, require_positive


def change_in_percent(first: float, last: float) -> float:
    """Return by how many percent a reading changed.

    Parameters
    ----------
    first : float
        First reading. [any]
    last : float
        Last reading. [as first]

    Returns
    -------
    float
        Change, below zero where it fell. [%]

    Raises
    ------
    OutsideRange
        The first reading is not above zero.

    Notes
    -----
    d = 100 (b - a) / a, for a > 0.

    References
    ----------
    .. [1] Definition.
    """
    require_positive("first reading", first)
    return 100 * (last - first) / first


def time_of_fall(time_before: float, flow_before: float, time_after: float, flow_after: float, limit: float) -> float:
    """Return when a flow fell below a limit between two readings.

    Parameters
    ----------
    time_before : float
        Time of the last reading at or above the limit. [s]
    flow_before : float
        That reading. [L/min]
    time_after : float
        Time of the reading after it. [s]
    flow_after : float
        That reading, below the limit. [L/min]
    limit : float
        The limit. [L/min]

    Returns
    -------
    float
        Time of the fall. [s]

    Raises
    ------
    OutsideRange
        The second time is not after the first, the flow before is below the limit, or the flow after is not.

    Notes
    -----
    t = t1 + (t2 - t1) (Q1 - L) / (Q1 - Q2), for t1 < t2 and Q2 < L <= Q1.

    References
    ----------
    .. [1] Linear interpolation.
    """
    require_positive("time between the readings [s]", time_after - time_before)
    require_not_negative("flow before, above the limit [L/min]", flow_before - limit)
    require_positive("limit, above the flow after [L/min]", limit - flow_after)
    return time_before + (time_after - time_before) * (flow_before - limit) / (flow_before - flow_after)
