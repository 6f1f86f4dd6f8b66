"""The flow of a run-down's log, with the meter's correction and in the air of the room, and what is known of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.flow_run import BatteryState, FlowReadings, FlowRun
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Input, Working
from generator.model.run_down import RunDown
from generator.model.series import Series
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_readings import MeteredFlows, flow_meter, metered_flows
from generator.scoring.flow_statistics import certificate_uncertainty, coverage_factor, expanded_uncertainty

_LINE = 1000.0
"""A second reading, beside 0, by which the straight line from readings to flows is found. [L/min]"""


@dataclass(frozen=True)
class LoggedFlow:
    """The log of one run-down: times in s, and flows in L/min of the room's air."""

    run_down: RunDown
    test: PublishedTest
    catalogue: PublishedCatalogue
    series: Series
    read: tuple[float, ...]
    """The flows as they were read."""
    flows: tuple[float, ...]

    @property
    def times(self) -> tuple[float, ...]:
        """The times of the lines."""
        return self.series.time_s

    @property
    def where(self) -> str:
        """The log's place in the record."""
        return f"run_downs[{self.run_down.id}].log"

    def at(self, place: int, symbol: str, meaning: str) -> Input:
        """Return the flow of one line, with what it was derived from."""
        (flow,) = self._metered((self.read[place],)).inputs
        return _moved(flow, self.where).model_copy(update={"symbol": symbol, "meaning": meaning})

    def uncertainty_at(self, flow: float) -> tuple[Input | None, str | None]:
        """Return the expanded uncertainty of a flow by the meter's certificate, or why it is not known."""
        start, end = self._metered((0.0, _LINE)).flows
        # A correction that leaves no flow of any reading has no reading for this one; then the least one stands for it.
        reading = max(0.0, (flow - start) * _LINE / (end - start)) if end > start else 0.0
        metered = self._metered((reading,))
        if metered.certificate is None or metered.certificate_factor is None:
            return None, metered.no_certificate
        certificate, factor = _moved(metered.certificate, self.where), metered.certificate_factor
        standard, k = certificate_uncertainty(certificate.value, factor.value), coverage_factor(None, COVERAGE)
        inputs = (
            coverage_input(self.where),
            Input(
                symbol="u",
                meaning="standard uncertainty from the certificate",
                value=standard,
                unit="L/min",
                where=factor.where,
                working=Working(method="certificate-uncertainty", inputs=(certificate, factor)),
            ),
        )
        return Input(
            symbol="U",
            meaning="expanded uncertainty of the flow at the required one",
            value=expanded_uncertainty(standard, k),
            unit="L/min",
            where=factor.where,
            working=Working(method="expanded-uncertainty", inputs=inputs),
        ), None

    def _metered(self, readings: Sequence[float]) -> MeteredFlows:
        return _metered(self.run_down, self.test, self.catalogue, readings)


def logged_flow(run_down: RunDown, test: PublishedTest, catalogue: PublishedCatalogue) -> LoggedFlow:
    """Return the flow of a run-down's log. Correction and conversion are one straight line, found once."""
    series = catalogue.series[run_down.log.file]
    read = series.flow_l_per_min
    assert read is not None, "loading checks that a run-down's log has a column of flow"
    start, end = _metered(run_down, test, catalogue, (0.0, _LINE)).flows
    slope = (end - start) / _LINE
    return LoggedFlow(run_down, test, catalogue, series, read, tuple(start + slope * reading for reading in read))


def coverage_input(where: str) -> Input:
    """Return the coverage factor of the normal distribution, with its working."""
    coverage = Input(symbol="p", meaning="coverage probability", value=COVERAGE, unit="1", where="fixed here")
    return Input(
        symbol="k",
        meaning="coverage factor",
        value=coverage_factor(None, COVERAGE),
        unit="1",
        where=where,
        working=Working(method="coverage-factor", inputs=(coverage,)),
    )


def _metered(
    run_down: RunDown, test: PublishedTest, catalogue: PublishedCatalogue, readings: Sequence[float]
) -> MeteredFlows:
    """Treat readings of a log as those of a flow run, so that both are corrected and converted in one way."""
    run = FlowRun(
        id=run_down.id,
        setting=run_down.setting,
        battery=BatteryState.FRESH,
        filter=run_down.filter,
        where=run_down.where,
        readings=FlowReadings.model_construct(unit="L/min", values=tuple(readings)),
    )
    return metered_flows(run, test, flow_meter(test, catalogue))


def _moved(item: Input, where: str) -> Input:
    """Return a number of a flow run with its place in the log instead."""
    working = item.working
    if working is not None:
        working = Working(method=working.method, inputs=tuple(_moved(part, where) for part in working.inputs))
    place = where if item.where.startswith("flow[") else item.where
    return item.model_copy(update={"where": place, "working": working})
