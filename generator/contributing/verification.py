"""Computes a published site anew from its own published records and names every figure that differs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from generator import __version__
from generator.contributing.differences import Difference, differences
from generator.loading.published_site import load_published_site
from generator.model.published import PublishedCatalogue
from generator.presenting.pictures import picture_places
from generator.presenting.still_views import STILLS_FOLDER
from generator.presenting.whole_site import present
from generator.publishing.cache_folder import libraries_write_here
from generator.publishing.output_folder import MARK
from generator.scoring.catalogue import score_catalogue

Report = Callable[[int, int, str], None]


@dataclass(frozen=True)
class Verification:
    """What was compared, and what differs."""

    files: int
    differences: tuple[Difference, ...]
    published_with: dict[str, str]
    recomputed_with: dict[str, str]


def published_pictures(catalogue: PublishedCatalogue, site: Path) -> dict[str, bytes]:
    """Return the pictures as they are published; what was done to one shows in the hashes among the data."""
    return {
        file: (site / place).read_bytes() if (site / place).is_file() else b""
        for place, file in picture_places(catalogue)
    }


def verify(site: Path, report: Report) -> Verification:
    """Compare a published site with what its own published records give.

    Raises
    ------
    PublishedSiteUnreadable
        The folder is no published site, or its data cannot be read.
    """
    report(0, 0, "Reading the published records")
    catalogue, published_with = load_published_site(site)
    catalogue = replace(catalogue, pictures=published_pictures(catalogue, site))
    report(0, 0, "Scoring")
    result = score_catalogue(catalogue)

    with libraries_write_here():
        from generator.rendering.whole_site import render_site  # not before: matplotlib asks while it is imported

        with_stills = (site / STILLS_FOLDER).is_dir()
        recomputed = render_site(present(catalogue, result, with_stills), report)
    published = {path.relative_to(site).as_posix(): path for path in sorted(site.rglob("*")) if path.is_file()}
    published.pop(MARK, None)
    found: list[Difference] = []
    for name in sorted({*published, *recomputed}):
        content = published[name].read_bytes() if name in published else None
        found += differences(name, content, recomputed.get(name))
    return Verification(
        files=len(recomputed),
        differences=tuple(found),
        published_with=published_with,
        recomputed_with={"inward": __version__, **result.libraries},
    )
