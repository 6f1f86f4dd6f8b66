"""Findings of a record and of a device that no topic owns."""

from __future__ import annotations

import pytest

from tests.scoring.builders import (
    NOTHING_COUNTED,
    Data,
    a_calibration,
    a_catalogue,
    a_counter,
    a_device,
    a_meter,
    a_session,
    a_test,
    readings,
    score_all,
    score_one,
)

FIT = [a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"), zero_check=NOTHING_COUNTED)]


def test_a_clean_record_has_none() -> None:
    test = a_test(FIT)
    assert score_one(test, a_catalogue(test)).all_findings == ()


@pytest.mark.parametrize(
    ("due", "lapsed"),
    # source: by definition, due before the test day of 2025-06-01
    [("2025-05-31", True), ("2025-06-01", False), ("2025-06-02", False)],
)
def test_calibration_that_had_lapsed(due: str, lapsed: bool) -> None:
    test = a_test(FIT)
    counter = a_counter(calibrations=[a_calibration("10 %", due=due)])
    found = score_one(test, a_catalogue(test, counter=counter)).findings
    assert [finding.rule for finding in found] == (["calibration-lapsed"] if lapsed else [])
    if lapsed:
        assert found[0].where == "instruments.particle_counter"
        assert found[0].facts == {
            "instrument": "counter",
            "performed": "2025-06-01",
            "due": "2025-05-31",
            "days_past": 1,
        }


def test_calibration_made_after_the_test_is_missing() -> None:
    test = a_test(FIT)
    meter = a_meter(calibrations=[a_calibration(date="2025-06-02")])
    (finding,) = score_one(test, a_catalogue(test, meter=meter)).findings
    assert (finding.rule, finding.where) == ("calibration-missing", "instruments.flow_meter")


def test_instruments_that_were_not_used_raise_nothing() -> None:
    test = a_test(FIT, instruments={"particle_counter": "counter"})
    meter = a_meter(calibrations=[a_calibration(date="2025-06-02")])
    assert score_one(test, a_catalogue(test, meter=meter)).findings == ()


def test_modified_and_lent() -> None:
    configuration: Data = {"state": "modified", "description": "taped", "changes": ["tape", "clip"]}
    sample: Data = {
        "obtained": "lent",
        "source": "the maker",
        "lot": {"not_recorded": "none given"},
        "unit": {"not_recorded": "none given"},
    }
    test = a_test(FIT, configuration=configuration, sample=sample)
    found = {finding.rule: finding.facts for finding in score_one(test, a_catalogue(test)).findings}
    assert found == {
        "modified": {"changes": "tape; clip"},
        "sample-not-bought": {"obtained": "lent", "source": "the maker"},
    }


def test_device_findings() -> None:
    path: Data = {
        "inlets": [{"where": "front", "filtered": True}],
        "outlets": [],
        "seals": "none",
        "powered_exhaust": {"where": "right of the inlet", "beside_inlet": True},
    }
    device = a_device(home_built=True, air_path=path)
    result = score_all(a_catalogue(device=device)).devices["device"]
    assert [(finding.rule, finding.facts) for finding in result.findings] == [
        ("home-built", {}),
        ("powered-exhaust", {"where": "right of the inlet", "beside_inlet": "yes"}),
    ]
    assert {finding.rule for finding in result.all_findings} == {"home-built", "powered-exhaust", "no-wearer"}
