"""The first page: what a row says in each column, by what rows are ordered and filtered. Wording: fixed here."""

from __future__ import annotations

import math

import pytest

from generator.model.device_test import DeviceTest
from generator.presenting.digits import THIN
from generator.presenting.index_views import IndexPage, IndexRow
from tests.presenting.small_sites import a_whole_catalogue, given, index_row, shown
from tests.scoring.builders import NONE, Data, a_device, a_run, a_session, a_test, readings
from tests.scoring.burden_builders import a_part, a_sound
from tests.scoring.comparison_builders import several, worn
from tests.scoring.test_filter_topic import breathing

LOOSE, TIGHT = "loose_powered_hood", "tight_powered_full_facepiece"


def narrow(text: str) -> str:
    return text.replace("~", THIN)


def an_index(*tests: DeviceTest, **devices: Data) -> IndexPage:
    return shown(several([], devices, LOOSE, base=a_whole_catalogue(*tests))).index


def rows_of(index: IndexPage) -> dict[str, IndexRow]:
    return {row.id: row for group in index.groups for row in group.rows}


def ordered_by(column: str, index: IndexPage) -> list[list[str]]:
    """Return the devices in the order of a column, those that stand together in one list, those without at the end."""
    places: dict[int, list[str]] = {}
    for row in rows_of(index).values():
        place = dict(row.data).get(f"by-{column}")
        places.setdefault(len(row.data) + 10_000 if place is None else int(place), []).append(row.id)
    return [sorted(places[place]) for place in sorted(places)]


@pytest.mark.parametrize(
    ("sessions", "words"),
    [
        pytest.param([given(150.0)], "without an interval", id="a factor as given"),
        pytest.param([given(150.0), given(90.0, id="pm")], "the lowest without an interval", id="two as given"),
        # source: the numbers are checked in tests/scoring/test_fit_topic.py; here, how they are put
        pytest.param([a_session(readings(0, 0, 0))], None, id="only a bound"),
        pytest.param([a_session(outcome="aborted", reason="a strap broke")], None, id="nothing"),
    ],
)
def test_the_lowest_factor_stands_with_its_interval(sessions: list[Data], words: str | None) -> None:
    assert index_row(a_test(sessions)).cells[0].interval == words


def test_an_interval_is_that_of_the_data_sheet() -> None:
    one, other = a_session(readings(30, 40, 90)), a_session(readings(300, 400, 900), id="pm", donning=2)
    site = shown(a_whole_catalogue(a_test([one, other])))
    (row,) = site.index.groups[0].rows
    register = site.devices[0].sections[0].tables[0]
    lowest = {column.head: cell.text for column, cell in register.lines[1][1]}
    assert row.cells[0].interval == narrow(
        f"the lowest {lowest['Overall fit factor']} (95~% interval {lowest['95 % interval']})"
    )


@pytest.mark.parametrize(
    ("values", "words"),
    [
        # source: by hand: u = sqrt((0.01 x 201)^2 + 1/3) = 2.09 with 345 degrees of freedom, t = 1.967: 196.9 to 205.1,
        # rounded outwards
        ([200.0, 201.0, 202.0], "95~% interval 196 to 206~L/min"),
        ([175.0], "without an interval"),
    ],
)
def test_the_air_supply_stands_with_its_interval(values: list[float], words: str) -> None:
    cell = index_row(a_test(flow=[a_run(values)]), device=a_device(LOOSE)).cells[1]
    assert cell.interval == narrow(words)


DROPS = {"pressure_drops": [breathing((85, 118)), breathing((85, 260), id="loaded", filter="loaded")]}


@pytest.mark.parametrize(
    ("device", "test", "text", "note"),
    [
        pytest.param({}, {}, "mass not recorded", "", id="nothing"),
        pytest.param({"mass": "1.18 kg"}, {}, "1.18~kg", "", id="as stated"),
        # source: 1 lb = 0.45359237 kg exactly
        pytest.param({"mass": "2.4 lb"}, {}, "2.4~lb", "1089~g", id="in another system"),
        pytest.param(
            {"mass": "1.18 kg"},
            {"burden": {"masses": [a_part("236 g"), a_part("174 g", "shoulders", "blower")]}},
            "410~g",
            "weighed, all parts",
            id="weighed goes before stated",
        ),
        pytest.param(
            {"mass": "400 g"},
            {"burden": {"noise": [a_sound("86 dB(A)"), a_sound("60 dB(A)", id="low", setting="low")]}},
            "400~g",
            "up to 86.0~dB(A) at the ear",
            id="the loudest setting",
        ),
        pytest.param(
            {"kind": "filtering_facepiece", "mass": "10 g"},
            DROPS,
            "10~g",
            "breathing in, loaded filter: 260.0~Pa at 85~L/min",
            id="the hardest breath",
        ),
        pytest.param(
            {"kind": TIGHT, "mass": "800 g"},
            {"pressure_drops": [breathing((85, 118), blower="off"), breathing((85, 20), id="on", blower="high")]},
            "800~g",
            "breathing in, new filter, blower off: 118.0~Pa at 85~L/min",
            id="without help of the blower",
        ),
        pytest.param(
            {"kind": "filtering_facepiece", "mass": "10 g"},
            DROPS | {"configuration": {"state": "modified", "description": "x", "changes": ["a clip"]}},
            "10~g",
            "",
            id="not of a modified device",
        ),
    ],
)
def test_the_burden_says_what_there_is(device: Data, test: Data, text: str, note: str) -> None:
    if "configuration" in test:
        test = test | {"configuration": {"state": "modified", "changes": ["a clip"], "description": "with a clip"}}
    kind = device.get("kind", LOOSE)
    sessions = [given(10.0) if kind == "filtering_facepiece" else given(10.0, blower="high")]
    cell = index_row(a_test(sessions, **test), device=a_device(**({"kind": kind} | device))).cells[2]
    assert (cell.text, cell.note) == (narrow(text), narrow(note))


@pytest.mark.parametrize(
    ("kind", "runs", "device", "supply"),
    [
        # source: 42 CFR Part 84: 170 L/min for loose-fitting devices, here held against readings far from it or at it
        (LOOSE, [[200.0, 201.0, 202.0]], {}, "meets-in-part"),
        (LOOSE, [[200.0, 201.0, 202.0], [20.0, 21.0, 22.0]], {}, "does-not-meet"),
        (LOOSE, [[169.0, 170.0, 171.0]], {}, "undecided"),
        (LOOSE, [[200.0, 201.0, 202.0]], {"home_built": True}, "benchmark"),
        (LOOSE, [[200.0, 201.0, 202.0]], {"breath_responsive": True}, "not-compared"),
        (LOOSE, [], {}, "not-measured"),
        ("filtering_facepiece", [], {}, "no-blower"),
    ],
)
def test_rows_are_filtered_by_how_the_supply_stands(
    kind: str, runs: list[list[float]], device: Data, supply: str
) -> None:
    flow = [a_run(values, id=f"r{number}") for number, values in enumerate(runs)]
    sessions = [given(10.0, blower="high") if kind == LOOSE else given(10.0)]
    index = shown(a_whole_catalogue(a_test(sessions, flow), device=a_device(kind, **device))).index
    ((row,),) = (group.rows for group in index.groups)
    assert dict(row.data)["supply"] == supply
    assert [choice.value for choice in index.filters.supply] == [supply]
    assert [group.powered for group in index.groups] == [kind == LOOSE]


def test_evidence_in_short_words() -> None:
    stopped = a_session(id="stop", donning=2, outcome="aborted", reason="a strap broke")
    row = index_row(a_test([given(150.0), stopped]), a_test([given(20.0, wearer="sedge")], id="later"))
    assert (row.evidence, row.donnings, row.records) == (
        "two wearers",
        "two donnings in three attempts",
        "two records",
    )
    assert dict(row.data)["wearers"] == "2"
    assert index_row(a_test(flow=[a_run([200.0])]), device=a_device(LOOSE)).donnings == ""


def test_prices_stay_in_their_currency() -> None:
    index = an_index(
        dear={"price": "1180.00 EUR"}, cheap={"price": "12 EUR"}, far={"price": "0.20 USD"}, given={"price": NONE}
    )
    rows = rows_of(index)
    assert [rows[name].price for name in ("dear", "far", "given")] == ["1180.00 EUR", "0.20 USD", "not recorded"]
    assert [choice.text for choice in index.filters.currencies] == ["EUR", "USD"]
    assert {name: dict(row.data).get("amount") for name, row in rows.items()} == {
        "dear": "1180.00",
        "cheap": "12",
        "far": "0.20",
        "given": None,
    }
    assert ordered_by("price", index) == [["cheap"], ["dear"], ["far"], ["given"]]


def test_rows_are_ordered_by_unrounded_figures_bounds_as_they_are_and_none_last() -> None:
    index = an_index(
        worn("high", [given(150.4, blower="high")]),
        worn("low", [given(150.3, blower="high"), given(9000.0, id="pm", blower="high")]),
        worn("same", [given(150.3, blower="high")]),
        worn("bound", [a_session(readings(0, 0, 0), blower="high")]),
        high={},
        low={},
        same={},
        bound={},
        nobody={},
    )
    texts = {name: row.cells[0].text for name, row in rows_of(index).items()}
    # source: 200 cm3 x 3000 /cm3 / 2.99573 = 200 285, written to two digits and down, as bounds are
    assert texts == {
        "high": "150",
        "low": "150 to 9000",
        "same": "150",
        "bound": narrow("at least 200~000"),
        "nobody": "not measured",
    }
    assert ordered_by("fit", index) == [["low", "same"], ["high"], ["bound"], ["nobody"]]


def test_rows_are_ordered_by_the_flow_that_governs_and_by_mass_whatever_its_unit() -> None:
    index = an_index(
        a_test(flow=[a_run([200.4, 200.6]), a_run([90.0, 91.0], id="low", setting="low")], id="a", device="two"),
        a_test(flow=[a_run([180.0, 181.0])], id="b", device="one"),
        two={"mass": "1 kg"},
        one={"mass": "2.4 lb"},
        none={"mass": NONE},
    )
    assert ordered_by("flow", index) == [["two"], ["one"], ["none"]]
    assert ordered_by("burden", index) == [["two"], ["one"], ["none"]]


def test_rows_are_ordered_by_name_whatever_its_capitals() -> None:
    index = an_index(b={"name": "beta"}, a={"name": "Alpha"}, c={"name": "Beta"}, d={"name": "Alpha"})
    assert ordered_by("name", index) == [["a", "d"], ["c"], ["b"]]


def test_rows_are_ordered_by_wearers_then_donnings_and_by_the_gravest_caution() -> None:
    many = [given(150.0), given(150.0, id="b", wearer="plover")]
    tests = (
        worn("twice", [given(150.0), given(150.0, id="b", donning=2)]),
        worn("many", many),
        worn("once", [given(20.0)]),
    )
    devices: dict[str, Data] = {"twice": {}, "many": {}, "once": {}, "nobody": {}}
    site = shown(several([], devices, "filtering_facepiece", base=a_whole_catalogue(*tests)))
    assert ordered_by("evidence", site.index) == [["nobody"], ["once"], ["twice"], ["many"]]
    severities = {page.id: [caution.severity for caution in page.cautions.raised] for page in site.devices}
    keys = {name: (-min(found, default=math.inf), len(found)) for name, found in severities.items()}
    expected = [sorted(name for name in keys if keys[name] == key) for key in sorted(set(keys.values()))]
    assert len(expected) > 2
    assert ordered_by("cautions", site.index) == expected


def test_every_column_says_how_it_is_ordered() -> None:
    index = an_index(device={})
    last = "A device without one stands last."
    assert index.by_kind == "Grouped by kind of device, in each by name."
    assert {column.key: column.ordered for column in index.columns} == {
        "name": "Ordered by name; from A to Z.",
        "fit": "Ordered by the lowest overall fit factor in the state named, “at least” as its bound; lowest first. "
        f"{last}",
        "flow": f"Ordered by the air delivered in the state that governs the device; lowest first. {last}",
        "burden": f"Ordered by the mass carried, of all parts as weighed, else as stated; lowest first. {last}",
        "price": f"Ordered by price, one currency after another, since nothing is converted; lowest first. {last}",
        "evidence": "Ordered by how many people wore it, then by how often they put it on; fewest first.",
        "cautions": "Ordered by the gravest caution that was raised, then by how many were; least grave first.",
    }
    assert index.columns[1].reversed == index.columns[1].ordered.replace("lowest first", "highest first")
    assert index.columns[-1].reversed.endswith("; gravest first.")


def test_a_row_leads_to_its_device_and_its_sheet() -> None:
    row = index_row(a_test([given(10.0)]))
    assert (row.link.text, row.link.href) == ("Device", "devices/device.html")
    assert (row.sheet.text, row.sheet.href) == ("Data sheet (PDF)", "devices/device.pdf")
