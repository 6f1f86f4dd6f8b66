"""The published record: what may leave the house. Scoring, pages, sheets and open data are made from it alone.

A wearer is a letter here; facepiece sizes, consents and private notes do not exist. Of facial hair only the number of a
record's sessions remains in which hair lay under a seal. A test record and its published form are different types, so
that a private field cannot slip through by accident.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Annotated, TypeVar

from pydantic import Field, StringConstraints

from generator.model.base import Day
from generator.model.catalogue import Catalogue, PublicRecords
from generator.model.device_test import DeviceTest, Test
from generator.model.people import FacialHair, Wearer
from generator.model.session import FitSession, Outcome, Session

CATALOGUE_DATA = "data/catalogue.json"
"""Where in a site the published catalogue stands; beside it, each test record by itself."""

Letter = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}$")]


class PublishedSession(Session):
    """A fit session as it may be published: the wearer is a letter."""

    wearer: Letter
    fitness_on_record: bool = False
    """Whether the wearer's fitness to wear was on record on the day of the test."""


class PublishedTest(Test):
    """A test record as it may be published."""

    fit: tuple[PublishedSession, ...] = ()
    sessions_with_hair_at_seal: Annotated[int, Field(ge=0)] = 0
    """Completed sessions in which hair lay under the seal; not which ones, and 0 for a device that has no seal."""


@dataclass(frozen=True, kw_only=True)
class PublishedCatalogue(PublicRecords):
    """What a catalogue is scored and made from."""

    device_tests: Mapping[str, PublishedTest]
    wearers: tuple[str, ...]
    """The letters of all wearers."""

    @cached_property
    def tests_by_device(self) -> Mapping[str, tuple[PublishedTest, ...]]:
        """The test records of each device that has some, oldest first."""
        return _grouped((test.device, test) for test in self.oldest_first)

    @cached_property
    def tests_by_instrument(self) -> Mapping[str, tuple[PublishedTest, ...]]:
        """The test records in which each instrument was used, oldest first."""
        return _grouped(
            (name, test) for test in self.oldest_first for name in dict.fromkeys(test.instruments.by_role.values())
        )

    @cached_property
    def standing_tests_by_day(self) -> Mapping[tuple[Day, str], tuple[PublishedTest, ...]]:
        """The test records that were not withdrawn, by day and tester."""
        standing = (test for test in self.device_tests.values() if test.withdrawn is None)
        return _grouped(((test.dates.performed, test.tester), test) for test in standing)

    @cached_property
    def oldest_first(self) -> tuple[PublishedTest, ...]:
        """All test records in the order of their days."""
        return tuple(sorted(self.device_tests.values(), key=lambda test: (test.dates.performed, test.id)))

    def tests_of(self, device_id: str) -> tuple[PublishedTest, ...]:
        """Return a device's test records, oldest first."""
        return self.tests_by_device.get(device_id, ())

    def standing_tests_of(self, device_id: str) -> tuple[PublishedTest, ...]:
        """Return a device's test records that were not withdrawn, oldest first: what its results are made of."""
        return tuple(test for test in self.tests_of(device_id) if test.withdrawn is None)

    def withdrawn_tests_of(self, device_id: str) -> tuple[PublishedTest, ...]:
        """Return a device's test records that were withdrawn, oldest first."""
        return tuple(test for test in self.tests_of(device_id) if test.withdrawn is not None)


_Key = TypeVar("_Key")


def _grouped(keyed: Iterable[tuple[_Key, PublishedTest]]) -> dict[_Key, tuple[PublishedTest, ...]]:
    groups: dict[_Key, list[PublishedTest]] = {}
    for key, test in keyed:
        groups.setdefault(key, []).append(test)
    return {key: tuple(tests) for key, tests in groups.items()}


def _published_session(session: FitSession, performed: Day, wearer: Wearer) -> PublishedSession:
    shared = {name: getattr(session, name) for name in Session.model_fields}
    own = {
        "wearer": wearer.catalogue_letter,
        "fitness_on_record": wearer.fitness is not None and wearer.fitness.declared <= performed,
    }
    return PublishedSession(**shared | own)


def published_test(test: DeviceTest, wearers: Mapping[str, Wearer], *, tight: bool) -> PublishedTest:
    """Return the published form of a test record; `wearers` are those of the catalogue, by id.

    `tight` says whether the device has a seal: where it has none, nothing of facial hair is needed, nor published.
    """
    shared = {name: getattr(test, name) for name in Test.model_fields}
    sessions = tuple(_published_session(each, test.dates.performed, wearers[each.wearer]) for each in test.fit)
    with_hair = sum(
        tight and each.outcome is Outcome.COMPLETED and wearers[each.wearer].facial_hair is not FacialHair.NONE
        for each in test.fit
    )
    return PublishedTest(**shared | {"fit": sessions, "sessions_with_hair_at_seal": with_hair})


def published(catalogue: Catalogue) -> PublishedCatalogue:
    """Return what of a catalogue may leave the house."""
    letters = [wearer.catalogue_letter for wearer in catalogue.wearers.values()]
    return PublishedCatalogue(
        device_tests={
            name: published_test(test, catalogue.wearers, tight=catalogue.devices[test.device].kind.tight)
            for name, test in catalogue.device_tests.items()
        },
        wearers=tuple(sorted(letters, key=lambda letter: (len(letter), letter))),
        **{field.name: getattr(catalogue, field.name) for field in fields(PublicRecords)},
    )
