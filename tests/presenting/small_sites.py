"""Small catalogues with everything that pages need, presented: a test changes the one thing it is about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.people import Publication, Tester, Wearer
from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.index_views import IndexRow
from generator.presenting.page_views import DevicePage, RecordPage, Site
from generator.presenting.presented import Presented
from generator.presenting.whole_site import present
from generator.scoring.catalogue import score_catalogue
from tests.scoring.builders import EXERCISES, Data, a_catalogue, a_session, a_wearer

LETTERS = {"wren": "A", "plover": "B", "sedge": "C"}
NOT_KNOWN = (
    "Not known from these tests: gases and vapours, other wearers, other days, and what the device does after long use."
)
NOT_KNOWN_OF_ANYONE = NOT_KNOWN.replace("other wearers", "the fit on any wearer")
NOBODY = "How much cleaner the air inside is was not measured with any wearer."
STANDARD = (
    "normal-breathing",
    "deep-breathing",
    "head-side-to-side",
    "head-up-and-down",
    "talking",
    "grimace",
    "bending",
    "normal-breathing-again",
)


def a_whole_catalogue(
    *tests: DeviceTest, publication: Data | None = None, wearers: dict[str, Wearer] | None = None, **parts: Any
) -> Catalogue:
    """Return a catalogue with the reference data, three wearers and a tester. `parts` go to `a_catalogue`."""
    bare, reference = a_catalogue(*tests, **parts), load_reference()
    tester = Tester(id="tester", version="1", pseudonym="Tester", disclosure="none")
    known = {name: a_wearer(name, letter) for name, letter in LETTERS.items()}
    changed = bare.publication.model_dump() | (publication or {})
    return replace(
        bare,
        publication=Publication.model_validate(changed),
        testers={"tester": tester},
        wearers=wearers or known,
        caution_rules=reference.caution_rules,
        landmarks=reference.landmarks,
    )


def shown(catalogue: Catalogue) -> Site:
    out = published(catalogue)
    return present(out, score_catalogue(out))


def context_of(catalogue: Catalogue) -> Context:
    out = published(catalogue)
    return Context(out, score_catalogue(out))


def device_page(*tests: DeviceTest, **parts: Any) -> DevicePage:
    (page,) = shown(a_whole_catalogue(*tests, **parts)).devices
    return page


def record_page(*tests: DeviceTest, **parts: Any) -> RecordPage:
    return shown(a_whole_catalogue(*tests, **parts)).records[0]


def index_row(*tests: DeviceTest, **parts: Any) -> IndexRow:
    (group,) = shown(a_whole_catalogue(*tests, **parts)).index.groups
    (row,) = group.rows
    return row


def given(*factors: float, **changes: Any) -> Data:
    """Return a session of factors as the instrument gave them: their harmonic mean is the overall one."""
    names = STANDARD if changes.get("protocol") == "eight-standard-exercises" else EXERCISES
    values = factors * len(names) if len(factors) == 1 else factors
    exercises: list[Data] = [{"exercise": name, "fit_factor": value} for name, value in zip(names, values, strict=True)]
    return a_session(exercises, **changes)


def texts_of(part: object) -> Iterator[str]:
    """Return every text in the dataclasses that make up a site, whatever its field."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, (tuple, Presented)):
        for item in part:
            yield from texts_of(item)
    elif is_dataclass(part) and not isinstance(part, type):
        for field in fields(part):
            yield from texts_of(getattr(part, field.name))
