"""What a change does, in words: the whole in one sentence, and each row as it is told."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.result import Figure, Finding, Interval, Outcome, Verdict
from generator.presenting.caution_changes import CautionChange
from generator.presenting.impact import Impact, present_impact
from generator.presenting.impact_records import record_rows
from generator.presenting.impact_views import ImpactRow, ImpactView, with_most_rows
from generator.presenting.page_changes import PageChanges
from generator.presenting.views import Caution
from generator.scoring.record_changes import RecordChange, RecordState, Unsaid
from generator.scoring.result_changes import (
    ABSENT,
    FigureChange,
    FindingChange,
    Owner,
    OwnerKind,
    PlainChange,
    ResultChanges,
    VerdictChange,
)
from tests.presenting.small_sites import a_whole_catalogue, context_of, given
from tests.scoring.builders import a_test

THIN = "\N{NARROW NO-BREAK SPACE}"
CONTEXT = context_of(a_whole_catalogue(a_test([given(200.0)])))
RECORD = Owner(OwnerKind.RECORD, "test")


def a_figure(value: float | None = 200.0, **other: Any) -> Figure:
    data = {"key": "fit.a.overall", "name": "overall", "value": value, "unit": "1", "sample_size": 3}
    return Figure.model_validate(data | {"sample_of": "exercises", "method": "m"} | other, strict=False)


def within(low: float, high: float) -> Interval:
    return Interval(low=low, high=high, coverage=0.95, method="m", covers="counting")


def a_verdict(outcome: Outcome = Outcome.MEETS, **other: Any) -> Verdict:
    data = {"key": "fit.a.verdict", "figure": "fit.a.overall", "criterion": None, "outcome": outcome, "rule": "plain"}
    return Verdict.model_validate(data | {"reason": "It is above."} | other)


def an_impact(results: ResultChanges | None = None, **parts: Any) -> Impact:
    empty = Impact((), results or ResultChanges(), (), PageChanges((), (), ()), CONTEXT, CONTEXT)
    return replace(empty, **parts)


def told(impact: Impact) -> ImpactView:
    return present_impact(impact, ())


def only_row(results: ResultChanges) -> ImpactRow:
    ((row,),) = (section.rows for section in told(an_impact(results)).sections)
    return row


def figures(*pairs: tuple[Figure | None, Figure | None]) -> ResultChanges:
    return ResultChanges(figures=tuple(FigureChange(RECORD, "fit.a.overall", *pair, 100.0, 100.0) for pair in pairs))


MOVED = figures((a_figure(), a_figure(100.0)))
TURNED = ResultChanges(verdicts=(VerdictChange(RECORD, "v", a_verdict(), a_verdict(Outcome.UNDECIDED)),))
STAYS = ResultChanges(verdicts=(VerdictChange(RECORD, "v", a_verdict(), a_verdict(limit=3.0, unit="1")),))
OUTCOME = ResultChanges(plain=(PlainChange(RECORD, "claims[1].outcome", "supported", "contradicted"),))
TOUCHED = PageChanges(("records/new.html",), (), ("index.html",))
NEW = RecordChange("device_tests", "new", RecordState.NEW, None, "1")
GONE = RecordChange("device_tests", "old", RecordState.GONE, "1", None)


@pytest.mark.parametrize(
    ("impact", "sentence"),
    [
        (an_impact(), "Nothing that is published changes."),
        (an_impact(as_published=True), "No published result changes."),
        (an_impact(pages=TOUCHED), "No figure, verdict or caution changes; two pages are touched."),
        (an_impact(MOVED), "One figure changes; no page is touched."),
        (an_impact(MOVED + MOVED), "Two figures change; no page is touched."),
        (an_impact(TURNED, pages=TOUCHED), "One verdict changes; two pages are touched."),
        # A verdict whose outcome stays does not change in this sense.
        (an_impact(STAYS, pages=TOUCHED), "No figure, verdict or caution changes; two pages are touched."),
        (
            an_impact(TURNED + OUTCOME + MOVED, pages=PageChanges((), ("records/old.html",), ())),
            "One verdict, one other outcome and one figure change; one page is touched.",
        ),
        (an_impact(records=(NEW,), pages=TOUCHED), "One record is new; two pages are touched."),
        (
            an_impact(MOVED, records=(NEW, NEW, GONE), pages=TOUCHED),
            "Two records are new; one record is gone; one figure changes; two pages are touched.",
        ),
    ],
)
def test_the_whole_in_one_sentence(impact: Impact, sentence: str) -> None:
    assert told(impact).verdict == sentence


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        (a_figure(), a_figure(100.0), ("200", "100", "half of what it was")),
        (
            a_figure(200.0, interval=within(180, 220)),
            a_figure(200.0, interval=within(170, 230)),
            (
                f"200 (95{THIN}% interval 180 to 220)",
                f"200 (95{THIN}% interval 170 to 230)",
                "the interval alone",
            ),
        ),
        (a_figure(200.0), a_figure(200.1), ("200", "200", "changes by less than is shown")),
        (a_figure(200.0), a_figure(220.0), ("200", "220", "1.10 times what it was")),
        (a_figure(200.0), a_figure(200.0, relation="at_least"), ("200", "at least 200", "")),
        (None, a_figure(), ("none", "200", "new")),
        (a_figure(), None, ("200", "none", "gone")),
        (
            a_figure(),
            a_figure(None, not_scored="no counts"),
            ("200", "not scored: no counts", ""),
        ),
        (a_figure(), a_figure(sample_size=4, method="n"), ("200", "200", "other sample size and method")),
    ],
)
def test_a_figure_is_told_as_pages_write_it(
    before: Figure | None, after: Figure | None, words: tuple[str, str, str]
) -> None:
    row = only_row(figures((before, after)))
    assert (row.before.text, row.after.text, row.change.text) == words
    assert (row.owner.text, row.place.text, row.name.text) == ("test", "fit.a.overall", "overall")


def test_only_what_may_be_a_records_text_is_quoted() -> None:
    row = only_row(figures((a_figure(), a_figure(None, not_scored="no counts"))))
    assert [piece.quoted for piece in (row.owner, row.place, row.name, row.before, row.after, row.change)] == [
        *(True, True, True),
        *(False, True, False),
    ]


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        (
            a_verdict(probability_of_conformity=0.97),
            a_verdict(Outcome.DOES_NOT_MEET, probability_of_conformity=0.02),
            (f"level reached, probability 97.0{THIN}%", f"level not reached, probability 2.0{THIN}%", ""),
        ),
        (
            a_verdict(limit=100.0, unit="1"),
            a_verdict(limit=200.0, unit="1"),
            ("level reached, limit 100", "level reached, limit 200", ""),
        ),
        (a_verdict(ratio=2.0), a_verdict(ratio=2.1), ("level reached",) * 2 + ("changes by less than is shown",)),
        (a_verdict(), a_verdict(reason="Other."), ("level reached",) * 2 + ("worded otherwise",)),
        (None, a_verdict(), ("none", "level reached", "new")),
    ],
)
def test_a_verdict_is_told_with_its_limit_and_probability(
    before: Verdict | None, after: Verdict | None, words: tuple[str, str, str]
) -> None:
    row = only_row(ResultChanges(verdicts=(VerdictChange(RECORD, "v", before, after),)))
    assert (row.before.text, row.after.text, row.change.text) == words


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("supported", "not_tested", ("supported", "not tested", "")),
        (True, None, ("yes", "none", "")),
        (ABSENT, 3, ("none", "3", "new")),
        (3, ABSENT, ("3", "none", "gone")),
        (("A", "B"), ("B", "C", "D"), ("A", "C and D", "")),
        (("A",), ("A", "C"), ("no more than after", "C", "")),
    ],
)
def test_another_result_is_told_in_words(before: Any, after: Any, words: tuple[str, str, str]) -> None:
    row = only_row(ResultChanges(plain=(PlainChange(RECORD, "x.outcome", before, after),)))
    assert (row.before.text, row.after.text, row.change.text) == words


def test_of_a_finding_only_what_differs_is_told() -> None:
    pair = [Finding(rule="rule", where="fit[a]", facts={"same": 1, "mean_l_per_min": value}) for value in (1.25, 1.5)]
    row = only_row(ResultChanges(findings=(FindingChange(RECORD, "fit[a]", *pair),)))
    assert (row.name.text, row.before.text, row.after.text) == ("rule", "mean l per min 1.25", "mean l per min 1.5")


def test_numbers_behind_figures_are_counted_and_not_listed() -> None:
    view = told(an_impact(ResultChanges(plain=(PlainChange(RECORD, "budget", 1.0, 2.0),))))
    assert view.sections == ()
    assert view.notes == ("Behind these change one number such as lines of budgets and points of curves.",)


def test_a_caution_on_a_page_that_is_new_is_listed_and_not_counted() -> None:
    box = CONTEXT.catalogue.caution_rules[0]
    caution = Caution(box.id, box.severity, box.heading, box.text, box.source)
    new, on_index = (CautionChange(page, box.id, None, caution) for page in ("records/new.html", "index.html"))
    view = told(an_impact(cautions=(new, on_index), pages=TOUCHED))
    assert view.verdict == "One caution changes; two pages are touched."
    assert [row.owner.text for row in view.sections[0].rows] == ["records/new.html", "index.html"]


@pytest.mark.parametrize("state", RecordState)
def test_every_state_of_a_record_has_words(state: RecordState) -> None:
    (row,) = record_rows((RecordChange("devices", "a", state, "1", None),))
    assert row.change.text
    assert (row.place.text, row.before.text, row.after.text) == ("device", "version 1", "none")


def test_a_device_that_changed_in_silence_is_told_too() -> None:
    change = RecordChange(
        "devices", "a", RecordState.CHANGED, "1", "1", unsaid=(Unsaid.VERSION_STAYS, Unsaid.NO_AMENDMENT)
    )
    said = ["".join(piece.text for piece in remark) for remark in told(an_impact(records=(change,))).remarks]
    assert said == [
        "a: it changed, and its version stays 1. Raise the version.",
        "a: no amendment says what was changed and why. Add one.",
    ]


def test_rows_beyond_the_most_are_counted() -> None:
    (section,) = with_most_rows(told(an_impact(MOVED + MOVED + MOVED)), 2).sections
    assert (len(section.rows), section.left_out, section.count) == (2, 1, 3)
