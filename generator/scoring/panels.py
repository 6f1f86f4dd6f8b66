"""A panel of wearers against a published rule: only for results of the rule's own method, only for a whole panel."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from generator.model.panel import PanelCondition, PanelCount, PanelOutcome, PanelRule, PanelSense

Panel = Mapping[str, Sequence[Sequence[float]]]
"""By wearer, of each donning, its results: one, or one of each exercise."""


def panel_outcome(rule: PanelRule, method: str, panel: Panel) -> PanelOutcome:
    """Say whether a panel reaches a rule.

    Parameters
    ----------
    rule : PanelRule
        The published rule. [-]
    method : str
        The method that the results come from. [-]
    panel : Panel
        The results of every wearer. [the rule's]

    Returns
    -------
    PanelOutcome
        Reached or not; or that the rule is for another method, or the panel is not complete. [-]

    Raises
    ------
    OutsideRange
        Never; an odd panel is one that is not complete.

    Notes
    -----
    Complete: exactly the wearers, donnings and results of the rule. Reached where for every condition the number of
    results at the limit or on its better side >= the number required.

    References
    ----------
    .. [1] The rules' own documents, in the reference data.
    """
    if method != rule.method:
        return PanelOutcome.NOT_ITS_METHOD
    if not _is_complete(rule, panel):
        return PanelOutcome.NOT_COMPLETE
    reached = all(number_reaching(condition, panel) >= condition.required for condition in rule.conditions)
    return PanelOutcome.REACHED if reached else PanelOutcome.NOT_REACHED


def _is_complete(rule: PanelRule, panel: Panel) -> bool:
    return len(panel) == rule.wearers and all(
        len(donnings) == rule.donnings
        and all(len(results) == rule.results_each and all(map(math.isfinite, results)) for results in donnings)
        for donnings in panel.values()
    )


def number_reaching(condition: PanelCondition, panel: Panel) -> int:
    """Return how many results of a panel lie at a condition's limit or on its better side.

    Parameters
    ----------
    condition : PanelCondition
        What is counted, and the limit. [-]
    panel : Panel
        The results of every wearer. [the rule's]

    Returns
    -------
    int
        Results that do. [count]

    Raises
    ------
    OutsideRange
        Never.

    Notes
    -----
    Number of results with x >= L, or x <= L, of single exercises, of wearers' arithmetic means, or of wearers' best
    donnings.

    References
    ----------
    .. [1] The rules' own documents, in the reference data.
    """
    return sum(_reaches(condition, value) for value in _counted(condition, panel))


def _counted(condition: PanelCondition, panel: Panel) -> list[float]:
    every = [[result for donning in donnings for result in donning] for donnings in panel.values()]
    if condition.counts == PanelCount.EXERCISES:
        return [result for results in every for result in results]
    if condition.counts == PanelCount.WEARERS_BY_MEAN:
        return [math.fsum(results) / len(results) for results in every]
    best = max if condition.sense == PanelSense.AT_LEAST else min
    return [best(results) for results in every]


def _reaches(condition: PanelCondition, value: float) -> bool:
    return value >= condition.limit if condition.sense == PanelSense.AT_LEAST else value <= condition.limit
