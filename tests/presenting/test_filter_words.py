"""What is said of filters, case by case."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.filter_result import PressureDropResult
from generator.model.filter_test import FilterPenetration, FilterTest
from generator.model.result import Figure, Outcome, Verdict
from generator.presenting.filter_words import (
    above_limit_words,
    drop_words,
    facepiece_velocity,
    flow_words,
    limit_words,
    medium_words,
    noticed_words,
    outcome_words,
    particle_words,
    penetration_words,
)
from tests.scoring.test_filter_topic import OF_ROOM, penetration

THIN = "\N{NARROW NO-BREAK SPACE}"


def measured(**changes: Any) -> FilterPenetration:
    return FilterPenetration.model_validate(penetration(**changes), strict=False)


def figure(value: float | None, unit: str) -> Figure:
    return Figure(
        key="filter.in.x",
        name="x",
        value=value,
        unit=unit,
        sample_size=1,
        sample_of="points",
        method="drop-between-points",
        not_scored="why" if value is None else None,
    )


def a_verdict(outcome: Outcome, benchmark: bool = False, limit: float | None = 343.23275) -> Verdict:
    return Verdict(
        key="filter.in.verdict",
        figure="filter.in.at-85",
        criterion="inhalation-resistance-unpowered" if limit is not None else None,
        outcome=outcome,
        rule="guarded",
        benchmark_only=benchmark,
        limit=limit,
        unit="Pa",
        reason="because",
    )


def a_drop(
    resistance: float | None = 100.0, of: str = "inhalation", blower: str | None = None, verdict: Verdict | None = None
) -> PressureDropResult:
    return PressureDropResult(
        drops="in",
        of=of,
        filter="new",
        blower=blower,
        resistance=figure(resistance, "Pa/(L/s)"),
        off_line=figure(None, "%"),
        together=None,
        at_test_flow=figure(400.0, "Pa"),
        verdict=verdict,
    )


@pytest.mark.parametrize(
    ("changes", "particles", "flow"),
    [
        ({}, f"salt of 75{THIN}nm", f"85{THIN}L/min"),
        ({"aerosol": "oil", "diameter": "0.3 um"}, f"oil of 0.3{THIN}µm", f"85{THIN}L/min"),
        ({"filters_at_once": 2}, f"salt of 75{THIN}nm", f"85{THIN}L/min through two filters together"),
        (
            {"aerosol": "room_air", "diameter": OF_ROOM, "breathing": True},
            "the room's particles",
            f"breathing, 85{THIN}L/min on average",
        ),
    ],
)
def test_which_particles_at_which_flow(changes: Any, particles: str, flow: str) -> None:
    item = measured(**changes)
    assert (particle_words(item), flow_words(item)) == (particles, flow)
    assert penetration_words(item) == f"new filter, {particles}, {flow}"


@pytest.mark.parametrize(
    ("charge", "words"),
    [("charged", "yes, it catches particles by its own charge too"), ("not_charged", "no"), ("not_known", "not known")],
)
def test_whether_the_medium_is_charged(charge: str, words: str) -> None:
    assert medium_words(FilterTest.model_validate({"media_charge": charge}, strict=False)) == words


@pytest.mark.parametrize(
    ("of", "blower", "words"),
    [
        ("filter", None, "the filter alone, new filter"),
        ("hose", None, "the hose alone, new filter"),
        ("filter_and_hose", None, "filter and hose, new filter"),
        ("inhalation", "off", "breathing in, new filter, blower off"),
        ("exhalation", "high", "breathing out, new filter, blower at high"),
    ],
)
def test_what_a_pressure_is_lost_in(of: str, blower: str | None, words: str) -> None:
    assert drop_words(of, "new", blower) == words


@pytest.mark.parametrize(
    ("outcome", "benchmark", "limit", "words"),
    [
        (Outcome.MEETS, False, 343.0, "at or below the limit"),
        (Outcome.DOES_NOT_MEET, False, 343.0, "above the limit"),
        (Outcome.UNDECIDED, False, 343.0, "undecided"),
        (Outcome.DOES_NOT_MEET, True, 343.0, "above the limit, a benchmark only"),
        (Outcome.NOT_APPLICABLE, True, None, "not compared"),
    ],
)
def test_how_a_resistance_stands_to_its_limit(outcome: Outcome, benchmark: bool, limit: float, words: str) -> None:
    assert outcome_words(a_verdict(outcome, benchmark, limit)) == words


@pytest.mark.parametrize(
    ("limit", "blower", "words"),
    [
        (None, None, "because"),
        # source: 42 CFR 84.172(c): 35 mm of water
        (343.23275, None, f"limit 343{THIN}Pa (35{THIN}mmH₂O); because"),
        (
            343.23275,
            "off",
            f"limit 343{THIN}Pa (35{THIN}mmH₂O), for devices that are kept on when the blower fails; because",
        ),
    ],
)
def test_a_limit_stands_in_both_units(limit: float | None, blower: str | None, words: str) -> None:
    assert limit_words(a_verdict(Outcome.MEETS, limit=limit), blower) == words


@pytest.mark.parametrize(
    ("resistance", "place"),
    # source: Kim and others 2015, PMC4499853: 58.8 to 74.5 Pa/(L/s)
    [(58.7, "below"), (58.8, "among"), (74.5, "among"), (74.6, "above")],
)
def test_whether_people_notice_it(resistance: float, place: str) -> None:
    assert f" That lies {place} what people just notice: 58.8 to 74.5 Pa/(L/s) " in noticed_words(a_drop(resistance))


def test_a_running_blower_or_breathing_out_is_not_held_against_what_people_notice() -> None:
    assert noticed_words(a_drop(None)) == noticed_words(a_drop(of="exhalation")) == ""
    assert "with a new filter and the blower off meets" in noticed_words(a_drop(blower="off"))


@pytest.mark.parametrize(
    ("verdict", "blower", "words"),
    [
        (None, None, ""),
        (a_verdict(Outcome.MEETS), None, ""),
        (a_verdict(Outcome.UNDECIDED), None, ""),
        (
            a_verdict(Outcome.DOES_NOT_MEET),
            None,
            f"Breathing in through it costs 400{THIN}Pa at 85 L/min, more than the limit of 343{THIN}Pa "
            "(42 CFR 84.172).",
        ),
        (
            a_verdict(Outcome.DOES_NOT_MEET, benchmark=True),
            "off",
            f"Breathing in through it with its blower off costs 400{THIN}Pa at 85 L/min, more than the benchmark of "
            f"343{THIN}Pa (42 CFR 84.172).",
        ),
    ],
)
def test_a_resistance_above_its_limit(verdict: Verdict | None, blower: str | None, words: str) -> None:
    assert above_limit_words(a_drop(verdict=verdict, blower=blower)) == words


def test_a_facepiece_for_comparison() -> None:
    # source: pint 0.25.3: (85 L/min / (175 cm**2)).to("cm/s") = 8.095
    assert facepiece_velocity() == f"8.10{THIN}cm/s"
