"""What was changed or withdrawn after the issue, of a device and of its records: one list, newest first."""

from __future__ import annotations

from generator.model.base import Day
from generator.model.corrections import Amendment, Withdrawal
from generator.model.device import Device
from generator.presenting.context import Context
from generator.presenting.design_views import Correction
from generator.presenting.views import Link
from generator.presenting.wording import day_text, full_sentence

NO_CORRECTION = (
    "None: neither what is on record of this device nor any of its test records was amended or withdrawn since its "
    "issue."
)


def present_corrections(device: Device, context: Context) -> tuple[Correction, ...]:
    """Return the amendments and withdrawals of a device and of its records, newest first."""
    found: list[tuple[Day, Correction]] = [(each.date, _amended(each, None, None)) for each in device.amendments]
    if device.withdrawn is not None:
        found.append((device.withdrawn.date, _withdrawn(device.withdrawn, None)))
    for test in context.catalogue.tests_of(device.id):
        link = context.record_link(test.id)
        for amendment in test.amendments:
            earlier = Link("Earlier figures", f"{link.href}#amendments") if amendment.earlier else None
            found.append((amendment.date, _amended(amendment, link, earlier)))
        if test.withdrawn is not None:
            found.append((test.withdrawn.date, _withdrawn(test.withdrawn, link)))
    return tuple(correction for _, correction in sorted(found, key=lambda each: each[0], reverse=True))


def _amended(amendment: Amendment, of: Link | None, earlier: Link | None) -> Correction:
    text = f"{full_sentence(amendment.changed)} Reason: {full_sentence(amendment.reason)}"
    return Correction(day_text(amendment.date), of, "amended", text, earlier)


def _withdrawn(withdrawal: Withdrawal, of: Link | None) -> Correction:
    return Correction(day_text(withdrawal.date), of, "withdrawn", f"Reason: {full_sentence(withdrawal.reason)}", None)
