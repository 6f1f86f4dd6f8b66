"""The pictures that records refer to: there, unchanged, and made anew."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.files import PICTURES, FilesFound
from generator.loading.guarded_reading import NotRead
from generator.loading.logs import sha256_of
from generator.loading.pictures import clean_picture
from generator.loading.records import Entry, Records, good
from generator.loading.yaml_source import WHOLE_FILE
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.picture import Picture


def read_record_pictures(records: Records, files: FilesFound) -> tuple[dict[str, bytes], list[Problem]]:
    """Return the clean pictures by the name that records use, and what is wrong with the others."""
    problems: list[Problem] = []
    clean: dict[str, bytes] = {}
    hashes: dict[str, str] = {}
    known = tuple(f"{PICTURES}/{name}" for name in files.picture_names)
    for entry, place, picture in _references(records):
        if picture.file not in known:
            problems.append(_missing(entry, place, picture, known))
            continue
        if picture.file not in hashes:
            hashes[picture.file] = _read(picture.file, files, clean) or ""
        actual = hashes[picture.file]
        if actual and actual != picture.sha256:
            problems.append(_changed(entry, place, picture, actual))
    owners: tuple[Entry[Device] | Entry[DeviceTest], ...] = (*records.devices.values(), *records.device_tests.values())
    if all(entry.record is not None for entry in owners):
        problems += [_unused(files, name) for name in known if name not in hashes]
    return clean, problems


def _references(records: Records) -> Iterator[tuple[Entry[Device] | Entry[DeviceTest], int, Picture]]:
    for device_entry, device in good(records.devices):
        for place, picture in enumerate(device.pictures):
            yield device_entry, place, picture
    for test_entry, test in good(records.device_tests):
        for place, picture in enumerate(test.pictures):
            yield test_entry, place, picture


def _read(file: str, files: FilesFound, clean: dict[str, bytes]) -> str | None:
    """Read a picture, keep its clean form, and return the SHA-256 of the original; None where it cannot be read."""
    name = file.removeprefix(f"{PICTURES}/")
    content = files.read_picture(name)
    if content is None:
        return None
    try:
        clean[file] = clean_picture(content, name.rpartition(".")[2])
    except NotRead as reason:
        files.note(reason, PICTURES, name)
        return None
    return sha256_of(content)


def _missing(entry: Entry[Device] | Entry[DeviceTest], place: int, picture: Picture, known: tuple[str, ...]) -> Problem:
    close = nearest(picture.file, known)
    remedy = "Add the picture, or correct its name"
    if close is not None:
        remedy = f"Did you mean `{close}`? {remedy}"
    steps = ("pictures", place, "file")
    return entry.problem(steps, "picture-missing", f"`{picture.file}`", "a picture on record", remedy)


def _changed(entry: Entry[Device] | Entry[DeviceTest], place: int, picture: Picture, actual: str) -> Problem:
    expected = f"{actual}, the SHA-256 of {picture.file} as it is"
    remedy = "Put the picture back as it was; give the new SHA-256 only if you know why it changed"
    return entry.problem(("pictures", place, "sha256"), "picture-changed", picture.sha256, expected, remedy)


def _unused(files: FilesFound, file: str) -> Problem:
    found, expected = f"`{file}`", "only pictures that a record refers to"
    remedy = "Refer to it from the record it belongs to, or remove it"
    return Problem(files.shown(*file.split("/")), 1, 1, WHOLE_FILE, "picture-unused", found, expected, remedy)
