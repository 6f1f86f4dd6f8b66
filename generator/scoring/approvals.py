"""Approvals that a maker states, held against what was tested: an approval covers one assembly, unmodified.

Nothing here confirms an approval; it says only where what was tested lies outside of what the maker states of it
(42 CFR 84.30: an approval is of the complete assembly).
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.claim_result import ApprovalCoverage, Coverage
from generator.model.claims import ApprovedAssembly, StatedApproval
from generator.model.configuration import Fitted
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Finding

_POWER_SOURCE = "power source: "


def approval_coverage(device: Device, catalogue: PublishedCatalogue) -> tuple[ApprovalCoverage, ...]:
    """Say for each stated approval and each record that stands whether what was tested lies within it."""
    return tuple(
        _coverage(number, approval, test)
        for number, approval in enumerate(device.approvals_stated, start=1)
        for test in catalogue.standing_tests_of(device.id)
    )


def _coverage(number: int, approval: StatedApproval, test: PublishedTest) -> ApprovalCoverage:
    configuration = test.configuration
    outside = [f"modification: {change.rstrip('.')}" for change in configuration.changes]
    compared = 0
    unlisted: tuple[str, ...] = ()
    if approval.assembly is not None and configuration.fitted is not None:
        compared, unlisted, others = _foreign_parts(approval.assembly, configuration.fitted)
        outside += others
    if outside:
        coverage, reason = Coverage.OUTSIDE, "Something that was tested is not part of what the approval covers."
    elif compared:
        coverage = Coverage.WITHIN
        reason = (
            f"What could be looked up is named by the approval; it lists no {' and no '.join(unlisted)}."
            if unlisted
            else "Everything that is recorded of what was fitted is named by the approval."
        )
    else:
        coverage = Coverage.NOT_RECORDED
        reason = (
            "The parts that the approval covers are not on record."
            if approval.assembly is None
            else "Which of the parts that the approval names were fitted is not recorded."
        )
    return ApprovalCoverage(approval=number, record=test.id, coverage=coverage, outside=tuple(outside), reason=reason)


def _foreign_parts(assembly: ApprovedAssembly, fitted: Fitted) -> tuple[int, tuple[str, ...], list[str]]:
    """Return how many parts were looked up, the kinds that the approval lists none of, and parts it does not name."""
    power = () if fitted.power_source is None else (fitted.power_source,)
    lists = (
        (_POWER_SOURCE.removesuffix(": "), power, assembly.power_sources),
        ("filter", fitted.filters, assembly.filters),
        ("part", fitted.parts, assembly.parts),
    )
    looked_up = [(what, part, named) for what, parts, named in lists if named for part in parts]
    unlisted = tuple(what for what, parts, named in lists if parts and not named)
    return len(looked_up), unlisted, [f"{what}: {part}" for what, part, named in looked_up if part not in named]


def approval_findings(device: Device, coverages: Sequence[ApprovalCoverage]) -> tuple[Finding, ...]:
    """Return a finding for each record that lies outside an approval, and one more where its power source does."""
    outside = tuple(
        Finding(
            rule="approval-does-not-cover",
            where=f"devices/{device.id}: approvals_stated[{item.approval - 1}]",
            facts={"record": item.record, "outside": "; ".join(item.outside)},
        )
        for item in coverages
        if item.coverage is Coverage.OUTSIDE
    )
    return outside + tuple(
        Finding(
            rule="power-source-not-covered",
            where=f"devices/{device.id}: approvals_stated[{item.approval - 1}]",
            facts={"record": item.record, "power_source": part.removeprefix(_POWER_SOURCE)},
        )
        for item in coverages
        for part in item.outside
        if part.startswith(_POWER_SOURCE)
    )
