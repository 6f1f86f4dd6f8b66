"""Follow every link of every page before the site is put in place: each must lead to a file and a place that exist."""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

from generator.errors import BrokenLink

_LINKS = frozenset({"href", "src", "xlink:href", "poster", "action", "formaction", "data", "cite"})
_LISTS_OF_IDS = frozenset(
    {"for", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details", "list"}
)
_WORDS_FOR_READERS = frozenset({"title", "alt", "content", "label", "aria-label", "aria-description", "abbr"})
"""Attributes that hold words, of records too, in which `url(` is not an address."""
_OUTSIDE = frozenset({"http", "https", "mailto"})
# Whether it is closed is not asked: a browser does not either, and looking for the end again and again takes long.
_IN_VALUES = re.compile(r"url\(\s*+['\"]?+([^'\")]*+)")
_IMPORT = re.compile(r"@import\s+['\"]([^'\"]+)")
_PAGES = (".html", ".svg")
_PANELS = re.compile(r"panels/[^/]+\.js")
"""Scripts that hand a device's panel, as markup, to the page where devices are chosen."""
_CHOOSING = "compare.html"
_CHOICE = "devices="
"""How that begins which stands after # in the address of that page: which devices are chosen, no place on it."""
_SHOWN = 20


@dataclass(frozen=True)
class Link:
    """One reference found in a page."""

    line: int
    tag: str
    attribute: str
    target: str


@dataclass
class Page:
    """What one page offers to link to, and what it refers to."""

    ids: set[str] = field(default_factory=set)
    repeated_ids: list[tuple[int, str]] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.page = Page()
        self._in_style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in_style = tag == "style"
        for attribute, value in attrs:
            self._read(tag, attribute, value or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        self._in_style = False

    def handle_endtag(self, tag: str) -> None:
        self._in_style = False

    def handle_data(self, data: str) -> None:
        if self._in_style:
            self._add_values("style", "content", data)

    def _read(self, tag: str, attribute: str, value: str) -> None:
        line = self.getpos()[0]
        if attribute == "id":
            if value in self.page.ids:
                self.page.repeated_ids.append((line, value))
            self.page.ids.add(value)
        elif attribute in _LINKS:
            self.page.links.append(Link(line, tag, attribute, value))
        elif attribute == "srcset":
            targets = (part.split()[0] for part in value.split(",") if part.strip())
            self.page.links.extend(Link(line, tag, attribute, target) for target in targets)
        elif attribute in _LISTS_OF_IDS:
            self.page.links.extend(Link(line, tag, attribute, f"#{name}") for name in value.split())
        elif attribute not in _WORDS_FOR_READERS:
            self._add_values(tag, attribute, value)

    def _add_values(self, tag: str, attribute: str, value: str) -> None:
        line = self.getpos()[0]
        targets = _IN_VALUES.findall(value) + (_IMPORT.findall(value) if tag == "style" else [])
        self.page.links.extend(Link(line, tag, attribute, target) for target in targets)


def read_page(content: bytes) -> Page:
    """Return the ids and the links of a page or a drawing."""
    reader = _Reader()
    reader.feed(content.decode("utf-8"))
    reader.close()
    return reader.page


def read_style_sheet(content: bytes) -> Page:
    """Return the addresses that a style sheet refers to."""
    page = Page()
    for number, line in enumerate(content.decode("utf-8").splitlines(), start=1):
        targets = _IN_VALUES.findall(line) + _IMPORT.findall(line)
        page.links.extend(Link(number, "style", "content", target) for target in targets)
    return page


def read_panel(content: bytes) -> Page:
    """Return the ids and the links of all the markup that the script of a panel hands over."""
    reader = _Reader()
    for markup in panel_texts(content).values():
        reader.feed(markup)
    reader.close()
    return reader.page


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


def link_faults(files: Mapping[str, bytes]) -> list[str]:
    """Return every link, fragment and id that is wrong, one line each: `page:line: <tag attribute="target">: why`."""
    pages = {path: read_page(content) for path, content in files.items() if path.endswith(_PAGES)}
    pages |= {path: read_panel(content) for path, content in files.items() if _PANELS.fullmatch(path)}
    sheets = {path: read_style_sheet(content) for path, content in files.items() if path.endswith(".css")}
    faults: list[str] = []
    for path, page in sorted((pages | sheets).items()):
        faults += [f'{path}:{line}: id="{name}": the id is used twice on this page' for line, name in page.repeated_ids]
        for link in page.links:
            why = _fault(path, link, files, pages)
            if why is not None:
                faults.append(f'{path}:{link.line}: <{link.tag} {link.attribute}="{link.target}">: {why}')
    return faults


def check_links(files: Mapping[str, bytes]) -> None:
    """Raise BrokenLink, naming the faults, where a page refers to what is not among the files."""
    faults = link_faults(files)
    if faults:
        shown = "\n".join(faults[:_SHOWN])
        rest = f"\n... and {len(faults) - _SHOWN} more" if len(faults) > _SHOWN else ""
        raise BrokenLink(
            f"expected every link to lead to a page and a place that exist, found {len(faults)} that do not. "
            f"This is a fault of the generator, not of the records.\n{shown}{rest}"
        )


def _fault(path: str, link: Link, files: Mapping[str, bytes], pages: Mapping[str, Page]) -> str | None:
    try:
        parts = urlsplit(link.target)
    except ValueError as error:
        return f"it cannot be read as an address ({error})"
    if parts.scheme or parts.netloc:
        return _outside_fault(link, parts.scheme)
    if parts.path.startswith("/"):
        return "it starts at the root of a host; links are relative, so that the site can stand anywhere"
    if not link.target:
        return "it is empty"
    # A panel is put into the page where devices are chosen, from which its links lead.
    folder = posixpath.dirname(_CHOOSING if _PANELS.fullmatch(path) else path)
    target = posixpath.normpath(posixpath.join(folder, unquote(parts.path))) if parts.path else path
    if target not in files:
        return f"there is no file {target}"
    if target == _CHOOSING and parts.fragment.startswith(_CHOICE):
        chosen = unquote(parts.fragment).removeprefix(_CHOICE).split(",")
        unknown = [device for device in chosen if f"panels/{device}.js" not in files]
        return f"there is no panel of {', '.join(unknown)} to choose" if unknown else None
    if parts.fragment and unquote(parts.fragment) not in (pages[target].ids if target in pages else ()):
        return f'there is no id="{unquote(parts.fragment)}" in {target}'
    if link.target.endswith("#"):
        return "it names no place after the #"
    return None


def _outside_fault(link: Link, scheme: str) -> str | None:
    if link.tag == "a" and link.attribute == "href" and scheme in _OUTSIDE:
        return None
    if scheme in _OUTSIDE or not scheme:
        return "only a link that a reader follows may lead outside the site"
    return f"addresses of the kind {scheme}: are not allowed"
