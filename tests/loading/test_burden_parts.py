"""What a record may say of the burden: hours of a day, and names that figures of it go by."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from generator.loading.cross_checks.air_parts import air_part_names
from generator.loading.cross_checks.amendments import WITHOUT_NAMES
from tests.scoring.builders import a_run, a_test
from tests.scoring.burden_builders import a_part, a_sound, a_speech_test


def test_figures_of_the_burden_can_be_named_in_an_amendment() -> None:
    burdened = a_test(burden={"noise": [a_sound()], "speech": [a_speech_test()], "masses": [a_part("1 kg")]})
    assert air_part_names(burdened) == {"ear-high", "words-high"}
    assert {"carried", "use"} <= set(WITHOUT_NAMES)
    assert air_part_names(a_test(flow=[a_run([170.0])])) == {"high"}


def test_a_day_has_at_most_its_hours() -> None:
    assert a_test(burden={"noise": [a_sound()], "hours_a_day": "24 h"}).burden is not None
    with pytest.raises(ValidationError, match=r"found 24.1 h, expected at most 24 h"):
        a_test(burden={"noise": [a_sound()], "hours_a_day": "24.1 h"})
