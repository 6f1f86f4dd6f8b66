"""The difference of two devices: stated only where the same wearers wore both under the same conditions.

The conditions are the same protocol, the same kind of counter and a blower alike: none with none, off with off, running
with running, and then only where each device was worn at one setting, so that no choice of a setting makes the
difference. Where several sets of conditions are shared, the one with most wearers in common is taken, whatever the
factors are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.comparison_result import ComparedDevice, ComparedSession, Difference, FitConditions
from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.paired_ratio import geometric_mean, paired_log_ratio

LEAST_WEARERS = 3
METHOD = "paired-log-ratio"
_BY_WEARER = "wearer-fit-factor"
_COVERS = "how the wearers in common differed in this ratio; not wearers unlike them, other units or other days"

Worn = Mapping[str, Sequence[ComparedSession]]
"""Sessions by the wearer's letter."""


def device_difference(first: ComparedDevice, second: ComparedDevice) -> Difference:
    """Return how many times the fit factor of the first device was that of the second, or why it is not stated."""
    worn = _by_conditions(first), _by_conditions(second)
    shared = [conditions for conditions in worn[0] if conditions in worn[1]]
    if not shared:
        nothing_shared = "never worn by the same protocol, with the same kind of counter and the blower alike"
        return _not_stated(first, second, None, (), nothing_shared)
    common = {conditions: sorted(worn[0][conditions].keys() & worn[1][conditions].keys()) for conditions in shared}
    conditions = min(shared, key=lambda item: (-len(common[item]), item.protocol, item.counter, item.blower))
    wearers = tuple(common[conditions])
    sides = tuple({wearer: of_device[conditions][wearer] for wearer in wearers} for of_device in worn)
    reason = _why_not_stated(len(wearers), [_settings(side[conditions]) for side in worn], sides)
    if reason is not None:
        return _not_stated(first, second, conditions, wearers, reason)
    return Difference(
        first=first.device,
        second=second.device,
        conditions=conditions,
        wearers=wearers,
        ratio=_ratio_figure(first.device, second.device, *sides),
    )


def _by_conditions(device: ComparedDevice) -> dict[FitConditions, dict[str, list[ComparedSession]]]:
    found: dict[FitConditions, dict[str, list[ComparedSession]]] = {}
    for session in device.sessions:
        if session.conditions is not None:
            found.setdefault(session.conditions, {}).setdefault(session.wearer, []).append(session)
    return found


def _settings(worn: Worn) -> list[str]:
    return sorted({session.blower or "" for sessions in worn.values() for session in sessions})


def _why_not_stated(wearers: int, settings: Sequence[list[str]], sides: Sequence[Worn]) -> str | None:
    if wearers < LEAST_WEARERS:
        noun = "wearer" if wearers == 1 else "wearers"
        return f"{wearers} {noun} in common, at least {LEAST_WEARERS} are needed"
    for names in settings:
        if len(names) > 1:
            words = ", ".join(names[:-1]) + f" and {names[-1]}"
            return f"one of the two was worn at several blower settings ({words})"
    sessions = [session for side in sides for worn in side.values() for session in worn]
    if any(session.as_given for session in sessions):
        return "the instrument gave factors without what they rest on"
    if any(session.overall.relation is not Relation.EQUAL for session in sessions):
        return "no particle was counted inside in a session, so that its factor is known as “at least” only"
    return None


def _figure_key(first: str, second: str) -> str:
    return f"difference-{first}-{second}"


def _name(first: str, second: str) -> str:
    return f"fit factor of {first} as a multiple of that of {second}"


def _not_stated(
    first: ComparedDevice,
    second: ComparedDevice,
    conditions: FitConditions | None,
    wearers: tuple[str, ...],
    reason: str,
) -> Difference:
    names = first.device, second.device
    return Difference(
        first=first.device,
        second=second.device,
        conditions=conditions,
        wearers=wearers,
        ratio=Figure(
            key=_figure_key(*names),
            name=_name(*names),
            value=None,
            unit="1",
            sample_size=len(wearers),
            sample_of="wearers in common",
            method=METHOD,
            not_scored=reason,
        ),
    )


def _ratio_figure(first: str, second: str, worn_first: Worn, worn_second: Worn) -> Figure:
    inputs: list[Input] = []
    factors: dict[str, list[float]] = {first: [], second: []}
    for number, wearer in enumerate(worn_first, start=1):
        for symbol, device, worn in (("a", first, worn_first), ("b", second, worn_second)):
            item = _wearer_input(f"{symbol}_{{{number}}}", wearer, device, worn[wearer])
            factors[device].append(item.value)
            inputs.append(item)
    ratio, low, high = paired_log_ratio(factors[first], factors[second], COVERAGE)
    working = Working(method=METHOD, inputs=tuple(inputs))
    return Figure(
        key=_figure_key(first, second),
        name=_name(first, second),
        value=ratio,
        unit="1",
        interval=Interval(low=low, high=high, coverage=COVERAGE, method=METHOD, covers=_COVERS, working=working),
        sample_size=len(worn_first),
        sample_of="wearers in common",
        method=METHOD,
        working=working,
    )


def _wearer_input(symbol: str, wearer: str, device: str, sessions: Sequence[ComparedSession]) -> Input:
    factors = [session.overall.value for session in sessions if session.overall.value is not None]
    inputs = tuple(
        Input(
            symbol=rf"\mathrm{{FF}}_{{{number}}}",
            meaning=f"overall fit factor, donning {session.donning}",
            value=factor,
            unit="1",
            where=f"{session.record}: {session.overall.key}",
        )
        for number, (factor, session) in enumerate(zip(factors, sessions, strict=True), start=1)
    )
    return Input(
        symbol=symbol,
        meaning=f"fit factor of wearer {wearer} with {device}",
        value=geometric_mean(factors),
        unit="1",
        where=f"{len(sessions)} counted session{'s' if len(sessions) > 1 else ''}",
        working=Working(method=_BY_WEARER, inputs=inputs),
    )
