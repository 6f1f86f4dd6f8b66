"""Small catalogues in memory, and what `inward impact` says of one against another."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from generator.contributing.impact.bases import Base
from generator.contributing.impact.impact_of import impact_on
from generator.model.device_test import DeviceTest
from generator.model.published import PublishedCatalogue, published
from generator.presenting.impact_views import ImpactRow, ImpactView
from tests.presenting.small_sites import a_whole_catalogue
from tests.scoring.builders import Data, a_session, a_test, readings


def quiet(done: int, total: int, what: str) -> None:
    """Take a report and say nothing."""


def three_wearers(talking: int = 60, **changes: Any) -> DeviceTest:
    """Return a record of three wearers who donned once each; `talking` is a count of the first one's session."""
    sessions: list[Data] = [
        a_session(readings(40, talking, 50), id="am", wearer="wren"),
        a_session(readings(30, 40, 45), id="pm", wearer="plover"),
        a_session(readings(25, 35, 20), id="eve", wearer="sedge"),
    ]
    return a_test(sessions, **changes)


def catalogue(*tests: DeviceTest, **parts: Any) -> PublishedCatalogue:
    return published(a_whole_catalogue(*tests, **parts))


def impact(before: PublishedCatalogue, after: PublishedCatalogue) -> ImpactView:
    return impact_on(Base("before", before), after, "after", quiet)


def rows(view: ImpactView, section: str) -> tuple[ImpactRow, ...]:
    return next((each.rows for each in view.sections if each.id == section), ())


def places(told: Iterable[ImpactRow]) -> list[tuple[str, str]]:
    return [(row.owner.text, row.place.text) for row in told]


def remarks(view: ImpactView) -> list[str]:
    return ["".join(piece.text for piece in remark) for remark in view.remarks]
