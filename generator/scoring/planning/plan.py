"""The plan of a device: what every rule says of it, the sessions put in order, the instruments that they need.

The order is a rule, not a judgement. First what decides a requirement that governs the device, then what decides a
maker's claim, then what bears on harm (the blower off, each setting worn, the battery at its alarm, a loaded filter),
then wearers, the time on one charge, what rests on instruments in doubt, comparisons, and the rest. A session that
serves several of these stands at the first. Within one of them sessions keep the order of the rules below, but those
for wearers and comparisons stand by their donnings, the fewest first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from generator.model.base import Day
from generator.model.plan_result import Activity, Plan, PlannedInstrument, PlannedSession, Tier
from generator.model.published import PublishedCatalogue
from generator.scoring.evidence import calibration_state
from generator.scoring.planning import air, fit_states, maker_side, pairs, rest, shares, wearers
from generator.scoring.planning.reviewed import Reviewed, Ruled

RULES: tuple[Callable[[Reviewed], Iterator[Ruled]], ...] = (
    air.flow,
    maker_side.claims,
    fit_states.worn_with_blower_off,
    fit_states.worn_at_every_setting,
    air.flow_in_every_state,
    wearers.worn,
    wearers.factor_of_others,
    shares.share_of_wearers,
    wearers.middle_of_others,
    wearers.donning_to_donning,
    air.run_time,
    rest.instruments_in_doubt,
    pairs.compared,
    rest.filter_by_itself,
    rest.sound,
    rest.words,
    rest.further_units,
    rest.approvals,
)
"""Each rule says in its docstring when it speaks. Their order is that of statements, and of sessions within a tier."""
_COUNTED = (
    Activity.WORN_BY_NEW_WEARERS,
    Activity.WORN_IN_STATE,
    Activity.DONNED_AGAIN,
    Activity.WORN_BESIDE_OTHER,
)
_BLOWN = (Activity.FLOW, Activity.RUN_DOWN)


def plan_of(of: Reviewed, day: Day | None) -> Plan:
    """Return the plan of a device, for a day, or without one for the day of the newest test on record."""
    newest = max((test.dates.performed for test in of.catalogue.device_tests.values()), default=None)
    on = day if day is not None else newest
    if of.device.withdrawn is not None:
        return Plan(device=of.device.id, withdrawn=True, day=on, day_named=day is not None)
    ruled = [each for rule in RULES for each in rule(of)]
    sessions = in_order(ruled)
    return Plan(
        device=of.device.id,
        withdrawn=False,
        day=on,
        day_named=day is not None,
        sessions=sessions,
        statements=tuple(each.statement for each in ruled),
        instruments=_instruments(of, sessions, on) if on is not None else (),
    )


def in_order(ruled: Sequence[Ruled]) -> tuple[PlannedSession, ...]:
    """Return the sessions that statements lack, each once, in the order in which they are to be done."""
    found: dict[str, PlannedSession] = {}
    for each in ruled:
        for session in each.sessions:
            served = session.model_copy(update={"statements": (each.statement.id,)})
            known = found.get(session.id)
            found[session.id] = served if known is None else _together(known, served)
    return tuple(sorted(found.values(), key=_place))


def _place(session: PlannedSession) -> tuple[int, int]:
    """Return what a session is ordered by: its tier, and of those that cost donnings alone how many."""
    by_donnings = session.tier in (Tier.WEARERS, Tier.COMPARISON)
    return list(Tier).index(session.tier), session.donnings if by_donnings else 0


def _together(first: PlannedSession, second: PlannedSession) -> PlannedSession:
    """Return one session for two of the same kind: with the settings of both, of new wearers the smaller number.

    Fewer wearers than a statement asks for do not serve it, so that it waits for a later session.
    """
    if first.new_wearers != second.new_wearers and first.activity is Activity.WORN_BY_NEW_WEARERS:
        return min(first, second, key=lambda session: session.new_wearers)
    settings = tuple(dict.fromkeys((*first.settings, *second.settings)))
    changes: dict[str, object] = {
        "tier": min(first.tier, second.tier, key=list(Tier).index),
        "settings": settings,
        "statements": tuple(dict.fromkeys((*first.statements, *second.statements))),
    }
    if first.activity is Activity.WORN_IN_STATE:
        # Each wearer puts it on once at each setting.
        times = len(settings) / len(first.settings)
        minutes = first.minutes * times if first.minutes is not None else None
        changes |= {"donnings": round(first.donnings * times), "minutes": minutes}
    return first.model_copy(update=changes)


def _instruments(of: Reviewed, sessions: Sequence[PlannedSession], day: Day) -> tuple[PlannedInstrument, ...]:
    """Return the instruments that the sessions need: those of the device's newest records, else all of the kind."""
    activities = {session.activity for session in sessions}
    needed = []
    if activities.intersection(_COUNTED):
        needed.append("particle_counter")
    if activities.intersection(_BLOWN):
        needed.append("flow_meter")
    names = [name for role in needed for name in _in_role(of, role)]
    states = {name: calibration_state(of.catalogue.instruments[name], day) for name in names}
    return tuple(PlannedInstrument(instrument=name, state=state, due=due) for name, (state, due) in states.items())


def _in_role(of: Reviewed, role: str) -> tuple[str, ...]:
    for test in reversed(of.catalogue.standing_tests_of(of.device.id)):
        if role in test.instruments.by_role:
            return (test.instruments.by_role[role],)
    return _of_kind(of.catalogue, measures_flow=role == "flow_meter")


def _of_kind(catalogue: PublishedCatalogue, *, measures_flow: bool) -> tuple[str, ...]:
    return tuple(
        name for name, instrument in catalogue.instruments.items() if instrument.kind.measures_flow is measures_flow
    )
