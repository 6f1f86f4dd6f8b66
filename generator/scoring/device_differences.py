"""The difference of two devices: stated only where both were worn under the same conditions.

The conditions are the same protocol, done as a whole, the same kind of counter and a blower alike: none with none, off
with off, running with running, and then only where each device was worn at one setting, so that no choice of a setting
makes the difference. Where several sets of conditions are shared, one that allows the same wearers to be compared goes
before one of other wearers, and the most wearers before fewer, whatever the factors are.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

from generator.model.comparison_result import ComparedDevice, ComparedSession, Difference, FitConditions
from generator.model.difference_result import FactorDifference, People
from generator.model.fit_result import Basis
from generator.scoring.difference_figures import Sides, Wearers, Worn, not_stated
from generator.scoring.factor_differences import factor_difference, people_compared, who_wore

_Conditioned = dict[FitConditions, dict[str, list[ComparedSession]]]


def device_difference(first: ComparedDevice, second: ComparedDevice) -> Difference:
    """Return how many times the fit factor of the first device was that of the second, or why it is not stated."""
    sides = Sides(
        key=f"difference-{first.device}-{second.device}",
        name=f"fit factor of {first.device} as a multiple of that of {second.device}",
        first=f"with {first.device}",
        second=f"with {second.device}",
    )
    ours, theirs = _by_conditions(first), _by_conditions(second)
    shared = [conditions for conditions in ours if conditions in theirs]
    if not shared:
        return _of_devices(first, second, None, not_stated(sides, Wearers(), _nothing_shared(first, second)))
    conditions = min(shared, key=lambda each: _rank(each, ours[each], theirs[each]))
    found = factor_difference(sides, ours[conditions], theirs[conditions])
    return _of_devices(first, second, conditions, found)


def _of_devices(
    first: ComparedDevice, second: ComparedDevice, conditions: FitConditions | None, found: FactorDifference
) -> Difference:
    parts = {name: getattr(found, name) for name in FactorDifference.model_fields}
    return Difference(first=first.device, second=second.device, conditions=conditions, **parts)


def _by_conditions(device: ComparedDevice) -> _Conditioned:
    found: _Conditioned = {}
    for session in device.sessions:
        if session.conditions is not None:
            found.setdefault(session.conditions, {}).setdefault(session.wearer, []).append(session)
    return found


_SHARED: tuple[tuple[Callable[[FitConditions], object], str], ...] = (
    (lambda each: each.protocol, "never worn by the same exercises"),
    (lambda each: each.counter, "by the same exercises, never measured with the same kind of particle counter"),
    (
        lambda each: each.aerosol,
        "by the same exercises, never measured in the same kind of particles (room air, sprayed salt or sprayed oil)",
    ),
    (
        lambda each: each.blower,
        "by the same exercises, but not with the blower in the same state ({} with the one, {} with the other)",
    ),
    (lambda each: each.basis, "by the same exercises, but as a whole with only one of them"),
)
"""What two devices must share, each with what is said where it is the first that they do not."""


def _nothing_shared(first: ComparedDevice, second: ComparedDevice) -> str:
    """Say which condition keeps two devices apart: the first that no session of one shares with one of the other."""
    if not first.sessions or not second.sessions:
        return "nobody wore {} as supplied in a test that stands".format(
            "one of the two" if first.sessions or second.sessions else "either of the two"
        )
    pairs = list(product(_by_conditions(first), _by_conditions(second)))
    if not pairs:
        return "the kind of counter is not on record"
    for condition, words in _SHARED:
        alike = [pair for pair in pairs if condition(pair[0]) == condition(pair[1])]
        if not alike:
            return words.format(
                *(" or ".join(sorted({each.blower for each in side})) for side in zip(*pairs, strict=True))
            )
        pairs = alike
    raise AssertionError("something is shared")


def _rank(conditions: FitConditions, first: Worn, second: Worn) -> tuple[bool, int, int, str, str, str, str, str]:
    """Return what conditions are taken by: the lowest is."""
    who = who_wore(first, second)
    people = people_compared(who)
    order = [People.SAME_WEARERS, People.OTHER_WEARERS, None].index(people)
    others = min(len(who.first_only), len(who.second_only))
    wearers = others if people is People.OTHER_WEARERS else len(who.common)
    return (
        conditions.basis is not Basis.WHOLE_PROTOCOL,
        order,
        -wearers,
        conditions.protocol,
        conditions.counter,
        conditions.blower,
        conditions.aerosol.value,
        conditions.basis.value,
    )
