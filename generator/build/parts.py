"""The part of a catalogue that belongs to one device, and the keys of what is made from it.

A part is all that scoring and presenting a device may look at: it is handed a catalogue that holds nothing else. So a
key over the part, the shared data and the tools is a key of everything that the device's files were made from.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from generator.build.canonical import digest_of
from generator.model.comparison_result import ComparisonResult
from generator.model.device import Device
from generator.model.instrument import Instrument
from generator.model.log import Log
from generator.model.people import Tester
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import RecordResult
from generator.model.series import Series
from generator.scoring.comparisons import comparisons_about
from generator.scoring.same_day import same_day_tests

_FILE = re.compile(r'"file":"([^"]+)"')
"""Where a record, written as JSON, names a log or a picture; their names hold nothing that JSON would escape."""


@dataclass(frozen=True)
class Part:
    """One device with its test records and what these name."""

    device: str
    devices: Mapping[str, Device]
    """Its own record, and those of devices that its pages name."""
    device_tests: Mapping[str, PublishedTest]
    """Its own, and those of others on the same days."""
    logs: Mapping[str, Log]
    series: Mapping[str, Series]
    pictures: Mapping[str, bytes]
    record_sha256: Mapping[str, str]
    instruments: Mapping[str, Instrument]
    testers: Mapping[str, Tester]

    def within(self, shared: PublishedCatalogue) -> PublishedCatalogue:
        """Return the catalogue that holds this part and nothing else."""
        return replace(
            shared,
            devices=self.devices,
            device_tests=self.device_tests,
            logs=self.logs,
            series=self.series,
            pictures=self.pictures,
            record_sha256=self.record_sha256,
            instruments=self.instruments,
            testers=self.testers,
        )


@dataclass(frozen=True)
class Beside:
    """What the pages of a device show of other devices: what was worn on the same days, and what comparisons say."""

    part: Part
    """The device's own part with those of the others' records and devices that its pages name."""
    records: Mapping[str, RecordResult]
    """The results of the others' records, without workings."""
    comparisons: Mapping[str, ComparisonResult]
    """What comparisons say of the device."""


@dataclass(frozen=True)
class _Known:
    """What is found out once of a test record or a device: a hash over it, and the files that it names."""

    digest: str
    files: frozenset[str]


class Parts:
    """A catalogue divided among its devices."""

    def __init__(self, catalogue: PublishedCatalogue, tool: str) -> None:
        """Take the catalogue and the key of the tools."""
        self.catalogue = catalogue
        nothing = Part("", {}, {}, {}, {}, {}, {}, {}, {})
        # Reviewers' comparisons are scored for the whole catalogue; parts see what comes out.
        self.shared = replace(nothing.within(catalogue), comparisons={})
        self._shared_digest = digest_of(tool, self.shared)
        self._known: dict[tuple[str, str], _Known] = {}
        self._digests = {("instruments", name): digest_of(each) for name, each in catalogue.instruments.items()}
        self._digests |= {("testers", name): digest_of(each) for name, each in catalogue.testers.items()}

    def of(self, device: str) -> Part:
        """Return the part of a device."""
        return self._part(device, [self.catalogue.devices[device]], self.catalogue.tests_of(device))

    def beside(
        self, device: str, records: Mapping[str, RecordResult], comparisons: Mapping[str, ComparisonResult]
    ) -> Beside:
        """Return what the pages of a device show of others, from all results."""
        about = comparisons_about(device, comparisons)
        worn = same_day_tests(device, self.catalogue)
        named = {test.device for test in worn} | {
            name for result in about.values() for each in result.differences for name in (each.first, each.second)
        }
        withdrawn = self.catalogue.devices[device].withdrawn
        if withdrawn is not None and withdrawn.replaced_by is not None:
            named.add(withdrawn.replaced_by)
        devices = [self.catalogue.devices[name] for name in sorted({device, *named})]
        part = self._part(device, devices, [*self.catalogue.tests_of(device), *worn])
        return Beside(part, {test.id: records[test.id] for test in worn}, about)

    def key(self, part: Part, *beside: object) -> str:
        """Return the key of what is made from a part, and from what is named beside it."""
        lines = [self._shared_digest, part.device]
        lines += [self._of("devices", each).digest for each in part.devices.values()]
        lines += [self._of("device_tests", each).digest for each in part.device_tests.values()]
        lines += [f"{name} {log.sha256}" for name, log in part.logs.items()]
        lines += [f"{name} {series.sha256}" for name, series in part.series.items()]
        lines += [f"{name} {hashlib.sha256(content).hexdigest()}" for name, content in part.pictures.items()]
        lines += [f"{name} {sha256}" for name, sha256 in part.record_sha256.items()]
        lines += [f"instrument {self._digests['instruments', name]}" for name in part.instruments]
        lines += [f"tester {self._digests['testers', name]}" for name in part.testers]
        return digest_of(lines, *beside)

    def _part(self, device: str, devices: Iterable[Device], tests: Iterable[PublishedTest]) -> Part:
        catalogue = self.catalogue
        of_devices = {each.id: each for each in devices}
        of_tests = {test.id: test for test in sorted(tests, key=lambda test: test.id)}
        # Of other devices' records and pages nothing is shown that rests on their logs and pictures.
        files = set(self._of("devices", catalogue.devices[device]).files)
        for test in catalogue.tests_of(device):
            files |= self._of("device_tests", test).files
        instruments = {name for test in of_tests.values() for name in test.instruments.by_role.values()}
        testers = {test.tester for test in of_tests.values()}
        return Part(
            device=device,
            devices=of_devices,
            device_tests=of_tests,
            logs={name: catalogue.logs[name] for name in sorted(files & catalogue.logs.keys())},
            series={name: catalogue.series[name] for name in sorted(files & catalogue.series.keys())},
            pictures={name: catalogue.pictures[name] for name in sorted(files & catalogue.pictures.keys())},
            record_sha256={name: catalogue.record_sha256[name] for name in of_tests if name in catalogue.record_sha256},
            instruments={name: catalogue.instruments[name] for name in sorted(instruments)},
            testers={name: catalogue.testers[name] for name in sorted(testers)},
        )

    def _of(self, kind: str, each: Device | PublishedTest) -> _Known:
        known = self._known.get((kind, each.id))
        if known is None:
            dumped = each.model_dump_json()
            digest = hashlib.sha256(dumped.encode("utf-8", "surrogatepass")).hexdigest()
            known = self._known[kind, each.id] = _Known(digest, frozenset(_FILE.findall(dumped)))
        return known
