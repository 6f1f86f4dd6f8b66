"""What scoring gives for blower curves: resistances, and flows that are predicted with one filter or another."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary


class WhatIf(StrEnum):
    """What the air is predicted to go through."""

    NEW = "new"
    LOADED = "loaded"
    TWO = "two"
    OTHER = "other"


class PartResistance(Frozen):
    """What one filter or hose takes of the pressure."""

    drops: str
    """The id of its pressure drops in the record."""
    of: str
    """What it is: `filter`, `hose` or `filter_and_hose`."""
    filter: str
    """The state of the filter."""
    what: str
    """What was measured and how."""
    alternative: bool
    """Whether it is another part than the tested device had."""
    resistance: Figure
    """Its resistance, in Pa/(L/min)."""


class CurvePoint(Frozen):
    """The fitted curve at one flow."""

    flow_l_per_min: float
    """The flow, in L/min."""
    pressure_pa: float
    """The pressure that the curve gives there, in Pa."""
    low_pa: float | None
    """The lower limit of the curve there, 95 %, in Pa; null where its uncertainty is not known."""
    high_pa: float | None
    """The upper limit; null where its uncertainty is not known."""


class MeasuredBeside(Frozen):
    """A measured flow in the state that a prediction is about."""

    run: str
    """The id of the flow run."""
    mean: Figure
    """What was measured."""
    difference: Figure
    """Predicted less measured flow, in L/min."""
    agrees: bool | None
    """Whether the 95 % interval of predicted less measured flow holds zero; null where there is none."""


class PredictedFlow(Frozen):
    """The flow that is predicted in one case; never measured."""

    case: str
    """`new`, `loaded`, `two`, or `other-` and the id of another part's pressure drops; the end of the figure's key."""
    what_if: WhatIf
    """What the air is predicted to go through."""
    part: str | None
    """For another part: the id of its pressure drops."""
    filter: str
    """The state of the filter that it is predicted for."""
    resistance_pa_min_per_l: float | None
    """The resistance of the whole way, in Pa/(L/min); null where it is not known."""
    hose_known: bool
    """Whether what a hose takes is in it."""
    flow: Figure
    """The predicted flow."""
    standard_uncertainty: float | None
    """Its combined standard uncertainty, in L/min; null where it has no interval."""
    degrees_of_freedom: float | None
    """The effective degrees of freedom of that; null where they are infinite or there is no uncertainty."""
    measured: tuple[MeasuredBeside, ...]
    """Flows of the same record that were measured in this state."""


class BlowerCurveResult(Frozen):
    """One blower curve and what it predicts."""

    curve: str
    """The id of the curve in the record."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    shape: str | None
    """`line` or `parabola`; null where no curve is used."""
    chance_of_line: float | None
    """How often a straight line's points would seem as bent; null for fewer than five points."""
    not_used: str | None
    """Why the curve predicts nothing; null where it does."""
    fitted: tuple[CurvePoint, ...]
    """The fitted curve between the least and the greatest measured flow, for drawing."""
    predictions: tuple[PredictedFlow, ...]
    """What it predicts, case by case."""


class BlowerResult(TopicResult):
    """All blower curves of a record."""

    resistances: tuple[PartResistance, ...]
    """What filters and hoses take, in the order of the record."""
    curves: tuple[BlowerCurveResult, ...]
    """Every curve, in the order of the record."""


class CarriedOut(Frozen):
    """A predicted change that was then made and measured, in another record."""

    predicted_in: str
    """The record with the prediction."""
    predicted: str
    """The key of the predicted flow there."""
    measured_in: str
    """The record of the changed device."""
    run: str
    """The id of its flow run."""
    mean: Figure
    """What was measured."""
    agrees: bool | None
    """Whether the 95 % interval of predicted less measured flow holds zero; null where there is none."""


class BlowerSummary(TopicSummary):
    """What the predictions of a device came to."""

    carried_out: tuple[CarriedOut, ...]
    """Predictions beside what was measured after the change, in the order of the records."""
