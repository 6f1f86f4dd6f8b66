"""Which donnings of a group count, and what is known of each: a factor, or only what it is at least."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.published import PublishedCatalogue
from generator.model.result import Figure, Input, Relation, Working
from generator.model.wearers_result import WearerDonning
from generator.scoring.fit_groups import Recorded

_BY_WEARER = "wearer-fit-factor"


def known_at_least(figure: Figure) -> tuple[float, bool] | None:
    """Return a factor and whether it is only a bound, or None where there is neither."""
    if figure.value is None:
        return None
    return figure.value, figure.relation is not Relation.EQUAL


def donnings_in_order(members: Sequence[Recorded], catalogue: PublishedCatalogue) -> tuple[WearerDonning, ...]:
    """Return the donnings of a group, each once: a wearer's together, the first one first.

    Several sessions of one donning are not several donnings: the one with the lowest factor stands for it.
    """
    lowest: dict[tuple[str, str, int], WearerDonning] = {}
    for record, session in members:
        known = known_at_least(session.overall) if session.overall is not None else None
        if session.overall is None or known is None:
            continue
        donning = WearerDonning(
            wearer=session.wearer,
            record=record,
            session=session.session,
            donning=session.donning,
            factor=_without_working(session.overall),
            least=known[0],
            bound=known[1],
        )
        place = (record, session.wearer, session.donning)
        if place not in lowest or donning.least < lowest[place].least:
            lowest[place] = donning
    tests = catalogue.device_tests

    def order(donning: WearerDonning) -> tuple[object, ...]:
        performed = tests[donning.record].dates.performed
        return len(donning.wearer), donning.wearer, performed, donning.record, donning.donning

    return tuple(sorted(lowest.values(), key=order))


def _without_working(figure: Figure) -> Figure:
    interval = figure.interval
    bare = interval.model_copy(update={"working": None}) if interval is not None else None
    return figure.model_copy(update={"working": None, "interval": bare})


def first_donnings(donnings: Sequence[WearerDonning]) -> tuple[WearerDonning, ...]:
    """Return the first donning of each wearer: the one that shares are counted by."""
    firsts: dict[str, WearerDonning] = {}
    for donning in donnings:
        firsts.setdefault(donning.wearer, donning)
    return tuple(firsts.values())


def wearers_in(donnings: Sequence[WearerDonning]) -> tuple[str, ...]:
    """Return the wearers of donnings, each once, in their order."""
    return tuple(dict.fromkeys(donning.wearer for donning in donnings))


def donning_input(symbol: str, donning: WearerDonning) -> Input:
    """Return a donning's factor as an input of a working."""
    least = ", at least" if donning.bound else ""
    return Input(
        symbol=symbol,
        meaning=f"wearer {donning.wearer}{least}, donning {donning.donning}",
        value=donning.least,
        unit="1",
        where=f"{donning.record}: {donning.factor.key}",
    )


def numbered_inputs(donnings: Sequence[WearerDonning]) -> tuple[Input, ...]:
    """Return the factors of donnings as inputs of a working, numbered from one."""
    return tuple(
        donning_input(rf"\mathrm{{FF}}_{{{number}}}", donning) for number, donning in enumerate(donnings, start=1)
    )


def wearer_input(symbol: str, wearer: str, donnings: Sequence[WearerDonning], value: float) -> Input:
    """Return the geometric mean of one wearer's donnings as an input of a working; a single donning stands itself."""
    if len(donnings) == 1:
        return donning_input(symbol, donnings[0])
    return Input(
        symbol=symbol,
        meaning=f"geometric mean of wearer {wearer}'s donnings",
        value=value,
        unit="1",
        where=f"{len(donnings)} donnings that count",
        working=Working(method=_BY_WEARER, inputs=numbered_inputs(donnings)),
    )


def by_wearer(donnings: Sequence[WearerDonning]) -> dict[str, list[WearerDonning]]:
    """Return donnings by their wearer."""
    found: dict[str, list[WearerDonning]] = {}
    for donning in donnings:
        found.setdefault(donning.wearer, []).append(donning)
    return found
