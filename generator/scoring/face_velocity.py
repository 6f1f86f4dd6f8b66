"""How fast air goes through a filter's medium, and how much of it gets through several filters side by side."""

from __future__ import annotations

from collections.abc import Sequence

from generator.scoring.valid_range import require_not_negative, require_positive, require_same_length

CM3_PER_L = 1000
S_PER_MIN = 60


def face_velocity(flow: float, area: float) -> float:
    """Return the mean velocity of air through a filter's medium.

    Parameters
    ----------
    flow : float
        Flow through all filters together. [L/min]
    area : float
        Unfolded area of the medium, all filters together. [cm2]

    Returns
    -------
    float
        Face velocity. [cm/s]

    Raises
    ------
    OutsideRange
        The flow is below zero, or the area is not above zero.

    Notes
    -----
    U = Q 1000 / (60 A), for Q >= 0 and A > 0, with A = n times the area of one of n filters.

    References
    ----------
    .. [1] Definition; a study of filtering facepieces equates 105 L/min with 10 cm/s, which is 175 cm2.
    """
    require_not_negative("flow through the filters [L/min]", flow)
    require_positive("area of the medium [cm2]", area)
    return flow * CM3_PER_L / (S_PER_MIN * area)


def penetration_together(flows: Sequence[float], penetrations: Sequence[float]) -> float:
    """Return the share of the particles that gets through several filters side by side.

    Parameters
    ----------
    flows : Sequence[float]
        Flow through each filter. [L/min]
    penetrations : Sequence[float]
        Penetration of each at its flow. [1]

    Returns
    -------
    float
        Penetration of all together. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length, a flow is not above zero, or a penetration is below zero.

    Notes
    -----
    P = sum(q P) / sum(q), for q > 0 and P >= 0.

    References
    ----------
    .. [1] Balance of particles.
    """
    require_same_length("flows and penetrations", flows, penetrations)
    for flow, penetration in zip(flows, penetrations, strict=True):
        require_positive("flow through one filter [L/min]", flow)
        require_not_negative("penetration of one filter", penetration)
    return sum(flow * share for flow, share in zip(flows, penetrations, strict=True)) / sum(flows)


def resistance_together(resistances: Sequence[float]) -> float:
    """Return the resistance of several filters side by side.

    Parameters
    ----------
    resistances : Sequence[float]
        Resistance of each. [Pa/(L/s)]

    Returns
    -------
    float
        Resistance of all together. [Pa/(L/s)]

    Raises
    ------
    OutsideRange
        There is none, or a resistance is not above zero.

    Notes
    -----
    1 / R = sum(1 / R_i), for R_i > 0: the same pressure drop across each, and the flows add up.

    References
    ----------
    .. [1] Balance of flows through resistances that are proportional to the flow.
    """
    require_same_length("resistances", resistances)
    for resistance in resistances:
        require_positive("resistance of one filter [Pa/(L/s)]", resistance)
    return 1 / sum(1 / resistance for resistance in resistances)
