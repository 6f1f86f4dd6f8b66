"""Tables of benchmarks of two days are held against each other by their ratios."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.measuring import Row, beside_earlier
from tests.bench.publish_rows import papers_of_floor


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


@pytest.mark.parametrize(("rounds", "parts"), [(3, [range(10)]), (1, [range(0, 10, 2), range(1, 10, 2)])])
def test_a_floor_is_of_all_papers_and_in_one_round_half_of_it_is_after_our_publish(
    tmp_path: Path, rounds: int, parts: list[range]
) -> None:
    for name in ("shared", *(f"{number:05}-paper" for number in range(10))):
        (tmp_path / name).mkdir()
    found = papers_of_floor(tmp_path, rounds)
    assert [[int(path.name[:5]) for path in part] for part in found] == [list(part) for part in parts]
