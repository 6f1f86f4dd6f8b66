"""Findings of `inward check` in words: what was found, what was expected, what to do."""

from __future__ import annotations

from collections.abc import Mapping

from generator.loading.slugs import Explanation
from generator.model.plausibility import PlausibleRange
from generator.model.quantity import Quantity
from generator.model.reference import CautionRule
from generator.presenting.digits import decimals_for_digits, rounded
from generator.scoring.plausible_values import Unlikely
from generator.scoring.record_slips import ALIKE, APART, LONGEST_BETWEEN_DAYS, LONGEST_UNTIL_DUE, Slip

Words = tuple[str, str, str]
"""What was found, what was expected, what to do."""

_KEEP = "leave it as it is if it was read so"
_DAYS_A_YEAR = 366

SLIPS: Mapping[str, Explanation] = {
    "reading-apart": Explanation(
        f"One reading is {APART:g} times the middle one of the others or more, or as many times smaller: of a flow "
        "run, an exhaust run, or the ambient samples of a session.",
        "Look at its decimal point. Leave it as it is if it was read so.",
    ),
    "readings-all-alike": Explanation(
        f"{ALIKE} readings of a flow or more are the same to the last digit.",
        "Give each reading as it was read, with every digit of the display.",
    ),
    "readings-copied": Explanation(
        "A session or flow run has the very readings of another one, as after copying a record.",
        "Replace what was copied with what was read.",
    ),
    "background-above-level": Explanation(
        "The sound level with the blower off is above the one with the blower running.",
        "See whether the two were exchanged.",
    ),
    "days-far-apart": Explanation(
        f"Two days of a test lie more than {LONGEST_BETWEEN_DAYS // _DAYS_A_YEAR} years apart, or a calibration is due "
        f"more than {LONGEST_UNTIL_DUE // _DAYS_A_YEAR} years after it was made.",
        "Look at the years.",
    ),
}
"""What a record that contradicts itself or another one is told, by the slug of the finding."""


def unlikely_words(unlikely: Unlikely) -> Words:
    """Say what lies outside its span, and what may have been meant."""
    rule, span = unlikely.rule, unlikely.span
    of_kind = "" if unlikely.kind is None else f" for a {unlikely.kind.replace('_', ' ')}"
    expected = f"{rule.what} of {span.low:.12g} to {span.high:.12g} {rule.unit}{of_kind}, as a rule"
    if unlikely.meant is None:
        return _found(unlikely), expected, f"Look at the number and its unit; {_KEEP}"
    return _found(unlikely), expected, f"Did you mean `{_meant(unlikely)}`? Correct it; {_KEEP}"


def _found(unlikely: Unlikely) -> str:
    low, high, unit = min(unlikely.numbers), max(unlikely.numbers), unlikely.unit
    converted = unit != unlikely.rule.unit
    if low == high:
        also = f", which is {_short(unlikely.lowest)} {unlikely.rule.unit}" if converted else ""
        more = f", and {unlikely.outside - 1} more such" if unlikely.outside > 1 else ""
        return f"{low:.12g} {unit}{also}{more}"
    ends = f"{_short(unlikely.lowest)} to {_short(unlikely.highest)} {unlikely.rule.unit}"
    return f"readings of {low:.12g} to {high:.12g} {unit}{f', which are {ends}' if converted else ''}"


def _meant(unlikely: Unlikely) -> str:
    assert unlikely.meant is not None
    if unlikely.steps[-1] == "unit":
        return f"unit: {unlikely.meant.unit}"
    # A share of 0.45 is meant as 45 %, which is how it is mostly written.
    meant = unlikely.meant
    if meant.unit == "1":
        meant = Quantity(number=meant.to("%"), unit="%")
    return f"{meant.number:.12g} {meant.unit}"


def _short(number: float) -> str:
    return rounded(number, decimals_for_digits(number, 3))


def slip_words(slip: Slip) -> Words:
    """Say what contradicts what."""
    facts, explained = slip.facts, SLIPS[slip.rule]
    if slip.rule == "reading-apart":
        found = f"{facts['reading']:.12g} {facts['unit']} beside others around {_short(float(facts['median']))}"
        expected = "readings that lie near one another"
    elif slip.rule == "readings-all-alike":
        found = f"{facts['count']} readings of {facts['reading']:.12g} {facts['unit']} each"
        expected = "readings that scatter in their last digit"
    elif slip.rule == "readings-copied":
        found, expected = f"the very readings of {facts['other']}", "readings of its own"
    elif slip.rule == "background-above-level":
        found = f"a background of {facts['background']}, above the level of {facts['level']}"
        expected = "a level in which the background is heard too"
    else:
        found = f"`{facts['after']}` {facts['then']}, long after `{facts['before']}` {facts['first']}"
        expected = "days near one another"
    return found, expected, explained.remedy.removesuffix(".")


def caution_words(rule: CautionRule, detail: str) -> tuple[str, str]:
    """Say what scoring found, and what its pages will say of it."""
    found = f"that {rule.condition}{f' ({detail})' if detail else ''}"
    return found, f"Readers will be told “{rule.heading.removesuffix('.')}”; correct the record if that is not so"


def range_explanation(rule: PlausibleRange) -> Explanation:
    """Explain a range: its spans, and where they come from."""
    spans = "; ".join(
        f"{span.low:.12g} to {span.high:.12g} {rule.unit}"
        + (f" for {', '.join(f'`{kind.value}`' for kind in span.kinds)}" if span.kinds else "")
        + f" ({span.source})"
        for span in rule.spans
    )
    what = rule.what[:1].upper() + rule.what[1:]
    return Explanation(f"{what} outside of {spans}.", "Look at the number and its unit; leave it if it was read so.")


def caution_explanation(rule: CautionRule) -> Explanation:
    """Explain what scoring finds: when, and what readers are told."""
    condition = rule.condition[:1].upper() + rule.condition[1:]
    return Explanation(f"{condition}.", f"Readers will be told “{rule.heading}” Correct the record if that is not so.")
