"""Follow every link of every page before the site is put in place: each must lead to a file and a place that exist."""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import unquote, urlsplit

from generator.errors import BrokenLink
from generator.publishing.page_links import PANELS, Link, PageLinks, has_links, page_links

_OUTSIDE = frozenset({"http", "https", "mailto"})
_CHOOSING = "compare.html"
_CHOICE = "devices="
"""How that begins which stands after # in the address of that page: which devices are chosen, no place on it."""
_SHOWN = 20


def link_faults(files: Mapping[str, bytes]) -> list[str]:
    """Return every link, fragment and id that is wrong, one line each: `page:line: <tag attribute="target">: why`."""
    pages = {path: page_links(path, content) for path, content in files.items() if has_links(path)}
    return link_faults_of(pages, files.keys())


def link_faults_of(pages: Mapping[str, PageLinks], paths: Collection[str]) -> list[str]:
    """Return what is wrong with the links of pages that were read before, as `link_faults` does.

    Parameters
    ----------
    pages
        Ids and links of each file that has any, by its path.
    paths
        Paths of all files of the site.
    """
    site = _Site(frozenset(paths), {path: frozenset(page.ids) for path, page in pages.items()})
    faults: list[str] = []
    for path, page in sorted(pages.items()):
        faults += [f'{path}:{line}: id="{name}": the id is used twice on this page' for line, name in page.repeated_ids]
        faults += [fault for _, fault in sorted(_faults_of_links(path, page, site), key=lambda told: told[0])]
    return faults


@dataclass(frozen=True)
class _Site:
    """What can be linked to: all files, and the ids of those that have any."""

    paths: frozenset[str]
    ids: Mapping[str, frozenset[str]]


def _faults_of_links(path: str, page: PageLinks, site: _Site) -> Iterator[tuple[int, str]]:
    for link in page.links:
        why = _fault(path, link, site)
        if why is not None:
            for line in link.lines:
                yield line, f'{path}:{line}: <{link.tag} {link.attribute}="{link.target}">: {why}'


def check_links(files: Mapping[str, bytes]) -> None:
    """Raise BrokenLink, naming the faults, where a page refers to what is not among the files."""
    refuse(link_faults(files))


def refuse(faults: Sequence[str]) -> None:
    """Raise BrokenLink, naming the faults, where there are any."""
    if faults:
        shown = "\n".join(faults[:_SHOWN])
        rest = f"\n... and {len(faults) - _SHOWN} more" if len(faults) > _SHOWN else ""
        raise BrokenLink(
            f"expected every link to lead to a page and a place that exist, found {len(faults)} that do not. "
            f"This is a fault of the generator, not of the records.\n{shown}{rest}"
        )


@dataclass(frozen=True)
class Target:
    """What a link leads to within the site: a file, and a place on it or nothing."""

    path: str
    fragment: str
    ends_in_mark: bool
    """Whether the link ends in a #, after which a place should be named."""

    @property
    def is_choice(self) -> bool:
        """Whether it chooses devices, whose panels must be there, in place of naming a place on a page."""
        return self.path == _CHOOSING and self.fragment.startswith(_CHOICE)


def _fault(path: str, link: Link, site: _Site) -> str | None:
    target = target_of(path, link)
    return target_fault(target, site.paths, site.ids.get) if isinstance(target, Target) else target


def target_of(path: str, link: Link) -> Target | str | None:
    """Return what a link of a page leads to within the site; what is wrong with it as it stands; or None."""
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
    folder = posixpath.dirname(_CHOOSING if PANELS.fullmatch(path) else path)
    target = _joined(folder, parts.path) if parts.path else path
    return Target(target, parts.fragment, link.target.endswith("#"))


def target_fault(target: Target, paths: Collection[str], ids_of: Callable[[str], Collection[str] | None]) -> str | None:
    """Return what is wrong with where a link leads, from all paths of the site and the ids on each page."""
    if target.path not in paths:
        return f"there is no file {target.path}"
    if target.is_choice:
        chosen = unquote(target.fragment).removeprefix(_CHOICE).split(",")
        unknown = [device for device in chosen if f"panels/{device}.js" not in paths]
        return f"there is no panel of {', '.join(unknown)} to choose" if unknown else None
    if target.fragment and unquote(target.fragment) not in (ids_of(target.path) or ()):
        return f'there is no id="{unquote(target.fragment)}" in {target.path}'
    return "it names no place after the #" if target.ends_in_mark else None


@lru_cache(maxsize=65_536)
def _joined(folder: str, path: str) -> str:
    """Return what a path leads to from a folder; the same few lead from all pages of a folder."""
    return posixpath.normpath(posixpath.join(folder, unquote(path)))


def _outside_fault(link: Link, scheme: str) -> str | None:
    if link.tag == "a" and link.attribute == "href" and scheme in _OUTSIDE:
        return None
    if scheme in _OUTSIDE or not scheme:
        return "only a link that a reader follows may lead outside the site"
    return f"addresses of the kind {scheme}: are not allowed"
