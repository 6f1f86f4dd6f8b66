"""How much a finding is about, in a few words: for pages, and for a check, which imports nothing else of them."""

from __future__ import annotations

from decimal import ROUND_CEILING

from generator.model.result import Finding
from generator.presenting.digits import percent_text


def finding_detail(finding: Finding) -> str:
    """Say of a finding, in a few words, how many sessions it is about or by how much; nothing where it says all."""
    facts = finding.facts
    if finding.rule == "ambient-changed":
        # Rounded up, so that it never seems to lie at the share that is not noted yet.
        change = percent_text(float(facts["largest_change"]), rounding=ROUND_CEILING)
        return f"by {change} at most; more than {percent_text(float(facts['noted_above']))} is noted"
    if finding.rule == "same-readings-in-exercises":
        return f"{facts['count']} of {facts['of']} exercises: {facts['exercises']}"
    if finding.rule == "exercise-times-unlike-protocol":
        return f"{facts['exercises']}"
    if finding.rule in ("zero-check-missing", "hair-under-seal"):
        return f"{facts['sessions']} of {facts['of']} sessions"
    if finding.rule == "adjusted-during-test":
        return f"{facts['count']} of {facts['of']} sessions"
    return ""
