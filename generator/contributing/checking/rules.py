"""Every rule by which `inward check` may tell something, explained by its slug."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from generator.contributing.checking.finding_words import SLIPS, caution_explanation, range_explanation
from generator.contributing.checking.remarks import Level
from generator.loading.reference import load_plausible_ranges, load_reference
from generator.loading.slugs import SLUGS, Explanation
from generator.presenting.cautions import ALWAYS


@cache
def finding_rules() -> Mapping[str, Mapping[str, Explanation]]:
    """Return the rules of findings in groups, by slug."""
    return {
        "Numbers that are unlikely": {rule.id: range_explanation(rule) for rule in load_plausible_ranges()},
        "Records that contradict themselves": SLIPS,
        "What scoring notices": {
            rule.when: caution_explanation(rule)
            for rule in reversed(load_reference().caution_rules)
            if rule.when != ALWAYS
        },
    }


def explained(slug: str, level: Level) -> Explanation:
    """Return what a problem or finding means and what to do."""
    if level is Level.PROBLEM:
        return SLUGS[slug]
    return next(rules[slug] for rules in finding_rules().values() if slug in rules)


def is_caution(slug: str) -> bool:
    """Say whether a finding is what scoring notices, of which pages tell too."""
    return slug not in SLIPS and all(rule.id != slug for rule in load_plausible_ranges())
