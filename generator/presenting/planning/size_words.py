"""Numbers of wearers in words, each with its probability statement."""

from __future__ import annotations

from decimal import ROUND_CEILING

from generator.model.plan_result import PlannedStatement, SampleSize
from generator.presenting.digits import decimals_for_digits, percent_text, quantity_text, rounded
from generator.presenting.wording import count_text, sentence_case

ASSUMPTIONS = (
    "Numbers of wearers take the wearers for independent, and drawn like those who will wear it. Volunteers seldom "
    "are. Further donnings of one wearer are no further wearers.",
    "Level and number of wearers are to be fixed before the first of them puts it on: whoever adds wearers until a "
    "number fits has less confidence than it says.",
    "A number that goes by mean and spread is a calculation from those tested so far, and no promise: further wearers "
    "will not have just these.",
    "A number reached says what the data would carry. It says nothing of other items, other days or other particles, "
    "and makes no device fit for any use.",
)


def in_a_hundred(share: float) -> str:
    """Write a share as so many in a hundred."""
    return f"{quantity_text(share * 100, '1', 3)} in 100"


def next_share_text(statement: PlannedStatement) -> str:
    """Say which share would be shown next, and with which confidence."""
    size = next(size for size in statement.sizes if size.more)
    confidence = percent_text(size.confidence)
    if statement.facts["level"] == "all-reach":
        level = "the lowest of their fit factors"
    else:
        level = f"a fit factor of {quantity_text(float(statement.facts['limit']), '1')}"
    condition = "" if statement.facts["level"] == "all-reach" else ", should none of the new ones fail to"
    return (
        f"at least {in_a_hundred(size.share)} wearers like these reach {level}, with {confidence} confidence{condition}"
    )


def size_text(size: SampleSize, *, by_order: bool) -> str:
    """Say how many wearers show a share, how sure that is, and what one more failure costs.

    `by_order` is for the level that all reach, which is the lowest result of them, whatever that comes to.
    """
    start = f"at least {in_a_hundred(size.share)}, with {percent_text(size.confidence)} confidence"
    if size.wearers is None or size.more is None or size.chance is None:
        return f"{start}: those tested so far speak against so large a share, with the same confidence"
    if not size.more:
        return f"{start}: shown; it takes {size.wearers} wearers{_with_failures(size)}"
    more = f"{start}: {count_text(size.wearers, 'wearer')} in all{_with_failures(size)} ({_chance(size)}), so "
    more += f"{size.more} more"
    if by_order:
        return f"{more}; the second lowest would do with {size.with_one_more_failure}"
    return f"{more} who all reach it; where one more does not, {size.with_one_more_failure} in all"


def _with_failures(size: SampleSize) -> str:
    return f" with {count_text(size.failures, 'failure')}" if size.failures else ""


def _chance(size: SampleSize) -> str:
    """Write the probability statement: how often chance would give so few failures, rounded up."""
    assert size.chance is not None
    written = rounded(size.chance, decimals_for_digits(size.chance, 3), ROUND_CEILING)
    if not size.failures:
        return f"{quantity_text(size.share, '1')} to the power of {size.wearers} is {written}"
    return f"were it just {in_a_hundred(size.share)}, so few failures would have a probability of {written}"


def failures_text(statement: PlannedStatement) -> str:
    """Say how many reached the level so far."""
    reached, failures = int(statement.facts["reached"]), int(statement.facts["failures"])
    tested = reached + failures
    if not tested:
        return "Nobody was tested for it so far."
    if statement.facts["level"] == "all-reach":
        return f"{sentence_case(count_text(tested, 'wearer'))} so far."
    who = f"{reached} of {count_text(tested, 'wearer')} reached it"
    if tested == 1:
        who = f"the one wearer tested {'reached' if reached else 'did not reach'} it"
    elif not failures:
        everyone = "both wearers" if tested == 2 else f"all {count_text(tested, 'wearer')}"
        who = f"{everyone} reached it"
    return f"So far {who}, at the first donning."
