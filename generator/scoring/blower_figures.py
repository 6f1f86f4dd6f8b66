"""A record's blower curves and pressure drops as fitted lines, each with what is known of its uncertainty."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.model.base import NotRecorded
from generator.model.pressure_flow import BlowerCurve, PressureAtFlow, PressureDrops
from generator.model.quantity import PressureUncertainty
from generator.model.result import Figure, Input, Interval, Working
from generator.model.units import find_unit
from generator.scoring.blower_curve import chosen_degree, curve_scatter, fitted_coefficients, pressure_at, slope_at
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_resistance import flow_resistance, resistance_scatter, resistance_shift
from generator.scoring.flow_statistics import certificate_uncertainty, coverage_factor
from generator.scoring.operating_point import limits_about

RESISTANCE_UNIT = "Pa/(L/min)"
NOTHING_KNOWN = "too few points show their scatter, and the uncertainty of the pressures is not recorded"
RISES = "the fitted curve does not fall throughout the measured flows"
_DEGREE = "1 for a straight line, 2 for a parabola"
_TERMS = ("constant of the blower's curve", "its term of the flow", "its term of the flow squared")
_STATED_COVERAGE = coverage_factor(None, COVERAGE)


def covered(known: Iterable[tuple[bool, bool]]) -> str:
    """Say what an interval covers; for each fitted line, whether its points show a scatter and state an uncertainty."""
    kinds = set(known)
    what = "what is known of the scatter of the points and of their pressures' uncertainty"
    if kinds == {(True, True)}:
        what = "the scatter of the points and the stated uncertainty of their pressures"
    elif kinds == {(True, False)}:
        what = "the scatter of the points only, since the uncertainty of their pressures is not recorded"
    elif kinds == {(False, True)}:
        what = "the stated uncertainty of the pressures only, since too few points show a scatter"
    return f"{what}; not the flows at the points, the shape of the curve or differences between items"


@dataclass(frozen=True)
class Doubt:
    """One independent standard uncertainty, in the unit of what it is about. `degrees` is None where infinite."""

    value: float
    degrees: float | None
    meaning: str
    where: str
    working: Working | None = None


@dataclass(frozen=True)
class FittedPart:
    """A filter or hose: its resistance as measured, what blurs it, and the greatest flow that went through it."""

    drops: PressureDrops
    figure: Figure
    doubts: tuple[Doubt, ...]
    known: tuple[bool, bool]
    most_flow: float

    @property
    def resistance(self) -> float | None:
        """The resistance as measured, or None where it is not scored."""
        return self.figure.value


@dataclass(frozen=True)
class FittedCurve:
    """A blower's curve within its measured flows, or why it is not used."""

    curve: BlowerCurve
    flows: tuple[float, ...]
    pressures: tuple[float, ...]
    degree: int
    coefficients: tuple[float, ...]
    not_used: str | None

    @property
    def path(self) -> str:
        """Where its points stand in the record."""
        return f"blower_curves[{self.curve.id}].points"

    @property
    def known(self) -> tuple[bool, bool]:
        """Whether its points show a scatter, and whether the uncertainty of their pressures is recorded."""
        return len(self.flows) > len(self.coefficients), not isinstance(self.curve.uncertainty, NotRecorded)

    def doubts_at(self, flow: float) -> tuple[Doubt, ...]:
        """Return what blurs the curve's pressure at a flow. [Pa]"""
        found = []
        degrees = len(self.flows) - len(self.coefficients)
        if degrees > 0:
            scatter = curve_scatter(self.flows, self.pressures, self.degree, flow)
            # The points themselves stand where the curve is fitted.
            inputs = (
                Input(symbol="Q", meaning="flow at which it is read", value=flow, unit="L/min", where=self.path),
                Input(symbol="n", meaning="number of points", value=len(self.flows), unit="count", where=self.path),
                Input(symbol="d", meaning=_DEGREE, value=self.degree, unit="1", where=f"{self.path}: their bend"),
            )
            working = Working(method="blower-scatter", inputs=inputs)
            meaning = "of the blower's pressure, by its points' scatter"
            found.append(Doubt(scatter, degrees, meaning, self.path, working))
        if not isinstance(self.curve.uncertainty, NotRecorded):
            gauge = _one_pressure(self.curve.uncertainty, pressure_at(self.coefficients, flow))
            where = f"blower_curves[{self.curve.id}].uncertainty"
            found.append(Doubt(gauge, None, "of the blower's pressure, as stated", where))
        return tuple(found)

    def coefficient_inputs(self, told_by: str | None) -> tuple[Input, ...]:
        """Return the coefficients as inputs. How they come about is told once, by the figure whose key is `told_by`."""
        working = Working(method="blower-fit", inputs=_points(self.path, self.curve.points))
        units = ("Pa", RESISTANCE_UNIT, "Pa/(L/min)^2")
        return tuple(
            Input(
                symbol="abc"[power],
                meaning=_TERMS[power],
                value=value,
                unit=units[power],
                where=self.path if told_by is None else f"blower_curves[{self.curve.id}]: {told_by}",
                working=working if power == 0 and told_by is None else None,
            )
            for power, value in enumerate(self.coefficients)
        )


def fitted_part(drops: PressureDrops) -> FittedPart:
    """Fit the resistance of a filter or hose; points without flow say nothing of it."""
    points = [point for point in drops.points if point.flow.number > 0]
    flows = [point.flow.to("L/min") for point in points]
    doubts = _part_doubts(drops, points) if points else ()
    return FittedPart(
        drops=drops,
        figure=_resistance_figure(drops, points, doubts),
        doubts=doubts,
        known=_known(drops, points),
        most_flow=max(flows, default=0.0),
    )


def fitted_curve(curve: BlowerCurve) -> FittedCurve:
    """Fit a blower's curve; one that rises somewhere, or was measured with parts fitted, is not used."""
    flows = tuple(point.flow.to("L/min") for point in curve.points)
    pressures = tuple(point.pressure.to("Pa") for point in curve.points)
    degree = chosen_degree(flows, pressures)
    coefficients = fitted_coefficients(flows, pressures, degree)
    not_used = None
    if not curve.alone:
        not_used = "the blower's curve was measured with filter or hose fitted"
    elif max(slope_at(coefficients, flow) for flow in (flows[0], flows[-1])) >= 0:
        not_used = RISES
    return FittedCurve(curve, flows, pressures, degree, coefficients, not_used)


def _part_doubts(drops: PressureDrops, points: Sequence[PressureAtFlow]) -> tuple[Doubt, ...]:
    flows, pressures = [point.flow.to("L/min") for point in points], [point.pressure.to("Pa") for point in points]
    path, found = f"pressure_drops[{drops.id}]", []
    resistance = flow_resistance(flows, pressures)
    of_part = Input(
        symbol=r"R_{\mathrm{part}}",
        meaning="resistance of the part",
        value=resistance,
        unit=RESISTANCE_UNIT,
        where=f"{path}: {_resistance_key(drops)}",
    )
    of_number = Input(
        symbol="n", meaning="number of points with a flow", value=len(points), unit="count", where=f"{path}.points"
    )
    if len(points) > 1:
        # The points themselves stand where the resistance comes from.
        working = Working(method="resistance-scatter", inputs=(of_part, of_number))
        scatter = resistance_scatter(flows, pressures)
        found.append(Doubt(scatter, len(points) - 1, "by the points' scatter", f"{path}.points", working))
    if not isinstance(drops.uncertainty, NotRecorded):
        where, meaning = f"{path}.uncertainty", "by the pressures' stated uncertainty"
        if _is_share(drops.uncertainty):
            found.append(Doubt(_one_pressure(drops.uncertainty, resistance), None, meaning, where))
        else:
            gauge = _one_pressure(drops.uncertainty, 0.0)
            of_gauge = Input(
                symbol="g", meaning="standard uncertainty of one pressure", value=gauge, unit="Pa", where=where
            )
            working = Working(method="resistance-shift", inputs=(of_gauge, of_number))
            found.append(Doubt(resistance_shift(flows, gauge), None, meaning, where, working))
    return tuple(found)


def _known(drops: PressureDrops, points: Sequence[PressureAtFlow]) -> tuple[bool, bool]:
    return len(points) > 1, not isinstance(drops.uncertainty, NotRecorded)


def _resistance_key(drops: PressureDrops) -> str:
    return f"blower.{drops.id}.resistance"


def _resistance_figure(drops: PressureDrops, points: Sequence[PressureAtFlow], doubts: Sequence[Doubt]) -> Figure:
    flows, pressures = [point.flow.to("L/min") for point in points], [point.pressure.to("Pa") for point in points]
    value = flow_resistance(flows, pressures) if points else None
    path = f"pressure_drops[{drops.id}]"
    interval, reason = None, None
    if value is not None:
        known = covered([_known(drops, points)])
        interval, reason = interval_about(value, RESISTANCE_UNIT, f"{path}: {_resistance_key(drops)}", doubts, known)
    return Figure(
        key=_resistance_key(drops),
        name="resistance",
        value=value,
        unit=RESISTANCE_UNIT,
        interval=interval,
        no_interval=reason,
        sample_size=len(points),
        sample_of="points",
        method="flow-resistance",
        working=Working(method="flow-resistance", inputs=_points(f"{path}.points", points)) if points else None,
        not_scored=None if points else "no point has a flow",
    )


def interval_about(
    value: float, unit: str, where: str, doubts: Sequence[Doubt], covers: str, least: float = 0.0
) -> tuple[Interval | None, str | None]:
    """Return the limits of an estimate from what is known to blur it, or why there are none; none is below `least`."""
    if not any(doubt.value for doubt in doubts):
        return None, NOTHING_KNOWN
    low, high = limits_about(value, [doubt.value for doubt in doubts], [doubt.degrees for doubt in doubts], COVERAGE)
    estimate = Input(symbol="x", meaning="the estimate", value=value, unit=unit, where=where)
    method = "limits-of-an-estimate"
    working = Working(method=method, inputs=(estimate, *doubt_inputs(doubts, unit)))
    return (
        Interval(low=max(low, least), high=high, coverage=COVERAGE, method=method, covers=covers, working=working),
        None,
    )


def doubt_inputs(doubts: Sequence[Doubt], unit: str) -> tuple[Input, ...]:
    """Return what blurs an estimate as inputs of its interval, with the coverage that is wanted."""
    inputs = []
    for number, doubt in enumerate(doubts, start=1):
        meaning = f"standard uncertainty {doubt.meaning}"
        of_doubt = Input(
            symbol=f"u_{{{number}}}",
            meaning=meaning,
            value=doubt.value,
            unit=unit,
            where=doubt.where,
            working=doubt.working,
        )
        inputs.append(of_doubt)
        if doubt.degrees is not None:
            symbol, meaning = rf"\nu_{{{number}}}", "its degrees of freedom"
            inputs.append(Input(symbol=symbol, meaning=meaning, value=doubt.degrees, unit="1", where=doubt.where))
    inputs.append(Input(symbol="P", meaning="coverage probability", value=COVERAGE, unit="1", where="fixed here"))
    return tuple(inputs)


def _points(path: str, points: Sequence[PressureAtFlow]) -> tuple[Input, ...]:
    return tuple(
        item
        for number, point in enumerate(points, start=1)
        for item in (
            Input(symbol=f"Q_{{{number}}}", meaning="flow", value=point.flow.to("L/min"), unit="L/min", where=path),
            Input(symbol=f"p_{{{number}}}", meaning="pressure", value=point.pressure.to("Pa"), unit="Pa", where=path),
        )
    )


def _is_share(uncertainty: PressureUncertainty) -> bool:
    unit = find_unit(uncertainty.unit)
    return unit is not None and unit.dimension == "ratio"


def _one_pressure(uncertainty: PressureUncertainty, of: float) -> float:
    """Return a stated expanded uncertainty as a standard one: of a pressure, or of what is in proportion to it."""
    # Where a fitted curve comes down to no pressure, rounding may leave it a trace below.
    expanded = uncertainty.to("1") * max(of, 0.0) if _is_share(uncertainty) else uncertainty.to("Pa")
    return certificate_uncertainty(expanded, _STATED_COVERAGE)
