"""What scoring notices in a record or a device that no topic owns."""

from __future__ import annotations

from generator.model.configuration import State
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Finding
from generator.scoring.fit_conditions import record_condition_findings
from generator.scoring.instruments import instrument_findings
from generator.scoring.wearer_findings import adverse_event_findings, fitness_findings


def record_findings(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[Finding, ...]:
    """Return the findings of a record as a whole: its instruments' calibration, its configuration, its sample."""
    findings = _calibration_findings(test, catalogue)
    findings += instrument_findings(test, catalogue.instruments)
    if test.configuration.state is State.MODIFIED:
        changes = "; ".join(test.configuration.changes)
        findings.append(Finding(rule="modified", where="configuration", facts={"changes": changes}))
    if test.sample.obtained != "bought":
        facts: dict[str, str | int | float] = {"obtained": test.sample.obtained, "source": test.sample.source}
        findings.append(Finding(rule="sample-not-bought", where="sample", facts=facts))
    return (
        *findings,
        *adverse_event_findings(test),
        *fitness_findings(test),
        *record_condition_findings(test, catalogue),
    )


def _calibration_findings(test: PublishedTest, catalogue: PublishedCatalogue) -> list[Finding]:
    findings = []
    performed = test.dates.performed
    for role, name in test.instruments.by_role.items():
        calibration = catalogue.instruments[name].calibration_on(performed)
        facts: dict[str, str | int | float] = {"instrument": name, "performed": performed.isoformat()}
        if calibration is None:
            findings.append(Finding(rule="calibration-missing", where=f"instruments.{role}", facts=facts))
        elif calibration.lapsed_on(performed):
            facts |= {"due": calibration.due.isoformat(), "days_past": (performed - calibration.due).days}
            findings.append(Finding(rule="calibration-lapsed", where=f"instruments.{role}", facts=facts))
    return findings


def device_findings(device: Device, catalogue: PublishedCatalogue) -> tuple[Finding, ...]:
    """Return the findings that follow from what a device is, and from its records that do not stand any more."""
    findings = []
    if device.home_built:
        findings.append(Finding(rule="home-built", where=f"devices/{device.id}: home_built", facts={}))
    exhaust = device.air_path.powered_exhaust
    if exhaust is not None:
        findings.append(
            Finding(
                rule="powered-exhaust",
                where=f"devices/{device.id}: air_path.powered_exhaust",
                facts={"where": exhaust.where, "beside_inlet": "yes" if exhaust.beside_inlet else "no"},
            )
        )
    for test in catalogue.withdrawn_tests_of(device.id):
        assert test.withdrawn is not None
        facts: dict[str, str | int | float] = {"record": test.id, "date": test.withdrawn.date.isoformat()}
        findings.append(Finding(rule="record-withdrawn", where=f"device_tests/{test.id}: withdrawn", facts=facts))
        # Harm to a wearer is told whatever else was wrong with the record.
        findings += adverse_event_findings(test)
    return tuple(findings)
