"""Claims held against what was measured: the guarded decision, over every figure that a claim is about."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.claim_result import ClaimOutcome, ClaimResult
from generator.model.device_test import DeviceTest
from tests.scoring.builders import Data, a_catalogue, a_device, a_run, a_session, a_test, readings, score_all

FLOW = (184.0, 186.0, 185.0, 185.0, 184.0, 186.0, 185.0, 185.0)
"""Mean 185 L/min. With the certificate's 2 % (k = 2) as its main part the 95 % interval is about 181.2 to 188.8."""
HOOD = "loose_powered_hood"


def claim(**means: Any) -> Data:
    return {"quotation": "So much", "where": "leaflet", "date": "2025-02-03", **({"means": means} if means else {})}


def held(*tests: DeviceTest, kind: str = HOOD, device: Data | None = None, **means: Any) -> ClaimResult:
    """Return what becomes of one claim."""
    catalogue = a_catalogue(*tests, device=a_device(kind, claims=[claim(**means)], **(device or {})))
    (result,) = score_all(catalogue).devices["device"].claims
    return result


def flow(*by: float, **changes: Any) -> DeviceTest:
    runs = [a_run([value - each for value in FLOW], id=f"run{number}") for number, each in enumerate(by)]
    return a_test([], runs, **changes)


@pytest.mark.parametrize(
    ("claimed", "outcome"),
    [
        ("181 L/min", ClaimOutcome.SUPPORTED),
        ("185 L/min", ClaimOutcome.UNDECIDED),
        ("189 L/min", ClaimOutcome.CONTRADICTED),
        ("6 cfm", ClaimOutcome.SUPPORTED),  # 169.9 L/min: the foot is 0.3048 m by definition
        ("7 cfm", ClaimOutcome.CONTRADICTED),  # 198.2 L/min
    ],
)
def test_a_flow_is_held_against_its_whole_interval(claimed: str, outcome: ClaimOutcome) -> None:
    assert held(flow(0), supply_flow_at_least=claimed).outcome is outcome


def test_a_higher_claim_is_never_better_supported() -> None:
    order = [ClaimOutcome.SUPPORTED, ClaimOutcome.UNDECIDED, ClaimOutcome.CONTRADICTED]
    outcomes = [held(flow(0, 3), supply_flow_at_least=f"{value} L/min").outcome for value in range(170, 200)]
    places = [order.index(outcome) for outcome in outcomes]
    assert places == sorted(places)
    assert set(places) == {0, 1, 2}


def test_the_lowest_run_decides() -> None:
    result = held(flow(0, 20, 10), supply_flow_at_least="180 L/min")
    assert (result.outcome, result.figures, result.record) == (ClaimOutcome.CONTRADICTED, 3, "test")
    assert result.figure is not None
    assert result.figure.key.startswith("flow.run1.")


def test_an_undecided_figure_is_named_though_a_lower_one_supports() -> None:
    # A single reading has no interval, so it leaves undecided what the lower run, with one, supports.
    single = a_run([190.0], id="single")
    result = held(a_test([], [a_run(FLOW), single]), supply_flow_at_least="170 L/min")
    assert (result.outcome, result.reason) == (ClaimOutcome.UNDECIDED, "A figure without an interval cannot decide it.")
    assert result.figure is not None
    assert result.figure.key.startswith("flow.single.")


def test_a_claim_of_one_setting_leaves_the_others_out() -> None:
    low = a_run([value - 60 for value in FLOW], id="low", setting="low")
    test = a_test([], [a_run(FLOW), low])
    assert held(test, supply_flow_at_least="170 L/min", setting="high").outcome is ClaimOutcome.SUPPORTED
    assert held(test, supply_flow_at_least="170 L/min").outcome is ClaimOutcome.CONTRADICTED
    none = held(a_test([], [low]), supply_flow_at_least="170 L/min", setting="high")
    assert none.outcome is ClaimOutcome.NOT_TESTED
    assert none.reason == "No air flow at the setting high of the device as supplied is on record."


CHANGED = {"state": "modified", "description": "changed", "changes": ["a clip"]}
WITHDRAWN = {"date": "2025-08-01", "reason": "the wrong hose"}


@pytest.mark.parametrize("changes", [{"configuration": CHANGED}, {"withdrawn": WITHDRAWN}])
def test_modified_devices_and_withdrawn_records_say_nothing_of_a_claim(changes: Data) -> None:
    result = held(flow(40, **changes), supply_flow_at_least="170 L/min")
    assert (result.outcome, result.figure) == (ClaimOutcome.NOT_TESTED, None)


def test_a_flow_that_follows_the_breath_is_not_tested_by_a_steady_reading() -> None:
    result = held(flow(40), device={"breath_responsive": True}, supply_flow_at_least="170 L/min")
    assert result.outcome is ClaimOutcome.NOT_TESTED
    assert result.reason.startswith("The air flow follows the breath")


def test_words_that_nothing_here_can_measure_are_not_tested() -> None:
    result = held(flow(0))
    assert (result.outcome, result.claimed) == (ClaimOutcome.NOT_TESTED, None)
    assert result.reason == "Nothing that is measured here could show whether this is so."


def worn(*inside: int | str | float, **changes: Any) -> Data:
    return a_session(readings(*inside), **changes)


@pytest.mark.parametrize(
    ("claimed", "outcome"),
    # 3000 /cm3 outside; 200 counts in 40 s at 100 cm3/min are 3 /cm3 inside: a factor of 1000 in each exercise, with
    # counting limits of about 8 % (Garwood's for 600 counts).
    [
        (900, ClaimOutcome.SUPPORTED),
        (1000, ClaimOutcome.UNDECIDED),
        (1200, ClaimOutcome.CONTRADICTED),
    ],
)
def test_a_fit_factor_is_held_against_its_counting_interval(claimed: float, outcome: ClaimOutcome) -> None:
    test = a_test([worn(200, 200, 200)])
    assert held(test, kind="filtering_facepiece", fit_factor_at_least=claimed).outcome is outcome


def test_a_supported_fit_factor_says_for_whom() -> None:
    result = held(a_test([worn(200, 200, 200)]), kind="filtering_facepiece", fit_factor_at_least=900.0)
    assert result.reason == (
        "The 95 % intervals of all figures lie at or above what is claimed. It holds for the wearers tested; its "
        "interval covers counting, not the next donning."
    )


def test_a_lower_figure_without_an_interval_does_not_take_the_place_of_the_one_that_decides() -> None:
    # 49 as the instrument gave it has no interval; 1000 by counts has one, and lies wholly below 1200.
    test = a_test([worn(49.0, 49.0, 49.0, id="given"), worn(200, 200, 200, id="counted", donning=2)])
    result = held(test, kind="filtering_facepiece", fit_factor_at_least=1200.0)
    assert result.outcome is ClaimOutcome.CONTRADICTED
    assert result.figure is not None
    assert result.figure.key == "fit.counted.overall"
    assert result.reason == (
        "The whole 95 % interval of this figure lies below what is claimed. It holds for the wearers tested; its "
        "interval covers counting, not the next donning."
    )


def test_a_session_that_the_rule_leaves_out_contradicts_nothing() -> None:
    # Factors of 100 and 1000 by counts; the rule leaves out the first donning of the wearer.
    sessions = [worn(2000, 2000, 2000, id="first"), worn(200, 200, 200, id="second", donning=2)]
    rule = {"choice": "without_first_of_each_wearer", "stated": "2025-05-01", "why": "practice"}
    kind = "filtering_facepiece"
    assert held(a_test(sessions), kind=kind, fit_factor_at_least=900.0).outcome is ClaimOutcome.CONTRADICTED
    ruled = held(a_test(sessions, session_rule=rule), kind=kind, fit_factor_at_least=900.0)
    assert (ruled.outcome, ruled.figures) == (ClaimOutcome.SUPPORTED, 1)


def test_a_factor_as_given_decides_nothing() -> None:
    test = a_test([worn(50.0, 50.0, 50.0)])
    result = held(test, kind="filtering_facepiece", fit_factor_at_least=100.0)
    assert result.outcome is ClaimOutcome.UNDECIDED


def test_a_least_value_supports_a_lower_claim_and_contradicts_none() -> None:
    test = a_test([worn(0, 0, 0)])
    assert held(test, kind="filtering_facepiece", fit_factor_at_least=100.0).outcome is ClaimOutcome.SUPPORTED
    assert held(test, kind="filtering_facepiece", fit_factor_at_least=1e8).outcome is ClaimOutcome.UNDECIDED


def test_the_blower_off_is_no_setting_that_a_claim_is_about() -> None:
    off, on = worn(20_000, 20_000, 20_000, blower="off"), worn(200, 200, 200, id="pm", blower="high")
    assert held(a_test([off, on]), fit_factor_at_least=900.0).outcome is ClaimOutcome.SUPPORTED
    assert held(a_test([off, on]), fit_factor_at_least=900.0, setting="off").outcome is ClaimOutcome.CONTRADICTED


def test_a_contradicted_claim_is_a_finding() -> None:
    device = a_device(HOOD, claims=[claim(), claim(supply_flow_at_least="240 L/min")])
    (finding,) = [
        finding
        for finding in score_all(a_catalogue(flow(0), device=device)).devices["device"].findings
        if finding.rule == "claim-contradicted"
    ]
    assert finding.where == "devices/device: claims[1]"
    assert (finding.facts["claimed"], finding.facts["record"]) == (240.0, "test")
