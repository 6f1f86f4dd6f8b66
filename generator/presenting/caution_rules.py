"""The page of all caution rules: what each says, when it is raised, and what raises it in this catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.model.reference import CautionRule
from generator.model.result import Finding
from generator.presenting.cautions import ALWAYS
from generator.presenting.context import Context
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import CautionRulesPage, CautionRuleView
from generator.presenting.views import Link
from generator.presenting.wording import count_text

NAMED = 5
"""How many records and devices are named for each rule; the rest is counted."""
PATH = "cautions.html"


def _raised_by(context: Context) -> Mapping[str, tuple[Link, ...]]:
    """Return what raises each rule: records by their findings, devices by what follows for all of their records."""
    found: dict[str, list[Link]] = {}
    for device in context.result.devices.values():
        name = context.catalogue.devices[device.device].name
        _note(device.all_findings, Link(name, f"devices/{device.device}.html#cautions"), found)
    for record in context.result.records.values():
        _note(record.all_findings, Link(record.record, f"records/{record.record}.html#cautions"), found)
    return {rule: tuple(links) for rule, links in found.items()}


def _note(findings: Iterable[Finding], link: Link, found: dict[str, list[Link]]) -> None:
    for rule in sorted({finding.rule for finding in findings}):
        found.setdefault(rule, []).append(link)


def _view(rule: CautionRule, raised: Mapping[str, tuple[Link, ...]]) -> CautionRuleView:
    by = raised.get(rule.when, ())
    more = len(by) - NAMED
    return CautionRuleView(
        id=rule.id,
        severity=str(rule.severity),
        heading=rule.heading,
        condition=rule.condition,
        source=rule.source,
        raised_by=by[:NAMED],
        more=f"and {count_text(more, 'other')}" if more > 0 else "",
        nobody="" if by else "every page" if rule.when == ALWAYS else "nothing in this catalogue",
    )


def present_caution_rules(context: Context) -> CautionRulesPage:
    """Return the page of all caution rules, worst first."""
    raised = _raised_by(context)
    rules = sorted(context.catalogue.caution_rules, key=lambda rule: (rule.severity, rule.id))
    return CautionRulesPage(
        head=page_head(
            PATH,
            "Cautions",
            "Every caution that this catalogue can raise, when it does, and what raises it here. A page shows the five "
            "worst of its cautions as boxes and folds the rest; 1 is the worst.",
        ),
        rules=tuple(_view(rule, raised) for rule in rules),
    )
