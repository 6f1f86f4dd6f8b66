"""Face velocities of a record: at the flows that were measured, and at the flow that is required or tested at."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.base import NotRecorded
from generator.model.device import Device, DeviceKind, Filter
from generator.model.filter_result import FaceVelocityResult
from generator.model.flow_result import FlowRunResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.reference import Criterion
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.face_velocity import face_velocity
from generator.scoring.requirements import flow_criterion
from generator.scoring.unscored import unscored_figure

METHOD = "face-velocity"
TEST_FLOW = 85.0
"""The flow at which facepieces without a blower are tested, in L/min: 42 CFR 84.172 and 84.174."""
FACEPIECE_AREA = 175.0
"""Medium of a filtering facepiece, in cm2, for comparison: a published study equates 105 L/min with 10 cm/s."""
AREA_NOT_KNOWN = "how well the area of the medium is known is not on record"
NO_AREA = "the area of the filter medium is not on record"
_NOT_DESIGNED_TO_FILTER = (DeviceKind.FACE_COVERING, DeviceKind.SURGICAL_MASK)


def device_filter(device: Device) -> Filter | None:
    """Return what a device's maker says of its filter, or None where that is not on record."""
    return None if isinstance(device.filter, NotRecorded) else device.filter


def area_input(test: PublishedTest, device: Device) -> Input | None:
    """Return the area of the medium, as measured or else as its maker says, or None where it is not on record."""
    measured = test.filter_test.media_area if test.filter_test is not None else None
    meaning = "area of the medium, all filters together"
    if measured is not None:
        where = "filter_test.media_area"
        return Input(symbol="A", meaning=f"{meaning}, as measured", value=measured.to("cm2"), unit="cm2", where=where)
    described = device_filter(device)
    if described is None or isinstance(described.media_area, NotRecorded):
        return None
    number = "" if described.count == 1 else f", {described.count} of them"
    return Input(
        symbol="A",
        meaning=f"{meaning}{number}, as its maker says",
        value=described.media_area.to("cm2"),
        unit="cm2",
        where=f"devices/{device.id}: media_area of its filter",
    )


def required_flow(device: Device, catalogue: PublishedCatalogue) -> Criterion | None:
    """Return the requirement of a supply flow for a device, the strictest; None where there is none."""
    if device.breath_responsive:
        return None
    return flow_criterion(device, catalogue)


def face_velocities(
    test: PublishedTest, runs: Sequence[FlowRunResult], device: Device, catalogue: PublishedCatalogue
) -> tuple[FaceVelocityResult, ...]:
    """Return the face velocities of a record."""
    area = area_input(test, device)
    measured = [_of_run(run, area) for run in runs]
    named = _named_flow(test, device, area, catalogue)
    return (*measured, named) if named is not None else tuple(measured)


def _of_run(run: FlowRunResult, area: Input | None) -> FaceVelocityResult:
    flow = run.mean.value or 0.0
    where = f"flow[{run.run}]: {run.mean.key}"
    through = Input(symbol="Q", meaning="measured supply flow", value=flow, unit="L/min", where=where)
    figure = velocity_figure(f"filter.{run.run}.velocity", "face velocity at the measured flow", through, area)
    if figure.value is not None and area is not None:
        interval = _interval(run.mean, area.value)
        reason = None if interval is not None else f"the flow has none: {run.mean.no_interval}"
        figure = figure.model_copy(update={"interval": interval, "no_interval": reason})
    return _result("run", run.run, flow, area, figure)


def _interval(mean: Figure, area: float) -> Interval | None:
    if mean.interval is None:
        return None
    low, high = mean.interval.low, mean.interval.high
    return Interval(
        low=None if low is None else face_velocity(max(low, 0.0), area),
        high=None if high is None else face_velocity(high, area),
        coverage=mean.interval.coverage,
        method=METHOD,
        covers=f"what that of the supply flow covers; {AREA_NOT_KNOWN}",
    )


def _named_flow(
    test: PublishedTest, device: Device, area: Input | None, catalogue: PublishedCatalogue
) -> FaceVelocityResult | None:
    if device.kind.powered:
        criterion = required_flow(device, catalogue)
        if criterion is None or not test.flow:
            return None
        key, name, at = "filter.medium.velocity-required", "face velocity at the required flow", "required"
        flow, where, meaning = criterion.limit, f"reference/criteria: {criterion.id}", "required supply flow"
    else:
        # Of a face covering nobody says at which flow to test it, and without an area nothing can be said.
        if device.kind in _NOT_DESIGNED_TO_FILTER or area is None:
            return None
        key, name, at = "filter.medium.velocity-tested", "face velocity at the test flow", "test"
        flow, where, meaning = TEST_FLOW, "reference/criteria: inhalation-resistance-unpowered", "flow of the tests"
    through = Input(symbol="Q", meaning=meaning, value=flow, unit="L/min", where=where)
    return _result(at, None, flow, area, velocity_figure(key, name, through, area))


def velocity_figure(key: str, name: str, flow: Input, area: Input | None) -> Figure:
    """Return the face velocity at a flow, without an interval."""
    if area is None:
        return unscored_figure(key, name, "cm/s", METHOD, NO_AREA)
    return Figure(
        key=key,
        name=name,
        value=face_velocity(flow.value, area.value),
        unit="cm/s",
        no_interval=AREA_NOT_KNOWN,
        sample_size=1,
        sample_of="area",
        method=METHOD,
        working=Working(method=METHOD, inputs=(flow, area)),
    )


def _result(at: str, run: str | None, flow: float, area: Input | None, figure: Figure) -> FaceVelocityResult:
    return FaceVelocityResult(
        at=at, run=run, flow_l_per_min=flow, area_cm2=None if area is None else area.value, velocity=figure
    )
