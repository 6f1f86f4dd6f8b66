"""Records that a change touches, in words, and what a reviewer must see about them first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from generator.presenting.impact_views import ImpactRow, Said
from generator.presenting.wording import count_text
from generator.scoring.record_changes import RecordChange, RecordState, Unsaid

_STATES = {
    RecordState.NEW: "new",
    RecordState.GONE: "gone",
    RecordState.RENAMED: "has another id",
    RecordState.WITHDRAWN: "withdrawn",
    RecordState.RESTORED: "no longer withdrawn",
    RecordState.AMENDED: "amended",
    RecordState.CHANGED: "changed",
    RecordState.REWRITTEN: "written otherwise, says the same",
}
_KINDS = {
    "device_tests": "test record",
    "devices": "device",
    "instruments": "instrument",
    "testers": "tester",
    "criteria": "requirement",
    "protocols": "protocol",
    "comparisons": "comparison",
}
_WITH_PAGES = ("device_tests", "devices", "instruments", "comparisons")


def record_rows(records: Sequence[RecordChange]) -> tuple[ImpactRow, ...]:
    """Return a row for each record that differs."""
    return tuple(
        ImpactRow(
            owner=Said(change.id, True),
            place=Said(_KINDS.get(change.kind, "publication")),
            name=Said(""),
            before=_version(change.version_before, change),
            after=_version(change.version_after, change),
            change=Said(_STATES[change.state]),
        )
        for change in records
    )


def _version(version: str | None, change: RecordChange) -> Said:
    if change.version_before is None and change.version_after is None:
        return Said("")  # requirements and protocols have none
    return Said(f"version {version}" if version is not None else "none")


def record_remarks(records: Sequence[RecordChange], moved: Set[str]) -> Iterator[tuple[Said, ...]]:
    """Yield what a record does not say of its change, and addresses that end; figures of `moved` are others."""
    for change in records:
        name = Said(change.id, True)
        if change.kind == "device_tests" and change.id in moved and Unsaid.VERSION_STAYS in change.unsaid:
            yield (
                name,
                Said(f": published figures move, and its version stays {change.version_after}. Raise the version."),
            )
        elif Unsaid.VERSION_STAYS in change.unsaid:
            yield (name, Said(f": it changed, and its version stays {change.version_after}. Raise the version."))
        if Unsaid.NO_AMENDMENT in change.unsaid:
            kept = ", with the earlier figures" if change.kind == "device_tests" else ""
            yield (name, Said(f": no amendment says what was changed and why. Add one{kept}."))
        if Unsaid.AMENDMENTS_LOST in change.unsaid:
            yield (name, Said(": an earlier amendment was changed or removed. Amendments are only ever added."))
        if change.state is RecordState.RENAMED and change.renamed_from is not None:
            yield (
                Said(change.renamed_from, True),
                Said(" is now "),
                name,
                Said(". Ids are for good: its published address leads nowhere from now on."),
            )
        if change.state is RecordState.GONE and change.kind in _WITH_PAGES:
            yield (
                name,
                Said(
                    f": this {_KINDS[change.kind]} is gone, and its published address leads nowhere from now on. "
                    "What was published is withdrawn, not removed."
                ),
            )
    rewritten = sum(change.state is RecordState.REWRITTEN for change in records)
    if rewritten:
        written = "is written otherwise and says" if rewritten == 1 else "are written otherwise and say"
        count = count_text(rewritten, "record file")
        yield (
            Said(f"{count[:1].upper()}{count[1:]} {written} the same: only the SHA-256 that pages print is another."),
        )
