"""What factors are made from and stand for, word for word, and bounds as readers see them. Wording: fixed here."""

from __future__ import annotations

from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.fit_result import Basis, DataLevel
from generator.model.result import Figure, Relation
from generator.presenting.digits import figure_text, rough_text, value_text
from generator.presenting.fit_basis import basis_words, level_words, made_from_text
from tests.presenting.small_sites import device_page, given, index_row, record_page
from tests.scoring.builders import EXERCISES, Data, a_counter, a_device, a_protocol, a_session, a_test, readings

NARROW = "\N{NARROW NO-BREAK SPACE}"
PRESSURE = "controlled-negative-pressure-redonning"
HALF = a_device("elastomeric_half_facepiece")


def bounded(value: float, other: float, unit: str = "1", relation: Relation = Relation.AT_LEAST) -> Figure:
    return Figure(
        key="fit.a.overall",
        name="overall fit factor",
        value=value,
        unit=unit,
        relation=relation,
        other_bound=other,
        no_interval="a ceiling",
        sample_size=4,
        sample_of="exercises",
        method="censored-overall-bounds",
    )


@pytest.mark.parametrize(
    ("figure", "limit", "text", "rough"),
    [
        # source: the bounds of 60 and three exercises above 200, rounded outwards to three digits by hand
        (bounded(126.3158, 240.0), 100, "between 126 and 240", "at least 120"),
        (bounded(61.54, 80.0), 100, "between 61.5 and 80.0", "at least 61"),
        # a bound below a level is never rounded onto it
        (bounded(72.73, 99.97), 100, "between 72.7 and 99.97", "at least 72"),
        (bounded(72.73, 100.0), 100, "between 72.7 and 100", "at least 72"),
        (bounded(99.97, 240.0), 100, "between 99.9 and 240", "at least 99"),
        (
            bounded(0.7917, 0.41667, "%", Relation.AT_MOST),
            None,
            f"between 0.416 and 0.792{NARROW}%",
            f"at most 0.80{NARROW}%",
        ),
        (bounded(12345.6, 23456.7), None, f"between 12{NARROW}300 and 23{NARROW}500", f"at least 12{NARROW}000"),
    ],
)
def test_two_bounds_are_written_outwards(figure: Figure, limit: float | None, text: str, rough: str) -> None:
    assert value_text(figure, limit) == figure_text(figure, limit) == text
    assert rough_text(figure, limit) == rough


def test_every_level_and_basis_has_words() -> None:
    protocol = load_reference().protocols["eight-standard-exercises"]
    assert len({made_from_text(level, protocol) for level in DataLevel}) == len(DataLevel) == 5
    assert len({level_words(level) for level in DataLevel}) == 5
    assert [basis_words(basis) for basis in Basis] == [
        "",
        "part of the exercises only",
        "overall factor as given, nothing else on record",
    ]


def facts(session: Data, **parts: Any) -> dict[str, str]:
    (block,) = record_page(a_test([session]), **parts).sections[0].blocks
    return {fact.id.removeprefix("fit.am."): fact.text for fact in block.facts if fact.id is not None}


def test_a_session_says_what_it_is_made_from() -> None:
    many = a_counter(counter={"single_particle": False})
    assert facts(a_session(readings("3 /cm3", "3 /cm3", "3 /cm3")), counter=many) == {
        "made-from": "Mean concentrations as read; how many particles were counted is not on record."
    }
    assert facts(a_session(readings(3, 4, 5), zero_check={"count": 2, "time": "60 s"})) == {
        "made-from": "Particles counted one by one, in a known volume of air.",
        "zero-check": f"2 counted in 60{NARROW}s of air without particles",
    }
    assert facts(
        a_session(
            readings("3 /cm3", names=EXERCISES[:1]),
            partial="called away",
            zero_check={"concentration": "0.1 /cm3", "time": "1 min"},
        )
    ) == {
        "made-from": "Particles counted one by one, in a known volume of air.",
        "partial": "called away",
        "zero-check": f"0.1{NARROW}/cm³ in 1{NARROW}min of air without particles",
    }
    assert facts(a_session(fit_factor=150.0)) == {
        "made-from": "One overall factor as given; neither exercises nor readings are on record."
    }


def by_pressure() -> Data:
    protocol = load_reference().protocols[PRESSURE]
    return a_session([{"exercise": step.id, "fit_factor": 400.0} for step in protocol.exercises], protocol=PRESSURE)


def test_a_factor_by_negative_pressure_says_that_it_is_not_of_particles() -> None:
    assert facts(by_pressure(), device=HALF) == {
        "made-from": "Factors of exercises as the instrument gave them; what they rest on is not on record. They are "
        "of the air drawn in at a set pressure, not of particles: they say nothing of the filter, and are no inward "
        "leakage."
    }
    page = device_page(a_test([by_pressure()], instruments={}), device=HALF)
    assert page.answer[0] == (
        "On one wearer in one donning, the fit factor was 400: a factor of the air drawn in at a set pressure, not of "
        "particles; nothing follows for anyone else."
    )


def test_only_a_whole_protocol_opens_a_device_and_the_others_are_named() -> None:
    sessions = [
        a_session(fit_factor=20.0, id="number"),
        a_session(readings(100.0, names=EXERCISES[:1]), id="part", partial="called away"),
        given(300.0, id="whole"),
    ]
    page = device_page(a_test(sessions))
    assert page.answer[0] == (
        f"On one wearer in one donning, the fit factor was 300: in the worst case 0.33{NARROW}% of the particles "
        "outside were inside too; nothing follows for anyone else."
    )
    assert page.sections[0].sentences[2:] == (
        "On one wearer in one donning, the fit factor was 300.",
        "Part of the exercises only, on one wearer in one donning, the fit factor was 100.",
        "Overall factor as given, nothing else on record, on one wearer in one donning, the fit factor was 20.",
    )
    cell = index_row(a_test(sessions)).cells[0]
    assert (cell.text, cell.note) == ("300", "one wearer; two other states tested")
    assert cell.chart is not None
    assert [mark.value for mark in cell.chart.rows[0].marks] == [300]


def test_an_index_row_names_what_stands_for_less_than_a_protocol() -> None:
    cell = index_row(a_test([a_session(fit_factor=20.0)])).cells[0]
    assert (cell.text, cell.note) == ("20", "overall factor as given, nothing else on record, one wearer")


def test_factors_as_given_have_a_table_of_their_own() -> None:
    rows: list[Data] = [
        {"exercise": "standing", "fit_factor": 60.0},
        {"exercise": "talking", "fit_factor_at_least": 200.0},
        {"exercise": "bending", "fit_factor_at_least": 200.0},
    ]
    (block,) = record_page(a_test([a_session(rows)])).sections[0].blocks
    assert block.table is not None
    assert [column.head for column in block.table.columns] == ["Exercise", "Fit factor as given"]
    assert [[cell.text for cell in row.cells] for row in block.table.rows] == [
        ["Standing", "60"],
        ["Talking", "at least 200"],
        ["Bending", "at least 200"],
    ]


def test_ambient_air_sampled_during_exercises_has_one_column() -> None:
    rows = [{"exercise": name, "ambient_during": "3000 /cm3", "in_mask": "3 /cm3"} for name in EXERCISES]
    page = record_page(a_test([a_session(rows)]), protocol=a_protocol("during_each_exercise"))
    (block,) = page.sections[0].blocks
    assert block.table is not None
    assert [column.head for column in block.table.columns] == [
        "Exercise",
        "Outside, during",
        "Inside",
        "Fit factor",
        "95 % interval",
    ]
    assert [cell.text for cell in block.table.rows[0].cells[:3]] == [
        "Standing",
        f"3000{NARROW}/cm³",
        f"3{NARROW}/cm³",
    ]
