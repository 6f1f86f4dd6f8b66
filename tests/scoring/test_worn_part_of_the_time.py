"""The what-if of a device that is off for a part of the time."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.worn_part_of_the_time import hypothetical_protection

LINES = (Path(__file__).parent / "data" / "worked_effective_pf.csv").read_text(encoding="utf-8").splitlines()


@pytest.mark.parametrize("row", list(csv.DictReader(LINES[1:])), ids=lambda row: f"{row['PF']}-{row['f_off']}")
def test_worked_table(row: dict[str, str]) -> None:
    # source: data/worked_effective_pf.csv, computed by itself; its row 10, 0.2 is printed as 3.6 (seen)
    assert hypothetical_protection(float(row["PF"]), float(row["f_off"])) == pytest.approx(float(row["EPF"]), rel=1e-4)


@given(st.floats(1, 1e5), st.floats(0, 1))
def test_it_lies_between_none_and_all_and_below_what_the_time_off_allows(protection: float, share: float) -> None:
    # source: definition: between 1 and the protection while worn; however good the device, never above 1 / f
    found = hypothetical_protection(protection, share)
    assert 1 - 1e-12 <= found <= protection * (1 + 1e-12)
    assert found * share <= 1 + 1e-12


@pytest.mark.parametrize(
    ("protection", "share", "message"),
    [
        (0.0, 0.1, "protection while worn: found 0"),
        (10.0, -0.1, "share of time off: found -0.1"),
        (10.0, 1.5, "share of time on: found -0.5"),
    ],
)
def test_outside_its_range(protection: float, share: float, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        hypothetical_protection(protection, share)
