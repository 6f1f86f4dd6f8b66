"""The flow of a run without its meter, where the blower's curve and the meter's pressure drop are on record."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from generator.model.base import NotRecorded
from generator.model.flow_result import BackPressure
from generator.model.flow_run import FlowRun
from generator.model.pressure_flow import BlowerCurve
from generator.model.published import PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import Input, Working
from generator.scoring.flow_readings import pressure_of
from generator.scoring.meter_back_pressure import crossing, flow_without_meter, resistance, system_resistance

NOT_ON_RECORD = "what the meter added to the resistance is not on record"
NO_CURVE = "no blower curve at this setting is named"
OFF_CURVE = "the flow that was read lies outside the blower's curve"
MORE_THAN_HELD = "the pressure lost across the meter is more than the blower holds at this flow"
RISING = "the blower's curve rises where it would be used"
CURVE_ENDS = "the blower's curve ends before the flow without the meter"


@dataclass(frozen=True)
class CurvePoint:
    """One measured point of a blower's curve."""

    number: int
    flow: float
    """In L/min."""
    pressure: float
    """In Pa."""

    @property
    def id(self) -> str:
        """Its id among the inputs of a budget."""
        return f"curve-point-{self.number}"


Segment = tuple[CurvePoint, CurvePoint]


@dataclass(frozen=True)
class MeterCorrection:
    """How the flow without the meter follows from the flow with it."""

    measured: float
    drop: float
    drop_uncertainty: float | None
    """Expanded (95 %), in Pa; None where it is not on record."""
    curve: str
    pressure_uncertainties: dict[str, float] | None
    """Expanded (95 %) of each point, in Pa; None where it is not on record."""
    here: Segment
    """The points on either side of the flow that was read."""
    there: Segment
    """The points on either side of the flow without the meter."""

    @property
    def points(self) -> tuple[CurvePoint, ...]:
        """Every point that it rests on, once."""
        return tuple({point.number: point for point in (*self.here, *self.there)}.values())

    @property
    def system(self) -> float:
        """The resistance of filter, hose and hood, in Pa.min/L."""
        before, after = self.here
        return system_resistance(self.measured, self.drop, before.flow, before.pressure, after.flow, after.pressure)

    @property
    def flow(self) -> float:
        """The flow without the meter, in L/min."""
        before, after = self.there
        return flow_without_meter(self.system, before.flow, before.pressure, after.flow, after.pressure)

    def working(self, run: str) -> Working:
        """Return how the flow without the meter comes about."""
        system = Input(
            symbol="R",
            meaning="resistance of filter, hose and hood together",
            value=self.system,
            unit="Pa.min/L",
            where=f"flow[{run}]",
            working=Working(method="resistance-behind-the-blower", inputs=self._inputs_of_resistance(run)),
        )
        return Working(method="flow-without-meter", inputs=(system, *self._points(self.there)))

    def _inputs_of_resistance(self, run: str) -> tuple[Input, ...]:
        read = Input(
            symbol="Q",
            meaning="flow with the meter in place",
            value=self.measured,
            unit="L/min",
            where=f"flow[{run}]: flow.{run}.measured",
        )
        drop = Input(
            symbol="d",
            meaning="pressure lost across the meter",
            value=self.drop,
            unit="Pa",
            where=f"flow[{run}].meter.pressure_drop",
        )
        return (read, drop, *self._points(self.here))

    def _points(self, segment: Segment) -> tuple[Input, ...]:
        inputs = []
        for number, (point, side) in enumerate(zip(segment, ("before", "after"), strict=True), start=1):
            where = f"blower_curves[{self.curve}].points[{point.number}]"
            for symbol, meaning, value, unit in (
                ("Q", "flow of", point.flow, "L/min"),
                ("p", "pressure at", point.pressure, "Pa"),
            ):
                said = f"{meaning} the point of the curve {side} it"
                inputs.append(Input(symbol=f"{symbol}_{number}", meaning=said, value=value, unit=unit, where=where))
        return tuple(inputs)


def back_pressure(
    run: FlowRun, test: PublishedTest, measured: float
) -> tuple[BackPressure, str | None, MeterCorrection | None]:
    """Say what became of the meter's resistance in a run, why, and how it was corrected."""
    if run.meter is None:
        return BackPressure.UNKNOWN, NOT_ON_RECORD, None
    if run.meter.pressure_drop is None:
        return BackPressure.NULL_METHOD, run.meter.null_method, None
    found = _correction(run, test, measured, run.meter.pressure_drop)
    if isinstance(found, str):
        return BackPressure.NOT_CORRECTED, found, None
    return BackPressure.CORRECTED, None, found


def _correction(run: FlowRun, test: PublishedTest, measured: float, lost: Quantity) -> MeterCorrection | str:
    assert run.meter is not None
    curve = next((each for each in test.blower_curves if each.id == run.meter.blower_curve), None)
    if curve is None:
        return NO_CURVE
    drop = lost.to("Pa")
    points = tuple(
        CurvePoint(number, point.flow.to("L/min"), point.pressure.to("Pa")) for number, point in enumerate(curve.points)
    )
    segments = [pair for pair in pairwise(points) if pair[1].flow >= measured]
    if not segments or measured <= 0 or segments[0][0].flow > measured:
        return OFF_CURVE
    here = segments[0]
    system = resistance(measured, drop, here[0].flow, here[0].pressure, here[1].flow, here[1].pressure)
    if system <= 0:
        return MORE_THAN_HELD
    there = _meeting(system, segments)
    if isinstance(there, str):
        return there
    given = run.meter.drop_uncertainty
    return MeterCorrection(
        measured=measured,
        drop=drop,
        drop_uncertainty=pressure_of(given, drop) if given is not None else None,
        curve=curve.id,
        pressure_uncertainties=_uncertainties(curve, points),
        here=here,
        there=there,
    )


def _meeting(system: float, segments: list[Segment]) -> Segment | str:
    """Return the points between which the blower holds just what the system loses."""
    for before, after in segments:
        if after.pressure > before.pressure:
            return RISING
        if crossing(system, before.flow, before.pressure, after.flow, after.pressure) <= after.flow:
            return before, after
    return CURVE_ENDS


def _uncertainties(curve: BlowerCurve, points: tuple[CurvePoint, ...]) -> dict[str, float] | None:
    stated = curve.uncertainty
    if isinstance(stated, NotRecorded):
        return None
    return {point.id: pressure_of(stated, point.pressure) for point in points}
