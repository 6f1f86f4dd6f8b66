"""Verdicts in words: outcome, reason, rule, comparison, and the notes beside a figure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.model.flow_run import FilterState
from generator.model.reference import Bound, Criterion, CriterionQuantity, DecisionRule
from generator.model.result import Figure, Interval, Outcome, Relation, Verdict
from generator.presenting.context import Context
from generator.presenting.figures import comparison_text, figure_view, outcome_text, probability_text, verdict_view
from generator.presenting.reference_pages import present_requirements
from generator.scoring.requirements import Spread, verdict_on
from tests.presenting.small_sites import STANDARD, a_whole_catalogue, context_of, given, record_page
from tests.scoring.builders import Data, a_device, a_run, a_session, a_test, readings

FLOW, FIT = "supply-flow-loose-fitting", "fit-test-pass-half-facepiece"
NARROW = "\N{NARROW NO-BREAK SPACE}"
LOOSE = "loose_powered_hood"
GUARDED = "Decided by the guarded rule: the whole interval must lie on the right side."


@pytest.fixture(scope="module")
def context() -> Context:
    return context_of(a_whole_catalogue())


def a_verdict(outcome: Outcome, criterion: str | None = FLOW, figure: str = "flow.a.mean", **parts: object) -> Verdict:
    data = {"key": "k", "figure": figure, "criterion": criterion, "outcome": outcome, "rule": None, "reason": "why"}
    return Verdict.model_validate(data | parts)


def a_figure(value: float | None = 10.0, **parts: object) -> Figure:
    data: Data = {
        "key": "fit.am.overall",
        "name": "overall fit factor",
        "value": value,
        "unit": "1",
        "sample_size": 7,
        "sample_of": "exercises",
        "method": "overall-fit-factor",
    }
    return Figure.model_validate(data | parts)


def an_upper_limit(quantity: str, unit: str, **changes: object) -> Criterion:
    """Return an invented limit from above."""
    of_flow = context_of(a_whole_catalogue()).catalogue.criteria[FLOW]
    data = {
        "id": "upper",
        "title": "Upper limit",
        "quantity": quantity,
        "limit": 80.0,
        "unit": unit,
        "bound": "at_most",
    }
    return Criterion.model_validate(of_flow.model_dump() | coerced(data | changes))


def coerced(data: dict[str, object]) -> dict[str, object]:
    """Return the data with words as members of their lists, as a file would be read."""
    kinds = {"quantity": CriterionQuantity, "bound": Bound, "filter": FilterState}
    return {name: kinds[name](str(value)) if name in kinds else value for name, value in data.items()}


def with_criterion(criterion: Criterion) -> Context:
    catalogue = a_whole_catalogue()
    return context_of(replace(catalogue, criteria={**catalogue.criteria, criterion.id: criterion}))


# wording: fixed here
@pytest.mark.parametrize(
    ("quantity", "unit"),
    [("inhalation_resistance", "Pa"), ("exhalation_resistance", "Pa"), ("noise", "dB(A)")],
)
def test_outcomes_against_an_upper_limit(quantity: str, unit: str) -> None:
    context = with_criterion(an_upper_limit(quantity, unit))
    words = {
        benchmark: [
            outcome_text(a_verdict(outcome, "upper", "burden.a.mean", benchmark_only=benchmark), context)
            for outcome in (Outcome.MEETS, Outcome.DOES_NOT_MEET, Outcome.UNDECIDED)
        ]
        for benchmark in (False, True)
    }
    assert words == {
        False: ["meets the requirement", "does not meet the requirement", "undecided"],
        True: ["below the benchmark", "above the benchmark", "undecided"],
    }


def test_outcomes_of_other_lower_limits_are_named_like_those_of_flows() -> None:
    context = with_criterion(an_upper_limit("speech", "1", bound="at_least", limit=0.7))
    assert outcome_text(a_verdict(Outcome.MEETS, "upper", "burden.a.share"), context) == "meets the requirement"
    above = a_verdict(Outcome.MEETS, "upper", "burden.a.share", benchmark_only=True)
    assert outcome_text(above, context) == "above the benchmark"
    assert outcome_text(a_verdict(Outcome.NOT_APPLICABLE, None, "burden.a.share"), context) == "not compared"


@pytest.mark.parametrize(
    ("changes", "facts"),
    [
        ({}, {"Limit": f"at most 80{NARROW}Pa"}),
        ({"bound": "at_least"}, {"Limit": f"at least 80{NARROW}Pa"}),
        (
            {"filter": "new", "conditions": "at 95 L/min of 20 degC and 101.3 kPa"},
            {
                "Limit": f"at most 80{NARROW}Pa",
                "State of the filter": "new",
                "Conditions of its method": "at 95 L/min of 20 degC and 101.3 kPa",
            },
        ),
    ],
)
def test_a_requirement_is_shown_with_its_side_and_conditions(changes: Data, facts: dict[str, str]) -> None:
    page = present_requirements(with_criterion(an_upper_limit("inhalation_resistance", "Pa", **changes)))
    (shown,) = (criterion for criterion in page.criteria if criterion.id == "upper")
    told = {fact.term: fact.text for fact in shown.facts}
    assert told.items() >= facts.items()
    assert ("Conditions of its method" in told) == ("conditions" in changes)
    assert ("State of the filter" in told) == ("filter" in changes)
    assert told["Decided by"] == "guarded: the whole 95 % interval must lie on one side"


def test_an_upper_limit_without_the_guarded_rule_is_refused() -> None:
    with pytest.raises(ValueError, match="decision_rule: plain"):
        an_upper_limit("noise", "dB(A)", decision_rule=DecisionRule.PLAIN)


def test_the_words_of_an_upper_limit_on_its_verdict() -> None:
    context = with_criterion(an_upper_limit("inhalation_resistance", "Pa"))
    interval = Interval(low=60.0, high=70.0, coverage=0.95, method="overall-counting-interval", covers="c")
    figure = a_figure(65.0, key="burden.a.drop", unit="Pa", interval=interval)
    verdict = verdict_on("v", figure, context.catalogue.criteria["upper"], Spread(2.5, None))
    view = verdict_view(verdict, figure, context)
    assert view.outcome == "meets the requirement"
    assert view.sentence == (
        f"The whole interval lies at or below the limit. {GUARDED} The probability that the true value conforms is "
        f"above 99.9{NARROW}%."
    )
    assert view.requirement is not None
    assert view.requirement.href == "requirements.html#upper"
    # source: 65 of 80 by arithmetic, to two digits
    assert comparison_text(verdict) == f"81{NARROW}% of the 80{NARROW}Pa"


# wording: fixed here
@pytest.mark.parametrize(
    ("outcome", "criterion", "figure", "benchmark", "words"),
    [
        (Outcome.MEETS, FLOW, "flow.a.mean", False, "meets the requirement"),
        (Outcome.DOES_NOT_MEET, FLOW, "flow.a.mean", False, "does not meet the requirement"),
        (Outcome.UNDECIDED, FLOW, "flow.a.mean", False, "undecided"),
        (Outcome.NOT_APPLICABLE, None, "flow.a.mean", False, "not compared"),
        (Outcome.MEETS, FLOW, "flow.a.mean", True, "above the benchmark"),
        (Outcome.DOES_NOT_MEET, FLOW, "flow.a.mean", True, "below the benchmark"),
        (Outcome.UNDECIDED, FLOW, "flow.a.mean", True, "undecided"),
        (Outcome.NOT_APPLICABLE, FLOW, "flow.a.mean", True, "not compared"),
        (Outcome.MEETS, FIT, "fit.a.overall", False, "level reached"),
        (Outcome.DOES_NOT_MEET, FIT, "fit.a.overall", False, "level not reached"),
        (Outcome.UNDECIDED, FIT, "fit.a.overall", False, "undecided"),
        (Outcome.NOT_APPLICABLE, None, "fit.a.overall", False, "no fit-test pass level applies"),
    ],
)
def test_outcomes(
    outcome: Outcome, criterion: str | None, figure: str, benchmark: bool, words: str, context: Context
) -> None:
    assert outcome_text(a_verdict(outcome, criterion, figure, benchmark_only=benchmark), context) == words


@pytest.mark.parametrize(
    ("ratio", "limit", "words"),
    [
        (0.1, 170.0, f"one tenth of the 170{NARROW}L/min"),
        (0.057, 170.0, f"5.7{NARROW}% of the 170{NARROW}L/min"),
        (1.18, 115.0, f"1.18 times the 115{NARROW}L/min"),
        (None, 170.0, None),
        (0.1, None, None),
    ],
)
def test_comparisons(ratio: float | None, limit: float | None, words: str | None) -> None:
    assert comparison_text(a_verdict(Outcome.UNDECIDED, ratio=ratio, limit=limit, unit="L/min")) == words


@pytest.mark.parametrize(
    ("probability", "words"),
    [
        (0.0, f"below 0.1{NARROW}%"),
        (0.00099, f"below 0.1{NARROW}%"),
        (0.05, f"5.0{NARROW}%"),
        (0.5, f"50{NARROW}%"),
        (0.9501, f"95.0{NARROW}%"),
        (0.99901, f"above 99.9{NARROW}%"),
        (1.0, f"above 99.9{NARROW}%"),
    ],
)
def test_a_probability_is_never_shown_as_certainty(probability: float, words: str) -> None:
    assert probability_text(probability) == words


@pytest.mark.parametrize(
    ("values", "outcome", "sentence"),
    [
        # source of the probabilities: their side of one half by hand, the figure itself 50 % at the limit by symmetry
        (
            [300.0, 301.0, 302.0],
            "meets the requirement",
            f"The whole interval lies at or above the limit. {GUARDED} The probability that the true value conforms is "
            f"above 99.9{NARROW}%.",
        ),
        (
            [30.0, 31.0, 32.0],
            "does not meet the requirement",
            f"The whole interval lies below the limit. {GUARDED} The probability that the true value conforms is below "
            f"0.1{NARROW}%.",
        ),
        (
            [169.0, 170.0, 171.0],
            "undecided",
            f"The limit lies within the interval. {GUARDED} The probability that the true value conforms is "
            f"50{NARROW}%.",
        ),
        (
            [500.0],
            "undecided",
            "There is no interval to decide with: repeatability not estimated: there is one reading.",
        ),
        ([0.0, 0.0], "does not meet the requirement", "The whole interval lies below the limit."),
    ],
)
def test_guarded_verdicts(values: list[float], outcome: str, sentence: str) -> None:
    page = record_page(a_test(flow=[a_run(values)]), device=a_device(LOOSE))
    verdict = page.sections[0].blocks[0].verdict
    assert verdict is not None
    assert (verdict.outcome, verdict.sentence) == (outcome, sentence)
    assert verdict.requirement is not None
    assert verdict.requirement.href == f"requirements.html#{FLOW}"


PLAIN = (
    "This is the regulation's own plain comparison; it is about this wearer, this donning and seven exercises, and "
    "gives no account of uncertainty."
)
EIGHT = {"protocol": "eight-standard-exercises"}


@pytest.mark.parametrize(
    ("session", "outcome", "sentence"),
    [
        (
            given(100.0, **EIGHT),
            "level reached",
            f"The figure itself is at or above the limit, compared without its uncertainty. {PLAIN}",
        ),
        (
            given(99.9, **EIGHT),
            "level not reached",
            f"The figure itself is below the limit, compared without its uncertainty. {PLAIN}",
        ),
        (
            # At least 7 x 66.7 cm3 x 0.5 /cm3 / 3.0 = 78. source: the rule of three, by hand
            a_session(
                readings(*[0] * 8, ambient="0.5 /cm3", names=STANDARD),
                **EIGHT,
            ),
            "undecided",
            f"The figure is known only as a lower bound, and that bound is below the limit. {PLAIN}",
        ),
        (
            a_session([*readings(0, names=STANDARD[:1]), *given(150.0, **EIGHT)["exercises"][1:]], **EIGHT),
            "undecided",
            "There is no figure to decide on: no particle was counted in Normal breathing, and not all other exercises "
            "have counts to pool.",
        ),
        (
            given(150.0),
            "no fit-test pass level applies",
            "No fit-test pass level applies: the protocol is not one that a pass level is bound to.",
        ),
    ],
)
def test_plain_verdicts(session: Data, outcome: str, sentence: str) -> None:
    verdict = record_page(a_test([session])).sections[0].blocks[0].verdict
    assert verdict is not None
    assert (verdict.outcome, verdict.sentence) == (outcome, sentence)


def test_what_stands_beside_a_figure(context: Context) -> None:
    interval = Interval(low=8.0, high=12.0, coverage=0.95, method="overall-counting-interval", covers="counting")
    view = figure_view(a_figure(interval=interval), "test", context)
    assert (view.value, view.interval) == ("10.0", "8.0 to 12.0")
    assert view.interval_note == f"95{NARROW}% interval; it covers counting"
    assert view.sample == f"7{NARROW}exercises"
    assert view.other_unit is None
    assert view.method.href == "methods/overall-fit-factor.html"
    assert not view.has_working


def test_why_a_figure_has_no_interval_or_no_value(context: Context) -> None:
    view = figure_view(a_figure(no_interval="one reading"), "test", context)
    assert (view.value, view.interval, view.interval_note) == ("10", None, "no interval: one reading")
    view = figure_view(a_figure(None, not_scored="nothing was measured"), "test", context)
    assert (view.value, view.interval, view.interval_note) == ("not scored: nothing was measured", None, None)
    view = figure_view(a_figure(1999.0, relation=Relation.AT_LEAST), "test", context)
    assert view.value == "at least 1900"


def test_a_flow_is_given_in_cubic_feet_too(context: Context) -> None:
    # source: 170 / 28.316846592 = 6.0035, from the foot of 0.3048 m
    assert figure_view(a_figure(170.0, unit="L/min"), "test", context).other_unit == f"6{NARROW}cfm"


def test_a_working_shows_its_inputs_and_where_they_stand() -> None:
    page = record_page(a_test([a_session(readings("30 /cm3", "30 /cm3", "30 /cm3"))]))
    by_figure = {working.figure: working for working in page.sections[0].workings}
    factor = by_figure["fit.am.standing"].value
    # source: the record: 3000 /cm3 outside before and after, 30 /cm3 inside
    assert [(item.meaning, item.value) for item in factor.inputs] == [
        ("mean ambient concentration", f"3000{NARROW}/cm³"),
        ("in-mask concentration", f"30{NARROW}/cm³"),
    ]
    mean, inside = factor.inputs
    assert mean.basis is not None
    assert [item.meaning for item in mean.basis.inputs] == [
        "ambient concentration before",
        "ambient concentration after",
    ]
    assert {item.href for item in (inside, *mean.basis.inputs)} == {"records/test.html#fit.am"}
    overall = by_figure["fit.am.overall"]
    assert [item.href for item in overall.value.inputs] == [
        f"records/test.html#working.fit.am.{name}" for name in ("standing", "talking", "bending")
    ]
    # source: the harmonic mean of three factors of 100
    assert overall.value.result == "100"
    assert all(
        working.is_result == (working.figure in ("fit.am.overall", "fit.am.leakage")) for working in by_figure.values()
    )


def test_figures_without_working_have_no_derivation() -> None:
    page = record_page(a_test(flow=[a_run([175.0])]), device=a_device(LOOSE))
    assert [working.figure for working in page.sections[0].workings] == ["flow.high.mean"]
