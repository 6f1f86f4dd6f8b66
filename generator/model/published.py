"""The published record: what may leave the house. Scoring, pages, sheets and open data are made from it alone.

A wearer is a letter here; facepiece sizes, facial hair, consents and private notes do not exist. A test record and its
published form are different types, so that a private field cannot slip through by accident.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Annotated

from pydantic import StringConstraints

from generator.model.catalogue import Catalogue, PublicRecords
from generator.model.device_test import DeviceTest, FitSession, Session, Test

Letter = Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}$")]


class PublishedSession(Session):
    """A fit session as it may be published: the wearer is a letter."""

    wearer: Letter


class PublishedTest(Test):
    """A test record as it may be published."""

    fit: tuple[PublishedSession, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PublishedCatalogue(PublicRecords):
    """What a catalogue is scored and made from."""

    device_tests: Mapping[str, PublishedTest]
    wearers: tuple[str, ...]
    """The letters of all wearers."""

    def tests_of(self, device_id: str) -> tuple[PublishedTest, ...]:
        """Return a device's test records, oldest first."""
        tests = [test for test in self.device_tests.values() if test.device == device_id]
        return tuple(sorted(tests, key=lambda test: (test.dates.performed, test.id)))


def _published_session(session: FitSession, letters: Mapping[str, str]) -> PublishedSession:
    shared = {name: getattr(session, name) for name in PublishedSession.model_fields}
    return PublishedSession(**shared | {"wearer": letters[session.wearer]})


def published_test(test: DeviceTest, letters: Mapping[str, str]) -> PublishedTest:
    """Return the published form of a test record; `letters` gives each wearer's letter by id."""
    shared = {name: getattr(test, name) for name in PublishedTest.model_fields}
    return PublishedTest(**shared | {"fit": tuple(_published_session(session, letters) for session in test.fit)})


def published(catalogue: Catalogue) -> PublishedCatalogue:
    """Return what of a catalogue may leave the house."""
    letters = {name: wearer.catalogue_letter for name, wearer in catalogue.wearers.items()}
    return PublishedCatalogue(
        device_tests={name: published_test(test, letters) for name, test in catalogue.device_tests.items()},
        wearers=tuple(sorted(letters.values(), key=lambda letter: (len(letter), letter))),
        **{field.name: getattr(catalogue, field.name) for field in fields(PublicRecords)},
    )
