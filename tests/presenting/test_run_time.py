"""Run-downs as a reader sees them: words, chart, tables, and every figure once with its working."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.result import Figure, Interval, Outcome, Relation
from generator.model.run_down import StatedTask
from generator.model.run_time_result import AlarmOutcome, RunDownResult
from generator.presenting.digits import THIN
from generator.presenting.page_views import DevicePage, RecordPage
from generator.presenting.run_time_chart import MOST_POINTS, thinned
from generator.presenting.run_time_words import hours_text, run_down_words, task_words, time_text
from generator.presenting.views import TopicSection
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_device, a_run, a_test
from tests.scoring.run_down_builders import FALLING, LOOSE, a_run_down, a_series

LONG = (*FALLING, 150.0)
ELECTRIC = {"voltage_v": (12.0,) * 6, "current_a": (1.5,) * 6}
ALARM = [{"at": "2 h", "what": "three beeps"}, {"at": "290 min", "what": "a red lamp"}]


def minutes(value: float | None, half: float | None = None, relation: Relation = Relation.EQUAL) -> Figure:
    interval = None
    if half is not None and value is not None:
        interval = Interval(low=value - half, high=value + half, coverage=0.95, method="m", covers="c")
    return Figure(
        key="run_time.full.run_time",
        name="run time",
        value=value,
        unit="min",
        relation=relation,
        interval=interval,
        sample_size=1,
        sample_of="lines",
        method="run-time",
        not_scored=None if value is not None else "the device follows the breath",
    )


def a_result(**changes: Any) -> RunDownResult:
    parts: Data = {
        "run_down": "full",
        "setting": "high",
        "filter": "new",
        "criterion": "c",
        "required_l_per_min": 170.0,
        "benchmark_only": False,
        "run_time": minutes(280.3, 4.2),
        "fell_below": True,
        "came_back": False,
        "to_stop": None,
        "first_alarm": None,
        "alarm_margin": None,
        "alarm": AlarmOutcome.NONE_HEARD,
        "energy": None,
        "energy_for_cubic_metre": None,
        "share_of_stated_energy": None,
        "task_minutes": None,
        "task": None,
    }
    return RunDownResult(**(parts | changes))


def narrow(text: str) -> str:
    """Put the narrow space before each unit, which a test is easier to read without."""
    for number in "0123456789":
        for unit in ("L/min", "min", "h"):
            text = text.replace(f"{number} {unit}", f"{number}{THIN}{unit}")
    return text


LASTED = "High, new filter: on one charge the flow stayed at or above the required 170 L/min for 280 min (4 h 40 min)."
BOUND = "High, new filter: on one charge the flow stayed at or above the required 170 L/min for at least 90.0 min "


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, (LASTED, "No alarm was heard.")),
        (
            {"came_back": True},
            (
                f"{LASTED} It came back for a while later: the first time below is what ends the run time.",
                "No alarm was heard.",
            ),
        ),
        (
            {"to_stop": minutes(425.0)},
            (
                LASTED,
                "The blower turned for 425 min (7 h 5 min), but that is not the run time: after the run time it "
                "delivered less than is required.",
                "No alarm was heard.",
            ),
        ),
        (
            {"to_stop": minutes(59.0), "came_back": True, "alarm": AlarmOutcome.BEFORE, "first_alarm": minutes(30.0)},
            (
                f"{LASTED} It came back for a while later: the first time below is what ends the run time.",
                "The blower turned for 59.0 min, but that is not the run time.",
                "The first alarm came after 30.0 min, before the flow fell below.",
            ),
        ),
        (
            {"alarm": AlarmOutcome.AFTER, "first_alarm": minutes(300.0)},
            (LASTED, "The first alarm came after 300 min (5 h), when the flow had already fallen below."),
        ),
        (
            {"alarm": AlarmOutcome.UNDECIDED, "first_alarm": minutes(281.0)},
            (
                LASTED,
                "The first alarm came after 281 min (4 h 41 min); whether that was before the flow fell below cannot "
                "be told.",
            ),
        ),
        (
            {"run_time": minutes(90.0, relation=Relation.AT_LEAST), "alarm": AlarmOutcome.NOT_NEEDED},
            (
                f"{BOUND}(1 h 30 min); the test ended before it fell below.",
                "No alarm was heard; the flow did not fall below in this time.",
            ),
        ),
        (
            {"run_time": minutes(90.0, relation=Relation.AT_LEAST), "to_stop": minutes(90.0)},
            (f"{BOUND}(1 h 30 min); then the blower stopped.", "No alarm was heard."),
        ),
        (
            {"run_time": minutes(0.0, 0.0), "benchmark_only": True, "to_stop": minutes(141.0)},
            (
                "High, new filter: it never delivered the benchmark of 170 L/min on this charge.",
                "The blower turned for 141 min (2 h 21 min), but that is not the run time.",
                "No alarm was heard.",
            ),
        ),
        (
            {
                "run_time": minutes(None),
                "to_stop": minutes(141.0),
                "first_alarm": minutes(100.0),
                "alarm": AlarmOutcome.NOT_SCORED,
            },
            (
                "High, new filter: how long it delivers enough air on one charge is not scored: the device follows "
                "the breath.",
                "The blower turned for 141 min (2 h 21 min).",
                "The first alarm came after 100 min (1 h 40 min).",
            ),
        ),
        (
            {"run_time": minutes(None), "alarm": AlarmOutcome.NOT_SCORED},
            (
                "High, new filter: how long it delivers enough air on one charge is not scored: the device follows "
                "the breath.",
            ),
        ),
    ],
)
def test_what_is_said_of_a_run_down(changes: Data, expected: tuple[str, ...]) -> None:
    assert run_down_words(a_result(**changes), None) == tuple(narrow(text) for text in expected)


@pytest.mark.parametrize(
    ("outcome", "expected"),
    [
        (Outcome.MEETS, "It lasted as long as the stated task: one round, 3 h (the tester)."),
        (Outcome.DOES_NOT_MEET, "It did not last as long as the stated task: one round, 3 h (the tester)."),
        (
            Outcome.UNDECIDED,
            "It cannot be told whether it lasts as long as the stated task: one round, 3 h (the tester).",
        ),
    ],
)
def test_what_is_said_of_a_task(outcome: Outcome, expected: str) -> None:
    task = StatedTask.model_validate({"what": "one round.", "duration": "3 h", "source": "the tester"})
    assert task_words(task, outcome) == narrow(expected)
    assert task_words(None, None) is None


@pytest.mark.parametrize(
    ("number", "text"), [(60, "1 h"), (61.9, "1 h 1 min"), (59, "59 min"), (480, "8 h"), (1441, "24 h 1 min")]
)
def test_hours(number: float, text: str) -> None:
    assert hours_text(number) == narrow(text)


def test_hours_have_no_more_digits_than_the_minutes_beside_them() -> None:
    # The rule of the Particle Data Group: half a width of 12 min leaves whole minutes, one of 42 leaves tens.
    assert time_text(minutes(283.6, 12.0)) == narrow("284 min (4 h 44 min)")
    assert time_text(minutes(283.6, 42.0)) == narrow("280 min (4 h 40 min)")
    # A bound is never rounded up, neither way.
    assert time_text(minutes(119.9, relation=Relation.AT_LEAST)) == narrow("at least 119 min (1 h 59 min)")


def test_no_run_time_at_all_is_written_without_digits_behind_the_mark() -> None:
    assert time_text(minutes(0.0, 0.0)) == narrow("0 min")


def test_thinning_keeps_the_ends_and_every_spike() -> None:
    points = [(float(place), 100.0) for place in range(10_000)]
    points[4321], points[7777] = (4321.0, 250.0), (7777.0, 3.0)
    kept = thinned(points)
    assert len(kept) <= MOST_POINTS
    assert (kept[0], kept[-1]) == (points[0], points[-1])
    assert {points[4321], points[7777]} <= set(kept)
    assert [time for time, _ in kept] == sorted({time for time, _ in kept})
    assert thinned(points[:MOST_POINTS]) == tuple(points[:MOST_POINTS])
    assert len(thinned(points[: MOST_POINTS + 1])) <= MOST_POINTS


def pages(*flows: tuple[float, ...], **changes: Any) -> tuple[DevicePage, RecordPage]:
    names = [f"r{number}" for number in range(len(flows))]
    run_downs = [a_run_down(id=name, **changes) for name in names]
    test = a_test(flow=[a_run([200.0, 201.0])], run_downs=run_downs)
    power = {"source": "battery", "energy": "80 Wh", "settings": ["low", "high"]}
    catalogue = a_whole_catalogue(test, device=a_device(LOOSE, power=power))
    logs = [
        a_series(flow, name).model_copy(update={part: numbers[: len(flow)] for part, numbers in ELECTRIC.items()})
        for name, flow in zip(names, flows, strict=True)
    ]
    site = shown(replace(catalogue, series={log.file: log for log in logs}))
    return site.devices[0], site.records[0]


def section(page: DevicePage | RecordPage) -> TopicSection:
    (found,) = [each for each in page.sections if each.topic == "run_time"]
    return found


STOPPED: Data = {"alarms": ALARM, "ended": "blower_stopped"}
NAMES = (
    "run_time",
    "to_stop",
    "first_alarm",
    "alarm_margin",
    "energy",
    "energy_for_cubic_metre",
    "share_of_stated_energy",
)


def test_every_figure_stands_once_on_each_page_and_leads_to_its_working() -> None:
    device, record = pages(LONG, **STOPPED)
    told = section(record)
    keys = [f"run_time.r0.{name}" for name in NAMES]
    assert [figure.key for block in told.blocks for figure in block.figures] == keys
    assert [working.figure for working in told.workings] == keys
    (table,) = section(device).tables
    cells = [cell for row in table.rows for cell in row.cells[1:]]
    assert [cell.id for cell in cells if cell.id] == [f"test-{key}" for key in keys]
    assert [cell.href for cell in cells if cell.id] == [f"records/test.html#working.{key}" for key in keys]
    assert section(device).tables_told
    assert [block.anchor for block in told.blocks] == ["run_time.r0"]


def test_run_downs_stand_two_abreast_and_are_told_apart() -> None:
    device, record = pages(LONG, (200, 190), (200, 180, 160), ended="test_ended")
    first, second = section(device).tables
    assert [column.head for column in first.columns] == [
        "On one charge",
        "High, new filter (r0)",
        "High, new filter (r1)",
    ]
    assert [column.head for column in second.columns] == ["On one charge", "High, new filter (r2)"]
    assert (first.id, second.id) == ("run-downs", "run-downs-2")
    # No blower stopped and no alarm was heard: no empty rows.
    assert [row.cells[0].text for row in first.rows] == [
        "Run time above the required flow",
        "Energy during the run time",
        "Energy for 1000 L of air",
        "Record",
    ]
    assert [block.heading for block in section(record).blocks] == [
        f"High, new filter (r{number})" for number in range(3)
    ]


def test_the_answer_says_the_run_time_where_the_flow_fell() -> None:
    device, _ = pages(LONG, **STOPPED)
    (sentence,) = section(device).answer
    assert sentence.startswith("High, new filter: on one charge the flow stayed at or above the required")
    assert sentence in [each.text for each in device.brief]
    device, _ = pages((200, 190))
    assert section(device).answer == ()


def test_the_chart_shows_the_flow_the_level_and_what_happened() -> None:
    device, record = pages(LONG, **STOPPED)
    (chart,) = section(record).curves
    (panel,) = chart.panels
    (curve,), (level,), (area,) = panel.curves, panel.levels, panel.areas
    assert curve.points == tuple((60.0 * place, flow) for place, flow in enumerate(LONG))
    assert (level.value, level.text) == (170, narrow("170 L/min required"))
    assert area.points == ((180.0, 170, 170), (240.0, 160, 170), (300.0, 150, 170))
    assert area.warning
    assert [(event.text, event.value) for event in panel.events] == [
        ("end of the run time", 180),
        ("alarm: three beeps", 120),
        ("alarm: a red lamp", 290),
        ("blower stopped", 300),
    ]
    assert (chart.x.low, chart.x.high, chart.y.low) == (0, 300, 0)
    assert chart.y.high > 200
    keys = [curve.key, level.key, area.key, *(event.key for event in panel.events)]
    assert len(set(keys)) == len(keys)
    (on_device,) = section(device).curves
    assert [each.key for each in on_device.panels[0].curves] == ["test-r0.flow"]


def test_a_chart_of_many_run_downs_draws_some_and_says_so() -> None:
    device, _ = pages(*[(200.0, 190.0, 160.0 - number) for number in range(6)])
    (chart,) = section(device).curves
    assert len(chart.panels) == 4
    assert chart.caption.endswith("2 more are told in the table and drawn on the pages of their records.")


def test_a_device_without_a_run_down_has_no_such_section() -> None:
    test = a_test(flow=[a_run([200.0, 201.0])])
    (device,) = shown(a_whole_catalogue(test, device=a_device(LOOSE))).devices
    assert [each.topic for each in device.sections if each.topic == "run_time"] == []
