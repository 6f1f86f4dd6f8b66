"""A change to records, requirements or published data: exactly what moves is told, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.published import PublishedCatalogue
from tests.contributing.impacts import catalogue, impact, places, remarks, rows, three_wearers
from tests.scoring.builders import a_device, a_run, a_test

AMENDMENT = {"date": "2025-08-01", "reason": "Misread.", "changed": "One count."}
WITHDRAWAL = {"date": "2025-08-01", "reason": "The wrong mask was worn."}


def with_hashes(given: PublishedCatalogue, **hashes: str) -> PublishedCatalogue:
    return replace(given, record_sha256=hashes)


def test_the_same_records_change_nothing() -> None:
    view = impact(catalogue(three_wearers()), catalogue(three_wearers()))
    assert view.verdict == "Nothing that is published changes."
    assert (view.sections, view.remarks, view.notes) == ((), (), ())


def test_one_changed_count_moves_what_rests_on_it_and_nothing_else() -> None:
    view = impact(catalogue(three_wearers(60)), catalogue(three_wearers(90)))
    # by hand: the exercise of the count, its session, the leakage that is its reciprocal; of three wearers the
    # geometric mean, what differs between them, the fifth percentile and its bound. No other session, no count of
    # wearers, no pass level: the protocol has none.
    assert places(rows(view, "figures")) == [
        ("test", "fit.am.talking"),
        ("test", "fit.am.overall"),
        ("test", "fit.am.leakage"),
        ("device", "wearers.1.mean"),
        ("device", "wearers.1.between"),
        ("device", "wearers.1.percentile"),
        ("device", "wearers.1.bound"),
    ]
    assert [section.id for section in view.sections] == ["records", "figures", "pages"]
    # source: arithmetic; 90 particles in place of 60 in the same air leave two thirds of the factor
    talking = rows(view, "figures")[0]
    assert (talking.before.text.split()[0], talking.after.text.split()[0]) == ("3300", "2200")
    assert talking.change.text == "67\N{NARROW NO-BREAK SPACE}% of what it was"
    assert view.verdict == "Seven figures change; six pages are touched."
    assert [row.owner.text for row in rows(view, "pages")] == [
        "index.html",
        "devices/device.html",
        "records/test.html",
        "devices/device.pdf",
        "compare.html",
        "catalogue.pdf",
    ]


def test_what_differs_beyond_the_digits_that_are_shown_is_told_as_such() -> None:
    other = three_wearers().model_dump(mode="json")
    other["fit"][0]["exercises"][1]["ambient_before"] = "3000.01 /cm3"
    sessions = [{name: value for name, value in each.items() if value is not None} for each in other["fit"]]
    view = impact(catalogue(three_wearers()), catalogue(a_test(sessions)))
    steps = {row.place.text: row.change.text for row in rows(view, "figures")}
    assert steps["fit.am.talking"] == steps["fit.am.overall"] == "changes by less than is shown"
    # The ambient sample belongs to one exercise, and the simulated interval of the session rests on it.
    assert {place for place in steps if place.startswith("fit.")} == {
        "fit.am.talking",
        "fit.am.overall",
        "fit.am.leakage",
    }


def hood_runs(**parts: Any) -> PublishedCatalogue:
    runs = [
        a_run([190.0, 190.2, 189.8, 190.1], id="strong"),
        a_run([175.0, 175.2, 174.8, 175.1], id="between"),
        a_run([150.0, 150.2, 149.8, 150.1], id="weak"),
    ]
    return catalogue(a_test(flow=runs), device=a_device("loose_powered_hood"), **parts)


def test_a_changed_criterion_moves_the_verdicts_between_its_limits_and_no_other() -> None:
    before = hood_runs()
    (flow,) = {test.criterion for test in _verdicts(before) if test.criterion is not None}
    limit = before.criteria[flow].limit
    assert (before.criteria[flow].unit, 150 < limit < 174) == ("L/min", True)
    changed = before.criteria[flow].model_copy(update={"limit": 183.0})
    after = replace(before, criteria={**before.criteria, flow: changed})

    view = impact(before, after)
    (row,) = rows(view, "verdicts")
    assert (row.owner.text, row.place.text, row.name.text) == ("test", "flow.between.verdict", flow)
    assert row.before.text.startswith("meets the requirement, limit ")
    assert row.after.text.startswith("does not meet the requirement, limit 183\N{NARROW NO-BREAK SPACE}L/min")
    # The others keep their outcome at the other limit.
    assert {row.place.text for row in rows(view, "kept-verdicts")} == {"flow.strong.verdict", "flow.weak.verdict"}
    assert [row.owner.text for row in rows(view, "records")] == [flow]
    assert "requirements.html" in [row.owner.text for row in rows(view, "pages")]
    assert view.verdict.startswith("One verdict")
    back = impact(after, before)
    assert places(rows(back, "verdicts")) == [("test", "flow.between.verdict")]


def _verdicts(given: PublishedCatalogue) -> Any:
    from generator.scoring.catalogue import score_catalogue

    return score_catalogue(given).records["test"].topics["flow"].verdicts


def test_a_new_record_is_told_with_its_verdicts_and_pages() -> None:
    first = three_wearers()
    second = three_wearers(
        id="second", dates={"received": "2025-05-01", "performed": "2025-06-02", "issued": "2025-07-02"}
    )
    view = impact(catalogue(first), catalogue(first, second))
    assert view.verdict.startswith("One record is new; ")
    assert [(row.owner.text, row.change.text) for row in rows(view, "records")] == [("second", "new")]
    assert places(rows(view, "verdicts")) == [("second", f"fit.{each}.verdict") for each in ("am", "pm", "eve")]
    # Its own figures are counted; those of the device, which has more donnings now, are listed.
    assert {row.owner.text for row in rows(view, "figures")} == {"device"}
    # by hand: of each of three sessions three exercises, the overall factor and the leakage
    assert view.notes[-1] == "Records that are new bring 15 figures of their own."
    new = [row.owner.text for row in rows(view, "pages") if row.change.text == "new"]
    assert new == ["records/second.html"]
    assert remarks(view) == []


def test_a_record_that_is_gone_ends_its_address() -> None:
    first, second = three_wearers(), three_wearers(id="second")
    view = impact(catalogue(first, second), catalogue(first))
    assert view.verdict.startswith("One record is gone; ")
    assert [row.owner.text for row in rows(view, "pages") if row.change.text.startswith("gone")] == [
        "records/second.html"
    ]
    assert remarks(view) == [
        "second: this test record is gone, and its published address leads nowhere from now on. What was published is "
        "withdrawn, not removed."
    ]


def test_a_record_under_another_id_has_the_same_figures() -> None:
    view = impact(catalogue(three_wearers()), catalogue(three_wearers(id="other")))
    assert [(row.owner.text, row.change.text) for row in rows(view, "records")] == [("other", "has another id")]
    assert [section.id for section in view.sections] == ["records", "pages"]
    assert view.verdict.startswith("One record is renamed; ")
    assert remarks(view) == ["test is now other. Ids are for good: its published address leads nowhere from now on."]


def test_a_withdrawn_record_takes_its_figures_out_of_the_device() -> None:
    first = three_wearers()
    second = three_wearers(90, id="second")
    withdrawn = three_wearers(90, id="second", version="2", withdrawn=WITHDRAWAL)
    view = impact(catalogue(first, second), catalogue(first, withdrawn))
    (row,) = rows(view, "records")
    assert (row.owner.text, row.before.text, row.after.text, row.change.text) == (
        "second",
        "version 1",
        "version 2",
        "withdrawn",
    )
    # Its own figures stay as they are.
    assert {row.owner.text for row in rows(view, "figures")} == {"device"}
    assert remarks(view) == []


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        (
            {},
            [
                "test: published figures move, and its version stays 1. Raise the version.",
                "test: no amendment says what was changed and why. Add one, with the earlier figures.",
            ],
        ),
        (
            {"version": "1.0", "amendments": [AMENDMENT]},
            ["test: published figures move, and its version stays 1.0. Raise the version."],
        ),
        ({"version": "2"}, ["test: no amendment says what was changed and why. Add one, with the earlier figures."]),
        ({"version": "2", "amendments": [AMENDMENT]}, []),
        ({"version": "1.1", "amendments": [AMENDMENT]}, []),
    ],
)
def test_figures_that_move_in_silence_are_told_loudly(changes: dict[str, Any], expected: list[str]) -> None:
    before = with_hashes(catalogue(three_wearers(60)), test="0" * 64)
    after = with_hashes(catalogue(three_wearers(90, **changes)), test="1" * 64)
    assert remarks(impact(before, after)) == expected


def test_an_earlier_amendment_may_not_be_changed() -> None:
    before = with_hashes(catalogue(three_wearers(version="2", amendments=[AMENDMENT])), test="0" * 64)
    other: dict[str, Any] = {"version": "3", "amendments": [AMENDMENT | {"reason": "Other."}, AMENDMENT]}
    after = with_hashes(catalogue(three_wearers(**other)), test="1" * 64)
    assert remarks(impact(before, after)) == [
        "test: an earlier amendment was changed or removed. Amendments are only ever added."
    ]


def test_a_caution_that_comes_and_one_that_goes_are_told_on_each_page() -> None:
    before, after = catalogue(three_wearers()), catalogue(three_wearers(probe=None))
    view = impact(before, after)
    told = {(row.owner.text, row.place.text, row.change.text) for row in rows(view, "cautions")}
    assert told == {(page, "probe-not-recorded", "new") for page in ("devices/device.html", "records/test.html")}
    gone = {(row.owner.text, row.place.text, row.change.text) for row in rows(impact(after, before), "cautions")}
    assert gone == {(page, caution, "gone") for page, caution, _ in told}
