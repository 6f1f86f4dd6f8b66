"""What a difference of two sets of fit factors says, sentence by sentence, and how each number comes about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP

from generator.model.difference_result import Apart, Decision, FactorDifference, People
from generator.model.result import Figure
from generator.presenting.comparison_views import DifferenceWorking, SideLine, WorkingPart
from generator.presenting.context import Context
from generator.presenting.digits import (
    decimals_beside,
    decimals_for_digits,
    figure_text,
    interval_text,
    percent_text,
    quantity_text,
    ratio_words,
    rounded,
    value_text,
)
from generator.presenting.figures import derivation
from generator.presenting.wording import count_text, listed, sentence_case

ONE = 1.0
"""A ratio is never rounded onto the other side of 1."""
_LEAST_SHOWN = 0.001
_RAREST = 0.01
_RATIO = "Ratio"
_CHANCE = "Probability by chance"
_LEAST = "The smallest it can be"
_ADJUSTED = "Adjusted for their number"
_NEW_WEARER = "For a new wearer"
_DECISION = "Told apart or not"


@dataclass(frozen=True)
class SideWords:
    """How a sentence names the two sides."""

    first: str
    """Such as `with the hood`."""
    second: str
    both: str
    """Such as `The two`."""
    wore_both: str
    """Such as `wore both`."""
    together: str
    """What differences stand together, such as `of this comparison`."""


def ratio_lines(found: FactorDifference, words: SideWords, href: str) -> Iterable[SideLine]:
    """Say how many times the one is the other, and as a share where it is less."""
    figure = found.ratio
    if figure.value is None:
        return
    times, interval = f"{value_text(figure, ONE)} times", f"95 % interval {interval_text(figure)}"
    yield SideLine(times, interval, f"{figure.key}.ratio", href)
    if figure.value < 1:
        yield SideLine("", sentence_case(f"{words.first} it was {ratio_words(figure.value)} that {words.second}."))


def decision_lines(found: FactorDifference, words: SideWords) -> Iterable[SideLine]:
    """Say whether the two are told apart, and by what."""
    if found.decision is not None:
        yield _decision_line(found, found.decision, words)
    elif found.chance is not None:
        why = f"The exact test is not made: {found.chance.not_scored}."
        yield SideLine("Nothing is decided.", why, f"{found.ratio.key}.chance")


def short_answer(found: FactorDifference, words: SideWords) -> str:
    """Say in a line what is decided, or why nothing is."""
    if found.ratio.value is None:
        return f"Not stated: {found.ratio.not_scored}."
    (line,) = decision_lines(found, words)
    apart = found.decision is not None and found.decision.apart is not Apart.CANNOT_BE_TOLD_APART
    return line.text if apart else f"{line.text} {line.note}"


def sure_lines(found: FactorDifference, words: SideWords) -> Iterable[SideLine]:
    """Say how probable chance is, and what a new wearer may expect."""
    key = found.ratio.key
    if found.chance is not None and found.chance.value is not None:
        yield SideLine("", _chance_sentence(found, found.chance.value), f"{key}.chance")
    adjusted = found.adjusted_chance
    if adjusted is not None and adjusted.value is not None and adjusted.sample_size > 1:
        differences = count_text(adjusted.sample_size, "difference")
        sentence = (
            f"Of several differences, one may look large by chance. Adjusted for the {differences} {words.together}: "
            f"{chance_text(adjusted.value)}."
        )
        yield SideLine("", sentence, f"{key}.adjusted")
    if found.better_for_new_wearer is not None:
        yield SideLine("", _new_wearer_sentence(found.better_for_new_wearer, words), f"{key}.new-wearer")


def people_lines(found: FactorDifference, words: SideWords) -> Iterable[SideLine]:
    """Say whose fit factors are compared, and who is left out."""
    key = f"{found.ratio.key}.people"
    if found.people is People.SAME_WEARERS:
        wearers = count_text(len(found.wearers), "wearer")
        yield SideLine("", f"The same {wearers} {words.wore_both}: {listed(found.wearers)}.", key)
    elif found.people is People.OTHER_WEARERS:
        yield SideLine(
            "",
            f"Different people: {listed(found.first_only)} {words.first}, {listed(found.second_only)} {words.second}. "
            "That tells less than the same people on both sides.",
            key,
        )
        if found.wearers:
            who, are = ("Wearer", "is") if len(found.wearers) == 1 else ("Wearers", "are")
            yield SideLine(
                "",
                f"{who} {listed(found.wearers)} {words.wore_both} and {are} left out: this way of comparing holds for "
                "different people only.",
            )


def chance_text(probability: float) -> str:
    """Write a probability to two digits, never on the other side of 0.05, and never as nothing."""
    if probability < _LEAST_SHOWN:
        return "below 0.001"
    if probability > 1 - _LEAST_SHOWN:
        return "1" if probability == 1 else "above 0.999"
    decimals = max(decimals_for_digits(probability, 2), 2)
    return rounded(probability, decimals_beside(probability, 0.05, decimals), ROUND_HALF_UP)


def _decision_line(found: FactorDifference, decision: Decision, words: SideWords) -> SideLine:
    interval = found.ratio.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    identity = f"{found.ratio.key}.apart"
    level = quantity_text(decision.level, "1")
    probability = _decisive(found)
    if decision.apart is Apart.CANNOT_BE_TOLD_APART:
        least = found.least_chance.value if found.least_chance is not None else None
        if least is not None and least > decision.level:
            includes_one = interval.low <= 1 <= interval.high
            start = "" if includes_one else "The interval lies on one side of 1, but "
            wearers = f"{start}{count_text(len(found.wearers), 'wearer')}"
            why = (
                f"{sentence_case(wearers)} are too few to tell anything apart: even where all differ the same way, "
                "chance alone does that too often."
            )
        elif interval.low <= 1 <= interval.high:
            why = "The interval includes 1, so that either may have the higher fit factor."
        else:
            why = (
                f"The interval lies on one side of 1, but chance alone does that too often: {probability} is "
                f"above {level}."
            )
        return SideLine(f"{words.both} cannot be told apart, which is not the same as equal.", why, identity)
    higher, lower = words.first, words.second
    if decision.apart is Apart.SECOND_HIGHER:
        higher, lower = lower, higher
    return SideLine(
        f"On these wearers the fit factor was higher {higher} than {lower}.",
        f"The whole interval lies on one side of 1, and chance alone does that rarely: {probability} is not "
        f"above {level}.",
        identity,
    )


def _decisive(found: FactorDifference) -> str:
    """Name the probability that is held against the level, with its value."""
    adjusted = found.adjusted_chance
    assert adjusted is not None
    assert adjusted.value is not None
    name = "the adjusted probability" if adjusted.sample_size > 1 else "the probability"
    return f"{name}, {chance_text(adjusted.value)},"


def _chance_sentence(found: FactorDifference, chance: float) -> str:
    start = "If there were no difference at all, chance alone would set"
    if found.least_chance is None or found.least_chance.value is None:
        return f"{start} such people this far apart or further with a probability of {chance_text(chance)}."
    wearers = count_text(found.least_chance.sample_size, "wearer")
    return (
        f"{start} the two this far apart or further with a probability of {chance_text(chance)}; with {wearers} it "
        f"cannot go below {chance_text(found.least_chance.value)}."
    )


def _new_wearer_sentence(figure: Figure, words: SideWords) -> str:
    if figure.value is None:
        return f"Nothing is said of a new wearer: {figure.not_scored}."
    interval = figure.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    low, high = _share_text(interval.low, ROUND_FLOOR), _share_text(interval.high, ROUND_CEILING)
    return (
        f"A new wearer like these gets the higher fit factor {words.first} with a probability of "
        f"{_share_text(figure.value)} (95 % interval {low} to {high})."
    )


def _share_text(share: float, rounding: str = ROUND_HALF_EVEN) -> str:
    """Write a share of new wearers; what lies beyond 1 and 99 % no such number of wearers shows."""
    if share < _RAREST:
        return f"below {percent_text(_RAREST)}"
    if share > 1 - _RAREST:
        return f"above {percent_text(1 - _RAREST)}"
    return percent_text(share, 2, rounding)


def difference_working(found: FactorDifference, name: str, context: Context) -> DifferenceWorking | None:
    """Return how every number of a stated difference comes about, or None where it is not stated."""
    if found.ratio.working is None:
        return None
    parts = [WorkingPart(_RATIO, derivation(found.ratio.working, figure_text(found.ratio, ONE), "", context))]
    chances = ((_CHANCE, found.chance), (_LEAST, found.least_chance), (_ADJUSTED, found.adjusted_chance))
    shown: list[tuple[str, Figure | None]] = [*chances, (_NEW_WEARER, found.better_for_new_wearer)]
    for title, figure in shown:
        # Where one formula gives ratio and probability, it is not printed twice.
        if figure is not None and figure.working is not None and figure.working != found.ratio.working:
            assert figure.value is not None
            parts.append(WorkingPart(title, derivation(figure.working, chance_text(figure.value), "", context)))
    if found.decision is not None and found.decision.working is not None:
        parts.append(WorkingPart(_DECISION, derivation(found.decision.working, "", "", context)))
    return DifferenceWorking(found.ratio.key, name, figure_text(found.ratio, ONE), tuple(parts))
