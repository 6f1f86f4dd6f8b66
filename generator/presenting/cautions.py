"""Cautions: which rules the findings raise, worst first, at most five as boxes."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.reference import CautionRule
from generator.model.result import Finding
from generator.presenting.context import Context
from generator.presenting.views import Caution, Cautions

BOXES = 5
_NOT_ACCREDITED = "not-an-accredited-laboratory"
ALWAYS = "always"


def _caution(rule: CautionRule) -> Caution:
    return Caution(rule.id, rule.severity, rule.heading, rule.text, rule.source)


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
