"""What a plan says of wearers: of those who wore it, of others, from donning to donning."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from generator.model.fit_result import FitGroup
from generator.model.plan_result import Activity, Facts, PlannedSession, PlannedStatement, Standing, Tier
from generator.model.wearers_result import Carried
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_states import claimed_settings
from generator.scoring.lognormal import wearers_needed
from generator.scoring.planning.fit_states import worn_in_state
from generator.scoring.planning.reviewed import Reviewed, Ruled, new_wearers, records_of
from generator.scoring.sample_sizes import wearers_for_limits
from generator.scoring.wearer_figures import CONFIDENCE, SHARE

LEAST_DONNINGS = 3
"""Donnings of one wearer that show how they scatter, and wearers of whom that is asked. Common practice, no source."""
NARROW = 1.5
"""A factor within which the limits of a geometric mean are called narrow here. This catalogue's own."""


def worn(of: Reviewed) -> Iterator[Ruled]:
    """Always: what the fit factor was on those who wore it."""
    group = of.main_group
    facts: Facts = {}
    if group is not None:
        facts = {"wearers": len(group.wearers), "donnings": group.donnings}
    statement = PlannedStatement(
        id="fit-worn",
        rule="fit-worn",
        standing=Standing.SAID if group is not None else Standing.LACKING,
        records=records_of(group),
        facts=facts,
    )
    yield Ruled(statement, (_first_wearer(of),) if group is None else ())


def _first_wearer(of: Reviewed) -> PlannedSession:
    """Return the session of the first wearer; a powered device is worn at the settings that count."""
    settings = claimed_settings(of.device)
    return worn_in_state(of, settings[0], of.protocol()) if settings else new_wearers(of, 1)


def factor_of_others(of: Reviewed) -> Iterator[Ruled]:
    """Always: above which factor 95 in 100 donnings of new wearers lie, if fit factors are log-normal."""
    group = of.main_group
    facts: Facts = {"wearers": len(group.wearers) if group is not None else 0}
    more = 0
    standing = Standing.LACKING
    if group is not None:
        over = group.over_wearers
        bound = over.bound.value if over.bound is not None else None
        if over.log_normal_doubtful:
            facts["doubtful"] = "yes"
        elif bound is not None:
            standing, facts["bound"] = Standing.SAID, bound
            facts |= _to_level(of, group)
        elif over.carried is Carried.ONE_WEARER:
            more = 1
        elif over.wearers_needed is not None:
            facts["wearers_needed"] = over.wearers_needed
            more = max(over.wearers_needed - len(over.wearers), 1)
        elif over.bound is not None and over.bound.not_scored is not None:
            facts["reason"] = over.bound.not_scored
        else:
            facts["bounds_only"] = "yes"
    session = (new_wearers(of, more, group),) if more else ()
    yield Ruled(
        PlannedStatement(
            id="factor-of-others",
            rule="factor-of-others",
            standing=standing,
            records=records_of(group),
            facts=facts,
        ),
        session,
    )


def _to_level(of: Reviewed, group: FitGroup) -> Facts:
    """Return how many wearers of this mean and spread would bring the bound up to the pass level, where one applies."""
    over, passes = group.over_wearers, group.over_wearers.passes
    once = over.carried is Carried.ONE_DONNING_EACH
    if not once or passes is None or over.mean is None or over.between is None:
        return {}
    mean, between = over.mean.value, over.between.value
    if mean is None or between is None or not between > 1:
        return {}
    needed = wearers_needed(mean, between, SHARE, CONFIDENCE, passes.limit)
    facts: Facts = {"limit": passes.limit}
    return facts | ({"wearers_to_limit": needed} if needed is not None else {"never_to_limit": "yes"})


def middle_of_others(of: Reviewed) -> Iterator[Ruled]:
    """Where wearers donned it once each and look log-normal: how many would bring their mean within narrow limits."""
    group = of.main_group
    if group is None or group.over_wearers.carried is not Carried.ONE_DONNING_EACH:
        return
    if group.over_wearers.log_normal_doubtful:
        return
    between = group.over_wearers.between
    if between is None or between.value is None or not between.value > 1:
        return
    needed = wearers_for_limits(between.value, COVERAGE, NARROW)
    if needed is None:
        return
    tested = len(group.wearers)
    more = max(needed - tested, 0)
    yield Ruled(
        PlannedStatement(
            id="middle-of-others",
            rule="middle-of-others",
            standing=Standing.SAID if not more else Standing.IN_PART,
            records=records_of(group),
            facts={"wearers": tested, "wearers_needed": needed, "times": NARROW, "spread": between.value},
        ),
        (new_wearers(of, more, group),) if more else (),
    )


def donning_to_donning(of: Reviewed) -> Iterator[Ruled]:
    """Always: how much donnings of one wearer differ; three donnings of each of three wearers show a little of it."""
    group = of.main_group
    donnings = Counter(each.wearer for each in group.over_wearers.donnings) if group is not None else Counter()
    enough = [letter for letter, number in donnings.items() if number >= LEAST_DONNINGS]
    asked = sorted(donnings, key=lambda letter: (-donnings[letter], len(letter), letter))[:LEAST_DONNINGS]
    lacking = {letter: LEAST_DONNINGS - donnings[letter] for letter in asked if donnings[letter] < LEAST_DONNINGS}
    strangers = LEAST_DONNINGS - len(asked)
    total = sum(lacking.values()) + LEAST_DONNINGS * strangers
    standing = Standing.SAID if len(enough) >= LEAST_DONNINGS else Standing.IN_PART if enough else Standing.LACKING
    protocol = group.protocol if group is not None else of.protocol()
    blower = group.blower if group is not None else None
    session = PlannedSession(
        id="donned-again",
        tier=Tier.WEARERS,
        activity=Activity.DONNED_AGAIN,
        settings=(blower,) if blower is not None else (),
        protocol=protocol,
        new_wearers=strangers,
        wearers=tuple(lacking),
        donnings=total,
        minutes=of.minutes(protocol, total),
    )
    yield Ruled(
        PlannedStatement(
            id="donning-to-donning",
            rule="donning-to-donning",
            standing=standing,
            records=records_of(group),
            facts={"wearers_with_enough": len(enough), "wearers": len(donnings), "needed": LEAST_DONNINGS},
        ),
        (session,) if standing is not Standing.SAID else (),
    )
