"""Words that several pages share, and the facts of devices, records and reference pages."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from generator.model.base import NotRecorded
from generator.model.published import published_test
from generator.model.reference import Source, SourceStatus
from generator.presenting.context import blower_words
from generator.presenting.device_page import configuration_text
from generator.presenting.wording import (
    count_text,
    day_text,
    listed,
    recorded_text,
    sentence_case,
    shortened,
    source_text,
    status_text,
)
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, index_row, record_page, shown
from tests.scoring.builders import (
    NONE,
    Data,
    a_calibration,
    a_device,
    a_meter,
    a_run,
    a_test,
    a_wearer,
)

NARROW = "\N{NARROW NO-BREAK SPACE}"
NOT_NEEDED = "not recorded: not needed in this test"


def test_dates_name_the_month() -> None:
    assert day_text(datetime.date(2025, 6, 1)) == "1 June 2025"
    assert day_text(datetime.date(2024, 12, 31)) == "31 December 2024"


@pytest.mark.parametrize(
    ("status", "words", "line"),
    [
        (SourceStatus.SEEN, "seen in the document", "D, E, C (seen in the document). N."),
        (SourceStatus.SEEN_IN_SECONDARY, "seen in a secondary source", "D, E, C (seen in a secondary source). N."),
        (SourceStatus.FROM_MEMORY, "from memory, not seen", "D, E, C (from memory, not seen). N."),
        (SourceStatus.COMMON_PRACTICE, "common practice, no source", "common practice, no source"),
        (SourceStatus.OWN, "the reviewer's own", "D, E, C (the reviewer's own). N."),
    ],
)
def test_a_source_says_how_it_is_known(status: SourceStatus, words: str, line: str) -> None:
    assert status_text(status) == words
    assert source_text(Source(document="D", edition="E", clause="C", status=status, note="N.")) == line


def test_a_source_without_a_note() -> None:
    source = Source(document="D", edition="E", clause="C", status=SourceStatus.SEEN)
    assert source_text(source) == "D, E, C (seen in the document)"


def test_a_source_without_edition_and_clause_has_no_words_for_them() -> None:
    source = Source(document="By definition", edition="none", clause="none", status=SourceStatus.OWN)
    assert source_text(source) == "By definition (the reviewer's own)"


def test_recorded_or_why_not() -> None:
    assert recorded_text(NotRecorded(not_recorded="the label was torn")) == "not recorded: the label was torn"
    assert recorded_text(a_device(mass="1.25 kg").mass) == f"1.25{NARROW}kg"
    assert recorded_text("P100") == "P100"


@pytest.mark.parametrize(
    ("count", "words"),
    [(0, "no wearers"), (1, "one wearer"), (2, "two wearers"), (12, "twelve wearers"), (13, "13 wearers")],
)
def test_counts(count: int, words: str) -> None:
    assert count_text(count, "wearer") == words


def test_counts_of_irregular_nouns() -> None:
    assert count_text(2, "other way", "other ways") == "two other ways"
    assert count_text(1, "other way", "other ways") == "one other way"


@pytest.mark.parametrize(
    ("items", "words"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_lists(items: list[str], words: str) -> None:
    assert listed(items) == words


def test_sentence_case_and_shortening() -> None:
    assert sentence_case("no level") == "No level"
    assert sentence_case("") == ""
    assert shortened("twelve chars", 12) == "twelve chars"
    assert shortened("twelve chars", 8) == "twelve…"


@pytest.mark.parametrize(
    ("blower", "words"),
    [
        (None, ""),
        ("off", "blower off"),
        ("on", "blower on"),
        ("high", "blower at high"),
        ("x" * 60, "blower at " + "x" * 39 + "…"),
    ],
)
def test_blower_words(blower: str | None, words: str) -> None:
    assert blower_words(blower) == words


def configuration_of(**parts: Any) -> str:
    test = published_test(a_test([given(10.0)], **parts), {"wren": a_wearer("wren", "A")}, tight=False)
    return configuration_text(test)


def test_configurations() -> None:
    assert configuration_of() == "as supplied: as it came"
    modified = {"state": "modified", "description": "changed", "changes": ["a clip", "a longer hem"]}
    assert configuration_of(configuration=modified) == "modified: a clip and a longer hem"


def facts_of(**changes: object) -> dict[str, str]:
    page = device_page(device=a_device(str(changes.pop("kind", "loose_powered_hood")), **changes))
    return {fact.term: fact.text for fact in (*page.design.facts, *page.cost.facts, *page.design.air_path)}


def test_facts_of_a_device_of_which_little_is_recorded() -> None:
    assert facts_of() == {
        "Maker": "Maker",
        "Kind": "Loose-fitting powered, hood or helmet",
        "Follows the breath": "no",
        "Filter": NOT_NEEDED,
        "Power": f"battery; energy {NOT_NEEDED}",
        "Blower settings": "low and high",
        "Mass": NOT_NEEDED,
        "The device": NOT_NEEDED,
        "Air gets in": "front (filtered)",
        "Air gets out": "none",
        "Powered exhaust": "none",
        "Seals": "none",
        "Alarms": "none",
    }


def test_facts_of_a_device_of_which_all_is_recorded() -> None:
    facts = facts_of(
        home_built=True,
        breath_responsive=True,
        filter={"stated_class": "P100", "media_area": "900 cm2", "count": 2},
        power={"source": "pack", "energy": "40 Wh", "settings": ["on"]},
        price="129.00 EUR",
        mass="640 g",
        consumables=[{"item": "pre-filter", "price": "2.00 EUR", "lasts": NONE}],
        air_path={
            "inlets": [{"where": "back", "filtered": True}, {"where": "a hole", "filtered": False}],
            "outlets": [{"where": "below the chin", "filtered": False}],
            "powered_exhaust": {"where": "at the back", "beside_inlet": True},
            "seals": "elastic hem",
            "alarms": ["low battery", "low flow"],
        },
    )
    assert facts == {
        "Maker": "Maker",
        "Kind": "Loose-fitting powered, hood or helmet",
        "Follows the breath": "yes",
        "Built": "at home",
        "Filter class, as the maker states it": "P100",
        "Filters": f"2; media area 900{NARROW}cm²",
        "Power": f"pack; energy 40{NARROW}Wh",
        "Blower settings": "on",
        "Mass": f"640{NARROW}g",
        "The device": "129.00 EUR",
        "Pre-filter": f"2.00 EUR, lasts {NOT_NEEDED}",
        "Air gets in": "back (filtered); a hole (not filtered)",
        "Air gets out": "below the chin (not filtered)",
        "Powered exhaust": "at the back, beside an inlet",
        "Seals": "elastic hem",
        "Alarms": "low battery and low flow",
    }


def test_an_exhaust_away_from_the_inlet_is_named_without_it() -> None:
    air_path = {
        "inlets": [{"where": "front", "filtered": True}],
        "outlets": [],
        "powered_exhaust": {"where": "on top", "beside_inlet": False},
        "seals": "none",
    }
    assert facts_of(air_path=air_path)["Powered exhaust"] == "on top"


def test_a_devices_list_of_records_and_its_row_in_the_index() -> None:
    tests = (
        a_test([given(10.0, blower="low")], id="first"),
        a_test([given(12.0, blower="low")], [a_run([200.0, 201.0])], id="second"),
    )
    device = a_device("loose_powered_hood")
    page = device_page(*tests, device=device)
    assert [(entry.performed, entry.issued, entry.holds) for entry in page.records] == [
        ("1 June 2025", "1 July 2025", "fit"),
        ("1 June 2025", "1 July 2025", "fit, air supply and carbon dioxide"),
    ]
    row = index_row(*tests, device=device)
    assert (row.records, row.cautions) == ("two records", "one caution")
    assert row.caution == "The fit results of this device come from only one wearer."
    assert [fact.text for fact in page.head.state] == ["device", "1", "1 July 2025"]


@pytest.mark.parametrize(
    ("environment", "words"),
    [
        (
            {"temperature": "20 degC", "pressure": "1001.2 hPa", "humidity": "40 %"},
            f"20{NARROW}°C, 1001{NARROW}hPa, humidity 40{NARROW}%",
        ),
        (
            # source: 68 degF is 20 degC exactly, 101325 Pa is 1013.25 hPa
            {"temperature": "68 degF", "pressure": "101325 Pa", "humidity": NONE},
            f"68{NARROW}°F (20{NARROW}°C), 101{NARROW}325{NARROW}Pa (1013{NARROW}hPa), humidity {NOT_NEEDED}",
        ),
    ],
)
def test_the_air_of_the_room(environment: Data, words: str) -> None:
    page = record_page(a_test([given(10.0)], environment=environment))
    assert {fact.term: fact.text for fact in page.facts}["Air of the room"] == words


def test_the_facts_of_a_record() -> None:
    page = record_page(
        a_test(
            [given(10.0)],
            amendments=[{"date": "2025-08-01", "reason": "A slip.", "changed": "The lot, from 7 to 8."}],
            deviations=["No grimace."],
            notes="A *note*.",
        )
    )
    facts = {fact.term: (fact.text, fact.href) for fact in page.facts}
    assert facts["Device"] == ("Device", "devices/device.html")
    assert facts["Sample"] == (f"bought, a shop; lot {NOT_NEEDED}; unit {NOT_NEEDED}", None)
    assert facts["Received"] == ("1 May 2025", None)
    assert facts["Tested"] == ("1 June 2025", None)
    assert facts["Issued"] == ("1 July 2025", None)
    assert facts["Tester"] == ("Tester", "about.html#tester-tester")
    assert facts["Authorised by"] == ("nobody", None)
    assert [(each.date, each.changed, each.reason, each.earlier) for each in page.amendments] == [
        ("1 August 2025", "The lot, from 7 to 8.", "A slip.", None)
    ]
    assert (page.deviations, page.notes) == (("No grimace.",), "A *note*.")


@pytest.mark.parametrize(
    ("calibration", "cells"),
    [
        (
            a_calibration("10 %", "1 L/min"),
            ["1 January 2025", "1 January 2026", f"1{NARROW}L/min", f"10{NARROW}% (k = 2)"],
        ),
        (
            a_calibration("10 %", due="2025-05-31"),
            [
                "1 January 2025",
                "31 May 2025 (lapsed on the day of the test)",
                f"0{NARROW}L/min",
                f"10{NARROW}% (k = 2)",
            ],
        ),
        (
            # Due on the day of the test: not yet lapsed.
            a_calibration("10 %", due="2025-06-01"),
            ["1 January 2025", "1 June 2025", f"0{NARROW}L/min", f"10{NARROW}% (k = 2)"],
        ),
        (a_calibration("10 %", date="2025-06-02"), ["none before the test", "none", "none", "none"]),
    ],
)
def test_the_calibration_in_force(calibration: Data, cells: list[str]) -> None:
    page = record_page(
        a_test(flow=[a_run([200.0, 201.0])]),
        device=a_device("loose_powered_hood"),
        meter=a_meter(calibrations=[calibration]),
    )
    assert [row.cells[0].text for row in page.instruments.rows] == ["Counter (counter)", "Meter (meter)"]
    assert [cell.text for cell in page.instruments.rows[1].cells[1:]] == cells


def test_findings_are_worded_by_their_caution() -> None:
    page = record_page(
        a_test([given(10.0)], sample={"obtained": "lent", "source": "the maker", "lot": NONE, "unit": NONE})
    )
    assert page.findings == ("sample: The item tested was not bought by the tester.",)


@pytest.mark.parametrize(
    ("publication", "accredited", "invented"),
    [
        ({}, "no", True),
        ({"accredited_laboratory": True, "invented": False, "scenario": {"not_recorded": "x"}}, "yes", False),
    ],
)
def test_who_publishes(publication: Data, accredited: str, invented: bool) -> None:
    site = shown(a_whole_catalogue(publication=publication))
    facts = {fact.term: fact.text for fact in site.about.publisher}
    assert facts["Accredited laboratory"] == accredited
    assert (site.letterhead.invented is not None) == invented
    assert (site.about.scenario is not None) == invented
    assert (site.letterhead.not_accredited is None) == (accredited == "yes")


def test_the_index_counts_what_it_holds() -> None:
    site = shown(a_whole_catalogue(a_test([given(10.0)])))
    assert site.index.counts == "One device, one test record, three wearers."
    headings = [column.heading for column in site.index.columns]
    assert headings == ["Device", "Fit factor", "Air supply", "Burden", "Price", "Evidence", "Cautions"]


def test_requirements_and_protocols() -> None:
    page = shown(a_whole_catalogue()).requirements
    by_id = {item.id: {fact.term: fact.text for fact in item.facts} for item in page.criteria}
    assert by_id["supply-flow-loose-fitting"]["Limit"] == f"at least 170{NARROW}L/min"
    assert by_id["supply-flow-loose-fitting"]["Decided by"] == "guarded: the whole 95 % interval must lie on one side"
    assert by_id["fit-test-pass-full-facepiece"]["Limit"] == "at least 500"
    assert by_id["fit-test-pass-full-facepiece"]["Decided by"] == "the regulation's plain comparison"
    assert (
        by_id["supply-flow-tight-fitting"]["Device kinds"]
        == "tight-fitting powered, half facepiece and tight-fitting powered, full facepiece"
    )
    own = {table.id: table for table in page.protocols}["three-exercises"]
    assert own.caption == (
        "Three exercises. Outside concentration: the mean of the samples before and after each exercise. Source: d, "
        "e, c (the reviewer's own)"
    )
    assert [[cell.text for cell in row.cells] for row in own.rows] == [
        [name, f"40{NARROW}s", "yes"] for name in ("Standing", "Talking", "Bending")
    ]
