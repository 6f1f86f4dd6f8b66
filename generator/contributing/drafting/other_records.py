"""Drafts of what a test record refers to: device, instrument, tester, wearer; and of the publication."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import product
from string import ascii_uppercase
from typing import Any

from generator.contributing.drafting.blanks import BLANK, Offered, Wording, lines_of
from generator.contributing.drafting.commented_yaml import Line, yaml_text
from generator.contributing.drafting.record_of_a_test import HOW_TO_FILL_IN
from generator.model.device import Device, DeviceKind
from generator.model.instrument import Instrument, InstrumentKind
from generator.model.people import Publication, Tester, Wearer


def _text(what: str, lines: tuple[Line, ...], opening: tuple[str, ...]) -> str:
    return yaml_text(lines, (*opening, f"Draft of the record of {what}.", *HOW_TO_FILL_IN))


def draft_of_device(name: str, kind: DeviceKind, settings: tuple[str, ...] = (), opening: tuple[str, ...] = ()) -> str:
    """Return the draft of a device's record; settings are those of its blower, where it has one."""
    known: dict[str, Any] = {
        "id": name,
        "version": "1",
        "kind": kind.value,
        "claims": Offered({}),
        "approvals_stated": Offered({}),
        "consumables": Offered({}),
        "air_path": {
            "alarms": Offered(),
            **({"powered_exhaust": Offered(), "low_flow_alarm": Offered()} if kind.powered else {}),
        },
    }
    if kind.powered:
        known["power"] = {"settings": settings or BLANK, "protective_settings": Offered()}
    else:
        known["breath_responsive"] = False
    above = {
        "air_path": ("Every way in and every way out for air has an entry; where there is no way out: `outlets: []`.",)
    }
    return _text("a device", lines_of(Device, known, Wording(above)), opening)


def draft_of_instrument(name: str, kind: InstrumentKind, opening: tuple[str, ...] = ()) -> str:
    """Return the draft of an instrument's record."""
    known: dict[str, Any] = {"id": name, "version": "1", "kind": kind.value}
    if kind.refers_to_conditions:
        known["reference_conditions"] = {}
    if kind.measures_flow:
        known["drift_per_year"] = Offered()
    else:
        known["counter"] = {}
    examples = {"resolution": "0.1 L/min" if kind.measures_flow else "0.01 /cm3"}
    if kind.measures_flow:
        examples["name"] = "Flow meter of the workshop, 10 to 300 L/min"
    return _text("an instrument", lines_of(Instrument, known, Wording(examples=examples)), opening)


def draft_of_tester(name: str, opening: tuple[str, ...] = ()) -> str:
    """Return the draft of a tester's record."""
    return _text("a tester", lines_of(Tester, {"id": name, "version": "1"}), opening)


_WEARER = (
    "Readers see the letter only. The id is a pseudonym too: a bird or a plant, never a name.",
    "The signed consent itself is kept elsewhere, never with the records.",
)


def draft_of_wearer(name: str, letter: str, opening: tuple[str, ...] = ()) -> str:
    """Return the draft of a wearer's record."""
    known = {"id": name, "version": "1", "catalogue_letter": letter, "fitness": Offered()}
    wording = Wording({"catalogue_letter": _WEARER[:1], "consent": _WEARER[1:]})
    return _text("a wearer", lines_of(Wearer, known, wording), opening)


def draft_of_publication(opening: tuple[str, ...] = ()) -> str:
    """Return the draft of a publication record, for a new catalogue."""
    return _text("the publication", lines_of(Publication, {"paper": Offered()}), opening)


def free_letters(taken: Collection[str]) -> Iterator[str]:
    """Yield the letters that no wearer has, in order: one letter, then two."""
    singles = tuple(ascii_uppercase)
    for letters in (*singles, *(first + second for first, second in product(singles, singles))):
        if letters not in taken:
            yield letters
