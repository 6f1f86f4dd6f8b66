"""Fit factors that stand in the record as they were given: no counting interval belongs to them.

An instrument that shows only `more than 200` sets a lower bound by its ceiling. That is no limit of a probability: such
a figure has the relation `at least` and no interval. An overall factor made of such bounds lies between two bounds,
which follow by arithmetic (`overall_fit_factor_bounds`): the lower one is the value, the upper one `other_bound`.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.published import PublishedSession
from generator.model.result import Figure, Input, Relation, Working
from generator.scoring.censoring import overall_fit_factor_bounds
from generator.scoring.samples import ExerciseSamples

AS_GIVEN = "counting interval not available: the factor is recorded as the instrument gave it"
MORE_THAN = "nothing is known of it but what the instrument's ceiling says: a bound, and no probability"
BETWEEN = (
    "the two bounds are what the instrument's ceiling leaves open, by arithmetic and without a probability; "
    "a counting interval is not available"
)
_EXERCISE, _OVERALL, _BOUNDS = "exercise-fit-factor", "overall-fit-factor", "censored-overall-bounds"


def exercise_as_given(key: str, name: str, samples: ExerciseSamples) -> Figure:
    """Return the figure of an exercise whose factor, or what it was more than, stands in the record."""
    return _as_recorded(key, name, "fit factor", samples.where, _EXERCISE, samples.fit_factor, samples.at_least)


def overall_as_given(session: PublishedSession) -> Figure:
    """Return the overall figure of a session of which nothing else is on record."""
    key, name, where = f"fit.{session.id}.overall", "overall fit factor as given", f"fit[{session.id}]"
    factor, at_least = session.fit_factor, session.fit_factor_at_least
    return _as_recorded(key, name, "overall fit factor", where, _OVERALL, factor, at_least)


def overall_between_bounds(key: str, name: str, pairs: Sequence[tuple[ExerciseSamples, Figure]]) -> Figure:
    """Return the overall figure of exercises of which some are known only as more than the instrument's ceiling."""
    known = [(item, figure, figure.value) for item, figure in pairs if figure.value is not None]
    factors = [value for _, figure, value in known if figure.relation is Relation.EQUAL]
    at_least = [value for _, figure, value in known if figure.relation is Relation.AT_LEAST]
    lower, upper = overall_fit_factor_bounds(factors, at_least)
    inputs = tuple(
        Input(
            symbol=(rf"\mathrm{{FF}}_{{{number}}}" if figure.relation is Relation.EQUAL else f"L_{{{number}}}"),
            meaning=figure.name if figure.relation is Relation.EQUAL else f"{figure.name}, at least",
            value=value,
            unit="1",
            where=f"{item.where}: {figure.key}",
        )
        for number, (item, figure, value) in enumerate(known, start=1)
    )
    return Figure(
        key=key,
        name=name,
        value=lower,
        unit="1",
        relation=Relation.AT_LEAST,
        other_bound=upper,
        no_interval=MORE_THAN if upper is None else BETWEEN,
        sample_size=len(known),
        sample_of="exercises",
        method=_BOUNDS,
        working=Working(method=_BOUNDS, inputs=inputs),
    )


def _as_recorded(
    key: str, name: str, what: str, where: str, method: str, factor: float | None, at_least: float | None
) -> Figure:
    more_than = factor is None
    value = at_least if factor is None else factor
    assert value is not None, "one of the two is given"
    given = Input(
        symbol=r"\mathrm{FF}",
        meaning=f"what the instrument showed the {what} to be more than"
        if more_than
        else f"{what} as the instrument gave it",
        value=value,
        unit="1",
        where=f"{where}.fit_factor_at_least" if more_than else f"{where}.fit_factor",
    )
    return Figure(
        key=key,
        name=name,
        value=value,
        unit="1",
        relation=Relation.AT_LEAST if more_than else Relation.EQUAL,
        no_interval=MORE_THAN if more_than else AS_GIVEN,
        sample_size=1,
        sample_of="reading",
        method=method,
        working=Working(method=method, inputs=(given,)),
    )
