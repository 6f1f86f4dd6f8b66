"""In which of the states that count a flow was measured, and which instrument a caution is about."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.flow_result import FlowState
from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.flow_standing import partly_measured

ALL = [(battery, state) for battery in ("fresh", "at_alarm") for state in ("new", "loaded")]


def states(*measured: str) -> list[FlowState]:
    """Return the states of two settings, low and high; those named were measured, as `low fresh new`."""
    return [
        FlowState(
            setting=setting,
            claimed=True,
            battery=battery,
            filter=state,
            runs=int(f"{setting} {battery} {state}" in measured),
            outcome=None,
            record=None,
            run=None,
        )
        for setting in ("low", "high")
        for battery, state in ALL
    ]


# source: counted by hand from the states named; wording: fixed here
@pytest.mark.parametrize(
    ("measured", "words"),
    [
        (["low fresh new"], "in the one measured of eight states"),
        (
            ["low fresh new", "low at_alarm new", "high fresh new"],
            "in the three measured of eight states, none with loaded filter",
        ),
        (
            ["low fresh new", "low fresh loaded"],
            "in the two measured of eight states, none at high or with battery at its alarm",
        ),
        (["low fresh new", "high at_alarm loaded"], "in the two measured of eight states"),
        ([f"{setting} {battery} {state}" for setting in ("low", "high") for battery, state in ALL], None),
    ],
)
def test_the_states_that_were_measured(measured: list[str], words: str | None) -> None:
    assert partly_measured(states(*measured)) == words


@pytest.mark.parametrize(
    ("device", "touched", "opens"),
    [
        ("bellheather-hood", "is of another test, which this does not touch.", False),
        ("allotment-hood", "was read with it.", True),
    ],
)
def test_a_caution_names_its_instrument_and_whether_the_opening_is_touched(
    demo: Any, scored: Any, device: str, touched: str, opens: bool
) -> None:
    out = published(demo)
    page = present_device_page(out.devices[device], Context(out, scored))
    (box,) = (box for box in page.cautions.raised if box.id == "calibration-out-of-tolerance")
    name = out.instruments["vane-flow-meter"].name
    assert box.text.startswith(f"It is “{name}”, in the test of ")
    assert f" The air flow that opens this page {touched} The next calibration found" in box.text
    assert ("its flow meter was later found wrong" in page.answer[0]) is opens
    assert any(f"but a later one found that “{name}” had read wrongly." in said for said in page.evidence.sentences)
