"""A raw log as data for its drawing, and in words for those who do not see it. Regression only: the words are ours."""

from __future__ import annotations

from typing import Any

from generator.model.log import Log, LogSample, Sampling
from generator.presenting.views import LogChart
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_device, a_session, a_test
from tests.scoring.log_builders import a_logged_session, during_each, two_channels

THIN = "\N{NARROW NO-BREAK SPACE}"
FILE = "logs/a.csv"
REFERENCE: Data = {
    "file": FILE,
    "sha256": "0" * 64,
    "unit": "/cm3",
    "columns": {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"},
}
AIR = {"o": Sampling.AMBIENT, "i": Sampling.IN_MASK, "p": Sampling.PURGE}


def a_log(*stretches: tuple[str, str, list[float]]) -> Log:
    """Return a log of one reading a second: kind of air, exercise and readings of each stretch."""
    rows = [(air, exercise, value) for air, exercise, values in stretches for value in values]
    samples = tuple(
        LogSample(time_s=float(second), concentration_per_cm3=value, exercise=exercise, sampling=AIR[air])
        for second, (air, exercise, value) in enumerate(rows)
    )
    return Log(file=FILE, sha256="0" * 64, samples=samples)


WHOLE = a_log(
    ("o", "", [3000, 3100]),
    ("p", "", [900]),
    ("i", "standing", [3.0, 0.0, 2.5]),
    ("o", "", [3050]),
    ("i", "talking", [9.0, 8.0]),
    ("i", "bending", [5.0]),
    ("o", "", [2990, 3000]),
)


def chart_of(log: Log, **changes: Any) -> tuple[LogChart, dict[str, str | None]]:
    test = a_test([a_session(log=REFERENCE, **changes)])
    page = shown(a_whole_catalogue(test, logs={FILE: log})).records[0]
    (block,) = page.sections[0].blocks
    assert block.log is not None
    return block.log, {fact.term: fact.href for fact in block.facts}


def test_every_reading_is_handed_on() -> None:
    chart, facts = chart_of(WHOLE)
    points = [
        (air, point) for air, stretch in [(each.air, each.points) for each in chart.stretches] for point in stretch
    ]
    assert points == [
        (sample.sampling.value, (sample.time_s, sample.concentration_per_cm3)) for sample in WHOLE.samples
    ]
    assert [stretch.air for stretch in chart.stretches] == [
        "ambient",
        "purge",
        "in-mask",
        "ambient",
        "in-mask",
        "ambient",
    ]
    assert [(each.name, each.start, each.end) for each in chart.exercises] == [
        ("Standing", 3, 5),
        ("Talking", 7, 8),
        ("Bending", 9, 9),
    ]
    assert facts["Raw log"] == "data/logs/a.csv"


def test_it_is_told_in_words() -> None:
    chart, _ = chart_of(WHOLE)
    assert chart.title == "Raw log of session am: concentration against time"
    assert chart.description == (
        f"Particles per cm³ over 11{THIN}s on a logarithmic axis: outside five readings between 2990{THIN}/cm³ and "
        f"3100{THIN}/cm³; inside six readings between 0{THIN}/cm³ and 9{THIN}/cm³; while the line was purged one "
        f"reading of 900{THIN}/cm³. 1 reading is zero and stands on the line marked 0 below the scale. Exercises in "
        "order: Standing, Talking and Bending."
    )
    assert chart.caption.endswith("1 reading is zero and stands on the line marked 0 below the scale.")


def test_a_log_without_zeros_does_not_speak_of_them() -> None:
    chart, _ = chart_of(a_log(("o", "", [3000]), ("i", "standing", [3.0]), ("o", "", [3000])))
    assert "zero" not in chart.description + chart.caption


def test_the_log_of_a_session_that_was_stopped_is_shown_too() -> None:
    log = a_log(("o", "", [3000]), ("i", "standing", [0.0, 0.0]))
    chart, _ = chart_of(log, outcome="aborted", reason="a strap broke")
    assert "2 readings are zero and stand on the line" in chart.description


def test_a_second_channel_and_readings_side_by_side_are_drawn_and_told() -> None:
    log = two_channels()
    test = a_test([a_logged_session(log, channels=2)])
    page = shown(a_whole_catalogue(test, logs={log.file: log}, protocol=during_each())).records[0]
    chart = page.sections[0].blocks[0].log
    assert chart is not None
    first = chart.stretches[0]
    assert first.air == "second"
    assert first.points == tuple((row.time_s, row.outside_per_cm3) for row in log.samples)
    assert chart.stretches[1].air == "side-by-side"
    assert f"side by side with the second channel 20 readings between 3180{THIN}/cm³ and 3186{THIN}/cm³" in (
        chart.description
    )
    assert f"a second channel outside all the time between 3000{THIN}/cm³ and 3006{THIN}/cm³" in chart.description
    assert chart.caption.endswith(
        "The thin line, channel 2, is the second channel, which drew outside air all the time. Where both were out, "
        "the two channels drew the same air, so that it is seen what they differ by."
    )


def test_the_exercises_of_a_log_show_means_penetrations_and_peaks_above_the_limit() -> None:
    log = two_channels(inside=(30, 33.6, 160.2, 30) * 10)
    test = a_test([a_logged_session(log, channels=2)])
    limits = [{"kinds": ["elastomeric_half_facepiece"], "percent": 5}]
    protocol, device = during_each(peak_limits=limits), a_device("elastomeric_half_facepiece")
    page = shown(a_whole_catalogue(test, logs={log.file: log}, protocol=protocol, device=device)).records[0]
    block = page.sections[0].blocks[0]
    assert block.table is not None
    cells = block.table.rows[0].cells
    # source: by hand: 3183 outside, (30 + 33.6 + 160.2 + 30) / 4 inside; a share without an interval has
    # two digits, and more where its limit would else be met
    assert [cell.text for cell in cells[:5]] == [
        "Standing",
        "3183",
        "63.45",
        "2.0",
        "5.03",
    ]
    assert [cell.id for cell in cells[3:6]] == ["fit.am.standing.average", "fit.am.standing.peak", "fit.am.standing"]
    assert cells[4].note == f"above the limit of 5{THIN}%"
    assert "fit.am.channel-ratio" in [figure.key for figure in block.figures]
    workings = {working.figure for section in page.sections for working in section.workings}
    assert {"fit.am.standing.average", "fit.am.standing.peak", "fit.am.channel-ratio"} <= workings


def test_the_sheet_shows_it_in_the_records_annex() -> None:
    test = a_test([a_session(log=REFERENCE)])
    (sheet,) = shown(a_whole_catalogue(test, logs={FILE: WHOLE})).sheets
    assert [[log.id for log in annex.logs] for annex in sheet.annexes] == [["log-am-test"]]
