"""Flow runs against breathing demand: coverage, intervals through the equations, stored air, findings, what governs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.breathing_result import BreathingResult, BreathingRun, BreathingSummary, Coverage, LevelResult
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.result import Relation
from generator.scoring.topics.breathing import BREATH_RESPONSIVE
from tests.scoring.builders import Data, a_catalogue, a_device, a_run, a_session, a_test, readings, score_all, score_one
from tests.scoring.oracle_over_breathing import mixed_share_step_by_step, share_by_quadrature

LOOSE, TIGHT = "loose_powered_hood", "tight_powered_full_facepiece"
AROUND_17 = [16.9, 17.2, 17.0, 17.1, 16.8]
AROUND_170 = [169.0, 171.0, 170.0, 169.5, 170.5]
HOOD: Data = {"volume": "2.1 L", "how": "filled with rice"}


def catalogue_of(*tests: DeviceTest, kind: str = LOOSE, **device: Any) -> Catalogue:
    bare = a_catalogue(*tests, device=a_device(kind, **device))
    return replace(bare, work_levels=load_reference().work_levels)


def scored(*runs: Data, kind: str = LOOSE, device: Data | None = None, **parts: Any) -> BreathingResult:
    test = a_test(flow=list(runs), **parts)
    found = score_one(test, catalogue_of(test, kind=kind, **(device or {}))).topics["breathing"]
    assert isinstance(found, BreathingResult)
    return found


def one_run(values: list[float], **parts: Any) -> BreathingRun:
    return scored(a_run(values), **parts).breathing_runs[0]


def level(run: BreathingRun, name: str) -> LevelResult:
    return next(each for each in run.levels if each.level == name)


def test_seventeen_litres_a_minute_are_over_breathed_at_rest() -> None:
    # source: scipy 1.17.1, integrate.quad of the half sine with the printed peak of 31 L/min at a minute volume of 8
    rest = level(one_run(AROUND_17), "very-light")
    share = share_by_quadrature(17.0, 31.0)
    assert share == pytest.approx(0.2931, abs=1e-4)
    assert rest.coverage is Coverage.OVER_BREATHED
    assert rest.share.value == pytest.approx(100 * share, rel=1e-9)
    assert rest.a_minute is not None
    assert rest.a_minute.value == pytest.approx(8 * share, rel=1e-9)
    assert rest.a_breath is not None
    # 20 breaths a minute are assumed.
    assert rest.a_breath.value == pytest.approx(8 * share / 20, rel=1e-9)
    assert rest.factor is not None
    assert rest.factor.value == pytest.approx(1 / share, rel=1e-9)


def test_the_usual_supply_covers_silent_breathing_and_not_speaking() -> None:
    run = one_run(AROUND_170)
    # source: shared reference: Q / pi is 54.1 L/min at 170 L/min; F is about 0.21 at a peak of 266 L/min
    assert run.covered_silent is not None
    assert run.covered_silent.value == pytest.approx(54.1, abs=0.05)
    assert [level(run, name).share.value for name in ("very-light", "light", "moderate", "cycling-silent")] == [0] * 4
    assert level(run, "cycling-speaking").share.value == pytest.approx(20.83, abs=0.005)
    assert level(run, "cycling-speaking").coverage is Coverage.OVER_BREATHED


def test_each_end_of_an_interval_is_that_of_the_supply_in_the_same_equation() -> None:
    run = one_run(AROUND_17)
    supply, rest = run.supply.interval, level(run, "very-light")
    assert supply is not None
    assert supply.low is not None
    assert supply.high is not None
    # source: scipy 1.17.1, integrate.quad: the share falls where the supply rises
    most, least = share_by_quadrature(supply.low, 31), share_by_quadrature(supply.high, 31)
    assert rest.share.interval is not None
    assert (rest.share.interval.low, rest.share.interval.high) == pytest.approx((100 * least, 100 * most), rel=1e-9)
    assert rest.a_breath is not None
    assert rest.a_breath.interval is not None
    assert rest.a_breath.interval.high == pytest.approx(8 * most / 20, rel=1e-9)
    assert rest.factor is not None
    assert rest.factor.interval is not None
    assert (rest.factor.interval.low, rest.factor.interval.high) == pytest.approx((1 / most, 1 / least), rel=1e-9)
    assert run.covered_silent is not None
    assert run.covered_silent.interval is not None
    assert run.covered_silent.interval.low == pytest.approx(supply.low / math.pi, rel=1e-12)


def test_the_printed_ratios_give_a_range() -> None:
    run = one_run([170.0])
    covered = run.covered_printed
    assert covered is not None
    assert covered.relation is Relation.AT_LEAST
    # source: printed pairs of minute volume and peak: 15 and 59, 80 and 192 L/min
    assert covered.value == pytest.approx(170 * 15 / 59, rel=1e-12)
    assert covered.other_bound == pytest.approx(170 * 80 / 192, rel=1e-12)
    assert run.covered_speaking is not None
    # source: Berndtsson 2004, abstract: 45.1 and 266 L/min while reading aloud
    assert run.covered_speaking.value == pytest.approx(170 * 45.1 / 266, rel=1e-12)


@pytest.mark.parametrize(
    ("values", "coverage"),
    [
        ([266.0 + step for step in (0, 4, 8)], Coverage.UNDECIDED),
        ([280.0, 280.1, 279.9], Coverage.COVERED),
        ([250.0, 250.1, 249.9], Coverage.OVER_BREATHED),
        # One reading has no interval: the mean alone decides.
        ([266.0], Coverage.COVERED),
        ([265.9], Coverage.OVER_BREATHED),
    ],
)
def test_coverage_goes_by_the_whole_interval(values: list[float], coverage: Coverage) -> None:
    assert level(one_run(values), "cycling-speaking").coverage is coverage


def test_a_level_that_is_covered_has_one_figure_and_no_interval_of_nothing() -> None:
    rest = level(one_run(AROUND_170, hood=HOOD), "very-light")
    assert (rest.share.value, rest.share.interval) == (0, None)
    assert rest.share.no_interval == "the whole interval of the supply lies at or above the peak"
    assert (rest.time, rest.a_minute, rest.a_breath, rest.factor, rest.mixed, rest.beyond) == (None,) * 6


def test_stored_air_is_a_range_between_what_the_lungs_may_return() -> None:
    run = one_run(AROUND_170, hood=HOOD)
    speaking = level(run, "cycling-speaking")
    supply = run.supply.interval
    assert supply is not None
    assert supply.low is not None
    assert supply.high is not None
    assert speaking.mixed is not None
    # source: scipy 1.17.1, integrate.solve_ivp breath after breath, at the ends of the supply's interval
    most = mixed_share_step_by_step(supply.low, 45.1, 266, 20, 2.1, 1)
    least = mixed_share_step_by_step(supply.high, 45.1, 266, 20, 2.1, 0)
    assert speaking.mixed.relation is Relation.AT_LEAST
    assert speaking.mixed.value == pytest.approx(1 / most, rel=1e-6)
    assert speaking.mixed.other_bound == pytest.approx(1 / least, rel=1e-6)
    # All of the 0.47 L over-breathed is stored: nothing comes from outside where that is used first.
    assert speaking.beyond is not None
    assert speaking.beyond.value == 0


def test_stored_air_counts_only_where_the_blower_fills_the_hood_anew() -> None:
    # By hand: 17 L/min supply 0.85 L in a whole breath, less than 2.1 L.
    found = level(one_run(AROUND_17, hood=HOOD), "very-light").beyond
    assert found is not None
    assert (found.value, found.not_scored) == (None, "the hood is not filled anew between breaths")


def test_without_a_volume_stored_air_is_not_scored_and_says_why() -> None:
    run = one_run(AROUND_17)
    assert run.stored is not None
    assert run.stored.not_scored == "the hood's volume is not on record"
    assert one_run(AROUND_17, hood=HOOD).stored is None
    assert one_run([300.0, 300.1, 299.9]).stored is None


def test_breaths_that_were_counted_take_the_place_of_the_assumption() -> None:
    run = one_run(AROUND_17, hood=HOOD | {"breaths_per_minute": 32.0})
    assert (run.breaths_per_minute, run.breaths_counted) == (32.0, True)
    found = level(run, "very-light").a_breath
    assert found is not None
    assert found.value == pytest.approx(8 * share_by_quadrature(17.0, 31.0) / 32, rel=1e-9)
    assumed = one_run(AROUND_17)
    # source: GB 30864-2014, breathing machine with the blower off: 20 a minute (seen)
    assert (assumed.breaths_per_minute, assumed.breaths_counted) == (20.0, False)


def test_a_tight_fitting_device_has_coverage_and_no_index() -> None:
    result = scored(a_run(AROUND_17), kind=TIGHT, hood=HOOD)
    rest = level(result.breathing_runs[0], "very-light")
    assert rest.share.value == pytest.approx(29.31, abs=0.005)
    assert (rest.factor, rest.mixed, rest.beyond, result.breathing_runs[0].stored) == (None,) * 4
    assert result.findings == ()


def test_a_device_that_follows_the_breath_is_not_scored() -> None:
    result = scored(a_run(AROUND_17), device={"breath_responsive": True})
    (figure,) = result.figures
    assert (figure.key, figure.value, figure.not_scored) == ("breathing.high.demand", None, BREATH_RESPONSIVE)
    assert result.findings == ()


def test_no_supply_at_all_is_all_from_outside() -> None:
    run = one_run([0.0, 0.0, 0.0], hood=HOOD)
    for each in run.levels:
        assert each.share.value == 100
        assert each.factor is not None
        assert each.factor.value == 1
        assert each.mixed is not None
        assert each.mixed.value == pytest.approx(1, rel=1e-9)


@pytest.mark.parametrize(
    ("values", "rules"),
    [
        # The printed peaks themselves are covered: 31, 59 and 266 L/min.
        ([30.9], ["over-breathed-at-rest"]),
        ([31.0], ["over-breathed-at-light-work"]),
        ([58.9], ["over-breathed-at-light-work"]),
        ([59.0], ["over-breathed-when-speaking"]),
        ([265.9], ["over-breathed-when-speaking"]),
        ([266.0], []),
    ],
)
def test_a_run_raises_the_most_basic_finding_only(values: list[float], rules: list[str]) -> None:
    assert [finding.rule for finding in scored(a_run(values)).findings] == rules


def test_findings_are_raised_for_each_run() -> None:
    found = scored(a_run([20.0]), a_run([40.0], id="low", setting="low")).findings
    assert [(each.rule, each.where) for each in found] == [
        ("over-breathed-at-rest", "flow[high]"),
        ("over-breathed-at-light-work", "flow[low]"),
    ]


def summary_of(catalogue: Catalogue) -> BreathingSummary:
    found = score_all(catalogue).devices["device"].topics["breathing"]
    assert isinstance(found, BreathingSummary)
    return found


def test_the_least_supply_among_protective_settings_governs() -> None:
    test = a_test(flow=[a_run([150.0]), a_run([160.0], id="other"), a_run([90.0], id="low", setting="low")])
    assert summary_of(catalogue_of(test)).governing_demand.run == "low"
    power = {"source": "battery", "energy": {"not_recorded": "no"}, "settings": ["low", "high"]}
    claimed = catalogue_of(test, power=power | {"protective_settings": ["high"]})
    assert (summary_of(claimed).governing_demand.run, summary_of(claimed).breathing_runs) == ("high", 3)


def test_without_runs_or_without_demands_there_is_nothing() -> None:
    test = a_test(flow=[a_run([150.0])])
    assert "breathing" not in score_one(test, a_catalogue(test, device=a_device(LOOSE))).topics
    unmeasured = a_test([a_session(readings(1, 1, 1))], hood=HOOD)
    assert "breathing" not in score_one(unmeasured, catalogue_of(unmeasured)).topics


def test_keys_are_unique_and_every_number_has_its_working() -> None:
    figures = scored(a_run(AROUND_17), a_run([80.0], id="low", setting="low"), hood=HOOD).figures
    assert len({figure.key for figure in figures}) == len(figures)
    for figure in figures:
        assert (figure.value is None) == (figure.working is None) == (figure.not_scored is not None)
        if figure.value is not None:
            assert (figure.interval is None) == (figure.no_interval is not None)
