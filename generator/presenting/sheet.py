"""A device's data sheet: its page on paper, with the workings of its records as an annex."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from generator.presenting.context import Context
from generator.presenting.device_page import last_issued
from generator.presenting.page_views import Annex, AnnexLine, AnnexMethod, DevicePage, RecordPage, Sheet
from generator.presenting.views import Derivation, WorkingInput, WorkingView

_EXERCISE = re.compile(r", exercise \d+$")


def _line(name: str, derivation: Derivation) -> AnnexLine:
    return AnnexLine(figure=name, inputs=_inputs(derivation.inputs), result=derivation.result)


def _inputs(inputs: Sequence[WorkingInput]) -> str:
    """Write the inputs in one line; those that differ only in the number of their exercise share their words."""
    together: dict[tuple[str, str], list[str]] = {}
    for item in inputs:
        meaning = _EXERCISE.sub(" in each exercise", item.meaning)
        together.setdefault((meaning, item.unit), []).append(item.number)
    parts = []
    for (meaning, unit), numbers in together.items():
        shown = numbers[:1] if len(set(numbers)) == 1 else numbers
        parts.append(f"{meaning}: {', '.join(shown)} {unit}".rstrip())
    return "; ".join(parts)


def _methods(workings: Sequence[WorkingView]) -> tuple[AnnexMethod, ...]:
    by_method: dict[str, list[tuple[str, Derivation]]] = {}
    for working in workings:
        name = f"{working.of}: {working.name}"
        by_method.setdefault(working.value.method.href, []).append((name, working.value))
        # The intervals of single exercises stand on the record's page: on paper they would bury the rest.
        if working.interval is not None and working.is_result:
            name = f"{name}, interval"
            by_method.setdefault(working.interval.method.href, []).append((name, working.interval))
    return tuple(
        AnnexMethod(
            method=same[0][1].method,
            equation=same[0][1].equation,
            sources=same[0][1].sources,
            lines=tuple(_line(name, derivation) for name, derivation in same),
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
