"""What a plan says of the share of wearers who reach a level: how many wearers show it, by the binomial alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.model.fit_result import FitGroup
from generator.model.plan_result import Facts, PlannedStatement, SampleSize, Standing
from generator.model.session import BLOWER_OFF
from generator.scoring.donnings import first_donnings
from generator.scoring.planning.reviewed import Reviewed, Ruled, new_wearers, records_of
from generator.scoring.proportions import exact_share_limits, wearers_without_failures
from generator.scoring.sample_sizes import chance_of_so_few_failures, wearers_with_failures

SHOWN = ((0.90, 0.90), (0.95, 0.95))
"""Shares and confidences for which sample sizes are named, the weaker first. Common practice, no source."""


@dataclass(frozen=True)
class _Level:
    """The level that wearers are to reach, and the sessions in which that is counted."""

    kind: str
    """`pass-level`, `claimed-level`, or `all-reach` where there is neither."""
    limit: float | None
    """None for the level that all of those tested reach."""
    group: FitGroup | None
    protocol: str | None


def share_of_wearers(of: Reviewed) -> Iterator[Ruled]:
    """Always: which share of wearers reach a level, whatever the distribution: so many wearers of whom so many fail.

    The level is the fit-test pass level of its kind, else a claimed fit factor, else the one that all of them reach.
    """
    level = _level(of)
    donnings = first_donnings(level.group.over_wearers.donnings) if level.group is not None else ()
    limit = level.limit if level.limit is not None else min((each.least for each in donnings), default=None)
    reached = sum(limit is not None and each.least >= limit for each in donnings)
    # A wearer known only by a bound below the level is neither.
    failures = sum(limit is not None and each.least < limit and not each.bound for each in donnings)
    sizes = tuple(sample_size(share, confidence, reached, failures) for share, confidence in SHOWN)
    shown = [size for size in sizes if size.more == 0]
    further = [size.more for size in sizes if size.more]
    # The first wearers of a powered device come with the states in which nobody wore it.
    waits = level.group is None and of.device.power is not None
    facts: Facts = {"level": level.kind, "reached": reached, "failures": failures}
    yield Ruled(
        PlannedStatement(
            id="share-of-wearers",
            rule="share-of-wearers",
            standing=Standing.SAID if len(shown) == len(sizes) else Standing.IN_PART if donnings else Standing.LACKING,
            records=records_of(level.group),
            facts=facts | ({"limit": limit} if limit is not None else {}),
            sizes=sizes,
        ),
        (new_wearers(of, min(further), level.group, level.protocol),) if further and not waits else (),
    )


def _level(of: Reviewed) -> _Level:
    criterion = of.pass_level
    if criterion is not None:
        fitting = [
            group
            for group in of.groups
            if group.protocol in criterion.protocols and (of.device.power is None or group.blower == BLOWER_OFF)
        ]
        group = max(fitting, key=lambda each: (len(each.wearers), -each.number), default=None)
        return _Level("pass-level", criterion.limit, group, of.protocol(criterion.protocols))
    claimed = [
        claim.means.fit_factor_at_least
        for claim in of.device.claims
        if claim.means is not None and claim.means.fit_factor_at_least is not None and claim.means.setting is None
    ]
    kind = "claimed-level" if claimed else "all-reach"
    return _Level(kind, max(claimed, default=None), of.main_group, None)


def sample_size(share: float, confidence: float, reached: int, failures: int) -> SampleSize:
    """Return how many wearers would show a share, with those who reached the level and those who did not so far."""
    method = "wearers-with-failures" if failures else "wearers-without-failures"
    tested = reached + failures
    # With one-sided confidence c, as the upper limit of the two-sided interval of coverage 2 c - 1.
    if tested and exact_share_limits(reached, tested, 2 * confidence - 1)[1] < share:
        return SampleSize(share=share, confidence=confidence, failures=failures, method=method)
    if failures:
        wearers = wearers_with_failures(failures, share, confidence)
    else:
        wearers = wearers_without_failures(share, confidence)
    return SampleSize(
        share=share,
        confidence=confidence,
        failures=failures,
        method=method,
        wearers=wearers,
        more=max(wearers - tested, 0),
        with_one_more_failure=wearers_with_failures(failures + 1, share, confidence),
        chance=chance_of_so_few_failures(failures, wearers, share),
    )
