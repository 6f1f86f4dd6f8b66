"""Reads a published site's own records back, so that it can be computed anew."""

from __future__ import annotations

import csv
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from generator.errors import PublishedSiteUnreadable
from generator.loading.reference import load_reference
from generator.loading.series_logs import series_of
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.instrument import Instrument
from generator.model.log import Log, LogSample, Sampling
from generator.model.people import Publication, Tester
from generator.model.published import CATALOGUE_DATA, PublishedCatalogue, PublishedTest
from generator.model.reference import Criterion, Protocol
from generator.model.series import Series

_Model = TypeVar("_Model", bound=BaseModel)


def published_json(site: Path, name: str) -> dict[str, Any]:
    """Return what a JSON file of a published site holds.

    Raises
    ------
    PublishedSiteUnreadable
        There is no such file, or it holds something else.
    """
    try:
        content = json.loads((site / name).read_bytes())
    except FileNotFoundError as error:
        raise PublishedSiteUnreadable(
            f"{site / name}: found no such file, expected the published data of a site. "
            "Name the folder that `inward publish` wrote"
        ) from error
    except ValueError as error:
        raise PublishedSiteUnreadable(f"{site / name}: found no JSON ({error}), expected published data") from error
    if not isinstance(content, dict):
        raise PublishedSiteUnreadable(f"{site / name}: found no mapping, expected published data")
    return content


def checked(model: type[_Model], data: object, where: str) -> _Model:
    """Return published data as the model that they were made of.

    Raises
    ------
    PublishedSiteUnreadable
        They are none of it.
    """
    try:
        return model.model_validate_json(json.dumps(data))
    except ValidationError as error:
        first = error.errors()[0]
        path = ".".join(str(part) for part in first["loc"])
        raise PublishedSiteUnreadable(
            f"{where}: {path}: {first['msg']}. "
            "The published data were changed after publishing, or are of another version"
        ) from error


def _checked_all(model: type[_Model], data: object, where: str) -> dict[str, _Model]:
    if not isinstance(data, Mapping):
        raise PublishedSiteUnreadable(f"{where}: found no mapping, expected published data")
    return {str(name): checked(model, item, f"{where}.{name}") for name, item in data.items()}


def _log(site: Path, name: str, sha256: str) -> Log:
    shown = f"data/{name}"
    try:
        with (site / shown).open(encoding="utf-8", newline="") as file:
            samples = tuple(
                LogSample(
                    time_s=float(row["time_s"]),
                    concentration_per_cm3=float(row["concentration_per_cm3"]),
                    exercise=row["exercise"],
                    sampling=Sampling(row["sampling"]),
                    outside_per_cm3=float(row["outside_per_cm3"]) if "outside_per_cm3" in row else None,
                )
                for row in csv.DictReader(file)
            )
    except (OSError, ValueError, KeyError, TypeError, csv.Error) as error:
        raise PublishedSiteUnreadable(f"{site / shown}: found no log as it was published ({error})") from error
    return Log(file=name, sha256=sha256, samples=samples)


def _series(site: Path, name: str, sha256: str) -> Series:
    shown = f"data/{name}"
    try:
        with (site / shown).open(encoding="utf-8", newline="") as file:
            headings, *rows = csv.reader(file)
        columns = dict(zip(headings, zip(*rows, strict=True), strict=True))
        texts = {"exercise": columns.pop("exercise")} if "exercise" in columns else {}
        numbers = {heading: tuple(map(float, cells)) for heading, cells in columns.items()}
        return Series.model_validate({"file": name, "sha256": sha256, **numbers, **texts})
    except (OSError, ValueError, csv.Error) as error:
        raise PublishedSiteUnreadable(f"{site / shown}: found no log as it was published ({error})") from error


def _stated_hash(name: str, stated: Mapping[str, str]) -> str:
    """Return the SHA-256 that a record gives of a log; a log that no record has is none of the site's."""
    if name not in stated:
        raise PublishedSiteUnreadable(
            f"{CATALOGUE_DATA}: found the log `{name}`, expected only logs that a published record refers to. "
            "The published data were changed after publishing, or are of another version"
        )
    return stated[name]


def load_published_site(site: Path) -> tuple[PublishedCatalogue, dict[str, str]]:
    """Return the published catalogue of a site, and what it was made with.

    Raises
    ------
    PublishedSiteUnreadable
        The folder is no published site, or its data do not read as published data any more.
    """
    data, reference = published_json(site, CATALOGUE_DATA), load_reference()
    tests: dict[str, PublishedTest] = {}
    hashes: dict[str, str] = {}
    for name in data.get("records", ()):
        where = f"records/{name}.json"
        record = published_json(site, where)
        tests[name] = checked(PublishedTest, record.get("published_record"), where)
        hashes[name] = str(record.get("record_sha256"))
    used = [session.log for test in tests.values() for session in test.fit if session.log is not None]
    stated = {log.file: log.sha256 for log in used}
    stated |= {use.reference.file: use.reference.sha256 for test in tests.values() for use in series_of(test)}
    catalogue = PublishedCatalogue(
        publication=checked(Publication, data.get("publication"), f"{CATALOGUE_DATA}: publication"),
        devices=_checked_all(Device, data.get("devices"), f"{CATALOGUE_DATA}: devices"),
        device_tests=tests,
        instruments=_checked_all(Instrument, data.get("instruments"), f"{CATALOGUE_DATA}: instruments"),
        testers=_checked_all(Tester, data.get("testers"), f"{CATALOGUE_DATA}: testers"),
        wearers=tuple(data.get("wearers", ())),
        criteria=_checked_all(Criterion, data.get("criteria"), f"{CATALOGUE_DATA}: criteria"),
        protocols=_checked_all(Protocol, data.get("protocols"), f"{CATALOGUE_DATA}: protocols"),
        comparisons=_checked_all(Comparison, data.get("comparisons"), f"{CATALOGUE_DATA}: comparisons"),
        methods=reference.methods,
        caution_rules=reference.caution_rules,
        landmarks=reference.landmarks,
        panels=reference.panels,
        assigned_protection=reference.assigned_protection,
        work_levels=reference.work_levels,
        work_gas=reference.work_gas,
        gas_limits=reference.gas_limits,
        logs={name: _log(site, name, _stated_hash(name, stated)) for name in data.get("logs", ())},
        series={name: _series(site, name, _stated_hash(name, stated)) for name in data.get("series", ())},
        record_sha256=hashes,
    )
    return catalogue, {str(name): str(version) for name, version in data.get("made_with", {}).items()}
