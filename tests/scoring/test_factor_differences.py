"""Differences of two sets of fit factors: against a general library, in both directions, how often they are wrong."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import pytest
from scipy import stats

from generator.model.comparison_result import ComparedSession, FitConditions
from generator.model.difference_result import Apart, FactorDifference, People
from generator.model.fit_result import Basis
from generator.model.result import Figure, Relation
from generator.scoring.decided_differences import decided_together
from generator.scoring.difference_figures import Sides
from generator.scoring.factor_differences import factor_difference

SIDES = Sides("difference-one-two", "one as a multiple of two", "with one", "with two")
CONDITIONS = FitConditions(protocol="three", counter="condensation_particle_counter", blower="none")
LETTERS = [chr(ord("A") + number) for number in range(26)] + [f"A{chr(ord('A') + number)}" for number in range(26)]
Given = Mapping[str, Sequence[float]]


def a_session(
    wearer: str,
    factor: float,
    donning: int = 1,
    conditions: FitConditions | None = CONDITIONS,
    relation: Relation = Relation.EQUAL,
    as_given: bool = False,
) -> ComparedSession:
    overall = Figure(
        key=f"fit.{wearer.lower()}{donning}.overall",
        name="overall fit factor",
        value=factor,
        unit="1",
        relation=relation,
        no_interval="made for a test",
        sample_size=3,
        sample_of="exercises",
        method="overall-fit-factor",
    )
    return ComparedSession(
        record="record",
        session=f"{wearer.lower()}{donning}",
        wearer=wearer,
        donning=donning,
        conditions=conditions,
        blower=None,
        as_given=as_given,
        overall=overall,
    )


def worn(factors: Given) -> dict[str, list[ComparedSession]]:
    return {
        wearer: [a_session(wearer, factor, donning) for donning, factor in enumerate(values, start=1)]
        for wearer, values in factors.items()
    }


def one_each(values: Sequence[float], start: int = 0) -> dict[str, list[float]]:
    return {LETTERS[start + number]: [value] for number, value in enumerate(values)}


def difference(first: Given, second: Given) -> FactorDifference:
    (found,) = decided_together([factor_difference(SIDES, worn(first), worn(second))])
    return found


def value(figure: Figure | None) -> float:
    assert figure is not None
    assert figure.value is not None
    return figure.value


def limits(figure: Figure | None) -> tuple[float, float]:
    assert figure is not None
    assert figure.interval is not None
    assert figure.interval.low is not None
    assert figure.interval.high is not None
    return figure.interval.low, figure.interval.high


SEVEN = [100.0, 300.0, 150.0, 80.0, 220.0, 410.0, 95.0]
LOWER = [40.0, 90.0, 160.0, 30.0, 61.0, 120.0, 33.0]


def test_the_same_wearers() -> None:
    found = difference(one_each(SEVEN), one_each(LOWER))
    logs = np.log(SEVEN) - np.log(LOWER)
    # source: scipy 1.17.1: stats.ttest_1samp(logs, 0).confidence_interval(0.95)
    expected = stats.ttest_1samp(logs, 0).confidence_interval(0.95)
    # source: scipy 1.17.1: stats.permutation_test, permutation_type "samples", every pattern
    permuted = stats.permutation_test(
        (logs,), np.mean, permutation_type="samples", n_resamples=np.inf, vectorized=True
    ).pvalue
    assert found.people is People.SAME_WEARERS
    assert value(found.ratio) == pytest.approx(stats.gmean(SEVEN) / stats.gmean(LOWER))
    assert limits(found.ratio) == pytest.approx((math.exp(expected.low), math.exp(expected.high)))
    assert value(found.chance) == pytest.approx(float(permuted))
    assert value(found.least_chance) == 2 / 2**7  # source: definition, 2 of 128 patterns
    assert value(found.adjusted_chance) == value(found.chance)  # source: definition, one difference alone
    # source: scipy 1.17.1: stats.norm.cdf(mean / sd)
    better = float(stats.norm.cdf(np.mean(logs) / np.std(logs, ddof=1)))
    assert value(found.better_for_new_wearer) == pytest.approx(better)
    # source: scipy 1.17.1: each limit's noncentrality gives back what was found, stats.nct.cdf
    student = float(np.mean(logs) / np.std(logs, ddof=1) * math.sqrt(7))
    for limit, chance in zip(limits(found.better_for_new_wearer), (0.975, 0.025), strict=True):
        noncentrality = float(stats.norm.ppf(limit)) * math.sqrt(7)
        assert float(stats.nct.cdf(student, 6, noncentrality)) == pytest.approx(chance, abs=1e-6)


def test_other_wearers_and_those_who_wore_both_are_left_out() -> None:
    first, second = one_each(SEVEN), one_each(LOWER, start=5)  # F and G wore both
    found = difference(first, second)
    kept, others = SEVEN[:5], LOWER[2:]
    # source: scipy 1.17.1: stats.ttest_ind(log(first), log(second), equal_var=False), without F and G
    expected = stats.ttest_ind(np.log(kept), np.log(others), equal_var=False)
    interval = expected.confidence_interval(0.95)
    assert found.people is People.OTHER_WEARERS
    assert (found.wearers, found.first_only, found.second_only) == (
        ("F", "G"),
        ("A", "B", "C", "D", "E"),
        ("H", "I", "J", "K", "L"),
    )
    assert value(found.ratio) == pytest.approx(stats.gmean(kept) / stats.gmean(others))
    assert limits(found.ratio) == pytest.approx((math.exp(interval.low), math.exp(interval.high)))
    assert value(found.chance) == pytest.approx(float(expected.pvalue))
    assert (found.least_chance, found.better_for_new_wearer) == (None, None)
    assert (found.ratio.sample_size, found.ratio.sample_of) == (10, "wearers of one of the two only")


def test_several_donnings_of_a_wearer_weigh_as_one_with_other_wearers_too() -> None:
    # source: definition: a wearer's geometric mean; that of 10 and 1000 is 100
    twice = difference({"A": [10, 1000], "B": [300], "C": [150]}, {"D": [10], "E": [15], "F": [30]})
    once = difference({"A": [100], "B": [300], "C": [150]}, {"D": [10], "E": [15], "F": [30]})
    assert value(twice.ratio) == pytest.approx(value(once.ratio))
    assert value(twice.chance) == pytest.approx(value(once.chance))


OPPOSITE = {
    Apart.FIRST_HIGHER: Apart.SECOND_HIGHER,
    Apart.SECOND_HIGHER: Apart.FIRST_HIGHER,
    Apart.CANNOT_BE_TOLD_APART: Apart.CANNOT_BE_TOLD_APART,
}


@pytest.mark.parametrize("seed", range(12))
def test_both_directions_agree(seed: int) -> None:
    # source: the definition knows no first or second
    random = np.random.default_rng(seed)
    start = 7 * (seed % 2)  # the same wearers, then others
    first = one_each([float(each) for each in np.exp(random.normal(5, 0.5, 7))])
    second = one_each([float(each) for each in np.exp(random.normal(4.4, 0.5, 7))], start)
    one, other = difference(first, second), difference(second, first)
    assert value(one.ratio) * value(other.ratio) == pytest.approx(1)
    assert [low * high for low, high in zip(limits(one.ratio), limits(other.ratio)[::-1], strict=True)] == (
        pytest.approx([1, 1])
    )
    assert value(one.chance) == pytest.approx(value(other.chance), rel=1e-12)
    assert one.decision is not None
    assert other.decision is not None
    assert one.decision.apart is OPPOSITE[other.decision.apart]
    if start == 0:
        assert value(one.better_for_new_wearer) + value(other.better_for_new_wearer) == pytest.approx(1)


def test_probabilities_are_adjusted_for_the_differences_that_are_stated() -> None:
    found = decided_together(
        [
            factor_difference(SIDES, worn(one_each(SEVEN)), worn(one_each(LOWER))),
            factor_difference(SIDES, worn(one_each(SEVEN)), worn(one_each(LOWER[:1]))),
            factor_difference(SIDES, worn(one_each(SEVEN)), worn(one_each(LOWER, start=7))),
            factor_difference(SIDES, worn(one_each(SEVEN)), worn(one_each(SEVEN[::-1]))),
        ]
    )
    chances = [value(each.chance) for each in found if each.chance is not None]
    assert len(chances) == 3
    # source: Holm's steps by hand: smallest times 3, next times 2, last times 1
    order = sorted(chances)
    by_hand = dict(zip(order, np.minimum(1, np.maximum.accumulate(np.array(order) * [3, 2, 1])), strict=True))
    for each in found:
        if each.chance is None:
            assert (each.adjusted_chance, each.decision) == (None, None)
            continue
        assert value(each.adjusted_chance) == pytest.approx(by_hand[value(each.chance)])
        assert each.adjusted_chance is not None
        assert each.adjusted_chance.sample_size == 3


@pytest.mark.parametrize(("pairs", "apart"), [(5, Apart.CANNOT_BE_TOLD_APART), (6, Apart.FIRST_HIGHER)])
def test_five_pairs_cannot_tell_apart_and_six_can(pairs: int, apart: Apart) -> None:
    # source: definition: 2 of 32 patterns are more than 0.05, 2 of 64 are less
    found = difference(
        one_each([1000.0, 1100, 900, 1050, 950, 980][:pairs]), one_each([10.0, 11, 9, 10, 10, 10][:pairs])
    )
    assert found.decision is not None
    assert found.decision.apart is apart
    assert limits(found.ratio)[0] > 50


def test_a_new_wearer_needs_six_pairs_that_differ() -> None:
    few = difference(one_each(SEVEN[:5]), one_each(LOWER[:5])).better_for_new_wearer
    alike = difference(one_each(SEVEN), one_each([each / 3 for each in SEVEN])).better_for_new_wearer
    assert [found.not_scored for found in (few, alike) if found is not None] == [
        "5 wore both, and at least 6 are needed",
        "the ratio was the same on all wearers",
    ]


def test_more_pairs_than_the_exact_test_counts_leave_it_undecided() -> None:
    random = np.random.default_rng(1)
    factors = [float(each) for each in np.exp(random.normal(5, 1, 31))]
    found = difference(one_each(factors), one_each(factors[::-1]))
    assert found.chance is not None
    assert found.chance.not_scored == "all patterns of signs are counted for at most 30 wearers who wore both"
    assert (found.adjusted_chance, found.decision) == (None, None)
    assert found.ratio.value is not None


def changed(**said: object) -> dict[str, list[ComparedSession]]:
    session = a_session("A", 100.0)
    return worn(one_each(SEVEN)) | {"A": [session.model_copy(update=said)]}


BOUND = a_session("A", 100.0, relation=Relation.AT_LEAST).overall


@pytest.mark.parametrize(
    ("first", "reason"),
    [
        (changed(conditions=None), "the kind of counter is not on record"),
        (
            changed(conditions=CONDITIONS.model_copy(update={"basis": Basis.PARTIAL})),
            "the sessions are of a part of the protocol only, and parts are not set against one another",
        ),
        (
            changed(conditions=CONDITIONS.model_copy(update={"basis": Basis.OVERALL_ONLY})),
            "the sessions have an overall factor as it was given and nothing that it rests on",
        ),
        (changed(as_given=True), "the instrument gave factors without what they rest on"),
        (
            changed(overall=BOUND),
            "no particle was counted inside in a session, so that its factor is known as “at least” only",
        ),
    ],
    ids=["counter", "partial", "overall-only", "as-given", "at-least"],
)
@pytest.mark.parametrize("start", [0, 7], ids=["same", "others"])
def test_it_is_not_stated(first: dict[str, list[ComparedSession]], reason: str, start: int) -> None:
    found = factor_difference(SIDES, first, worn(one_each(LOWER, start)))
    assert found.ratio.not_scored == reason
    assert (found.people, found.chance, found.decision) == (None, None, None)


def test_what_is_wrong_with_a_wearer_who_is_left_out_does_not_matter() -> None:
    # A wore both, and only once with a bound: the others are compared without A.
    others = worn(one_each(LOWER, start=7)) | {"A": [a_session("A", 90.0)]}
    assert factor_difference(SIDES, changed(overall=BOUND), others).people is People.OTHER_WEARERS


def test_other_wearers_all_with_the_same_factor_show_no_scatter() -> None:
    found = difference(one_each([100.0] * 4), one_each(LOWER, start=4))
    assert found.ratio.not_scored == (
        "all wearers of one of the two had the same fit factor, so that no scatter is seen"
    )


@pytest.mark.parametrize(
    ("wearers", "overlap", "least"),
    [(8, 8, 0.005), (3, 0, 0.005), (8, 0, 0.01)],
    ids=["eight-pairs", "three-others-each", "eight-others-each"],
)
def test_devices_alike_are_hardly_ever_told_apart(wearers: int, overlap: int, least: float) -> None:
    # source: seeded simulation of four devices alike, six pairs decided together: any of them told apart is wrong
    random, runs, wrong = np.random.default_rng(20261125), 400, 0
    for _ in range(runs):
        people = random.normal(0, 0.8, 4 * wearers)
        devices = []
        for number in range(4):
            start = 0 if overlap else number * wearers
            logs = 5 + people[start : start + wearers] + random.normal(0, 0.5, wearers)
            devices.append(worn(one_each([float(each) for each in np.exp(logs)], start)))
        pairs = [factor_difference(SIDES, devices[i], devices[j]) for i in range(4) for j in range(i + 1, 4)]
        decided = [each.decision.apart for each in decided_together(pairs) if each.decision is not None]
        assert len(decided) == 6
        wrong += any(apart is not Apart.CANNOT_BE_TOLD_APART for apart in decided)
    assert least <= wrong / runs <= 0.05 + 3 * math.sqrt(0.05 * 0.95 / runs)
