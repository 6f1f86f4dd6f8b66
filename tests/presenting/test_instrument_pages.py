"""Instrument pages: which sentence stands for which situation, and what stands in which table."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.device_test import DeviceTest
from generator.presenting.page_views import InstrumentPage, InstrumentsPage
from generator.presenting.views import Table
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_calibration, a_check_standard, a_counter, a_meter, a_run, a_test

OUT: Data = {"within_tolerance": False, "found": "read 7 % high; 3 % was agreed."}
WITHIN: Data = {"within_tolerance": True, "found": "read 1 % high; 3 % was agreed"}
GOOD = a_calibration(date="2025-01-10", due="2026-01-10", certificate="C1")
BAD = a_calibration(date="2025-06-10", due="2026-06-10", certificate="C2", as_found=OUT)
NARROW = "\N{NARROW NO-BREAK SPACE}"


def a_test_on(day: str, name: str = "test", **changes: Any) -> DeviceTest:
    dates = {"received": "2024-01-01", "performed": day, "issued": "2026-12-31"}
    return a_test(flow=[a_run([200.0, 201.0])], id=name, dates=dates, **changes)


def pages(*tests: DeviceTest, **meter: Any) -> dict[str, InstrumentPage]:
    return {page.id: page for page in shown(a_whole_catalogue(*tests, meter=a_meter(**meter))).instruments}


def page(*tests: DeviceTest, **meter: Any) -> InstrumentPage:
    return pages(*tests, **meter)["meter"]


def index(*tests: DeviceTest, **meter: Any) -> InstrumentsPage:
    return shown(a_whole_catalogue(*tests, meter=a_meter(**meter))).instruments_index


def cell(table: Table, identity: str) -> str:
    (text,) = (each.text for row in table.rows for each in row.cells if each.id == identity)
    return text


@pytest.mark.parametrize(
    ("newest", "answer", "state"),
    [
        (
            "2025-05-01",
            "On 1 May 2025, the day of the newest test in this catalogue, its calibration of 10 January 2025 was in "
            "force; the next was due by 10 January 2026.",
            "in force, due 10 January 2026",
        ),
        (
            "2026-02-01",
            "On 1 February 2026, the day of the newest test in this catalogue, its calibration had lapsed: made on "
            "10 January 2025, it was due anew by 10 January 2026.",
            "lapsed, due 10 January 2026",
        ),
        (
            "2025-01-09",
            "On 9 January 2025, the day of the newest test in this catalogue, it had no calibration: the first was "
            "made on 10 January 2025.",
            "none yet",
        ),
    ],
)
def test_the_state_of_the_calibration(newest: str, answer: str, state: str) -> None:
    test = a_test_on(newest)
    assert page(test, calibrations=[GOOD]).answer == answer
    assert cell(index(test, calibrations=[GOOD]).instruments, "meter.state") == state


def test_without_a_test_the_day_is_that_of_the_newest_calibration() -> None:
    assert page(calibrations=[GOOD]).answer == (
        "On 10 January 2025, the day of the newest calibration, its calibration of 10 January 2025 was in force; the "
        "next was due by 10 January 2026."
    )


def test_the_list_names_the_day_it_is_about() -> None:
    assert index(a_test_on("2025-05-01")).note == (
        "The state of each calibration is that of 1 May 2025, the day of the newest test in this catalogue. It does "
        "not depend on when this page is read."
    )


def test_calibrations_stand_oldest_first_with_what_was_found() -> None:
    table = page(
        a_test_on("2025-07-01"), calibrations=[BAD, GOOD, GOOD | {"date": "2025-08-10", "as_found": WITHIN}]
    ).calibrations
    found = [[cell(table, f"calibration.{row}.{name}") for name in ("date", "state", "as_found")] for row in (1, 2, 3)]
    assert found == [
        ["10 January 2025", "replaced by a later one", "not recorded"],
        ["10 June 2025", "in force", "out of tolerance: read 7 % high; 3 % was agreed."],
        ["10 August 2025", "made after that day", "within tolerance: read 1 % high; 3 % was agreed"],
    ]
    assert table.caption.endswith("State on 1 July 2025")


def test_what_was_found_out_of_tolerance_lists_the_records() -> None:
    tests = [a_test_on("2025-01-09", "before"), a_test_on("2025-03-01", "during"), a_test_on("2025-06-10", "same-day")]
    made = page(*tests, calibrations=[GOOD, BAD])
    assert [(fact.term, fact.text) for fact in made.found_out] == [
        (
            "Calibration of 10 June 2025",
            "Read 7 % high; 3 % was agreed. Every test done with it since the calibration of 10 January 2025 is "
            "marked.",
        )
    ]
    assert made.affected_answer == (
        "Two test records are marked, and each says so among its cautions. A test on the day of a calibration is "
        "marked too, since no record says which of the two came first."
    )
    assert [(item.anchor, item.link.href, item.text) for item in made.affected] == [
        (
            "affected-during",
            "records/during.html",
            "Device, tested 1 March 2025, between the calibrations of 10 January 2025 and 10 June 2025",
        ),
        (
            "affected-same-day",
            "records/same-day.html",
            "Device, tested 10 June 2025, between the calibrations of 10 January 2025 and 10 June 2025",
        ),
    ]
    assert [item.anchor for item in made.used] == ["used-before", "used-during", "used-same-day"]


def test_without_a_calibration_before_it_the_page_says_so() -> None:
    made = page(a_test_on("2025-03-01"), calibrations=[BAD])
    assert made.found_out[0].text == (
        "Read 7 % high; 3 % was agreed. Every test done with it up to that day is marked; no calibration came before."
    )
    assert made.affected[0].text == "Device, tested 1 March 2025, not after the calibration of 10 June 2025"
    assert made.affected_answer.startswith("One test record is marked, and each says so")


def test_a_record_that_two_calibrations_touch_stands_in_the_list_once() -> None:
    third = BAD | {"date": "2025-09-10", "certificate": "C3"}
    made = page(a_test_on("2025-06-10"), calibrations=[GOOD, BAD, third])
    assert [(item.anchor, item.text) for item in made.affected] == [
        (
            "affected-test",
            "Device, tested 10 June 2025, between the calibrations of 10 January 2025 and 10 September 2025",
        )
    ]


def test_found_out_without_a_test_touches_none() -> None:
    made = page(a_test_on("2025-07-01"), calibrations=[GOOD, BAD])
    assert (made.affected_answer, made.affected) == ("No test record in this catalogue is touched by it.", ())


def test_nothing_is_said_where_nothing_was_found_out() -> None:
    made = page(a_test_on("2025-07-01"), calibrations=[GOOD | {"as_found": WITHIN}])
    assert (made.found_out, made.affected) == ((), ())


def test_marked_records_are_counted_in_the_list_and_lead_to_the_reason() -> None:
    table = index(a_test_on("2025-03-01"), calibrations=[GOOD, BAD]).instruments
    (marked,) = (each for row in table.rows for each in row.cells if each.id == "meter.marked")
    assert (marked.text, marked.href) == ("1", "instruments/meter.html#found-out")
    assert cell(table, "counter.marked") == "none"
    assert cell(table, "meter.records") == "1"


def test_marked_records_and_their_device_open_the_box() -> None:
    site = shown(a_whole_catalogue(a_test_on("2025-03-01"), meter=a_meter(calibrations=[GOOD, BAD])))
    for cautions in (site.records[0].cautions, site.devices[0].cautions):
        assert "calibration-out-of-tolerance" in {box.id for box in cautions.open}
    assert (
        "instruments.flow_meter: An instrument used here was later found to read wrongly." in site.records[0].findings
    )


def test_a_record_leads_to_its_instruments() -> None:
    record = shown(a_whole_catalogue(a_test_on("2025-03-01"))).records[0]
    assert [row.cells[0].href for row in record.instruments.rows] == [
        "instruments/counter.html",
        "instruments/meter.html",
    ]


def instrument_note(**meter: Any) -> str | None:
    record = shown(a_whole_catalogue(a_test_on("2025-03-01"), meter=a_meter(**meter))).records[0]
    assert record.instruments.rows[0].cells[0].note is None  # the counter
    return record.instruments.rows[1].cells[0].note


def test_a_record_says_which_instrument_is_in_doubt() -> None:
    beyond = [a_check_standard(("2025-02-01", 60.0))]
    assert instrument_note(calibrations=[GOOD]) is None
    assert instrument_note(calibrations=[GOOD, BAD]) == "found out of tolerance on 10 June 2025"
    assert instrument_note(calibrations=[GOOD], check_standards=beyond) == (
        "last check beyond an action limit, on 1 February 2025"
    )
    assert instrument_note(calibrations=[GOOD, BAD], check_standards=beyond) == (
        "found out of tolerance on 10 June 2025; last check beyond an action limit, on 1 February 2025"
    )
    lapsed = [GOOD | {"due": "2025-02-10"}]
    assert instrument_note(calibrations=lapsed) is None


def check_answer(*values: float) -> str:
    readings = [(f"2025-01-{number:02}", value) for number, value in enumerate(values, start=1)]
    return page(check_standards=[a_check_standard(*readings)]).checks[0].answer


@pytest.mark.parametrize(
    ("values", "answer"),
    [
        ((50.0,), "The one reading lies within the warning limits."),
        ((52.0,), "The one reading lies beyond an action limit."),
        ((50.0, 50.1), "Both readings lie within the warning limits."),
        ((50.0, 50.1, 50.2), "All three readings lie within the warning limits."),
        (
            (50.0, 50.1, 51.0, 51.1, 60.0),
            "Of five readings, one lies beyond an action limit, two lie beyond a warning limit and two lie within the "
            "warning limits.",
        ),
    ],
)
def test_where_the_readings_lie(values: tuple[float, ...], answer: str) -> None:
    assert check_answer(*values) == answer


@pytest.mark.parametrize(
    ("values", "value", "interval", "note", "centre"),
    # source of the intervals: scipy 1.17.1: t.interval(0.95, n - 1, mean(readings), sem(readings)), rounded by the rule
    # of the Particle Data Group for their half widths of 0.438 and 0.2484
    [
        (
            (49.8, 50.3, 50.1, 49.7),
            f"50.0{NARROW}L/min",
            f"49.5 to 50.4{NARROW}L/min",
            f"95{NARROW}% interval; it covers the scatter of these readings",
            f"The centre, 50.0{NARROW}L/min, lies within that interval: the readings show no move away from it.",
        ),
        (
            (50.5, 50.6, 50.7),
            f"50.60{NARROW}L/min",
            f"50.35 to 50.85{NARROW}L/min",
            f"95{NARROW}% interval; it covers the scatter of these readings",
            f"The centre, 50.0{NARROW}L/min, lies outside that interval: taken together, the readings have moved away "
            "from it, or a few lie far off.",
        ),
        (
            (50.25,),
            f"50.25{NARROW}L/min",
            None,
            "no interval: there is one reading",
            f"These readings cannot show whether they have moved away from the centre, 50.0{NARROW}L/min.",
        ),
    ],
)
def test_the_mean_of_the_readings(
    values: tuple[float, ...], value: str, interval: str | None, note: str, centre: str
) -> None:
    readings = [(f"2025-01-{number:02}", value) for number, value in enumerate(values, start=1)]
    check = page(check_standards=[a_check_standard(*readings)]).checks[0]
    assert (check.mean.value, check.mean.interval, check.mean.interval_note) == (value, interval, note)
    assert check.centre == centre
    assert check.mean.method.href == "methods/mean-of-check-readings.html"


def test_an_interval_that_ends_beside_the_centre_is_not_rounded_over_it() -> None:
    # source: scipy 1.17.1: t.interval(0.95, 2, mean(readings), sem(readings)) begins at 50.00008; by its half width of
    # 0.006 it would be written 50.000, and the centre would seem to lie inside.
    readings = [(f"2025-01-{number:02}", value) for number, value in enumerate((50.004, 50.006, 50.009), start=1)]
    check = page(check_standards=[a_check_standard(*readings)]).checks[0]
    assert check.centre.startswith(f"The centre, 50.0{NARROW}L/min, lies outside that interval")
    assert check.mean.interval is not None
    assert float(check.mean.interval.split(" ")[0]) > 50


def test_limits_and_readings_stand_in_tables_to_the_last_digit() -> None:
    check = page(check_standards=[a_check_standard(("2025-01-01", 50.05), ("2025-01-08", 51.5))]).checks[0]
    limits = [
        cell(check.limits, f"check.orifice.{name}")
        for name in ("action_high", "warning_high", "centre", "warning_low", "action_low")
    ]
    assert limits == ["51.2", "50.8", "50.0", "49.2", "48.8"]
    assert [cell(check.readings, f"check.orifice.reading.{number}.value") for number in (1, 2)] == ["50.05", "51.50"]
    assert [cell(check.readings, f"check.orifice.reading.{number}.state") for number in (1, 2)] == [
        "within the warning limits",
        "beyond an action limit",
    ]
    assert check.derivation.result == (
        f"warning limits 49.2 and 50.8{NARROW}L/min, action limits 48.8 and 51.2{NARROW}L/min"
    )
    assert [(item.number, item.where) for item in check.derivation.inputs] == [
        ("50.0", "instruments/meter: check_standards[orifice].centre"),
        ("0.4", "instruments/meter: check_standards[orifice].standard_deviation"),
    ]


def test_the_list_tells_the_newest_check() -> None:
    standards = [
        a_check_standard(("2025-01-01", 50.0), ("2025-03-01", 60.0)),
        a_check_standard(("2025-02-01", 50.0), id="tube"),
    ]
    table = index(a_test_on("2025-03-01"), check_standards=standards).instruments
    (state,) = (each for row in table.rows for each in row.cells if each.id == "meter.state")
    assert state.note == "last check on 1 March 2025: beyond an action limit"


def test_facts_of_a_counter_and_of_a_mass_flow_meter() -> None:
    site = shown(a_whole_catalogue(counter=a_counter(), meter=a_meter("thermal_mass_flow_meter")))
    facts = {page.id: {fact.term: fact.text for fact in page.facts} for page in site.instruments}
    assert facts["counter"]["Kind"] == "Condensation particle counter"
    assert facts["counter"]["Least concentration for a fit test"] == f"1000{NARROW}/cm³"
    assert facts["meter"]["Reference conditions"] == f"20{NARROW}°C, 101{NARROW}325{NARROW}Pa"
    assert facts["meter"]["Serial number"] == "not recorded: not needed in this test"
