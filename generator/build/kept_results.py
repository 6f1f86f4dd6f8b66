"""Results without workings as text, to be kept and read back: a line of JSON for each topic, with its model's name."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from typing import Any, TypeVar

from generator import model
from generator.model.base import Frozen
from generator.model.catalogue_result import DeviceResult
from generator.model.result import Finding, RecordResult, TopicResult, TopicSummary
from generator.presenting.method_uses import Named, Uses
from generator.presenting.views import Link
from generator.publishing.kept_files import Kept, KeptFileSpoiled

SCORES = "scores.txt"
"""The file of an entry that holds scores."""

_Topic = TypeVar("_Topic", bound=Frozen)


@dataclass(frozen=True)
class DeviceScores:
    """What scoring gives for one device: results without workings, and which methods stand behind the figures."""

    records: Mapping[str, RecordResult]
    """The results of all of its records, by id."""
    device: DeviceResult
    """Without what was worn beside it."""
    uses_in_records: Mapping[str, Mapping[str, Uses]]
    """The uses of methods in each record, by the record's id and the method's."""
    uses_in_device: Mapping[str, Uses]
    uses_in_compared: Mapping[str, Named]
    sha256_of_records: Mapping[str, str] = field(default_factory=dict)
    """A hash over all that stands here of each record, once it was read back."""


def written(scores: DeviceScores) -> bytes:
    """Return scores as text."""
    lines: list[str] = []
    for record in scores.records.values():
        lines.append(_line("record", record.record, record.device))
        lines += [_line("topic", name, type(topic).__name__, topic) for name, topic in record.topics.items()]
        lines += [_line("finding", finding) for finding in record.findings]
        lines.append(_line("uses", _plain(scores.uses_in_records[record.record])))
    lines.append(_line("device", scores.device.model_copy(update={"topics": {}})))
    lines += [_line("topic", name, type(topic).__name__, topic) for name, topic in scores.device.topics.items()]
    lines.append(_line("uses", _plain(scores.uses_in_device)))
    lines.append(_line("compared", scores.uses_in_compared))
    return "".join(lines).encode()


def read_scores(entry: Kept) -> DeviceScores:
    """Return the scores that an entry holds.

    Raises
    ------
    KeptFileSpoiled
        They cannot be read back.
    """
    try:
        return read(entry.read(SCORES))
    except (ValueError, KeyError, TypeError, IndexError) as error:
        raise KeptFileSpoiled(entry.key) from error


def read(content: bytes) -> DeviceScores:
    """Return the scores that were written.

    Raises
    ------
    ValueError
        They cannot be read back.
    """
    return _Reader(content).scores()


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
    def __init__(self, content: bytes) -> None:
        self._texts = content.split(b"\n")[:-1]
        self._lines = [line.decode().split("\t") for line in self._texts]
        self._place = 0

    def scores(self) -> DeviceScores:
        records: dict[str, RecordResult] = {}
        uses: dict[str, Mapping[str, Uses]] = {}
        sha256: dict[str, str] = {}
        while self._at("record"):
            start = self._place
            (record, device) = map(json.loads, self._next())
            topics = self._topics(TopicResult)
            findings = []
            while self._at("finding"):
                findings.append(Finding.model_validate_json(self._next()[0]))
            records[record] = RecordResult(record=record, device=device, topics=topics, findings=tuple(findings))
            uses[record] = _uses(json.loads(self._next()[0]))
            sha256[record] = hashlib.sha256(b"\n".join(self._texts[start : self._place])).hexdigest()
        summed_up = DeviceResult.model_validate_json(self._next()[0])
        topics_of_device = self._topics(TopicSummary)
        return DeviceScores(
            records=records,
            device=summed_up.model_copy(update={"topics": topics_of_device}),
            uses_in_records=uses,
            uses_in_device=_uses(json.loads(self._next()[0])),
            uses_in_compared={name: (count, first) for name, (count, first) in json.loads(self._next()[0]).items()},
            sha256_of_records=sha256,
        )

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
