"""Wearers and donnings on a device's page: chart or sessions, marks, table, workings, and the sheet's annex."""

from __future__ import annotations

from generator.presenting.page_views import DevicePage
from generator.presenting.panel_statements import NO_PANEL_RULE
from generator.presenting.views import TopicSection
from generator.presenting.wearer_statements import OF_VOLUNTEERS
from generator.presenting.wearer_views import WearersView
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, shown
from tests.scoring.builders import a_device, a_test
from tests.scoring.wearer_builders import donned

TWICE = {"wren": [100.0, 150.0], "plover": [300.0, 240.0], "sedge": [90.0]}


def fit(page: DevicePage) -> TopicSection:
    (section,) = (section for section in page.sections if section.topic == "fit")
    return section


def wearers(page: DevicePage) -> WearersView:
    view = fit(page).wearers
    assert view is not None
    return view


def test_donnings_stand_once_on_the_page() -> None:
    twice = fit(device_page(a_test(donned(TWICE))))
    assert twice.chart is None
    assert twice.wearers is not None
    assert [group.chart is not None for group in twice.wearers.groups] == [True]
    once = fit(device_page(a_test([given(150.0)])))
    assert once.chart is not None
    assert once.wearers is not None
    assert [group.chart for group in once.wearers.groups] == [None]


def test_a_wearer_is_a_line_and_a_donning_a_mark() -> None:
    (group,) = wearers(device_page(a_test(donned(TWICE)))).groups
    chart = group.chart
    assert chart is not None
    assert chart.id == "wearers-1-scale"
    assert [(row.letter, row.text) for row in chart.rows] == [("A", "100, 150"), ("B", "300, 240"), ("C", "90")]
    assert [mark.key for row in chart.rows for mark in row.marks] == [
        "test-fit.wren1.overall",
        "test-fit.wren2.overall",
        "test-fit.plover1.overall",
        "test-fit.plover2.overall",
        "test-fit.sedge1.overall",
    ]
    assert chart.mean is not None
    assert (chart.mean.key, chart.bound and chart.bound.key) == ("wearers.1.mean", "wearers.1.bound")
    assert chart.mean.low is not None
    assert "A: 100, 150; B: 300, 240; C: 90. Geometric mean" in chart.description


def test_each_chart_explains_what_no_chart_before_it_has() -> None:
    taped = {"state": "modified", "description": "taped seam", "changes": ["tape"]}
    one_each = donned({"wren": [100.0], "plover": [240.0], "sedge": [90.0]})
    tests = a_test(one_each, id="first"), a_test(donned(TWICE), id="second", configuration=taped)
    captions = [group.chart and group.chart.caption for group in wearers(device_page(*tests)).groups]
    assert captions == [
        "Each line is a wearer, by letter. A diamond is one donning. Below the line, the large diamond is the "
        "geometric mean with its interval over wearers. The bracket is the lower bound of the 5th percentile: with 95 "
        "% confidence, at least 95 in 100 donnings of new wearers lie above it.",
        "A wearer’s donnings lie below one another, the first on top.",
    ]


def test_what_holds_for_all_is_said_once() -> None:
    taped = {"state": "modified", "description": "taped seam", "changes": ["tape"]}
    tests = a_test(donned(TWICE), id="first"), a_test(donned(TWICE), id="second", configuration=taped)
    view = wearers(device_page(*tests))
    assert view.sentences == (OF_VOLUNTEERS, NO_PANEL_RULE)
    assert [group.heading for group in view.groups] == ["All donnings that count", "Modified: taped seam"]
    assert [group.anchor for group in view.groups] == ["wearers-1", "wearers-2"]
    alone = wearers(device_page(a_test(donned({"wren": [100.0, 150.0]}))))
    assert alone.sentences == (NO_PANEL_RULE,)
    assert [group.heading for group in alone.groups] == [None]


def test_the_section_of_fit_opens_with_the_answer_to_someone_who_was_not_tested() -> None:
    start = "For someone not tested, the fit factor"
    off, on = given(150.0, id="off", blower="off"), given(200.0, id="on", blower="high")
    by_eight = given(210.0, id="eight", blower="high", protocol="eight-standard-exercises")
    device = a_device("tight_powered_half_facepiece")
    by_state = fit(device_page(a_test([off, on]), device=device)).sentences
    assert by_state[0].startswith(f"{start} (with the blower off) is not known, and no lower bound can be given: ")
    assert by_state[1].startswith("Two sessions completed")
    # A state alone does not tell sessions by two protocols apart.
    (by_protocol, *_) = fit(device_page(a_test([on, by_eight]), device=device)).sentences
    assert by_protocol.startswith(f"{start} (with the blower at high, by the protocol “")
    withdrawn = a_device(withdrawn={"date": "2025-08-01", "reason": "The maker recalled it."})
    told = fit(device_page(a_test([given(150.0)]), device=withdrawn)).sentences
    assert told
    assert [text for text in told if start in text] == []


def test_every_figure_of_the_table_leads_to_its_working() -> None:
    view = wearers(device_page(a_test(donned(TWICE))))
    assert view.table is not None
    (row,) = view.table.rows
    keys = [cell.id for cell in row.cells if cell.id is not None]
    assert keys == [f"wearers.1.{name}" for name in ("mean", "between", "within", "bound", "percentile")]
    assert [cell.href for cell in row.cells[1:]] == [f"devices/device.html#working.{key}" for key in keys]
    (group,) = view.groups
    # The estimate goes before what bounds it, since a reader follows the working.
    assert [working.figure for working in group.workings] == [*keys[:3], keys[4], keys[3]]
    first = group.workings[0].value.inputs
    assert [(item.meaning, item.number, item.href) for item in first[:2]] == [
        ("wearer A, donning 1", "100", "records/test.html#working.fit.wren1.overall"),
        ("wearer A, donning 2", "150", "records/test.html#working.fit.wren2.overall"),
    ]
    # A figure that goes into another leads to its own working.
    assert {item.href for item in group.workings[3].value.inputs if item.href} == {
        f"devices/device.html#working.{key}" for key in keys[:3]
    }


def test_a_figure_without_a_value_is_not_stated() -> None:
    view = wearers(device_page(a_test(donned({"wren": [30.0], "plover": [500.0]}))))
    assert view.table is not None
    (row,) = view.table.rows
    assert [(cell.id, cell.text, cell.href) for cell in row.cells if cell.id == "wearers.1.bound"] == [
        ("wearers.1.bound", "not stated", None)
    ]


def test_the_sheet_has_the_workings_in_an_annex() -> None:
    (sheet,) = shown(a_whole_catalogue(a_test(donned(TWICE)))).sheets
    method = sheet.over_wearers[0]
    assert method.method.href == "methods/between-and-within-wearers.html"
    assert method.lines[0].figure == "Over wearers: Geometric mean of the fit factors"
    assert method.lines[0].inputs == "wearer A: 100, 150; wearer B: 300, 240; wearer C: 90"


def test_panel_rules_stand_among_the_requirements() -> None:
    panels = shown(a_whole_catalogue()).requirements.panels
    assert [row.id for row in panels.rows] == [
        "fit-capability-thirteen-of-twenty-five",
        "research-benchmark-more-than-three-quarters",
        "total-inward-leakage-class-1",
        "total-inward-leakage-class-2",
        "total-inward-leakage-class-3",
    ]
    leakage = panels.rows[2].cells
    assert (leakage[2].href, leakage[2].note) == (
        "requirements.html#five-exercises-inward-leakage",
        "only with salt as the aerosol",
    )
    benchmark = panels.rows[1].cells[2]
    assert (benchmark.text, benchmark.href) == ("no protocol here", None)


def test_there_is_no_table_where_no_group_has_a_figure() -> None:
    assert wearers(device_page(a_test(donned({"wren": [30.0]})))).table is None
