"""Results without workings as text, to be kept and read back: lines of JSON, and a file for each topic of a record.

What is made of the whole catalogue looks at few topics of each record, so that they are read when they are asked for.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any, TypeVar

from pydantic import TypeAdapter

from generator import model
from generator.model.base import Frozen
from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import ComparedDevice
from generator.model.result import Finding, RecordResult, TopicResult, TopicSummary
from generator.presenting.method_uses import Named, Uses
from generator.presenting.views import IndexCell, Link
from generator.publishing.kept_files import Kept, KeptFileSpoiled

SCORES = "scores.txt"
"""The file of an entry that holds scores but the topics of records."""

_DAMAGED = (ValueError, KeyError, TypeError, IndexError)
"""What reading something raises that was not written here."""

_Topic = TypeVar("_Topic", bound=Frozen)


@dataclass(frozen=True)
class DeviceScores:
    """What scoring gives for one device: results without workings, and which methods stand behind the figures."""

    records: Mapping[str, RecordResult]
    """The results of all of its records, by id."""
    device: DeviceResult
    """Without what was worn beside it."""
    compared: ComparedDevice
    """As comparisons show it."""
    uses_in_records: Mapping[str, Mapping[str, Uses]]
    """The uses of methods in each record, by the record's id and the method's."""
    uses_in_device: Mapping[str, Uses]
    uses_in_compared: Mapping[str, Named]
    cells: tuple[IndexCell, ...]
    """What topics show of it in its row of the first page."""


@dataclass(frozen=True)
class KeptScores(DeviceScores):
    """Scores that were read back."""

    sha256_of_records: Mapping[str, str]
    """A hash over all that is kept of the results of each record."""


class KeptTopics(Mapping[str, TopicResult]):
    """The topics of a record in an entry, each read when it is first asked for."""

    def __init__(self, entry: Kept, record: str, models: Mapping[str, str]) -> None:
        """Take the entry, the record's id, and the model of each topic, by their names."""
        self._entry = entry
        self._record = record
        self._models = models
        self._read: dict[str, TopicResult] = {}

    def __getitem__(self, name: str) -> TopicResult:
        """Return a topic.

        Raises
        ------
        KeyError
            The record holds nothing of it.
        KeptFileSpoiled
            It cannot be read back.
        """
        if name not in self._read:
            its_model = self._models[name]
            content = self._entry.read(_file_of_topic(self._record, name))
            try:
                self._read[name] = _models_by_name(TopicResult)[its_model].model_validate_json(content)
            except _DAMAGED as error:
                raise KeptFileSpoiled(self._entry.key) from error
        return self._read[name]

    def __contains__(self, name: object) -> bool:
        return name in self._models

    def __iter__(self) -> Iterator[str]:
        return iter(self._models)

    def __len__(self) -> int:
        return len(self._models)


class KeptRecord(RecordResult):
    """A record's result that was read back. What the whole catalogue asks of all topics is there without them."""

    findings_of_topics: tuple[Finding, ...]
    """What scoring noticed in its topics, in their order."""
    methods_of_topics: tuple[str, ...]
    """The methods of its figures that have a value, in the order of the figures."""

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """The record's own findings and those of its topics."""
        return self.findings + self.findings_of_topics

    @property
    def methods(self) -> tuple[str, ...]:
        """The methods of its figures that have a value, in the order of the figures."""
        return self.methods_of_topics


def written(scores: DeviceScores) -> dict[str, bytes]:
    """Return scores as the files of an entry."""
    lines: list[str] = []
    files: dict[str, bytes] = {}
    for record in scores.records.values():
        models = {name: type(topic).__name__ for name, topic in record.topics.items()}
        lines.append(_line("record", record.record, record.device, models, record.methods))
        lines += [_line("finding", finding) for finding in record.findings]
        lines += [_line("of topics", finding) for finding in record.all_findings[len(record.findings) :]]
        lines.append(_line("uses", _plain(scores.uses_in_records[record.record])))
        for name, topic in record.topics.items():
            files[_file_of_topic(record.record, name)] = topic.model_dump_json().encode()
    lines.append(_line("device", scores.device.model_copy(update={"topics": {}})))
    lines += [_line("topic", name, type(topic).__name__, topic) for name, topic in scores.device.topics.items()]
    lines.append(_line("uses", _plain(scores.uses_in_device)))
    lines.append(_line("compared", scores.compared, scores.uses_in_compared))
    lines.append(_line("cells", _cells().dump_python(scores.cells, mode="json")))
    return {SCORES: "".join(lines).encode(), **files}


def read_scores(entry: Kept) -> KeptScores:
    """Return the scores that an entry holds.

    Raises
    ------
    KeptFileSpoiled
        They cannot be read back.
    """
    try:
        return _Reader(entry).scores()
    except _DAMAGED as error:
        raise KeptFileSpoiled(entry.key) from error


def _file_of_topic(record: str, topic: str) -> str:
    return f"{record}/{topic}.json"


def _line(kind: str, *parts: object) -> str:
    texts = [part.model_dump_json() if isinstance(part, Frozen) else json.dumps(part) for part in parts]
    # JSON escapes tabs and ends of lines, so that both divide.
    return "\t".join((kind, *texts)) + "\n"


def _plain(uses: Mapping[str, Uses]) -> dict[str, Any]:
    return {
        name: [each.count, [[page, link.text, link.href] for page, link in each.links.items()]]
        for name, each in uses.items()
    }


def _uses(plain: Mapping[str, Any]) -> dict[str, Uses]:
    return {
        name: Uses(count, {page: Link(text, href) for page, text, href in links})
        for name, (count, links) in plain.items()
    }


@cache
def _cells() -> TypeAdapter[tuple[IndexCell, ...]]:
    return TypeAdapter(tuple[IndexCell, ...])


@cache
def _models_by_name(base: type[_Topic]) -> dict[str, type[_Topic]]:
    for module in iter_modules(model.__path__):
        # A model is known once its module was imported.
        if module.name.endswith("_result"):
            import_module(f"{model.__name__}.{module.name}")
    return _known_models(base)


def _known_models(base: type[_Topic]) -> dict[str, type[_Topic]]:
    found = {base.__name__: base}
    for each in base.__subclasses__():
        found |= _known_models(each)
    return found


class _Reader:
    def __init__(self, entry: Kept) -> None:
        self._entry = entry
        self._texts = entry.read(SCORES).split(b"\n")[:-1]
        self._lines = [line.decode().split("\t") for line in self._texts]
        self._place = 0

    def scores(self) -> KeptScores:
        records: dict[str, RecordResult] = {}
        uses: dict[str, Mapping[str, Uses]] = {}
        sha256: dict[str, str] = {}
        while self._at("record"):
            start = self._place
            (record, device, models, methods) = map(json.loads, self._next())
            records[record] = KeptRecord.model_construct(
                record=record,
                device=device,
                topics=KeptTopics(self._entry, record, models),
                findings=self._findings("finding"),
                findings_of_topics=self._findings("of topics"),
                methods_of_topics=tuple(methods),
            )
            uses[record] = _uses(json.loads(self._next()[0]))
            hashes = (self._entry.files[_file_of_topic(record, name)].sha256.encode() for name in models)
            told = b"\n".join((*self._texts[start : self._place], *hashes))
            sha256[record] = hashlib.sha256(told).hexdigest()
        summed_up = DeviceResult.model_validate_json(self._next()[0])
        topics_of_device = self._topics(TopicSummary)
        uses_in_device = _uses(json.loads(self._next()[0]))
        compared, uses_in_compared = self._next()
        cells = _cells().validate_json(self._next()[0])
        return KeptScores(
            records=records,
            device=summed_up.model_copy(update={"topics": topics_of_device}),
            uses_in_records=uses,
            uses_in_device=uses_in_device,
            compared=ComparedDevice.model_validate_json(compared),
            uses_in_compared={name: (count, first) for name, (count, first) in json.loads(uses_in_compared).items()},
            cells=cells,
            sha256_of_records=sha256,
        )

    def _findings(self, kind: str) -> tuple[Finding, ...]:
        found = []
        while self._at(kind):
            found.append(Finding.model_validate_json(self._next()[0]))
        return tuple(found)

    def _topics(self, base: type[_Topic]) -> dict[str, _Topic]:
        models, topics = _models_by_name(base), {}
        while self._at("topic"):
            name, model, text = self._next()
            topics[str(json.loads(name))] = models[json.loads(model)].model_validate_json(text)
        return topics

    def _at(self, kind: str) -> bool:
        return self._place < len(self._lines) and self._lines[self._place][0] == kind

    def _next(self) -> list[str]:
        if self._place >= len(self._lines):
            raise ValueError("the text ends before the scores do")
        self._place += 1
        return self._lines[self._place - 1][1:]
