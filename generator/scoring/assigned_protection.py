"""Which assigned protection factors may stand on a device's page: by its kind and its stated approvals alone.

No measurement goes in here, and nothing that is measured is compared with what comes out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from generator.model.assigned_protection import AssignedProtection
from generator.model.claim_result import ApprovalCoverage, Coverage
from generator.model.claims import StatedApproval
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.meaning_result import AssignedFactor, AssignedProtectionResult, NothingAssigned
from generator.model.published import PublishedCatalogue


def assigned_protection(
    device: Device, coverages: Sequence[ApprovalCoverage], catalogue: PublishedCatalogue
) -> AssignedProtectionResult:
    """Return what bodies assign to devices of this kind, if a stated approval holds, or why nothing is shown."""
    if device.home_built:
        return _nothing(NothingAssigned.HOME_BUILT)
    if not device.approvals_stated:
        return _nothing(NothingAssigned.NO_APPROVAL)
    supplied = [test.id for test in catalogue.standing_tests_of(device.id) if _as_supplied(test.configuration.state)]
    within = [item for item in coverages if item.coverage is not Coverage.OUTSIDE and item.record in supplied]
    approved = {item.record for item in within}
    not_for = tuple(test.id for test in catalogue.standing_tests_of(device.id) if test.id not in approved)
    if not within:
        return _nothing(NothingAssigned.NOT_AS_APPROVED, not_for)
    places = sorted({item.approval for item in within})
    found = [_factor(rule, places, device.approvals_stated) for rule in _rules_for(device, catalogue)]
    factors = tuple(factor for factor in found if factor is not None)
    nothing = None if factors else NothingAssigned.NOT_FOR_ITS_KIND
    return AssignedProtectionResult(factors=factors, nothing=nothing, not_for=not_for)


def _nothing(reason: NothingAssigned, not_for: tuple[str, ...] = ()) -> AssignedProtectionResult:
    return AssignedProtectionResult(factors=(), nothing=reason, not_for=not_for)


def _as_supplied(state: State) -> bool:
    return state is State.AS_SUPPLIED


def _rules_for(device: Device, catalogue: PublishedCatalogue) -> list[AssignedProtection]:
    return [rule for rule in catalogue.assigned_protection if device.kind in rule.kinds]


def _factor(
    rule: AssignedProtection, places: Sequence[int], approvals: Sequence[StatedApproval]
) -> AssignedFactor | None:
    naming = [place for place in places if _names(approvals[place - 1], rule.named_as)]
    if rule.must_be_named and not naming:
        return None
    approval = naming[0] if naming else places[0]
    return AssignedFactor(rule=rule.id, body=rule.body, value=rule.value, approval=approval, named=bool(naming))


def _names(approval: StatedApproval, spellings: Sequence[str]) -> bool:
    """Say whether an approval, as stated, holds one of these as words of their own: `P3` is not in `FFP3`."""
    stated = f"{approval.scheme}\n{approval.covers}"
    return any(re.search(rf"(?<!\w){re.escape(spelling)}(?!\w)", stated) for spelling in spellings)
