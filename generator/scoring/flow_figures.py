"""The figures of a flow run: its mean with an expanded uncertainty, and the scatter of its readings."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_readings import MeteredFlows
from generator.scoring.flow_statistics import (
    certificate_uncertainty,
    combined_uncertainty,
    coverage_factor,
    effective_degrees_of_freedom,
    expanded_uncertainty,
    mean_flow,
    standard_deviation,
    uncertainty_of_mean,
)
from generator.scoring.requirements import Spread

COVERS = "the scatter of these readings and the meter's calibration; not differences between units, hoods or days"
ONE_READING = "repeatability not estimated: there is one reading"


def mean_figure(run: str, metered: MeteredFlows) -> tuple[Figure, Spread | None]:
    """Return the mean flow of a run, and the spread that its verdict's probability needs."""
    interval, spread, reason = None, None, metered.no_certificate
    if len(metered.flows) == 1:
        reason = ONE_READING
    elif metered.certificate is not None and metered.certificate_factor is not None:
        interval, spread = _interval(run, metered, metered.certificate, metered.certificate_factor)
    figure = Figure(
        key=f"flow.{run}.mean",
        name="supply flow",
        value=mean_flow(metered.flows),
        unit="L/min",
        interval=interval,
        no_interval=reason,
        sample_size=len(metered.flows),
        sample_of="readings",
        method="mean-flow",
        working=Working(method="mean-flow", inputs=metered.inputs),
    )
    return figure, spread


def deviation_figure(run: str, metered: MeteredFlows) -> Figure:
    """Return the standard deviation of a run's readings."""
    several = len(metered.flows) > 1
    return Figure(
        key=f"flow.{run}.sd",
        name="standard deviation of one reading",
        value=standard_deviation(metered.flows) if several else None,
        unit="L/min",
        no_interval="not computed for a standard deviation" if several else None,
        sample_size=len(metered.flows),
        sample_of="readings",
        method="standard-deviation",
        working=Working(method="standard-deviation", inputs=metered.inputs) if several else None,
        not_scored=None if several else "not estimated: there is one reading",
    )


def _interval(run: str, metered: MeteredFlows, certificate: Input, factor: Input) -> tuple[Interval, Spread]:
    readings, mean = len(metered.flows), mean_flow(metered.flows)
    deviation = standard_deviation(metered.flows)
    type_a = uncertainty_of_mean(deviation, readings)
    type_b = certificate_uncertainty(certificate.value, factor.value)
    combined = combined_uncertainty([type_a, type_b])
    degrees = effective_degrees_of_freedom([type_a, type_b], [readings - 1, None])
    k = coverage_factor(degrees, COVERAGE)
    half_width = expanded_uncertainty(combined, k)

    path = f"flow[{run}]"
    scatter = Working(
        method="uncertainty-of-mean",
        inputs=(
            Input(
                symbol="s",
                meaning="standard deviation of one reading",
                value=deviation,
                unit="L/min",
                where=f"{path}: flow.{run}.sd",
            ),
            Input(symbol="n", meaning="number of readings", value=readings, unit="count", where=f"{path}.readings"),
        ),
    )
    from_certificate = Working(method="certificate-uncertainty", inputs=(certificate, factor))
    parts = (
        _flow(r"u_{\mathrm{A}}", "standard uncertainty from the scatter", type_a, f"{path}.readings", scatter),
        _flow(
            r"u_{\mathrm{B}}",
            "standard uncertainty from the certificate",
            type_b,
            certificate.where,
            from_certificate,
        ),
    )
    u = _flow(
        "u", "combined standard uncertainty", combined, path, Working(method="combined-uncertainty", inputs=parts)
    )
    working = Working(
        method="expanded-uncertainty", inputs=(_coverage_factor(path, k, degrees, readings, (*parts, u)), u)
    )
    interval = Interval(
        low=mean - half_width,
        high=mean + half_width,
        coverage=COVERAGE,
        method="expanded-uncertainty",
        covers=COVERS,
        working=working,
    )
    return interval, Spread(combined, degrees)


def _coverage_factor(path: str, k: float, degrees: float | None, readings: int, parts: Sequence[Input]) -> Input:
    coverage = Input(symbol="p", meaning="coverage probability", value=COVERAGE, unit="1", where="fixed here")
    inputs: tuple[Input, ...] = (coverage,)
    if degrees is not None:
        of_scatter = Input(
            symbol=r"\nu_{\mathrm{A}}",
            meaning="degrees of freedom of the scatter, n - 1; those of the certificate are taken as infinite",
            value=readings - 1,
            unit="1",
            where=f"{path}.readings",
        )
        # How these came about is told once, under the combined uncertainty.
        without_working = [part.model_copy(update={"working": None}) for part in parts]
        effective = Input(
            symbol=r"\nu_{\mathrm{eff}}",
            meaning="effective degrees of freedom",
            value=degrees,
            unit="1",
            where=path,
            working=Working(method="effective-degrees-of-freedom", inputs=(*without_working, of_scatter)),
        )
        inputs = (effective, coverage)
    return Input(
        symbol="k",
        meaning="coverage factor",
        value=k,
        unit="1",
        where=path,
        working=Working(method="coverage-factor", inputs=inputs),
    )


def _flow(symbol: str, meaning: str, value: float, where: str, working: Working) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="L/min", where=where, working=working)
