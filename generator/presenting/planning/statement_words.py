"""The statements of a plan in words: what could be said, how far the records carry it, what is missing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_FLOOR

from generator.model.claim_result import ClaimOutcome
from generator.model.plan_result import Plan, PlannedStatement, Standing
from generator.model.result import Outcome
from generator.presenting.context import Context
from generator.presenting.digits import decimals_for_digits, percent_text, quantity_text, rounded
from generator.presenting.flow_words import flow_state_words
from generator.presenting.maker_side import CLAIM_WORDS
from generator.presenting.planning.session_words import settings_text
from generator.presenting.planning.size_words import failures_text, size_text
from generator.presenting.planning.views import StatementGroup, StatementView
from generator.presenting.wording import count_text, listed, sentence_case

_HEADINGS = {
    Standing.LACKING: "What lacks evidence",
    Standing.IN_PART: "What can be said in part",
    Standing.SAID: "What can be said",
    Standing.NOT_MEASURABLE: "What nothing measured here can carry",
}
_OUTCOMES = {Outcome.MEETS.value: "at or above it", Outcome.DOES_NOT_MEET.value: "below it"}


def statement_groups(plan: Plan, context: Context) -> tuple[StatementGroup, ...]:
    """Return the statements of a plan in words, by how they stand; devices that share nothing with it are one line."""
    served = {name for session in plan.sessions for name in session.statements}
    groups = []
    for standing, heading in _HEADINGS.items():
        alike = [statement for statement in plan.statements if statement.standing is standing]
        apart = [each for each in alike if each.rule == "compared" and each.id not in served and "reason" in each.facts]
        views = [_view(each, context) for each in alike if each not in apart]
        if apart:
            views.append(_not_compared(apart))
        if views:
            groups.append(StatementGroup(heading, tuple(views)))
    return tuple(groups)


def _view(statement: PlannedStatement, context: Context) -> StatementView:
    title, text = _WORDS[statement.rule](statement, context)
    return StatementView(title, text)


def _not_compared(statements: Sequence[PlannedStatement]) -> StatementView:
    names = sorted(str(statement.facts["name"]) for statement in statements)
    return StatementView(
        f"Whether it can be told apart from {listed(names)}",
        "Not compared so far, and not planned for here: others take fewer donnings, or the conditions cannot be alike.",
    )


def _in_records(statement: PlannedStatement) -> str:
    return f" On record in {listed(statement.records)}." if statement.records else ""


def _flow(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    limit = quantity_text(float(facts["limit"]), str(facts["unit"]))
    title = f"How its air stands to the {limit} that its kind is held to"
    if "outcome" not in facts:
        return title, "No flow at a setting that counts is on record."
    state = flow_state_words(str(facts["setting"]), str(facts["battery"]), str(facts["filter"]))
    if statement.standing is not Standing.LACKING:
        said = f"The run that governs ({state}) lies wholly {_OUTCOMES[str(facts['outcome'])]}."
        if facts["open_states"]:
            said += " Not every state that counts was measured."
        if "meter" in facts:
            said += " Its meter is in doubt."
        return title, said + _in_records(statement)
    said = (
        f"The run that governs ({state}) leaves it undecided. Of several runs the worst governs, so that a further one "
        "decides it only by lying wholly below."
    )
    if "share" in facts:
        share = percent_text(float(facts["share"]), digits=2)
        said += (
            f" The largest part of its uncertainty, {share} of the variance, is the {facts['source_name']}; more "
            "readings narrow the scatter of the readings alone."
        )
    return title, said


def _follows_breath(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    return "How its air stands to a required flow", "Its air follows the breath; what is required is a constant flow."


def _without_requirement(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    return "How its air stands to a required flow", "No requirement of supply flow is on record for its kind."


def _claim(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    outcome = ClaimOutcome(str(facts["outcome"]))
    said = f"It is {CLAIM_WORDS[outcome]}." if statement.standing is not Standing.NOT_MEASURABLE else ""
    reason = str(facts["reason"]) if outcome is not ClaimOutcome.SUPPORTED else ""
    stays = (
        "That figure stands, so that a further one can only contradict the claim, by lying wholly below."
        if outcome is ClaimOutcome.UNDECIDED
        else ""
    )
    text = " ".join(part for part in (said, reason, stays) if part)
    return f"Whether it is as its maker says: “{facts['quotation']}”", text


def _blower_off(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = "How it fits with the blower off, which shows how well the facepiece itself seals"
    wearers = int(statement.facts["wearers"])
    if not wearers:
        return title, "Nobody wore it so."
    return title, f"{sentence_case(count_text(wearers, 'wearer'))}.{_in_records(statement)}"


def _every_setting(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = "What the fit factor is at each setting that counts"
    if statement.missing:
        return title, f"Not worn at {settings_text(statement.missing)}.{_in_records(statement)}"
    return title, f"Worn at {_all(int(statement.facts['settings']), 'setting')}.{_in_records(statement)}"


def _all(count: int, what: str) -> str:
    if count == 2:
        return f"both {what}s"
    return f"the one {what}" if count == 1 else f"all {count_text(count, what)}"


def _every_state(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = "What it delivers in each state that counts: setting, battery and filter"
    states = int(statement.facts["states"])
    if not statement.missing:
        return title, f"Measured in {_all(states, 'state')}.{_in_records(statement)}"
    if statement.standing is Standing.LACKING:
        return title, f"Not measured in any of {count_text(states, 'state')}."
    missing = [flow_state_words(*state.rsplit(", ", 2)) for state in statement.missing]
    of_states = f"of {count_text(states, 'state')}"
    measured = f"Measured in {count_text(int(statement.facts['measured']), of_states, of_states)}"
    return title, f"{measured}. Not measured: {'; '.join(missing)}.{_in_records(statement)}"


def _worn(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = "What the fit factor was on those who wore it"
    if statement.standing is Standing.LACKING:
        return title, "No session of a whole protocol that counts is on record."
    wearers, donnings = int(statement.facts["wearers"]), int(statement.facts["donnings"])
    many = f"{count_text(wearers, 'wearer')} in {count_text(donnings, 'donning')}"
    return title, f"{sentence_case(many)} under the conditions with the most wearers.{_in_records(statement)}"


def _factor_of_others(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    title = "Above which fit factor 95 in 100 donnings of new wearers lie, with 95 % confidence, if log-normal"
    wearers = count_text(int(facts["wearers"]), "wearer")
    if "bound" in facts:
        bound = rounded(float(facts["bound"]), decimals_for_digits(float(facts["bound"]), 2), ROUND_FLOOR)
        return title, f"Above {bound}, from {wearers}.{_to_level(statement)}{_in_records(statement)}"
    if "doubtful" in facts:
        return title, "The results do not look log-normal, so that this is not stated; the share of wearers below is."
    if "wearers_needed" in facts:
        needed = f"{facts['wearers_needed']} wearers with this mean and spread would give a bound above 1"
        return title, f"So far {wearers}. By calculation {needed}; no promise."
    if "reason" in facts:
        return title, f"{sentence_case(str(facts['reason']))}."
    if "bounds_only" in facts:
        return (
            title,
            "Some results are known only as “at least”, and no bound follows from such. Longer counting helps.",
        )
    if facts["wearers"] == 1:
        return title, "One wearer does not show how wearers differ: a second one is the least."
    return title, "Nobody wore it so far."


def _to_level(statement: PlannedStatement) -> str:
    facts = statement.facts
    if "limit" not in facts:
        return ""
    limit = quantity_text(float(facts["limit"]), "1")
    if "never_to_limit" in facts:
        return f" With this mean and spread no number of wearers up to a thousand would bring it to {limit}."
    needed = int(facts["wearers_to_limit"])
    if needed <= int(facts["wearers"]):
        return f" It lies at {limit} or above."
    return f" By calculation {needed} wearers with this mean and spread would bring it to {limit}; no promise."


def _share(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    by_order = facts["level"] == "all-reach"
    title = "Which share of wearers reach the lowest fit factor of those tested, however they spread"
    if not by_order:
        kind = "fit-test pass level" if facts["level"] == "pass-level" else "claimed fit factor of"
        title = (
            f"Which share of wearers reach the {kind} {quantity_text(float(facts['limit']), '1')}, however they spread"
        )
    sizes = [sentence_case(size_text(size, by_order=by_order)) for size in statement.sizes]
    return title, f"{failures_text(statement)} {'. '.join(sizes)}."


def _middle(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    title = "Where the middle (geometric mean) of such wearers’ fit factors lies, within narrow limits"
    times, needed = quantity_text(float(facts["times"]), "1"), int(facts["wearers_needed"])
    spread = rounded(float(facts["spread"]), 2)
    wearers = count_text(int(facts["wearers"]), "wearer")
    so_far = f"{wearers} so far, who differ by a factor of {spread} (geometric standard deviation)"
    does = "do" if statement.standing is Standing.SAID else "would do"
    limits = f"{count_text(needed, 'wearer')} with this spread {does} for 95 % limits within a factor of {times} of it"
    return title, f"{sentence_case(so_far)}. By calculation {limits}; no promise."


def _donnings(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    title = "How much the donnings of one wearer differ"
    enough, needed = int(facts["wearers_with_enough"]), int(facts["needed"])
    who = count_text(enough, "wearer") if enough else "no wearer"
    have = f"{who} so far {'have' if enough > 1 else 'has'} {count_text(needed, 'donning')}"
    asked = f"asked for are {count_text(needed, 'donning')} or more of each of {count_text(needed, 'wearer')}"
    said = f"{sentence_case(have)} or more; {asked} (common practice, no source)."
    return title, f"{said}{_in_records(statement) if enough else ''}"


def _run_time(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = "How long its air is enough on one charge"
    if not statement.missing:
        return title, f"Run down at {_all(int(statement.facts['settings']), 'setting')}.{_in_records(statement)}"
    return title, f"Not run down at {settings_text(statement.missing)}.{_in_records(statement)}"


def _doubt(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = f"What {statement.facts['instrument']} read, without a doubt about it"
    return title, f"Its calibration or check puts in doubt {listed(statement.records)}."


def _compared(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    facts = statement.facts
    title = f"Whether it can be told apart from {facts['name']}"
    pairs, needed = int(facts["pairs"]), int(facts["needed"])
    if statement.standing is Standing.SAID:
        return title, f"Told apart, on {count_text(pairs, 'wearer')} who wore both.{_in_records(statement)}"
    both = f"{count_text(pairs, 'wearer')} wore both so far" if pairs else "nobody wore both so far"
    least = (
        f"with fewer than {count_text(needed, 'such wearer')} the exact test cannot tell two devices apart, however "
        "clear the difference"
    )
    together = int(facts["together"])
    many = f" ({count_text(together, 'difference')} of one comparison stand together)" if together > 1 else ""
    if pairs >= needed:
        return title, f"Not told apart on {count_text(pairs, 'wearer')} who wore both, which is not the same as equal."
    return title, f"{sentence_case(both)}; {least}{many}."


def _filter(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    return "Which share of particles its filter holds back", _measured(statement)


def _sound(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    return "How loud it is at the ear", _measured(statement)


def _words_understood(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    return "How many words are understood through it", _measured(statement)


def _measured(statement: PlannedStatement) -> str:
    return f"Measured.{_in_records(statement)}" if statement.records else "Not measured."


def _units(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    units = int(statement.facts["units"])
    if not units:
        return "How far units differ", "Which units were tested is not on record."
    enough = " Few units show only that they can differ, not by how much." if units > 1 else ""
    return "How far units differ", f"{sentence_case(count_text(units, 'unit'))} on record.{enough}"


def _approval(statement: PlannedStatement, context: Context) -> tuple[str, str]:
    title = f"Whether it is approved under “{statement.facts['scheme']}”, as its maker states"
    return title, "An approval is looked up with the body that gives it."


_WORDS: Mapping[str, Callable[[PlannedStatement, Context], tuple[str, str]]] = {
    "flow": _flow,
    "flow-follows-breath": _follows_breath,
    "flow-without-requirement": _without_requirement,
    "claim": _claim,
    "fit-blower-off": _blower_off,
    "fit-every-setting": _every_setting,
    "flow-every-state": _every_state,
    "fit-worn": _worn,
    "factor-of-others": _factor_of_others,
    "share-of-wearers": _share,
    "middle-of-others": _middle,
    "donning-to-donning": _donnings,
    "run-time": _run_time,
    "instrument-in-doubt": _doubt,
    "compared": _compared,
    "filter": _filter,
    "sound": _sound,
    "words": _words_understood,
    "units": _units,
    "approval": _approval,
}
