"""A result taken apart: places stay what they are whatever comes before, and nothing is lost."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.result import Figure
from generator.scoring.flat_results import flat
from generator.scoring.result_changes import ABSENT, THERE, Owner, OwnerKind, PlainChange, changes

OWNER = Owner(OwnerKind.DEVICE, "device")


def a_figure(key: str = "fit.a.overall", value: float | None = 200.0, **other: Any) -> dict[str, Any]:
    data = {"key": key, "name": "overall", "value": value, "unit": "1", "sample_size": 3, "sample_of": "exercises"}
    return Figure.model_validate(data | {"method": "m"} | other, strict=False).model_dump(mode="json")


def a_verdict(**other: Any) -> dict[str, Any]:
    data = {"key": "fit.a.verdict", "figure": "fit.a.overall", "criterion": "c", "outcome": "meets", "rule": "plain"}
    return data | {"limit": 100.0, "unit": "1", "reason": "It is above."} | other


def a_finding(rule: str = "rule", **facts: float) -> dict[str, Any]:
    return {"rule": rule, "where": "fit[a]", "facts": facts}


def test_everything_is_taken_by_its_place() -> None:
    found = flat(
        {
            "runs": [{"run": "high", "mean": a_figure("flow.high.mean"), "claimed": True, "working": {"method": "m"}}],
            "verdicts": [a_verdict()],
            "findings": [a_finding(x=1)],
            "names": ["a", "b"],
            "nobody": [],
        }
    )
    assert list(found.figures) == ["runs[high].mean"]
    assert list(found.verdicts) == ["verdicts[fit.a.verdict]"]
    assert [finding.rule for finding in found.findings] == ["rule"]
    assert found.plain == {"runs[high].run": "high", "runs[high].claimed": True, "names": ("a", "b"), "nobody": ()}


def test_a_figure_of_another_result_is_taken_as_its_key() -> None:
    found = flat({"lowest": a_figure()}, elsewhere={"fit.a.overall"})
    assert (found.figures, found.plain) == ({}, {"lowest": "fit.a.overall"})


def test_by_key_a_figure_that_stands_twice_is_one() -> None:
    found = flat({"sessions": [{"session": "a", "overall": a_figure()}], "figures": [a_figure()]}, by_key=True)
    assert list(found.figures) == ["fit.a.overall"]


@pytest.mark.parametrize(
    ("item", "name"),
    [
        ({"session": "a", "wearer": "A", "donning": 1}, "a"),
        ({"record": "r", "session": "a", "wearer": "A"}, "r, a"),
        ({"number": 2, "claimed": 3.0}, "2"),
        (
            {"number": 2, "configuration": "as_supplied", "protocol": "p", "blower": None, "basis": "partial"},
            "as_supplied, p, partial",
        ),
        ({"rule": "no-run-down", "setting": "high"}, "no-run-down, high"),
        (
            {"setting": "high", "battery": "fresh", "filter": "new", "runs": 1, "record": "r", "run": "first"},
            "high, fresh, new",
        ),
        ({"item": {"unit": None, "lot": "L1"}, "setting": "high"}, "high, L1"),
    ],
)
def test_an_item_goes_by_what_names_it(item: dict[str, Any], name: str) -> None:
    assert {place.partition("]")[0] for place in flat({"items": [item]}).plain} == {f"items[{name}"}


def test_an_item_that_comes_first_moves_no_other() -> None:
    groups = [{"number": 1, "configuration": "as_supplied", "lowest": a_figure("wearers.1.mean")}]
    other = [{"number": 1, "configuration": "modified: x", "lowest": a_figure("wearers.1.mean")}]
    later = [{"number": 2, "configuration": "as_supplied", "lowest": a_figure("wearers.2.mean")}]
    assert set(flat({"groups": groups}).figures) < set(flat({"groups": other + later}).figures)


def test_items_of_one_name_are_told_apart() -> None:
    found = flat({"readings": [{"date": "2025-01-01", "value": 1}, {"date": "2025-01-01", "value": 2}]})
    assert found.plain["readings[2025-01-01].value"] == 1
    assert found.plain["readings[2025-01-01 (2)].value"] == 2


@pytest.mark.parametrize(
    ("before", "after", "moved", "ratio"),
    [
        ({"value": 200.0}, {"value": 100.0}, True, 0.5),
        ({"interval": {"low": 1.0, "high": 2.0}}, {"interval": {"low": 1.0, "high": 3.0}}, True, 1.0),
        ({"value": 200.0}, {"value": 200.0, "relation": "at_least"}, True, None),
        ({"value": 20.0, "unit": "L/min"}, {"value": 10.0, "unit": "Pa"}, True, None),
        ({"value": 60.0, "unit": "dB(A)"}, {"value": 66.0, "unit": "dB(A)"}, True, None),
        ({"value": -1.0}, {"value": 1.0}, True, None),
        ({"value": None, "not_scored": "x"}, {"value": 1.0}, True, None),
        ({"name": "overall"}, {"name": "overall factor"}, False, 1.0),
        ({"sample_size": 3}, {"sample_size": 4}, False, 1.0),
        ({"value": None, "not_scored": "x"}, {"value": None, "not_scored": "y"}, False, None),
    ],
)
def test_a_figure_moves_where_its_number_does(
    before: dict[str, Any], after: dict[str, Any], moved: bool, ratio: float | None
) -> None:
    ends: dict[str, Any] = {"coverage": 0.95, "method": "m", "covers": "counting"}
    filled: list[dict[str, Any]] = [
        {name: value | ends if isinstance(value, dict) else value for name, value in side.items()}
        for side in (before, after)
    ]
    old, new = (a_figure(**side) for side in filled)
    (found,) = changes(OWNER, flat({"figure": old}), flat({"figure": new})).figures
    assert (found.moved, found.ratio) == (moved, ratio)


@pytest.mark.parametrize(
    ("before", "after", "turned"),
    [
        ({}, {"outcome": "undecided"}, True),
        ({}, {"limit": 110.0}, False),
        ({"probability_of_conformity": 0.9}, {"probability_of_conformity": 0.8}, False),
    ],
)
def test_a_verdict_turns_where_its_outcome_does(before: dict[str, Any], after: dict[str, Any], turned: bool) -> None:
    (found,) = changes(OWNER, flat({"v": a_verdict(**before)}), flat({"v": a_verdict(**after)})).verdicts
    assert found.turned == turned


def test_the_limits_that_digits_keep_to_go_with_a_figure() -> None:
    old, new = (
        flat({"figures": [a_figure(value=value)], "verdicts": [a_verdict(limit=limit)]}, by_key=True)
        for value, limit in ((200.0, 100.0), (201.0, 150.0))
    )
    (found,) = changes(OWNER, old, new).figures
    assert (found.limit_before, found.limit_after) == (100.0, 150.0)


def test_findings_are_counted_and_told_apart_by_their_facts() -> None:
    before = flat({"findings": [a_finding("a", x=1), a_finding("a", x=1), a_finding("b"), a_finding("c")]})
    after = flat({"findings": [a_finding("a", x=1), a_finding("b", x=2), a_finding("d")]})
    told = {
        (
            (each.before.rule if each.before else None, dict(each.before.facts).get("x") if each.before else None),
            (each.after.rule if each.after else None, dict(each.after.facts).get("x") if each.after else None),
        )
        for each in changes(OWNER, before, after).findings
    }
    nothing = (None, None)
    assert told == {(("a", 1), nothing), (("b", None), ("b", 2)), (("c", None), nothing), (nothing, ("d", None))}


def test_only_shared_places_are_compared_where_one_side_was_published_without_others() -> None:
    before, after = (
        flat({"sessions": [{"session": "a", "counted": True}]}),
        flat({"sessions": [{"session": "a", "counted": False, "level": "counts"}]}),
    )
    assert changes(OWNER, before, after, only_shared=True).plain == (
        PlainChange(OWNER, "sessions[a].counted", True, False),
    )
    assert [each.place for each in changes(OWNER, before, after).plain] == [
        "sessions[a].counted",
        "sessions[a].level",
    ]
    assert [each.is_outcome for each in changes(OWNER, before, after).plain] == [True, False]


def test_an_item_that_only_one_side_has_is_told_once() -> None:
    shared = {"session": "a", "level": "counts"}
    both = {
        "sessions": [shared, {"session": "b", "level": "counts", "parts": [{"id": "x", "size": 1}]}],
        "notes": ["n"],
    }
    before, after = flat({"sessions": [shared], "notes": []}), flat(both)
    assert [(each.place, each.before, each.after) for each in changes(OWNER, before, after).plain] == [
        ("sessions[b]", ABSENT, THERE),
        ("notes", (), ("n",)),
    ]
    assert [(each.place, each.after) for each in changes(OWNER, after, before).plain] == [
        ("notes", ()),
        ("sessions[b]", ABSENT),
    ]


def test_what_came_out_for_an_item_that_is_new_is_told() -> None:
    before, after = flat({"claims": []}), flat({"claims": [{"number": 1, "unit": "1", "outcome": "supported"}]})
    told = changes(OWNER, before, after).plain
    assert [(each.place, each.after, each.is_outcome) for each in told] == [
        ("claims[1]", THERE, False),
        ("claims[1].outcome", "supported", True),
    ]


def test_a_count_is_no_outcome() -> None:
    (found,) = changes(OWNER, flat({"evidence": {"counted": 5}}), flat({"evidence": {"counted": 7}})).plain
    assert not found.is_outcome
