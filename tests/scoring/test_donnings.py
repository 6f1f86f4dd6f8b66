"""What is known of a donning: a factor, a bound, or bounds between which it lies."""

from __future__ import annotations

import pytest

from generator.model.result import Figure, Interval, Relation
from generator.scoring.donnings import known_at_least


def a_figure(
    value: float | None, relation: Relation = Relation.EQUAL, method: str | None = None, other: float | None = None
) -> Figure:
    interval = Interval(low=126.0, high=240.0, coverage=1.0, method=method, covers="the display") if method else None
    return Figure(
        key="fit.am.overall",
        name="overall fit factor",
        value=value,
        unit="1",
        relation=relation,
        other_bound=other,
        interval=interval,
        sample_size=4,
        sample_of="exercises",
        method="overall-fit-factor",
    )


@pytest.mark.parametrize(
    ("figure", "known"),
    [
        (a_figure(150.0), (150.0, False)),
        (a_figure(150.0, Relation.AT_LEAST), (150.0, True)),
        # source: statistics of the worked case: 60 and three exercises above 200 lie between 126 and 240
        (a_figure(126.0, Relation.AT_LEAST, other=240.0), (126.0, True)),
        (a_figure(150.0, method="overall-counting-interval"), (150.0, False)),
        (a_figure(None), None),
    ],
)
def test_a_factor_between_bounds_is_taken_as_at_least_the_lower_one(
    figure: Figure, known: tuple[float, bool] | None
) -> None:
    assert known_at_least(figure) == known
