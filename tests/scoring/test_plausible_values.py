"""Which numbers of a record are unlikely, and what was meant: by another unit, or with the decimal point elsewhere."""

from __future__ import annotations

import pytest

from generator.contributing.checking.finding_words import unlikely_words
from generator.loading.reference import load_plausible_ranges
from generator.model.base import Frozen
from generator.model.device_test import DeviceTest
from generator.scoring.plausible_values import Unlikely, unlikely_values, values_at
from tests.scoring.builders import a_calibration, a_counter, a_run, a_test

TIGHT, LOOSE = "tight_powered_half_facepiece", "loose_powered_hood"
ROOM = {"temperature": "20 degC", "pressure": "101325 Pa", "humidity": "40 %"}
RULES = {rule.id: rule for rule in load_plausible_ranges()}


def found_in(record: Frozen, *kinds: str, rule: str) -> list[Unlikely]:
    return list(unlikely_values(record, set(kinds), [RULES[rule]]))


def flows(unit: str, *values: float) -> DeviceTest:
    return a_test(flow=[a_run(values, unit)])


@pytest.mark.parametrize(
    ("unit", "values", "kind", "found", "remedy"),
    [
        # 17 m3/h: 17 x 1000 / 60 = 283.3 L/min
        (
            "m3/h",
            (17.0,),
            TIGHT,
            "17 m3/h, which is 283 L/min",
            "Did you mean `unit: L/min`? Correct it; leave it as it is if it was read so",
        ),
        (
            "m3/h",
            (17.0, 17.4),
            LOOSE,
            "readings of 17 to 17.4 m3/h, which are 283 to 290 L/min",
            "Did you mean `unit: L/min`? Correct it; leave it as it is if it was read so",
        ),
        # 3 L/s are 180 L/min; of the units that would do, litres a second stand first in the table
        (
            "L/min",
            (3.0, 3.2),
            LOOSE,
            "readings of 3 to 3.2 L/min",
            "Did you mean `unit: L/s`? Correct it; leave it as it is if it was read so",
        ),
        # One of three: its point is one place off.
        (
            "L/min",
            (182.0, 1835.0, 184.0),
            LOOSE,
            "1835 L/min",
            "Did you mean `183.5 L/min`? Correct it; leave it as it is if it was read so",
        ),
        # No unit and no point explains it.
        (
            "cfm",
            (900000.0,),
            LOOSE,
            # 900 000 x 28.3168 = 25 485 161 L/min
            "900000 cfm, which is 25\N{NARROW NO-BREAK SPACE}500\N{NARROW NO-BREAK SPACE}000 L/min",
            "Look at the number and its unit; leave it as it is if it was read so",
        ),
    ],
)
def test_a_flow_that_is_unlikely(unit: str, values: tuple[float, ...], kind: str, found: str, remedy: str) -> None:
    (unlikely,) = found_in(flows(unit, *values), kind, rule="unlikely-supply-flow")
    words = unlikely_words(unlikely)
    assert (words[0], words[2]) == (found, remedy)
    high = 250 if kind == TIGHT else 280
    assert words[1] == f"a supply flow of 5 to {high} L/min for a {kind.replace('_', ' ')}, as a rule"


@pytest.mark.parametrize(
    ("unit", "values", "kind"),
    [
        ("L/min", (17.0, 17.2), LOOSE),
        ("L/min", (280.0,), LOOSE),
        ("L/min", (5.0,), LOOSE),
        ("m3/h", (15.0,), TIGHT),
        # No span is for a device without a blower, nor for one that is not on record.
        ("m3/h", (17.0,), "filtering_facepiece"),
    ],
)
def test_what_lies_within_its_span_or_has_none_is_not_told(unit: str, values: tuple[float, ...], kind: str) -> None:
    assert found_in(flows(unit, *values), kind, rule="unlikely-supply-flow") == []


def test_a_list_is_told_at_its_unit_where_another_explains_it_all_and_else_at_the_reading() -> None:
    (by_unit,) = found_in(flows("m3/h", 17.0, 17.4), LOOSE, rule="unlikely-supply-flow")
    (by_point,) = found_in(flows("L/min", 182.0, 1835.0, 1845.0), LOOSE, rule="unlikely-supply-flow")
    assert by_unit.steps == ("flow", 0, "readings", "unit")
    assert by_point.steps == ("flow", 0, "readings", "values", 1)
    assert by_point.outside == 2


def test_a_place_leads_through_lists_and_past_what_is_not_there() -> None:
    record = flows("L/min", 1.0)
    assert [steps for steps, _ in values_at(record, "flow[].readings")] == [("flow", 0, "readings")]
    assert [steps for steps, _ in values_at(record, "exhaust[].readings")] == []
    assert [value for _, value in values_at(record, "burden.noise[].level")] == []


def test_a_quantity_of_another_dimension_is_not_looked_at() -> None:
    absolute = a_counter(calibrations=[a_calibration(expanded_uncertainty="200 /cm3")])
    share = a_counter(calibrations=[a_calibration(expanded_uncertainty="90 %")])
    rule = "unlikely-calibration-uncertainty"
    assert found_in(absolute, rule=rule) == []
    (unlikely,) = found_in(share, rule=rule)
    assert unlikely_words(unlikely) == (
        "90 %",
        "an expanded uncertainty of a calibration of 0.05 to 40 %, as a rule",
        "Did you mean `9 %`? Correct it; leave it as it is if it was read so",
    )


def test_a_share_is_meant_in_percent() -> None:
    (unlikely,) = found_in(
        a_test(flow=[a_run([184])], environment={**ROOM, "humidity": "0.45 %"}), rule="unlikely-humidity"
    )
    assert unlikely_words(unlikely)[2].startswith("Did you mean `45 %`?")


def test_a_temperature_in_the_other_scale() -> None:
    # 21 degF are -6.1 degC
    (unlikely,) = found_in(
        a_test(flow=[a_run([184])], environment={**ROOM, "temperature": "21 degF"}), rule="unlikely-temperature"
    )
    assert unlikely_words(unlikely) == (
        "21 degF, which is \N{MINUS SIGN}6.11 degC",
        "a temperature of the room of 5 to 40 degC, as a rule",
        "Did you mean `21 degC`? Correct it; leave it as it is if it was read so",
    )
