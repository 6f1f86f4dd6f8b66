"""Pages of methods: each subject has a heading, each check its agreement, and what uses a method is counted."""

from __future__ import annotations

import pytest

from generator.loading import load_reference
from generator.model.reference import MethodSubject
from generator.presenting.method_pages import SUBJECTS, present_method
from generator.presenting.method_uses import Uses, used_text
from generator.presenting.page_views import Site
from generator.presenting.views import Link
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import a_device, a_run, a_session, a_test, readings

METHODS = load_reference().methods


@pytest.fixture(scope="module")
def site() -> Site:
    test = a_test([a_session(readings(0, 4, 9), blower="high")], [a_run([17.0, 17.1])])
    return shown(a_whole_catalogue(test, device=a_device("loose_powered_hood")))


def test_every_subject_has_a_heading_and_every_method_stands_under_its_own(site: Site) -> None:
    assert set(SUBJECTS) == set(MethodSubject)
    listed = {fact.href: group.heading for group in site.methods_index.groups for fact in group.methods}
    assert listed == {f"methods/{method.id}.html": SUBJECTS[method.subject][0] for method in METHODS.values()}
    for group in site.methods_index.groups:
        titles = [fact.term for fact in group.methods]
        assert titles == sorted(titles)


def test_the_list_counts_methods_and_values(site: Site) -> None:
    values = sum(len(method.check_values) for method in METHODS.values())
    assert site.methods_index.counts.startswith(f"{len(METHODS)} methods with {values} values from outside. ")


def test_a_page_has_the_agreement_of_each_value() -> None:
    page = present_method(METHODS["summed-level"], None)
    # source: printed worked sums of levels, 75 and 75 dB are 78.0, 75 and 65 dB are 75.4
    printed = {check.expected: (check.found, check.agreement) for check in page.checks}
    assert printed["78"] == ("78.01", "agrees to the digits printed")
    assert printed["75.4"] == ("75.414", "agrees to the digits printed")
    assert [link.text for link in page.head.trail] == ["Catalogue", "Methods", "Noise, mass, words and cost"]


def test_uses_lead_to_the_working_of_a_figure_and_to_a_verdict(site: Site) -> None:
    pages = {page.id: page for page in site.methods}
    leakage = pages["inward-leakage"]
    assert leakage.used.startswith("It stands behind ")
    assert all(link.href.startswith("records/test.html#working.fit.") for link in leakage.used_by)
    (guarded,) = pages["guarded-verdict"].used_by
    assert guarded.href == "records/test.html#flow.high.verdict"
    assert pages["noise-dose"].used == "No figure of this catalogue names this method in its working."
    assert pages["noise-dose"].used_by == ()


def test_uses_are_counted_and_a_few_pages_named() -> None:
    uses = Uses()
    for number in (1, 1, 2, 3, 4):
        uses.add(Link(str(number), f"records/r{number}.html#x"))
    assert [link.text for link in uses.links.values()] == ["1", "2", "3"]
    assert used_text(uses) == "It stands behind five figures and verdicts of this catalogue, for example:"
    one = Uses()
    one.add(Link("a", "records/a.html"))
    assert used_text(one) == "It stands behind one figure or verdict of this catalogue, for example:"


def test_a_verdict_leads_to_its_rule(site: Site) -> None:
    (flow,) = (section for section in site.records[0].sections if section.topic == "flow")
    verdict = flow.blocks[0].verdict
    assert verdict is not None
    assert verdict.method == Link("Guarded verdict", "methods/guarded-verdict.html")
