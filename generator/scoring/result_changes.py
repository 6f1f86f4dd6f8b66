"""What differs between two scorings: each figure, verdict, finding and other result, before and after."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from generator.model.result import Figure, Finding, Relation, Verdict
from generator.scoring.flat_results import FlatResult, Plain

_Told = TypeVar("_Told")
_ToldOf = TypeVar("_ToldOf", covariant=True)


class OwnerKind(StrEnum):
    """What a result is of."""

    RECORD = "record"
    DEVICE = "device"
    COMPARISON = "comparison"
    INSTRUMENT = "instrument"


@dataclass(frozen=True, order=True)
class Owner:
    """The thing that a result is of."""

    kind: OwnerKind
    id: str


@dataclass(frozen=True)
class Change(Generic[_ToldOf]):
    """One thing that is told otherwise, or only before, or only after."""

    owner: Owner
    place: str
    before: _ToldOf | None
    after: _ToldOf | None


@dataclass(frozen=True)
class FigureChange(Change[Figure]):
    """A figure that differs, with the limits that its digits keep to."""

    limit_before: float | None = None
    limit_after: float | None = None

    @property
    def moved(self) -> bool:
        """Whether the number itself differs, or its interval: not only what is said about it."""
        return _number(self.before) != _number(self.after)

    @property
    def ratio(self) -> float | None:
        """The value after divided by the one before; None where that says nothing.

        Levels in decibels and temperatures have no ratio, nor have bounds and values that are not above zero.
        """
        before, after = self.before, self.after
        if before is None or after is None or before.value is None or after.value is None:
            return None
        values = (before.relation, after.relation) == (Relation.EQUAL, Relation.EQUAL)
        alike = before.unit == after.unit and before.unit not in _WITHOUT_RATIO
        return after.value / before.value if values and alike and min(before.value, after.value) > 0 else None


class VerdictChange(Change[Verdict]):
    """A verdict that differs."""

    @property
    def turned(self) -> bool:
        """Whether the outcome differs, or there is one only before or only after."""
        return _outcome(self.before) != _outcome(self.after)


class FindingChange(Change[Finding]):
    """A finding that came, went, or has other facts."""


@dataclass(frozen=True)
class PlainChange:
    """Another result that differs, such as how a claim stands; `ABSENT` stands for none of that place."""

    owner: Owner
    place: str
    before: Plain
    after: Plain

    @property
    def is_outcome(self) -> bool:
        """Whether it says what came out, as a verdict does."""
        words = [each for each in (self.before, self.after) if type(each) is not int]
        return self.place.rpartition(".")[2] in _OUTCOMES and len(words) == 2

    @property
    def is_behind_others(self) -> bool:
        """Whether it is a number that only other results are made from, such as a line of a budget."""
        return isinstance(self.before, float) or isinstance(self.after, float)


ABSENT = "\0absent"
"""Stands for a place that is not there; no record can hold it."""
THERE = "there"
"""Stands for an item of which nothing but its being there is told."""
_WITHOUT_RATIO = frozenset({"dB", "dB(A)", "degC", "degF"})
_OUTCOMES = frozenset(
    {"outcome", "coverage", "apart", "alarm", "task", "plausible", "side", "agrees", "state", "holds_centre", "counted"}
)
"""Last words of the places of results that say what came out."""


@dataclass(frozen=True)
class ResultChanges:
    """Everything that differs, in the order of the owners."""

    figures: tuple[FigureChange, ...] = ()
    verdicts: tuple[VerdictChange, ...] = ()
    findings: tuple[FindingChange, ...] = ()
    plain: tuple[PlainChange, ...] = ()

    @property
    def owners(self) -> tuple[Owner, ...]:
        """Everything of which a result differs, each once."""
        told: tuple[Change[object] | PlainChange, ...] = (*self.figures, *self.verdicts, *self.findings, *self.plain)
        return tuple(dict.fromkeys(change.owner for change in told))

    def __add__(self, other: ResultChanges) -> ResultChanges:
        """Return both together."""
        return ResultChanges(
            self.figures + other.figures,
            self.verdicts + other.verdicts,
            self.findings + other.findings,
            self.plain + other.plain,
        )


def changes(owner: Owner, before: FlatResult, after: FlatResult, only_shared: bool = False) -> ResultChanges:
    """Return what differs between two results of one owner.

    `only_shared` leaves out other results that only one of the two can hold, since it was published without them.
    """
    limits = [{each.figure: each.limit for each in side.verdicts.values()} for side in (before, after)]
    figures = tuple(
        FigureChange(
            owner, place, old, new, *(_limit(figure, of) for figure, of in zip((old, new), limits, strict=True))
        )
        for place, old, new in _pairs(before.figures, after.figures)
    )
    verdicts = tuple(
        VerdictChange(owner, place, old, new) for place, old, new in _pairs(before.verdicts, after.verdicts)
    )
    return ResultChanges(figures, verdicts, _findings(owner, before, after), _plain(owner, before, after, only_shared))


def _pairs(before: Mapping[str, _Told], after: Mapping[str, _Told]) -> Iterator[tuple[str, _Told | None, _Told | None]]:
    for place in dict.fromkeys([*after, *before]):
        old, new = before.get(place), after.get(place)
        if old != new:
            yield place, old, new


def _limit(figure: Figure | None, limits: Mapping[str, float | None]) -> float | None:
    return limits.get(figure.key) if figure is not None else None


def _number(figure: Figure | None) -> tuple[object, ...] | None:
    if figure is None:
        return None
    interval = figure.interval
    ends = (interval.low, interval.high, interval.coverage) if interval is not None else None
    return (figure.value, figure.unit, figure.relation, figure.other_bound, ends)


def _outcome(verdict: Verdict | None) -> object:
    return verdict.outcome if verdict is not None else None


def _findings(owner: Owner, before: FlatResult, after: FlatResult) -> tuple[FindingChange, ...]:
    gone, new = _left(before, after), _left(after, before)
    told = []
    for finding in new:
        same = next((old for old in gone if (old.rule, old.where) == (finding.rule, finding.where)), None)
        if same is not None:
            gone.remove(same)
        told.append(FindingChange(owner, finding.where, same, finding))
    told += [FindingChange(owner, finding.where, finding, None) for finding in gone]
    return tuple(sorted(told, key=lambda change: (change.place, str(change.after), str(change.before))))


def _left(these: FlatResult, without: FlatResult) -> list[Finding]:
    """Return the findings of one that the other has not, each as often as there are more of it."""
    counts = Counter(finding.model_dump_json() for finding in without.findings)
    left = []
    for finding in these.findings:
        name = finding.model_dump_json()
        counts[name] -= 1
        if counts[name] < 0:
            left.append(finding)
    return left


def _plain(owner: Owner, before: FlatResult, after: FlatResult, only_shared: bool) -> tuple[PlainChange, ...]:
    places = dict.fromkeys([*after.plain, *before.plain])
    if only_shared:
        places = {place: None for place in places if place in before.plain and place in after.plain}
    items = [_items(side.plain) for side in (before, after)]
    found: dict[str, PlainChange] = {}
    for place in places:
        old, new = before.plain.get(place, ABSENT), after.plain.get(place, ABSENT)
        # An empty list has a place of its own, which goes as soon as there are items.
        if old == new or {old, new} <= {ABSENT, ()}:
            continue
        change = PlainChange(owner, place, old, new)
        item = next((each for each in _items([place]) if (each in items[0]) != (each in items[1])), None)
        if item is None or change.is_outcome:
            found[place] = change
        else:
            # What an item says that only one side has is told by the item.
            found[item] = PlainChange(owner, item, *((ABSENT, THERE) if item in items[1] else (THERE, ABSENT)))
    return tuple(found.values())


def _items(places: Iterable[str]) -> dict[str, None]:
    """Return the items of lists that places lie in, the outermost of each first."""
    found: dict[str, None] = {}
    for place in places:
        end = place.find("]")
        while end >= 0:
            found[place[: end + 1]] = None
            end = place.find("]", end + 1)
    return found
