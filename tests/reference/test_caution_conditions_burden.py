"""What raises each caution about noise and words, and its nearest neighbour that does not."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from tests.reference.test_caution_conditions import Case, hood, raised
from tests.scoring.burden_builders import a_part, a_sound, a_speech_test, a_use


def burdened(**burden: Any) -> Catalogue:
    """Return the hood that raises nothing, with something said of what wearing it costs."""
    return hood(burden={"masses": [a_part("400 g")], "use": a_use()} | burden)


CASES: dict[str, Case] = {
    # 42 CFR 84.140, 2020: at most 80 dBA. The background of 0 dB(A) takes off a hundred-millionth of that.
    "noise-above-eighty": Case(
        lambda: burdened(noise=[a_sound("80.01 dB(A)", "0 dB(A)")]),
        lambda: burdened(noise=[a_sound("80 dB(A)", "0 dB(A)")]),
    ),
    # 42 CFR 84.181, 2020: at least 70 %. scipy 1.17.1, optimize.brentq: of 300 words of 6 choices, 288 of them
    # understood without the device, the upper limit is 69.9 % where 200 were understood with it and 70.3 % with 201.
    "few-words-understood": Case(
        lambda: burdened(speech=[a_speech_test(200)]), lambda: burdened(speech=[a_speech_test(201)])
    ),
}


def test_a_light_and_quiet_hood_raises_nothing() -> None:
    assert raised(burdened(noise=[a_sound()], speech=[a_speech_test(288)], hours_a_day="8 h")) == set()


@pytest.mark.parametrize("rule", CASES)
def test_the_condition_raises_the_rule_and_nothing_beside_it(rule: str) -> None:
    assert raised(CASES[rule].raising()) == {rule} | CASES[rule].beside


@pytest.mark.parametrize("rule", CASES)
def test_what_is_nearest_to_the_condition_does_not_raise_it(rule: str) -> None:
    assert rule not in raised(CASES[rule].near())
