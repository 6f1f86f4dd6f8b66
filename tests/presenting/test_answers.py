"""The sentences that open a device's page, its sections and its row in the index, in every situation."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.presenting.small_sites import (
    NOBODY,
    NOT_KNOWN,
    NOT_KNOWN_OF_ANYONE,
    a_whole_catalogue,
    device_page,
    given,
    index_row,
    record_page,
    shown,
)
from tests.scoring.builders import Data, a_counter, a_device, a_run, a_session, a_test, readings

LOOSE, TIGHT = "loose_powered_hood", "tight_powered_half_facepiece"
EIGHT = "eight-standard-exercises"
NARROW = "\N{NARROW NO-BREAK SPACE}"
AIR = "that custom asks for"
MAKERS = "that custom asks of makers’ devices"
IN_PART = "in the one measured of eight states"


def narrow(text: str) -> str:
    """Put the narrow space where numbers and their units or groups of three meet; `~` stands for it in this file."""
    return text.replace("~", NARROW)


# source of all numbers in these tables: by hand from the readings in the row; intervals: the package's own, which
# tests/scoring/ holds against general libraries; wording: fixed here


@pytest.mark.parametrize(
    ("values", "device", "state", "sentence", "index"),
    [
        pytest.param(
            [200.0, 201.0, 202.0],
            {},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 201~L/min of air (95 % "
            f"interval 196 to 206~L/min): 1.18 times the 170~L/min {AIR}, met {IN_PART}.",
            ("201~L/min", "1.18 times the 170~L/min; meets the requirement " + IN_PART),
            id="meets",
        ),
        pytest.param(
            [17.0, 17.1, 16.9],
            {},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 17.00~L/min of air (95 % "
            f"interval 16.64 to 17.36~L/min): one tenth of the 170~L/min {AIR}, so it does not meet the "
            "requirement.",
            ("17.00~L/min", "one tenth of the 170~L/min; does not meet the requirement"),
            id="a tenth",
        ),
        pytest.param(
            [0.0, 0.0, 0.0],
            {},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 0.00~L/min of air (95 % "
            f"interval 0.00 to 0.00~L/min): none of the 170~L/min {AIR}, so it does not meet the requirement.",
            ("0.00~L/min", "none of the 170~L/min; does not meet the requirement"),
            id="nothing",
        ),
        pytest.param(
            [0.4, 0.5, 0.6],
            {},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 0.50~L/min of air (95 % "
            f"interval 0.25 to 0.75~L/min): 0.29~% of the 170~L/min {AIR}, so it does not meet the requirement.",
            ("0.50~L/min", "0.29~% of the 170~L/min; does not meet the requirement"),
            id="less than half a percent",
        ),
        pytest.param(
            [170.0, 172.0, 171.0],
            {},
            {"battery": "at_alarm", "filter": "loaded"},
            "In the one state measured (high, battery at its alarm, loaded filter) it delivered 171~L/min of air "
            f"(95 % interval 167 to 175~L/min): 1.01 times the 170~L/min {AIR}, and whether it meets the "
            "requirement is undecided.",
            ("171~L/min", "1.01 times the 170~L/min; undecided"),
            id="undecided",
        ),
        pytest.param(
            [175.0],
            {},
            {"battery": "mains"},
            "In the one state measured (high, on mains, new filter) it delivered 175~L/min of air (no interval): "
            f"1.03 times the 170~L/min {AIR}, and whether it meets the requirement is undecided.",
            ("175~L/min", "1.03 times the 170~L/min; undecided"),
            id="one reading",
        ),
        pytest.param(
            [120.0, 121.0, 122.0],
            {"kind": TIGHT},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 121.0~L/min of air (95 % "
            f"interval 118.3 to 123.7~L/min): 1.05 times the 115~L/min {AIR}, met {IN_PART}.",
            ("121.0~L/min", "1.05 times the 115~L/min; meets the requirement " + IN_PART),
            id="tight-fitting",
        ),
        pytest.param(
            [200.0, 201.0, 202.0],
            {"home_built": True},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 201~L/min of air (95 % "
            f"interval 196 to 206~L/min): 1.18 times the 170~L/min {MAKERS}; it reaches that benchmark "
            f"{IN_PART}.",
            ("201~L/min", "1.18 times the 170~L/min; above the benchmark " + IN_PART),
            id="home-built, above",
        ),
        pytest.param(
            [84.0, 85.0, 86.0],
            {"home_built": True},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 85.0~L/min of air (95 % "
            f"interval 82.5 to 87.5~L/min): half of the 170~L/min {MAKERS}; it misses that benchmark.",
            ("85.0~L/min", "half of the 170~L/min; below the benchmark"),
            id="home-built, below",
        ),
        pytest.param(
            [170.0, 172.0, 171.0],
            {"home_built": True},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 171~L/min of air (95 % "
            f"interval 167 to 175~L/min): 1.01 times the 170~L/min {MAKERS}; whether it reaches that "
            "benchmark is undecided.",
            ("171~L/min", "1.01 times the 170~L/min; undecided"),
            id="home-built, undecided",
        ),
        pytest.param(
            [200.0, 201.0, 202.0],
            {"breath_responsive": True},
            {},
            "In the one state measured (high, battery fresh, new filter) it delivered 201~L/min of air (95 % "
            "interval 196 to 206~L/min); not scored against a supply flow requirement: the device follows the "
            "wearer's breath, and the requirement is for a constant flow.",
            ("201~L/min", "not compared"),
            id="breath-responsive",
        ),
    ],
)
def test_what_the_blower_delivers(
    values: list[float], device: Data, state: Data, sentence: str, index: tuple[str, str]
) -> None:
    parts = {"device": a_device(**({"kind": LOOSE} | device))}
    test = a_test(flow=[a_run(values, **state)])
    page = device_page(test, **parts)
    assert page.answer == (narrow(sentence), NOBODY, NOT_KNOWN_OF_ANYONE)
    cell = index_row(test, **parts).cells[1]
    assert (cell.text, cell.note) == tuple(narrow(text) for text in index)


def test_the_worst_run_governs() -> None:
    runs = [a_run([200, 201, 202]), a_run([99, 100, 101], id="low", setting="low")]
    page = device_page(a_test(flow=runs), device=a_device(LOOSE))
    assert page.answer[0].startswith(
        narrow("In the worst state measured (low, battery fresh, new filter) it delivered 100.0~L/min")
    )
    section = {section.topic: section for section in page.sections}["flow"]
    assert section.sentences == (
        "There is one verdict for each setting, battery state and filter state, and the worst of them governs. "
        "Its maker names no setting as the protective one, so every one counts.",
        narrow(
            "The requirement of 170~L/min is custom, not law: it is the flow at which filters of its class are tested, "
            "and which the trade takes as the least that such a device should deliver."
        ),
        "Not measured at low: battery fresh with loaded filter; battery at its alarm with new filter; "
        "battery at its alarm with loaded filter. "
        "Not measured at high: battery fresh with loaded filter; battery at its alarm with new filter; "
        "battery at its alarm with loaded filter.",
    )
    assert record_page(a_test(flow=runs), device=a_device(LOOSE)).sections[0].sentences == ("Two flow runs.",)


def test_flow_that_was_not_measured() -> None:
    parts = {"device": a_device(LOOSE)}
    test = a_test([given(150.0, blower="high")])
    page = device_page(test, **parts)
    assert page.answer[0] == "How much air its blower delivers was not measured."
    assert page.sections[1].sentences == ("How much air its blower delivers was not measured.",)
    cell = index_row(test, **parts).cells[1]
    assert (cell.text, cell.note) == ("not measured", "")
    cell = index_row(a_test([given(150.0)])).cells[1]
    assert (cell.text, cell.note) == ("no blower", "")


WEARERS = [given(150.0), given(50.0, id="pm", wearer="plover"), given(2000.0, id="late", wearer="sedge", donning=2)]


@pytest.mark.parametrize(
    ("sessions", "kind", "answer", "sentences", "index"),
    [
        pytest.param(
            [given(150.0)],
            "filtering_facepiece",
            (
                "On one wearer in one donning, the fit factor was 150: in the worst case 0.67~% of the particles "
                "outside were inside too; nothing follows for anyone else.",
            ),
            (
                "One session completed by one wearer (A) in one donning; no attempts aborted or voided.",
                "On one wearer in one donning, the fit factor was 150.",
            ),
            ("150", "one wearer"),
            id="one wearer",
        ),
        pytest.param(
            WEARERS,
            "filtering_facepiece",
            (
                "On three wearers in three donnings, the fit factor was 50 to 2000: in the worst case 2~% of the "
                "particles outside were inside too; another wearer’s factor may be lower.",
            ),
            (
                "Three sessions completed by three wearers (A, B and C) in three donnings; no attempts aborted or "
                "voided.",
                "On three wearers in three donnings, the fit factor was 50 to 2000.",
            ),
            ("50 to 2000", "three wearers"),
            id="three wearers",
        ),
        pytest.param(
            [given(99.96, protocol=EIGHT)],
            "filtering_facepiece",
            (
                "On one wearer in one donning, the fit factor was 99.96: in the worst case 1~% of the particles "
                "outside were inside too; nothing follows for anyone else.",
            ),
            (
                "One session completed by one wearer (A) in one donning; no attempts aborted or voided.",
                "On one wearer in one donning, the fit factor was 99.96.",
            ),
            ("99.96", "one wearer"),
            id="just below the level",
        ),
        pytest.param(
            [given(1.0)],
            "surgical_mask",
            (
                "On one wearer in one donning, the fit factor was 1.0: in the worst case no fewer particles inside "
                "than outside; nothing follows for anyone else.",
            ),
            (
                "One session completed by one wearer (A) in one donning; no attempts aborted or voided.",
                "On one wearer in one donning, the fit factor was 1.0.",
            ),
            ("1.0", "one wearer"),
            id="a factor of one",
        ),
        pytest.param(
            # At least V C / 3.0 with V = 3 x 66.7 cm3 and C = 3000 /cm3: 200 286; its share is 0.000499 %.
            # source: the rule of three with -ln 0.05 = 2.996 in place of 3, by hand
            [a_session(readings(0, 0, 0))],
            "filtering_facepiece",
            (
                "On one wearer in one donning, the fit factor was at least 200~000: inside there were at most 0.0005~% "
                "of the particles outside; nothing follows for anyone else.",
            ),
            (
                "One session completed by one wearer (A) in one donning; no attempts aborted or voided.",
                "On one wearer in one donning, the fit factor was at least 200~000.",
            ),
            ("at least 200~000", "one wearer"),
            id="at least",
        ),
        pytest.param(
            [
                given(150.0, protocol=EIGHT, blower="off"),
                given(50.0, id="pm", wearer="plover", blower="high"),
                a_session(id="stop", outcome="aborted", reason="a strap broke", blower="off"),
            ],
            TIGHT,
            (
                "How much air its blower delivers was not measured.",
                "With the blower at high, on one wearer in one donning, the fit factor was 50: in the worst case 2~% "
                "of the particles outside were inside too; nothing follows for anyone else.",
            ),
            (
                "Two sessions completed by two wearers (A and B) in two donnings; one attempt aborted or voided.",
                "With the blower at high, on one wearer in one donning, the fit factor was 50, measured by the "
                "protocol “Three exercises”.",
                "With the blower off, on one wearer in one donning, the fit factor was 150, measured by the protocol "
                "“Eight standard exercises, ambient sampled around each one”.",
            ),
            ("50", "with the blower at high, one wearer; one other state tested"),
            id="two groups, the worse one first",
        ),
        pytest.param(
            [a_session(outcome="voided", reason="the counter was off")],
            "filtering_facepiece",
            (NOBODY,),
            ("No sessions completed; one attempt aborted or voided.",),
            ("not measured", ""),
            id="attempts only",
        ),
        pytest.param(
            # A reading of zero without counts gives no factor.
            [a_session(readings("0 /cm3", "3 /cm3", "3 /cm3"), in_mask_time=None)],
            "filtering_facepiece",
            ("How much cleaner the air inside is could not be scored; the section “Fit factor” says why.",),
            ("One session completed by one wearer (A) in one donning; no attempts aborted or voided.",),
            ("not scored", ""),
            id="completed but not scored",
        ),
    ],
)
def test_how_clean_the_air_inside_is(
    sessions: list[Data], kind: str, answer: tuple[str, ...], sentences: tuple[str, ...], index: tuple[str, str]
) -> None:
    parts: Data = {"device": a_device(kind)}
    page = device_page(a_test(sessions), **parts)
    last = NOT_KNOWN if "the fit factor was" in answer[-1] else NOT_KNOWN_OF_ANYONE
    assert page.answer == (*(narrow(sentence) for sentence in answer), last)
    # What someone not tested can expect opens the section; tests/presenting/test_wearer_statements.py has its words.
    untested, *others = page.sections[0].sentences
    assert untested.startswith("For someone not tested, the fit factor")
    assert others == [narrow(sentence) for sentence in sentences]
    cell = index_row(a_test(sessions), **parts).cells[0]
    assert (cell.text, cell.note) == tuple(narrow(text) for text in index)


def test_a_bound_is_never_shown_stronger_than_it_is() -> None:
    # source: by hand, as above: 200 cm3 x 4000 /cm3 / 2.99573 = 267 047, and its share is 0.00037446 %
    page = device_page(a_test([a_session(readings(0, 0, 0, ambient="4000 /cm3"))]))
    assert page.answer[0] == narrow(
        "On one wearer in one donning, the fit factor was at least 260~000: inside there were at most 0.00038~% of the "
        "particles outside; nothing follows for anyone else."
    )


def test_as_supplied_stands_before_modified_and_protocols_and_counters_are_told_apart() -> None:
    modified: Data = {
        "id": "second",
        "configuration": {"state": "modified", "description": "with a clip", "changes": ["a clip"]},
    }
    sessions = [given(150.0)], [given(20.0, wearer="plover")]
    page = device_page(a_test(sessions[1], **modified), a_test(sessions[0]))
    assert page.answer[0].startswith("On one wearer in one donning, the fit factor was 150: ")
    assert page.sections[0].sentences[2:] == (
        "On one wearer in one donning, the fit factor was 150.",
        "Modified: with a clip, on one wearer in one donning, the fit factor was 20.",
    )
    assert [record.configuration for record in page.records] == ["modified: a clip", "as supplied: as it came"]


def test_groups_of_different_counters_name_them() -> None:
    first, second = (
        a_test([given(150.0)]),
        a_test([given(20.0)], id="second", instruments={"particle_counter": "meter"}),
    )
    optical = a_counter("optical_particle_counter", id="meter")
    page = device_page(first, second, meter=optical)
    assert page.sections[0].sentences[2:] == (
        "On one wearer in one donning, the fit factor was 20, measured with an optical particle counter.",
        "On one wearer in one donning, the fit factor was 150, measured with a condensation particle counter.",
    )


@pytest.mark.parametrize(
    ("sessions", "sentence"),
    [
        ([given(150.0)], "One session completed."),
        (WEARERS, "Three sessions completed."),
        (
            [given(150.0), *(a_session(id=name, outcome="aborted", reason="x") for name in ("b", "c"))],
            "One session completed, two attempts aborted or voided.",
        ),
        ([a_session(outcome="voided", reason="x")], "No sessions completed, one attempt aborted or voided."),
    ],
)
def test_a_record_counts_its_sessions(sessions: list[Data], sentence: str) -> None:
    assert record_page(a_test(sessions)).sections[0].sentences == (sentence,)


def test_the_scale_shows_the_strictest_requirement_of_a_kind() -> None:
    catalogue = a_whole_catalogue(a_test(flow=[a_run([200.0, 201.0])]), device=a_device(LOOSE))
    published = catalogue.criteria["supply-flow-loose-fitting"]
    own = published.model_copy(update={"id": "own", "label": "own level", "limit": 190.0})
    page = shown(replace(catalogue, criteria={**catalogue.criteria, "own": own})).devices[0]
    assert page.sections[1].chart is not None
    assert [mark.text for mark in page.sections[1].chart.landmarks] == ["190: own level"]
    assert narrow("1.06 times the 190~L/min") in page.answer[0]
    page = shown(replace(catalogue, criteria={})).devices[0]
    assert page.answer[0] == narrow(
        "In the one state measured (high, battery fresh, new filter) it delivered 200~L/min of air (95 % interval 194 "
        "to 207~L/min); no supply flow requirement is on record for this kind of device."
    )
    assert page.sections[1].chart is not None
    assert page.sections[1].chart.landmarks == ()
