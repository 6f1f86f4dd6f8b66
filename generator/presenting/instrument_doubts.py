"""What puts an instrument in doubt, in a few words: beside its name, and in the caution that it raises."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from generator.model.base import Day
from generator.model.flow_result import FlowSummary
from generator.model.result import Finding
from generator.presenting.context import Context
from generator.presenting.views import Caution, Cautions
from generator.presenting.wording import day_text, listed

FOUND_OUT, CHECKED_BEYOND = "calibration-out-of-tolerance", "check-standard-beyond-limits"
_FLOW_METER = "instruments.flow_meter"


def doubts_about(instrument: str, findings: Iterable[Finding]) -> str | None:
    """Return why a record's readings by an instrument are in doubt, or None where nothing says so."""
    doubts = []
    for finding in findings:
        if finding.facts.get("instrument") != instrument:
            continue
        if finding.rule == FOUND_OUT:
            day = day_text(Day.fromisoformat(str(finding.facts["calibrated"])))
            doubts.append(f"found out of tolerance on {day}")
        elif finding.rule == CHECKED_BEYOND:
            day = day_text(Day.fromisoformat(str(finding.facts["read"])))
            doubts.append(f"last check beyond an action limit, on {day}")
    return "; ".join(doubts) or None


def with_instruments_named(
    cautions: Cautions, records: Iterable[str], context: Context, flow: FlowSummary | None = None
) -> Cautions:
    """Name in each caution about an instrument which one it is and in which test, and whether the governing flow is."""
    found = [
        (record, finding)
        for record in records
        for finding in context.result.records[record].all_findings
        if finding.where.startswith("instruments.") and "instrument" in finding.facts
    ]
    named = {rule: _named(rule, found, context, flow) for rule in {finding.rule for _, finding in found}}
    return replace(
        cautions,
        open=_told(cautions.open, named),
        folded=_told(cautions.folded, named),
        before_withdrawal=_told(cautions.before_withdrawal, named),
    )


def _told(boxes: Iterable[Caution], named: Mapping[str, str]) -> tuple[Caution, ...]:
    return tuple(replace(box, text=f"{named[box.id]} {box.text}") if box.id in named else box for box in boxes)


def _named(rule: str, found: Iterable[tuple[str, Finding]], context: Context, flow: FlowSummary | None) -> str:
    tests: dict[str, dict[str, None]] = {}
    metered = set()
    for record, finding in found:
        if finding.rule != rule:
            continue
        instrument = context.catalogue.instruments[str(finding.facts["instrument"])].name
        tests.setdefault(instrument, {})[day_text(context.performed(record))] = None
        if finding.where == _FLOW_METER:
            metered.add(record)
    words = " ".join(
        f"It is “{instrument}”, in the {'test' if len(days) == 1 else 'tests'} of {listed(list(days))}."
        for instrument, days in tests.items()
    )
    if not metered or flow is None or flow.governing is None:
        return words
    if flow.governing_record in metered:
        return f"{words} The air flow that opens this page was read with it."
    return f"{words} The air flow that opens this page is of another test, which this does not touch."
