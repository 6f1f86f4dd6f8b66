"""What the donnings of a group say, in sentences: of those tested, of others, of pass levels and panels."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR

from generator.model.panel import PanelRule
from generator.model.result import Figure, Relation
from generator.model.wearers_result import Carried, OverWearers, PassShare
from generator.presenting.digits import (
    decimals_for_digits,
    figure_decimals,
    interval_text,
    percent_text,
    quantity_text,
    rough_text,
    rounded,
    value_text,
)
from generator.presenting.panel_statements import panel_sentence
from generator.presenting.wording import count_text, sentence_case

SCALE_ENDS = (1.0, 100_000.0)
"""Limits of a geometric mean beyond the ends of the scale say no more than that they lie there."""
_MOST_SPREAD = 100.0
"""A greatest spread beyond it says no more than that wearers may differ by anything."""
_NEXT_WEARER = "That does not tell whether the next wearer will."
OF_VOLUNTEERS = (
    "What is said of new wearers takes those tested for a random sample of wearers like them. They were volunteers, "
    "not a random sample, so that people with other faces may fare otherwise. Nor is anything said of other items of "
    "this device, or of other days."
)


def group_sentences(over: OverWearers, rules: Mapping[str, PanelRule]) -> tuple[str, ...]:
    """Return what the donnings of a group say, of those tested first."""
    sentences = [_middle(over), _spread(over), _low(over), _model(over), _without_model(over), _repeats(over)]
    sentences.append(pass_sentence(over.passes) if over.passes is not None else None)
    sentences += [panel_sentence(result, rules[result.rule]) for result in over.panels]
    return tuple(sentence for sentence in sentences if sentence is not None)


def speaks_of_others(over: OverWearers) -> bool:
    """Say whether anything is said of wearers who were not tested."""
    intervals = over.mean is not None and over.mean.interval is not None
    bounds = any(figure is not None and figure.value is not None for figure in (over.bound, over.share_above))
    return intervals or bounds or over.passes is not None


def not_tested_sentence(over: OverWearers, state: str) -> str:
    """Answer someone who was not tested: the lower bound before the estimate, or why there is none."""
    start = f"For someone not tested, the fit factor{state} is not known"
    why = _why_no_bound(over)
    if why is not None:
        return f"{start}, and no lower bound can be given: {why}."
    assert over.bound is not None
    assert over.percentile is not None
    bound, estimate = bare_bound(over.bound), rough_text(over.percentile)
    return (
        f"{start}. Going by {who_text(over)}, with 95 % confidence at least 95 in 100 donnings of new wearers like "
        f"them lie above {bound}; the estimate, without that confidence, is {estimate}."
    )


def _why_no_bound(over: OverWearers) -> str | None:
    """Say in a clause why nothing bounds the factor of a new wearer; None where something does."""
    if over.carried is Carried.ONE_WEARER:
        return "one wearer does not show how wearers differ"
    if over.bound is None:
        known = "every result is" if over.carried is Carried.BOUNDS_ONLY else "some results are"
        return f"{known} known only as “at least”"
    return over.bound.not_scored


def who_text(over: OverWearers) -> str:
    """Say how many wearers there were, and how often they put it on."""
    wearers, donnings = len(over.wearers), len(over.donnings)
    who = count_text(wearers, "wearer")
    if wearers == donnings:
        return f"{who}, one donning" if wearers == 1 else f"{who}, one donning each"
    each = donnings // wearers
    alike = wearers > 1 and all(
        sum(donning.wearer == wearer for donning in over.donnings) == each for wearer in over.wearers
    )
    return f"{who}, {count_text(each, 'donning')} each" if alike else f"{who}, {count_text(donnings, 'donning')}"


def spread_value(figure: Figure) -> str:
    """Write a geometric standard deviation, with two digits at least."""
    assert figure.value is not None
    return rounded(figure.value, max(figure_decimals(figure), decimals_for_digits(figure.value, 2)))


def spread_text(figure: Figure) -> str:
    """Write a geometric standard deviation with its interval where there is one."""
    ends = spread_ends(figure)
    return f"{spread_value(figure)} ({ends})" if ends is not None else spread_value(figure)


def spread_ends(figure: Figure) -> str | None:
    """Write the interval of a geometric standard deviation; an endless one says so."""
    interval = figure.interval
    if interval is None or interval.low is None or interval.high is None:
        return None
    if interval.high <= _MOST_SPREAD:
        return f"95 % interval {interval_text(figure)}"
    shown = figure.model_copy(update={"interval": interval.model_copy(update={"high": None})})
    return f"95 % interval {(interval_text(shown) or '').removeprefix('at least ')} to more than {_MOST_SPREAD:g}"


def mean_ends(figure: Figure) -> str | None:
    """Write the interval of a geometric mean; beyond the ends of the scale it says that alone."""
    interval = figure.interval
    if interval is None or interval.low is None or interval.high is None:
        return None
    low, high = SCALE_ENDS
    if interval.low >= low and interval.high <= high:
        return f"95 % interval {interval_text(figure)}"
    within = {"low": max(interval.low, low), "high": min(interval.high, high)}
    both = interval_text(figure.model_copy(update={"interval": interval.model_copy(update=within)})) or ""
    start, _, end = both.partition(" to ")
    start = f"below {low:g}" if interval.low < low else start
    end = f"above {quantity_text(high, '1', 6)}" if interval.high > high else end
    return f"95 % interval {start} to {end}"


def _middle(over: OverWearers) -> str | None:
    who = sentence_case(who_text(over))
    if over.carried is Carried.ONE_WEARER:
        return _one_wearer(over, who)
    mean = over.mean
    assert mean is not None
    if mean.value is None:
        return f"{who}: no middle of the fit factors is given, since {mean.not_scored}."
    bounds = sum(donning.bound for donning in over.donnings)
    if bounds:
        known = "all" if over.carried is Carried.BOUNDS_ONLY else count_text(bounds, "of them", "of them")
        who = f"{who}, {known} known only as “at least”"
    if mean.relation is Relation.AT_LEAST:
        return f"{who}: the middle of the fit factors (geometric mean) of those tested was {value_text(mean)}."
    ends = mean_ends(mean) or f"no interval, since {mean.no_interval}"
    return f"{who}: the middle of the fit factors (geometric mean) was {value_text(mean)}; {ends}."


def _one_wearer(over: OverWearers, who: str) -> str:
    nobody = "With one wearer, nothing follows for anyone else."
    if len(over.donnings) == 1:
        return (
            f"{who}: the fit factor was {rough_text(over.donnings[0].factor)}. With one donning, nothing follows for "
            "another; with one wearer, nothing follows for anyone else."
        )
    ordered = sorted(over.donnings, key=lambda donning: donning.least)
    low, high = rough_text(ordered[0].factor), rough_text(ordered[-1].factor)
    if over.mean is None:
        return f"{who}: the lowest fit factor was {low}, the highest {high}. {nobody}"
    middle = f"the middle of the fit factors (geometric mean) was {rough_text(over.mean)}"
    return f"{who}: {middle}, the lowest {low} and the highest {high}. {nobody}"


def _spread(over: OverWearers) -> str | None:
    between, within = over.between, over.within
    if between is None:
        return None
    if between.value is None:
        return f"How much wearers differ is not given: {between.not_scored}."
    if within is None:
        ends = spread_ends(between) or "no interval"
        return (
            f"From wearer to wearer they differed by a factor of {spread_value(between)} (geometric standard "
            f"deviation; {ends}): about two wearers in three are expected within that factor of the middle."
        )
    from_donning = f"from donning to donning of one wearer by a factor of {spread_text(within)}"
    if between.value == 1:
        unknown = spread_ends(between)
        return (
            f"No difference between wearers shows beyond that {from_donning}; they may differ all the same"
            f"{f' ({unknown})' if unknown else ''}."
        )
    return f"Between wearers they differed by a factor of {spread_text(between)}, {from_donning}."


def _low(over: OverWearers) -> str | None:
    bound, estimate = over.bound, over.percentile
    if bound is None or over.log_normal_doubtful:
        return None
    if bound.value is None:
        lowest = "How low the worst 5 in 100 donnings of new wearers like these lie"
        return f"{lowest} is not stated: {bound.not_scored}."
    assert estimate is not None
    return (
        f"With 95 % confidence, at least 95 in 100 donnings of new wearers like these lie above {bare_bound(bound)}. "
        f"The estimate, without that confidence, is {rough_text(estimate)}."
    )


def bare_bound(figure: Figure) -> str:
    """Write a lower bound without the words that say that it is one."""
    return rough_text(figure).removeprefix("at least ")


def _model(over: OverWearers) -> str | None:
    tested = over.log_normality
    if tested is None or tested.value is None:
        if over.bound is not None and over.bound.value is not None:
            return (
                "That rests on results being log-normal, as fit factors often are; fewer than eight wearers are too "
                "few to test it."
            )
        return None
    chance = "p below 0.001" if tested.value < 0.001 else f"p = {rough_text(tested)}"
    if over.log_normal_doubtful:
        return (
            f"The wearers’ results do not look log-normal (test by Shapiro and Wilk, {chance}). What is said above of "
            "the middle and the spread is doubtful for that, and how low the worst donnings lie is not stated."
        )
    return (
        f"That rests on results being log-normal. A test did not contradict it (by Shapiro and Wilk, {chance}), which "
        "does not show it to be so."
    )


def _without_model(over: OverWearers) -> str | None:
    level, share = over.level_of_all, over.share_above
    if level is None or share is None or share.value is None:
        return None
    return (
        f"However the results are distributed: {_all_text(len(over.wearers))} reached {level_text(level)} at the first "
        f"donning that counts, and with 95 % confidence at least {_share(share.value, ROUND_FLOOR)} of wearers like "
        "these do."
    )


def level_text(level: Figure) -> str:
    """Write the level that all reached: rounded down, but close below the lowest result that the page shows."""
    assert level.value is not None
    decimals = decimals_for_digits(level.value, 3)
    if decimals > 0:
        return quantity_text(level.value, "1", 3, ROUND_FLOOR)
    return rounded(level.value, decimals, ROUND_FLOOR)


def _all_text(wearers: int) -> str:
    return "both wearers" if wearers == 2 else f"all {count_text(wearers, 'wearer')}"


def _share(exact: float, rounding: str) -> str:
    # A score interval ends at 0 or 1 but for its last digits.
    share = round(exact, 12)
    text = percent_text(share, digits=2, rounding=rounding)
    # Only a whole share is 100 %.
    return text if share == 1 or text != percent_text(1.0) else "nearly all"


def _repeats(over: OverWearers) -> str | None:
    if not over.sessions_of_a_donning:
        return None
    one = over.sessions_of_a_donning == 1
    return (
        f"{sentence_case(count_text(over.sessions_of_a_donning, 'further session'))} of the same donning "
        f"{'is' if one else 'are'} left aside here: the one with the lowest factor stands for the donning."
    )


def share_text(figure: Figure) -> str:
    """Write a share of wearers in percent, with its interval where it has one."""
    assert figure.value is not None
    interval = figure.interval
    if interval is None or interval.low is None or interval.high is None:
        return f"at least {_share(figure.value, ROUND_FLOOR)}"
    ends = f"{_share(interval.low, ROUND_FLOOR)} to {_share(interval.high, ROUND_CEILING)}"
    return f"{percent_text(figure.value, digits=2)} (95 % interval {ends})"


def pass_sentence(passes: PassShare) -> str:
    """Say how many wearers reached a pass level, and what that leaves open for wearers like them."""
    return f"Fit-test pass level {passes.limit:g}: {reached_text(passes)}. {pass_limits(passes)} {_NEXT_WEARER}"


def pass_limits(passes: PassShare) -> str:
    """Say what reaching a pass level leaves open for wearers like those tested."""
    exact, score = passes.share.interval, passes.by_score.interval
    assert exact is not None
    assert score is not None
    sentence = (
        f"Of wearers like these, {_between(exact.low, exact.high)} would (exact 95 % interval; "
        f"{_between(score.low, score.high)} by Wilson’s method)."
    )
    if passes.without_failures is not None and passes.without_failures.value is not None:
        share = _share(passes.without_failures.value, ROUND_FLOOR)
        sentence += f" With 95 % confidence, at least {share} would, since none failed."
    return sentence


def reached_text(passes: PassShare) -> str:
    """Say how many wearers reached a pass level."""
    when = "at the first donning that counts"
    if passes.reached == passes.wearers:
        return f"{_all_text(passes.wearers)} reached it {when}"
    share = percent_text(passes.reached / passes.wearers, digits=2)
    some = f"{passes.reached} of {passes.wearers} wearers reached it {when} ({share})"
    if not passes.undecided:
        return some
    who = count_text(passes.undecided, "other", "others")
    return f"{some}; of {who} only a bound below the level is known, which leaves it open"


def _between(low: float | None, high: float | None) -> str:
    assert low is not None
    assert high is not None
    return f"between {_share(low, ROUND_FLOOR)} and {_share(high, ROUND_CEILING)}"
