"""What scoring gives for a maker's claims, and for the approvals that it states."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure


class ClaimOutcome(StrEnum):
    """How a claim stands to what was measured."""

    SUPPORTED = "supported"
    CONTRADICTED = "contradicted"
    UNDECIDED = "undecided"
    NOT_TESTED = "not_tested"


class ClaimResult(Frozen):
    """A claim held against the device's figures. `figure` is the one that decides: the lowest."""

    number: int
    """Its place among the device's claims, counted from 1."""
    claimed: float | None
    """The least value that is claimed, in `unit`; None where nothing here can measure it."""
    unit: str | None
    """The unit of the claimed value; null where nothing here can measure it."""
    setting: str | None
    """The blower setting that is claimed for; null for every setting."""
    outcome: ClaimOutcome
    """How it stands to what was measured."""
    figures: int
    """How many figures the claim was held against."""
    record: str | None
    """The record that holds the figure; null where there is none."""
    figure: Figure | None
    """The figure that decides; null where there is none."""
    reason: str
    """One sentence: why this outcome."""


class Coverage(StrEnum):
    """Whether what was tested lies within a stated approval, as far as is recorded."""

    WITHIN = "within"
    OUTSIDE = "outside"
    NOT_RECORDED = "not_recorded"


class ApprovalCoverage(Frozen):
    """What of a test record lies outside an approval that the maker states."""

    approval: int
    """Its place among the device's stated approvals, counted from 1."""
    record: str
    """The id of the test record."""
    coverage: Coverage
    """Whether what was tested lies within it."""
    outside: tuple[str, ...]
    """What lies outside, such as `power source: pack of eight cells`."""
    reason: str
    """One sentence: why."""
