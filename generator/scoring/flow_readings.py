"""A run's readings, with the meter's correction and in the air of the room."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.base import NotRecorded
from generator.model.flow_result import AirConditions
from generator.model.flow_run import FlowRun
from generator.model.instrument import Calibration, Instrument, InstrumentKind
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.quantity import Quantity
from generator.model.result import Input, Working
from generator.model.units import find_unit
from generator.scoring.flow_statistics import corrected_flow, flow_at_room_conditions, mean_flow
from generator.scoring.gas_conditions import flow_from_scale_reading
from generator.scoring.moist_air import moist_air_density

NO_CERTIFICATE = "the meter has no calibration certificate of the test day or before"
NO_UNCERTAINTY = "the meter's certificate states no uncertainty of a flow"


@dataclass(frozen=True)
class MeteredFlows:
    """The readings of one run, corrected and brought to the air of the room, and what is known of their meter."""

    flows: tuple[float, ...]
    """In L/min."""
    inputs: tuple[Input, ...]
    read: float
    """The mean as it was read, in L/min."""
    conversion: float
    """The flow in the room's air for each L/min that the meter states."""
    meter: Instrument | None
    calibration: Calibration | None
    certificate: Input | None
    """Expanded uncertainty of the certificate at this flow, as the meter states flows; None where there is none."""
    certificate_factor: Input | None
    no_certificate: str | None

    @property
    def bare_inputs(self) -> tuple[Input, ...]:
        """The flows without how each came about, for figures beside the mean, which tells it."""
        return tuple(item.model_copy(update={"working": None}) for item in self.inputs)


def flow_meter(test: PublishedTest, catalogue: PublishedCatalogue) -> Instrument | None:
    """Return the flow meter that a record names, or None."""
    name = test.instruments.flow_meter
    return catalogue.instruments[name] if name is not None else None


def metered_flows(run: FlowRun, test: PublishedTest, meter: Instrument | None) -> MeteredFlows:
    """Return the readings of a run with the meter's correction, at room conditions."""
    calibration = meter.calibration_on(test.dates.performed) if meter is not None else None
    readings = run.readings.to("L/min")
    inputs = []
    for index, reading in enumerate(readings):
        where = f"flow[{run.id}].readings.values[{index}]"
        read = Input(symbol="R", meaning="flow as read", value=reading, unit="L/min", where=where)
        # Where the densities come from is told once, with the first reading.
        flow = _at_room_conditions(_corrected(read, calibration, meter), test, meter, told=index == 0)
        inputs.append(flow.model_copy(update={"symbol": f"Q_{{{index + 1}}}"}))
    certificate, factor, missing = _certificate(meter, calibration, mean_flow(readings))
    one = Input(symbol="Q", meaning="one litre a minute", value=1.0, unit="L/min", where="fixed here")
    return MeteredFlows(
        flows=tuple(item.value for item in inputs),
        inputs=tuple(inputs),
        read=mean_flow(readings),
        conversion=_at_room_conditions(one, test, meter, told=False).value,
        meter=meter,
        calibration=calibration,
        certificate=certificate,
        certificate_factor=factor,
        no_certificate=missing,
    )


def room_air(test: PublishedTest) -> AirConditions:
    """Return the air of a test's room."""
    room = test.environment
    humidity = None if isinstance(room.humidity, NotRecorded) else room.humidity.to("1")
    return AirConditions(
        temperature=room.temperature.to("K"), pressure=room.pressure.to("Pa"), relative_humidity=humidity
    )


def meter_air(meter: Instrument | None) -> AirConditions | None:
    """Return the air that a meter's readings refer to, or None where it reads the volume as it stands."""
    if meter is None or meter.reference_conditions is None:
        return None
    stated = meter.reference_conditions
    return AirConditions(
        temperature=stated.temperature.to("K"),
        pressure=stated.pressure.to("Pa"),
        relative_humidity=stated.humidity.to("1") if stated.humidity is not None else None,
    )


def _certificate(
    meter: Instrument | None, calibration: Calibration | None, read: float
) -> tuple[Input | None, Input | None, str | None]:
    if meter is None or calibration is None:
        return None, None, NO_CERTIFICATE
    where = certificate_path(meter, calibration)
    stated = flow_of(calibration.expanded_uncertainty, read)
    if stated is None:
        return None, None, NO_UNCERTAINTY
    certificate = _given("U_c", "expanded uncertainty on the certificate, at this flow", stated, "L/min", where)
    factor = _given("k_c", "coverage factor on the certificate", calibration.k, "1", where)
    return (
        certificate.model_copy(update={"where": f"{where}.expanded_uncertainty"}),
        factor.model_copy(update={"where": f"{where}.k"}),
        None,
    )


def _corrected(read: Input, calibration: Calibration | None, meter: Instrument | None) -> Input:
    if calibration is None or meter is None:
        return read
    where = f"{certificate_path(meter, calibration)}.correction"
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


def _at_room_conditions(flow: Input, test: PublishedTest, meter: Instrument | None, told: bool) -> Input:
    """Convert what a meter states of other air; the volume flow of other meters is that of the room as it stands."""
    stated, room = meter_air(meter), room_air(test)
    if meter is None or stated is None:
        return flow
    there = f"instruments/{meter.id}: reference_conditions"
    if meter.kind is InstrumentKind.VARIABLE_AREA_FLOW_METER:
        return _by_densities(flow, stated, room, there, told)
    reference_symbol = r"_{\mathrm{ref}}"
    inputs = (
        flow.model_copy(update={"symbol": f"Q{reference_symbol}"}),
        _given(f"T{reference_symbol}", "reference temperature", stated.temperature, "K", f"{there}.temperature"),
        _given(f"p{reference_symbol}", "reference pressure", stated.pressure, "Pa", f"{there}.pressure"),
        _given("T", "room temperature", room.temperature, "K", "environment.temperature"),
        _given("p", "room pressure", room.pressure, "Pa", "environment.pressure"),
    )
    value = flow_at_room_conditions(flow.value, stated.temperature, stated.pressure, room.temperature, room.pressure)
    return _in_the_room(flow, value, Working(method="room-conditions", inputs=inputs))


def _by_densities(flow: Input, stated: AirConditions, room: AirConditions, there: str, told: bool) -> Input:
    scale = _density(r"\rho_{\mathrm{s}}", "density of the air that the scale was made for", stated, there, told)
    here = _density(r"\rho", "density of the room's air", room, "environment", told)
    # A correction that is taken off may leave a reading of nothing below zero; the float stands at nothing then.
    value = flow_from_scale_reading(max(flow.value, 0.0), scale.value, here.value)
    inputs = (flow.model_copy(update={"symbol": "R", "value": max(flow.value, 0.0)}), scale, here)
    return _in_the_room(flow, value, Working(method="float-meter-scale", inputs=inputs))


def _density(symbol: str, meaning: str, air: AirConditions, where: str, told: bool) -> Input:
    damp = air.relative_humidity
    humidity = "relative humidity" if damp is not None else "relative humidity, not recorded: taken as dry"
    inputs = (
        _given("T", "temperature", air.temperature, "K", f"{where}.temperature"),
        _given("p", "pressure", air.pressure, "Pa", f"{where}.pressure"),
        _given("h", humidity, damp or 0.0, "1", f"{where}.humidity"),
    )
    return Input(
        symbol=symbol,
        meaning=meaning,
        value=moist_air_density(air.temperature, air.pressure, damp or 0.0),
        unit="kg/m3",
        where=where,
        working=Working(method="moist-air-density", inputs=inputs) if told else None,
    )


def _in_the_room(flow: Input, value: float, working: Working) -> Input:
    return Input(
        symbol=flow.symbol,
        meaning=f"{flow.meaning}, in the air of the room",
        value=value,
        unit="L/min",
        where=flow.where,
        working=working,
    )


def certificate_path(meter: Instrument, calibration: Calibration) -> str:
    """Return where a calibration stands."""
    return f"instruments/{meter.id}: calibration of {calibration.date}"


def _is_share(quantity: Quantity) -> bool:
    unit = find_unit(quantity.unit)
    return unit is not None and unit.dimension == "ratio"


def flow_of(uncertainty: Quantity, reading: float) -> float | None:
    """Return an uncertainty or a step as a flow in L/min, or None where it is stated of something else."""
    if _is_share(uncertainty):
        return uncertainty.to("1") * reading
    unit = find_unit(uncertainty.unit)
    return uncertainty.to("L/min") if unit is not None and unit.dimension == "flow" else None


def pressure_of(uncertainty: Quantity, pressure: float) -> float:
    """Return an uncertainty as a pressure in Pa; it may be stated as a share of the pressure."""
    try:
        return uncertainty.to("Pa")
    except KeyError:
        return uncertainty.to("1") * pressure


def _given(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
