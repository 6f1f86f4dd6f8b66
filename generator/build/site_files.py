"""The files of a site by their paths, most of them kept elsewhere and read only when they are written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterator, Mapping, Sequence

from generator.errors import GeneratorFailed
from generator.publishing.kept_files import Kept, KeptFileSpoiled
from generator.publishing.part_links import PartLinks, faults_of_parts, part_links, part_links_from
from generator.rendering.data_package import PublishedLog

IDS = ".ids.json"
"""The file of an entry that is no file of the site: the ids on each of its pages."""
_ROWS = ".rows/"
"""Below this an entry has the rows of its records in tables of all records; they are no files of the site either."""


def rows_beside(rows: Mapping[str, Mapping[str, bytes]]) -> dict[str, bytes]:
    """Return the rows of records, by the names of the record and the table, as files of an entry."""
    return {
        _place_of_rows(table, record): content
        for record, of_record in rows.items()
        for table, content in of_record.items()
    }


def _place_of_rows(table: str, record: str) -> str:
    return f"{_ROWS}{table}/{record}.csv"


class SiteFiles(Mapping[str, bytes]):
    """Files by path, read one at a time."""

    def __init__(self) -> None:
        """Begin without any."""
        self._sources: dict[str, Kept | bytes] = {}
        self.logs: dict[str, PublishedLog] = {}
        """What is told of each log, by its place below `data/`."""
        self._links: list[PartLinks] = []
        self._ids: dict[str, Mapping[str, Collection[str]]] = {}
        self._rows: dict[str, Kept] = {}

    def add(self, kept: Kept) -> None:
        """Add the files of an entry.

        Raises
        ------
        GeneratorFailed
            A file was made twice.
        KeptFileSpoiled
            The facts of the entry are not those that were kept.
        """
        for path in kept.files:
            if path.startswith(_ROWS):
                self._rows[path] = kept
            elif path != IDS:
                self._add(path, kept)
        try:
            self._links.append(part_links_from(kept.facts["links"]))
            for name, told in kept.facts.get("logs", {}).items():
                self.logs[name] = PublishedLog(told["sha256"], told["size"], tuple(told["columns"]))
        except (TypeError, KeyError, AttributeError, ValueError) as error:
            raise KeptFileSpoiled(kept.key) from error

    def add_made(self, files: Mapping[str, bytes]) -> None:
        """Add files that are not kept."""
        links = part_links(files)
        self._links.append(links)
        self._ids |= {path: {path: ids} for path, ids in links.ids.items()}
        for path, content in files.items():
            self._add(path, content)

    def rows_of(self, table: str, record: str) -> bytes:
        """Return the rows of a record in a table of all records."""
        place = _place_of_rows(table, record)
        return self._rows[place].read(place)

    def link_faults(self) -> Sequence[str]:
        """Return what is wrong with the links of the site."""
        return faults_of_parts(self._links, self._sources.keys(), self._ids_on)

    def _ids_on(self, path: str) -> Collection[str] | None:
        source = self._sources[path]
        if isinstance(source, bytes):
            return self._ids.get(path, {}).get(path)
        if source.key not in self._ids:
            try:
                self._ids[source.key] = {page: frozenset(ids) for page, ids in json.loads(source.read(IDS)).items()}
            except (ValueError, TypeError, KeyError, AttributeError) as error:
                raise KeptFileSpoiled(source.key) from error
        return self._ids[source.key].get(path)

    def _add(self, path: str, source: Kept | bytes) -> None:
        if path in self._sources:
            raise GeneratorFailed(f"the file {path} was made twice")
        self._sources[path] = source

    @property
    def hashes(self) -> dict[str, str]:
        """The hash of each file, by its path."""
        return {path: self.sha256(path) for path in self._sources}

    def sha256(self, path: str) -> str:
        """Return the hash of a file."""
        source = self._sources[path]
        return hashlib.sha256(source).hexdigest() if isinstance(source, bytes) else source.files[path].sha256

    def __getitem__(self, path: str) -> bytes:
        source = self._sources[path]
        return source if isinstance(source, bytes) else source.read(path)

    def __contains__(self, path: object) -> bool:
        return path in self._sources

    def __iter__(self) -> Iterator[str]:
        return iter(self._sources)

    def __len__(self) -> int:
        return len(self._sources)
