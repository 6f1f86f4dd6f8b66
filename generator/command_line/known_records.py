"""What commands about things on record share: the records as they are published, and a hint where a name is unknown."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from generator.errors import RecordsHaveProblems

if TYPE_CHECKING:
    from generator.model.published import PublishedCatalogue


def published_records(folder: Path) -> PublishedCatalogue:
    """Return the catalogue of a records folder as it would be published.

    Raises
    ------
    RecordsHaveProblems
        The records cannot be scored.
    """
    from generator.loading import load_catalogue
    from generator.model.published import published

    loaded = load_catalogue(folder)
    if loaded.catalogue is None:
        raise RecordsHaveProblems(loaded.problems)
    return published(loaded.catalogue)


def near_hint(name: str, known: Iterable[str]) -> str:
    """Return the end of the message that nothing of that name is on record."""
    near = difflib.get_close_matches(name, list(known), n=1)
    return f"did you mean `{near[0]}`?" if near else "see the files there."
