"""Publisher, testers and wearers."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import StringConstraints

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Text, Version


class Publication(Frozen):
    """records/publication.yaml: who publishes the catalogue, and what a reader must know of them."""

    title: Text
    subtitle: Text
    publisher: Text
    address: LongText
    contact: Annotated[str, StringConstraints(pattern=r"^[^@\s<>\"']+@[^@\s<>\"']+$", max_length=120)]
    base_address: Annotated[
        str, StringConstraints(pattern=r"^https://[a-z0-9.-]+(/[A-Za-z0-9._~-]+)*/$", max_length=200)
    ]
    data_licence: Text
    disclosure: LongText
    authorised_by: Text
    accredited_laboratory: bool
    invented: bool
    scenario: Recorded[LongText]


class Tester(Frozen):
    """records/testers/<id>.yaml"""

    id: Id
    version: Version
    pseudonym: Text
    disclosure: LongText


class FacialHair(StrEnum):
    """What lies under the seal; a private field, never published."""

    NONE = "none"
    STUBBLE = "stubble"
    BEARD = "beard"


class Consent(Frozen):
    """The wearer's consent to the tests and to publication under a letter."""

    given: Day
    covers: Text


class Wearer(Frozen):
    """records/wearers/<id>.yaml: a pseudonym; readers see only the catalogue letter."""

    id: Id
    version: Version
    catalogue_letter: Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}$")]
    consent: Consent
    facial_hair: FacialHair
    private_note: LongText | None = None
