"""A device's data sheet: its page on paper, with the workings of its records as an annex."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from generator.presenting.context import Context
from generator.presenting.device_page import last_issued
from generator.presenting.digits import THIN
from generator.presenting.page_parts import Attached
from generator.presenting.page_views import Annex, AnnexLine, AnnexMethod, DevicePage, RecordPage, Sheet
from generator.presenting.views import Derivation, WorkingInput, WorkingView
from generator.presenting.wording import day_text, listed

_NUMBERED = re.compile(r", (exercise|sample) \d+$")
_DONNING = re.compile(r", donning \d+$")


def _inputs(inputs: Sequence[WorkingInput]) -> str:
    """Write inputs in one line; those that differ only in a number of exercise, sample or donning share words."""
    together: dict[tuple[str, str], list[str]] = {}
    for item in inputs:
        meaning = _DONNING.sub("", _NUMBERED.sub(r" in each \1", item.meaning))
        together.setdefault((meaning, item.unit), []).append(item.number)
    return "; ".join(
        f"{meaning}: {_each_once(numbers)}{THIN if unit else ''}{unit}" for (meaning, unit), numbers in together.items()
    )


def _each_once(texts: Sequence[str]) -> str:
    """Join texts, or give the one text that all of them are."""
    return texts[0] if len(set(texts)) == 1 else ", ".join(texts)


def _steps(of: str, name: str, derivation: Derivation) -> list[tuple[str, Derivation]]:
    """Return a derivation and, after it, those of the numbers that went into it."""
    deeper = [
        step
        for item in derivation.inputs
        if item.basis is not None
        for step in _steps(of, _NUMBERED.sub(r" in each \1", item.meaning), item.basis)
    ]
    return [(f"{of}: {name}", derivation), *deeper]


def _steps_of(working: WorkingView) -> list[tuple[str, Derivation]]:
    # What lies behind a single exercise stands on the record's page: on paper it would bury the rest. The exercises of
    # a session share a line; their names stand with the overall factor, in the same order.
    if not working.is_result:
        kind, _, _ = working.name.partition(", ")
        return [(f"{working.of}: {kind} in each exercise", working.value)]
    steps = _steps(working.of, working.name, working.value)
    if working.interval is not None:
        steps += _steps(working.of, f"{working.name}, interval", working.interval)
    return steps


def _methods(workings: Sequence[WorkingView]) -> tuple[AnnexMethod, ...]:
    """Gather derivations by method and, within it, by what was derived; one that serves two figures stands once."""
    by_method: dict[str, dict[str, list[Derivation]]] = {}
    for working in workings:
        for name, derivation in _steps_of(working):
            same = by_method.setdefault(derivation.method.href, {}).setdefault(name, [])
            if not working.is_result or derivation not in same:
                same.append(derivation)
    return tuple(_method(lines) for lines in by_method.values())


def _method(lines: Mapping[str, Sequence[Derivation]]) -> AnnexMethod:
    first = next(iter(lines.values()))[0]
    return AnnexMethod(
        method=first.method,
        equation=first.equation,
        sources=first.sources,
        lines=tuple(
            AnnexLine(
                figure=name,
                inputs=_inputs([item for derivation in same for item in derivation.inputs]),
                result=_each_once([derivation.result for derivation in same]),
            )
            for name, same in lines.items()
        ),
    )


def _annex(record: RecordPage, base: str) -> Annex:
    on_paper = [section for section in record.sections if section.workings_on_paper]
    left_out = [f"“{section.heading}”" for section in record.sections if section not in on_paper and section.workings]
    workings = [working for section in on_paper for working in section.workings]
    address = f"{base}{record.link.href}"
    blocks = [block for section in record.sections for block in section.blocks]
    return Annex(
        record=record.link,
        facts=record.facts,
        sha256=record.sha256,
        methods=_methods(workings),
        report=record.report,
        # A device's own withdrawal opens the sheet.
        notices=tuple(notice for notice in record.head.notices if notice.id == "withdrawn"),
        amendments=record.amendments,
        # Two records may have sessions of the same name.
        logs=tuple(replace(block.log, id=f"{block.log.id}-{record.id}") for block in blocks if block.log is not None),
        elsewhere=f"The working of the figures under {listed(left_out)} stands on the record’s page: {address}"
        if left_out
        else None,
    )


def _attached(record: RecordPage, context: Context) -> Attached:
    day = context.catalogue.device_tests[record.id].dates.issued
    return Attached(record.id, f"{record.id}.json", f"Published record {record.id} with its results", day)


def _state(device: str, context: Context) -> str:
    """Say of which day a sheet's records are; a change after the newest issue is told beside it."""
    tests = context.catalogue.standing_tests_of(device)
    issued = last_issued(context.catalogue.devices[device], context)
    if not tests:
        return issued
    changed = [amendment.date for test in tests for amendment in test.amendments]
    later = max(changed, default=None)
    amended = f", amended {day_text(later)}" if later is not None and later > max(t.dates.issued for t in tests) else ""
    return f"issued {issued}{amended}"


def present_sheet(device: DevicePage, records: Sequence[RecordPage], context: Context) -> Sheet:
    """Return the data sheet of one device."""
    wearers = [section.wearers for section in device.sections if section.wearers is not None]
    base = context.catalogue.publication.base_address
    return Sheet(
        path=device.sheet.href,
        # Paper has no site around it: its links lead to the published address.
        head=replace(device.head, root=base),
        device=device,
        running_head=f"{device.name} · {device.id} · {_state(device.id, context)}",
        annexes=tuple(_annex(record, base) for record in records),
        over_wearers=_methods([each for view in wearers for group in view.groups for each in group.workings]),
        attached=tuple(_attached(record, context) for record in records),
    )
