"""Withdrawal and amendments: each situation beside the exact words. Regression only: the words are ours."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from generator.model.catalogue import Catalogue
from generator.model.device import Device
from generator.presenting.design_views import Correction
from generator.presenting.page_parts import Notice
from generator.presenting.page_views import Site
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, record_page, shown
from tests.scoring.builders import Data, a_device, a_run, a_test

WITHDRAWN = {"date": "2025-08-01", "reason": "A leak in the tube"}
OUT: Data = {"date": "2025-09-01", "reason": "It is not made any more."}


def a_withdrawn_device(**changes: str) -> Catalogue:
    """Return a catalogue of a withdrawn device, and of one that may stand in its place."""
    catalogue = a_whole_catalogue(a_test([given(10.0)]), device=a_device(withdrawn=OUT | changes))
    other = Device.model_validate_json(json.dumps(json.loads(a_device().model_dump_json()) | {"id": "other"}))
    return replace(catalogue, devices={**catalogue.devices, "other": other.model_copy(update={"name": "Other"})})


def notices(site: Site) -> dict[str, tuple[Notice, ...]]:
    pages = {page.head.path: page.head.notices for page in site.devices}
    pages |= {page.head.path: page.head.notices for page in site.records}
    return pages | {sheet.path: sheet.head.notices for sheet in site.sheets}


def test_what_stands_has_no_notice() -> None:
    assert set(notices(shown(a_whole_catalogue(a_test([given(10.0)])))).values()) == {()}


def test_a_withdrawn_record_says_so_first() -> None:
    later = a_test([given(10.0)], id="later")
    gone = a_test([given(12.0)], withdrawn=WITHDRAWN | {"replaced_by": "later"})
    site = shown(a_whole_catalogue(later, gone))
    page = {record.id: record for record in site.records}["test"]
    (notice,) = page.head.notices
    assert (notice.id, notice.heading) == ("withdrawn", "This test record was withdrawn on 1 August 2025.")
    assert notice.text == (
        "Reason: A leak in the tube. Its figures can still be read below; they count towards no result of the device."
    )
    assert notice.replaced_by is not None
    assert (notice.replaced_by.text, notice.replaced_by.href) == ("later", "records/later.html")
    assert page.head.title == "Withdrawn: Test report test"
    # Its figures are still there, and the other pages have no notice.
    assert len(page.sections[0].blocks[0].figures) == 2
    assert {path for path, shown_there in notices(site).items() if shown_there} == {"records/test.html"}


def test_a_withdrawn_record_stays_in_lists_and_on_the_sheet() -> None:
    later = a_test([given(10.0)], id="later")
    gone = a_test([given(12.0)], id="gone", withdrawn=WITHDRAWN | {"replaced_by": "later"})
    site = shown(a_whole_catalogue(later, gone))
    entries = {entry.link.text: entry for entry in site.devices[0].records}
    assert entries["later"].withdrawn is None
    assert entries["gone"].withdrawn == ("Withdrawn on 1 August 2025, left out of the results: A leak in the tube")
    assert entries["gone"].replaced_by is not None
    assert [box.id for box in site.devices[0].cautions.open if box.id == "record-withdrawn"] == ["record-withdrawn"]
    (group,) = site.index.groups
    assert group.rows[0].records == "one record and one withdrawn one"
    assert site.index.counts == "One device, two test records (one of them withdrawn), three wearers."
    (sheet,) = site.sheets
    assert {item.record for item in sheet.attached} == {"later", "gone"}
    told = {annex.record.text: [notice.heading for notice in annex.notices] for annex in sheet.annexes}
    assert told == {"later": [], "gone": ["This test record was withdrawn on 1 August 2025."]}


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((), "no record issued"),
        ((a_test([given(10.0)], withdrawn=WITHDRAWN),), "no record stands"),
        # source: the builder's day of issue, 2025-07-01
        ((a_test([given(10.0)]), a_test([given(10.0)], id="gone", withdrawn=WITHDRAWN)), "1 July 2025"),
    ],
)
def test_the_day_of_a_device_page_is_that_of_a_record_that_stands(parts: tuple[Data, ...], words: str) -> None:
    assert {fact.term: fact.text for fact in device_page(*parts).head.state}["Last record issued"] == words  # type: ignore[arg-type]


def test_a_withdrawn_device_says_so_on_all_that_is_about_it() -> None:
    site = shown(a_withdrawn_device(replaced_by="other"))
    told = {path: [notice.heading for notice in found] for path, found in notices(site).items()}
    assert told == {
        "devices/device.html": ["This device was withdrawn from this catalogue on 1 September 2025."],
        "devices/device.pdf": ["This device was withdrawn from this catalogue on 1 September 2025."],
        "devices/other.html": [],
        "devices/other.pdf": [],
        "records/test.html": ["The device Device was withdrawn from this catalogue on 1 September 2025."],
    }
    (notice,) = site.devices[0].head.notices
    assert notice.text == "Reason: It is not made any more. What was measured can still be read."
    assert notice.replaced_by is not None
    assert (notice.replaced_by.text, notice.replaced_by.href) == ("Other", "devices/other.html")
    (group,) = site.index.groups
    assert {row.link.text: row.withdrawn for row in group.rows} == {
        "Device": "withdrawn on 1 September 2025",
        "Other": None,
    }
    # The record's own notice and the device's have ids of their own.
    assert site.records[0].head.notices[0].id == "device-withdrawn"


AMENDED: Data = {
    "date": "2025-08-01",
    "reason": "a slip of the pen",
    "changed": "the factor while talking, from 90 to 150",
    "earlier": [
        {"figure": "fit.am.overall", "was": "127"},
        {"figure": "flow.high.mean", "was": "188 L/min"},
        {"figure": "fit.am.humming", "was": "77"},
    ],
}


def test_earlier_figures_stand_beside_those_of_today() -> None:
    test = a_test([given(150.0, blower="high")], [a_run([200.0, 201.0])], amendments=[AMENDED])
    (amendment,) = record_page(test, device=a_device("loose_powered_hood")).amendments
    assert (amendment.date, amendment.changed, amendment.reason) == (
        "1 August 2025",
        "The factor while talking, from 90 to 150.",
        "A slip of the pen.",
    )
    assert amendment.earlier is not None
    rows = [[cell.text for cell in row.cells] for row in amendment.earlier.rows]
    # source: the harmonic mean of equal factors is that factor, by definition
    assert rows[0] == ["overall fit factor", "127", "150"]
    assert rows[1][:2] == ["supply flow", "188 L/min"]
    # source: the mean of 200 and 201 by arithmetic, 200.5, to the digits of its interval; t of one degree of freedom is
    # 12.71 (JCGM 100:2008, Table G.2), times 0.5 L/min, and rounded outwards
    assert rows[1][2].replace("\N{NARROW NO-BREAK SPACE}", " ") == "200 L/min (95 % interval 194 to 207 L/min)"
    # A figure that is no more is named by the words of its key.
    assert rows[2] == ["session am, humming", "77", "no figure of this record any more"]
    assert [row.cells[0].note for row in amendment.earlier.rows] == ["session am", "flow run high", None]
    links = [row.cells[0].href for row in amendment.earlier.rows]
    assert links == ["records/test.html#fit.am.overall", "records/test.html#flow.high.mean", None]
    assert amendment.earlier.rows[0].cells[2].id == "amendment-1.fit.am.overall.today"


def test_an_amendment_without_figures_has_no_table() -> None:
    amended = {**AMENDED, "earlier": []}
    (amendment,) = record_page(a_test([given(10.0)], amendments=[amended])).amendments
    assert amendment.earlier is None


def test_what_was_changed_about_a_device_stands_on_its_page() -> None:
    amended = {"date": "2025-08-01", "reason": "The maker wrote.", "changed": "The mass, from 20 g to 22 g."}
    page = device_page(device=a_device(amendments=[amended]))
    assert page.corrections == (
        Correction("1 August 2025", None, "amended", "The mass, from 20 g to 22 g. Reason: The maker wrote.", None),
    )
