"""Which pages and papers of a site read otherwise than those of another one, found without drawing any."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import partial

from generator.model.published import PublishedTest
from generator.presenting.page_views import Site
from generator.presenting.presented import Presented
from generator.scoring.result_changes import Owner, OwnerKind


@dataclass(frozen=True)
class PageChanges:
    """Paths of pages and papers."""

    new: tuple[str, ...]
    gone: tuple[str, ...]
    changed: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many are touched."""
        return len(self.new) + len(self.gone) + len(self.changed)


def page_changes(before: Site, after: Site, also: Iterable[Owner] = ()) -> PageChanges:
    """Return the pages and papers that come, go, or show something else; `also` those that have the results of some.

    Both sites have to be presented with the same hashes of records: a hash stands on every page, and alone is no change
    of what it says.
    """
    old, new = _views(before), _views(after)
    if before is after:
        changed: tuple[str, ...] = ()
    elif before.letterhead != after.letterhead:
        changed = tuple(path for path in new if path in old)
    else:
        changed = tuple(path for path in new if path in old and old[path]() != new[path]())
    pictures = [{picture.path: picture.content for picture in site.pictures} for site in (before, after)]
    # A picture that was exchanged shows on the pages of what it is a picture of.
    exchanged = [path for path, content in pictures[1].items() if pictures[0].get(path, content) != content]
    of_results = [path for owner in also for path in _pages_of(owner, after.data.catalogue.device_tests)]
    return PageChanges(
        new=tuple(path for path in new if path not in old),
        gone=tuple(path for path in old if path not in new),
        changed=tuple(
            dict.fromkeys((*changed, *exchanged, *(path for path in of_results if path in old and path in new)))
        ),
    )


def _pages_of(owner: Owner, tests: Mapping[str, PublishedTest]) -> tuple[str, ...]:
    """Return where the results of something stand, those of a record on its device's page too."""
    page = f"{owner.kind}s/{owner.id}"
    if owner.kind is OwnerKind.RECORD and owner.id in tests:
        device = f"devices/{tests[owner.id].device}"
        return (f"{page}.html", f"{device}.html", f"{device}.pdf")
    return (f"{page}.html", f"{page}.pdf")


def _views(site: Site) -> dict[str, Callable[[], object]]:
    """Return for each path what presents what stands there."""
    found: dict[str, Callable[[], object]] = {}
    for field in fields(site):
        part = getattr(site, field.name)
        if isinstance(part, Presented):
            found |= part.presenters
        elif hasattr(part, "head"):
            found[part.head.path] = partial(_itself, part)
    return found


def _itself(page: object) -> object:
    """Return what a page shows; pages within it that are presented one by one, such as panels, by their paths."""
    if not is_dataclass(page):
        return page
    parts = ((field.name, getattr(page, field.name)) for field in fields(page))
    return {
        name: {path: present() for path, present in part.presenters.items()} if isinstance(part, Presented) else part
        for name, part in parts
    }
