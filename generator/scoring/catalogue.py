"""Every record and every device of a catalogue, scored by every topic."""

from __future__ import annotations

from collections.abc import Mapping

import numpy
import scipy

from generator.model.catalogue_result import CatalogueResult, DeviceResult
from generator.model.comparison_result import ComparedDevice
from generator.model.device import Device
from generator.model.fit_result import FitSummary
from generator.model.meaning_result import DeviceMeaning
from generator.model.published import PublishedCatalogue
from generator.model.result import RecordResult
from generator.scoring.approvals import approval_coverage, approval_findings
from generator.scoring.assigned_protection import assigned_protection
from generator.scoring.claims import claim_findings, claim_results
from generator.scoring.comparisons import compared_devices, score_comparisons
from generator.scoring.evidence import device_evidence
from generator.scoring.instruments import score_instruments
from generator.scoring.lineage import device_configurations
from generator.scoring.off_time import off_time
from generator.scoring.one_record import score_record
from generator.scoring.record_findings import device_findings
from generator.scoring.registry import scored_topics
from generator.scoring.same_day import Worn, same_day_wear, sessions_worn

__all__ = ["LIBRARIES", "score_catalogue", "score_record", "sum_up", "sum_up_device"]

LIBRARIES = {"numpy": numpy.__version__, "scipy": scipy.__version__}
"""The libraries that take part in scoring, with their versions: results are disputed years later."""


def score_catalogue(catalogue: PublishedCatalogue) -> CatalogueResult:
    """Score all records and instruments, and sum up by device the records that were not withdrawn."""
    return sum_up({name: score_record(test, catalogue) for name, test in catalogue.device_tests.items()}, catalogue)


def sum_up(records: Mapping[str, RecordResult], catalogue: PublishedCatalogue) -> CatalogueResult:
    """Return the results of a whole catalogue from those of each of its records, by id."""
    worn = sessions_worn(records, catalogue)
    devices = {name: sum_up_device(device, records, catalogue, worn) for name, device in catalogue.devices.items()}
    return put_together(records, devices, compared_devices(catalogue, records, devices), catalogue)


def put_together(
    records: Mapping[str, RecordResult],
    devices: Mapping[str, DeviceResult],
    compared: Mapping[str, ComparedDevice],
    catalogue: PublishedCatalogue,
) -> CatalogueResult:
    """Return the results of a whole catalogue from what is known of its records and devices, by id.

    `compared` is each device as comparisons show it. Nothing of all that needs workings.
    """
    return CatalogueResult(
        records=dict(records),
        devices=dict(devices),
        compared=dict(compared),
        comparisons=score_comparisons(catalogue, compared),
        instruments=score_instruments(catalogue),
        libraries=LIBRARIES,
    )


def sum_up_device(
    device: Device, records: Mapping[str, RecordResult], catalogue: PublishedCatalogue, worn: Worn | None = None
) -> DeviceResult:
    """Return what the standing records of a device say together; `records` are results by id.

    They are those of the device's records and, for what was worn beside it, of other devices' records in the catalogue,
    from which `worn` is found where it is not given.
    """
    worn = worn if worn is not None else sessions_worn(records, catalogue)
    results = {test.id: records[test.id] for test in catalogue.standing_tests_of(device.id)}
    summaries = {}
    for name, topic in scored_topics().items():
        of_topic = {record: result.topics[name] for record, result in results.items() if name in result.topics}
        summary = topic.summarise_device(device, of_topic, catalogue)
        if summary is not None:
            summaries[name] = summary
    claims = claim_results(device, results, catalogue)
    approvals = approval_coverage(device, catalogue)
    fit = summaries["fit"]
    assert isinstance(fit, FitSummary)
    return DeviceResult(
        device=device.id,
        records=tuple(results),
        withdrawn_records=tuple(test.id for test in catalogue.withdrawn_tests_of(device.id)),
        topics=summaries,
        evidence=device_evidence(device, results, fit, catalogue),
        configurations=device_configurations(device, results, catalogue),
        claims=claims,
        approvals=approvals,
        meaning=DeviceMeaning(
            assigned=assigned_protection(device, approvals, catalogue),
            same_day=same_day_wear(device.id, worn, catalogue),
            off_time=off_time(fit, catalogue),
        ),
        findings=(
            *device_findings(device, catalogue),
            *claim_findings(device, claims),
            *approval_findings(device, approvals),
        ),
    )
