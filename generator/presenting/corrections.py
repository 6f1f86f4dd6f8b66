"""What was changed or withdrawn after the issue: of a device and its records, and of the catalogue; newest first."""

from __future__ import annotations

import re

from generator.model.base import Day
from generator.model.corrections import Amendment, Withdrawal
from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.presenting.context import Context
from generator.presenting.correction_views import CorrectionsPage, ListedCorrection
from generator.presenting.design_views import Correction
from generator.presenting.letterhead import page_head
from generator.presenting.record_places import in_words
from generator.presenting.views import Link
from generator.presenting.wording import day_text, full_sentence

PATH = "corrections.html"
NO_CORRECTION = (
    "None: neither what is on record of this device nor any of its test records was amended or withdrawn since its "
    "issue."
)
_ONLY_WITHDRAWN = re.compile(
    r"the (?:test )?(?:record|device) was withdrawn(?:, and the (?:record|device) with it)?\.?"
)


def own_amendments(item: Device | PublishedTest) -> tuple[Amendment, ...]:
    """Return the amendments, oldest first, without one that says of a withdrawal's day only that it was withdrawn.

    What changes a record is an amendment, so that a withdrawal may have one; the withdrawal tells when and why itself.
    """
    return tuple(
        each
        for each in item.amendments
        if item.withdrawn is None
        or each.date != item.withdrawn.date
        or each.earlier
        or _ONLY_WITHDRAWN.fullmatch(each.changed) is None
    )


def present_corrections(device: Device, context: Context) -> tuple[Correction, ...]:
    """Return the amendments and withdrawals of a device and of its records, newest first."""
    return tuple(correction for _, correction in _dated(device, context))


def present_corrections_page(context: Context) -> CorrectionsPage:
    """Return the page of every amendment and withdrawal of the catalogue, newest first."""
    devices = sorted(context.catalogue.devices.values(), key=lambda device: (device.name.casefold(), device.id))
    found = [
        (day, ListedCorrection(Link(device.name, f"devices/{device.id}.html"), correction))
        for device in devices
        for day, correction in _dated(device, context)
    ]
    return CorrectionsPage(
        head=page_head(
            PATH,
            "Corrections",
            "Everything in this catalogue that was amended or withdrawn after its issue, newest first. What was "
            "withdrawn keeps its pages, which say so at their top, and counts towards no result.",
            records=context.state,
        ),
        corrections=tuple(listed for _, listed in sorted(found, key=lambda each: each[0], reverse=True)),
    )


def _dated(device: Device, context: Context) -> list[tuple[Day, Correction]]:
    found = [(each.date, _amended(each, None, None)) for each in own_amendments(device)]
    tests = context.catalogue.tests_of(device.id)
    gone = device.withdrawn
    together = tuple(test for test in tests if gone and test.withdrawn and test.withdrawn.date == gone.date)
    if gone is not None:
        found.append((gone.date, _withdrawn_with(gone, together, context)))
    for test in tests:
        link = context.record_link(test.id)
        for amendment in own_amendments(test):
            earlier = Link("Earlier figures", f"{link.href}#amendments") if amendment.earlier else None
            found.append((amendment.date, _amended(amendment, link, earlier)))
        if test.withdrawn is not None and test not in together:
            found.append((test.withdrawn.date, _withdrawn(test.withdrawn, link)))
    return sorted(found, key=lambda each: each[0], reverse=True)


def _amended(amendment: Amendment, of: Link | None, earlier: Link | None) -> Correction:
    text = f"{full_sentence(in_words(amendment.changed))} Reason: {full_sentence(amendment.reason)}"
    return Correction(day_text(amendment.date), of, "amended", text, earlier)


def _withdrawn(withdrawal: Withdrawal, of: Link | None) -> Correction:
    return Correction(day_text(withdrawal.date), of, "withdrawn", f"Reason: {full_sentence(withdrawal.reason)}", None)


def _withdrawn_with(withdrawal: Withdrawal, tests: tuple[PublishedTest, ...], context: Context) -> Correction:
    """Tell the withdrawal of a device and, in the same place, of the records that were withdrawn on the same day."""
    texts = [f"Reason: {full_sentence(withdrawal.reason)}"]
    texts += [f"Of {test.id}: {full_sentence(test.withdrawn.reason)}" for test in tests if test.withdrawn is not None]
    links = tuple(context.record_link(test.id) for test in tests)
    return Correction(day_text(withdrawal.date), None, "withdrawn", " ".join(texts), None, links)
