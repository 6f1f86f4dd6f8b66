"""What a page offers to link to and what it refers to, as plain data that follows from the page's bytes alone.

Pages are read by one pattern that steps over what holds neither an id nor a link. What is not written as our templates
write (a comment, a style element, a value without quotation marks) is read by the parser of the standard library, so
that nothing is missed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from html import unescape
from html.parser import HTMLParser

PANELS = re.compile(r"panels/[^/]+\.js")
"""Scripts that hand a device's panel, as markup, to the page where devices are chosen."""
_PAGES = (".html", ".svg")
_LINKS = frozenset({"href", "src", "xlink:href", "poster", "action", "formaction", "data", "cite"})
_LISTS_OF_IDS = frozenset(
    {"for", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details", "list"}
)
_WORDS_FOR_READERS = frozenset({"title", "alt", "content", "label", "aria-label", "aria-description", "abbr"})
"""Attributes that hold words, of records too, in which `url(` is not an address."""
# Whether it is closed is not asked: a browser does not either, and looking for the end again and again takes long.
_IN_VALUES = re.compile(r"url\(\s*+['\"]?+([^'\")]*+)")
_IMPORT = re.compile(r"@import\s+['\"]([^'\"]+)")

_STEP = re.compile(
    r"(?:[^<]++|<(?!style|script)/?[a-z][a-z0-9]*+\s*+/?+>|</script>|<!doctype html>)*+"
    r"(?:<([a-z][a-z0-9]*+)((?:\s++[^\s\"'<>/=]++(?:=\"[^\"]*+\")?+)++)\s*+/?+>)?+",
    re.IGNORECASE,
)
"""To behind the next tag that has attributes: its name and they."""
_ATTRIBUTE = re.compile(r"([^\s\"'<>/=]++)(?:=\"([^\"]*+)\")?+")
_END_OF_SCRIPT = "</script>"


@dataclass(frozen=True)
class Link:
    """One reference and the lines of the page on which it stands."""

    tag: str
    attribute: str
    target: str
    lines: tuple[int, ...]


@dataclass(frozen=True)
class PageLinks:
    """What one page offers to link to, and what it refers to."""

    ids: tuple[str, ...] = ()
    repeated_ids: tuple[tuple[int, str], ...] = ()
    """Lines on which an id stands that stood before, and it."""
    links: tuple[Link, ...] = ()
    """In the order in which each stands first."""

    def as_json(self) -> str:
        """Return it as JSON, from which `from_json` makes it again."""
        links = [(link.tag, link.attribute, link.target, link.lines) for link in self.links]
        return json.dumps([self.ids, self.repeated_ids, links], ensure_ascii=False)

    @staticmethod
    def from_json(text: str) -> PageLinks:
        """Return what was written by `as_json`."""
        ids, repeated, links = json.loads(text)
        return PageLinks(
            tuple(ids),
            tuple((line, name) for line, name in repeated),
            tuple(Link(tag, attribute, target, tuple(lines)) for tag, attribute, target, lines in links),
        )


_Found = tuple[str, str, str]
"""Tag, attribute and what it refers to; for an id, the attribute `id` and the id."""


def has_links(path: str) -> bool:
    """Return whether a file of this name is one that can refer to others."""
    return path.endswith((*_PAGES, ".css")) or PANELS.fullmatch(path) is not None


def page_links(path: str, content: bytes) -> PageLinks:
    """Return the ids and the links of a page, a drawing, a style sheet or the script of a panel."""
    text = content.decode("utf-8")
    if path.endswith(".css"):
        return _gathered(_in_style_sheet(text))
    markup = "".join(panel_texts(content).values()) if PANELS.fullmatch(path) else text
    try:
        return _gathered(_in_plain_markup(markup))
    except _NotPlain:
        return _gathered(_in_any_markup(markup))


def _gathered(found: Iterable[tuple[int, _Found]]) -> PageLinks:
    ids: dict[str, None] = {}
    repeated: list[tuple[int, str]] = []
    links: dict[_Found, list[int]] = {}
    for line, each in found:
        if each[1] != "id":
            links.setdefault(each, []).append(line)
        elif each[2] in ids:
            repeated.append((line, each[2]))
        else:
            ids[each[2]] = None
    return PageLinks(tuple(ids), tuple(repeated), tuple(Link(*each, tuple(lines)) for each, lines in links.items()))


class _NotPlain(Exception):
    """Markup has something that is left to the parser of the standard library."""


def _in_plain_markup(markup: str) -> Iterator[tuple[int, _Found]]:
    line, counted, end = 1, 0, 0
    while step := _STEP.match(markup, end):
        end = step.end()
        tag, attributes = step.groups()
        if tag is None:
            break
        tag = tag.lower()
        if tag == "style" or (tag == "script" and not _ends_before_a_tag(markup, end)):
            raise _NotPlain
        found = _in_attributes(tag, attributes)
        if found:
            start = step.start(1)
            line += markup.count("\n", counted, start)
            counted = start
            for each in found:
                yield line, each
    if end < len(markup):
        raise _NotPlain


def _ends_before_a_tag(markup: str, start: int) -> bool:
    """Return whether a script stands empty or holds data without a `<`; whatever it holds, it has no tags."""
    end = markup.find("<", start)
    return end >= 0 and markup[end : end + len(_END_OF_SCRIPT)].lower() == _END_OF_SCRIPT


@lru_cache(maxsize=16_384)
def _in_attributes(tag: str, attributes: str) -> tuple[_Found, ...]:
    """Return what the attributes of a tag refer to; most tags of a site stand in it again and again."""
    return tuple(
        found
        for attribute, value in _ATTRIBUTE.findall(attributes)
        for found in _in_attribute(tag, attribute.lower(), unescape(value))
    )


def _in_attribute(tag: str, attribute: str, value: str) -> list[_Found]:
    if attribute == "id" or attribute in _LINKS:
        return [(tag, attribute, value)]
    if attribute == "srcset":
        return [(tag, attribute, part.split()[0]) for part in value.split(",") if part.strip()]
    if attribute in _LISTS_OF_IDS:
        return [(tag, attribute, f"#{name}") for name in value.split()]
    return [] if attribute in _WORDS_FOR_READERS else _in_value(tag, attribute, value)


def _in_value(tag: str, attribute: str, value: str) -> list[_Found]:
    targets = _IN_VALUES.findall(value) + (_IMPORT.findall(value) if tag == "style" else [])
    return [(tag, attribute, target) for target in targets]


def _in_style_sheet(text: str) -> Iterator[tuple[int, _Found]]:
    for number, line in enumerate(text.splitlines(), start=1):
        for each in _in_value("style", "content", line):
            yield number, each


def _in_any_markup(markup: str) -> list[tuple[int, _Found]]:
    reader = _Reader()
    reader.feed(markup)
    reader.close()
    return reader.found


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[int, _Found]] = []
        self._in_style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in_style = tag == "style"
        for attribute, value in attrs:
            self._add(_in_attribute(tag, attribute, value or ""))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        self._in_style = False

    def handle_endtag(self, tag: str) -> None:
        self._in_style = False

    def handle_data(self, data: str) -> None:
        if self._in_style:
            self._add(_in_value("style", "content", data))

    def _add(self, found: list[_Found]) -> None:
        line = self.getpos()[0]
        self.found += [(line, each) for each in found]


def panel_texts(content: bytes) -> dict[str, str]:
    """Return what the script of a panel hands over, by the names that lead to it.

    Raises
    ------
    ValueError
        It is no such script.
    """
    text = content.decode("utf-8")
    return dict(_texts(json.loads(text[text.index("{") : text.rindex("}") + 1]), ""))


def _texts(value: object, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, dict):
        for name, part in value.items():
            yield from _texts(part, f"{path}.{name}" if path else name)
    elif isinstance(value, str):
        yield path, value
