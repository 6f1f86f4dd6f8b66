"""A plan in words: exact sentences of sessions and statements, and what it never says of any device of the demo."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from generator.command_line.plan_text import plan_text
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.device_test import DeviceTest
from generator.model.plan_result import Activity, Tier
from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.digits import THIN
from generator.presenting.planning import session_words, statement_words
from generator.presenting.planning.page import present_plan
from generator.presenting.planning.views import PlanView
from generator.scoring.planning.plan import plan_of
from generator.scoring.planning.reviewed import Reviewed
from tests.presenting.small_sites import STANDARD
from tests.scoring.builders import (
    Data,
    a_calibration,
    a_catalogue,
    a_device,
    a_meter,
    a_run,
    a_session,
    a_test,
    readings,
)
from tests.scoring.comparison_builders import one_each as each_wears
from tests.scoring.comparison_builders import several, worn
from tests.scoring.planning_builders import ASTRIDE, HALF, HOOD, flow_test, plan_in
from tests.scoring.wearer_builders import NOTHING_COUNTED, donned, one_each
from tests.test_words_that_never_appear import NEVER

FFP = "filtering_facepiece"
ALONE = CatalogueResult(records={}, devices={})
"""A plan is worded without results: what it needs of them stands in the plan."""
EIGHT = "“Eight standard exercises, ambient sampled around each one”"
CLAIM = {"quotation": "So much", "where": "leaflet", "date": "2025-02-03"}


def viewed(catalogue: Catalogue, device: str = "device", day: datetime.date | None = None) -> PlanView:
    return present_plan(plan_in(catalogue, device, day), Context(published(catalogue), ALONE))


def view(*tests: DeviceTest, kind: str = HOOD, device: Data | None = None, **parts: Any) -> PlanView:
    return viewed(a_catalogue(*tests, device=a_device(kind, **(device or {})), **parts))


def text_of(view: PlanView, start: str) -> str:
    """Return what is said of a statement, its narrow spaces made plain ones."""
    found = [each.text for group in view.groups for each in group.statements if each.title.startswith(start)]
    assert len(found) == 1, [each.title for group in view.groups for each in group.statements]
    return found[0].replace(THIN, " ")


def heading_of(view: PlanView, start: str) -> str:
    """Return under which heading a statement stands."""
    return next(group.heading for group in view.groups for each in group.statements if each.title.startswith(start))


def session_of(view: PlanView, start: str) -> tuple[str, ...]:
    """Return the sentences of a session, its heading first."""
    found = [(each.heading, *each.sentences) for each in view.sessions if each.heading.startswith(start)]
    assert len(found) == 1, [each.heading for each in view.sessions]
    return tuple(sentence.replace(THIN, " ") for sentence in found[0])


def by_eight(*factors: float) -> DeviceTest:
    return a_test(donned(one_each(*factors), STANDARD, protocol="eight-standard-exercises"))


def claimed(**means: Any) -> Data:
    return {"claims": [CLAIM | ({"means": means} if means else {})]}


SHARE = "Which share of wearers reach"
OTHERS = "Above which fit factor"
SIZES = (
    "At least 90 in 100, with 90 % confidence: 22 wearers in all (0.9 to the power of 22 is 0.0985), so {} more who "
    "all reach it; where one more does not, 38 in all. At least 95 in 100, with 95 % confidence: 59 wearers in all "
    "(0.95 to the power of 59 is 0.0485), so {} more who all reach it; where one more does not, 93 in all."
)


@pytest.mark.parametrize(
    ("factors", "text"),
    [
        ([], f"Nobody was tested for it so far. {SIZES.format(22, 59)}"),
        ([150.0], f"So far the one wearer tested reached it, at the first donning. {SIZES.format(21, 58)}"),
        ([150.0, 300.0], f"So far both wearers reached it, at the first donning. {SIZES.format(20, 57)}"),
        ([150.0] * 12, f"So far all twelve wearers reached it, at the first donning. {SIZES.format(10, 47)}"),
        (
            [150.0] * 11 + [50.0],
            "So far 11 of twelve wearers reached it, at the first donning. At least 90 in 100, with 90 % confidence: "
            "38 wearers in all with one failure (were it just 90 in 100, so few failures would have a probability of "
            "0.0953), so 26 more who all reach it; where one more does not, 52 in all. At least 95 in 100, with 95 % "
            "confidence: 93 wearers in all with one failure (were it just 95 in 100, so few failures would have a "
            "probability of 0.0500), so 81 more who all reach it; where one more does not, 124 in all.",
        ),
        (
            [150.0, 50.0] * 3,
            "So far 3 of six wearers reached it, at the first donning. At least 90 in 100, with 90 % confidence: those "
            "tested so far speak against so large a share, with the same confidence. At least 95 in 100, with 95 % "
            "confidence: those tested so far speak against so large a share, with the same confidence.",
        ),
        (
            [150.0] * 22,
            "So far all 22 wearers reached it, at the first donning. At least 90 in 100, with 90 % confidence: shown; "
            "it takes 22 wearers. At least 95 in 100, with 95 % confidence: 59 wearers in all (0.95 to the power of 59 "
            "is 0.0485), so 37 more who all reach it; where one more does not, 93 in all.",
        ),
    ],
)
def test_the_share_of_wearers(factors: list[float], text: str) -> None:
    tests = [by_eight(*factors)] if factors else []
    found = view(*tests, kind=FFP)
    assert text_of(found, "Which share of wearers reach the fit-test pass level 100, however they spread") == text
    assert heading_of(found, SHARE) == ("What can be said in part" if factors else "What lacks evidence")


def test_without_a_level_it_is_the_lowest_of_those_tested() -> None:
    fit = [a_session(readings("30 /cm3", "30 /cm3", "30 /cm3"), blower="high")]
    text = text_of(view(a_test(fit)), "Which share of wearers reach the lowest fit factor of those tested")
    assert text.startswith(
        "One wearer so far. At least 90 in 100, with 90 % confidence: 22 wearers in all (0.9 to the power of 22 is "
        "0.0985), so 21 more; the second lowest would do with 38. "
    )
    title = "Which share of wearers reach the claimed fit factor of 50, however they spread"
    assert text_of(view(a_test(fit), device=claimed(fit_factor_at_least=50.0)), title).startswith(
        "So far the one wearer tested reached it"
    )


@pytest.mark.parametrize(
    ("factors", "text"),
    [
        ([], "Nobody wore it so far."),
        ([150.0], "One wearer does not show how wearers differ: a second one is the least."),
        (
            [20.0, 500.0],
            "So far two wearers. By calculation 60 wearers with this mean and spread would give a bound above 1; no "
            "promise.",
        ),
        (
            [150.0, 200.0, 260.0, 180.0],
            "Above 59, from four wearers. By calculation 11 wearers with this mean and spread would bring it to 100; "
            "no promise. On record in test.",
        ),
        (
            [90.0, 120.0, 105.0],
            "Above 34, from three wearers. With this mean and spread no number of wearers up to a thousand would bring "
            "it to 100. On record in test.",
        ),
        ([800.0, 820.0, 840.0, 830.0], "Above 730, from four wearers. It lies at 100 or above. On record in test."),
        (
            [50.0] * 5 + [500.0] * 5,
            "The results do not look log-normal, so that this is not stated; the share of wearers below is.",
        ),
        ([150.0, 150.0], "The results are all the same, so that they show no spread."),
    ],
)
def test_the_factor_of_others(factors: list[float], text: str) -> None:
    assert text_of(view(*([by_eight(*factors)] if factors else []), kind=FFP), OTHERS) == text


def test_bounds_alone_carry_no_bound_of_others() -> None:
    fit = donned({"w1": [NOTHING_COUNTED], "w2": [NOTHING_COUNTED]})
    assert text_of(view(a_test(fit), kind=FFP), OTHERS) == (
        "Some results are known only as “at least”, and no bound follows from such. Longer counting helps."
    )


def test_the_middle_is_marked_as_a_calculation() -> None:
    start = "Where the middle (geometric mean) of such wearers’ fit factors lies, within narrow limits"
    few, enough = view(by_eight(20.0, 500.0), kind=FFP), view(by_eight(150.0, 200.0, 260.0, 180.0), kind=FFP)
    # source: scipy 1.17.1: the first n with stats.t.ppf(0.975, n - 1) / sqrt(n) * ln(9.742) <= ln(1.5) is 124
    assert text_of(few, start) == (
        "Two wearers so far, who differ by a factor of 9.74 (geometric standard deviation). By calculation 124 wearers "
        "with this spread would do for 95 % limits within a factor of 1.5 of it; no promise."
    )
    assert text_of(enough, start) == (
        "Four wearers so far, who differ by a factor of 1.26 (geometric standard deviation). By calculation four "
        "wearers with this spread do for 95 % limits within a factor of 1.5 of it; no promise."
    )


FLOW = "How its air stands to"
STATES = "What it delivers in each state that counts"
STEADY = (184.0, 186.0, 185.0, 185.0)


def one_run(values: Sequence[float], **changes: Any) -> DeviceTest:
    return a_test([], [a_run(values, **changes)])


@pytest.mark.parametrize(
    ("tests", "text"),
    [
        ([], "No flow at a setting that counts is on record."),
        (
            [flow_test()],
            "The run that governs (high, battery at its alarm, loaded filter) lies wholly at or above it. On record in "
            "test.",
        ),
        (
            [one_run(STEADY)],
            "The run that governs (high, battery fresh, new filter) lies wholly at or above it. Not every state that "
            "counts was measured. On record in test.",
        ),
        (
            [one_run((120.0, 121.0, 120.0, 121.0))],
            "The run that governs (high, battery fresh, new filter) lies wholly below it. Not every state that counts "
            "was measured. On record in test.",
        ),
        (
            [one_run(ASTRIDE)],
            "The run that governs (high, battery fresh, new filter) leaves it undecided. Of several runs the worst "
            "governs, so that a further one decides it only by lying wholly below. The largest part of its "
            "uncertainty, 94 % of the variance, is the certificate of the meter; more readings narrow the scatter of "
            "the readings alone.",
        ),
        (
            [one_run([170.0])],
            "The run that governs (high, battery fresh, new filter) leaves it undecided. Of several runs the worst "
            "governs, so that a further one decides it only by lying wholly below.",
        ),
    ],
)
def test_the_governing_flow(tests: list[DeviceTest], text: str) -> None:
    assert text_of(view(*tests), "How its air stands to the 170 L/min".replace(" L", f"{THIN}L")) == text


def test_a_meter_in_doubt_is_told() -> None:
    lapsed = a_meter(calibrations=[a_calibration(date="2023-01-01", due="2024-01-01")])
    found = view(flow_test(), meter=lapsed)
    assert text_of(found, FLOW).endswith("lies wholly at or above it. Its meter is in doubt. On record in test.")
    assert text_of(found, "What Meter read") == "Its calibration or check puts in doubt test."
    assert session_of(found, "What test measured") == (
        "What test measured, again with an instrument in order",
        "For figures that rest on an instrument in doubt.",
        "Then it can be said: the same figures by an instrument that was in order on the day.",
    )


def test_air_that_is_held_to_nothing() -> None:
    found = view(device={"breath_responsive": True})
    assert text_of(found, FLOW) == "Its air follows the breath; what is required is a constant flow."
    assert heading_of(found, FLOW) == "What nothing measured here can carry"
    bare = replace(a_catalogue(device=a_device(HOOD)), criteria={})
    assert text_of(viewed(bare), FLOW) == "No requirement of supply flow is on record for its kind."


@pytest.mark.parametrize(
    ("tests", "text"),
    [
        ([], "Not measured in any of eight states."),
        ([flow_test()], "Measured in all eight states. On record in test."),
        (
            [
                a_test(
                    [], [a_run(STEADY, id=f"{a}{b}", setting=a, battery=b) for a in ("low", "high") for b in ("fresh",)]
                )
            ],
            "Measured in two of eight states. Not measured: low, battery fresh, loaded filter; low, battery at its "
            "alarm, new filter; low, battery at its alarm, loaded filter; high, battery fresh, loaded filter; high, "
            "battery at its alarm, new filter; high, battery at its alarm, loaded filter. On record in test.",
        ),
    ],
)
def test_states(tests: list[DeviceTest], text: str) -> None:
    assert text_of(view(*tests), STATES) == text


@pytest.mark.parametrize(
    ("tests", "means", "text"),
    [
        (
            [],
            {"run_time_at_least": "4 h"},
            "It is not tested. No time above the required flow of the device as supplied is on record.",
        ),
        ([flow_test()], {"supply_flow_at_least": "150 L/min"}, "It is supported by these tests."),
        (
            [flow_test()],
            {"supply_flow_at_least": "200 L/min"},
            "It is contradicted by these tests. The whole 95 % interval of this figure lies below what is claimed.",
        ),
        (
            [flow_test()],
            {"supply_flow_at_least": "185 L/min"},
            "It is undecided by these tests. What is claimed lies within the 95 % interval of a figure. That figure "
            "stands, so that a further one can only contradict the claim, by lying wholly below.",
        ),
        ([], {}, "Nothing that is measured here could show whether this is so."),
    ],
)
def test_claims(tests: list[DeviceTest], means: Data, text: str) -> None:
    assert text_of(view(*tests, device=claimed(**means)), "Whether it is as its maker says: “So much”") == text


def test_sessions_of_a_facepiece_with_a_blower() -> None:
    found = view(kind=HALF)
    assert session_of(found, "Flow at low and high: battery fresh, new filter") == (
        "Flow at low and high: battery fresh, new filter; ten readings or more of each",
        "For a requirement that governs the device.",
        "Then it can be said: how its air stands to what is asked of it; what it delivers in that state.",
    )
    assert session_of(found, "One wearer, one donning, blower off") == (
        f"One wearer, one donning, blower off, by {EIGHT}; stop at once where breathing is hard",
        "For what bears on harm.",
        "Then it can be said: how the facepiece itself seals on them.",
        "Time: about 7.2 min of exercises in one donning; getting ready and outside air come on top.",
    )
    assert session_of(found, "One wearer, one donning at each setting") == (
        "One wearer, one donning at each setting, blower at low and high, by a protocol of your choice, the same for "
        "all",
        "For what bears on harm.",
        "Then it can be said: what the fit factor was at that setting; what the fit factor was on that wearer, that "
        "day.",
    )
    assert session_of(found, "Run-down at low and high") == (
        "Run-down at low and high: logged from a full battery until the blower stops, the time of each alarm noted",
        "For the time on one charge.",
        "Then it can be said: how long its air is enough on one charge there.",
    )


def test_a_setting_that_is_called_on() -> None:
    power = {"source": "battery", "energy": {"not_recorded": "no"}, "settings": ["on"]}
    found = view(device={"power": power})
    assert text_of(found, "How long its air is enough") == "Not run down at its one setting."
    assert session_of(found, "One wearer")[0] == (
        "One wearer, one donning, blower on, by a protocol of your choice, the same for all"
    )


def test_sessions_of_wearers() -> None:
    found = view(by_eight(20.0, 500.0), kind=FFP)
    assert session_of(found, "Wearers A and B again") == (
        f"Wearers A and B again and one new wearer, until each has donned it three times: seven donnings, by {EIGHT}",
        "For what can be said of wearers.",
        "Then it can be said: how far one wearer’s donnings scatter.",
        "Time: about 51 min of exercises in seven donnings; getting ready and outside air come on top.",
    )
    assert session_of(found, "36 new wearers") == (
        f"36 new wearers, one donning each, by {EIGHT}",
        "For what can be said of wearers.",
        "Then it can be said: at least 90 in 100 wearers like these reach a fit factor of 100, with 90 % confidence, "
        "should none of the new ones fail to.",
        "Time: about 261 min of exercises in 36 donnings; getting ready and outside air come on top.",
    )
    first = session_of(view(kind=FFP), "One new wearer")
    assert first[2] == "Then it can be said: what the fit factor was on that wearer, that day."
    second = session_of(view(by_eight(150.0), kind=FFP), "One new wearer")
    assert second[2] == (
        "Then it can be said: how far two wearers differ, which is the least that says anything of others."
    )


def test_what_only_contradicts_is_said_so_before_the_session() -> None:
    found = view(one_run(ASTRIDE), device=claimed(supply_flow_at_least="170 L/min"))
    assert session_of(found, "Flow at high and low: battery fresh, new filter")[2] == (
        "Then it can be said: whether its air lies wholly below what is asked of it; whether the claim “So much” is "
        "contradicted; what it delivers in that state."
    )


def test_beside_another_device() -> None:
    ours = worn("first", each_wears("300 /cm3", "250 /cm3", "200 /cm3"))
    theirs = worn("second", each_wears("30 /cm3", "40 /cm3", "25 /cm3", "35 /cm3"))
    found = viewed(several([ours, theirs], {"first": {}, "second": {}}), "first")
    assert text_of(found, "Whether it can be told apart from Second") == (
        "Three wearers wore both so far; with fewer than six such wearers the exact test cannot tell two devices "
        "apart, however clear the difference."
    )
    assert session_of(found, "Beside Second") == (
        "Beside Second: wearer D with the one not yet worn and two new wearers with both, by “Three exercises”, under "
        "the same conditions",
        "For a comparison with another device.",
        "Then it can be said: whether it can be told apart from Second, should each wearer’s factor differ alike.",
        "Time: about 10 min of exercises in five donnings; getting ready and outside air come on top.",
    )


def test_instruments_in_words() -> None:
    catalogue = a_catalogue(device=a_device(HOOD))
    for day, text in (
        ("2024-12-31", "Meter: no calibration by that day. Have it calibrated before."),
        ("2025-03-01", "Meter: in date, due on 1 January 2026."),
        ("2026-03-01", "Meter: lapsed, it was due on 1 January 2026. Have it calibrated before."),
    ):
        found = viewed(catalogue, day=datetime.date.fromisoformat(day))
        assert found.instruments[-1] == text
    assert found.day == "Instruments on 1 March 2026"
    assert view(flow_test()).instruments[-1] == (
        "That is the day of the newest test on record. Name the day that you plan for by `--on`."
    )


def test_a_withdrawn_device() -> None:
    found = view(device={"withdrawn": {"date": "2025-08-01", "reason": "It was the wrong one."}})
    assert found.lead == ("The device was withdrawn on 1 August 2025; nothing is planned for it.",)
    assert (found.sessions, found.groups, found.assumptions, found.instruments) == ((), (), (), ())


def test_every_activity_tier_and_heading_has_words() -> None:
    assert set(session_words._HEADINGS) == set(Activity)
    assert set(session_words._FOR) == set(Tier)


def test_every_device_of_the_demo_fits_80_columns_and_promises_nothing(
    demo: Catalogue, scored: CatalogueResult
) -> None:
    catalogue = published(demo)
    rules: set[str] = set()
    for device in catalogue.devices.values():
        plan = plan_of(Reviewed(device, catalogue, scored), None)
        rules |= {statement.rule for statement in plan.statements}
        text = plan_text(present_plan(plan, Context(catalogue, ALONE)))
        assert [line for line in text.splitlines() if len(line) > 80] == [], device.id
        assert NEVER.search(text) is None, device.id
        assert text.startswith(f"{device.name}: what to test next\n")
    # What no device of the demo raises has a test of its own above.
    assert set(statement_words._WORDS) - rules <= {"flow-without-requirement"}
