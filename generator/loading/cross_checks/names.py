"""Names: what a record refers to exists, and nothing has the name of something else."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.records import Entry, RecordModel, Records, good
from generator.loading.yaml_source import Steps
from generator.model.comparison import KIND_COMPARISON
from generator.model.device_test import DeviceTest
from generator.model.session import BLOWER_OFF


def references_exist(records: Records) -> Iterator[Problem]:
    """A device, tester, wearer, instrument or protocol that a record names has a record of its own."""
    protocols = records.protocol_names()
    for entry, test in good(records.device_tests):
        yield from _known(entry, ("device",), test.device, records.devices, "a device", "devices")
        yield from _known(entry, ("tester",), test.tester, records.testers, "a tester", "testers")
        for role, name in test.instruments.by_role.items():
            yield from _known(entry, ("instruments", role), name, records.instruments, "an instrument", "instruments")
        for place, session in enumerate(test.fit):
            wearer, protocol = ("fit", place, "wearer"), ("fit", place, "protocol")
            yield from _known(entry, wearer, session.wearer, records.wearers, "a wearer", "wearers")
            yield from _known(entry, protocol, session.protocol, protocols, "a protocol", "protocols")
    for criterion_entry, criterion in good(records.criteria):
        for place, name in enumerate(criterion.protocols):
            yield from _known(criterion_entry, ("protocols", place), name, protocols, "a protocol", "protocols")


def comparisons_and_letters_name_what_exists(records: Records) -> Iterator[Problem]:
    """What a comparison, a withdrawal or a letter to a maker names has a record; a letter is about its own device."""
    for entry, comparison in good(records.comparisons):
        for place, name in enumerate(comparison.devices):
            yield from _known(entry, ("devices", place), name, records.devices, "a device", "devices")
    for device_entry, device in good(records.devices):
        if device.withdrawn is not None and device.withdrawn.replaced_by is not None:
            steps: Steps = ("withdrawn", "replaced_by")
            yield from _known(device_entry, steps, device.withdrawn.replaced_by, records.devices, "a device", "devices")
        for at, notice in enumerate(device.correspondence):
            for place, name in enumerate(notice.records):
                if name in records.device_tests and _may_be_of(records.device_tests[name], device.id):
                    continue
                # Gone through for a name that is wrong alone: for each letter it would grow with the square.
                own = [other for other, entry in records.device_tests.items() if _may_be_of(entry, device.id)]
                where: Steps = ("correspondence", at, "records", place)
                yield from _known(device_entry, where, name, own, "a test record of this device", "device_tests")
    for test_entry, test in good(records.device_tests):
        if test.withdrawn is None or test.withdrawn.replaced_by is None:
            continue
        name = test.withdrawn.replaced_by
        if name == test.id or name not in records.device_tests:
            others = [other for other in records.device_tests if other != test.id]
            yield from _known(
                test_entry, ("withdrawn", "replaced_by"), name, others, "another test record", "device_tests"
            )


def _may_be_of(entry: Entry[DeviceTest], device: str) -> bool:
    return entry.record is None or entry.record.device == device


def configurations_are_based_on_others(records: Records) -> Iterator[Problem]:
    """The configuration that a modified one is based on stands in another record of the same device."""
    names: dict[str, set[str]] = {}
    for _, test in good(records.device_tests):
        if test.configuration.name is not None:
            names.setdefault(test.device, set()).add(test.configuration.name)
    for entry, test in good(records.device_tests):
        base = test.configuration.based_on
        known = names.get(test.device, set()) - {test.configuration.name}
        if base is not None and base not in known:
            yield entry.problem(
                ("configuration", "based_on"),
                "unknown-reference",
                f"`{base}`",
                f"the `name` of another configuration of `{test.device}` on record",
                "Give the configuration that was changed this `name` in its own record, or correct it",
            )


def automatic_comparisons_keep_their_ids(records: Records) -> Iterator[Problem]:
    """A reviewer's own comparison does not take the id of one that is made for each kind without asking."""
    for name, entry in records.comparisons.items():
        if name.startswith(KIND_COMPARISON):
            expected = f"an id that does not start with `{KIND_COMPARISON}`"
            remedy = "Give it another id; the comparison of a kind is made without asking"
            yield entry.problem(("id",), "id-already-used", f"`{name}`", expected, remedy)


def _known(
    entry: Entry[RecordModel], steps: Steps, name: str, known: Collection[str], what: str, folder: str
) -> Iterator[Problem]:
    if name in known:
        return
    close = nearest(name, tuple(known))
    remedy = f"Add {folder}/{name}.yaml, or correct the id"
    if close is not None:
        remedy = f"Did you mean `{close}`? {remedy}"
    yield entry.problem(steps, "unknown-reference", f"`{name}`", f"the id of {what} on record", remedy)


def own_ids_are_not_published_ones(records: Records) -> Iterator[Problem]:
    """A reviewer's own criterion or protocol does not take the id of a published one."""
    reference = records.reference
    for what, entries, published in (
        ("criterion", records.criteria, reference.criteria),
        ("protocol", records.protocols, reference.protocols),
    ):
        for name, entry in entries.items():
            if name in published:
                expected = f"an id that no published {what} has"
                remedy = "Give your own one another id, in the file and as its name"
                yield entry.problem(("id",), "id-already-used", f"`{name}`", expected, remedy)


def letters_are_unique(records: Records) -> Iterator[Problem]:
    """Each wearer has a catalogue letter of their own, so that a reader can tell them apart."""
    owners: dict[str, str] = {}
    for entry, wearer in good(records.wearers):
        owner = owners.setdefault(wearer.catalogue_letter, wearer.id)
        if owner != wearer.id:
            yield entry.problem(
                ("catalogue_letter",),
                "letter-already-used",
                f"the letter {wearer.catalogue_letter} that `{owner}` has",
                "a letter for each wearer",
                "Give this wearer a letter that is free, and keep it for good",
            )


def names_are_unique_in_a_record(records: Records) -> Iterator[Problem]:
    """Sessions, runs, a protocol's exercises and a device's settings can be told apart by their names."""
    for entry, test in good(records.device_tests):
        yield from _repeated(entry, [(("fit", place, "id"), each.id) for place, each in enumerate(test.fit)])
        yield from _repeated(entry, [(("flow", place, "id"), each.id) for place, each in enumerate(test.flow)])
    for protocol_entry, protocol in good(records.protocols):
        exercises = [(("exercises", place, "id"), each.id) for place, each in enumerate(protocol.exercises)]
        yield from _repeated(protocol_entry, exercises)
    for instrument_entry, instrument in good(records.instruments):
        standards = [(("check_standards", at, "id"), each.id) for at, each in enumerate(instrument.check_standards)]
        yield from _repeated(instrument_entry, standards)
    for device_entry, device in good(records.devices):
        settings = device.power.settings if device.power is not None else ()
        # `off` is what a fit session says of a blower that did not run, so no setting may have that name.
        taken: list[tuple[Steps, str]] = [((), BLOWER_OFF)]
        own: list[tuple[Steps, str]] = [(("power", "settings", at), each) for at, each in enumerate(settings)]
        yield from _repeated(device_entry, taken + own)


def _repeated(entry: Entry[RecordModel], names: Iterable[tuple[Steps, str]]) -> Iterator[Problem]:
    seen: set[str] = set()
    for steps, name in names:
        if name in seen:
            found = f"`{name}`, which is taken already"
            yield entry.problem(steps, "name-already-used", found, "a name of its own", "Give it another name")
        seen.add(name)
