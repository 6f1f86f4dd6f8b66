"""The sessions of a plan in words: what is done, what it is for, what it would allow to say, how long it takes."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from generator.model.plan_result import Activity, Plan, PlannedSession, PlannedStatement, Tier
from generator.model.result import Outcome
from generator.model.session import BLOWER_OFF
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import quantity_text
from generator.presenting.flow_words import BATTERY, FILTER
from generator.presenting.planning.size_words import next_share_text
from generator.presenting.planning.views import SessionView
from generator.presenting.wording import count_text, listed, sentence_case, shortened

READINGS = 10
"""Readings of a flow run that are asked for. Common practice, no source."""
ORDER = (
    "The order is a rule, not a judgement. First what decides a requirement that governs the device; then what decides "
    "a claim of its maker; then what bears on harm: the blower off, each setting worn, the battery at its alarm, a "
    "loaded filter; then wearers, the time on one charge, what rests on instruments in doubt, comparisons, and the "
    "rest. A session that serves several stands at the first. Of new wearers the smallest number that newly allows a "
    "statement is planned; among sessions for wearers, and among comparisons, the fewest donnings come first."
)
_FOR = {
    Tier.GOVERNING: "a requirement that governs the device",
    Tier.CLAIM: "a claim of its maker",
    Tier.HARM: "what bears on harm",
    Tier.WEARERS: "what can be said of wearers",
    Tier.RUN_TIME: "the time on one charge",
    Tier.DOUBT: "figures that rest on an instrument in doubt",
    Tier.COMPARISON: "a comparison with another device",
    Tier.REST: "what else a reader asks for",
}
_SECOND_WEARER = "how far two wearers differ, which is the least that says anything of others"
_WITH_SPREAD = (
    "above which factor 95 in 100 donnings of new wearers lie, should they have the mean and spread found so far"
)
_THEN = {
    "flow": "how its air stands to what is asked of it",
    "fit-blower-off": "how the facepiece itself seals on them",
    "fit-every-setting": "what the fit factor was at that setting",
    "flow-every-state": "what it delivers in that state",
    "fit-worn": "what the fit factor was on that wearer, that day",
    "middle-of-others": "the middle of such wearers’ fit factors within narrow limits, should they spread like those",
    "donning-to-donning": "how far one wearer’s donnings scatter",
    "run-time": "how long its air is enough on one charge there",
    "instrument-in-doubt": "the same figures by an instrument that was in order on the day",
    "filter": "which share of particles passes the filter by itself",
    "sound": "how loud it is at the ear",
    "words": "how many words are understood through it",
    "units": "whether a second unit does the same",
}


def session_views(plan: Plan, context: Context) -> tuple[SessionView, ...]:
    """Return the sessions of a plan in words, in their order."""
    statements = {statement.id: statement for statement in plan.statements}
    return tuple(_view(session, statements, context) for session in plan.sessions)


def _view(session: PlannedSession, statements: Mapping[str, PlannedStatement], context: Context) -> SessionView:
    then = dict.fromkeys(_then(statements[name]) for name in session.statements)
    sentences = [f"For {_FOR[session.tier]}.", f"Then it can be said: {'; '.join(then)}."]
    if session.minutes is not None:
        time = quantity_text(session.minutes, "min", 2)
        donnings = count_text(session.donnings, "donning")
        sentences.append(f"Time: about {time} of exercises in {donnings}; getting ready and outside air come on top.")
    return SessionView(_HEADINGS[session.activity](session, context), tuple(sentences))


def _then(statement: PlannedStatement) -> str:
    undecided = statement.facts.get("outcome") == Outcome.UNDECIDED.value
    if statement.rule == "claim":
        claim = f"the claim “{statement.facts['quotation']}”"
        return f"whether {claim} is contradicted" if undecided else f"how {claim} stands to it"
    if statement.rule == "flow" and undecided:
        return "whether its air lies wholly below what is asked of it"
    if statement.rule == "compared":
        return f"whether it can be told apart from {statement.facts['name']}, should each wearer’s factor differ alike"
    if statement.rule == "share-of-wearers":
        return next_share_text(statement)
    if statement.rule == "factor-of-others":
        return _SECOND_WEARER if "wearers_needed" not in statement.facts else _WITH_SPREAD
    return _THEN[statement.rule]


def settings_text(settings: tuple[str, ...]) -> str:
    """Name blower settings in a sentence; a lone `on` is no name that a sentence can take."""
    if settings == ("on",):
        return "its one setting"
    return listed([shortened(setting, 40) for setting in settings])


def _flow(session: PlannedSession, context: Context) -> str:
    state = f"{BATTERY[session.battery or '']}, {FILTER[session.filter or '']}"
    return f"Flow at {settings_text(session.settings)}: {state}; {count_text(READINGS, 'reading')} or more of each"


def _run_down(session: PlannedSession, context: Context) -> str:
    return (
        f"Run-down at {settings_text(session.settings)}: logged from a full battery until the blower stops, "
        "the time of each alarm noted"
    )


def _new_wearers(session: PlannedSession, context: Context) -> str:
    who = f"{count_text(session.new_wearers, 'new wearer')}, one donning{' each' if session.new_wearers > 1 else ''}"
    return f"{sentence_case(who)}{_worn_how(session, context)}"


def _in_state(session: PlannedSession, context: Context) -> str:
    who = f"Wearers {listed(session.wearers)}" if len(session.wearers) > 1 else f"Wearer {''.join(session.wearers)}"
    each = " each" if len(session.wearers) > 1 else ""
    worn = f"{who if session.wearers else 'One wearer'}, one donning{each}"
    if len(session.settings) > 1:
        worn += " at each setting"
    stop = "; stop at once where breathing is hard" if session.settings == (BLOWER_OFF,) else ""
    return f"{worn}{_worn_how(session, context)}{stop}"


def _again(session: PlannedSession, context: Context) -> str:
    who = list(_letters(session.wearers))
    if session.new_wearers:
        who.append(count_text(session.new_wearers, "new wearer"))
    total = count_text(session.donnings, "donning")
    return f"{sentence_case(' and '.join(who))}, until each has donned it three times: {total}" + _worn_how(
        session, context
    )


def _letters(letters: tuple[str, ...]) -> tuple[str, ...]:
    if not letters:
        return ()
    return (f"wearer{'s' if len(letters) > 1 else ''} {listed(letters)} again",)


def _beside(session: PlannedSession, context: Context) -> str:
    assert session.other_device is not None
    other = context.catalogue.devices[session.other_device].name
    who = []
    if session.wearers:
        one = len(session.wearers) == 1
        who.append(f"wearer{'' if one else 's'} {listed(session.wearers)} with the one not yet worn")
    if session.new_wearers:
        who.append(f"{count_text(session.new_wearers, 'new wearer')} with both")
    return f"Beside {other}: {' and '.join(who)}{_worn_how(session, context)}, under the same conditions"


def _worn_how(session: PlannedSession, context: Context) -> str:
    several = f"blower at {settings_text(session.settings)}"
    blower = several if len(session.settings) > 1 else "".join(blower_words(each) for each in session.settings)
    words = f", {blower}" if blower else ""
    if session.protocol is None:
        return f"{words}, by a protocol of your choice, the same for all"
    return f"{words}, by “{context.catalogue.protocols[session.protocol].title}”"


def _repeat(session: PlannedSession, context: Context) -> str:
    return f"What {listed(session.records)} measured, again with an instrument in order"


def _always(text: str) -> Callable[[PlannedSession, Context], str]:
    return lambda session, context: text


_HEADINGS: Mapping[Activity, Callable[[PlannedSession, Context], str]] = {
    Activity.FLOW: _flow,
    Activity.RUN_DOWN: _run_down,
    Activity.WORN_BY_NEW_WEARERS: _new_wearers,
    Activity.WORN_IN_STATE: _in_state,
    Activity.DONNED_AGAIN: _again,
    Activity.WORN_BESIDE_OTHER: _beside,
    Activity.REPEAT: _repeat,
    Activity.FILTER: _always("The filter by itself: particles before and behind it, at the flow of use"),
    Activity.SOUND: _always("Sound at the ear at each setting, and the room without the blower"),
    Activity.WORDS: _always("Word lists read with the device and without it"),
    Activity.SECOND_UNIT: _always("A second unit, its number on record, in the same states"),
}
