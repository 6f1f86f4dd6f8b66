"""Penetrations of a record: the face velocity they were measured at, the quality factor, the one at another flow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.air import Aerosol
from generator.model.base import NotRecorded
from generator.model.device import Device
from generator.model.filter_test import FilterPenetration, MediaCharge
from generator.model.flow_result import FlowRunResult
from generator.model.pressure_flow import DropOf
from generator.model.published import PublishedTest
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.combined_ends import combined_ends
from generator.scoring.counting import COVERAGE
from generator.scoring.face_velocity import penetration_together
from generator.scoring.filter_drop_points import MeasuredDrop, drop_at_flow
from generator.scoring.filter_penetration import (
    GREATEST_RATIO,
    LARGEST_DIAMETER_NM,
    LEAST_RATIO,
    penetration_at_other_flow,
    quality_factor,
)
from generator.scoring.filter_velocities import TEST_FLOW, device_filter, velocity_figure
from generator.scoring.unscored import unscored_figure

NM_PER_MM = 1e6
NOTHING_THROUGH = "nothing was seen to get through, and without a count of particles no bound can be given"
NO_UNCERTAINTY = "the uncertainty of the penetration is not on record"


@dataclass(frozen=True)
class Penetrated:
    """A penetration as a number, with the ends of its interval where its uncertainty is on record."""

    value: float
    low: float | None
    high: float | None
    where: str

    @property
    def known(self) -> bool:
        """Whether its uncertainty is on record."""
        return self.low is not None

    def as_input(self, symbol: str = "P") -> Input:
        """Return it as an input of a working."""
        meaning = "penetration as measured"
        return Input(symbol=symbol, meaning=meaning, value=100 * self.value, unit="%", where=self.where)


def penetrated(item: FilterPenetration) -> Penetrated:
    """Return a penetration of a record as a number with its ends, which stay between none and all."""
    value, where = item.penetration.to("1"), f"filter_test.penetrations[{item.id}].penetration"
    if isinstance(item.uncertainty, NotRecorded):
        return Penetrated(value, None, None, where)
    half = item.uncertainty.to("1")
    return Penetrated(value, max(value - half, 0.0), min(value + half, 1.0), where)


def flow_each(item: FilterPenetration) -> Input:
    """Return the flow through each filter while a penetration was measured."""
    where = f"filter_test.penetrations[{item.id}].flow"
    value = item.flow.to("L/min") / item.filters_at_once
    meaning = "flow through one filter as measured"
    return Input(symbol="q_{1}", meaning=meaning, value=value, unit="L/min", where=where)


def measured_velocity(item: FilterPenetration, area: Input | None, device: Device) -> Figure:
    """Return the face velocity at which a penetration was measured."""
    key, name = f"filter.{item.id}.velocity-measured", "face velocity while it was measured"
    described, where = device_filter(device), f"filter_test.penetrations[{item.id}].flow"
    count = item.filters_at_once if described is None else described.count
    # The area is that of all filters of the device; the flow goes with it, if so many had been measured.
    value = item.flow.to("L/min") * count / item.filters_at_once
    meaning = "flow that all filters of the device would have had"
    if item.breathing:
        figure = velocity_figure(key, name, _flow("Q", meaning, value, where), None)
        return figure.model_copy(update={"not_scored": "it was measured with breathing, which has no one flow"})
    return velocity_figure(key, name, _flow("Q", meaning, value, where), area)


def together_figure(item: FilterPenetration, device: Device) -> Figure | None:
    """Return the penetration of all filters of the device, or None where that many were measured."""
    described = device_filter(device)
    if described is None or described.count == item.filters_at_once:
        return None
    measured, each = penetrated(item), flow_each(item).value
    flows, shares = [each] * described.count, [measured.value] * described.count
    inputs = [
        part
        for number in range(1, described.count + 1)
        for part in (
            _flow(
                f"q_{{{number}}}", f"flow through filter {number}", each, f"filter_test.penetrations[{item.id}].flow"
            ),
            measured.as_input(f"P_{{{number}}}"),
        )
    ]
    method = "penetration-together"
    interval = None
    if measured.low is not None and measured.high is not None:
        covers = "the stated uncertainty of the penetration; not differences between filters"
        interval = _interval(100 * measured.low, 100 * measured.high, method, covers)
    return Figure(
        key=f"filter.{item.id}.penetration-together",
        name=f"penetration of {described.count} such filters at {each * described.count:.4g} L/min in all",
        value=100 * penetration_together(flows, shares),
        unit="%",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=1,
        sample_of="penetration",
        method=method,
        working=Working(method=method, inputs=tuple(inputs)),
    )


def quality_figure(item: FilterPenetration, test: PublishedTest) -> Figure:
    """Return the quality factor, from the pressure drop that was measured at the same flow through one filter."""
    key, name, method = f"filter.{item.id}.quality", "quality factor", "quality-factor"
    measured, each = penetrated(item), flow_each(item).value
    if item.breathing:
        return unscored_figure(
            key, name, "1/Pa", method, "the penetration is of breathing, and pressure drops are of a steady flow"
        )
    if measured.value == 0:
        return unscored_figure(key, name, "1/Pa", method, NOTHING_THROUGH)
    of_filter = [
        drops
        for drops in test.pressure_drops
        if drops.of is DropOf.FILTER and drops.filter is item.filter and not drops.alternative
    ]
    found = next((drop for drops in of_filter if (drop := drop_at_flow(drops, each, 0.02 * each)) is not None), None)
    if found is None:
        reason = f"no pressure drop of such a filter is on record at {each:.4g} L/min through one filter, within 2 %"
        return unscored_figure(key, name, "1/Pa", method, reason)
    if found.value <= 0:
        return unscored_figure(key, name, "1/Pa", method, "the pressure drop at that flow reads zero")
    interval = _quality_interval(measured, found)
    unknown = NO_UNCERTAINTY if not measured.known else "the uncertainty of the pressure drop is not on record"
    return Figure(
        key=key,
        name=name,
        value=quality_factor(measured.value, found.value),
        unit="1/Pa",
        interval=interval,
        no_interval=None if interval is not None else unknown,
        sample_size=1,
        sample_of="penetration",
        method=method,
        working=Working(method=method, inputs=(measured.as_input(), found.as_input(r"\Delta p"))),
    )


def _quality_interval(measured: Penetrated, drop: MeasuredDrop) -> Interval | None:
    if measured.low is None or measured.high is None or drop.low is None or drop.high is None:
        return None
    value = quality_factor(measured.value, drop.value)
    lows = [quality_factor(measured.high, drop.value), quality_factor(measured.value, drop.high)]
    # Where an uncertainty reaches down to nothing, there is no upper limit.
    by_penetration = math.inf if measured.low == 0 else quality_factor(measured.low, drop.value)
    by_drop = math.inf if drop.low == 0 else quality_factor(measured.value, drop.low)
    low, high = combined_ends(value, lows, [by_penetration, by_drop])
    covers = "the stated uncertainties of penetration and pressure drop; not differences between filters"
    return _interval(max(low, 0.0), high, "combined-ends", covers)


@dataclass(frozen=True)
class OtherFlow:
    """The flow for which a penetration is asked, in words and as an input of a working: through one filter."""

    words: str
    each: Input
    low: float | None = None
    high: float | None = None
    """The ends of its interval, through one filter."""


def other_flow(item: FilterPenetration, runs: Sequence[FlowRunResult], device: Device) -> OtherFlow | None:
    """Return the greatest flow that was measured with such a filter, or the test flow for a device without a blower."""
    described = device_filter(device)
    count = item.filters_at_once if described is None else described.count
    if not device.kind.powered:
        each = _flow(
            "q_{2}",
            "the test flow through one filter",
            TEST_FLOW / count,
            "reference/criteria: inhalation-resistance-unpowered",
        )
        return OtherFlow(f"at {TEST_FLOW:g} L/min", each)
    fitting = [run for run in runs if run.filter == item.filter.value and run.mean.value]
    if not fitting:
        return None
    run = max(fitting, key=lambda each: each.mean.value or 0.0)
    flow, interval = run.mean.value or 0.0, run.mean.interval
    where = f"flow[{run.run}]: {run.mean.key}"
    each = _flow("q_{2}", "the greatest supply flow with such a filter, through one filter", flow / count, where)
    low = None if interval is None or interval.low is None else interval.low / count
    high = None if interval is None or interval.high is None else interval.high / count
    return OtherFlow(f"at the flow of {run.setting}", each, low, high)


def other_flow_figure(item: FilterPenetration, other: OtherFlow | None, charge: MediaCharge) -> Figure:
    """Return the penetration at another flow, where the rule for small particles without charge holds."""
    key, name, method = f"filter.{item.id}.at-flow", "penetration at another flow", "penetration-at-other-flow"
    measured, each = penetrated(item), flow_each(item)
    reason = _why_not_scaled(item, other, charge)
    if reason is not None or other is None:
        return unscored_figure(key, name, "%", method, reason or "no flow with such a filter is on record")
    interval = _scaled_interval(measured, each.value, other)
    return Figure(
        key=key,
        name=f"{name}, {other.words}",
        value=100 * penetration_at_other_flow(measured.value, each.value, other.each.value),
        unit="%",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=1,
        sample_of="penetration",
        method=method,
        working=Working(method=method, inputs=(measured.as_input("P_{1}"), each, other.each)),
    )


def _why_not_scaled(item: FilterPenetration, other: OtherFlow | None, charge: MediaCharge) -> str | None:
    if charge is MediaCharge.CHARGED:
        return "the medium is charged, and for such a medium no rule for another flow is known"
    if charge is MediaCharge.NOT_KNOWN:
        return "it is not known whether the medium is charged"
    if item.aerosol is Aerosol.ROOM_AIR:
        return "the room's particles are of many sizes, and the rule is for those of 100 nm or less"
    if isinstance(item.diameter, NotRecorded):
        return "the diameter of the particles is not on record"
    if item.diameter.to("mm") * NM_PER_MM > LARGEST_DIAMETER_NM * (1 + 1e-9):
        return f"the rule is for particles of {LARGEST_DIAMETER_NM:g} nm or less"
    if item.breathing:
        return "it was measured with breathing, which has no one flow"
    if item.penetration.number == 0:
        return NOTHING_THROUGH
    if other is None:
        return "no flow with such a filter is on record"
    ratio = other.each.value / flow_each(item).value
    if not LEAST_RATIO <= ratio <= GREATEST_RATIO:
        return f"that flow is {ratio:.3g} times the measured one, and the rule is used from a quarter to four times it"
    return None


def _scaled_interval(measured: Penetrated, flow: float, other: OtherFlow) -> Interval | None:
    if measured.low is None or measured.high is None:
        return None
    there = other.each.value
    value = penetration_at_other_flow(measured.value, flow, there)
    lows = [0.0 if measured.low == 0 else penetration_at_other_flow(measured.low, flow, there)]
    highs = [penetration_at_other_flow(measured.high, flow, there)]
    covers = (
        "the stated uncertainty of the penetration; not the error of the rule itself, nor differences between filters"
    )
    if other.low is not None and other.high is not None:
        # The rule's own range bounds what the flow's interval may do.
        lows.append(penetration_at_other_flow(measured.value, flow, max(other.low, LEAST_RATIO * flow)))
        highs.append(penetration_at_other_flow(measured.value, flow, min(other.high, GREATEST_RATIO * flow)))
        covers = f"that of the supply flow, and {covers}"
    low, high = combined_ends(value, lows, highs)
    return _interval(100 * max(low, 0.0), 100 * min(high, 1.0), "combined-ends", covers)


def _interval(low: float, high: float, method: str, covers: str) -> Interval:
    return Interval(
        low=low, high=high if math.isfinite(high) else None, coverage=COVERAGE, method=method, covers=covers
    )


def _flow(symbol: str, meaning: str, value: float, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="L/min", where=where)
