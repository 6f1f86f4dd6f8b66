"""Which statement the donnings of a group carry, and its figures."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.model.result import Figure, Relation
from generator.model.wearers_result import Carried, OverWearers
from tests.scoring.builders import a_session, a_test, readings
from tests.scoring.test_methods import METHODS, check_symbols, methods_used
from tests.scoring.wearer_builders import NOTHING_COUNTED, donned, groups_of, one_each, over

EIGHT = (19.7, 39.2, 7.8, 12.8, 10.2, 7.2, 16.1, 5.7)
"""USEPA 2009, Unified Guidance, Example 17-3, as a help page carries it."""
YIELDS = (
    *(5126.839779827, 4876.800853272, 5666.034226298, 8452.729796472, 5389.698476283, 9341.711149413),
    *(1886.058953178, 1794.074772606, 8452.729796472, 2303.637607465, 8452.729796472, 11994.994551201),
    *(3798.056323412, 12609.991072866, 11409.991763828, 3992.786835211),
)
"""Sixteen dyestuff yields (Davies 1947) as exp(yield / 100) / 1000."""
BATCHES = "ABBCCCDDDDEEEEEF"


def in_batches() -> dict[str, list[float | str]]:
    found: dict[str, list[float | str]] = {}
    for factor, batch in zip(YIELDS, BATCHES, strict=True):
        found.setdefault(batch.lower(), []).append(factor)
    return found


def value(figure: Figure | None) -> float:
    assert figure is not None
    assert figure.value is not None
    return figure.value


def ends(figure: Figure | None) -> tuple[float, float]:
    assert figure is not None
    assert figure.interval is not None
    assert figure.interval.low is not None
    assert figure.interval.high is not None
    return figure.interval.low, figure.interval.high


def test_one_donning_each() -> None:
    found = over(one_each(*EIGHT))
    assert found.carried is Carried.ONE_DONNING_EACH
    # source: the example's mean and deviation of the logarithms, 2.5085773 and 0.6279479
    assert value(found.mean) == pytest.approx(math.exp(2.5085773), rel=1e-6)
    assert value(found.between) == pytest.approx(math.exp(0.6279479), rel=1e-6)
    # source: R 4.2.2: exp(mean(log(x)) - qt(0.95, 7, qnorm(0.95) * sqrt(8)) / sqrt(8) * sd(log(x)))
    assert value(found.bound) == pytest.approx(1.660506886267, rel=1e-6)
    # source: R 4.2.2: shapiro.test(log(x))$p.value
    assert value(found.log_normality) == pytest.approx(0.7753088511, rel=1e-6)
    assert (found.within, found.log_normal_doubtful, found.level_of_all, found.wearers_needed) == (
        None,
        False,
        None,
        None,
    )
    assert [(figure.sample_size, figure.sample_of) for figure in found.figures] == [(8, "wearers")] * 5


def test_several_donnings_unequally_often() -> None:
    found = over(in_batches())
    assert found.carried is Carried.SEVERAL_DONNINGS
    # source: R 4.2.2, nlme 3.1-162: lme(y ~ 1, random = ~ 1 | batch); the mean divided by 1000
    assert value(found.mean) == pytest.approx(5385.990298982, rel=1e-6)
    assert value(found.between) == pytest.approx(1.458383232950, rel=1e-6)
    assert value(found.within) == pytest.approx(1.655179220092, rel=1e-6)
    # source: R 4.2.2: independent script, quantiles of 4e7 draws, seed 20240702
    assert ends(found.between) == pytest.approx((1.0, 2.516185254555), rel=2e-4)
    assert (found.mean.sample_size, found.mean.sample_of) == (6, "wearers") if found.mean else False
    assert (found.within.sample_size, found.within.sample_of) == (16, "donnings") if found.within else False
    assert found.bound is not None
    assert found.bound.relation is Relation.AT_LEAST
    assert value(found.bound) < value(found.percentile) < value(found.mean)


def test_one_wearer_says_nothing_of_others() -> None:
    found = over({"wren": [120.0, 340.0, 95.0]})
    assert found.carried is Carried.ONE_WEARER
    # source: R 4.2.2: exp(mean(log(c(120, 340, 95))))
    assert value(found.mean) == pytest.approx(157.0825427721, rel=1e-9)
    assert [figure.key for figure in found.figures] == ["wearers.1.mean"]
    assert found.mean is not None
    assert found.mean.no_interval == "with one wearer, nothing follows for others"


@pytest.mark.parametrize("factors", [[120.0], [120.0, NOTHING_COUNTED]])
def test_one_wearer_without_a_mean(factors: list[float | str]) -> None:
    assert over({"wren": factors}).figures == ()


@pytest.mark.parametrize(
    ("factors", "carried", "reason"),
    [
        (
            one_each(150.0, 150.0, 150.0),
            Carried.ONE_DONNING_EACH,
            "the results are all the same, so that they show no spread",
        ),
        (
            {"a": [100.0, 100.0], "b": [200.0, 200.0]},
            Carried.SEVERAL_DONNINGS,
            "no wearer had two different results, so that the spread within one wearer is not known",
        ),
        (
            {"a": [100.0, 200.0], "b": [200.0, 100.0]},
            Carried.SEVERAL_DONNINGS,
            "the wearers' means are all the same, so that no bound follows",
        ),
        (
            one_each(12.0, 900.0),
            Carried.ONE_DONNING_EACH,
            # source: ln(GM) / ln(GSD) is 1.52 by hand, less than the normal quantile 1.645 that k falls to
            "not enough wearers to say, and not even a thousand with this spread would do",
        ),
        (
            one_each(30.0, 500.0),
            Carried.ONE_DONNING_EACH,
            # source: ln(GM) / ln(GSD) is 2.418 by hand; published factors: 2.423 for 19 (from memory), 2.396 for 20
            "not enough wearers to say; 20 with this spread would do",
        ),
    ],
)
def test_no_bound_with_its_reason(factors: dict[str, list[float | str]], carried: Carried, reason: str) -> None:
    found = over(factors)
    assert found.carried is carried
    assert found.bound is not None
    assert found.bound.value is None
    assert found.bound.not_scored == reason


def test_where_nothing_is_modelled_the_level_of_all_stands() -> None:
    found = over(one_each(150.0, 150.0, 150.0))
    assert value(found.level_of_all) == 150
    # source: 0.05^(1/3), by hand
    assert value(found.share_above) == pytest.approx(0.05 ** (1 / 3), rel=1e-12)


def test_bounds_among_single_donnings_are_fitted_by_likelihood() -> None:
    found = over(one_each(9.0, 13.0, 18.0, 23.0, 31.0, NOTHING_COUNTED))
    assert found.carried is Carried.ONE_DONNING_EACH_WITH_BOUNDS
    assert found.donnings[-1].bound
    # source: the geometric mean of the five that were measured and the bound, which every likelihood must exceed
    assert value(found.mean) > math.exp(sum(math.log(each.least) for each in found.donnings) / 6)
    assert (found.percentile, found.bound) == (None, None)
    assert value(found.level_of_all) == 9


@pytest.mark.parametrize(
    ("factors", "carried"),
    [
        (one_each(9.0, NOTHING_COUNTED, NOTHING_COUNTED), Carried.ONE_DONNING_EACH_WITH_BOUNDS),
        ({"a": [9.0, 20.0], "b": [13.0, NOTHING_COUNTED]}, Carried.SEVERAL_DONNINGS_WITH_BOUNDS),
        (one_each(NOTHING_COUNTED, NOTHING_COUNTED), Carried.BOUNDS_ONLY),
    ],
)
def test_else_bounds_leave_only_what_the_mean_is_at_least(
    factors: dict[str, list[float | str]], carried: Carried
) -> None:
    found = over(factors)
    assert found.carried is carried
    assert found.mean is not None
    assert found.mean.relation is Relation.AT_LEAST
    by_wearer: dict[str, list[float]] = {}
    for each in found.donnings:
        by_wearer.setdefault(each.wearer, []).append(math.log(each.least))
    # source: definition, each wearer counting once
    expected = math.exp(sum(sum(logs) / len(logs) for logs in by_wearer.values()) / len(by_wearer))
    assert value(found.mean) == pytest.approx(expected, rel=1e-12)
    assert [figure.key.split(".")[2] for figure in found.figures] == ["mean", "level-of-all", "share-above"]


def test_results_that_are_not_log_normal_carry_no_percentile() -> None:
    # source: the weights of eleven men of Shapiro and Wilk 1965 as exp(weight / 50); R 4.2.2: p = 0.0067038140565
    weights = (148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236)
    found = over(one_each(*(math.exp(weight / 50) for weight in weights)))
    assert value(found.log_normality) == pytest.approx(0.0067038140565, rel=1e-6)
    assert found.log_normal_doubtful
    assert found.bound is not None
    assert found.bound.not_scored == "the results do not look log-normal, and this would rest on their being so"
    assert value(found.level_of_all) == pytest.approx(math.exp(148 / 50), rel=1e-12)
    # source: scipy 1.17.1: stats.beta.ppf(0.05, 11, 1)
    assert value(found.share_above) == pytest.approx(0.761596, rel=1e-6)


def test_seven_wearers_are_too_few_to_test_the_model() -> None:
    assert over(one_each(*EIGHT[:7])).log_normality is None


def test_the_first_donning_is_the_oldest_not_the_lowest() -> None:
    later = {"received": "2025-05-01", "performed": "2025-06-20", "issued": "2025-07-01"}
    new = a_test(donned({"a": [40.0, 90.0], "b": [400.0]}), id="a-later-one", dates=later)
    old = a_test(donned({"a": [500.0, 60.0]}), id="test")
    (group,) = groups_of(new, old)
    assert [(each.wearer, each.record, each.least) for each in group.over_wearers.donnings] == [
        ("A", "test", 500.0),
        ("A", "test", 60.0),
        ("A", "a-later-one", 40.0),
        ("A", "a-later-one", 90.0),
        ("B", "a-later-one", 400.0),
    ]


def test_a_session_left_out_by_the_record_does_not_count() -> None:
    rule = {"choice": "without_first_of_each_wearer", "stated": "2025-05-01", "why": "The first donning is practice."}
    (group,) = groups_of(a_test(donned({"a": [3.0, 90.0], "b": [2.0, 60.0]}), session_rule=rule))
    assert [each.least for each in group.over_wearers.donnings] == [90.0, 60.0]
    assert group.over_wearers.carried is Carried.ONE_DONNING_EACH


def test_two_sessions_of_one_donning_are_one_result() -> None:
    sessions = donned({"a": [100.0], "b": [150.0]})
    again = a_session(readings(80.0, 80.0, 80.0), id="again", wearer="a", donning=1, filter="loaded")
    (group,) = groups_of(a_test([*sessions, again]))
    assert [each.least for each in group.over_wearers.donnings] == [80.0, 150.0]
    assert group.over_wearers.sessions_of_a_donning == 1


@pytest.mark.parametrize(
    "factors",
    [
        one_each(*EIGHT),
        one_each(9.0, 13.0, 18.0, NOTHING_COUNTED),
        one_each(NOTHING_COUNTED, NOTHING_COUNTED),
        in_batches(),
        {"a": [9.0, 20.0], "b": [13.0, NOTHING_COUNTED]},
        {"a": [9.0, 20.0]},
    ],
    ids=str,
)
def test_every_figure_leads_to_its_donnings(factors: dict[str, list[float | str]]) -> None:
    found = over(factors)
    keys = {f"devices/device: {figure.key}" for figure in found.figures}
    places = {f"{each.record}: {each.factor.key}" for each in found.donnings}
    named = set()
    for figure in found.figures:
        assert set(methods_used(figure)) <= set(METHODS)
        assert (figure.value is None) == (figure.not_scored is not None)
        for working in (figure.working, figure.interval.working if figure.interval else None):
            if working is None:
                continue
            check_symbols(working)
            for item in working.inputs:
                inner = item.working.inputs if item.working else ()
                wheres = {each.where for each in (item, *inner)}
                named |= wheres & places
                # What names another figure names one that is there.
                assert {where for where in wheres if where.startswith("devices/")} <= keys
    assert named == places


FACTORS = st.lists(st.floats(min_value=20, max_value=1e4), min_size=3, max_size=6, unique_by=lambda x: round(x, 2))


def bound_of(found: OverWearers) -> float:
    return found.bound.value if found.bound is not None and found.bound.value is not None else 0.0


@settings(max_examples=20, deadline=None)
@given(factors=FACTORS, share=st.floats(min_value=0.1, max_value=0.95))
def test_lowering_every_factor_lowers_mean_and_bound(factors: Sequence[float], share: float) -> None:
    before, after = over(one_each(*factors)), over(one_each(*(factor * share for factor in factors)))
    assert value(after.mean) < value(before.mean)
    assert bound_of(after) <= bound_of(before)


@settings(max_examples=10, deadline=None)
@given(factors=FACTORS)
def test_more_wearers_of_the_same_results_never_lower_the_bound(factors: Sequence[float]) -> None:
    few, many = over(one_each(*factors)), over(one_each(*(list(factors) * 2)))
    assume(not many.log_normal_doubtful)
    assert bound_of(many) >= bound_of(few)


@pytest.mark.parametrize("lowered", [0.9, 0.5, 0.1])
def test_lowering_every_donning_lowers_mean_and_bound(lowered: float) -> None:
    before = over(in_batches())
    after = over({wearer: [float(each) * lowered for each in factors] for wearer, factors in in_batches().items()})
    assert value(after.mean) == pytest.approx(value(before.mean) * lowered, rel=1e-9)
    assert value(after.bound) == pytest.approx(value(before.bound) * lowered, rel=1e-6)


def test_more_wearers_who_don_alike_raise_the_bound() -> None:
    pairs: list[list[float | str]] = [[120.0, 160.0], [240.0, 300.0], [75.0, 90.0]]
    three, six = (over({f"w{number:02}": pairs[number % 3] for number in range(wearers)}).bound for wearers in (3, 6))
    assert value(six) > value(three)
