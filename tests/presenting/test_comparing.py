"""The page of one's own choice: which devices can be chosen, what a panel says, and what is said of each pair."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from generator.loading import load_reference
from generator.model.comparison import Comparison
from generator.model.device_test import DeviceTest
from generator.presenting.comparison_views import SideLine
from generator.presenting.digits import THIN
from generator.presenting.page_views import Site
from generator.presenting.panel_facts import FACT_ROWS
from generator.presenting.panel_views import ComparingPage, Panel
from tests.presenting.small_sites import STANDARD, a_whole_catalogue, shown
from tests.scoring.builders import Data, a_run, a_session, a_test, a_wearer, readings
from tests.scoring.comparison_builders import WEARERS, a_comparison, one_each, several, worn

FIRST = worn("first", one_each("30 /cm3", "10 /cm3", "20 /cm3"))
SECOND = worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3"))
TWO: dict[str, Data] = {"first": {}, "second": {}}
WITHDRAWN: Data = {"withdrawn": {"date": "2025-11-02", "reason": "It was recalled."}}
HOOD: Data = {"kind": "loose_powered_hood"}


def a_site(*tests: DeviceTest, devices: dict[str, Data], own: Sequence[Comparison] = ()) -> Site:
    wearers = {name: a_wearer(name, letter) for name, letter in zip(WEARERS, "ABCD", strict=True)}
    catalogue = several([], devices, "filtering_facepiece", own, a_whole_catalogue(*tests, wearers=wearers))
    return shown(replace(catalogue, work_levels=load_reference().work_levels))


def the_page(*tests: DeviceTest, devices: dict[str, Data], own: Sequence[Comparison] = ()) -> ComparingPage:
    return a_site(*tests, devices=devices, own=own).comparing


def panel_of(page: ComparingPage, device: str) -> Panel:
    (panel,) = (panel for panel in page.panels if panel.id == device)
    return panel


def told(lines: Sequence[SideLine]) -> list[tuple[str, str]]:
    return [(line.text, line.note) for line in lines]


def facts_of(page: ComparingPage, device: str) -> dict[str, list[tuple[str, str]]]:
    return {name: told(lines) for name, lines in panel_of(page, device).facts}


def test_every_device_can_be_chosen_by_kind_and_name() -> None:
    devices: dict[str, Data] = {"first": {}, "hood": HOOD, "another": WITHDRAWN}
    page = the_page(devices=devices)
    assert [
        (group.kind, group.heading, [(item.id, item.name, item.maker, item.withdrawn) for item in group.choices])
        for group in page.groups
    ] == [
        (
            "filtering-facepiece",
            "Filtering facepieces",
            [
                ("another", "Another", "Maker", "withdrawn on 2 November 2025"),
                ("first", "First", "Maker", None),
            ],
        ),
        ("loose-powered-hood", "Loose-fitting powered, hood or helmet", [("hood", "Hood", "Maker", None)]),
    ]
    assert sorted(panel.id for panel in page.panels) == ["another", "first", "hood"]


def test_device_pages_lists_and_comparisons_lead_to_it() -> None:
    site = a_site(FIRST, SECOND, devices=TWO, own=[a_comparison("second", "first")])
    assert [page.compare.href for page in site.devices] == ["compare.html#devices=first", "compare.html#devices=second"]
    assert (site.index.choose.href, site.comparisons_index.choose.href) == ("compare.html", "compare.html")
    chosen = [page.choose.href for page in site.comparisons if page.choose is not None]
    assert chosen == ["compare.html#devices=second,first", "compare.html#devices=first,second"]
    many = a_site(devices={f"device{number}": {} for number in range(6)})
    assert [page.choose for page in many.comparisons] == [None]


def test_the_same_rows_in_the_same_order_for_every_device() -> None:
    page = the_page(FIRST, devices={"first": {}, "hood": HOOD, "gone": WITHDRAWN})
    assert page.rows == FACT_ROWS
    assert {tuple(name for name, _ in panel.facts) for panel in page.panels} == {tuple(name for name, _ in FACT_ROWS)}
    # A device says in every row what it has, or that it has none: no cell is empty.
    assert all(line.text or line.note for panel in page.panels for _, lines in panel.facts for line in lines)
    assert all(lines for panel in page.panels for _, lines in panel.facts)


def test_what_a_mask_says_in_each_row() -> None:
    assert facts_of(the_page(FIRST, SECOND, devices=TWO), "first") == {
        "worn": [("three wearers (A, B and C)", "three donnings"), ("", "which unit was tested is not recorded")],
        "fit": [("100 to 300", "")],
        "flow": [("no blower", "")],
        "breathing": [("no blower", "")],
        "run-time": [("no blower", "")],
        "resistance": [("not measured", "")],
        "noise": [("not measured", "")],
        "mass": [("not recorded: not needed in this test", "")],
        "price": [("not recorded: not needed in this test", "")],
        "evidence": [
            ("one record", "last tested on 1 June 2025"),
            ("", "Three completed sessions."),
            ("", "One point named as not tested."),
        ],
    }


def test_the_flow_that_governs_and_what_it_covers() -> None:
    runs = [a_run([100.0, 100.2]), a_run([200.0, 200.0], id="again")]
    page = the_page(a_test(flow=runs, id="t", device="hood"), devices={"hood": HOOD})
    facts = facts_of(page, "hood")
    # source: criteria.yaml, 42 CFR 84: 170 L/min for loose-fitting powered devices; 100.1 of 170 is 58.9 %
    assert facts["flow"] == [
        (f"100.1{THIN}L/min", f"59{THIN}% of the 170{THIN}L/min; does not meet the requirement"),
        ("", "High, battery fresh, new filter: the worst of two runs."),
    ]
    assert told(panel_of(page, "hood").flow_lines) == facts["flow"]
    # source: the demands are printed in work_levels.yaml; every form of the sentences stands in test_breathing.py
    assert facts["breathing"][0] == ("", "High, battery fresh, new filter.")
    assert facts["breathing"][1][1].startswith("Speaking at work is not covered")
    assert facts["worn"][0] == ("no wearers", "no donnings")
    assert facts["fit"] == [("not measured as supplied", "")]


@pytest.mark.parametrize(
    ("settings", "value", "words"),
    [
        (("high", "low"), "50.1", "Low, battery fresh, new filter: the worst of three runs."),
        # The least of all does not govern where its maker does not say that the device protects there.
        (
            ("high",),
            "100.1",
            "High, battery fresh, new filter: the worst of two runs at what its maker names as protective.",
        ),
    ],
)
def test_the_worst_is_among_the_settings_that_protect_as_the_maker_says(
    settings: tuple[str, ...], value: str, words: str
) -> None:
    power = {"source": "a cell", "energy": "20 Wh", "settings": ["high", "low"], "protective_settings": settings}
    runs = [a_run([100.0, 100.2]), a_run([200.0, 200.0], id="b"), a_run([50.0, 50.2], id="c", setting="low")]
    page = the_page(a_test(flow=runs, id="t", device="hood"), devices={"hood": {**HOOD, "power": power}})
    assert [text or note for text, note in facts_of(page, "hood")["flow"]] == [f"{value}{THIN}L/min", words]


@pytest.mark.parametrize(
    ("mass", "told_as"),
    [
        ("410 g", (f"410{THIN}g", "")),
        ("1.625 kg", (f"1625{THIN}g", "")),
        # source: exact definition, 1 lb = 453.59237 g (NIST SP 811, B.8): 2.4 lb are 1088.6 g and 22.4 oz are 635.0 g
        ("2.4 lb", (f"1089{THIN}g", f"recorded as 2.4{THIN}lb")),
        ("22.4 oz", (f"635{THIN}g", f"recorded as 22.4{THIN}oz")),
    ],
)
def test_masses_stand_in_one_unit(mass: str, told_as: tuple[str, str]) -> None:
    site = a_site(FIRST, devices={"first": {"mass": mass}, "second": {}})
    assert facts_of(site.comparing, "first")["mass"] == [told_as]
    line = site.comparisons[0].rows[0].about[1]
    assert line.text == ", ".join(word for word in (f"Mass {told_as[0]}", told_as[1]) if word)


def test_a_panel_opens_with_the_first_sentences_of_the_device_page() -> None:
    site = a_site(FIRST, devices={"first": {}})
    (page,) = site.devices
    panel = panel_of(site.comparing, "first")
    assert panel.answer == page.answer[:3]
    assert panel.answer[0].startswith("On three wearers in three donnings, the fit factor was 100 to 300")
    assert panel.cautions == tuple(caution.heading for caution in page.cautions.raised[:3])


def test_lines_of_different_devices_are_labelled_by_what_most_sessions_of_the_catalogue_share() -> None:
    other = a_session(
        readings(*["300 /cm3"] * 8, names=STANDARD), id="o", wearer="sedge", protocol="eight-standard-exercises"
    )
    page = the_page(FIRST, worn("second", [other]), devices=TWO)
    charts = [panel_of(page, name).fit_chart for name in ("first", "second")]
    # Among its own sessions the second device's only one would be as usual, and nothing would tell it from the first's.
    assert [[row.label for row in chart.rows] for chart in charts if chart is not None] == [
        ["A", "B", "C"],
        ["C, other exercises"],
    ]
    assert [chart.id for chart in charts if chart is not None] == ["first.fit", "second.fit"]
    assert page.fit_note.endswith("Unless a line says otherwise: Three exercises; a condensation particle counter.")


def test_named_spans_stand_once_above_all_charts() -> None:
    page = the_page(FIRST, devices=TWO)
    chart = panel_of(page, "first").fit_chart
    assert chart is not None
    assert [landmark.high for landmark in chart.landmarks] == [None] * len(chart.landmarks)
    assert all(landmark.high is not None for landmark in page.scale.landmarks)
    assert page.scale.landmarks != ()


def test_a_stated_pair_stands_in_the_panel_of_the_first_of_the_two_by_id() -> None:
    page = the_page(FIRST, SECOND, devices=TWO)
    assert panel_of(page, "second").pairs == ()
    (pair,) = panel_of(page, "first").pairs
    assert (pair.other, pair.stated) == ("second", True)
    # source: the numbers are checked in tests/scoring/test_comparisons.py and the words in test_difference_words.py
    assert told(pair.lines) == [
        ("", "Fit factor with First as a multiple of that with Second:"),
        ("10 times", "95 % interval 1.7 to 56"),
    ]
    kind = "comparisons/kind-filtering-facepiece.html"
    assert pair.lines[1].href == f"{kind}#working.difference-first-second"
    (decision,) = pair.decisions
    assert [link.href for link in decision.comparisons] == [f"{kind}#difference-first-second"]
    assert decision.lines[0].text == "The two cannot be told apart, which is not the same as equal."
    assert pair.in_short == (f"{decision.lines[0].text} {decision.lines[0].note}",)
    assert [(line.id or "").rpartition(".")[2] for line in decision.sure] == ["chance", "new-wearer"]
    assert pair.rests_on[0].note == "The same three wearers wore both: A, B and C."


def test_comparisons_that_decide_alike_stand_together_whichever_device_they_name_first() -> None:
    own = [a_comparison("second", "first")]
    (pair,) = panel_of(the_page(FIRST, SECOND, devices=TWO, own=own), "first").pairs
    assert pair.lines[0].note == "Fit factor with Second as a multiple of that with First:"
    (decision,) = pair.decisions
    assert [link.text for link in decision.comparisons] == ["Own", "Filtering facepieces, side by side"]


def test_comparisons_that_adjust_for_other_numbers_of_differences_say_so_each() -> None:
    third = worn("third", one_each("30 /cm3", "20 /cm3", "20 /cm3"))
    page = the_page(
        FIRST, SECOND, third, devices={**TWO, "third": {}}, own=[a_comparison("first", "second", title="Only these")]
    )
    pair = panel_of(page, "first").pairs[0]
    assert pair.other == "second"
    adjusted = [
        [line.note for line in decision.sure if (line.id or "").endswith(".adjusted")] for decision in pair.decisions
    ]
    assert [decision.comparisons[0].text for decision in pair.decisions] == [
        "Only these",
        "Filtering facepieces, side by side",
    ]
    assert adjusted[0] == []
    assert adjusted[1][0].startswith(
        "Of several differences, one may look large by chance. Adjusted for the three differences of this comparison:"
    )
    # Both decide the same, so that it is said once.
    assert pair.in_short == (pair.decisions[0].answer,)


def test_a_pair_that_is_not_stated_says_why_and_where() -> None:
    (pair,) = panel_of(the_page(FIRST, devices=TWO), "first").pairs
    assert not pair.stated
    assert told(pair.lines) == [
        ("", "Not stated: no fit test of one of the two, as supplied, was completed in a record that stands.")
    ]
    assert [decision.lines for decision in pair.decisions] == [()]


def test_why_a_pair_is_in_no_comparison() -> None:
    page = the_page(devices={"first": {}, "hood": HOOD, "gone": WITHDRAWN})
    assert [panel.pairs for panel in page.panels] == [(), (), ()]
    assert page.other_kind == (
        "Not compared: they are of different kinds. Such devices meet the face in other ways, and are held against "
        "other requirements and often tested by other exercises, so that two of them are compared only where a "
        "comparison of this catalogue asks about both. None does."
    )
    assert page.other_kind_in_short == "Not compared: they are of different kinds."
    assert panel_of(page, "gone").never_compared == "Not compared: Gone was withdrawn."
    assert panel_of(page, "first").never_compared is None
    many = the_page(devices={f"device{number}": {} for number in range(9)})
    assert {panel.not_within_kind for panel in many.panels} == {
        "Not compared: pairs are compared among at most 8 devices, and here are 9."
    }
    assert {panel.not_within_kind for panel in page.panels} == {None}


def test_a_withdrawn_device_says_so_and_nothing_else() -> None:
    page = the_page(FIRST, devices={"first": WITHDRAWN, "second": {}})
    panel = panel_of(page, "first")
    assert panel.notice is not None
    assert panel.notice.heading == "This device was withdrawn from this catalogue on 2 November 2025."
    assert (panel.answer, panel.fit_chart, panel.flow_chart) == ((), None, None)
    assert panel.no_fit == "It was withdrawn; its page has what was measured."
    assert {tuple(told(lines)) for _, lines in panel.facts} == {(("withdrawn", ""),)}
