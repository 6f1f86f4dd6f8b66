"""What may be said of a device: the rules in their order, and what they say of one device."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.model.catalogue_result import DeviceResult
from generator.model.device import Device
from generator.presenting import statements_not_shown as not_shown
from generator.presenting import statements_of_air as of_air
from generator.presenting import statements_of_fit as of_fit
from generator.presenting import statements_of_use as of_use
from generator.presenting.context import Context
from generator.presenting.reviewed_device import ReviewedDevice
from generator.presenting.standing import withdrawn_text
from generator.presenting.statement_views import MayBeSaid, NotShown, Statement

STATEMENT_RULES: tuple[Callable[[ReviewedDevice], Iterator[Statement]], ...] = (
    of_fit.not_measured,
    of_fit.fit_factors,
    of_fit.new_wearers,
    of_fit.pass_levels,
    of_air.flow,
    of_air.breathing,
    of_air.run_time,
    of_air.carbon_dioxide,
    of_air.predicted_flows,
    of_use.filter_class,
    of_use.noise,
    of_use.words_understood,
    of_use.decided_claims,
    of_use.stated_approvals,
    of_fit.compared,
)
"""Each rule says in its docstring when it speaks. Other sentences than these are not offered."""
NOT_SHOWN_RULES: tuple[Callable[[ReviewedDevice], Iterator[NotShown]], ...] = (
    not_shown.everyone,
    not_shown.lowest_of_all,
    not_shown.percentage,
    not_shown.fit_test,
    not_shown.enough_air,
    not_shown.every_state,
    not_shown.any_work,
    not_shown.shift,
    not_shown.filter_share,
    not_shown.inhaled_gas,
    not_shown.predicted,
    not_shown.gases,
    not_shown.illness,
    not_shown.approved,
    not_shown.better,
    not_shown.every_unit,
    not_shown.modified,
    not_shown.open_claims,
)
LEAD = (
    "Each of these sentences can be said or quoted as it stands, together with the limits below it. What the data do "
    "not carry follows, with the reason."
)
_NOTHING = "Nothing can be said of what it does: no test of it stands."
_WITHDRAWN = "Nothing else can be said: it was withdrawn, and its figures are no longer put forward."


def may_be_said(device: Device, result: DeviceResult, context: Context) -> MayBeSaid:
    """Return what may be said of a device; of a withdrawn one only that it was."""
    of = ReviewedDevice(device, result, context)
    if device.withdrawn is not None:
        said = Statement(
            id="withdrawn",
            text=f"{device.name} was {withdrawn_text(device.withdrawn)}.",
            limits=f"The reason that was given: {device.withdrawn.reason.rstrip('.')}.",
            sources=(),
        )
        return MayBeSaid(_WITHDRAWN, (said,), ())
    if not result.records:
        return MayBeSaid(_NOTHING, (), ())
    return MayBeSaid(
        lead=LEAD,
        statements=tuple(statement for rule in STATEMENT_RULES for statement in rule(of)),
        not_shown=tuple(each for rule in NOT_SHOWN_RULES for each in rule(of)),
    )
