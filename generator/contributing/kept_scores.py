"""Scores a catalogue again and again: a record is scored anew only where what its result was made from differs.

What a result was made from is not listed but noted, while it is made: everything that scoring reads of the catalogue.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any, cast

from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import RecordResult
from generator.scoring.catalogue import sum_up
from generator.scoring.one_record import score_record

_WHOLE = object()
"""Stands for a key where a part of the catalogue was read as a whole."""
_ABSENT = object()
"""Stands for what was looked for and is not there."""

Reads = dict[tuple[str, object], object]
"""What was read: the value by the part's name and the key in it."""


def _read(catalogue: PublishedCatalogue, part: str, key: object) -> object:
    value = getattr(catalogue, part)
    return value if key is _WHOLE else value.get(key, _ABSENT)


class _NotedMapping(Mapping[str, Any]):
    """A part of the catalogue that notes which of its items are looked at."""

    def __init__(self, part: str, items: Mapping[str, Any], reads: Reads) -> None:
        self._part, self._items, self._reads = part, items, reads

    def __getitem__(self, key: str) -> Any:
        self._reads[self._part, key] = self._items.get(key, _ABSENT)
        return self._items[key]

    def __iter__(self) -> Iterator[str]:
        self._reads[self._part, _WHOLE] = self._items
        return iter(self._items)

    def __len__(self) -> int:
        self._reads[self._part, _WHOLE] = self._items
        return len(self._items)


class _NotedCatalogue:
    """Stands in for a catalogue and notes what is read of it."""

    def __init__(self, catalogue: PublishedCatalogue, reads: Reads) -> None:
        self._catalogue, self._reads = catalogue, reads

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._catalogue, name)
        if callable(value):
            # A look-up of the catalogue itself, which is to read through this as well.
            return partial(getattr(PublishedCatalogue, name), self)
        if isinstance(value, Mapping):
            return _NotedMapping(name, value, self._reads)
        self._reads[name, _WHOLE] = value
        return value


@dataclass(frozen=True)
class _Kept:
    """A record's result, and what it was made from."""

    test: PublishedTest
    reads: Reads
    result: RecordResult

    def holds(self, test: PublishedTest, catalogue: PublishedCatalogue) -> bool:
        """Say whether the result would come out the same for a test record of another state of the catalogue."""
        return self.test == test and all(
            now is then or now == then
            for now, then in ((_read(catalogue, *place), then) for place, then in self.reads.items())
        )


class KeptScores:
    """The results of the records scored last, each kept as long as nothing that it was made from differs."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}

    def score(self, catalogue: PublishedCatalogue) -> tuple[CatalogueResult, tuple[str, ...]]:
        """Return the same as `score_catalogue`, and the ids of the records that were scored anew for it."""
        kept, anew = {}, []
        for name, test in catalogue.device_tests.items():
            last = self._kept.get(name)
            if last is None or not last.holds(test, catalogue):
                last = _scored(test, catalogue)
                anew.append(name)
            kept[name] = last
        self._kept = kept
        return sum_up({name: each.result for name, each in kept.items()}, catalogue), tuple(anew)


def _scored(test: PublishedTest, catalogue: PublishedCatalogue) -> _Kept:
    reads: Reads = {}
    result = score_record(test, cast(PublishedCatalogue, _NotedCatalogue(catalogue, reads)))
    return _Kept(test, reads, result)
