"""What a device not worn all the time would leave: which factor it starts from, and when there is no such table."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from generator.model.device_test import DeviceTest
from generator.model.fit_result import Basis, FitGroup, FitSummary
from generator.model.meaning_result import OffTime
from generator.model.published import published
from generator.model.result import Figure, Interval, Relation
from generator.model.wearers_result import Carried, OverWearers
from generator.scoring.off_time import off_time
from tests.scoring.builders import Data, a_catalogue, a_session, a_test, readings, score_all

LINES = (Path(__file__).parent / "data" / "worked_effective_pf.csv").read_text(encoding="utf-8").splitlines()


def found(*tests: DeviceTest, **parts: Any) -> OffTime | None:
    return score_all(a_catalogue(*tests, **parts)).devices["device"].meaning.off_time


def given(factor: float, **changes: Any) -> Data:
    return a_session(readings(factor, factor, factor), **changes)


def a_figure(value: float, low: float | None = None, relation: Relation = Relation.EQUAL) -> Figure:
    limits = None if low is None else Interval(low=low, high=None, coverage=0.95, method="m", covers="counting")
    return Figure(
        key="fit.am.overall",
        name="overall",
        value=value,
        unit="1",
        relation=relation,
        interval=limits,
        sample_size=3,
        sample_of="exercises",
        method="m",
    )


def of_groups(*groups: FitGroup) -> OffTime | None:
    summary = FitSummary(
        findings=(),
        wearers=("A",),
        donnings=1,
        completed=1,
        aborted=0,
        voided=0,
        not_counted=0,
        withdrawn=0,
        lowest=None,
        lowest_record=None,
        highest=None,
        highest_record=None,
        groups=groups,
    )
    return off_time(summary, published(a_catalogue()))


def a_group(figure: Figure, record: str = "test", **changes: Any) -> FitGroup:
    data: Data = {
        "configuration": "as_supplied",
        "protocol": "three-exercises",
        "blower": None,
        "wearers": ("A",),
        "donnings": 1,
        "lowest": figure,
        "lowest_record": record,
        "highest": figure,
        "highest_record": record,
        "number": 1,
        "over_wearers": OverWearers(carried=Carried.ONE_WEARER, donnings=()),
    }
    return FitGroup(**data | changes)


@pytest.mark.parametrize("protection", [10.0, 25.0, 100.0, 1000.0])
def test_the_rows_are_those_worked_out_elsewhere(protection: float) -> None:
    # source: data/worked_effective_pf.csv, computed by itself; its row 10, 0.2 is printed as 3.6 (seen)
    worked = {
        float(row["f_off"]): float(row["EPF"]) for row in csv.DictReader(LINES[1:]) if float(row["PF"]) == protection
    }
    result = found(a_test([given(protection)]))
    assert result is not None
    rows = {row.share_off: row.protection for row in result.rows}
    assert list(rows) == [0.0, 0.01, 0.05, 0.1, 0.25]
    shared = set(rows) & set(worked)
    assert len(shared) >= 3
    for share in shared:
        assert rows[share] == pytest.approx(worked[share], rel=1e-4)


def test_worn_all_the_time_leaves_what_was_assumed_and_never_more_than_the_bound() -> None:
    result = found(a_test([given(1e6)]))
    assert result is not None
    first, *others = result.rows
    assert first.protection == pytest.approx(1e6, rel=1e-12)
    assert first.most is None
    # source: 1 / 0.01, 1 / 0.05, 1 / 0.1 and 1 / 0.25 by hand
    assert [row.most for row in others] == pytest.approx([100, 20, 10, 4], rel=1e-12)
    assert all(row.most is not None and 0.99 * row.most < row.protection < row.most for row in others)


def test_more_time_off_never_leaves_more() -> None:
    result = found(a_test([given(50.0)]))
    assert result is not None
    left = [row.protection for row in result.rows]
    assert left == sorted(left, reverse=True)


def test_it_starts_from_the_lower_limit_of_the_lowest_factor() -> None:
    result = found(a_test([a_session(readings(30, 40, 50)), a_session(readings(3, 4, 5), id="pm", donning=2)]))
    assert result is not None
    assert result.overall.interval is not None
    assert (result.record, result.overall.key, result.from_limit) == ("test", "fit.am.overall", True)
    assert result.assumed == result.overall.interval.low
    assert result.overall.value is not None
    assert result.assumed < result.overall.value


def test_without_an_interval_it_starts_from_the_factor() -> None:
    result = found(a_test([given(80.0)]))
    assert result is not None
    # source: the harmonic mean of three equal factors is that factor
    assert result.assumed == pytest.approx(80.0, rel=1e-12)
    assert not result.from_limit


def test_a_bound_is_taken_as_it_stands() -> None:
    result = of_groups(a_group(a_figure(200.0, relation=Relation.AT_LEAST)))
    assert result is not None
    assert (result.assumed, result.from_limit) == (200.0, False)


def test_the_lowest_of_several_groups() -> None:
    result = of_groups(
        a_group(a_figure(300.0, low=200.0), "first", blower="high"),
        a_group(a_figure(250.0, low=240.0), "second", blower="off"),
    )
    assert result is not None
    assert (result.record, result.blower, result.assumed) == ("second", "off", 240.0)


@pytest.mark.parametrize(
    "group",
    [
        a_group(a_figure(100.0), configuration="modified: with a clip"),
        a_group(a_figure(100.0), basis=Basis.PARTIAL),
        a_group(a_figure(100.0), basis=Basis.OVERALL_ONLY),
        # A factor from a pressure is no ratio of concentrations.
        a_group(a_figure(100.0), protocol="controlled-negative-pressure-redonning"),
        # Nothing to lose: no fewer particles inside than outside, as far as the lower limit says.
        a_group(a_figure(1.0)),
        a_group(a_figure(1.3, low=0.9)),
    ],
    ids=["modified", "partial", "overall only", "pressure", "factor of 1", "limit below 1"],
)
def test_what_carries_no_such_table(group: FitGroup) -> None:
    assert of_groups(group) is None
    better = of_groups(group, a_group(a_figure(100.0), "other"))
    nothing_to_lose = group.lowest.value is not None and group.lowest.value < 2
    assert (better is None) if nothing_to_lose else (better is not None and better.record == "other")


def test_nobody_wore_it() -> None:
    assert found() is None
    assert found(a_test([a_session([], outcome="aborted", reason="the strap tore")])) is None
