"""Links of a site that is made in parts: within a part they are followed when it is made, between parts when all are.

What a part keeps of its links follows from its own files. It is plain data, so that it can be kept beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.publishing.links import Target, target_fault, target_of
from generator.publishing.page_links import has_links, page_links


@dataclass(frozen=True)
class Outgoing:
    """A place outside the part that links of the part lead to, and where one of these stands."""

    target: Target
    said: str
    """Page, line and the link as it is written."""


@dataclass(frozen=True)
class PartLinks:
    """What is known of the links of a part."""

    ids: Mapping[str, tuple[str, ...]]
    """The ids that can be linked to, by page."""
    outgoing: tuple[Outgoing, ...]
    """Each place outside once."""
    faults: tuple[str, ...]
    """What is wrong whatever the other parts are."""

    def plain(self) -> dict[str, Any]:
        """Return it as lists and texts, from which `part_links_from` makes it again; the ids are left out."""
        outgoing = [
            [each.target.path, each.target.fragment, each.target.ends_in_mark, each.said] for each in self.outgoing
        ]
        return {"outgoing": outgoing, "faults": list(self.faults)}


def part_links_from(plain: Mapping[str, Any]) -> PartLinks:
    """Return what was made plain, without the ids."""
    outgoing = (Outgoing(Target(path, fragment, mark), said) for path, fragment, mark, said in plain["outgoing"])
    return PartLinks({}, tuple(outgoing), tuple(plain["faults"]))


def part_links(files: Mapping[str, bytes]) -> PartLinks:
    """Read the links of the files of a part."""
    pages = {path: page_links(path, content) for path, content in files.items() if has_links(path)}
    ids = {path: page.ids for path, page in pages.items() if page.ids}
    sets = {path: frozenset(of_page) for path, of_page in ids.items()}
    outgoing: dict[Target, Outgoing] = {}
    faults: list[str] = []
    for path, page in sorted(pages.items()):
        faults += [f'{path}:{line}: id="{name}": the id is used twice on this page' for line, name in page.repeated_ids]
        for link in page.links:
            said = f'{path}:{link.lines[0]}: <{link.tag} {link.attribute}="{link.target}">'
            target = target_of(path, link)
            if isinstance(target, Target) and (target.path not in files or target.is_choice):
                outgoing.setdefault(target, Outgoing(target, said))
                continue
            why = target_fault(target, files.keys(), sets.get) if isinstance(target, Target) else target
            if why is not None:
                faults.append(f"{said}: {why}")
    return PartLinks(ids, tuple(outgoing.values()), tuple(faults))


def faults_of_parts(
    parts: Iterable[PartLinks], paths: Collection[str], ids_of: Callable[[str], Collection[str] | None]
) -> Sequence[str]:
    """Return what is wrong with the links of a site, one line for each place that they lead to.

    Parameters
    ----------
    parts
        What is known of all parts.
    paths
        The paths of all files of the site.
    ids_of
        Gives the ids on a page, or None where it has none; asked only for pages that another part links to.
    """
    faults: list[str] = []
    for part in parts:
        faults += part.faults
        for outgoing in part.outgoing:
            why = target_fault(outgoing.target, paths, ids_of)
            if why is not None:
                faults.append(f"{outgoing.said}: {why}")
    return sorted(faults)
