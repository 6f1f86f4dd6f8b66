"""What the evidence of a device counts, and which gaps it finds. Counts follow from the records written here."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.device_test import DeviceTest
from generator.model.difference_result import Apart, People
from generator.model.evidence_result import CalibrationOnDay, Evidence, Item
from generator.model.fit_result import FitSummary
from generator.model.lineage_result import ConfigurationResult, Side
from generator.model.result import Figure
from tests.presenting.small_sites import STANDARD
from tests.scoring.builders import (
    NONE,
    Data,
    a_calibration,
    a_catalogue,
    a_counter,
    a_device,
    a_run,
    a_session,
    a_test,
    readings,
    score_all,
)

WITHDRAWN = {"date": "2025-08-01", "reason": "A leak in the tube."}
GIVEN = readings(10.0, 10.0, 10.0)


def sample(unit: str | Data = NONE, lot: str | Data = NONE) -> Data:
    return {"obtained": "bought", "source": "a shop", "unit": unit, "lot": lot}


def evidence(*tests: DeviceTest, **parts: Any) -> Evidence:
    found = score_all(a_catalogue(*tests, **parts)).devices["device"].evidence
    assert isinstance(found, Evidence)
    return found


def configurations(*tests: DeviceTest, **parts: Any) -> dict[str, ConfigurationResult]:
    found = score_all(a_catalogue(*tests, **parts)).devices["device"].configurations
    return {part.key: part for part in found if isinstance(part, ConfigurationResult)}


def rounded(figure: Figure) -> float | None:
    return None if figure.value is None else round(figure.value, 6)


def modified(name: str | None = None, based_on: str | None = None, **changes: Any) -> Data:
    given = {"name": name, "based_on": based_on}
    data: Data = {"state": "modified", "description": "taped", "changes": ["Tape on the seam."], **changes}
    return data | {key: value for key, value in given.items() if value is not None}


def test_a_withdrawn_record_counts_for_nothing() -> None:
    stands = a_test([a_session(GIVEN)], id="stands", sample=sample("one", "lot"), deviations=["None of note."])
    gone = a_test(
        [a_session(GIVEN, wearer="yarrow")],
        [a_run([100])],
        id="gone",
        sample=sample("two", "other"),
        deviations=["Another."],
        not_tested=["Rain."],
        raw_data="in a folder",
        withdrawn=WITHDRAWN,
    )
    assert evidence(stands, gone) == evidence(stands)


def test_raw_data_of_completed_sessions() -> None:
    counted = a_session(readings(5, 6, 7))
    stopped = a_session(readings(5, 6, 7), id="stop", outcome="aborted", reason="a strap broke")
    found = evidence(
        a_test([counted, a_session(GIVEN, id="pm"), stopped]),
        a_test([a_session(GIVEN)], id="kept", raw_data="in a folder"),
    )
    assert (found.completed, found.aborted) == (3, 1)
    assert (found.with_log, found.with_counts, found.with_raw_stated, found.with_raw) == (0, 1, 1, 2)


def test_units_and_lots_that_are_not_recorded_are_counted_as_such() -> None:
    found = evidence(
        a_test([a_session(GIVEN)], id="a", sample=sample("one", "lot")),
        a_test([a_session(GIVEN)], id="b", sample=sample("two")),
        a_test([a_session(GIVEN)], id="c"),
    )
    assert (found.units, found.records_without_unit) == (("one", "two"), 1)
    assert (found.lots, found.records_without_lot) == (("lot",), 2)


@pytest.mark.parametrize(
    ("calibration", "state"),
    [
        ({}, CalibrationOnDay.IN_DATE),
        ({"due": "2025-06-01"}, CalibrationOnDay.IN_DATE),
        ({"due": "2025-05-31"}, CalibrationOnDay.LAPSED),
        ({"date": "2025-06-02"}, CalibrationOnDay.NONE_BEFORE),
    ],
)
def test_the_calibration_on_the_day_of_the_test(calibration: Data, state: CalibrationOnDay) -> None:
    counter = a_counter(calibrations=[a_calibration("10 %", **calibration)])
    (use,) = evidence(
        a_test([a_session(GIVEN)], instruments={"particle_counter": "counter"}), counter=counter
    ).instruments
    assert (use.instrument, use.record, use.state) == ("counter", "test", state)


TWO_WEARERS = [a_session(GIVEN), a_session(GIVEN, id="pm", wearer="plover")]
OFF = [session | {"blower": "off"} for session in TWO_WEARERS]
HIGH = [session | {"blower": "high"} for session in TWO_WEARERS]
FULL = [
    a_run([100], id=f"{setting}-{battery}-{state}", setting=setting, battery=battery, filter=state)
    for setting, battery, state in (("low", "fresh", "new"), ("high", "at_alarm", "new"), ("high", "fresh", "loaded"))
]
TIGHT = "tight_powered_half_facepiece"
UNITS = ("one", "two")


@pytest.mark.parametrize(
    ("kind", "fit", "flow", "units", "gaps"),
    [
        (TIGHT, OFF, FULL, UNITS, []),
        (TIGHT, HIGH, FULL, UNITS, ["no-blower-off"]),
        ("loose_powered_hood", HIGH, FULL, UNITS, []),
        (TIGHT, OFF, FULL, ("one", "one"), ["one-unit"]),
        (TIGHT, OFF, FULL, ("one", NONE), []),
        (TIGHT, OFF, FULL, (NONE, NONE), ["unit-unknown"]),
        (TIGHT, OFF[:1], FULL, UNITS, ["one-wearer"]),
        (TIGHT, [], FULL, UNITS, ["no-wearer"]),
        (TIGHT, OFF, [], UNITS, ["no-flow"]),
        (TIGHT, OFF, FULL[1:], UNITS, ["no-flow-at-setting: low"]),
        (TIGHT, OFF, [FULL[0], FULL[2]], UNITS, ["no-flow-at-alarm"]),
        (TIGHT, OFF, FULL[:2], UNITS, ["no-loaded-filter"]),
        (TIGHT, OFF, [run | {"battery": "mains"} for run in FULL], UNITS, []),
        ("filtering_facepiece", TWO_WEARERS, [], UNITS, []),
    ],
)
def test_each_gap_by_itself(
    kind: str, fit: list[Data], flow: list[Data], units: tuple[Any, Any], gaps: list[str]
) -> None:
    tests = [a_test(fit, flow, id=f"r{number}", sample=sample(unit)) for number, unit in enumerate(units)]
    found = evidence(*tests, device=a_device(kind)).gaps
    assert [f"{gap.rule}: {gap.setting}" if gap.setting else gap.rule for gap in found] == gaps


def test_a_device_of_which_no_record_stands() -> None:
    assert [gap.rule for gap in evidence(a_test([a_session(GIVEN)], withdrawn=WITHDRAWN)).gaps] == ["nothing"]


def test_each_item_has_its_own_figures_within_a_group() -> None:
    found = evidence(
        a_test([a_session(readings(10.0, 10.0, 10.0))], id="a", sample=sample("two")),
        a_test([a_session(readings(30.0, 30.0, 30.0)), a_session(GIVEN, id="pm")], id="b", sample=sample("one")),
        a_test([a_session(GIVEN)], id="c", sample=sample("three"), configuration=modified()),
    ).fit_by_item
    # Source: the harmonic mean of equal factors is that factor, by definition. The modified one stands alone.
    assert [(row.item.unit, rounded(row.lowest), rounded(row.highest)) for row in found] == [
        ("one", 10, 30),
        ("two", 10, 10),
    ]


def test_items_without_a_number_are_told_apart_by_their_lot() -> None:
    found = evidence(
        a_test([a_session(GIVEN)], id="a", sample=sample(lot="L1")),
        a_test([a_session(GIVEN)], id="b", sample=sample(lot="L2")),
    )
    assert [row.item for row in found.fit_by_item] == [Item(unit=None, lot="L1"), Item(unit=None, lot="L2")]


def test_flows_of_two_units_stay_apart() -> None:
    found = evidence(
        a_test(flow=[a_run([100])], id="a", sample=sample("one")),
        a_test(flow=[a_run([80]), a_run([50], id="low", setting="low")], id="b", sample=sample("two")),
        device=a_device("loose_powered_hood"),
    ).flow_by_item
    assert [(row.item.unit, row.setting, rounded(row.lowest)) for row in found] == [
        ("one", "high", 100),
        ("two", "high", 80),
    ]


def test_a_group_names_its_units() -> None:
    tests = [a_test([a_session(GIVEN)], id=f"r-{unit}", sample=sample(unit)) for unit in UNITS]
    summary = score_all(a_catalogue(*tests)).devices["device"].topics["fit"]
    assert isinstance(summary, FitSummary)
    assert [(group.units, group.unit_not_recorded) for group in summary.groups] == [(UNITS, False)]


SUPPLIED = {"state": "as_supplied", "description": "as it came"}
AFTER = a_test(
    [a_session(GIVEN), a_session(GIVEN, id="c", wearer="sedge")], id="after", configuration=modified("taped")
)


def test_configurations_by_name_and_by_what_they_are() -> None:
    found = configurations(
        a_test([a_session(GIVEN)], id="a", configuration=SUPPLIED | {"name": "plan"}),
        a_test([a_session(GIVEN)], id="b"),
        a_test([a_session(GIVEN)], id="c", configuration=modified("taped", "plan")),
        a_test([a_session(GIVEN)], id="d", configuration=modified("wider", "taped", description="hem wider")),
        a_test([a_session(GIVEN)], id="e", configuration=modified(description="with a clip")),
    )
    assert {key: (part.based_on, part.records) for key, part in found.items()} == {
        "plan": (None, ("a", "b")),
        "taped": ("plan", ("c",)),
        "wider": ("taped", ("d",)),
        "with a clip": ("plan", ("e",)),
    }


def test_only_wearers_of_both_sides_stand_side_by_side() -> None:
    before = a_test([a_session(GIVEN), a_session(GIVEN, id="b", wearer="plover")], id="before")
    (pair,) = configurations(before, AFTER)["taped"].fit
    assert [(found.side, found.wearer, found.record) for found in pair.sessions] == [
        (Side.BEFORE, "C", "before"),
        (Side.AFTER, "C", "after"),
    ]
    assert pair.one_side_only == ("A", "B")


@pytest.mark.parametrize(
    "before",
    [
        a_session(readings(*[10.0] * 8, names=STANDARD), protocol="eight-standard-exercises"),
        a_session(GIVEN, outcome="voided", reason="a leak in the tube"),
    ],
    ids=["another protocol", "a voided session"],
)
def test_what_was_not_measured_in_the_same_way_is_not_set_side_by_side(before: Data) -> None:
    assert configurations(a_test([before], id="before"), AFTER)["taped"].fit == ()


WEARERS = ("ash", "birch", "cedar", "dogwood", "elder", "fir")
"""In the order of their letters: A to F."""


def on(*wearers: str, factor: float) -> list[Data]:
    """Return sessions with 3000 /cm3 outside, whose factors are a third above one another."""
    return [
        a_session(readings(*[f"{3000 / factor / 1.3**n:.3f} /cm3"] * 3), id=wearer, wearer=wearer)
        for n, wearer in enumerate(wearers)
    ]


@pytest.mark.parametrize(
    ("before", "after", "people", "shown", "left_out"),
    [
        (WEARERS[:3], WEARERS[:4], People.SAME_WEARERS, {"A", "B", "C"}, ("D",)),
        (WEARERS[:3], WEARERS[3:], People.OTHER_WEARERS, {"A", "B", "C", "D", "E", "F"}, ()),
        (WEARERS[:2], WEARERS[1:4], None, {"B"}, ("A", "C", "D")),
    ],
    ids=["same", "others", "too few"],
)
def test_what_before_and_after_differ_by(
    before: tuple[str, ...], after: tuple[str, ...], people: People | None, shown: set[str], left_out: tuple[str, ...]
) -> None:
    (pair,) = configurations(
        a_test(on(*before, factor=50), id="before"),
        a_test(on(*after, factor=100), id="after", configuration=modified("taped")),
    )["taped"].fit
    found = pair.difference
    assert (found.people, {each.wearer for each in pair.sessions}, pair.one_side_only) == (people, shown, left_out)
    assert found.ratio.key == "change-taped-1"
    if people is None:
        assert (found.ratio.value, found.decision) == (None, None)
    else:
        # source: definition; every factor after is twice the one before
        assert found.ratio.value == pytest.approx(2, rel=1e-4)
        assert found.decision is not None


def test_all_changes_of_a_device_are_decided_together() -> None:
    found = configurations(
        a_test(on(*WEARERS, factor=50), id="before"),
        a_test(on(*WEARERS, factor=100), id="after", configuration=modified("taped")),
        a_test(on(*WEARERS, factor=60), id="later", configuration=modified("wider", "taped", description="hem wider")),
    )
    pairs = [pair.difference for part in found.values() for pair in part.fit]
    # source: definition; six pairs all on one side are 2 of 64 patterns, and there are two such changes
    assert [each.chance.value for each in pairs if each.chance is not None] == [2 / 64] * 2
    assert [each.adjusted_chance.value for each in pairs if each.adjusted_chance is not None] == [4 / 64] * 2
    assert [each.decision.apart for each in pairs if each.decision is not None] == [Apart.CANNOT_BE_TOLD_APART] * 2


def test_a_base_that_was_withdrawn_is_not_shown_beside() -> None:
    before = a_test([a_session(GIVEN)], id="before", withdrawn=WITHDRAWN)
    part = configurations(before, AFTER)["taped"]
    assert (part.based_on, part.fit) == (None, ())


def test_flows_before_and_after() -> None:
    device = a_device("loose_powered_hood", mass="100 g")
    costs = {"approval": "none", "mass": "120 g", "noise": NONE}
    found = configurations(
        a_test(flow=[a_run([100]), a_run([50], id="low", setting="low")], id="before"),
        a_test(flow=[a_run([90])], id="after", configuration=modified("taped", costs=costs)),
        device=device,
    )["taped"]
    assert [(state.setting, [(run.side.value, rounded(run.mean)) for run in state.runs]) for state in found.flow] == [
        ("high", [("before", 100), ("after", 90)]),
        ("low", [("before", 50)]),
    ]
    assert (str(found.mass_before), str(found.costs.mass if found.costs else None)) == ("100 g", "120 g")
