"""The page of all caution rules: every rule stands there once, with what raises it."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.presenting.page_views import CautionRulesPage, Site
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_device, a_test


@pytest.fixture(scope="module")
def demo(demo_records: Path) -> Site:
    catalogue = load_catalogue(demo_records).catalogue
    assert catalogue is not None
    return shown(catalogue)


def raised(page: CautionRulesPage, rule: str) -> tuple[list[str], str, str]:
    (view,) = [view for view in page.rules if view.id == rule]
    return [link.href for link in view.raised_by], view.more, view.nobody


def test_every_rule_stands_there_once_and_the_worst_first(demo: Site) -> None:
    rules = demo.caution_rules.rules
    assert len({rule.id for rule in rules}) == len(rules) == len(demo.data.catalogue.caution_rules)
    assert [rule.severity for rule in rules] == sorted(rule.severity for rule in rules)
    assert all(rule.condition and rule.source for rule in rules)


def test_what_is_named_shows_the_caution_on_its_page(demo: Site) -> None:
    # The pages that name a caution and the table of rules are made apart from each other.
    shown_on: dict[str, set[str]] = {}
    pages = [(page.head.path, page.cautions) for page in demo.devices]
    pages += [(page.head.path, page.cautions) for page in demo.records]
    for path, cautions in pages:
        for caution in (*cautions.raised, *cautions.before_withdrawal):
            shown_on.setdefault(caution.id, set()).add(f"{path}#cautions")
    for rule in demo.caution_rules.rules:
        assert {link.href for link in rule.raised_by} <= shown_on.get(rule.id, set())
        assert bool(rule.raised_by) == (rule.id in shown_on)


def test_what_raises_a_rule_in_a_catalogue_of_one_device() -> None:
    page = shown(a_whole_catalogue(a_test([given(150.0)]), device=a_device(home_built=True))).caution_rules
    assert raised(page, "home-built") == (["devices/device.html#cautions"], "", "")
    assert raised(page, "modified") == ([], "", "nothing in this catalogue")
    assert raised(page, "particles-only") == ([], "", "every page")


def test_five_are_named_and_the_others_counted() -> None:
    changed = {"state": "modified", "description": "changed", "changes": ["a clip"]}
    tests = [a_test([given(150.0)], id=f"test-{number}", configuration=changed) for number in range(8)]
    hrefs, more, _ = raised(shown(a_whole_catalogue(*tests)).caution_rules, "modified")
    assert hrefs == [f"records/test-{number}.html#cautions" for number in range(5)]
    assert more == "and three others"
