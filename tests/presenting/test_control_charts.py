"""Control charts as data: ticks with room for their labels, digits as recorded, and the whole chart in words."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.instrument import CheckStandard
from generator.model.published import published
from generator.presenting.control_charts import (
    LABEL_SHARE,
    MOST_VALUE_TICKS,
    NARROW_LABEL_SHARE,
    control_chart,
    day_ticks,
    decimals_recorded,
    value_ticks,
)
from generator.presenting.instrument_views import ControlChart, Tick
from generator.scoring.instruments import score_instrument
from tests.scoring.builders import a_catalogue, a_check_standard, a_meter

DAYS = st.dates(min_value=date(1990, 1, 1), max_value=date(2060, 1, 1))


def chart(*readings: tuple[str, float], **changes: object) -> ControlChart:
    meter = a_meter(check_standards=[a_check_standard(*readings, **changes)])
    standard: CheckStandard = meter.check_standards[0]
    (check,) = score_instrument(meter, published(a_catalogue(meter=meter))).checks
    return control_chart("chart", standard, check, "Control chart")


@pytest.mark.parametrize(
    ("values", "decimals"),
    # source: by definition, the decimals of the number as it is written
    [
        ((50.0,), 0),
        ((0.4,), 1),
        ((50.0, 0.25), 2),
        ((1e-7,), 7),
        ((2.5e6,), 0),
        ((-0.125,), 3),
        ((0.0,), 0),
        ((1e9,), 0),
        # As many as a quantity in a record may have.
        ((101.3, 1e-308), 12),
    ],
)
def test_decimals_are_those_of_the_record(values: tuple[float, ...], decimals: int) -> None:
    assert decimals_recorded(*values) == decimals


@pytest.mark.parametrize(
    ("first", "last", "texts"),
    # source: calendar; a label takes 0.15 of the axis, so a step is the first of 1, 2, 3, 6, 12 ... months that long
    [
        ("2025-01-06", "2025-09-29", ["Mar 2025", "May 2025", "Jul 2025", "Sep 2025"]),
        ("2025-01-01", "2025-04-01", ["Jan 2025", "Feb 2025", "Mar 2025", "Apr 2025"]),
        ("2023-02-01", "2026-01-30", ["Jul 2023", "Jan 2024", "Jul 2024", "Jan 2025", "Jul 2025", "Jan 2026"]),
        ("2015-02-01", "2020-02-01", ["2016", "2017", "2018", "2019", "2020"]),
        ("2025-03-10", "2025-04-02", ["10 Mar 2025", "2 Apr 2025"]),
        ("2025-03-10", "2025-03-10", ["10 Mar 2025"]),
    ],
)
def test_labels_of_a_time_axis(first: str, last: str, texts: list[str]) -> None:
    ticks = day_ticks(date.fromisoformat(first), date.fromisoformat(last), LABEL_SHARE)
    assert [tick.text for tick in ticks if tick.text] == texts


@given(days=st.tuples(DAYS, DAYS), share=st.sampled_from([LABEL_SHARE, NARROW_LABEL_SHARE]))
def test_ticks_of_time_lie_on_the_axis_in_order_with_room_for_each_label(days: tuple[date, date], share: float) -> None:
    first, last = sorted(days)
    ticks = day_ticks(first, last, share)
    places = [tick.at for tick in ticks]
    assert places == sorted(set(places))
    assert first.toordinal() <= places[0] <= places[-1] <= last.toordinal()
    labelled = [tick.at for tick in ticks if tick.text]
    assert len(labelled) == 1 if first == last else len(labelled) >= 2
    span = (last - first).days
    # Months have 28 to 31 days, so a step may be a little shorter than its label's share.
    assert all(after - before >= 0.9 * share * span for before, after in pairwise(labelled))


@given(centre=st.floats(-1e6, 1e6), span=st.floats(1e-3, 1e6))
def test_value_ticks_are_few_round_and_on_the_axis(centre: float, span: float) -> None:
    low, high = centre - span, centre + span
    ticks = value_ticks(low, high)
    assert 2 <= len(ticks) <= MOST_VALUE_TICKS
    assert all(low - 1e-9 * span <= tick.at <= high + 1e-9 * span for tick in ticks)
    assert len({tick.text for tick in ticks}) == len(ticks)


def test_value_ticks_of_an_example() -> None:
    # source: by hand: 48.4 to 51.6 in steps of 0.5 is six ticks, in steps of 0.2 sixteen
    assert value_ticks(48.4, 51.6) == tuple(
        Tick(pytest.approx(value), text)  # type: ignore[arg-type]
        for value, text in [
            (48.5, "48.5"),
            (49.0, "49.0"),
            (49.5, "49.5"),
            (50.0, "50.0"),
            (50.5, "50.5"),
            (51.0, "51.0"),
            (51.5, "51.5"),
        ]
    )


def test_a_chart_reaches_four_to_six_standard_deviations() -> None:
    # source: by definition, centre 50 and standard deviation 0.4
    reaches = [
        (50.1, 4),  # everything near the centre
        (51.75, 5),  # 4.4 standard deviations off
        (52.3, 6),  # 5.75 off
        (90.0, 6),  # far off, drawn at the edge
    ]
    for value, deviations in reaches:
        drawn = chart(("2025-01-01", value))
        assert (drawn.low, drawn.high) == pytest.approx((50 - deviations * 0.4, 50 + deviations * 0.4))


def test_lines_carry_their_names_and_exact_values() -> None:
    lines = chart(("2025-01-01", 50.0), centre=-0.5, standard_deviation=0.25).lines
    assert [(line.key, line.text) for line in lines] == [
        ("action_high", "action limit 0.25"),
        ("warning_high", "warning limit 0.00"),
        ("centre", "centre −0.50"),
        ("warning_low", "warning limit −1.00"),
        ("action_low", "action limit −1.25"),
    ]
    assert [line.key for line in lines if line.is_action] == ["action_high", "action_low"]
    assert [line.key for line in lines if line.is_centre] == ["centre"]


def test_marks_beyond_limits_carry_their_value() -> None:
    marks = chart(("2025-01-01", 50.1), ("2025-01-08", 51.0), ("2025-01-15", 48.75), ("2025-01-22", 60.0)).marks
    assert [(mark.text, mark.beyond_warning, mark.beyond_action) for mark in marks] == [
        ("", False, False),
        ("51.00", True, False),
        ("48.75", False, True),
        ("60.00, off the chart", False, True),
    ]
    assert [mark.key for mark in marks] == ["reading-1", "reading-2", "reading-3", "reading-4"]
    assert marks[3].day - marks[0].day == 21


def test_a_chart_in_words() -> None:
    drawn = chart(("2025-01-01", 50.1), ("2025-01-08", 51.0), ("2025-01-15", 48.75), ("2025-01-22", 60.0))
    assert drawn.description == (
        "Four readings from 1 January 2025 to 22 January 2025, about a centre of 50.0\N{NARROW NO-BREAK SPACE}L/min, "
        "with warning limits at 49.2 and 50.8 and action limits at 48.8 and 51.2. "
        "Beyond an action limit: 48.75\N{NARROW NO-BREAK SPACE}L/min on 15 January 2025 and "
        "60.00\N{NARROW NO-BREAK SPACE}L/min on 22 January 2025. "
        "Beyond a warning limit: 51.00\N{NARROW NO-BREAK SPACE}L/min on 8 January 2025."
    )
    assert chart(("2025-01-01", 50.1)).description.endswith(
        "One reading on 1 January 2025, about a centre of 50.0\N{NARROW NO-BREAK SPACE}L/min, with warning limits at "
        "49.2 and 50.8 and action limits at 48.8 and 51.2. Beyond an action limit: none. Beyond a warning limit: none."
    )


def test_of_many_readings_beyond_a_limit_five_are_named() -> None:
    drawn = chart(*((f"2025-01-{number:02}", 55.0) for number in range(1, 13)))
    assert drawn.description.count("55\N{NARROW NO-BREAK SPACE}L/min on") == 5
    assert " and 7 more." in drawn.description
