"""What is told of a single session or flow run: its state, its readings, what does not count."""

from __future__ import annotations

from tests.presenting.small_sites import a_whole_catalogue, given, record_page, shown
from tests.scoring.builders import (
    Data,
    a_counter,
    a_device,
    a_protocol,
    a_run,
    a_session,
    a_test,
    readings,
)

NARROW = "\N{NARROW NO-BREAK SPACE}"


def block_facts(session: Data) -> dict[str, str]:
    (block,) = record_page(a_test([session]), counter=a_counter()).sections[0].blocks
    return {fact.term: fact.text for fact in block.facts}


def test_what_is_told_of_a_session() -> None:
    assert block_facts(a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"), size="small")) == {
        "Wearer": "A, donning 1",
        "Protocol": "Three exercises",
        "Filter": "new",
        "Made from": "Particles counted one by one, in a known volume of air.",
        "Sampled inside for": f"40{NARROW}s in each exercise",
        "Outcome": "completed",
    }
    page = record_page(a_test([a_session(outcome="aborted", reason="a strap broke")]))
    (block,) = page.sections[0].blocks
    assert block.heading == "Wearer A, donning 1"
    assert block.note == "This attempt stays on record and gives no result."
    assert block.facts[-1].text == "aborted: a strap broke"
    assert (block.table, block.verdict, block.figures) == (None, None, ())
    (register,) = page.sections[0].tables
    assert [cell.text for cell in register.rows[0].cells] == [
        "A, donning 1",
        "aborted",
        "none",
        "none",
        "a strap broke",
    ]


def test_readings_stand_as_they_were_taken() -> None:
    session = a_session([*readings("3 /cm3", 40, names=("standing", "talking")), *readings(7.0, names=("bending",))])
    (block,) = record_page(a_test([session])).sections[0].blocks
    assert block.table is not None
    outside = f"3000{NARROW}/cm³"
    assert [[cell.text for cell in row.cells[:4]] for row in block.table.rows] == [
        ["Standing", outside, f"3{NARROW}/cm³", outside],
        ["Talking", outside, "40 counted", outside],
        ["Bending", "none", "factor as given", "none"],
    ]
    assert [row.cells[4].id for row in block.table.rows] == ["fit.am.standing", "fit.am.talking", "fit.am.bending"]


def test_ambient_first_and_last_stands_beside_every_exercise() -> None:
    exercises = [{"exercise": name, "in_mask": "0 /cm3"} for name in ("standing", "talking", "bending")]
    session = a_session(exercises, ambient_before="2000 /cm3", ambient_after="3000 /cm3", in_mask_time=None)
    page = record_page(a_test([session]), protocol=a_protocol("first_and_last"))
    (block,) = page.sections[0].blocks
    assert block.table is not None
    assert [cell.text for cell in block.table.rows[0].cells[1:4]] == [
        f"2000{NARROW}/cm³",
        f"0{NARROW}/cm³",
        f"3000{NARROW}/cm³",
    ]
    # A zero without a count has no factor, and says so.
    assert block.table.rows[0].cells[4].text.startswith("not scored: ")
    chart = page.sections[0].chart
    assert chart is not None
    assert [(row.label, row.marks, row.note) for row in chart.rows] == [("A, donning 1", (), "not scored")]


def test_exercises_that_do_not_count_say_so() -> None:
    (block,) = record_page(a_test([given(150.0, protocol="eight-standard-exercises")])).sections[0].blocks
    assert block.table is not None
    assert [row.cells[0].text for row in block.table.rows if "(" in row.cells[0].text] == ["Grimace (not counted)"]


def test_what_is_told_of_a_flow_run() -> None:
    run = a_run([1.0, 2.0], unit="cfm", battery="mains", filter="loaded")
    page = record_page(a_test(flow=[run]), device=a_device("loose_powered_hood"))
    (block,) = page.sections[0].blocks
    assert block.heading == "High, on mains, loaded filter"
    assert [(fact.term, fact.text) for fact in block.facts] == [
        ("Measured", "at the hood"),
        ("Setting", "high"),
        (
            "Air of the room",
            "20\N{NARROW NO-BREAK SPACE}°C, 1013\N{NARROW NO-BREAK SPACE}hPa, humidity 40\N{NARROW NO-BREAK SPACE}%",
        ),
        ("Compared", "in the air of the test room; the requirement states no other that was seen"),
        (
            "Held back by the meter",
            "balanced while it was read, so that nothing was to be corrected: a fan behind the meter, set to the "
            "pressure without it",
        ),
    ]
    assert block.table is not None
    assert [column.unit for column in block.table.columns] == ["", "cfm"]
    assert [[cell.text for cell in row.cells] for row in block.table.rows] == [["1", "1"], ["2", "2"]]


def test_a_kind_without_a_requirement_has_none_on_its_scale() -> None:
    catalogue = a_whole_catalogue(
        a_test(flow=[a_run([200.0, 201.0])]), device=a_device("loose_powered_hood", breath_responsive=True)
    )
    chart = shown(catalogue).devices[0].sections[1].chart
    assert chart is not None
    assert chart.landmarks == ()
