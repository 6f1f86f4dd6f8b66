"""The air balance as pages say it: sentences, tables, the chart of pressure, one id for each figure."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.air_balance_result import (
    AirBalanceSummary,
    Balance,
    NetFlowResult,
    PressureStretch,
    PressureTraceResult,
)
from generator.model.result import Figure, Interval
from generator.presenting.air_balance_words import answer_words, balance_words, trace_words
from generator.presenting.page_views import DevicePage, RecordPage
from generator.presenting.pressure_charts import MOST_POINTS, below_zero, pressure_chart, thinned
from generator.presenting.views import TopicSection
from tests.presenting.shown_figures import ids_of, shown_once
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.air_builders import LOG, a_trace, an_exhaust, pressures
from tests.scoring.builders import a_device, a_run, a_test, score_all

THIN = "\N{NARROW NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
BELOW = "below the pressure of the room"


def figure(value: float | None, unit: str = "L/min", low: float | None = None, high: float | None = None) -> Figure:
    interval = None
    if low is not None:
        interval = Interval(low=low, high=high, coverage=0.95, method="net-flow-interval", covers="c")
    return Figure(
        key="air_balance.high.net",
        name="n",
        value=value,
        unit=unit,
        interval=interval,
        no_interval=None if interval or value is None else "none",
        sample_size=1,
        sample_of="readings",
        method="net-flow",
        not_scored="because" if value is None else None,
    )


def balance(which: Balance, net: Figure | None) -> NetFlowResult:
    state = {"setting": "high", "battery": "fresh", "filter": "new"}
    return NetFlowResult(run="high", exhaust=None, net=net, velocity=None, balance=which, **state)


@pytest.mark.parametrize(
    ("which", "net", "words"),
    [
        (Balance.OUTWARD, figure(8, low=7, high=9), "air leaves through the openings"),
        (Balance.INWARD, figure(-8, low=-9, high=-7), "room air comes in through the openings"),
        (Balance.UNDECIDED, figure(1, low=-1, high=3), "undecided: the interval holds zero"),
        (Balance.UNDECIDED, figure(1), "undecided: there is no interval"),
        (Balance.UNDECIDED, None, "undecided: the supply has no interval that lies above zero"),
        (Balance.NOT_SCORED, figure(None), "not scored: because"),
        (Balance.NOT_SCORED, None, "not scored: the supply was not scored"),
    ],
)
def test_which_way_the_air_goes(which: Balance, net: Figure | None, words: str) -> None:
    assert balance_words(balance(which, net)) == words


@pytest.mark.parametrize(
    ("inward", "balances", "below", "traces", "answer"),
    [
        (0, 2, 0, 1, ()),
        (
            1,
            2,
            1,
            1,
            (
                "Its exhaust draws out more air than its blower supplies, so that room air comes in past the filter: "
                "in 1 of 2 states that were measured.",
            ),
        ),
        (
            0,
            2,
            1,
            2,
            ("With the blower running, the pressure inside fell below that of the room: in 1 of 2 logs.",),
        ),
    ],
)
def test_the_answer_is_one_sentence_where_something_is_decided(
    inward: int, balances: int, below: int, traces: int, answer: tuple[str, ...]
) -> None:
    summary = AirBalanceSummary(findings=(), inward=inward, balances=balances, below_room=below, running_traces=traces)
    assert answer_words(summary) == answer


@pytest.mark.parametrize(
    ("setting", "lowest", "share", "words"),
    [
        ("high", -1.25, 12.0, f"blower at high: lowest {MINUS}1.25{THIN}Pa, {BELOW} for 12{THIN}% of the time"),
        ("off", 0.5, 0.0, f"blower off: lowest 0.500{THIN}Pa, at no time {BELOW}"),
        # Never all of the time where it was not.
        ("high", -1.0, 99.96, f"blower at high: lowest {MINUS}1.00{THIN}Pa, {BELOW} for 99.96{THIN}% of the time"),
        ("high", 2.0, None, f"blower at high: one reading, 2.00{THIN}Pa"),
    ],
)
def test_what_is_said_of_a_trace(setting: str, lowest: float, share: float | None, words: str) -> None:
    whole = PressureStretch(
        exercise=None, lowest=figure(lowest, "Pa"), mean=figure(1.0, "Pa"), below_room=figure(share, "%")
    )
    trace = PressureTraceResult(trace="t", setting=setting, where="w", whole=whole, exercises=())
    assert trace_words(trace) == words


# ---- the chart -------------------------------------------------------------------------------------------------------


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=900))
def test_thinning_keeps_the_extremes_and_the_order(values: list[float]) -> None:
    points = tuple((float(number), value) for number, value in enumerate(values))
    kept = thinned(points, MOST_POINTS)
    assert len(kept) <= MOST_POINTS
    assert list(kept) == sorted(kept)
    assert set(kept) <= set(points)
    assert min(value for _, value in kept) == min(values)
    assert max(value for _, value in kept) == max(values)


def test_the_area_below_zero_is_cut_where_the_curve_crosses() -> None:
    # source: by hand: from 1 at 0 s to -1 at 2 s zero is crossed at 1 s; from -1 to 3 a quarter of the way on
    assert below_zero(((0.0, 1.0), (2.0, -1.0), (4.0, 3.0))) == (
        (0.0, 0.0, 0.0),
        (1.0, 0.0, 0.0),
        (2.0, -1.0, 0.0),
        (2.5, 0.0, 0.0),
        (4.0, 0.0, 0.0),
    )
    assert below_zero(((0.0, 1.0), (1.0, 0.0))) == ()


def test_traces_share_their_axes_and_begin_at_zero() -> None:
    traces = [
        ("a", "A", "a fell", pressures([10.0, -10.0], [5.0, 7.0])),
        ("b", "B", "b rose", pressures([0.0, 20.0], [1.0, 4.0])),
    ]
    chart = pressure_chart("pressure-inside", traces, "pressures")
    assert (chart.x.low, chart.x.high, chart.x.unit) == (0.0, 3.0, "s")
    # 8 % of the 30 Pa from the lowest to the highest reading on either side
    assert [chart.y.low, chart.y.high] == pytest.approx([-12.4, 22.4])
    first, second = chart.panels
    assert (first.curves[0].key, first.curves[0].points) == ("a-pressure", ((0.0, 10.0), (2.0, -10.0)))
    assert (len(first.areas), len(second.areas)) == (1, 0)
    assert chart.description == "A fell; b rose."


def test_a_chart_of_one_reading_of_zero_still_has_axes() -> None:
    chart = pressure_chart("p", [("a", "A", "a", pressures([0.0]))], "pressures")
    assert chart.x.low < chart.x.high
    assert chart.y.low < 0 < chart.y.high


# ---- pages -----------------------------------------------------------------------------------------------------------


def catalogue(**parts: Any) -> Any:
    series = parts.pop("series", None)
    test = a_test(**parts)
    return a_whole_catalogue(test, device=a_device("loose_powered_hood"), series=series)


FULL: dict[str, Any] = {
    "flow": [a_run([38.0, 38.2, 38.1]), a_run([21.0, 21.2, 21.1], id="low", setting="low")],
    "exhaust": [an_exhaust([30.0, 30.1, 30.2]), an_exhaust([24.0, 24.1, 24.2], setting="low")],
    "openings": {"area": "18 cm2", "how": "by feeler gauge"},
    "pressure_traces": [a_trace(), a_trace("off", file="logs/off.csv")],
}
LOGS = {
    LOG: pressures([2.0, -1.0, 3.0, 4.0], exercise=["standing", "standing", "bending", "bending"]),
    "logs/off.csv": pressures([1.0, 0.5], file="logs/off.csv"),
}


def pages(**parts: Any) -> tuple[DevicePage, RecordPage]:
    site = shown(catalogue(**parts))
    return site.devices[0], site.records[0]


def section_of(page: DevicePage | RecordPage) -> TopicSection:
    (section,) = (section for section in page.sections if section.topic == "air_balance")
    return section


def test_every_figure_stands_on_its_records_page_once_with_its_working() -> None:
    made = catalogue(**FULL, series=LOGS)
    (result,) = score_all(made).records.values()
    section = section_of(pages(**FULL, series=LOGS)[1])
    shown_once(result.topics["air_balance"].figures, section)
    assert section.tables_told
    anchors = [block.anchor for block in section.blocks]
    assert anchors == [
        "air_balance.exhaust.exhaust-high",
        "air_balance.exhaust.exhaust-low",
        "air_balance.openings",
        "air_balance.trace.trace-high",
        "air_balance.trace.trace-off",
    ]


def test_the_page_of_the_device_has_the_balances_the_traces_and_the_chart() -> None:
    device, _ = pages(**FULL, series=LOGS)
    section = section_of(device)
    balances, traces = section.tables
    assert [column.head for column in balances.columns] == [
        "Setting and state",
        "Supply",
        "Exhaust",
        "Net flow",
        "Mean velocity outwards",
        "Which way the air goes",
    ]
    assert [row.cells[-1].text for row in balances.rows] == [
        "air leaves through the openings",
        "room air comes in through the openings",
    ]
    assert balances.rows[1].cells[4].note == "the net flow goes inwards"
    assert {"test-air_balance.high.net", "test-air_balance.trace-high.lowest"} <= set(ids_of(section))
    assert [row.cells[3].text for row in traces.rows] == [f"33{THIN}%", f"0.0{THIN}%"]
    (chart,) = section.curves
    assert [panel.heading for panel in chart.panels] == ["Blower at high", "Blower off"]
    assert section.answer[0] in [each.text for each in device.brief]


def test_columns_that_would_be_empty_are_left_out() -> None:
    without_openings = {"flow": FULL["flow"], "exhaust": FULL["exhaust"][:1]}
    (table,) = section_of(pages(**without_openings)[0]).tables
    assert "Mean velocity outwards" not in [column.head for column in table.columns]
    assert table.rows[1].cells[2].text == "not measured"
    without_exhaust = {"flow": FULL["flow"], "openings": FULL["openings"]}
    (table,) = section_of(pages(**without_exhaust)[0]).tables
    assert [column.head for column in table.columns][1:3] == ["Supply", "Mean velocity outwards"]
    assert table.rows[0].cells[1].text.startswith("38.1")


def test_a_device_without_any_of_it_has_no_such_section() -> None:
    device, record = pages(flow=FULL["flow"])
    assert "air_balance" not in [section.topic for section in (*device.sections, *record.sections)]
