"""How fit sessions were done: times, zero checks, probe, aerosol, humidity, hands and hair, each with its facts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.model.log import Log, LogSample, Sampling
from generator.model.people import FacialHair
from generator.model.published import published
from generator.model.result import Finding
from tests.presenting.small_sites import given
from tests.scoring.builders import (
    EXERCISES,
    NONE,
    NOTHING_COUNTED,
    Data,
    a_catalogue,
    a_counter,
    a_device,
    a_protocol,
    a_session,
    a_test,
    readings,
    score_all,
    score_one,
)

THREE = readings("3 /cm3", "4 /cm3", "5 /cm3")
CHECKED: Data = {"zero_check": NOTHING_COUNTED}


def of_a_record(fit: list[Data], catalogue: Data | None = None, **record: Any) -> dict[str, Finding]:
    """Return a record's findings by their rules; no rule is raised twice."""
    test = a_test(fit, **record)
    found = score_one(test, a_catalogue(test, **(catalogue or {}))).all_findings
    assert len({finding.rule for finding in found}) == len(found)
    return {finding.rule: finding for finding in found}


def of_the_first(found: dict[str, Finding]) -> Finding:
    (finding,) = found.values()
    return finding


def test_zero_checks_are_missed_once_for_a_record() -> None:
    sessions = [
        a_session(THREE, id="a"),
        a_session(THREE, id="b", **CHECKED),
        a_session(THREE, id="c"),
        # Factors as given have no concentration that a zero check belongs to; what was not completed has no figure.
        given(50.0, id="d"),
        a_session(id="e", outcome="aborted", reason="a strap broke"),
    ]
    found = of_a_record(sessions)
    assert found["zero-check-missing"] == Finding(
        rule="zero-check-missing", where="fit", facts={"sessions": 2, "of": 3}
    )
    assert set(found) == {"zero-check-missing", "attempts-not-completed"}


@pytest.mark.parametrize(
    "check",
    [
        {"concentration": "0.31 /cm3", "time": "60 s"},
        # source: 31 particles in 100 cm3/min for 60 s are 0.31 /cm3
        {"count": 31, "time": "60 s"},
    ],
)
def test_a_zero_check_is_held_against_the_lowest_reading_inside(check: Data) -> None:
    finding = of_the_first(of_a_record([a_session(THREE, zero_check=check)]))
    assert (finding.rule, finding.where) == ("zero-check-too-high", "fit[am]")
    assert finding.facts == pytest.approx({"zero_per_cm3": 0.31, "lowest_in_mask_per_cm3": 3.0, "noted_above": 0.1})


def test_a_count_of_a_counter_whose_flow_is_not_known_is_no_concentration() -> None:
    counter = a_counter(counter={"counted_flow": NONE})
    session = a_session(THREE, zero_check={"count": 31, "time": "60 s"})
    assert of_a_record([session], {"counter": counter}) == {}


@pytest.mark.parametrize(("time", "share"), [("19 s", 19 / 40), ("45 s", 45 / 40)])
def test_exercises_that_were_too_short_or_too_long(time: str, share: float) -> None:
    finding = of_the_first(of_a_record([a_session(THREE, in_mask_time=time, **CHECKED)]))
    # source: by hand, 40 s in the protocol
    assert finding.facts == {
        "exercises": ", ".join(EXERCISES),
        "count": 3,
        "smallest_share_of_duration": pytest.approx(share),
        "largest_share_of_duration": pytest.approx(share),
        "least": 0.5,
        "most": 1.1,
    }


def test_an_exercise_that_does_not_count_is_not_judged_by_its_time() -> None:
    steps = [{"id": name, "name": name, "duration": "40 s", "counted": name != "talking"} for name in EXERCISES]
    steps[1]["duration"] = "15 s"
    protocol = a_protocol(exercises=steps)
    assert of_a_record([a_session(THREE, **CHECKED)], {"protocol": protocol}) == {}
    # The same where it counts: 40 s are more than 1.1 times 15 s.
    steps[1]["counted"] = True
    counting = a_protocol(exercises=steps)
    found = of_a_record([a_session(THREE, **CHECKED)], {"protocol": counting})
    assert of_the_first(found).facts["exercises"] == "talking"


def a_log(seconds: int) -> Log:
    """Return a log of three exercises of so many seconds each, one reading a second, ambient air between them."""
    kinds = [(Sampling.AMBIENT, "", 5)]
    for name in EXERCISES:
        kinds += [(Sampling.IN_MASK, name, seconds), (Sampling.AMBIENT, "", 5)]
    rows = [(sampling, name) for sampling, name, times in kinds for _ in range(times)]
    values = {Sampling.AMBIENT: 3000.0, Sampling.IN_MASK: 30.0}
    samples = [
        LogSample(time_s=float(at), concentration_per_cm3=values[kind] + at % 7, exercise=name, sampling=kind)
        for at, (kind, name) in enumerate(rows)
    ]
    return Log(file="logs/x.csv", sha256="0" * 64, samples=tuple(samples))


@pytest.mark.parametrize(("seconds", "noted"), [(19, True), (20, False), (44, False), (45, True)])
def test_of_a_log_the_seconds_inside_are_counted(seconds: int, noted: bool) -> None:
    columns = {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"}
    log = {"file": "logs/x.csv", "sha256": "0" * 64, "unit": "/cm3", "columns": columns}
    session = a_session(log=log, in_mask_time=None, ambient_time=None, **CHECKED)
    found = of_a_record([session], {"logs": {"logs/x.csv": a_log(seconds)}})
    assert ("exercise-times-unlike-protocol" in found) is noted


def test_what_was_adjusted_is_told_of_sessions_that_were_voided() -> None:
    voided: Data = {"outcome": "voided", "reason": "a strap slipped"}
    sessions = [
        a_session(THREE, **CHECKED),
        a_session(id="b", adjusted="a strap", **voided),
        a_session(id="c", **voided),
    ]
    found = of_a_record(sessions)
    assert set(found) == {"adjusted-during-test", "attempts-not-completed"}
    assert found["adjusted-during-test"].facts == {"sessions": "b", "count": 1, "of": 3}


def test_a_probe_belongs_to_particles_only() -> None:
    pressure = a_protocol("none", principle="controlled_negative_pressure")
    assert of_a_record([given(50.0)], {"protocol": pressure}, probe=None) == {}
    finding = of_the_first(of_a_record([given(50.0)], probe=None))
    assert finding == Finding(rule="probe-not-recorded", where="probe", facts={"sessions": 1})
    aborted = a_session(id="b", outcome="aborted", reason="a strap broke")
    assert set(of_a_record([aborted], probe=None)) == {"attempts-not-completed"}


SPRAYED = {"protocol": a_protocol(generated_aerosol=True)}


@pytest.mark.parametrize(
    ("humidity", "rule", "facts"),
    [
        # source: 29 CFR 1910.134 Appendix A, Part I.C.2(a)(12): not above 50 %
        ("50 %", None, {}),
        ("51 %", "humid-salt-aerosol", {"humidity": 0.51, "highest": 0.5}),
        ("0.51 1", "humid-salt-aerosol", {"humidity": 0.51, "highest": 0.5}),
        (NONE, "salt-humidity-not-recorded", {"sessions": 1}),
    ],
)
def test_salt_wants_dry_air(humidity: Any, rule: str | None, facts: Data) -> None:
    air = {"temperature": "20 degC", "pressure": "101325 Pa", "humidity": humidity}
    for aerosol in ("salt", "oil", "room_air"):
        catalogue = SPRAYED if aerosol != "room_air" else {}
        found = of_a_record([a_session(THREE, **CHECKED)], catalogue, environment=air, aerosol=aerosol)
        assert set(found) == ({rule} if aerosol == "salt" and rule else set())
        for finding in found.values():
            assert finding.facts == facts


def test_sprayed_particles_under_a_protocol_for_the_rooms_own() -> None:
    finding = of_the_first(of_a_record([a_session(THREE, **CHECKED)], aerosol="oil"))
    assert finding.rule == "generated-aerosol-unlike-protocol"
    assert finding.facts == {"aerosol": "oil", "protocols": "three-exercises", "sessions": 1}


def with_hair(kind: str, *wearers: str) -> Catalogue:
    """Return a catalogue of three sessions of three wearers, some of whom had hair where a seal lies."""
    sessions = [given(50.0, id=name, wearer=name) for name in ("wren", "plover", "dunlin")]
    sessions.append(a_session(id="x", wearer="wren", donning=2, outcome="aborted", reason="a strap broke"))
    catalogue = a_catalogue(a_test(sessions), device=a_device(kind))
    changed = {name: catalogue.wearers[name].model_copy(update={"facial_hair": FacialHair.BEARD}) for name in wearers}
    return replace(catalogue, wearers={**catalogue.wearers, **changed})


def test_hair_under_a_seal_is_a_number_of_sessions_and_names_nobody() -> None:
    result = score_all(with_hair("elastomeric_half_facepiece", "wren", "dunlin")).records["test"]
    found = {finding.rule: finding for finding in result.all_findings}
    # The session that was aborted is not counted.
    assert found["hair-under-seal"] == Finding(rule="hair-under-seal", where="fit", facts={"sessions": 2, "of": 3})
    assert "hair-under-seal" not in {
        finding.rule for finding in score_all(with_hair("elastomeric_half_facepiece")).records["test"].all_findings
    }


@pytest.mark.parametrize("kind", ["loose_powered_hood", "surgical_mask", "face_covering"])
def test_of_a_device_without_a_seal_nothing_of_hair_is_published(kind: str) -> None:
    out = published(with_hair(kind, "wren", "dunlin")).device_tests["test"]
    assert out.sessions_with_hair_at_seal == 0
