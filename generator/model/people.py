"""Publisher, testers and wearers."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import StringConstraints

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Text, Version


class PaperSize(StrEnum):
    """The paper that PDFs are set for."""

    A4 = "A4"
    """210 mm by 297 mm."""
    US_LETTER = "US Letter"
    """8.5 in by 11 in."""


class Publication(Frozen):
    """records/publication.yaml: who publishes the catalogue, and what a reader must know of them."""

    title: Text
    """The title of the catalogue."""
    subtitle: Text
    """The line below the title."""
    publisher: Text
    """Who publishes it."""
    address: LongText
    """The publisher's postal address."""
    contact: Annotated[str, StringConstraints(pattern=r"""^[^@\s<>"']+@[^@\s<>"']+$""", max_length=120)]
    """An e-mail address for readers and makers."""
    base_address: Annotated[
        str, StringConstraints(pattern=r"^https://[a-z0-9.-]+(/[A-Za-z0-9._~-]+)*/$", max_length=200)
    ]
    """Where the catalogue will be published; ends with `/`."""
    data_licence: Text
    """The licence of the published data."""
    disclosure: LongText
    """Interests, money and loans that a reader must know of."""
    authorised_by: Text
    """Who authorises the data sheets."""
    accredited_laboratory: bool
    """Whether the publisher is an accredited laboratory."""
    invented: bool
    """Whether the records are invented for demonstration; every page then says so."""
    scenario: Recorded[LongText]
    """The invented scenario, for demonstration records."""
    paper: PaperSize = PaperSize.A4
    """The paper that data sheets, comparisons and the whole catalogue are set for: `A4` or `US Letter`."""


class Tester(Frozen):
    """records/testers/<id>.yaml"""

    __test__ = False  # not a test class, whatever its name suggests to a test runner

    id: Id
    """The file name without its ending."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    pseudonym: Text
    """The name that readers see."""
    disclosure: LongText
    """The tester's interests that a reader must know of."""


class FacialHair(StrEnum):
    """What lies under the seal; private. A record says only in how many of its sessions hair lay there."""

    NONE = "none"
    """Shaven where the seal lies."""
    STUBBLE = "stubble"
    """Short hair where the seal lies."""
    BEARD = "beard"
    """A beard where the seal lies."""


class Consent(Frozen):
    """The wearer's consent to the tests and to publication under a letter."""

    given: Day
    """When consent was given; not after the first test."""
    covers: Text
    """What the wearer agreed to."""


class Fitness(Frozen):
    """That the wearer may wear such devices during exertion; private, but whether it is on record is published."""

    declared: Day
    """When it was declared or examined; not after the first test."""
    how: Text
    """How, such as `questionnaire read by an occupational nurse`; never published."""


class Wearer(Frozen):
    """records/wearers/<id>.yaml: a pseudonym; readers see only the catalogue letter."""

    id: Id
    """The file name without its ending. A pseudonym, never a name."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    catalogue_letter: Annotated[str, StringConstraints(pattern=r"^[A-Z]{1,2}$")]
    """The letter that readers see; each wearer has one for good."""
    consent: Consent
    """The wearer's consent."""
    fitness: Fitness | None = None
    """Fitness to wear, as declared or examined; what it says is never published."""
    facial_hair: FacialHair
    """What lies under the seal; published only as the number of sessions in a record with hair there."""
    private_note: LongText | None = None
    """Whatever helps with tests; never published."""
