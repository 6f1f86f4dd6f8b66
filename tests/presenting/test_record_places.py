"""Places in a record in words: each key beside the exact words. Regression only: the words are ours."""

from __future__ import annotations

import pytest

from generator.presenting.record_places import figure_of, figure_words, in_words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            "fit[b2].exercises[talking].in_mask from 10.3 /cm3, a slip of the pen, to 20.3 /cm3",
            "session b2, exercise talking, concentration inside, from 10.3 /cm3, a slip of the pen, to 20.3 /cm3",
        ),
        ("environment.humidity from 63 % to 43 %", "air of the room, humidity, from 63 % to 43 %"),
        ("in flow[high-fresh].battery: half", "in flow run high-fresh, battery: half"),
        ("fit.b2.overall, flow.high-fresh.mean", "session b2, overall, flow run high-fresh, mean"),
        ("filter_test.penetrations[oil].flow", "filter test, penetration oil, flow"),
        ("burden.field_of_view.effective", "field of view, effective"),
        ("configuration.fitted.filters[0]", "configuration, fitted, filters 0"),
    ],
)
def test_keys_become_words(text: str, words: str) -> None:
    assert in_words(text) == words


@pytest.mark.parametrize(
    "text",
    [
        "mass from 139 g to 148 g; no test record is touched",
        "the fit. The flow was right.",
        "a fit of 1.5 [sic], the flow [high], 12.5 L/min",
        "https://bench.example/fit.first.html and my.fit.first",
        "",
    ],
)
def test_other_text_stays_as_it_is(text: str) -> None:
    assert in_words(text) == text


def test_a_figure_is_named_from_its_key() -> None:
    assert (figure_of("fit.b2.overall"), figure_words("fit.b2.nod-head")) == ("session b2", "session b2, nod head")
    assert (figure_of("gas.end-of-shift.inhaled"), figure_of("flow.high.mean")) == ("end of shift", "flow run high")
