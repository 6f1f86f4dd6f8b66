"""Names what differs between a published file and the same file computed anew, figure by figure."""

from __future__ import annotations

import csv
import difflib
import io
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from html.parser import HTMLParser
from typing import Any

from generator.publishing.page_links import panel_texts

_ABSENT = "nothing"
_LONGEST = 160


@dataclass(frozen=True)
class Difference:
    """One thing that differs: the file, where in it, what is published, what the records give."""

    file: str
    where: str
    published: str
    recomputed: str

    def __str__(self) -> str:
        """Give the one line a reader sees."""
        place = f"{self.file}: {self.where}" if self.where else self.file
        return f"{place}: published {_shortened(self.published)}, recomputed {_shortened(self.recomputed)}"


def _shortened(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _LONGEST else plain[: _LONGEST - 1] + "…"


class _ById(HTMLParser):
    """Gathers, for each element with an id, its own text and markup: what lies outside deeper elements with ids."""

    _VOID = frozenset({"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"})

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.texts: dict[str, list[str]] = {"": []}
        self.markup: dict[str, list[str]] = {"": []}
        self._open: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        identity = dict(attrs).get("id") or (self._open[-1] if self._open else "")
        self.texts.setdefault(identity, [])
        self.markup.setdefault(identity, []).append(f"<{tag} {attrs}>")
        if tag not in self._VOID:
            self._open.append(identity)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self._VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        if tag not in self._VOID and self._open:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        self.texts[self._open[-1] if self._open else ""].append(data)

    def text(self, identity: str) -> str:
        return " ".join(" ".join(self.texts.get(identity, [_ABSENT])).split())


def _html(file: str, published: bytes, recomputed: bytes) -> Iterator[Difference]:
    old, new = _ById(published.decode("utf-8", "replace")), _ById(recomputed.decode())
    for identity in dict.fromkeys([*new.texts, *old.texts]):
        where = f"#{identity}" if identity else "outside any element with an id"
        if old.text(identity) != new.text(identity):
            yield Difference(file, where, f"“{old.text(identity)}”", f"“{new.text(identity)}”")
        elif old.markup.get(identity) != new.markup.get(identity):
            changed = [
                pair
                for pair in zip(old.markup.get(identity, []), new.markup.get(identity, []), strict=False)
                if pair[0] != pair[1]
            ]
            before, after = changed[0] if changed else ("other elements", "its own")
            yield Difference(file, f"{where}, markup", before, after)


def _csv(file: str, published: bytes, recomputed: bytes) -> Iterator[Difference]:
    old = list(csv.reader(io.StringIO(published.decode("utf-8", "replace"), newline="")))
    new = list(csv.reader(io.StringIO(recomputed.decode(), newline="")))
    head = new[0] if new else []
    for number in range(max(len(old), len(new))):
        before = old[number] if number < len(old) else []
        after = new[number] if number < len(new) else []
        name = after[0] if after else f"row {number + 1}"
        for place in range(max(len(before), len(after))):
            pair = tuple(row[place] if place < len(row) else _ABSENT for row in (before, after))
            if pair[0] != pair[1]:
                column = head[place] if place < len(head) else f"column {place + 1}"
                yield Difference(file, f"row {name}, {column}", *pair)


def _json_pairs(before: Any, after: Any, path: str) -> Iterator[tuple[str, Any, Any]]:
    if isinstance(before, dict) and isinstance(after, dict):
        for name in dict.fromkeys([*after, *before]):
            step = f"{path}.{name}" if path else str(name)
            yield from _json_pairs(before.get(name, _ABSENT), after.get(name, _ABSENT), step)
    elif isinstance(before, list) and isinstance(after, list):
        for number in range(max(len(before), len(after))):
            pair = [items[number] if number < len(items) else _ABSENT for items in (before, after)]
            key = pair[1].get("key", number) if isinstance(pair[1], Mapping) else number
            yield from _json_pairs(pair[0], pair[1], f"{path}[{key}]")
    elif before != after:
        yield path, before, after


def _json(file: str, published: bytes, recomputed: bytes) -> Iterator[Difference]:
    try:
        before = json.loads(published)
    except ValueError:
        yield Difference(file, "", "no JSON", "JSON")
        return
    for path, old, new in _json_pairs(before, json.loads(recomputed), ""):
        yield Difference(file, path, json.dumps(old, ensure_ascii=False), json.dumps(new, ensure_ascii=False))


def _pdf(file: str, published: bytes, recomputed: bytes) -> Iterator[Difference]:
    import pypdf
    from pypdf.errors import PyPdfError

    try:
        old, new = (pypdf.PdfReader(io.BytesIO(content)) for content in (published, recomputed))
        pages = max(len(old.pages), len(new.pages))
        for number in range(pages):
            texts = [
                reader.pages[number].extract_text().splitlines() if number < len(reader.pages) else []
                for reader in (old, new)
            ]
            for tag, i, j, k, m in difflib.SequenceMatcher(None, texts[0], texts[1], autojunk=False).get_opcodes():
                if tag != "equal":
                    pair = [" / ".join(lines) or _ABSENT for lines in (texts[0][i:j], texts[1][k:m])]
                    yield Difference(file, f"page {number + 1}", *(f"“{text}”" for text in pair))
        enclosed = [{name: b"".join(parts) for name, parts in reader.attachments.items()} for reader in (old, new)]
    except (PyPdfError, ValueError, KeyError, TypeError, OSError) as error:
        yield Difference(file, "", f"no readable PDF ({error})", "a PDF")
        return
    for name in dict.fromkeys([*enclosed[1], *enclosed[0]]):
        before, after = enclosed[0].get(name, b"{}"), enclosed[1].get(name, b"{}")
        if before != after:
            yield from (
                Difference(file, f"attachment {name}, {each.where}", each.published, each.recomputed)
                for each in _json(file, before, after)
            )


def _panel(file: str, published: bytes, recomputed: bytes) -> Iterator[Difference]:
    """Compare the markup that a panel hands over part by part; any other script has no parts to name."""
    try:
        old, new = panel_texts(published), panel_texts(recomputed)
    except ValueError:
        return
    for part in dict.fromkeys([*new, *old]):
        before, after = (texts.get(part, _ABSENT).encode() for texts in (old, new))
        for found in _html(file, before, after):
            yield replace(found, where=f"{part}, {found.where}")


_BY_ENDING = {"html": _html, "csv": _csv, "json": _json, "pdf": _pdf, "js": _panel}


def differences(file: str, published: bytes | None, recomputed: bytes | None) -> list[Difference]:
    """Return what differs between a published file and the same one computed anew; None stands for no such file."""
    if published == recomputed:
        return []
    if published is None or recomputed is None:
        words = [_ABSENT if content is None else "a file" for content in (published, recomputed)]
        return [Difference(file, "", *words)]
    compare = _BY_ENDING.get(file.rpartition(".")[2])
    found = list(compare(file, published, recomputed)) if compare else []
    return found or [Difference(file, "", f"{len(published)} other bytes", f"{len(recomputed)} bytes")]
