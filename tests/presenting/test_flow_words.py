"""Sentences about how flow was measured, case by case, and where they stand on pages."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.flow_result import AirConditions, FlowRunResult, FlowState
from generator.presenting.digits import THIN
from generator.presenting.flow_words import (
    air_words,
    back_pressure_words,
    compared_words,
    governing_words,
    not_measured_words,
)
from generator.presenting.views import TopicSection
from tests.presenting.small_sites import context_of, device_page, record_page
from tests.scoring.builders import Data, a_device, a_run, a_test
from tests.scoring.test_flow_measuring import LOOSE, LOW, STEADY, curve, device, one


def narrow(text: str) -> str:
    return text.replace("~", THIN)


def state(battery: str, kind: str, runs: int, setting: str = "high", claimed: bool = True) -> FlowState:
    return FlowState(
        setting=setting, claimed=claimed, battery=battery, filter=kind, runs=runs, outcome=None, record=None, run=None
    )


@pytest.mark.parametrize(
    ("air", "words"),
    [
        (
            AirConditions(temperature=294.65, pressure=100800, relative_humidity=0.45),
            "21.5~°C, 1008~hPa, humidity 45~%",
        ),
        (AirConditions(temperature=293.15, pressure=101325, relative_humidity=None), "20~°C, 1013~hPa"),
        (AirConditions(temperature=268.15, pressure=95000, relative_humidity=0.0), "−5~°C, 950~hPa, humidity 0~%"),
    ],
)
def test_the_air_that_a_flow_is_of(air: AirConditions, words: str) -> None:
    assert air_words(air) == narrow(words)


@pytest.mark.parametrize(
    ("claimed", "named", "words"),
    [
        (
            ("low", "high"),
            False,
            "There is one verdict for each setting, battery state and filter state, and the worst of them governs. Its "
            "maker names no setting as the protective one, so every one counts.",
        ),
        (
            ("high",),
            True,
            "There is one verdict for each setting, battery state and filter state, and the worst of them governs. "
            "What counts is where its maker says that it protects: high.",
        ),
    ],
)
def test_which_verdict_governs(claimed: tuple[str, ...], named: bool, words: str) -> None:
    assert governing_words(claimed, named) == words


EVERY = [state(battery, kind, 1) for battery in ("fresh", "at_alarm") for kind in ("new", "loaded")]


@pytest.mark.parametrize(
    ("states", "words"),
    [
        (EVERY, None),
        (
            [*EVERY[:3], state("at_alarm", "loaded", 0)],
            "Not measured at high: battery at its alarm with loaded filter.",
        ),
        (
            [state("fresh", "new", 0, "low"), *EVERY[:2], state("at_alarm", "new", 0)],
            "Not measured at low: any state. Not measured at high: battery at its alarm with new filter.",
        ),
        ([*EVERY, state("fresh", "new", 1, "low", claimed=False)], None),
        (
            [state("mains", "new", 1), state("mains", "loaded", 0)],
            "Not measured at high: on mains with loaded filter.",
        ),
    ],
)
def test_which_states_were_not_measured(states: list[FlowState], words: str | None) -> None:
    assert not_measured_words(states) == words


@pytest.mark.parametrize(
    ("meter", "words"),
    [
        (None, "not on record. A meter never raises the flow that it reads"),
        (
            {"pressure_drop": "25 Pa", "blower_curve": "curve"},
            "taken off by the blower's own curve; the flow with the meter in place stands below",
        ),
        (
            {"pressure_drop": "25 Pa"},
            "not corrected: no blower curve at this setting is named. Without the meter the device delivers at "
            "least the flow that was read",
        ),
        (
            {"null_method": "a fan behind it"},
            "balanced while it was read, so that nothing was to be corrected: a fan behind it",
        ),
    ],
)
def test_what_the_meter_held_back(meter: Data | None, words: str) -> None:
    assert back_pressure_words(one(STEADY, run={"meter": meter}, blower_curves=[curve()])) == words


def compared(run: FlowRunResult, **changes: Any) -> str:
    criterion = context_of_criterion().model_copy(update=changes)
    return compared_words(run, criterion)


def context_of_criterion() -> Any:
    from generator.loading import load_reference

    return load_reference().criteria["supply-flow-loose-fitting"]


def test_in_which_air_a_flow_was_compared() -> None:
    run = one(STEADY)
    assert compared(run) == "in the air of the test room; the requirement states no other that was seen"
    assert compared(run, conditions="at sea level") == (
        "in the air of the test room; the requirement says: at sea level"
    )
    air = AirConditions(temperature=293.15, pressure=101325, relative_humidity=None)
    assert compared(run.model_copy(update={"compared_air": air})) == narrow(
        "in the air that the requirement states: 20~°C, 1013~hPa"
    )
    assert compared_words(run, None) == "not held against a requirement"


def flow_of(page: Any) -> TopicSection:
    (section,) = (section for section in page.sections if section.topic == "flow")
    assert isinstance(section, TopicSection)
    return section


def test_a_device_shows_what_counts_and_what_was_not_measured() -> None:
    test = a_test(flow=[a_run(STEADY), LOW])
    section = flow_of(device_page(test, device=device(protective_settings=["high"])))
    states, runs = section.tables
    assert [[cell.text for cell in row.cells] for row in states.rows] == [
        ["high", narrow("180~L/min"), "not measured", "not measured", "not measured"],
        ["low", narrow("120.5~L/min"), "not measured", "not measured", "not measured"],
    ]
    assert [row.cells[0].note for row in states.rows] == [None, "not named as protective; does not govern"]
    # source: 1 cfm is 28.316846592 L/min, so that 180 and 120.5 of these are 6.36 and 4.26
    assert [row.cells[1].note for row in states.rows] == [
        narrow("6.4~cfm; meets the requirement"),
        narrow("4.3~cfm; does not meet the requirement"),
    ]
    assert [row.cells[1].id for row in runs.rows] == ["test-flow.high.mean", "test-flow.low.mean"]
    assert runs.rows[0].cells[2].note is not None
    assert runs.rows[0].cells[2].note.startswith("k = 1.9")
    assert section.tables_told


def test_a_device_measured_elsewhere_only_says_so() -> None:
    page = device_page(a_test(flow=[LOW]), device=device(protective_settings=["high"]))
    assert page.answer[0] == (
        "How much air its blower delivers was not measured at what its maker names as protective: high."
    )


def test_a_record_shows_the_budget_of_each_run_and_every_figure_once() -> None:
    meter = {"pressure_drop": "25 Pa", "blower_curve": "curve"}
    test = a_test(flow=[a_run([172.0, 171.0, 173.0], meter=meter)], blower_curves=[curve()])
    section = flow_of(record_page(test, device=a_device(LOOSE)))
    (block,) = section.blocks
    (budget,) = block.further
    assert budget.id == "flow.high.budget"
    assert [row.cells[0].text for row in budget.rows] == [
        "Scatter of the readings",
        "Certificate of the meter",
        narrow("Blower's pressure at 100 L/min"),
        narrow("Blower's pressure at 180 L/min"),
        "Step of the meter's display",
        "Drift of the meter since its calibration",
        "Pressure lost across the meter",
        "Together",
    ]
    assert [row.cells[5].text for row in budget.rows[4:7]] == ["none"] * 3
    keys = [figure.key for figure in block.figures]
    assert keys == [f"flow.high.{name}" for name in ("mean", "measured", "sd", "variation", "trend")]
    assert [view.figure for view in section.workings] == keys
    facts = {fact.term: fact.text for fact in block.facts}
    assert facts["Air of the room"] == narrow("20~°C, 1013~hPa, humidity 40~%")


def test_a_flow_at_a_requirements_own_air_is_told_with_both() -> None:
    from dataclasses import replace

    from generator.model.instrument import ReferenceConditions
    from generator.presenting.whole_site import present
    from tests.presenting.small_sites import a_whole_catalogue

    air = {"temperature": "30 degC", "pressure": "95 kPa", "humidity": "0 %"}
    catalogue = a_whole_catalogue(a_test(flow=[a_run(STEADY)], environment=air), device=a_device(LOOSE))
    stated = ReferenceConditions.model_validate_json('{"temperature": "20 degC", "pressure": "101.325 kPa"}')
    changed = catalogue.criteria["supply-flow-loose-fitting"].model_copy(update={"reference_air": stated})
    context = context_of(replace(catalogue, criteria={**catalogue.criteria, changed.id: changed}))
    site = present(context.catalogue, context.result)
    (page,) = site.devices
    # source: gas law, 180.5 x 293.15 / 303.15 x 95 / 101.325, by arithmetic: 163.65 L/min
    assert narrow("~L/min of air, which is 163.7~L/min in the air that the requirement states (95 %") in page.answer[0]
    block = flow_of(site.records[0]).blocks[0]
    assert "flow.high.at-requirement" in [figure.key for figure in block.figures]
