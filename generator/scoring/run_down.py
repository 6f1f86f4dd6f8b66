"""How long the flow of a blower stays at or above what is required, from a log on one charge of its battery."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import (
    require_between,
    require_increasing,
    require_not_negative,
    require_positive,
    require_same_length,
)

SECONDS_PER_MINUTE = 60.0


def elapsed_time(start: float, end: float) -> float:
    """Return the time from one reading of a clock to a later one.

    Parameters
    ----------
    start : float
        Time of the first line of the log. [s]
    end : float
        Time of what is asked about. [s]

    Returns
    -------
    float
        Time between them. [min]

    Raises
    ------
    OutsideRange
        The end lies before the start.

    Notes
    -----
    T = (t - t_0) / 60, for t >= t_0.

    References
    ----------
    .. [1] 60 s are 1 min: The International System of Units, 9th edition, table 8 (from memory).
    """
    require_between("time on the clock of the log [s]", end, start, math.inf)
    return (end - start) / SECONDS_PER_MINUTE


def first_below(flows: Sequence[float], required: float) -> int | None:
    """Return the place of the first flow below what is required.

    Parameters
    ----------
    flows : Sequence[float]
        Flows in order of time. [L/min]
    required : float
        Required flow. [L/min]

    Returns
    -------
    int | None
        Its place, counted from 0; None where no flow lies below. [count]

    Raises
    ------
    OutsideRange
        The required flow is not above zero.

    Notes
    -----
    The least i with Q_i < Q_r. A flow that is exactly the required one is not below it. What comes after the first
    such flow does not matter: a wearer has breathed from a device that gave too little by then.

    References
    ----------
    .. [1] Own rule.
    """
    require_positive("required flow [L/min]", required)
    return next((place for place, flow in enumerate(flows) if flow < required), None)


def run_time(times: Sequence[float], flows: Sequence[float], required: float) -> float | None:
    """Return the time from the start of a log until the flow first falls below what is required.

    Parameters
    ----------
    times : Sequence[float]
        Times of the lines of the log. [s]
    flows : Sequence[float]
        Flow at each of them. [L/min]
    required : float
        Required flow. [L/min]

    Returns
    -------
    float | None
        Run time; None where the flow does not fall below in this log: nothing is extrapolated. [min]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, the times do not go up, or the required flow is not above zero.

    Notes
    -----
    T = (t_1 - t_0 + (Q_1 - Q_r) / (Q_1 - Q_2) (t_2 - t_1)) / 60, with Q_2 the first flow below Q_r, Q_1 that of the
    line before it, and the flow between the two taken as a straight line; 0 where the first line is below already.

    References
    ----------
    .. [1] Linear interpolation between two readings; own rule that the first flow below ends the run time.
    """
    require_same_length("times and flows", times, flows)
    require_increasing("times [s]", times)
    below = first_below(flows, required)
    if below is None:
        return None
    if not below:
        return 0.0
    before = below - 1
    part = (flows[before] - required) / (flows[before] - flows[below])
    return (times[before] - times[0] + part * (times[below] - times[before])) / SECONDS_PER_MINUTE


def run_time_limits(
    time: float, at_higher: float, at_lower: float | None, step: float, factor: float
) -> tuple[float, float | None]:
    """Return the limits of a run time from the uncertainty of the flow and the spacing of the log's lines.

    Parameters
    ----------
    time : float
        Run time. [min]
    at_higher : float
        Run time at a required flow that is higher by the expanded uncertainty of the flow. [min]
    at_lower : float | None
        The same at one that is lower by it; None where the flow does not fall so far in the log. [min]
    step : float
        Time between the two lines of the log that the run time ends between. [min]
    factor : float
        Coverage factor. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit; no upper one where the log sets none. [min]

    Raises
    ------
    OutsideRange
        A time is below zero, the three run times are not in order, or the factor is not above zero.

    Notes
    -----
    low = T - sqrt((T - T_-)^2 + (k D / sqrt(12))^2), not below 0; high = T + sqrt((T_+ - T)^2 + (k D / sqrt(12))^2).
    A flow that reads too high by U crosses the requirement in truth where it is read at Q_r + U. Within a step of D
    the end may lie anywhere: a rectangular distribution.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.3.7, rectangular distribution of full width 2a = D: u = a / sqrt(3) (from memory).
    .. [2] JCGM 101:2008: limits of a monotone function are the function of the limits (from memory).
    """
    require_between("run time at a higher required flow [min]", at_higher, 0, time)
    require_not_negative("time between two lines [min]", step)
    require_positive("coverage factor", factor)
    spacing = factor * step / math.sqrt(12)
    low = max(0.0, time - math.hypot(time - at_higher, spacing))
    if at_lower is None:
        return low, None
    require_between("run time at a lower required flow [min]", at_lower, time, math.inf)
    return low, time + math.hypot(at_lower - time, spacing)


def alarm_margin(time: float, alarm: float) -> float:
    """Return how long before the end of the run time an alarm came.

    Parameters
    ----------
    time : float
        Run time. [min]
    alarm : float
        Time from the start of the log to the alarm. [min]

    Returns
    -------
    float
        Time from the alarm to the end of the run time; below zero where the alarm came after it. [min]

    Raises
    ------
    OutsideRange
        A time is below zero.

    Notes
    -----
    M = T - T_a, for T >= 0 and T_a >= 0.

    References
    ----------
    .. [1] By definition.
    """
    require_not_negative("run time [min]", time)
    require_not_negative("time of the alarm [min]", alarm)
    return time - alarm
