"""A run's readings, with the meter's correction and in the air of the room."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.flow_run import FlowRun
from generator.model.instrument import Calibration, Instrument
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import Input, Working
from generator.model.units import find_unit
from generator.scoring.flow_statistics import corrected_flow, flow_at_room_conditions, mean_flow

NO_CERTIFICATE = "the meter has no calibration certificate of the test day or before"
NO_UNCERTAINTY = "the meter's certificate states no uncertainty of a flow"


@dataclass(frozen=True)
class MeteredFlows:
    """The readings of one run, corrected and brought to the air of the room, and what is known of their meter."""

    flows: tuple[float, ...]
    """In L/min."""
    inputs: tuple[Input, ...]
    certificate: Input | None
    """Expanded uncertainty of the certificate at this flow; None where there is none."""
    certificate_factor: Input | None
    no_certificate: str | None


def flow_meter(test: PublishedTest, catalogue: PublishedCatalogue) -> Instrument | None:
    """Return the flow meter that a record names, or None."""
    name = test.instruments.flow_meter
    return catalogue.instruments[name] if name is not None else None


def metered_flows(run: FlowRun, test: PublishedTest, meter: Instrument | None) -> MeteredFlows:
    """Return the readings of a run with the meter's correction, at room conditions."""
    calibration = meter.calibration_on(test.dates.performed) if meter is not None else None
    inputs = []
    for index, reading in enumerate(run.readings.to("L/min")):
        where = f"flow[{run.id}].readings.values[{index}]"
        read = Input(symbol="R", meaning="flow as read", value=reading, unit="L/min", where=where)
        flow = _at_room_conditions(_corrected(read, calibration, meter), test, meter)
        inputs.append(flow.model_copy(update={"symbol": f"Q_{{{index + 1}}}"}))
    flows = tuple(item.value for item in inputs)
    if meter is None or calibration is None:
        return MeteredFlows(flows, tuple(inputs), None, None, NO_CERTIFICATE)
    where = _certificate_path(meter, calibration)
    stated = _flow_of(calibration.expanded_uncertainty, mean_flow(run.readings.to("L/min")))
    if stated is None:
        return MeteredFlows(flows, tuple(inputs), None, None, NO_UNCERTAINTY)
    certificate = Input(
        symbol="U_c",
        meaning="expanded uncertainty on the certificate, at this flow",
        value=stated,
        unit="L/min",
        where=f"{where}.expanded_uncertainty",
    )
    factor = Input(
        symbol="k_c", meaning="coverage factor on the certificate", value=calibration.k, unit="1", where=f"{where}.k"
    )
    return MeteredFlows(flows, tuple(inputs), _at_room_conditions(certificate, test, meter), factor, None)


def _corrected(read: Input, calibration: Calibration | None, meter: Instrument | None) -> Input:
    if calibration is None or meter is None:
        return read
    where = f"{_certificate_path(meter, calibration)}.correction"
    stated = calibration.correction
    as_share = _is_share(stated)
    correction = 0.0 if as_share else stated.to("L/min")
    share = stated.to("1") if as_share else 0.0
    inputs = (
        read,
        Input(symbol="a", meaning="correction as a flow", value=correction, unit="L/min", where=where),
        Input(symbol="b", meaning="correction as a share of the reading", value=share, unit="1", where=where),
    )
    return Input(
        symbol="Q",
        meaning="corrected flow",
        value=corrected_flow(read.value, correction, share),
        unit="L/min",
        where=read.where,
        working=Working(method="certificate-correction", inputs=inputs),
    )


def _at_room_conditions(flow: Input, test: PublishedTest, meter: Instrument | None) -> Input:
    """Convert what a mass flow meter states; the volume flow of other meters is that of the room as it stands."""
    if meter is None or meter.reference_conditions is None:
        return flow
    reference, room = meter.reference_conditions, test.environment
    there, here = f"instruments/{meter.id}: reference_conditions", "environment"
    temperatures = (reference.temperature.to("K"), room.temperature.to("K"))
    pressures = (reference.pressure.to("Pa"), room.pressure.to("Pa"))
    reference_symbol = r"_{\mathrm{ref}}"
    inputs = (
        flow.model_copy(update={"symbol": f"Q{reference_symbol}"}),
        _given(f"T{reference_symbol}", "reference temperature", temperatures[0], "K", f"{there}.temperature"),
        _given(f"p{reference_symbol}", "reference pressure", pressures[0], "Pa", f"{there}.pressure"),
        _given("T", "room temperature", temperatures[1], "K", f"{here}.temperature"),
        _given("p", "room pressure", pressures[1], "Pa", f"{here}.pressure"),
    )
    value = flow_at_room_conditions(flow.value, temperatures[0], pressures[0], temperatures[1], pressures[1])
    return Input(
        symbol=flow.symbol,
        meaning=f"{flow.meaning}, in the air of the room",
        value=value,
        unit="L/min",
        where=flow.where,
        working=Working(method="room-conditions", inputs=inputs),
    )


def _certificate_path(meter: Instrument, calibration: Calibration) -> str:
    return f"instruments/{meter.id}: calibration of {calibration.date}"


def _is_share(quantity: Quantity) -> bool:
    unit = find_unit(quantity.unit)
    return unit is not None and unit.dimension == "ratio"


def _flow_of(uncertainty: Quantity, reading: float) -> float | None:
    """Return an uncertainty as a flow in L/min, or None where it is stated of something else."""
    if _is_share(uncertainty):
        return uncertainty.to("1") * reading
    unit = find_unit(uncertainty.unit)
    return uncertainty.to("L/min") if unit is not None and unit.dimension == "flow" else None


def _given(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
