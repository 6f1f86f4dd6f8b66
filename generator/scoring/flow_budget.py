"""The uncertainty budget of a run's mean flow: what goes into it, and what is not on record."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from generator.model.base import NotRecorded
from generator.model.budget_result import Budget
from generator.model.flow_run import FlowRun
from generator.model.instrument import Calibration, Instrument, InstrumentKind
from generator.model.published import PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import Input, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_back_pressure import MeterCorrection
from generator.scoring.flow_readings import MeteredFlows, certificate_path, flow_of, pressure_of
from generator.scoring.flow_statistics import (
    certificate_uncertainty,
    coverage_factor,
    expanded_uncertainty,
    mean_flow,
    standard_deviation,
    uncertainty_of_mean,
)
from generator.scoring.meter_back_pressure import crossing, resistance
from generator.scoring.uncertainty_budgets import Component, Missing, uncertainty_budget
from generator.scoring.uncertainty_components import (
    drift_limit,
    rectangular_uncertainty,
    resolution_uncertainty,
    stated_uncertainty,
    widened_coverage_factor,
)

NOT_RECORDED = "not on record"
READINGS, TEMPERATURE, PRESSURE, DROP = "readings", "room-temperature", "room-pressure", "meter-drop"
_ERRORS = ("certificate", "resolution", "drift")
"""What the meter may be off by; each is taken off a flow as the meter states it."""


@dataclass(frozen=True)
class Source:
    """A source of uncertainty, with how its standard uncertainty comes about; `origin` is None where it is missing."""

    part: Component | Missing
    origin: Working | None = None


@dataclass(frozen=True)
class RunBudget:
    """A run's budget, and how each standard uncertainty in it comes about, by the ids of its rows."""

    budget: Budget
    origins: Mapping[str, Working]


def run_budget(
    run: FlowRun,
    test: PublishedTest,
    metered: MeteredFlows,
    correction: MeterCorrection | None,
    unresolved: str | None,
) -> RunBudget:
    """Return the budget of a run's mean; `unresolved` says why the meter's resistance is not in it, where it is not."""
    assert metered.meter is not None
    assert metered.calibration is not None
    sources = [
        _scatter(run.id, metered),
        _certificate(metered),
        _resolution(metered.meter, metered.read),
        _drift(metered.meter, metered.calibration, test, metered.read),
        *_room(test, metered.meter),
    ]
    if correction is not None:
        sources += _meter_in_path(run.id, correction)
    elif unresolved is not None:
        sources.append(Source(Missing("meter-resistance", "resistance of the meter in the air path", "Pa", unresolved)))
    budget = uncertainty_budget(
        _measurand(test, metered, correction),
        [source.part for source in sources if isinstance(source.part, Component)],
        [source.part for source in sources if isinstance(source.part, Missing)],
        COVERAGE,
        "L/min",
    )
    budget = _no_narrower_than_scatter(budget, len(metered.flows) - 1)
    return RunBudget(budget, {source.part.id: source.origin for source in sources if source.origin is not None})


def _no_narrower_than_scatter(budget: Budget, degrees: int) -> Budget:
    """Widen a budget whose interval another source of uncertainty has made narrower than its scatter alone."""
    if budget.standard_uncertainty == 0:
        return budget
    scatter = next(row for row in budget.rows if row.id == READINGS).contribution
    factor = widened_coverage_factor(
        budget.coverage_factor, scatter, degrees, budget.standard_uncertainty, budget.coverage
    )
    expanded = expanded_uncertainty(budget.standard_uncertainty, factor)
    return budget.model_copy(update={"coverage_factor": factor, "expanded_uncertainty": expanded})


def _measurand(
    test: PublishedTest, metered: MeteredFlows, correction: MeterCorrection | None
) -> Callable[[Mapping[str, Any]], Any]:
    temperature, pressure = test.environment.temperature.to("K"), test.environment.pressure.to("Pa")

    def flow(given: Mapping[str, Any]) -> Any:
        ratio = given.get(TEMPERATURE, temperature) / temperature * (pressure / given.get(PRESSURE, pressure))
        # By a float meter's scale it is the root of the densities' ratio.
        if metered.meter is not None and metered.meter.kind is InstrumentKind.VARIABLE_AREA_FLOW_METER:
            ratio = ratio**0.5
        errors = sum(given[name] for name in _ERRORS if name in given)
        measured = given[READINGS] * ratio + errors * metered.conversion
        if correction is None:
            return measured
        pressures = {point.id: given.get(point.id, point.pressure) for point in correction.points}
        (one, two), (three, four) = correction.here, correction.there
        drop = given.get(DROP, correction.drop)
        system = resistance(measured, drop, one.flow, pressures[one.id], two.flow, pressures[two.id])
        return crossing(system, three.flow, pressures[three.id], four.flow, pressures[four.id])

    return flow


def _scatter(run: str, metered: MeteredFlows) -> Source:
    count, deviation = len(metered.flows), standard_deviation(metered.flows)
    path = f"flow[{run}]"
    spread = _input("s", "standard deviation of one reading", deviation, "L/min", f"{path}: flow.{run}.sd")
    number = _input("n", "number of readings", count, "count", f"{path}.readings")
    part = Component(
        READINGS,
        "scatter of the readings",
        mean_flow(metered.flows),
        "L/min",
        uncertainty_of_mean(deviation, count),
        count - 1,
    )
    return Source(part, Working(method="uncertainty-of-mean", inputs=(spread, number)))


def _certificate(metered: MeteredFlows) -> Source:
    stated, factor = metered.certificate, metered.certificate_factor
    assert stated is not None
    assert factor is not None
    u = certificate_uncertainty(stated.value, factor.value)
    part = Component("certificate", "certificate of the meter", 0.0, "L/min", u)
    return Source(part, Working(method="certificate-uncertainty", inputs=(stated, factor)))


def _resolution(meter: Instrument, read: float) -> Source:
    name, step = "step of the meter's display", _recorded_flow(meter.resolution, read)
    if step is None:
        return Source(Missing("resolution", name, "L/min", NOT_RECORDED))
    given = _input("d", "smallest step of the display", step, "L/min", f"instruments/{meter.id}: resolution")
    part = Component("resolution", name, 0.0, "L/min", resolution_uncertainty(step))
    return Source(part, Working(method="resolution-uncertainty", inputs=(given,)))


def _drift(meter: Instrument, calibration: Calibration, test: PublishedTest, read: float) -> Source:
    name, rate = "drift of the meter since its calibration", _recorded_flow(meter.drift_per_year, read)
    if rate is None:
        return Source(Missing("drift", name, "L/min", NOT_RECORDED))
    days = (test.dates.performed - calibration.date).days
    limit = drift_limit(rate, days)
    where = f"instruments/{meter.id}: drift_per_year"
    inputs = (
        _input("r", "largest drift in a year, at this flow", rate, "L/min", where),
        _input("t", "days since the calibration", days, "d", certificate_path(meter, calibration)),
    )
    drifted = Input(
        symbol="a",
        meaning="largest drift since the calibration",
        value=limit,
        unit="L/min",
        where=where,
        working=Working(method="drift-limit", inputs=inputs),
    )
    part = Component("drift", name, 0.0, "L/min", rectangular_uncertainty(limit))
    return Source(part, Working(method="rectangular-uncertainty", inputs=(drifted,)))


def _recorded_flow(stated: Quantity | NotRecorded | None, read: float) -> float | None:
    return None if stated is None or isinstance(stated, NotRecorded) else flow_of(stated, read)


def _room(test: PublishedTest, meter: Instrument) -> list[Source]:
    """Return what the room's air adds: nothing where the meter reads the volume as it stands."""
    if not meter.kind.refers_to_conditions:
        return []
    room = test.environment
    temperature, pressure = room.temperature.to("K"), room.pressure.to("Pa")
    of_temperature, of_pressure = room.temperature_uncertainty, room.pressure_uncertainty
    sources = [
        _stated(
            TEMPERATURE,
            "temperature of the room",
            temperature,
            "K",
            None if of_temperature is None else of_temperature.to("K"),
            "environment.temperature_uncertainty",
        ),
        _stated(
            PRESSURE,
            "pressure of the room's air",
            pressure,
            "Pa",
            None if of_pressure is None else pressure_of(of_pressure, pressure),
            "environment.pressure_uncertainty",
        ),
    ]
    if meter.kind is InstrumentKind.VARIABLE_AREA_FLOW_METER and isinstance(room.humidity, NotRecorded):
        dry = "not on record; the air was taken as dry"
        sources.append(Source(Missing("humidity", "humidity of the room's air", "1", dry)))
    return sources


def _meter_in_path(run: str, correction: MeterCorrection) -> list[Source]:
    where = f"flow[{run}].meter.drop_uncertainty"
    drop = _stated(DROP, "pressure lost across the meter", correction.drop, "Pa", correction.drop_uncertainty, where)
    known = correction.pressure_uncertainties
    where = f"blower_curves[{correction.curve}].uncertainty"
    points = [
        _stated(
            point.id,
            f"blower's pressure at {point.flow:.4g} L/min",
            point.pressure,
            "Pa",
            None if known is None else known[point.id],
            where,
        )
        for point in correction.points
    ]
    return [drop, *points]


def _stated(name: str, words: str, estimate: float, unit: str, expanded: float | None, where: str) -> Source:
    """Return an input whose record states an expanded uncertainty of 95 %, or that it is missing."""
    if expanded is None:
        return Source(Missing(name, words, unit, NOT_RECORDED))
    factor = coverage_factor(None, COVERAGE)
    inputs = (
        _input("U", "expanded uncertainty as recorded (95 %)", expanded, unit, where),
        _input("k", "coverage factor for 95 %, normal distribution", factor, "1", "fixed here"),
    )
    part = Component(name, words, estimate, unit, stated_uncertainty(expanded, factor))
    return Source(part, Working(method="stated-uncertainty", inputs=inputs))


def _input(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
