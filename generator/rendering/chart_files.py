"""The numbers of charts as files, one for each chart of a page."""

from __future__ import annotations

from collections.abc import Iterable

from generator.presenting.chart_data import chart_data, charts_of, csv_path
from generator.rendering.spreadsheets import csv_bytes


def chart_files(pages: Iterable[tuple[str, object]]) -> dict[str, bytes]:
    """Return the files of all charts by their paths, from the pages that show them, each with its own path."""
    made: dict[str, bytes] = {}
    for path, page in pages:
        for chart in charts_of(page):
            data = chart_data(chart)
            made[csv_path(chart, path)] = csv_bytes(data.columns, data.rows)
    return made
