"""What the rules of a plan look at: a device, its results, and the catalogue around it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from generator.model.catalogue_result import CatalogueResult, DeviceResult
from generator.model.comparison_result import ComparisonResult
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.fit_result import Basis, FitGroup, FitSummary
from generator.model.plan_result import Activity, PlannedSession, PlannedStatement, Tier
from generator.model.published import PublishedCatalogue
from generator.model.reference import Criterion, CriterionQuantity, Principle, Protocol
from generator.model.result import TopicResult, TopicSummary
from generator.model.session import BLOWER_OFF, Outcome
from generator.scoring.requirements import criteria_for, strictest

_Summary = TypeVar("_Summary", bound=TopicSummary)
_Result = TypeVar("_Result", bound=TopicResult)


IN_DOUBT = ("calibration-out-of-tolerance", "check-standard-beyond-limits", "calibration-missing", "calibration-lapsed")
"""Findings of a record that put what an instrument read in doubt."""


@dataclass(frozen=True)
class Ruled:
    """A statement with the sessions that it lacks."""

    statement: PlannedStatement
    sessions: tuple[PlannedSession, ...] = ()


@dataclass(frozen=True)
class Reviewed:
    """One device, what was found out about it, and the catalogue around it."""

    device: Device
    catalogue: PublishedCatalogue
    scored: CatalogueResult

    @property
    def result(self) -> DeviceResult:
        """What its records say together."""
        return self.scored.devices[self.device.id]

    def summary(self, topic: str, kind: type[_Summary]) -> _Summary | None:
        """Return what a topic says of the device."""
        summary = self.result.topics.get(topic)
        return summary if isinstance(summary, kind) else None

    def results(self, topic: str, kind: type[_Result]) -> Iterator[tuple[str, _Result]]:
        """Yield a topic's result of each record that stands, oldest record first."""
        for record in self.result.records:
            result = self.scored.records[record].topics.get(topic)
            if isinstance(result, kind):
                yield record, result

    @property
    def groups(self) -> tuple[FitGroup, ...]:
        """Its groups of sessions of whole protocols: as supplied, where there are any."""
        fit = self.summary("fit", FitSummary)
        whole = [group for group in fit.groups if group.basis is Basis.WHOLE_PROTOCOL] if fit is not None else []
        supplied = [group for group in whole if group.configuration == State.AS_SUPPLIED.value]
        return tuple(supplied or whole)

    @property
    def main_group(self) -> FitGroup | None:
        """The group that is nearest to saying something of others: the most wearers, then the most donnings.

        A blower that is off is set apart: it says how a facepiece seals, not what the device does in use.
        """
        in_use = [group for group in self.groups if group.blower != BLOWER_OFF] or list(self.groups)
        return max(in_use, key=lambda group: (len(group.wearers), group.donnings, -group.number), default=None)

    @property
    def pass_level(self) -> Criterion | None:
        """The fit-test pass level that its kind is held against; None for loose-fitting and home-built devices."""
        if not self.device.kind.tight or self.device.home_built:
            return None
        criteria = criteria_for(CriterionQuantity.OVERALL_FIT_FACTOR, self.device, self.catalogue)
        return strictest(criteria) if criteria else None

    def comparisons(self) -> Iterable[ComparisonResult]:
        """Go through the comparisons that the device is in."""
        return (each for each in self.scored.comparisons.values() if self.device.id in each.devices)

    def protocol(self, accepted: Sequence[str] = ()) -> str | None:
        """Return the protocol to go by: the one most worn with the device, else with its kind, else the first accepted.

        Only protocols that count particles are taken. None where nothing is accepted and none was ever used. A device
        with a seal and no blower that nobody wore is worn by one to which its pass level is bound, so that one session
        serves both.
        """
        level = self.pass_level
        if not accepted and level is not None and self.device.power is None and not self._uses([self.device.id]):
            accepted = level.protocols
        names = [name for name in accepted or self.catalogue.protocols if self._counts_particles(name)]
        own, of_kind = self._uses([self.device.id]), self._uses(self._of_kind())
        ranked = sorted(names, key=lambda name: (-own.get(name, 0), -of_kind.get(name, 0), names.index(name)))
        if not ranked or not (accepted or own.get(ranked[0]) or of_kind.get(ranked[0])):
            return None
        return ranked[0]

    def _counts_particles(self, name: str) -> bool:
        return self.catalogue.protocols[name].principle is Principle.PARTICLES

    def _of_kind(self) -> list[str]:
        return [name for name, other in self.catalogue.devices.items() if other.kind is self.device.kind]

    def _uses(self, devices: Iterable[str]) -> Mapping[str, int]:
        """Return how many sessions were completed by each protocol, in records that stand."""
        uses: dict[str, int] = {}
        for device in devices:
            for test in self.catalogue.standing_tests_of(device):
                for session in test.fit:
                    if session.outcome is Outcome.COMPLETED:
                        uses[session.protocol] = uses.get(session.protocol, 0) + 1
        return uses

    def minutes(self, protocol: str | None, donnings: int) -> float | None:
        """Return how long the exercises of so many donnings take; None without a protocol. [min]"""
        return minutes_of(self.catalogue.protocols[protocol], donnings) if protocol is not None else None


def minutes_of(protocol: Protocol, donnings: int) -> float:
    """Return how long the exercises of a protocol take, done so many times. [min]"""
    return donnings * sum(exercise.duration.to("min") for exercise in protocol.exercises)


def new_wearers(
    of: Reviewed, number: int, group: FitGroup | None = None, protocol: str | None = None
) -> PlannedSession:
    """Return a session of new wearers, each for one donning, in the state of a group."""
    protocol = protocol or (group.protocol if group is not None else of.protocol())
    blower = group.blower if group is not None else None
    return PlannedSession(
        id=f"new-wearers-{blower or 'any'}-{protocol or 'any'}",
        tier=Tier.WEARERS,
        activity=Activity.WORN_BY_NEW_WEARERS,
        settings=(blower,) if blower is not None else (),
        protocol=protocol,
        new_wearers=number,
        donnings=number,
        minutes=of.minutes(protocol, number),
    )


def records_of(group: FitGroup | None) -> tuple[str, ...]:
    """Return the records that a group's donnings stand in."""
    return tuple(dict.fromkeys(each.record for each in group.over_wearers.donnings)) if group is not None else ()
