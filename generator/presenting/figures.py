"""Figures and verdicts as a reader sees them, each with its working."""

from __future__ import annotations

from generator.model.reference import Bound, CriterionQuantity
from generator.model.result import Figure, Input, Outcome, Verdict, Working
from generator.presenting.context import Context
from generator.presenting.digits import (
    THIN,
    figure_text,
    interval_text,
    other_unit_text,
    percent_text,
    quantity_text,
    ratio_words,
    rounded,
    unit_text,
    value_text,
    with_unit,
)
from generator.presenting.method_uses import rule_of
from generator.presenting.views import Derivation, FigureView, VerdictView, WorkingInput, WorkingView
from generator.presenting.wording import count_text, sentence_case


def _input_view(item: Input, record: str, context: Context, deep: bool) -> WorkingInput:
    # A number that is a figure of its own leads there; any other shows at once what it was derived from.
    derived = deep and item.working is not None and not context.is_figure(item.where)
    basis = item.working if derived else None
    number, unit = quantity_text(item.value, "1", 6), unit_text(item.unit)
    return WorkingInput(
        symbol=item.symbol,
        meaning=item.meaning,
        number=number,
        unit=unit,
        where=item.where,
        href=context.where_href(record, item.where),
        basis=derivation(basis, with_unit(number, item.unit), record, context) if basis else None,
    )


def derivation(working: Working, result: str, record: str, context: Context, deep: bool = True) -> Derivation:
    """Return how a number of a record comes about; `deep` shows what its inputs were themselves derived from."""
    method = context.method(working.method)
    return Derivation(
        method=context.method_link(method.id),
        equation=method.equation,
        inputs=tuple(_input_view(item, record, context, deep) for item in working.inputs),
        result=result,
        sources=context.sources_of(method.id),
    )


def working_view(figure: Figure, of: str, record: str, context: Context, is_result: bool = True) -> WorkingView | None:
    """Return how a figure and its interval come about, or None where it has no working."""
    if figure.working is None:
        return None
    interval, limit = figure.interval, context.limit_beside(record, figure)
    shows_interval = interval is not None and interval.working is not None and interval.working != figure.working
    return WorkingView(
        figure=figure.key,
        of=of,
        is_result=is_result,
        name=figure.name,
        result=figure_text(figure, limit),
        value=derivation(figure.working, value_text(figure, limit), record, context),
        # The counts behind an exercise's interval are derived where the session's own interval is.
        interval=derivation(interval.working, interval_text(figure) or "", record, context, deep=is_result)
        if shows_interval and interval is not None and interval.working is not None
        else None,
        no_interval=figure.no_interval,
    )


def _sample_noun(figure: Figure) -> str:
    return "exercise" if (figure.sample_size, figure.sample_of) == (1, "exercises") else figure.sample_of


def figure_view(figure: Figure, record: str, context: Context, limit: float | None = None) -> FigureView:
    """Return a figure as text with its interval, what the interval covers, and its working."""
    note = None
    if figure.interval is not None:
        note = f"{percent_text(figure.interval.coverage)} interval; it covers {figure.interval.covers}"
    elif figure.no_interval is not None:
        note = f"no interval: {figure.no_interval}"
    return FigureView(
        key=figure.key,
        name=figure.name,
        value=value_text(figure, limit) if figure.value is not None else f"not scored: {figure.not_scored}",
        interval=interval_text(figure),
        interval_note=note,
        sample=f"{figure.sample_size}{THIN}{_sample_noun(figure)}",
        other_unit=other_unit_text(figure),
        method=context.method_link(figure.method),
        has_working=figure.working is not None,
        interval_method=context.method_link(figure.interval.method) if figure.interval is not None else None,
    )


_OUTCOME_OF_REQUIREMENT = {
    Outcome.MEETS: "meets the requirement",
    Outcome.DOES_NOT_MEET: "does not meet the requirement",
    Outcome.UNDECIDED: "undecided",
    Outcome.NOT_APPLICABLE: "not compared",
}
_OUTCOME_OF_BENCHMARK = {
    Outcome.MEETS: "above the benchmark",
    Outcome.DOES_NOT_MEET: "below the benchmark",
    Outcome.UNDECIDED: "undecided",
    Outcome.NOT_APPLICABLE: "not compared",
}
_OUTCOME_OF_UPPER_BENCHMARK = _OUTCOME_OF_BENCHMARK | {
    Outcome.MEETS: "below the benchmark",
    Outcome.DOES_NOT_MEET: "above the benchmark",
}
_OUTCOME_OF_FIT = {
    Outcome.MEETS: "level reached",
    Outcome.DOES_NOT_MEET: "level not reached",
    Outcome.UNDECIDED: "undecided",
    Outcome.NOT_APPLICABLE: "no fit-test pass level applies",
}


def outcome_text(verdict: Verdict, context: Context) -> str:
    """Say a verdict's outcome in a few words."""
    criterion = context.catalogue.criteria[verdict.criterion] if verdict.criterion is not None else None
    if criterion is None:
        of_fit = verdict.figure.startswith("fit.")
    else:
        of_fit = criterion.quantity is CriterionQuantity.OVERALL_FIT_FACTOR
    if of_fit:
        return _OUTCOME_OF_FIT[verdict.outcome]
    if not verdict.benchmark_only:
        return _OUTCOME_OF_REQUIREMENT[verdict.outcome]
    upper = criterion is not None and criterion.bound is Bound.AT_MOST
    return (_OUTCOME_OF_UPPER_BENCHMARK if upper else _OUTCOME_OF_BENCHMARK)[verdict.outcome]


def probability_text(probability: float) -> str:
    """Write a probability of conformity without claiming certainty."""
    if probability < 0.001:
        return f"below 0.1{THIN}%"
    if probability > 0.999:
        return f"above 99.9{THIN}%"
    return with_unit(rounded(probability * 100, 1 if probability < 0.1 or probability > 0.9 else 0), "%")


def comparison_text(verdict: Verdict) -> str | None:
    """Say how a figure stands to its limit: `one tenth of the 170 L/min`; levels in decibels have no ratio."""
    if verdict.ratio is None or verdict.limit is None or verdict.unit is None:
        return None
    return f"{ratio_words(verdict.ratio)} the {quantity_text(verdict.limit, verdict.unit)}"


def verdict_view(verdict: Verdict, figure: Figure, context: Context) -> VerdictView:
    """Return a verdict in words: the outcome, and why by which rule."""
    rule = rule_of(verdict)
    sentences = [sentence_case(verdict.reason.rstrip(".")) + "."]
    if verdict.rule == "guarded" and verdict.probability_of_conformity is not None:
        sentences.append(
            "Decided by the guarded rule: the whole interval must lie on the right side. "
            f"The probability that the true value conforms is {probability_text(verdict.probability_of_conformity)}."
        )
    elif verdict.rule == "plain" and figure.value is not None:
        sentences.append(
            "This is the regulation's own plain comparison; it is about this wearer, this donning and "
            f"{count_text(figure.sample_size, 'exercise')}, and gives no account of uncertainty."
        )
    return VerdictView(
        key=verdict.key,
        outcome=outcome_text(verdict, context),
        sentence=" ".join(sentences),
        requirement=context.criterion_link(verdict.criterion) if verdict.criterion else None,
        method=context.method_link(rule) if rule is not None else None,
    )
