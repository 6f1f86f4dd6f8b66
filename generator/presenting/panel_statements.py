"""What a panel of wearers says of a published rule, in sentences, and what such a rule asks for."""

from __future__ import annotations

from generator.model.panel import PanelCount, PanelOutcome, PanelRule, PanelSense
from generator.model.wearers_result import PanelResult
from generator.presenting.digits import quantity_text
from generator.presenting.wording import count_text

NO_PANEL_RULE = (
    "No published rule about a whole panel of wearers was applied: each is bound to a method of its own, and these "
    "results come from other ones."
)
_COUNTED = {
    PanelCount.WEARERS_BY_BEST_DONNING: ("wearer", "wearers"),
    PanelCount.WEARERS_BY_MEAN: ("wearer by the mean of the exercises", "wearers by the mean of their exercises"),
    PanelCount.EXERCISES: ("exercise", "exercises"),
}
_SENSES = {PanelSense.AT_LEAST: "or more", PanelSense.AT_MOST: "or less"}


def panel_sentence(result: PanelResult, rule: PanelRule) -> str:
    """Say whether a panel reaches a rule, or why that cannot be said."""
    name = f"Panel rule “{rule.title}”"
    if result.outcome is PanelOutcome.NOT_ITS_METHOD:
        return f"{name}: not applied, since {result.reason}."
    counted = "; ".join(
        f"{each.found} {_COUNTED[each.counts][each.found != 1]} at {quantity_text(each.limit, rule.unit)} "
        f"{_SENSES[each.sense]}, {each.required} needed"
        for each in result.counted
    )
    if result.outcome is PanelOutcome.NOT_COMPLETE:
        return f"{name}: panel not complete, since {result.reason}."
    outcome = "reached" if result.outcome is PanelOutcome.REACHED else "not reached"
    return f"{name}: {outcome} ({counted}). It is about this panel, and the rule’s text says what follows from it."


def panel_demand(rule: PanelRule) -> str:
    """Say what a panel rule asks for."""
    donnings = "one donning each" if rule.donnings == 1 else f"{count_text(rule.donnings, 'donning')} each"
    asked = " and ".join(
        f"{each.required} {_COUNTED[each.counts][1]} at {quantity_text(each.limit, rule.unit)} {_SENSES[each.sense]}"
        for each in rule.conditions
    )
    return f"{rule.wearers} wearers, {donnings}: {asked}"
