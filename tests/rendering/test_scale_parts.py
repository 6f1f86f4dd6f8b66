"""A scale too tall for a sheet of paper stands in parts, each whole, that together hold every line once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.presenting.views import ScaleChart, ScaleMark, ScaleRow
from generator.presenting.wearer_views import WearerChart, WearerRow
from generator.rendering.scale_drawing import draw_scale
from generator.rendering.scale_parts import MOST_ON_PAPER, parts_of
from generator.rendering.wearer_drawing import draw_wearers
from tests.rendering.charts import LEVEL, SPANS, Drawing


def a_scale(*groups: int) -> ScaleChart:
    """Return a scale with groups of so many lines."""
    rows = [
        ScaleRow(f"{group} {line}", (ScaleMark(f"m-{group}-{line}", 50.0),), heading="" if line else f"Device {group}")
        for group, lines in enumerate(groups)
        for line in range(lines)
    ]
    return ScaleChart("fit-scale", "fit", "A scale", "What it shows", tuple(rows), (*SPANS, LEVEL))


def heights(parts: list[ScaleChart]) -> list[float]:
    return [Drawing(draw_scale(part)).height for part in parts]


def scales(chart: ScaleChart) -> list[ScaleChart]:
    return [part for part in parts_of(chart) if isinstance(part, ScaleChart)]


def test_a_scale_that_fits_stays_as_it_is() -> None:
    chart = a_scale(6, 6, 6)
    assert parts_of(chart) == (chart,)
    assert Drawing(draw_scale(chart)).height < MOST_ON_PAPER


@pytest.mark.parametrize(
    ("groups", "lines", "headings"),
    [
        # Cut between groups where that takes no more parts.
        ((10, 10, 10, 10), [20, 20], ["Device 0", "Device 2"]),
        ((12, 8, 20), [20, 20], ["Device 0", "Device 2"]),
        # Cut within a group that would take a part more, or is too tall by itself.
        ((25, 26), [25, 26], ["Device 0", "Device 1"]),
        ((2, 40, 2), [22, 22], ["Device 0", "Device 1, continued"]),
        ((70,), [24, 24, 22], ["Device 0", "Device 0, continued", "Device 0, continued"]),
    ],
)
def test_parts_hold_every_line_once_and_fit_a_page(
    groups: tuple[int, ...], lines: list[int], headings: list[str]
) -> None:
    chart = a_scale(*groups)
    parts = scales(chart)
    assert [len(part.rows) for part in parts] == lines
    assert [part.rows[0].heading for part in parts] == headings
    assert [row.label for part in parts for row in part.rows] == [row.label for row in chart.rows]
    assert max(heights(parts)) <= MOST_ON_PAPER
    assert [part.landmarks for part in parts] == [chart.landmarks] * len(parts)


def test_parts_tell_which_they_are_and_the_first_what_all_show() -> None:
    first, second = scales(a_scale(20, 20))
    assert (first.id, first.title, first.description) == ("fit-scale", "A scale. Part 1 of 2", "What it shows")
    assert (second.id, second.title) == ("fit-scale-part-2", "A scale. Part 2 of 2")
    assert second.description == "It goes on from the part before; the description of the first part tells of all."


def test_lines_without_groups_are_parted_too() -> None:
    chart = a_scale(40)
    bare = replace(chart, rows=tuple(replace(row, heading="") for row in chart.rows))
    parts = scales(bare)
    assert [len(part.rows) for part in parts] == [20, 20]
    assert {row.heading for part in parts for row in part.rows} == {""}


def test_of_wearers_the_last_part_says_what_all_say_together() -> None:
    marks = tuple(ScaleMark(f"d{n}", 90.0 + n) for n in range(4))
    rows = tuple(WearerRow(f"W{n}", "90", marks) for n in range(25))
    chart = WearerChart("w", "t", "d", "c", rows, ScaleMark("mean", 100.0), ScaleMark("bound", 9.0), SPANS)
    parts = [part for part in parts_of(chart) if isinstance(part, WearerChart)]
    assert [len(part.rows) for part in parts] == [13, 12]
    assert [(part.mean, part.bound) for part in parts] == [(None, None), (chart.mean, chart.bound)]
    assert max(Drawing(draw_wearers(part)).height for part in parts) <= MOST_ON_PAPER
