"""Evidence and configurations: each situation beside the exact sentence. Regression only: the words are ours."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.evidence_result import Gap
from generator.presenting.evidence import gap_text
from generator.presenting.evidence_views import ConfigurationsView, EvidenceView
from tests.presenting.small_sites import device_page, given
from tests.scoring.builders import NONE, Data, a_calibration, a_counter, a_device, a_run, a_test

WITHDRAWN = {"date": "2025-08-01", "reason": "A leak in the tube."}
COUNTER_ONLY = {"instruments": {"particle_counter": "counter"}}
IN_DATE = "On every day of a test the calibration of every instrument was in date."


def sample(unit: str | Data = NONE, lot: str | Data = NONE) -> Data:
    return {"obtained": "bought", "source": "a shop", "unit": unit, "lot": lot}


def shown(*tests: Data, **parts: Any) -> EvidenceView:
    return device_page(*(a_test(**{"id": f"r{number}", **test}) for number, test in enumerate(tests)), **parts).evidence


@pytest.mark.parametrize(
    ("tests", "sentences"),
    [
        (
            [{"fit": [given(10.0)]}],
            [
                "All of this rests on one record: one completed session, by one wearer (A) in one donning.",
                "No unit is recorded; no lot is recorded.",
                "What the fit factors are made from: factors of exercises as given in one session.",
                "Raw data are on record for 0 of 1 completed session.",
                IN_DATE,
            ],
        ),
        (
            [
                {"fit": [given(10.0)], "sample": sample("one", "L1"), "raw_data": "in a folder"},
                {
                    "fit": [
                        given(10.0, wearer="plover"),
                        given(10.0, id="stop", outcome="aborted", reason="a strap broke"),
                    ],
                    "sample": sample("two"),
                },
            ],
            [
                "All of this rests on two records: two completed sessions, by two wearers (A and B) in two donnings; "
                "one attempt aborted.",
                "Two units are recorded (one and two); one lot is recorded (L1), and one record names none.",
                "What the fit factors are made from: factors of exercises as given in two sessions.",
                "Raw data are on record for 1 of 2 completed sessions: 1 by a word on where the readings are kept.",
                IN_DATE,
            ],
        ),
        (
            [{"flow": [a_run([100.0])], "sample": sample("one")}],
            [
                "All of this rests on one record: no completed session; one flow run.",
                "One unit is recorded (one); no lot is recorded.",
                "Every reading of the flow runs stands in the records.",
                IN_DATE,
            ],
        ),
        ([{"fit": [given(10.0)], "withdrawn": WITHDRAWN}], ["No record of this device stands."]),
    ],
    ids=["nothing recorded", "two units", "air flow only", "withdrawn"],
)
def test_what_it_rests_on(tests: list[Data], sentences: list[str]) -> None:
    powered = "flow" in tests[0]
    assert list(shown(*tests, device=a_device("loose_powered_hood") if powered else a_device()).sentences) == sentences


@pytest.mark.parametrize(
    ("calibration", "sentence"),
    [
        (
            {"due": "2025-05-01"},
            "Not every calibration was in date: that of Counter had lapsed on 1 May 2025, before "
            "the test of 1 June 2025.",
        ),
        ({"date": "2025-06-02"}, "Not every calibration was in date: Counter had no calibration before 1 June 2025."),
    ],
)
def test_a_calibration_that_was_not_in_date(calibration: Data, sentence: str) -> None:
    counter = a_counter(calibrations=[a_calibration("10 %", **calibration)])
    view = shown({"fit": [given(10.0)], **COUNTER_ONLY}, counter=counter)
    assert view.sentences[-1] == sentence
    assert {fact.id: fact.text for fact in view.strip}["evidence-calibration"] == "0 of 1"


def test_the_strip() -> None:
    view = shown(
        {"fit": [given(10.0)], "sample": sample("one", "L1"), "deviations": ["No bending."], **COUNTER_ONLY},
        {"fit": [given(10.0, wearer="plover")], "not_tested": ["Rain."], "raw_data": "in a folder", **COUNTER_ONLY},
    )
    assert [(fact.id, fact.text, fact.term, fact.note) for fact in view.strip] == [
        ("evidence-wearers", "2", "wearers in all states", None),
        ("evidence-donnings", "2", "donnings in all states", None),
        ("evidence-units", "1", "unit recorded", "one record names none"),
        ("evidence-lots", "1", "lot recorded", "one record names none"),
        ("evidence-raw", "1 of 2", "sessions with raw data", None),
        ("evidence-calibration", "2 of 2", "calibrations in date on the day", None),
        ("evidence-deviations", "1", "deviations stated", None),
        ("evidence-not-tested", "1", "points named as not tested", None),
    ]
    assert [(line.text, line.record.text if line.record else None) for line in view.not_tested] == [("Rain.", "r1")]
    assert [line.text for line in view.deviations] == ["No bending."]


@pytest.mark.parametrize(
    ("rule", "sentence"),
    [
        ("nothing", "Nothing was tested, or no record of it stands."),
        ("no-wearer", "With any wearer: no session counts."),
        ("one-wearer", "With a second wearer."),
        ("one-unit", "A second unit: differences between units are not known."),
        (
            "unit-unknown",
            "Which units were tested is not on record, so units of one lot cannot be told apart.",
        ),
        ("no-blower-off", "The fit with the blower off, which shows how well the facepiece itself seals."),
        ("no-flow", "The air flow of the blower."),
        ("no-flow-at-setting", "The air flow at the setting “high”."),
        ("no-flow-at-alarm", "The air flow when the battery alarm sounds."),
        ("no-loaded-filter", "The air flow with a loaded filter."),
    ],
)
def test_what_was_not_tested(rule: str, sentence: str) -> None:
    assert gap_text(Gap(rule=rule, setting="high" if rule == "no-flow-at-setting" else None)) == sentence


@pytest.mark.parametrize(
    ("samples", "words"),
    [
        ((sample("one"), sample("one")), ""),
        ((sample("one"), sample("two")), ", on two units"),
        ((sample("one"), sample()), ", on one unit and others whose number is not recorded"),
        ((sample(lot="L1"), sample(lot="L2")), ", from two lots"),
        ((sample(lot="L1"), sample(lot="L1")), ""),
        ((sample(), sample()), ""),
    ],
)
def test_several_units_in_one_range_are_named(samples: tuple[Data, Data], words: str) -> None:
    tests = [
        a_test([given(factor)], id=f"r{factor:.0f}", sample=part)
        for factor, part in zip((10.0, 30.0), samples, strict=True)
    ]
    section = device_page(*tests).sections[0]
    assert section.sentences[2] == f"On one wearer in two donnings{words}, the fit factor was 10 to 30."


def test_each_item_stands_by_itself() -> None:
    (table,) = shown(
        {"fit": [given(10.0), given(20.0, id="pm")], "sample": sample("two")},
        {"fit": [given(30.0)], "sample": sample("one")},
    ).tables
    # Source: the harmonic mean of equal factors is that factor, by definition.
    assert [[cell.text for cell in row.cells] for row in table.rows] == [
        ["unit one", "A; one donning", "30", "30"],
        ["unit two", "A; one donning", "10", "20"],
    ]


TAPED = {"state": "modified", "name": "taped", "description": "seam taped", "changes": ["Tape on the seam."]}
COSTS = {"approval": "not for this", "mass": "120 g", "noise": {"not_recorded": "no meter at hand"}}


def configurations(*tests: Data, **parts: Any) -> ConfigurationsView | None:
    page = device_page(*(a_test(**{"id": f"r{number}", **test}) for number, test in enumerate(tests)), **parts)
    return page.configurations


def test_one_configuration_needs_no_section() -> None:
    assert configurations({"fit": [given(10.0)]}, {"fit": [given(10.0)]}) is None


def test_a_lineage_with_what_the_change_costs() -> None:
    view = configurations(
        {"fit": [given(10.0)]},
        {"fit": [given(30.0)], "configuration": TAPED | {"costs": COSTS}},
        device=a_device(mass="100 g"),
    )
    assert view is not None
    assert view.sentences == (
        "Two configurations are on record: as supplied; modified (“taped”), made from the device as supplied.",
        "Before and after stand side by side. What they differ by is stated for fit factors only, where three wearers "
        "or more wore both, or three others or more wore each.",
    )
    _, taped = view.configurations
    assert (taped.anchor, taped.heading, taped.note) == ("configuration-taped", "Modified (“taped”)", None)
    narrow = "\N{NARROW NO-BREAK SPACE}"
    assert [(fact.term, fact.text) for fact in taped.facts] == [
        ("Tested", "seam taped"),
        ("Made from", "the device as supplied"),
        ("What was changed", "Tape on the seam."),
        ("Approval", "not for this"),
        ("Mass", f"before: 100{narrow}g; after: 120{narrow}g"),
        ("Noise", "not recorded: no meter at hand"),
    ]
    (pair,) = taped.pairs
    assert [[cell.text for cell in row.cells[:3]] for row in pair.table.rows] == [
        ["A, before", "1", "10"],
        ["A, after", "1", "30"],
    ]
    assert [(line.text, line.note) for line in pair.difference] == [
        (
            "Nothing is decided between before and after.",
            "Too few wearers by the same exercises: 1 wore both, nobody only the one and nobody only the other; needed "
            "are 3 who wore both, or 3 others with each.",
        )
    ]
    assert pair.working is None
    assert pair.chart is not None
    assert [(row.label, [mark.text for mark in row.marks]) for row in pair.chart.rows] == [
        ("A, before", ["10"]),
        ("A, after", ["30"]),
    ]


def test_costs_that_are_not_recorded() -> None:
    view = configurations({"fit": [given(10.0)]}, {"fit": [given(30.0)], "configuration": TAPED})
    assert view is not None
    assert [fact.text for fact in view.configurations[1].facts[3:]] == [
        "not recorded",
        "before: not recorded: not needed in this test; after: not recorded",
        "not recorded",
    ]


def test_a_flow_that_was_measured_on_one_side_only() -> None:
    view = configurations(
        {"flow": [a_run([100.0])]},
        {"flow": [a_run([50.0], id="low", setting="low")], "configuration": TAPED},
        device=a_device("loose_powered_hood"),
    )
    assert view is not None
    (pair,) = view.configurations[1].pairs
    assert [row.cells[0].text for row in pair.table.rows if row.cells[1].text == "not measured"] == [
        "high, battery fresh, new filter, after",
        "low, battery fresh, new filter, before",
    ]


@pytest.mark.parametrize(
    ("before", "note", "pair_note"),
    [
        (
            {"withdrawn": WITHDRAWN},
            "No record that stands has the configuration it was made from, so there is nothing to set beside it.",
            [],
        ),
        (
            {"fit": [given(10.0, wearer="plover")]},
            "No wearer has sessions that count before and after by the same protocol, blower state and kind of "
            "counter.",
            [],
        ),
        (
            {"fit": [given(10.0), given(10.0, id="b", wearer="plover")]},
            None,
            ["B wore it on one side only and is not shown here."],
        ),
    ],
)
def test_what_cannot_stand_side_by_side(before: Data, note: str | None, pair_note: list[str]) -> None:
    other = {"fit": [given(10.0)], "configuration": TAPED | {"name": "wider", "based_on": "taped"}}
    view = configurations({"fit": [given(10.0)], **before}, {"fit": [given(30.0)], "configuration": TAPED}, other)
    assert view is not None
    taped = next(each for each in view.configurations if each.anchor == "configuration-taped")
    assert (taped.note, [pair.note for pair in taped.pairs]) == (note, pair_note)
