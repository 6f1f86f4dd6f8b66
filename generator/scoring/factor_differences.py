"""How many times one set of fit factors is another: on the same wearers, else on others, else not stated.

On three wearers or more who wore both, each is compared with him- or herself. Where fewer did, but three or more wore
only the one and three or more only the other, those are compared, and who wore both is left out: the formula holds for
different people only. Nothing here depends on the factors but the results.
"""

from __future__ import annotations

from generator.model.comparison_result import ComparedSession
from generator.model.difference_result import FactorDifference, People
from generator.model.fit_result import Basis
from generator.model.result import Relation
from generator.scoring.difference_figures import Sides, Wearers, Worn, not_stated, on_others, on_the_same

LEAST_WEARERS = 3
_WITH_BLOWER = {"off": " with the blower off", "running": " with the blower running"}
"""What is added of a blower; nothing where there is none."""
_NOT_WHOLE = {
    Basis.PARTIAL: "the sessions are of a part of the protocol only, and parts are not set against one another",
    Basis.OVERALL_ONLY: "the sessions have an overall factor as it was given and nothing that it rests on",
}


def who_wore(first: Worn, second: Worn) -> Wearers:
    """Return who wore both, only the first and only the second."""
    return Wearers(
        common=tuple(sorted(first.keys() & second.keys())),
        first_only=tuple(sorted(first.keys() - second.keys())),
        second_only=tuple(sorted(second.keys() - first.keys())),
    )


def people_compared(who: Wearers) -> People | None:
    """Return whose factors so many wearers allow to compare, or None where there are too few."""
    if len(who.common) >= LEAST_WEARERS:
        return People.SAME_WEARERS
    others = min(len(who.first_only), len(who.second_only))
    return People.OTHER_WEARERS if others >= LEAST_WEARERS else None


def factor_difference(sides: Sides, first: Worn, second: Worn) -> FactorDifference:
    """Return how many times the factors of the first were those of the second, or why it is not stated.

    What depends on the number of differences that stand together is added by `decided_together`.
    """
    who = who_wore(first, second)
    people = people_compared(who)
    same = people is People.SAME_WEARERS
    ours = {wearer: first[wearer] for wearer in (who.common if same else who.first_only)}
    theirs = {wearer: second[wearer] for wearer in (who.common if same else who.second_only)}
    reason = _not_alike(first, second)
    if reason is None:
        reason = _too_few(who, first, second) if people is None else _not_comparable(ours, theirs)
    if reason is not None:
        return not_stated(sides, who, reason)
    return on_the_same(sides, who, ours, theirs) if same else on_others(sides, who, ours, theirs)


def _sessions(worn: Worn) -> list[ComparedSession]:
    return [session for sessions in worn.values() for session in sessions]


def _not_alike(first: Worn, second: Worn) -> str | None:
    conditions = [session.conditions for side in (first, second) for session in _sessions(side)]
    known = [item for item in conditions if item is not None]
    if len(known) < len(conditions):
        return "the kind of counter is not on record"
    for basis, words in _NOT_WHOLE.items():
        if any(item.basis is basis for item in known):
            return words
    for side in (first, second):
        settings = sorted({session.blower or "" for session in _sessions(side)})
        if len(settings) > 1:
            words = ", ".join(settings[:-1]) + f" and {settings[-1]}"
            return f"one of the two was worn at several blower settings ({words})"
    return None


def _too_few(who: Wearers, first: Worn, second: Worn) -> str:
    blowers = {item.conditions.blower for side in (first, second) for item in _sessions(side) if item.conditions}
    blower = _WITH_BLOWER.get(next(iter(blowers)), "") if len(blowers) == 1 else ""
    return (
        f"too few wearers by the same exercises{blower}: {_people(who.common)} wore both, {_people(who.first_only)} "
        f"only the one and {_people(who.second_only)} only the other; needed are {LEAST_WEARERS} who wore both, or "
        f"{LEAST_WEARERS} others with each"
    )


def _people(wearers: tuple[str, ...]) -> str:
    return str(len(wearers)) if wearers else "nobody"


def _not_comparable(first: Worn, second: Worn) -> str | None:
    sessions = _sessions(first) + _sessions(second)
    if any(session.as_given for session in sessions):
        return "the instrument gave factors without what they rest on"
    if any(session.overall.relation is not Relation.EQUAL for session in sessions):
        return "no particle was counted inside in a session, so that its factor is known as “at least” only"
    return None
