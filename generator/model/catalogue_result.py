"""What scoring gives for a device from all of its records, and for a whole catalogue."""

from __future__ import annotations

from pydantic import Field, SerializeAsAny

from generator.model.base import Frozen
from generator.model.claim_result import ApprovalCoverage, ClaimResult
from generator.model.comparison_result import ComparedDevice, ComparisonResult
from generator.model.evidence_result import Evidence
from generator.model.instrument_result import InstrumentResult
from generator.model.lineage_result import ConfigurationResult
from generator.model.meaning_result import DeviceMeaning
from generator.model.result import Finding, RecordResult, TopicSummary


class DeviceResult(Frozen):
    """What the records of one device say together: a summary per topic."""

    device: str
    """The id of the device."""
    records: tuple[str, ...]
    """The records that the summaries are made of; those that were withdrawn are not among them."""
    withdrawn_records: tuple[str, ...] = ()
    """The ids of its records that were withdrawn."""
    topics: dict[str, SerializeAsAny[TopicSummary]]
    """By the topic's name, `fit` or `flow`."""
    evidence: Evidence | None = None
    """What the results rest on."""
    configurations: tuple[ConfigurationResult, ...] = ()
    """Those as supplied first, then by the day of their first test."""
    claims: tuple[ClaimResult, ...] = ()
    """Each claim of the maker, held against the figures."""
    approvals: tuple[ApprovalCoverage, ...] = ()
    """Each approval that the maker states, held against what each record tested."""
    meaning: DeviceMeaning
    """What may be set beside its fit factors: assigned factors, devices of the same day, a what-if."""
    findings: tuple[Finding, ...]
    """What scoring noticed of the device as a whole."""

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """The device's own findings and those of its topics."""
        return self.findings + tuple(finding for topic in self.topics.values() for finding in topic.findings)


class CatalogueResult(Frozen):
    """All results, by record, by device, by comparison and by instrument."""

    records: dict[str, RecordResult]
    """The result of each test record, by its id."""
    devices: dict[str, DeviceResult]
    """The result of each device, by its id."""
    compared: dict[str, ComparedDevice] = Field(default_factory=dict)
    """Each device as comparisons show it, by its id."""
    comparisons: dict[str, ComparisonResult] = Field(default_factory=dict)
    """The result of each comparison, by its id."""
    instruments: dict[str, InstrumentResult] = Field(default_factory=dict)
    """The result of each instrument, by its id."""
    libraries: dict[str, str] = Field(default_factory=dict)
    """Name and version of each library that took part in scoring."""
