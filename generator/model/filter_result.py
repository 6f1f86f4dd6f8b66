"""What scoring gives for the filter of a record and of a device."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary, Verdict


class FaceVelocityResult(Frozen):
    """How fast air goes through the medium at one flow."""

    at: str
    """`run` for a flow run of the record, `required` for the flow that is required of the kind of device, `test` for
    the flow at which facepieces without a blower are tested."""
    run: str | None
    """The id of the flow run; null for the other flows."""
    flow_l_per_min: float
    """The flow through all filters together, in L/min."""
    area_cm2: float | None
    """The area of the medium, all filters together, in cm2; null where it is not on record."""
    velocity: Figure
    """The face velocity, in cm/s."""


class PenetrationResult(Frozen):
    """What follows from one penetration of the filter by itself."""

    penetration: str
    """Its id in the record."""
    velocity: Figure
    """The face velocity at which it was measured, in cm/s."""
    together: Figure | None
    """The penetration of all filters of the device together, in percent, where another number was
    measured; else null."""
    quality: Figure
    """The quality factor, in 1/Pa."""
    other_flow: str | None
    """At which flow the next one is, in words; null where there is no such flow."""
    at_other_flow: Figure
    """The penetration at that flow, in percent."""
    highest_fit_factor: Figure
    """The fit factor that the filter leaves possible in the fit sessions that it names."""


class PastSealResult(Frozen):
    """What of the air came in past the seal in one fit session."""

    session: str
    """The session's id."""
    penetration: str
    """The id of the penetration that it rests on."""
    wearer: str
    """The wearer's letter."""
    donning: int
    """Which donning it was."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    share: Figure
    """The share of the air past the seal, in percent."""


class PressureDropResult(Frozen):
    """What follows from pressure drops at several flows."""

    drops: str
    """Their id in the record."""
    of: str
    """What the pressure is lost in."""
    filter: str
    """The state of the filter."""
    blower: str | None
    """`off` or the setting at which the blower ran; null for a part, or a device without a blower."""
    resistance: Figure
    """The slope of the line through the origin, in Pa/(L/s)."""
    off_line: Figure
    """The share of the variation that the line does not explain, in percent."""
    together: Figure | None
    """The resistance of all filters of the device together, where another number of them was measured; else null."""
    at_test_flow: Figure | None
    """The pressure drop at 85 L/min, for a whole device; null for a part."""
    verdict: Verdict | None
    """That drop held against a limit, or why none applies; null for a part."""


class LoadingResult(Frozen):
    """What loading with dust did to the filter."""

    loading: str
    """Its id in the record."""
    flow_change: Figure | None
    """Change of the flow from the first to the last reading, in percent; null where no flow was logged."""
    pressure_change: Figure | None
    """Change of the pressure drop likewise; null where no pressure was logged."""
    time_to_required: Figure | None
    """Time until the flow fell below what is required, in min; null where no flow was logged."""


class FilterResult(TopicResult):
    """The filter of a record, as it was measured."""

    velocities: tuple[FaceVelocityResult, ...]
    """Face velocities: of each flow run, and at the flow that is required or at which such devices are tested."""
    penetrations: tuple[PenetrationResult, ...]
    """One for each penetration on record."""
    past_seal: tuple[PastSealResult, ...]
    """One for each fit session that a penetration holds for."""
    drops: tuple[PressureDropResult, ...]
    """One for each list of pressure drops, but for those of the hose."""
    loading: tuple[LoadingResult, ...]
    """One for each loading on record."""


class FilterSummary(TopicSummary):
    """The filter of a device, over its records."""

    above_limit: PressureDropResult | None
    """The resistance that lies above its limit by the most; null where none does."""
    above_limit_record: str | None
    """The record that holds it; null where there is none."""
