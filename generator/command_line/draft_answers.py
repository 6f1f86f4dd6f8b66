"""The answers that `inward draft` needs, in their order: given as options, else asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, TypeVar

from generator.command_line.questions import answer, confirmed
from generator.contributing.drafting.on_record import DeviceOnRecord, OnRecord
from generator.contributing.drafting.planning import (
    MOST_DONNINGS,
    an_id,
    blower_state,
    choice,
    counts_particles,
    free_record_id,
    instrument_on_record,
    instruments_of_kind,
    kinds_of_instrument,
    one_of,
    readings_form,
    runs_of,
    sessions_of,
    several,
)
from generator.contributing.drafting.record_of_a_test import forms_for
from generator.errors import WrongUsage
from generator.loading.characters import shortened
from generator.model.configuration import State
from generator.model.device import DeviceKind
from generator.model.flow_run import BatteryState, FilterState
from generator.model.planned_test import PlannedInstrument, PlannedRun, PlannedSession, PlannedTest, ReadingsForm

if TYPE_CHECKING:
    from generator.command_line.draft import Given

_Answer = TypeVar("_Answer")
_LONGEST_TITLE = 200
_SHOWN_AT_MOST = 12
"""Names on record that are listed above a question."""


def planned(given: Given, known: OnRecord) -> PlannedTest:
    """Return the test that was described.

    Raises
    ------
    WrongUsage
        Something that was given cannot be, or something is missing and nobody can be asked.
    """
    device = answer(given.device, "--device", "Device", _id("a device"), explained=_on_record("devices", known.devices))
    about = _about_device(device, given, known)
    kind = about.kind
    assert kind is not None
    if not kind.powered and given.flow:
        raise WrongUsage(f"found `--flow` for `{device}`, which has no blower, expected none. Leave it out")
    state = answer(
        given.state,
        "--configuration",
        "Configuration, as_supplied or modified",
        lambda word: choice(word, State, "a configuration"),
        suggested=State.AS_SUPPLIED.value,
    )
    tester = answer(
        given.tester,
        "--tester",
        "Tester (a pseudonym)",
        _id("a tester"),
        explained=_on_record("testers", known.testers),
    )
    fit = confirmed(given.fit, "--fit or --no-fit", "Do wearers put it on", True) if kind.powered else True
    sessions, readings, counter = _fit(given, known, about.settings) if fit else ((), None, None)
    runs, meter = _flow(given, known, about.settings, demanded=not fit) if kind.powered else ((), None)
    record = answer(
        given.record, "RECORD", "Id of the test record", _free_id(known), suggested=free_record_id(device, known)
    )
    return PlannedTest(
        record=record,
        device=device,
        kind=kind,
        settings=about.settings,
        state=state,
        tester=tester,
        readings=readings or ReadingsForm.CONCENTRATIONS,
        sessions=sessions,
        runs=runs,
        particle_counter=counter,
        flow_meter=meter,
    )


def _id(what: str) -> Callable[[str], str]:
    return lambda word: an_id(word, what)


def _free_id(known: OnRecord) -> Callable[[str], str]:
    def read(word: str) -> str:
        name = an_id(word, "a test record")
        if name in known.tests:
            raise WrongUsage(f"found the record `{name}` already, expected an id that is free. Give another one")
        return name

    return read


def _on_record(what: str, names: Iterable[str]) -> tuple[str, ...]:
    """Return the line that names what is on record, above a question for an id."""
    listed = list(names)
    if not listed:
        return (f"No {what} on record yet: a new id begins a draft.",)
    more = f" and {len(listed) - _SHOWN_AT_MOST} more" if len(listed) > _SHOWN_AT_MOST else ""
    names_shown = ", ".join(shortened(name) for name in listed[:_SHOWN_AT_MOST])
    return (f"On record: {names_shown}{more}. Another id begins a draft.",)


def _about_device(device: str, given: Given, known: OnRecord) -> DeviceOnRecord:
    """Return the kind and the blower settings of the device, as its record or the answers have them."""
    on_record = known.devices.get(device)
    if on_record is not None and on_record.kind is not None:
        settings = on_record.settings
        wanted = tuple(one_of(word, settings, f"a setting of `{device}`") for word in given.settings)
        return DeviceOnRecord(on_record.kind, wanted or settings)
    kind = answer(
        given.kind,
        "--kind",
        f"Kind of `{device}`",
        lambda word: choice(word, DeviceKind, "a kind of device"),
        choices=[(kind.value, kind.heading) for kind in DeviceKind],
    )
    if not kind.powered:
        return DeviceOnRecord(kind, ())
    settings = _several(given.settings, "--setting", "Its blower settings by their names, with commas", str)
    return DeviceOnRecord(kind, settings)


def _several(
    given: Sequence[str],
    option: str,
    question: str,
    read: Callable[[str], _Answer],
    *,
    suggested: str | None = None,
    explained: Sequence[str] = (),
) -> tuple[_Answer, ...]:
    """Return several answers: each given by an option of its own, or all in one line."""

    def each(text: str) -> tuple[_Answer, ...]:
        words = several(text)
        if not words:
            raise WrongUsage("found nothing, expected at least one")
        return tuple(read(word) for word in words)

    if given:
        return tuple(read(word) for word in dict.fromkeys(given))
    return answer(None, option, question, each, suggested=suggested, explained=explained)


def _fit(
    given: Given, known: OnRecord, settings: tuple[str, ...]
) -> tuple[tuple[PlannedSession, ...], ReadingsForm, PlannedInstrument | None]:
    """Ask for the fit sessions, the form of their readings, and the counter."""
    protocol = answer(
        given.protocol,
        "--protocol",
        "Protocol",
        lambda word: known.protocols[one_of(word, known.protocols, "a protocol")],
        choices=[(name, shortened(each.title, _LONGEST_TITLE)) for name, each in known.protocols.items()],
    )
    forms = forms_for(protocol)
    readings = answer(
        given.readings if given.readings is not None or len(forms) > 1 else forms[0].value,
        "--readings",
        "Readings",
        lambda word: readings_form(word, protocol),
        choices=[(form.value, _FORMS[form]) for form in forms],
    )
    wearers = _several(
        given.wearers,
        "--wearer",
        "Wearers, with commas",
        _id("a wearer"),
        explained=(_PSEUDONYMS, *_on_record("wearers", known.wearers)),
    )
    donnings = answer(given.donnings, "--donnings", "Donnings of each wearer", _donnings, suggested="1")
    blowers: tuple[str, ...] = ()
    if settings:
        blowers = _several(
            given.blowers,
            "--blower",
            f"Blower in these sessions (off, {', '.join(shortened(each) for each in settings)}), with commas",
            lambda word: blower_state(word, settings),
        )
    elif given.blowers:
        raise WrongUsage("found `--blower` for a device without a blower, expected none. Leave it out")
    counter = None
    if counts_particles(protocol):
        counter = _instrument(given.counter, given.counter_kind, "counter", known, counters=True)
    return sessions_of(wearers, donnings, protocol.id, blowers), readings, counter


_PSEUDONYMS = (
    "A wearer is known by a pseudonym, such as a bird or a plant. No name of a person goes into a record, and none "
    "that leads to one."
)
_FORMS = {
    ReadingsForm.COUNTS: "particles counted inside, in a known time",
    ReadingsForm.CONCENTRATIONS: "mean concentration inside, as the counter shows it",
    ReadingsForm.FACTORS: "the factor of each exercise, as the instrument shows it",
    ReadingsForm.LOG: "a file of readings over time, for `inward take-in`",
}


def _donnings(word: str) -> int:
    if not word.isdecimal() or not 1 <= int(word) <= MOST_DONNINGS:
        raise WrongUsage(f"found `{word}`, expected a whole number from 1 to {MOST_DONNINGS}. Correct it")
    return int(word)


def _flow(
    given: Given, known: OnRecord, settings: tuple[str, ...], *, demanded: bool
) -> tuple[tuple[PlannedRun, ...], PlannedInstrument | None]:
    """Ask for the flow runs and the meter."""
    if not confirmed(
        True if demanded and given.flow is None else given.flow,
        "--flow or --no-flow",
        "Is the air supply measured",
        True,
    ):
        if demanded:
            raise WrongUsage("found neither fit sessions nor flow runs, expected one of them. Leave one `--no-` out")
        return (), None
    batteries = _several(
        given.batteries,
        "--battery",
        "States of the battery (fresh, at_alarm, mains), with commas",
        lambda word: choice(word, BatteryState, "a state of the battery"),
        suggested="fresh, at_alarm",
    )
    filters = _several(
        given.filters,
        "--filter",
        "States of the filter (new, loaded), with commas",
        lambda word: choice(word, FilterState, "a state of the filter"),
        suggested="new",
    )
    meter = _instrument(given.meter, given.meter_kind, "meter", known, counters=False)
    return runs_of(settings, batteries, filters), meter


def _instrument(
    given: str | None, given_kind: str | None, word: str, known: OnRecord, *, counters: bool
) -> PlannedInstrument:
    what = "particle counter" if counters else "flow meter"
    usable = instruments_of_kind(known, counters)

    def read(name: str) -> tuple[str, PlannedInstrument | None]:
        return an_id(name, f"a {what}"), instrument_on_record(name, known, counters)

    name, instrument = answer(
        given,
        f"--{word}",
        what.capitalize(),
        read,
        suggested=usable[0] if len(usable) == 1 else None,
        explained=_on_record(f"{what}s", usable),
    )
    if instrument is not None:
        return instrument
    kinds = kinds_of_instrument(counters)
    kind = answer(
        given_kind,
        f"--{word}-kind",
        f"Kind of `{name}`",
        lambda chosen: choice(chosen, kinds, f"a kind of {what}"),
        choices=[(kind.value, kind.value.replace("_", " ")) for kind in kinds],
    )
    return PlannedInstrument(name, kind)
