"""A device's data sheet: its page on paper, with the workings of its records as an annex."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.presenting.context import Context
from generator.presenting.device_page import last_issued
from generator.presenting.views import Annex, AnnexLine, AnnexMethod, DevicePage, RecordPage, Sheet, WorkingView


def _methods(workings: Sequence[WorkingView]) -> tuple[AnnexMethod, ...]:
    by_method: dict[str, list[WorkingView]] = {}
    for working in workings:
        by_method.setdefault(working.method.href, []).append(working)
    return tuple(
        AnnexMethod(
            method=same[0].method,
            equation=same[0].equation,
            sources=same[0].sources,
            lines=tuple(
                AnnexLine(
                    figure=working.name,
                    inputs="; ".join(f"{item.meaning} {item.value}" for item in working.inputs),
                    result=working.result,
                )
                for working in same
            ),
        )
        for same in by_method.values()
    )


def _annex(record: RecordPage) -> Annex:
    workings = [working for section in record.sections for working in section.workings]
    return Annex(record=record.link, facts=record.facts, sha256=record.sha256, methods=_methods(workings))


def present_sheet(device: DevicePage, records: Sequence[RecordPage], context: Context) -> Sheet:
    """Return the data sheet of one device."""
    issued = last_issued(context.catalogue.devices[device.id], context)
    return Sheet(
        path=device.sheet.href,
        # Paper has no site around it: its links lead to the published address.
        head=replace(device.head, root=context.catalogue.publication.base_address),
        device=device,
        running_head=f"{device.name} · {device.id} · issued {issued}",
        issued=issued,
        annexes=tuple(_annex(record) for record in records),
    )
