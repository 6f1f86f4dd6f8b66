"""Comparisons: a reviewer's own, and one for each kind of device that has two or more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import combinations

from generator.model.catalogue_result import DeviceResult
from generator.model.comparison import KIND_COMPARISON, Comparison
from generator.model.comparison_result import (
    ComparedDevice,
    ComparedRun,
    ComparedSession,
    ComparisonResult,
)
from generator.model.configuration import State
from generator.model.device import Device, DeviceKind
from generator.model.fit_result import FitResult, FitSummary
from generator.model.flow_result import FlowResult
from generator.model.published import PublishedCatalogue
from generator.model.result import RecordResult
from generator.scoring.compared_sessions import counted_sessions
from generator.scoring.decided_differences import decided_together
from generator.scoring.device_differences import device_difference

MOST_PAIRED = 8
"""With more devices than this no pairs are compared: their number grows with the square."""


def score_comparisons(
    catalogue: PublishedCatalogue, compared: Mapping[str, ComparedDevice]
) -> dict[str, ComparisonResult]:
    """Score all comparisons, by id: the reviewer's own first, then one for each kind of device.

    `compared` is every device of the catalogue as comparisons show it, by id.
    """
    own = (_own_comparison(comparison, compared) for comparison in catalogue.comparisons.values())
    return {comparison.id: comparison for comparison in (*own, *_kind_comparisons(catalogue, compared))}


def compared_devices(
    catalogue: PublishedCatalogue, records: Mapping[str, RecordResult], devices: Mapping[str, DeviceResult]
) -> dict[str, ComparedDevice]:
    """Return every device as comparisons show it: as supplied, by its records that stand."""
    return {
        name: compared_device(device, catalogue, records, devices[name]) for name, device in catalogue.devices.items()
    }


def compared_device(
    device: Device, catalogue: PublishedCatalogue, records: Mapping[str, RecordResult], result: DeviceResult
) -> ComparedDevice:
    """Return a device as comparisons show it; `records` are the results of its records at least, by id."""
    if device.withdrawn is not None:
        return ComparedDevice(device=device.id, withdrawn=True)
    sessions: list[ComparedSession] = []
    runs: list[ComparedRun] = []
    for test in catalogue.standing_tests_of(device.id):
        if test.configuration.state is not State.AS_SUPPLIED:
            continue
        topics = records[test.id].topics
        fit, flow = topics.get("fit"), topics.get("flow")
        if isinstance(fit, FitResult):
            sessions += counted_sessions(test, fit, catalogue)
        if isinstance(flow, FlowResult):
            runs += [ComparedRun(record=test.id, run=run) for run in flow.runs]
    return ComparedDevice(
        device=device.id,
        withdrawn=False,
        groups=tuple(group for group in _summary(result).groups if group.configuration == State.AS_SUPPLIED.value),
        sessions=tuple(sessions),
        runs=tuple(runs),
    )


def comparisons_about(device: str, comparisons: Mapping[str, ComparisonResult]) -> dict[str, ComparisonResult]:
    """Return the comparisons that hold a device, with what they say of it and of nothing else."""
    return {
        name: result.model_copy(
            update={
                "devices": {device: ComparedDevice(device=device, withdrawn=result.devices[device].withdrawn)},
                "differences": tuple(each for each in result.differences if device in (each.first, each.second)),
            }
        )
        for name, result in comparisons.items()
        if device in result.devices
    }


def _own_comparison(comparison: Comparison, compared: Mapping[str, ComparedDevice]) -> ComparisonResult:
    return _comparison(
        comparison.id,
        comparison.title,
        comparison.question,
        comparison.note,
        [compared[name] for name in comparison.devices],
        of_kind=False,
    )


def _kind_comparisons(
    catalogue: PublishedCatalogue, compared: Mapping[str, ComparedDevice]
) -> Iterable[ComparisonResult]:
    of_kind: dict[DeviceKind, list[Device]] = {kind: [] for kind in DeviceKind}
    for device in catalogue.devices.values():
        if device.withdrawn is None:
            of_kind[device.kind].append(device)
    for kind, devices in of_kind.items():
        if len(devices) >= 2:
            yield _comparison(
                KIND_COMPARISON + kind.slug,
                f"{kind.heading}, side by side",
                "How do the devices of this kind differ in what was measured?",
                None,
                [compared[device.id] for device in sorted(devices, key=lambda device: (device.name, device.id))],
                of_kind=True,
            )


def _comparison(
    identity: str, title: str, question: str, note: str | None, devices: list[ComparedDevice], *, of_kind: bool
) -> ComparisonResult:
    standing = [device for device in devices if not device.withdrawn]
    too_many = len(standing) > MOST_PAIRED
    return ComparisonResult(
        id=identity,
        title=title,
        question=question,
        note=note,
        of_kind=of_kind,
        devices={device.device: device for device in devices},
        differences=()
        if too_many
        else decided_together([device_difference(first, second) for first, second in combinations(standing, 2)]),
        no_differences=f"pairs are compared among at most {MOST_PAIRED} devices, and here are {len(standing)}"
        if too_many
        else None,
    )


def _summary(result: DeviceResult) -> FitSummary:
    summary = result.topics["fit"]
    assert isinstance(summary, FitSummary)
    return summary
