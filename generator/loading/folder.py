"""A records folder to a catalogue, or to every problem of every file in it."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby, islice
from pathlib import Path

from generator.errors import Problem, WrongUsage
from generator.garbage import left_alone
from generator.loading.characters import shortened
from generator.loading.cross_checks import cross_check
from generator.loading.explain import checked
from generator.loading.files import PICTURES, PUBLICATION, FilesFound, find_files
from generator.loading.logs import sha256_of
from generator.loading.record_pictures import read_record_pictures
from generator.loading.records import Entries, Entry, RecordModel, Records
from generator.loading.reference import Reference, load_reference
from generator.loading.series_logs import read_series_logs
from generator.loading.session_logs import read_session_logs, unused_logs
from generator.loading.yaml_source import MOST_PROBLEMS, WHOLE_FILE, YamlSource, more_problems, read_yaml
from generator.model.catalogue import Catalogue
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import Criterion, Protocol


@dataclass(frozen=True)
class Kept:
    """What was read of a records folder, to show and to judge what was checked and not what stands there by now."""

    records: Records
    """Every record that could be read by itself, whatever is wrong with others."""
    contents: Mapping[str, bytes]
    """The bytes of every record file and log, by name as in problems."""


@dataclass(frozen=True)
class Loaded:
    """What was read: a catalogue, or problems in the order of file, line and column."""

    catalogue: Catalogue | None
    """None if and only if there are problems."""
    problems: tuple[Problem, ...]
    file_names: tuple[str, ...]
    """Every record file, log and picture that was read, named as in problems."""
    kept: Kept | None = None
    """What was read, as it was read; only where that was asked for."""

    @property
    def files(self) -> int:
        """How many files were read."""
        return len(self.file_names)


def load_catalogue(folder: Path, reference: Reference | None = None, *, keep: bool = False) -> Loaded:
    """Read and check a records folder.

    Parameters
    ----------
    folder : Path
        The folder that holds publication.yaml.
    reference : Reference, optional
        Published criteria, protocols, methods and caution rules in place of those that come with the generator.
    keep : bool
        Whether what was read is returned too. It takes some ten times the room of the files.

    Raises
    ------
    WrongUsage
        There is no such folder.
    """
    return load_found(find_files(_that_is_there(folder)), reference, keep=keep)


def load_found(files: FilesFound, reference: Reference | None = None, *, keep: bool = False) -> Loaded:
    """Check the files of a records folder that were read already, as they are or as they would be."""
    with left_alone():
        return _loaded(files, load_reference() if reference is None else reference, keep=keep)


def _loaded(files: FilesFound, reference: Reference, *, keep: bool) -> Loaded:
    problems: list[Problem] = []
    records = _records(files, reference, problems)
    problems += cross_check(records)
    logs, log_problems, used = read_session_logs(records, files)
    series, series_problems, used_by_series = read_series_logs(records, files, used)
    problems += [*log_problems, *series_problems, *unused_logs(records, files, used | used_by_series)]
    pictures, picture_problems = read_record_pictures(records, files)
    problems += picture_problems
    problems += files.problems
    names = tuple(files.shown(kind, name) for kind, contents in files.contents.items() for name in contents)
    names += tuple(files.shown(PICTURES, name) for name in files.picture_names)
    kept = Kept(records, _shown_contents(files)) if keep else None
    if problems or records.publication is None or records.publication.record is None:
        return Loaded(None, tuple(_first_of_each_file(problems)), names, kept)
    catalogue = Catalogue(
        publication=records.publication.record,
        devices=_by_id(records.devices),
        device_tests=_by_id(records.device_tests),
        instruments=_by_id(records.instruments),
        testers=_by_id(records.testers),
        wearers=_by_id(records.wearers),
        criteria=dict(sorted({**records.reference.criteria, **_by_id(records.criteria)}.items())),
        protocols=dict(sorted({**records.reference.protocols, **_by_id(records.protocols)}.items())),
        methods=records.reference.methods,
        caution_rules=records.reference.caution_rules,
        landmarks=records.reference.landmarks,
        panels=records.reference.panels,
        assigned_protection=records.reference.assigned_protection,
        work_levels=records.reference.work_levels,
        work_gas=records.reference.work_gas,
        gas_limits=records.reference.gas_limits,
        comparisons=_by_id(records.comparisons),
        logs=dict(sorted(logs.items())),
        series=dict(sorted(series.items())),
        pictures=dict(sorted(pictures.items())),
        record_sha256={
            name.removesuffix(".yaml"): sha256_of(content)
            for name, content in sorted(files.contents["device_tests"].items())
        },
    )
    return Loaded(catalogue, (), names, kept)


def _shown_contents(files: FilesFound) -> dict[str, bytes]:
    return {
        files.shown(kind, name): content
        for kind, contents in files.contents.items()
        for name, content in contents.items()
    }


def read_records(folder: Path) -> Records:
    """Read what can be read of a records folder, whatever is wrong with it: drafts that are not filled in yet.

    Raises
    ------
    WrongUsage
        There is no such folder.
    """
    return _records(find_files(_that_is_there(folder)), load_reference(), [])


def _that_is_there(folder: Path) -> Path:
    if not os.path.isdir(folder):  # noqa: PTH112 - Path.is_dir raises where a folder above cannot be searched
        raise WrongUsage(f"found no folder `{folder}`, expected one with records. Name the folder of {PUBLICATION}")
    return folder


def _first_of_each_file(problems: list[Problem]) -> Iterator[Problem]:
    """Go through the problems in order, as far as they are told of each file."""
    for file, of_file in groupby(sorted(set(problems)), key=lambda problem: problem.file):
        told = list(islice(of_file, MOST_PROBLEMS + 1))
        if len(told) > MOST_PROBLEMS and told[-1].slug != "more-problems":
            told[-1] = more_problems(file, (told[-1].line, told[-1].column))
        yield from told


def _records(files: FilesFound, reference: Reference, problems: list[Problem]) -> Records:
    return Records(
        publication=_publication(files, problems),
        devices=_entries(files, "devices", Device, problems),
        device_tests=_entries(files, "device_tests", DeviceTest, problems),
        instruments=_entries(files, "instruments", Instrument, problems),
        testers=_entries(files, "testers", Tester, problems),
        wearers=_entries(files, "wearers", Wearer, problems),
        criteria=_entries(files, "criteria", Criterion, problems),
        protocols=_entries(files, "protocols", Protocol, problems),
        comparisons=_entries(files, "comparisons", Comparison, problems),
        reference=reference,
    )


def _publication(files: FilesFound, problems: list[Problem]) -> Entry[Publication] | None:
    file = files.shown(PUBLICATION)
    for content in files.contents[""].values():
        return _entry(read_yaml(content, file), Publication, problems)
    if not any(problem.file == file for problem in files.problems):
        expected, remedy = f"`{PUBLICATION}`", "Add it: it says who publishes the catalogue"
        problems.append(Problem(file, 1, 1, WHOLE_FILE, "publication-missing", "no such file", expected, remedy))
    return None


def _entries(
    files: FilesFound, kind: str, model: type[RecordModel], problems: list[Problem]
) -> dict[str, Entry[RecordModel]]:
    entries: dict[str, Entry[RecordModel]] = {}
    for file_name, content in files.contents[kind].items():
        source = read_yaml(content, files.shown(kind, file_name))
        name = file_name.removesuffix(".yaml")
        entries[name] = _entry(source, model, problems)
        problems += _id_problems(source, name)
    # What is there but was not read is known by its name, so that what refers to it is not told of as well.
    for file_name in files.unread.get(kind, ()):
        unread = YamlSource(files.shown(kind, file_name), b"", None, readable=False)
        entries[file_name.removesuffix(".yaml")] = Entry(unread, None)
    return entries


def _entry(source: YamlSource, model: type[RecordModel], problems: list[Problem]) -> Entry[RecordModel]:
    record, found = checked(source, model)
    problems += found
    return Entry(source, record)


def _id_problems(source: YamlSource, name: str) -> list[Problem]:
    given = source.data.get("id") if isinstance(source.data, dict) else None
    if not isinstance(given, str) or given == name:
        return []
    expected = f"`{name}`, as the file is named"
    found, remedy = f"`{shortened(given)}`", "Correct the id, or rename the file"
    return [source.problem(("id",), "id-not-file-name", found, expected, remedy)]


def _by_id(entries: Entries[RecordModel]) -> dict[str, RecordModel]:
    return {name: entry.record for name, entry in sorted(entries.items()) if entry.record is not None}
