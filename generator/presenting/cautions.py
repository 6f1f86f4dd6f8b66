"""Cautions: which rules the findings raise, worst first, at most five as boxes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from generator.model.published import PublishedTest
from generator.model.reference import CautionRule
from generator.model.result import Finding
from generator.presenting.context import Context
from generator.presenting.views import Caution, Cautions

BOXES = 5
_NOT_ACCREDITED = "not-an-accredited-laboratory"
ALWAYS = "always"


def _caution(rule: CautionRule) -> Caution:
    return Caution(rule.id, rule.severity, rule.heading, rule.text, rule.source)


def cautions_of_record(test: PublishedTest, context: Context) -> Cautions:
    """Return the cautions of a record's page.

    What is true of the device bears on each of its records: a powered exhaust, a home-built one; what another of its
    records raises does not. What a withdrawn record raises itself speaks of results that no longer count, so that it
    stands apart.
    """
    own = context.result.records[test.id].all_findings
    about = (f"devices/{test.device}", f"device_tests/{test.id}:")
    of_device = tuple(each for each in context.device_findings(test.device) if each.where.startswith(about))
    if test.withdrawn is None:
        return cautions_for(own + of_device, context)
    told = cautions_for(of_device, context)
    apart = (caution for caution in cautions_for(own, context).raised if caution not in told.raised)
    return replace(told, before_withdrawal=tuple(apart))


def cautions_for(findings: Iterable[Finding], context: Context) -> Cautions:
    """Return the cautions that a page's findings raise, and those that stand on every page."""
    raised = {finding.rule for finding in findings}
    rules = sorted(context.catalogue.caution_rules, key=lambda rule: (rule.severity, rule.id))
    boxes = [_caution(rule) for rule in rules if rule.when in raised]
    accredited = context.catalogue.publication.accredited_laboratory
    standing = [
        _caution(rule) for rule in rules if rule.when == ALWAYS and not (accredited and rule.id == _NOT_ACCREDITED)
    ]
    return Cautions(tuple(boxes[:BOXES]), tuple(boxes[BOXES:]), tuple(standing))
