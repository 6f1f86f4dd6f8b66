"""What a change does to published results, in words: verdicts first, then cautions, figures, the rest, and pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass

from generator.model.result import Figure, Finding, Outcome, Verdict
from generator.presenting.caution_changes import CautionChange
from generator.presenting.context import Context
from generator.presenting.digits import figure_text, quantity_text, ratio_words
from generator.presenting.figures import outcome_text, probability_text
from generator.presenting.impact_records import record_remarks, record_rows
from generator.presenting.impact_views import ImpactRow, ImpactSection, ImpactView, Said
from generator.presenting.page_changes import PageChanges
from generator.presenting.wording import count_text, listed, sentence_case, shortened
from generator.scoring.record_changes import RecordChange, RecordState
from generator.scoring.result_changes import (
    ABSENT,
    Change,
    FigureChange,
    FindingChange,
    Owner,
    OwnerKind,
    PlainChange,
    ResultChanges,
    VerdictChange,
)

_LONGEST_QUOTED = 120
_LONGEST_PLACE = 180
_NOTHING = Said("none")
_LESS = "changes by less than is shown"
_RESULT_COLUMNS = ("Of", "What", "Before", "After", "Change")


@dataclass(frozen=True)
class Impact:
    """Everything that differs, from before to after."""

    records: tuple[RecordChange, ...]
    results: ResultChanges
    cautions: tuple[CautionChange, ...]
    pages: PageChanges
    before: Context
    after: Context
    as_published: bool = False
    """Whether the results before are those that were published: pages are told as far as records change them."""


def present_impact(
    impact: Impact, compared: tuple[Said, ...], remarks: tuple[tuple[Said, ...], ...] = ()
) -> ImpactView:
    """Return what a change does, for a reader; `compared` and `remarks` are what is known of the two sides besides."""
    shown = [section for section in _sections(impact) if section.rows]
    moved = {change.owner for change in impact.results.figures if change.moved and change.before and change.after}
    told = (*remarks, *record_remarks(impact.records, {owner.id for owner in moved if owner.kind is OwnerKind.RECORD}))
    return ImpactView(_verdict(impact), compared, told, tuple(shown), tuple(_notes(impact)))


def _verdict(impact: Impact) -> str:
    results, whole = impact.results, _whole_records(impact)
    turned = [change for change in results.verdicts if change.turned and change.owner not in whole]
    outcomes = [change for change in results.plain if change.is_outcome and change.owner not in whole]
    moved = [change for change in results.figures if change.moved and change.owner not in whole]
    counts = [
        (len(turned), "verdict"),
        (len(outcomes), "other outcome"),
        (len(moved), "figure"),
        (sum(change.page not in (*impact.pages.new, *impact.pages.gone) for change in impact.cautions), "caution"),
    ]
    said = [count_text(number, noun) for number, noun in counts if number]
    pages = impact.pages.count
    touched = f"{count_text(pages, 'page')} {'is' if pages == 1 else 'are'} touched" if pages else "no page is touched"
    came = [
        f"{count_text(number, 'record')} {'is' if number == 1 else 'are'} {state.value}"
        for state in (RecordState.NEW, RecordState.GONE, RecordState.RENAMED)
        if (number := sum(change.state is state for change in impact.records))
    ]
    if said:
        alone = len(said) == 1 and said[0].startswith("one ")
        came.append(f"{listed(said)} {'changes' if alone else 'change'}")
    elif not came and not pages:
        return "No published result changes." if impact.as_published else "Nothing that is published changes."
    elif not came:
        came.append("no figure, verdict or caution changes")
    return sentence_case("; ".join([*came, touched])) + "."


def _whole_records(impact: Impact) -> set[Owner]:
    """Return the owners that are new or gone as a whole: each of their results is, which needs no telling."""
    kinds = {
        "device_tests": OwnerKind.RECORD,
        "devices": OwnerKind.DEVICE,
        "comparisons": OwnerKind.COMPARISON,
        "instruments": OwnerKind.INSTRUMENT,
    }
    return {
        Owner(kinds[change.kind], change.id)
        for change in impact.records
        if change.state in (RecordState.NEW, RecordState.GONE) and change.kind in kinds
    }


def _sections(impact: Impact) -> Iterator[ImpactSection]:
    results, whole = impact.results, _whole_records(impact)
    figures = [change for change in results.figures if change.owner not in whole]
    plain = [change for change in results.plain if change.owner not in whole]
    yield ImpactSection(
        "records",
        "Records",
        ("Record", "What", "Before", "After", "State"),
        record_rows(impact.records),
    )
    yield ImpactSection(
        "verdicts",
        "Verdicts that change",
        _RESULT_COLUMNS,
        tuple(_verdict_row(each, impact) for each in results.verdicts if each.turned),
    )
    yield ImpactSection(
        "outcomes",
        "Other outcomes that change",
        _RESULT_COLUMNS,
        tuple(_plain_row(each) for each in plain if each.is_outcome),
    )
    yield ImpactSection(
        "cautions",
        "Cautions",
        ("On", "Caution", "Before", "After", "Change"),
        tuple(map(_caution_row, impact.cautions)),
    )
    yield ImpactSection(
        "figures", "Figures", _RESULT_COLUMNS, tuple(_figure_row(each) for each in figures if each.moved), detail=True
    )
    yield ImpactSection(
        "kept-verdicts",
        "Verdicts whose outcome stays",
        _RESULT_COLUMNS,
        tuple(_verdict_row(each, impact) for each in results.verdicts if not each.turned),
        detail=True,
    )
    yield ImpactSection(
        "other-words",
        "Figures that stay, and of which something else is said",
        _RESULT_COLUMNS,
        tuple(_figure_row(each) for each in figures if not each.moved),
        detail=True,
    )
    yield ImpactSection(
        "findings",
        "Findings",
        _RESULT_COLUMNS,
        tuple(_finding_row(each) for each in results.findings if each.owner not in whole),
        detail=True,
    )
    yield ImpactSection(
        "other",
        "Other results",
        _RESULT_COLUMNS,
        tuple(_plain_row(each) for each in plain if not each.is_outcome and not each.is_behind_others),
        detail=True,
    )
    yield ImpactSection(
        "pages",
        "Pages, papers and pictures",
        ("Path", "", "", "", "Change"),
        tuple(_page_rows(impact.pages)),
        detail=True,
    )


def _notes(impact: Impact) -> Iterator[str]:
    """Yield what is counted and not listed."""
    whole = _whole_records(impact)
    behind = sum(change.is_behind_others for change in impact.results.plain if change.owner not in whole)
    if behind:
        yield f"Behind these change {count_text(behind, 'number')} such as lines of budgets and points of curves."
    new = [change for change in impact.results.figures if change.owner in whole]
    if new:
        counts = [
            (sum(change.before is None for change in new), "new bring"),
            (sum(change.after is None for change in new), "gone take away"),
        ]
        yield from (
            f"Records that are {words} {count_text(count, 'figure')} of their own." for count, words in counts if count
        )


def _said(text: str) -> Said:
    """Return a text that may hold what a record says."""
    return Said(shortened(text, _LONGEST_QUOTED), quoted=True)


def _row(change: Change[object], name: str, before: Said, after: Said, step: str) -> ImpactRow:
    return ImpactRow(Said(change.owner.id, True), _place_said(_key(change)), _said(name), before, after, Said(step))


def _place_said(place: str) -> Said:
    """Return a place; of a long one its beginning and its end, which says most."""
    text = place.removeprefix("topics.")
    cut = len(text) > _LONGEST_PLACE
    return Said(f"{text[: _LONGEST_PLACE // 3]}…{text[-_LONGEST_PLACE * 2 // 3 :]}" if cut else text, True)


def _key(change: Change[object]) -> str:
    told = change.after if change.after is not None else change.before
    return told.key if isinstance(told, Figure | Verdict) else change.place


def _step(change: Change[object]) -> str:
    return "new" if change.before is None else "gone" if change.after is None else ""


def _verdict_row(change: VerdictChange, impact: Impact) -> ImpactRow:
    told = change.after or change.before
    assert told is not None
    before, after = _verdict_said(change.before, impact.before), _verdict_said(change.after, impact.after)
    step = _step(change)
    if not step and before == after:
        step = _LESS if _shares(change.before) != _shares(change.after) else "worded otherwise"
    return _row(change, told.criterion or "", before, after, step)


def _shares(verdict: Verdict | None) -> tuple[float | None, ...]:
    return (verdict.ratio, verdict.probability_of_conformity) if verdict is not None else ()


def _verdict_said(verdict: Verdict | None, context: Context) -> Said:
    if verdict is None:
        return _NOTHING
    words = [outcome_text(verdict, context)]
    if verdict.limit is not None and verdict.unit is not None:
        words.append(f"limit {quantity_text(verdict.limit, verdict.unit)}")
    if verdict.probability_of_conformity is not None and verdict.outcome is not Outcome.NOT_APPLICABLE:
        words.append(f"probability {probability_text(verdict.probability_of_conformity)}")
    return Said(", ".join(words))


def _figure_row(change: FigureChange) -> ImpactRow:
    told = change.after or change.before
    assert told is not None
    before = _figure_said(change.before, change.limit_before)
    after = _figure_said(change.after, change.limit_after)
    step = _step(change)
    if not step and not change.moved:
        step = _of_what(change)
    elif not step and before == after:
        step = _LESS
    elif not step and change.ratio is not None and change.ratio != 1:
        step = f"{ratio_words(change.ratio)} what it was"
    elif not step:
        step = "the interval alone" if _value(change.before) == _value(change.after) else ""
    return _row(change, told.name, before, after, step)


def _value(figure: Figure | None) -> object:
    return (figure.value, figure.unit, figure.relation, figure.other_bound) if figure is not None else None


def _figure_said(figure: Figure | None, limit: float | None) -> Said:
    if figure is None:
        return _NOTHING
    text = figure_text(figure, limit)
    # Why a figure is not scored may name what a record calls something.
    return Said(text) if figure.value is not None else _said(text)


_ABOUT = {
    "name": "name",
    "sample_size": "sample size",
    "sample_of": "what the sample counts",
    "method": "method",
    "no_interval": "why it has no interval",
    "not_scored": "why it is not scored",
    "interval": "method of the interval, or what it covers",
}


def _of_what(change: FigureChange) -> str:
    assert change.before is not None
    assert change.after is not None
    other = [words for name, words in _ABOUT.items() if getattr(change.before, name) != getattr(change.after, name)]
    return f"other {listed(other)}"


def _caution_row(change: CautionChange) -> ImpactRow:
    before, after = (Said(caution.heading, True) if caution else _NOTHING for caution in (change.before, change.after))
    step = "new" if change.before is None else "gone" if change.after is None else "reworded"
    return ImpactRow(Said(change.page, True), Said(change.id, True), Said(""), before, after, Said(step))


def _finding_row(change: FindingChange) -> ImpactRow:
    told = change.after or change.before
    assert told is not None
    other = {name for name in told.facts if _fact(change.before, name) != _fact(change.after, name)}
    before, after = (_facts(each, other) for each in (change.before, change.after))
    return _row(change, told.rule, before, after, _step(change) or "other facts")


def _fact(finding: Finding | None, name: str) -> object:
    return finding.facts.get(name) if finding is not None else None


def _facts(finding: Finding | None, names: Set[str]) -> Said:
    """Return the named facts of a finding; those that another one shares tell nothing."""
    if finding is None:
        return _NOTHING
    told = (f"{name.replace('_', ' ')} {_fact_text(value)}" for name, value in finding.facts.items() if name in names)
    return _said(", ".join(told) or "found")


def _fact_text(value: str | int | float) -> str:
    return quantity_text(value, "1", 6) if isinstance(value, float) else str(value)


def _plain_row(change: PlainChange) -> ImpactRow:
    before, after = (_plain_said(each) for each in (change.before, change.after))
    if isinstance(change.before, tuple) and isinstance(change.after, tuple):
        gone = [str(each) for each in change.before if each not in change.after]
        new = [str(each) for each in change.after if each not in change.before]
        before, after = _said(listed(gone) or "no more than after"), _said(listed(new) or "no more than before")
    step = "new" if change.before == ABSENT else "gone" if change.after == ABSENT else ""
    return ImpactRow(Said(change.owner.id, True), _place_said(change.place), Said(""), before, after, Said(step))


def _plain_said(value: object) -> Said:
    if value in (None, ABSENT, ()):
        return _NOTHING
    if isinstance(value, bool):
        return Said("yes" if value else "no")
    return _said(listed([str(each) for each in value]) if isinstance(value, tuple) else str(value).replace("_", " "))


def _page_rows(pages: PageChanges) -> Iterator[ImpactRow]:
    told: Iterable[tuple[str, tuple[str, ...]]] = (
        ("new", pages.new),
        ("gone: its address leads nowhere", pages.gone),
        ("changes", pages.changed),
    )
    empty = Said("")
    for step, paths in told:
        for path in paths:
            yield ImpactRow(Said(path, True), empty, empty, empty, empty, Said(step))
