"""Corrections: the box above an amended record, the one list, what is said once, what stands apart. Words are ours."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.presenting.corrections import own_amendments
from generator.presenting.page_views import RecordPage
from generator.presenting.views import Link
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, record_page, shown
from tests.scoring.builders import Data, a_device, a_test

DAY = "2025-08-01"
GONE: Data = {"date": DAY, "reason": "Nobody knows what was worn"}


def amended(changed: str, date: str = DAY, **more: object) -> Data:
    return {"date": date, "reason": "a slip", "changed": changed, **more}


def earlier(*exercises: str) -> list[Data]:
    return [{"figure": f"fit.am.{name}", "was": "90 (80 to 99)"} for name in exercises]


def a_page(*amendments: Data, **changes: Any) -> RecordPage:
    return record_page(a_test([given(150.0)], amendments=list(amendments), **changes))


def test_a_record_as_issued_has_no_box() -> None:
    assert a_page().corrected is None


def test_the_newest_amendment_stands_above_the_record_in_words() -> None:
    page = a_page(
        amended("place from A to B", "2025-07-20"),
        amended("fit[am].exercises[talking].in_mask from 1 to 2", earlier=earlier("overall")),
    )
    box = page.corrected
    assert box is not None
    assert box.heading == "This test record was corrected on 1 August 2025."
    assert box.text == "Session am, exercise talking, concentration inside, from 1 to 2. Reason: A slip."
    (line,) = box.earlier
    # source: the harmonic mean of equal factors is that factor, by definition
    assert (line.name, line.of, line.was, line.today) == ("overall fit factor", "session am", "90 (80 to 99)", "150")
    assert line.link == Link("overall fit factor", "records/test.html#fit.am.overall")
    assert box.more is None
    assert box.others == Link("One earlier amendment", "records/test.html#amendments")
    # It is no withdrawal: the title of the page stays.
    assert (page.head.notices, page.head.title) == ((), "Test report test")


@pytest.mark.parametrize(("count", "shown_there", "more"), [(3, 3, None), (4, 3, "and one more figure")])
def test_three_figures_stand_in_the_box_and_the_rest_is_counted(count: int, shown_there: int, more: str | None) -> None:
    keys = ("overall", "humming", "singing", "leaping")[:count]
    page = a_page(amended("this from 1 to 2", earlier=earlier(*keys)))
    assert page.corrected is not None
    assert len(page.corrected.earlier) == shown_there
    assert page.corrected.more == (Link(more, "records/test.html#amendments") if more else None)
    assert page.amendments[0].earlier is not None
    assert len(page.amendments[0].earlier.rows) == count


@pytest.mark.parametrize(
    ("amendment", "counts"),
    [
        (amended("the record was withdrawn"), False),
        (amended("the record was withdrawn, and the device with it"), False),
        (amended("the record was withdrawn; place from A to B"), True),
        (amended("the record was withdrawn", "2025-07-20"), True),
        (amended("the record was withdrawn", earlier=earlier("overall")), True),
    ],
)
def test_an_amendment_that_only_repeats_a_withdrawal_is_no_correction_of_its_own(amendment: Data, counts: bool) -> None:
    catalogue = a_whole_catalogue(a_test([given(150.0)], amendments=[amendment], withdrawn=GONE))
    site = shown(catalogue)
    (test,) = site.data.catalogue.device_tests.values()
    assert bool(own_amendments(test)) is counts
    assert (site.records[0].corrected is not None) is counts
    assert [item.correction.what for item in site.corrections.corrections].count("amended") == int(counts)
    # The record itself keeps every amendment.
    assert len(site.records[0].amendments) == 1


def test_without_a_withdrawal_an_amendment_always_counts() -> None:
    assert a_page(amended("the record was withdrawn")).corrected is not None


def test_a_device_and_its_records_withdrawn_on_one_day_are_told_once() -> None:
    device = a_device(withdrawn=GONE, amendments=[amended("the device was withdrawn")])
    same = a_test([given(150.0)], withdrawn={**GONE, "reason": "the box was refilled"})
    other = a_test([given(150.0)], id="other", withdrawn={**GONE, "date": "2025-07-20"})
    told = device_page(same, other, device=device).corrections
    assert [(each.date, each.of, each.what, each.with_it) for each in told] == [
        ("1 August 2025", None, "withdrawn", (Link("test", "records/test.html"),)),
        ("20 July 2025", Link("other", "records/other.html"), "withdrawn", ()),
    ]
    assert told[0].text == "Reason: Nobody knows what was worn. Of test: The box was refilled."


def a_catalogue_of_two() -> Catalogue:
    first = a_test([given(150.0)], amendments=[amended("place from A to B"), amended("the lot", "2025-08-03")])
    catalogue = a_whole_catalogue(first, device=a_device(amendments=[amended("the mass", "2025-08-02")]))
    other = a_device(withdrawn={**GONE, "date": "2025-08-02"}).model_copy(update={"id": "other", "name": "Another"})
    return replace(catalogue, devices={**catalogue.devices, "other": other})


def test_the_list_has_every_correction_newest_first() -> None:
    site = shown(a_catalogue_of_two())
    listed = [(each.correction.date, each.device.href, each.correction.what) for each in site.corrections.corrections]
    assert listed == [
        ("3 August 2025", "devices/device.html", "amended"),
        ("2 August 2025", "devices/other.html", "withdrawn"),
        ("2 August 2025", "devices/device.html", "amended"),
        ("1 August 2025", "devices/device.html", "amended"),
    ]
    # The list is as new as its newest entry, also where a record was issued later.
    assert site.last_changes["corrections.html"].isoformat() == "2025-08-03"


def test_a_catalogue_without_corrections_has_an_empty_list() -> None:
    site = shown(a_whole_catalogue(a_test([given(150.0)])))
    assert site.corrections.corrections == ()
    assert "corrections.html" not in site.last_changes


def test_what_a_withdrawn_record_raised_itself_stands_apart() -> None:
    # source: the level of 29 CFR 1910.134(f)(7) for a half mask is 100; 10 lies below it
    session = given(10.0, protocol="eight-standard-exercises")
    stands, gone = a_test([session]), a_test([session], withdrawn=GONE)
    box = "pass-level-not-reached"
    before = record_page(stands)
    assert box in {each.id for each in before.cautions.open}
    assert (before.cautions.before_withdrawal, before.findings_heading) == ((), "Found while scoring")
    page = record_page(gone)
    assert box in {each.id for each in page.cautions.before_withdrawal}
    assert {each.id for each in page.cautions.raised} & {each.id for each in page.cautions.before_withdrawal} == set()
    assert "record-withdrawn" in {each.id for each in page.cautions.open}
    assert box not in {each.id for each in page.cautions.raised}
    assert page.findings_heading == "Found while scoring, before the record was withdrawn"


def test_what_is_true_of_the_device_stays_above_a_withdrawn_record() -> None:
    page = record_page(a_test([given(10.0)], withdrawn=GONE), device=a_device(home_built=True))
    assert "home-built" in {each.id for each in page.cautions.open}
