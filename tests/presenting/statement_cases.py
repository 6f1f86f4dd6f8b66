"""Catalogues of which something may be said, and beside each the nearest one of which it may not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.statement_views import MayBeSaid
from generator.presenting.statements import may_be_said
from generator.scoring.catalogue import score_catalogue
from tests.presenting.small_sites import a_whole_catalogue, given
from tests.scoring.builders import Data, a_device, a_session, a_test, readings
from tests.scoring.comparison_builders import a_comparison, inside, several, worn
from tests.scoring.run_down_builders import a_run_down_catalogue
from tests.scoring.test_blower import BENT, HOOD, ONE_FILTER, a_curve, drops, record

LOOSE, TIGHT = "loose_powered_hood", "tight_powered_half_facepiece"
MODIFIED: Data = {"state": "modified", "description": "taped", "changes": ["seams taped"]}
CLASS: Data = {"filter": {"stated_class": "P3", "media_area": "300 cm2", "count": 1}}
UNIT_1: Data = {"obtained": "bought", "source": "a shop", "lot": "L", "unit": "U1"}
UNIT_2 = UNIT_1 | {"unit": "U2"}
PLENTY = [200.0, 201.0, 202.0]
Build = Callable[[], Catalogue]


@dataclass(frozen=True)
class Case:
    """What is said in one situation and not in the nearest other one; a narrow space is written as `~`."""

    id: str
    text: str
    raised: Build
    not_raised: Build
    device: str = "device"


@cache
def said_of(build: Build, device: str = "device") -> MayBeSaid:
    """Return what may be said of a device of a catalogue, worked out once."""
    out = published(build())
    result = score_catalogue(out)
    return may_be_said(out.devices[device], result.devices[device], Context(out, result))


def of(
    *sessions: Data,
    flow: Any = (),
    kind: str = "filtering_facepiece",
    device: Data | None = None,
    more: Sequence[Data] = (),
    **test: Any,
) -> Build:
    """Return the builder of a catalogue of one device with one record; `more` sessions make another one of unit U2."""

    def build() -> Catalogue:
        tests = [a_test(list(sessions), list(flow), **test)]
        if more:
            tests.append(a_test(list(more), id="later", sample=UNIT_2))
        bare = a_whole_catalogue(*tests, device=a_device(kind, **(device or {})))
        return replace(bare, work_levels=load_reference().work_levels)

    return build


def three(*factors: float, **changes: Any) -> list[Data]:
    """Return a session of each of up to three wearers, with the factors that an instrument gave."""
    names = ("wren", "plover", "sedge")
    return [given(factor, id=f"s{number}", wearer=names[number], **changes) for number, factor in enumerate(factors)]


def by_eight(*factors: float) -> list[Data]:
    """Return the same by a protocol that a fit-test pass level is bound to."""
    return three(*factors, protocol="eight-standard-exercises")


def counted(*counts: int, **changes: Any) -> Data:
    return a_session(readings(*counts), **changes)


def claim(flow: str | None) -> Data:
    said: Data = {"quotation": "Plenty of air", "where": "leaflet, page 2", "date": "2025-02-03"}
    return {"claims": [said | ({"means": {"supply_flow_at_least": flow}} if flow else {})]}


APPROVAL: Data = {
    "approvals_stated": [{"scheme": "Board", "number": "1", "date_checked": "2025-02-04", "covers": "all of it"}]
}


def compared(*second: str) -> Build:
    """Return two devices on three wearers each; the first lets in about a tenth of the 3000 /cm3 outside."""

    def build() -> Catalogue:
        tests = [
            worn("first", _others("abc", "300 /cm3", "310 /cm3", "305 /cm3")),
            worn("second", _others("def", *second)),
        ]
        return several(tests, {"first": {}, "second": {}}, comparisons=[a_comparison("first", "second")])

    return build


def _others(names: str, *concentrations: str) -> list[Data]:
    pairs = zip(names, concentrations, strict=True)
    return [a_session(inside(each), id=f"s-{name}", wearer=name) for name, each in pairs]


def blower(alternative: bool) -> Build:
    parts = [drops("f", 1.2)]
    if alternative:
        parts.append(drops("fine", 2.4, alternative=True, what="a finer filter"))
    return lambda: a_whole_catalogue(record(*parts, curve=a_curve(*BENT)), device=a_device(HOOD, filter=ONE_FILTER))


def run_down(*flows: float, **changes: Any) -> Build:
    return lambda: a_run_down_catalogue(flows, **changes)
