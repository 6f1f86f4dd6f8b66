"""What of a record contradicts itself or another one, and the nearest case that does not."""

from __future__ import annotations

from typing import Any

import pytest

from generator.contributing.checking.finding_words import slip_words
from generator.model.device_test import DeviceTest
from generator.scoring.record_slips import Slip, copied_readings, slips_of_instrument, slips_of_test
from tests.scoring.builders import a_calibration, a_counter, a_run, a_session, a_test

DAYS = {"received": "2025-05-01", "performed": "2025-06-01", "issued": "2025-07-01"}


def told(slip: Slip) -> tuple[str, tuple[str | int, ...], str]:
    return slip.rule, slip.steps, slip_words(slip)[0]


def noise(level: str, background: str) -> dict[str, Any]:
    reading = {"id": "ear", "setting": "high", "where": "ear", "level": level, "background": background}
    return {"burden": {"noise": [reading]}}


@pytest.mark.parametrize(
    ("test", "expected"),
    [
        # The middle one of 184, 185 and 186 is 185; five times that are 925.
        (
            a_test(flow=[a_run([184, 185, 925, 186])]),
            [("reading-apart", ("flow", 0, "readings", "values", 2), "925 L/min beside others around 185")],
        ),
        (a_test(flow=[a_run([184, 185, 924, 186])]), []),
        (
            a_test(flow=[a_run([184, 18.5, 186])]),
            [("reading-apart", ("flow", 0, "readings", "values", 1), "18.5 L/min beside others around 185")],
        ),
        # Of two nobody can say which is wrong.
        (a_test(flow=[a_run([184, 18.5])]), []),
        (
            a_test(flow=[a_run([184] * 6)]),
            [("readings-all-alike", ("flow", 0, "readings", "values"), "6 readings of 184 L/min each")],
        ),
        (a_test(flow=[a_run([184] * 5)]), []),
        (a_test(flow=[a_run([184] * 5 + [184.1])]), []),
        (
            a_test(**noise("60 dB(A)", "61 dB(A)")),
            [
                (
                    "background-above-level",
                    ("burden", "noise", 0, "background"),
                    "a background of 61 dB(A), above the level of 60 dB(A)",
                )
            ],
        ),
        (a_test(**noise("60 dB(A)", "60 dB(A)")), []),
        # Three years of 366 days: 2025-06-01 less 1098 days is 2022-05-30.
        (
            a_test(flow=[a_run([184])], dates={**DAYS, "received": "2022-05-29"}),
            [
                (
                    "days-far-apart",
                    ("dates", "performed"),
                    "`performed` 2025-06-01, long after `received` 2022-05-29",
                )
            ],
        ),
        (a_test(flow=[a_run([184])], dates={**DAYS, "received": "2022-05-30"}), []),
    ],
)
def test_what_contradicts_itself(test: DeviceTest, expected: list[tuple[str, tuple[str | int, ...], str]]) -> None:
    assert [told(slip) for slip in slips_of_test(test)] == expected


def ambient(*values: str) -> dict[str, Any]:
    readings = [
        {"exercise": name, "ambient_before": value, "in_mask": "3 /cm3", "ambient_after": "3000 /cm3"}
        for name, value in zip(("standing", "talking", "bending"), values, strict=True)
    ]
    session = a_session(exercises=readings)
    for key in ("ambient_before", "ambient_after"):
        session.pop(key, None)
    return session


def test_an_ambient_sample_stands_apart_from_the_others_of_its_session() -> None:
    test = a_test(fit=[ambient("3000 /cm3", "300 /cm3", "3100 /cm3")])
    assert [told(slip) for slip in slips_of_test(test)] == [
        (
            "reading-apart",
            ("fit", 0, "exercises", 1, "ambient_before"),
            "300 /cm3 beside others around 3000",
        )
    ]
    assert list(slips_of_test(a_test(fit=[ambient("3000 /cm3", "700 /cm3", "3100 /cm3")]))) == []


def test_a_calibration_that_is_due_after_more_than_five_years() -> None:
    # 2025-01-10 and 1830 days: 2030-01-14
    late = a_counter(calibrations=[a_calibration(date="2025-01-10", due="2030-01-15")])
    in_time = a_counter(calibrations=[a_calibration(date="2025-01-10", due="2030-01-14")])
    assert [told(slip) for slip in slips_of_instrument(late)] == [
        ("days-far-apart", ("calibrations", 0, "due"), "`due` 2030-01-15, long after `date` 2025-01-10")
    ]
    assert list(slips_of_instrument(in_time)) == []


def test_readings_that_another_record_has_were_copied() -> None:
    first = a_test(id="first", flow=[a_run([184, 185, 186])])
    second = a_test(id="second", flow=[a_run([180, 181, 182]), a_run([184, 185, 186], id="low", setting="low")])
    ((record, slip),) = copied_readings([first, second])
    assert record == "second"
    assert told(slip) == ("readings-copied", ("flow", 1, "readings"), "the very readings of first, flow[high]")
    # The same in another unit, in another order, or two of them, are no copies.
    for other in (a_run([184, 185, 186], "cfm"), a_run([185, 184, 186]), a_run([184, 185])):
        assert list(copied_readings([first, a_test(id="third", flow=[other])])) == []


def test_a_session_that_was_copied_within_a_record() -> None:
    exercises = [
        {"exercise": name, "in_mask": f"{place}.3 /cm3"}
        for place, name in enumerate(("standing", "talking", "bending"))
    ]
    one, two = a_session(exercises, id="a"), a_session(exercises, id="b")
    ((record, slip),) = copied_readings([a_test(fit=[one, two])])
    assert record == "test"
    assert told(slip) == ("readings-copied", ("fit", 1, "exercises"), "the very readings of fit[a]")
