"""What a plan says of a device beside others: how many wearers must wear both, and who could."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.comparison_result import ComparedDevice, ComparisonResult, Difference, FitConditions
from generator.model.difference_result import Apart, FactorDifference
from generator.model.fit_result import Basis
from generator.model.plan_result import Activity, Facts, PlannedSession, PlannedStatement, Standing, Tier
from generator.scoring.decided_differences import LEVEL
from generator.scoring.planning.reviewed import Reviewed, Ruled
from generator.scoring.sample_sizes import pairs_to_tell_apart

MOST_SESSIONS = 2
"""So many of them are planned: those that take the fewest donnings."""


def compared(of: Reviewed) -> Iterator[Ruled]:
    """For each other device of its comparisons: whether the two are told apart, and how many wearers that takes."""
    found: dict[str, tuple[ComparisonResult, Difference]] = {}
    for comparison in of.comparisons():
        for difference in comparison.differences:
            pair = (difference.first, difference.second)
            if of.device.id in pair:
                other = pair[1] if pair[0] == of.device.id else pair[0]
                known = found.get(other)
                if known is None or _together(comparison, difference) < _together(*known):
                    found[other] = (comparison, difference)
    ruled = [_compared(of, other, *found[other]) for other in sorted(found)]
    planned = sorted(
        (session for each in ruled for session in each.sessions), key=lambda session: (session.donnings, session.id)
    )[:MOST_SESSIONS]
    for each in ruled:
        yield Ruled(each.statement, tuple(session for session in each.sessions if session in planned))


def _together(comparison: ComparisonResult, difference: FactorDifference) -> int:
    """Return how many differences stand together in a comparison, this one among them."""
    stated = [each for each in comparison.differences if each.chance is not None and each.chance.value is not None]
    return len(stated) + (difference not in stated)


def _compared(of: Reviewed, other: str, comparison: ComparisonResult, difference: Difference) -> Ruled:
    together = _together(comparison, difference)
    needed = pairs_to_tell_apart(together, LEVEL)
    facts: Facts = {
        "other": other,
        "name": of.catalogue.devices[other].name,
        "comparison": comparison.id,
        "together": together,
        "pairs": len(difference.wearers),
        "needed": needed,
    }
    apart = difference.decision is not None and difference.decision.apart is not Apart.CANNOT_BE_TOLD_APART
    if apart:
        standing = Standing.SAID
    elif difference.ratio.value is not None:
        standing = Standing.IN_PART
    else:
        standing = Standing.LACKING
        facts["reason"] = difference.ratio.not_scored or ""
    session = None if apart else _worn_beside(of, comparison.devices, other, difference, needed)
    records = tuple(
        dict.fromkeys(
            each.record
            for each in comparison.devices[of.device.id].sessions
            if each.wearer in difference.wearers and each.conditions == difference.conditions
        )
    )
    statement = PlannedStatement(
        id=f"compared-{other}", rule="compared", standing=standing, records=records, facts=facts
    )
    return Ruled(statement, (session,) if session is not None else ())


def _worn_beside(
    of: Reviewed, devices: dict[str, ComparedDevice], other: str, difference: Difference, needed: int
) -> PlannedSession | None:
    """Return who should wear which, so that so many wore both; None where so many did, or where no conditions fit both.

    The conditions are those that the two share, else those under which most wore the device that is planned for.
    """
    if of.device.kind.powered is not of.catalogue.devices[other].kind.powered:
        return None
    ours, theirs = (_by_conditions(devices[name]) for name in (of.device.id, other))
    conditions = difference.conditions or max(ours, key=lambda each: (len(ours[each]), each.protocol), default=None)
    protocol = conditions.protocol if conditions is not None else of.protocol()
    if protocol is None:
        return None
    here = ours.get(conditions, set()) if conditions is not None else set()
    there = theirs.get(conditions, set()) if conditions is not None else set()
    more = needed - len(here & there)
    if more <= 0:
        return None
    asked = (*sorted(there - here, key=_letter), *sorted(here - there, key=_letter))[:more]
    strangers = more - len(asked)
    donnings = len(asked) + 2 * strangers
    return PlannedSession(
        id=f"beside-{other}",
        tier=Tier.COMPARISON,
        activity=Activity.WORN_BESIDE_OTHER,
        protocol=protocol,
        new_wearers=strangers,
        wearers=asked,
        donnings=donnings,
        other_device=other,
        minutes=of.minutes(protocol, donnings),
    )


def _letter(letter: str) -> tuple[int, str]:
    return len(letter), letter


def _by_conditions(device: ComparedDevice) -> dict[FitConditions, set[str]]:
    """Return who wore a device by the whole of a protocol, by the conditions that two devices must share."""
    found: dict[FitConditions, set[str]] = {}
    for session in device.sessions:
        whole = session.basis is Basis.WHOLE_PROTOCOL and not session.as_given
        if whole and session.conditions is not None:
            found.setdefault(session.conditions, set()).add(session.wearer)
    return found
