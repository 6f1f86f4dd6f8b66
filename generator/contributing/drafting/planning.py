"""Answers of a contributor to a planned test: each is checked where it is given, and says what could stand there."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from enum import Enum
from itertools import product
from typing import TypeVar

from generator.contributing.drafting.on_record import OnRecord
from generator.contributing.drafting.record_of_a_test import forms_for
from generator.errors import WrongUsage
from generator.loading.characters import shortened
from generator.loading.explain import nearest
from generator.loading.files import can_name_a_record
from generator.model.flow_run import BatteryState, FilterState
from generator.model.instrument import InstrumentKind
from generator.model.planned_test import PlannedInstrument, PlannedRun, PlannedSession, ReadingsForm
from generator.model.reference import Principle, Protocol
from generator.model.session import BLOWER_OFF

_Choice = TypeVar("_Choice", bound=Enum)
_NOT_OF_A_NAME = re.compile(r"[^a-z0-9]+")
MOST_DONNINGS = 20
"""Donnings of one wearer in one draft; the record itself may have more."""


def an_id(word: str, what: str) -> str:
    """Return the id that was given for something.

    Raises
    ------
    WrongUsage
        No file can have that name.
    """
    if can_name_a_record(word):
        return word
    suggestion = _NOT_OF_A_NAME.sub("-", word.lower()).strip("-")
    remedy = f"Write it as `{suggestion}`" if can_name_a_record(suggestion) else "Choose another one"
    raise WrongUsage(
        f"found `{shortened(word)}`, expected an id for {what}: lower-case letters, digits and single hyphens, such as "
        f"`north-hood-2`. {remedy}"
    )


def one_of(word: str, known: Collection[str], what: str) -> str:
    """Return a word that is one of those known.

    Raises
    ------
    WrongUsage
        It is none of them.
    """
    if word in known:
        return word
    close = nearest(word, tuple(known))
    remedy = f"Did you mean `{shortened(close)}`?" if close is not None else "Choose one of them."
    # Names in records may hold anything.
    listed = ", ".join(f"`{shortened(each)}`" for each in known)
    raise WrongUsage(f"found `{shortened(word)}`, expected {what}: one of {listed}. {remedy}")


def choice(word: str, kinds: Iterable[_Choice], what: str) -> _Choice:
    """Return the member that a word names, `one_of` those that can stand here; capitals and blanks do not matter."""
    by_word = {str(kind.value): kind for kind in kinds}
    return by_word[one_of(word.lower().replace(" ", "_").replace("-", "_"), by_word, what)]


def several(text: str) -> tuple[str, ...]:
    """Return words that were given in one line, parted by commas, each once."""
    return tuple(dict.fromkeys(word for each in text.split(",") if (word := each.strip())))


def instruments_of_kind(known: OnRecord, counters: bool) -> tuple[str, ...]:
    """Return the instruments on record that count particles, or those that read a flow."""
    return tuple(
        name for name, kind in known.instruments.items() if kind is not None and kind.measures_flow != counters
    )


def kinds_of_instrument(counters: bool) -> tuple[InstrumentKind, ...]:
    """Return the kinds of particle counter, or those of flow meter."""
    return tuple(kind for kind in InstrumentKind if kind.measures_flow != counters)


def instrument_on_record(name: str, known: OnRecord, counters: bool) -> PlannedInstrument | None:
    """Return an instrument that is on record and can be used here; None where its draft has still to be written.

    Raises
    ------
    WrongUsage
        It measures something else, or its record does not say what it measures.
    """
    if name not in known.instruments:
        return None
    kind = known.instruments[name]
    what = "particle counter" if counters else "flow meter"
    if kind is None or kind.measures_flow == counters:
        found = "whose record does not say its kind" if kind is None else f"a {kind.value.replace('_', ' ')}"
        raise WrongUsage(f"found `{name}`, {found}, expected a {what}. Name the {what} that will be used")
    return PlannedInstrument(name, kind)


def readings_form(word: str, protocol: Protocol) -> ReadingsForm:
    """Return the form that readings under a protocol will have.

    Raises
    ------
    WrongUsage
        There is no such form, or the protocol does not allow it.
    """
    return choice(word, forms_for(protocol), f"a form of readings under the protocol `{protocol.id}`")


def counts_particles(protocol: Protocol) -> bool:
    """Say whether sessions under a protocol need a particle counter."""
    return protocol.principle is Principle.PARTICLES


def blower_state(word: str, settings: Sequence[str]) -> str:
    """Return a state of the blower: off, or one of the device's settings."""
    return one_of(word, (BLOWER_OFF, *settings), "a state of the blower")


def sessions_of(
    wearers: Sequence[str], donnings: int, protocol: str, blowers: Sequence[str]
) -> tuple[PlannedSession, ...]:
    """Return the sessions: for each wearer each donning, and in each donning each state of the blower."""
    states: Sequence[str | None] = blowers or (None,)
    plan = product(wearers, range(1, donnings + 1), states)
    return tuple(
        PlannedSession(f"s{number}", wearer, donning, protocol, blower)
        for number, (wearer, donning, blower) in enumerate(plan, start=1)
    )


def runs_of(
    settings: Sequence[str], batteries: Sequence[BatteryState], filters: Sequence[FilterState]
) -> tuple[PlannedRun, ...]:
    """Return the flow runs: at each setting each state of the battery and of the filter."""
    names = _names_of_settings(settings)
    return tuple(
        PlannedRun(f"{names[setting]}-{battery.value.replace('_', '-')}-{state.value}", setting, battery, state)
        for setting, battery, state in product(settings, batteries, filters)
    )


_LONGEST_OF_SETTING = 20


def _names_of_settings(settings: Sequence[str]) -> dict[str, str]:
    """Return each setting as it can stand in the name of a run."""
    names: dict[str, str] = {}
    for number, setting in enumerate(settings, start=1):
        name = _NOT_OF_A_NAME.sub("-", setting.lower()).strip("-")[:_LONGEST_OF_SETTING].strip("-")
        names[setting] = name if name and name not in names.values() else f"setting-{number}"
    return names


def free_record_id(device: str, known: OnRecord) -> str:
    """Return an id for a test record that is free: the device's with a number."""
    number = 1
    while f"{device}-{number}" in known.tests:
        number += 1
    return f"{device}-{number}"
