"""The files with the numbers of charts, read back by another reader: nothing is rounded."""

from __future__ import annotations

import csv

from generator.rendering.chart_files import chart_files
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_test


def test_a_file_for_each_chart_read_back_as_it_was() -> None:
    site = shown(a_whole_catalogue(a_test((given(100.125),))))
    (record,) = site.records
    made = chart_files([(record.head.path, record), ("index.html", site.index)])
    assert list(made) == [f"charts/records/{record.id}.fit-scale.csv"]
    (content,) = made.values()
    # source: Python's csv module, which reads what RFC 4180 describes
    rows = list(csv.DictReader(content.decode().splitlines()))
    (overall,) = (row for row in rows if row["what"] == "result")
    assert (float(overall["fit_factor"]), overall["relation"]) == (100.125, "equal")
    assert content.count(b"\r\n") == len(rows) + 1
