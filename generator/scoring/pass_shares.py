"""How many wearers reached a fit-test pass level, counted by one prespecified donning of each: the first."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.fit_result import SessionResult
from generator.model.result import Figure, Input, Outcome, Relation, Verdict, Working
from generator.model.wearers_result import PassShare, WearerDonning
from generator.scoring.counting import COVERAGE
from generator.scoring.donnings import first_donnings, numbered_inputs
from generator.scoring.proportions import (
    exact_share_limits,
    number_reaching_level,
    score_share_limits,
    share_without_failures,
)
from generator.scoring.wearer_figures import (
    CONFIDENCE,
    ITSELF_A_BOUND,
    Group,
    agreed_confidence,
    agreed_coverage,
    given,
    interval,
)

SHARE = "share of wearers who reached the level"
_WITHOUT = "share of wearers who reach the level, all tested having done so"


def pass_share(group: Group, sessions: Sequence[tuple[str, SessionResult]]) -> PassShare | None:
    """Return how many of a group's wearers reached the pass level.

    None where no level applies to their donnings, or to those of one wearer only: of one alone nothing follows.
    """
    verdicts = {(record, session.session): session.verdict for record, session in sessions}
    levels = {place: verdict for place, verdict in verdicts.items() if verdict is not None and verdict.criterion}
    firsts = first_donnings([each for each in group.donnings if (each.record, each.session) in levels])
    decided = [levels[each.record, each.session] for each in firsts]
    if len(decided) < 2:
        return None
    criterion, limit = decided[0].criterion, decided[0].limit
    assert criterion is not None
    assert limit is not None
    wearers, undecided = len(firsts), sum(_undecided(verdict) for verdict in decided)
    reached = number_reaching_level([each.least for each in firsts], limit)
    inputs = _inputs(firsts, reached, limit)
    # A wearer of whom only a bound is known may have reached it: the upper limit counts it, the lower one does not.
    limits = [
        (function(reached, wearers, COVERAGE)[0], function(reached + undecided, wearers, COVERAGE)[1])
        for function in (exact_share_limits, score_share_limits)
    ]
    return PassShare(
        criterion=criterion,
        limit=limit,
        wearers=wearers,
        reached=reached,
        undecided=undecided,
        share=_share(group, "reached", SHARE, reached, inputs, limits[0], "exact-share-limits"),
        by_score=_share(
            group, "reached-by-score", f"{SHARE}, by Wilson’s score", reached, inputs, limits[1], "score-share-limits"
        ),
        without_failures=_without_failures(group, inputs) if reached == wearers else None,
    )


def _undecided(verdict: Verdict) -> bool:
    return verdict.outcome is Outcome.UNDECIDED


def _inputs(firsts: Sequence[WearerDonning], reached: int, limit: float) -> tuple[Input, Input, Input]:
    level = given("L", "pass level", limit, "the requirement")
    count = Input(
        symbol="x",
        meaning="wearers who reached the level",
        value=reached,
        unit="count",
        where="each wearer's first donning that counts",
        working=Working(method="number-reaching-level", inputs=(*numbered_inputs(firsts), level)),
    )
    wearers = given("n", "wearers tested, one donning of each", len(firsts), "wearers with such a donning", "count")
    return count, wearers, agreed_coverage()


def _share(
    group: Group,
    name: str,
    words: str,
    reached: int,
    inputs: tuple[Input, Input, Input],
    limits: tuple[float, float],
    method: str,
) -> Figure:
    return Figure(
        key=group.key(name),
        name=words,
        value=reached / inputs[1].value,
        unit="1",
        interval=interval(limits, method, *inputs),
        sample_size=int(inputs[1].value),
        sample_of="wearers",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def _without_failures(group: Group, inputs: tuple[Input, Input, Input]) -> Figure:
    _, wearers, _ = inputs
    return Figure(
        key=group.key("reached-by-all"),
        name=_WITHOUT,
        value=share_without_failures(int(wearers.value), CONFIDENCE),
        unit="1",
        relation=Relation.AT_LEAST,
        no_interval=ITSELF_A_BOUND,
        sample_size=int(wearers.value),
        sample_of="wearers",
        method="share-without-failures",
        working=Working(method="share-without-failures", inputs=(wearers, agreed_confidence())),
    )
