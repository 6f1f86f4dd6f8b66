"""The numbers of each chart: as rows for a file, unrounded, and where a reader finds them as a table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator.presenting.comparison_views import ComparisonPage
from generator.presenting.curve_views import Axis, CurveChart, Panel
from generator.presenting.digits import quantity_text, unit_text
from generator.presenting.instrument_views import ControlChart, ControlMark
from generator.presenting.page_views import DevicePage, InstrumentPage, RecordPage
from generator.presenting.views import Cell, Column, LogChart, Row, ScaleChart, ScaleMark, Table
from generator.presenting.wearer_views import WearerChart
from generator.presenting.wording import count_text

Chart = ScaleChart | LogChart | ControlChart | WearerChart | CurveChart
DrawnChart = ScaleChart | ControlChart | WearerChart | CurveChart
"""Charts whose numbers are in no other file; those of a log are the log itself."""
_FOLDER = "charts"
DataRow = tuple[str | float | None, ...]
_SCALE_VALUE = {"fit": "fit_factor", "flow": "flow_l_per_min"}
_SCALE = ("low_95", "high_95", "relation", "at_most")


@dataclass(frozen=True)
class ChartData:
    """The numbers of a chart: units stand in the heads, what is not there is None."""

    columns: tuple[str, ...]
    rows: tuple[DataRow, ...]


@dataclass(frozen=True)
class ChartNumbers:
    """Where the numbers of a chart stand: its file, and an element of the page or a table of its own."""

    csv: str
    """Relative to the site's root."""
    anchor: str
    named: Table | None
    """What is named in the chart, where no other table of the page has its numbers."""


def csv_path(chart: Chart, page: str) -> str:
    """Return the file with a chart's numbers, by the path of the page that shows it.

    Between the id of the page and that of the chart stands a dot, which neither id of a page has, so that no two charts
    share a file.
    """
    if isinstance(chart, LogChart):
        return chart.csv
    return f"{_FOLDER}/{page.removesuffix('.html')}.{chart.id}.csv"


def page_of_chart_file(path: str) -> str | None:
    """Return the path of the page whose chart a file holds, or None for other files."""
    folder, _, rest = path.partition("/")
    return f"{rest.partition('.')[0]}.html" if folder == _FOLDER else None


def chart_numbers(chart: Chart, page: str) -> ChartNumbers:
    """Return where the numbers of a chart stand that a page shows."""
    anchor = "" if isinstance(chart, LogChart) else chart.table
    named = _named(chart) if isinstance(chart, CurveChart) and not anchor else None
    return ChartNumbers(csv_path(chart, page), anchor, named)


def chart_data(chart: DrawnChart) -> ChartData:
    """Return the numbers that a chart is drawn from, as they are, in the order in which a reader meets them."""
    if isinstance(chart, ScaleChart):
        return _scale_data(chart)
    if isinstance(chart, WearerChart):
        return _wearer_data(chart)
    if isinstance(chart, ControlChart):
        return _control_data(chart)
    return _curve_data(chart)


def charts_of(page: object) -> Iterator[DrawnChart]:
    """Yield the charts of a page whose numbers are in no other file."""
    if isinstance(page, DevicePage | RecordPage):
        for section in page.sections:
            if section.chart is not None:
                yield section.chart
            yield from section.curves
            for group in section.wearers.groups if section.wearers is not None else ():
                if group.chart is not None:
                    yield group.chart
    if isinstance(page, DevicePage) and page.configurations is not None:
        pairs = (pair for each in page.configurations.configurations for pair in each.pairs)
        yield from (pair.chart for pair in pairs if pair.chart is not None)
    if isinstance(page, InstrumentPage):
        yield from (check.chart for check in page.checks)
    if isinstance(page, ComparisonPage):
        yield from (chart for chart in (page.fit_chart, page.flow_chart) if chart is not None)


def _on_scale(mark: ScaleMark) -> DataRow:
    """Return value, limits of the interval, relation, and the second bound of a value between two."""
    if mark.at_least:
        return mark.value, None, None, "at least", mark.high
    return mark.value, mark.low, mark.high, "equal", None


def _scale_data(chart: ScaleChart) -> ChartData:
    rows: list[DataRow] = []
    heading = ""
    for row in chart.rows:
        heading = row.heading or heading
        for mark in row.marks:
            rows.append(("part" if mark.minor else "result", heading, row.label, mark.key, *_on_scale(mark)))
        if not row.marks:
            rows.append(("none", heading, row.label, row.note, *(None,) * 5))
    for landmark in chart.landmarks:
        what = "level" if landmark.high is None else "span"
        rows.append((what, "", landmark.text, landmark.key, landmark.low, None, None, "", landmark.high))
    return ChartData(("what", "group", "line", "key", _SCALE_VALUE[chart.kind], *_SCALE), tuple(rows))


def _wearer_data(chart: WearerChart) -> ChartData:
    donnings = ((row.letter, mark) for row in chart.rows for mark in row.marks)
    rows: list[DataRow] = [("donning", letter, mark.key, *_on_scale(mark)) for letter, mark in donnings]
    for what, summary in (("geometric mean", chart.mean), ("lower bound of the 5th percentile", chart.bound)):
        if summary is not None:
            rows.append((what, "", summary.key, *_on_scale(summary)))
    for landmark in chart.landmarks:
        what = "level" if landmark.high is None else "span"
        rows.append((what, "", landmark.key, landmark.low, None, None, "", landmark.high))
    return ChartData(("what", "wearer", "key", "fit_factor", *_SCALE), tuple(rows))


def _control_data(chart: ControlChart) -> ChartData:
    lines: list[DataRow] = [("line", line.key, "", line.value, "") for line in chart.lines]
    readings: list[DataRow] = [
        ("reading", mark.key, date.fromordinal(mark.day).isoformat(), mark.value, _place(mark)) for mark in chart.marks
    ]
    return ChartData(("what", "key", "date", _head("value", chart.unit), "lies"), (*readings, *lines))


def _place(mark: ControlMark) -> str:
    if mark.beyond_action:
        return "beyond an action limit"
    return "beyond a warning limit" if mark.beyond_warning else "within the warning limits"


def _head(name: str, unit: str) -> str:
    return f"{name} [{unit}]" if unit else name


def _axis_heads(axis: Axis) -> tuple[str, str, str]:
    name, unit = axis.title.lower(), unit_text(axis.unit)
    return _head(name, unit), _head(f"{name}, low", unit), _head(f"{name}, high", unit)


def _curve_data(chart: CurveChart) -> ChartData:
    x, y = _axis_heads(chart.x), _axis_heads(chart.y)
    rows = tuple(row for panel in chart.panels for row in _panel_rows(panel))
    return ChartData(("panel", "what", "name", "key", *x, *y), rows)


def _panel_rows(panel: Panel) -> Iterator[DataRow]:
    for mark in panel.marks:
        x, y = (mark.x, mark.x_low, mark.x_high), (mark.y, mark.y_low, mark.y_high)
        yield panel.heading, "point, limits of 95 %", mark.text, mark.key, *x, *y
    for level in panel.levels:
        y = level.value, level.low, level.high
        yield panel.heading, "level, limits of 95 %", level.text, level.key, None, None, None, *y
    for event in panel.events:
        yield panel.heading, "event", event.text, event.key, event.value, None, None, None, None, None
    for curve in panel.curves:
        for x_at, y_at in curve.points:
            yield panel.heading, "curve", curve.label, curve.key, x_at, None, None, y_at, None, None
    for area in panel.areas:
        for x_at, low, high in area.points:
            yield panel.heading, "area", area.label, area.key, x_at, None, None, None, low, high


def _named(chart: CurveChart) -> Table | None:
    """Return levels and events of a chart as a table, or None where it has none."""
    rows = []
    for panel in chart.panels:
        named = [(level.text, quantity_text(level.value, chart.y.unit, 3)) for level in panel.levels]
        named += [(event.text, quantity_text(event.value, chart.x.unit, 3)) for event in panel.events]
        rows += [Row((Cell(panel.heading or chart.title), Cell(text), Cell(value))) for text, value in named]
    if not rows:
        return None
    held = count_text(len(chart_data(chart).rows), "row")
    return Table(
        f"named-{chart.id}",
        f"What is named in the chart; the CSV file holds all its points, in {held}",
        (Column("Drawing"), Column("Name"), Column("Where", numeric=True)),
        tuple(rows),
    )
