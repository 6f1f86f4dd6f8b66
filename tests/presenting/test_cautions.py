"""Cautions: worst first, five boxes, the rest folded, standing ones always; every finding has its words."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from generator.loading import load_reference
from generator.model.result import Finding
from generator.presenting.cautions import BOXES, cautions_for
from generator.presenting.context import Context
from tests.presenting.small_sites import a_whole_catalogue, context_of, given, shown
from tests.scoring.builders import Data, a_device, a_run, a_test

SCORING = Path(__file__).resolve().parent.parent.parent / "generator" / "scoring"
RULES = load_reference().caution_rules
RAISED = [rule.when for rule in RULES if rule.when != "always"]


def slugs_in_scoring() -> set[str]:
    """Return every `rule=` that scoring's source gives to a Finding."""
    found: set[str] = set()
    for path in SCORING.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Finding":
                (rule,) = (keyword.value for keyword in node.keywords if keyword.arg == "rule")
                assert isinstance(rule, ast.Constant), f"{path.name}:{node.lineno}: a slug that is not written out"
                assert isinstance(rule.value, str)
                found.add(rule.value)
    return found


@pytest.fixture(scope="module")
def context() -> Context:
    return context_of(a_whole_catalogue())


def findings(*rules: str) -> list[Finding]:
    return [Finding(rule=rule, where="fit[a]", facts={}) for rule in rules]


def test_scoring_raises_what_cautions_word_and_nothing_else() -> None:
    assert slugs_in_scoring() == set(RAISED)


def test_each_finding_opens_its_box(context: Context) -> None:
    for rule in RAISED:
        cautions = cautions_for(findings(rule), context)
        assert [box.id for box in cautions.open] == [rule]
        assert cautions.folded == ()


def test_a_finding_raised_twice_opens_one_box(context: Context) -> None:
    assert len(cautions_for(findings("modified", "modified"), context).open) == 1


def test_worst_first_and_at_most_five_boxes(context: Context) -> None:
    cautions = cautions_for(findings(*reversed(RAISED)), context)
    assert len(cautions.open) == BOXES == 5
    together = [*cautions.open, *cautions.folded]
    assert {box.id for box in together} == set(RAISED)
    assert [box.severity for box in together] == sorted(box.severity for box in together)
    # source: the severities in generator/reference/cautions/, and the alphabet among equals
    assert [box.id for box in cautions.open][:3] == [
        "exhaust-exceeds-supply",
        "flow-below-requirement",
        "in-mask-not-below-ambient",
    ]


def test_the_order_in_which_findings_come_does_not_matter(context: Context) -> None:
    assert cautions_for(findings(*RAISED), context) == cautions_for(findings(*reversed(RAISED)), context)


@pytest.mark.parametrize("accredited", [False, True])
def test_standing_cautions_are_on_every_page(accredited: bool) -> None:
    site = shown(a_whole_catalogue(a_test([given(10.0)]), publication={"accredited_laboratory": accredited}))
    expected = {rule.id for rule in RULES if rule.when == "always"}
    if accredited:
        expected.remove("not-an-accredited-laboratory")
    pages = [site.index.cautions, site.about.cautions]
    pages += [page.cautions for page in site.devices] + [page.cautions for page in site.records]
    assert [{box.id for box in cautions.standing} for cautions in pages] == [expected] * 4
    severities = [box.severity for box in site.index.cautions.standing]
    assert severities == sorted(severities)


def test_a_page_without_findings_has_no_box(context: Context) -> None:
    cautions = cautions_for((), context)
    assert (cautions.open, cautions.folded) == ((), ())


@pytest.mark.parametrize(
    ("device", "caution"),
    [
        ({"home_built": True}, "home-built"),
        (
            {
                "air_path": {
                    "inlets": [{"where": "front", "filtered": True}],
                    "outlets": [],
                    "powered_exhaust": {"where": "back", "beside_inlet": True},
                    "seals": "none",
                }
            },
            "powered-exhaust",
        ),
    ],
)
def test_what_is_true_of_a_device_stands_on_its_records_too(device: Data, caution: str) -> None:
    test = a_test(flow=[a_run([200.0, 201.0])])
    site = shown(a_whole_catalogue(test, device=a_device("loose_powered_hood", **device)))
    for page in (site.devices[0], site.records[0]):
        assert caution in {box.id for box in (*page.cautions.open, *page.cautions.folded)}
