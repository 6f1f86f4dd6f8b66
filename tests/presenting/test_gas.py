"""Carbon dioxide and oxygen as pages say them: sentences, tables, limits, one id for each figure."""

from __future__ import annotations

from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.gas_result import InhaledGasResult, LimitSide, Plausible, Side
from generator.model.result import Figure
from generator.presenting.gas_words import (
    BEYOND,
    HOOD,
    INHALED,
    UPPER,
    inhaled_state,
    level_sources,
    limit_text,
    plausible_words,
    room_words,
    side_words,
)
from generator.presenting.page_views import DevicePage, RecordPage
from generator.presenting.views import TopicSection
from tests.presenting.shown_figures import ids_of, shown_once
from tests.presenting.small_sites import a_whole_catalogue, context_of, given, shown, texts_of
from tests.scoring.air_builders import inhaled
from tests.scoring.builders import a_device, a_run, a_test, score_all

THIN = "\N{NARROW NO-BREAK SPACE}"
LOOSE, EN = "loose_powered_hood", "en-powered-hoods"
LIMITS = load_reference().gas_limits
HOOD_MEASURED = {"volume": "5 L", "how": "filled with rice"}
FULL: dict[str, Any] = {
    "flow": [a_run([170.0, 171.0, 169.0]), a_run([60.0, 61.0, 60.5], id="low", setting="low")],
    "hood": HOOD_MEASURED,
    "inhaled_gas": [inhaled(18.2, 2.31), inhaled(19.9, 0.9, id="walking", work="walking")],
}


def reading(
    plausible: Plausible = Plausible.POSSIBLE, ratio: float | None = 0.8, blower: str = "high"
) -> InhaledGasResult:
    figure = Figure(
        key="gas.a.exchange",
        name="n",
        value=ratio,
        unit="1",
        no_interval="none" if ratio is not None else None,
        sample_size=2,
        sample_of="measurements",
        method="gas-exchange-ratio",
        not_scored="too near" if ratio is None else None,
    )
    shares = {"oxygen": figure, "carbon_dioxide": figure, "ratio": figure}
    return InhaledGasResult(gas="a", blower=blower, work="walking", plausible=plausible, sides=(), **shares)


@pytest.mark.parametrize(
    ("plausible", "ratio", "words"),
    [
        (Plausible.POSSIBLE, 0.8, "can belong together"),
        (Plausible.IMPOSSIBLE, 2.0, "cannot both be right"),
        (Plausible.NOT_SCORED, None, "not scored: too near"),
        (Plausible.UNDECIDED, 0.7, "undecided without an interval; the ratio itself lies within 0.7 to 1.0"),
        (Plausible.UNDECIDED, 1.01, "undecided without an interval; the ratio itself lies outside 0.7 to 1.0"),
    ],
)
def test_whether_two_gases_fit(plausible: Plausible, ratio: float | None, words: str) -> None:
    assert plausible_words(reading(plausible, ratio)) == words


@pytest.mark.parametrize(
    ("blower", "words"),
    [("off", "blower off, walking"), ("high", "blower at high, walking"), ("none", "walking")],
)
def test_how_inhaled_air_was_measured(blower: str, words: str) -> None:
    assert inhaled_state(reading(blower=blower)) == words


@pytest.mark.parametrize(
    ("limit", "sides", "words"),
    [
        ("niosh-1976-ceiling", {}, "not compared: it is for the air of a workplace"),
        (EN, {"a": Side.NOT_ABOVE}, "not above it: a"),
        (EN, {"a": Side.ABOVE, "b": Side.NOT_ABOVE, "c": Side.ABOVE}, "above it: a, and c; not above it: b"),
        (EN, {"a": Side.UNDECIDED}, "undecided, since the limit lies in the interval: a"),
        (EN, {"a": Side.NOT_COMPARED}, "not compared, since the two gases do not fit: a"),
    ],
)
def test_where_readings_lie_to_a_limit(limit: str, sides: dict[str, Side], words: str) -> None:
    found = {name: LimitSide(limit=limit, side=side) for name, side in sides.items()}
    assert side_words(LIMITS[limit], found) == words


def test_a_limit_is_written_in_percent() -> None:
    assert limit_text(LIMITS["eight-hours"]) == f"0.5{THIN}%"


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({}, f"The room’s own carbon dioxide was not measured; 0.04{THIN}% is assumed."),
        (
            {"carbon_dioxide": {"not_recorded": "no sensor"}},
            f"The room’s own carbon dioxide was not measured; 0.04{THIN}% is assumed.",
        ),
        ({"carbon_dioxide": "0.06 %"}, f"The room’s own carbon dioxide was 0.06{THIN}%."),
    ],
)
def test_what_is_said_of_the_room(stated: dict[str, Any], words: str) -> None:
    air = {"temperature": "20 degC", "pressure": "101325 Pa", "humidity": "40 %"} | stated
    made = a_whole_catalogue(a_test(flow=FULL["flow"], environment=air), device=a_device(LOOSE))
    (test,) = context_of(made).catalogue.device_tests.values()
    assert room_words(test) == words


def test_levels_of_work_say_where_they_are_known_from() -> None:
    first, second = level_sources(load_reference().work_gas)
    assert first.startswith("Desk work, light activity and moderate work: Persily A, de Jonge L.")
    assert second.startswith("Heavy work and very heavy work: Sinkule EJ")
    assert first.count("seen in a secondary source") == second.count("seen in a secondary source") == 1


# ---- pages -----------------------------------------------------------------------------------------------------------


def catalogue(kind: str = LOOSE, device: Any = None, **parts: Any) -> Any:
    return a_whole_catalogue(a_test(**parts), device=a_device(kind, **(device or {})))


def pages(**parts: Any) -> tuple[DevicePage, RecordPage]:
    site = shown(catalogue(**parts))
    return site.devices[0], site.records[0]


def section_of(page: DevicePage | RecordPage) -> TopicSection:
    (section,) = (section for section in page.sections if section.topic == "gas")
    return section


def test_every_figure_stands_on_its_records_page_once_with_its_working() -> None:
    (result,) = score_all(catalogue(**FULL)).records.values()
    section = section_of(pages(**FULL)[1])
    shown_once(result.topics["gas"].figures, section)
    assert [table.id for table in section.tables] == [
        "gas-levels",
        "gas-run-high",
        "gas-run-low",
        "inhaled-gas",
        "gas-limits",
    ]
    rows = {row.id for table in section.tables for row in table.rows}
    assert {"gas.level.desk-work", "gas.level.very-heavy", "gas.inhaled.standing", "gas.inhaled.walking"} <= rows
    assert [block.anchor for block in section.blocks] == ["gas.hood"]
    assert section.sentences[:4] == (HOOD, UPPER, BEYOND, INHALED)
    assert section.tables_told


def test_the_sealed_hood_is_never_told_without_the_words_that_it_is_no_time_to_stay() -> None:
    (block,) = section_of(pages(**FULL)[1]).blocks
    assert block.note is not None
    assert "never a time that anyone may stay in the hood" in block.note
    assert block.table is not None
    assert [column.head for column in block.table.columns] == ["Work", f"To 1{THIN}%", f"To 3{THIN}%"]


def test_limits_from_memory_say_so() -> None:
    limits = section_of(pages(**FULL)[1]).tables[-1]
    by_body = {row.cells[0].text: row for row in limits.rows}
    row = by_body["European standard for powered hoods and helmets"]
    assert "from memory, not seen" in row.cells[3].text
    assert row.cells[2].text == "above it: blower at high, standing; not above it: blower at high, walking"
    assert len(limits.rows) == len(LIMITS)


def test_one_reading_is_simply_the_measured_mean() -> None:
    limits = section_of(pages(**FULL | {"inhaled_gas": [inhaled(18.2, 2.31)]})[1]).tables[-1]
    assert limits.rows[-1].cells[2].text == "above it: the measured mean"


def test_two_readings_of_one_state_are_told_apart() -> None:
    twice = [inhaled(18.2, 2.31), inhaled(19.9, 0.9, id="again")]
    limits = section_of(pages(**FULL | {"inhaled_gas": twice})[1]).tables[-1]
    assert limits.rows[-1].cells[2].text == (
        "above it: blower at high, standing; not above it: blower at high, standing (2)"
    )


def test_the_page_of_the_device_has_a_small_table_and_the_limits_of_inhaled_air() -> None:
    device, _ = pages(**FULL)
    section = section_of(device)
    runs, measured, limits = section.tables
    assert [column.head for column in runs.columns] == [
        "Setting and state",
        "Carbon dioxide, desk work",
        "Carbon dioxide, moderate work",
        "Carbon dioxide, heavy work",
        "Oxygen, moderate work",
    ]
    assert {"test-gas.high.heavy-carbon-dioxide", "test-gas.standing.exchange"} <= set(ids_of(section))
    assert len(measured.rows) == 2
    assert len(limits.rows) == 2
    answer = (
        f"By calculation, carbon dioxide would build up above 1{THIN}% in its hood already with moderate work (low, "
        "battery fresh, new filter)."
    )
    assert section.answer == (answer,)
    assert answer in [each.text for each in device.brief]


def test_where_the_supply_is_large_the_answer_says_nothing_of_it() -> None:
    device, _ = pages(flow=[a_run([190.0, 191.0, 189.0])])
    assert section_of(device).answer == ()


def test_a_sealed_hood_alone_makes_a_section_of_its_record_and_none_of_the_device() -> None:
    made = a_whole_catalogue(a_test([given(10.0, blower="high")], hood=HOOD_MEASURED), device=a_device(LOOSE))
    site = shown(made)
    assert [block.anchor for block in section_of(site.records[0]).blocks] == ["gas.hood"]
    assert "gas" not in [section.topic for section in site.devices[0].sections]


def test_a_tight_device_says_why_its_air_is_not_calculated() -> None:
    device, record = pages(kind="tight_powered_full_facepiece", **FULL | {"hood": None})
    for page in (device, record):
        section = section_of(page)
        assert HOOD not in section.sentences
        assert any(text.startswith("The hood’s mixed air is not scored: a tight-fitting") for text in section.sentences)
    assert [table.id for table in section_of(device).tables] == ["inhaled-gas", "gas-limits"]


def test_no_page_calls_anything_safe_or_allowed() -> None:
    for page in pages(**FULL):
        words = " ".join(texts_of(section_of(page))).lower()
        for word in ("safe", "approved", "certified", "harmless"):
            assert word not in words
