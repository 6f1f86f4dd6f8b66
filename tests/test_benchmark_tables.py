"""Tables of benchmarks of two days are held against each other by their ratios."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.measuring import Row, beside_earlier
from tests.bench.publish_rows import share_of_papers


@pytest.mark.parametrize(
    ("seconds", "apart", "verdict"),
    [
        (1.0, "0%", "agree"),
        (1.14, "14%", "agree"),
        (1.16, "16%", "DIFFER"),
        (0.86, "14%", "agree"),
        (0.84, "16%", "DIFFER"),
    ],
)
def test_ratios_agree_within_fifteen_percent_whatever_the_seconds(seconds: float, apart: str, verdict: str) -> None:
    earlier = [Row("publish", "21 devices", 20.0, 20.0).as_json(), Row("check", "one record", 1.0, 2.0).as_json()]
    (line,) = beside_earlier([Row("publish", "21 devices", seconds, 1.0)], earlier)
    assert line.split()[-2:] == [apart, verdict]


def test_a_row_without_a_floor_or_without_a_row_before_is_no_agreement() -> None:
    earlier = [Row("publish", "100 devices", 5.0).as_json()]
    (line,) = beside_earlier([Row("publish", "21 devices", 1.0, 1.0), Row("publish", "100 devices", 5.0)], earlier)
    assert line.endswith("1.00  not measured before")


def test_a_row_is_held_against_every_earlier_table_and_the_farthest_decides() -> None:
    earlier = [Row("check", "one record", seconds, 1.0).as_json() for seconds in (2.0, 2.5, 2.1)]
    (line,) = beside_earlier([Row("check", "one record", 2.0, 1.0)], earlier)
    assert line.split()[-5:] == ["2.00,", "2.50,", "2.10", "20%", "DIFFER"]


def test_a_share_of_the_papers_stands_for_all_of_them(tmp_path: Path) -> None:
    captured = tmp_path / "captured"
    for name in ("shared", *(f"{number:05}-paper" for number in range(10))):
        (captured / name).mkdir(parents=True)
    times = share_of_papers(captured, tmp_path / "share", 4)
    taken = sorted(path.name for path in (tmp_path / "share").iterdir())
    assert taken == ["00000-paper", "00004-paper", "00008-paper", "shared"]
    assert times == pytest.approx(10 / 3)
