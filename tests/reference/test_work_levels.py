"""The printed breathing demands, row by row against where they were read."""

from __future__ import annotations

import pytest

from generator.loading import load_reference
from generator.model.reference import SourceStatus

# source: NIOSH working draft, 15 September 1992, page 83 (seen), and Berndtsson 2004, abstract (seen): minute volume
# and peak in L/min, and their ratio to two digits after the point.
PRINTED = {
    "very-light": (8, 31, 3.88, False),
    "light": (15, 59, 3.93, False),
    "moderate": (50, 125, 2.50, False),
    "cycling-silent": (55.3, 169, 3.06, False),
    "heavy": (80, 192, 2.40, False),
    "cycling-speaking": (45.1, 266, 5.90, True),
    "very-heavy": (110, 284, 2.58, False),
}
LEVELS = {level.id: level for level in load_reference().work_levels}


def test_every_row_is_there_in_the_order_of_the_peaks() -> None:
    assert list(LEVELS) == list(PRINTED)
    peaks = [level.peak for level in LEVELS.values()]
    assert peaks == sorted(peaks)


@pytest.mark.parametrize("name", PRINTED)
def test_a_row_is_as_printed(name: str) -> None:
    level = LEVELS[name]
    minute_volume, peak, ratio, speaking = PRINTED[name]
    assert (level.minute_volume, level.peak, level.speaking) == (minute_volume, peak, speaking)
    assert level.ratio == pytest.approx(ratio, abs=0.0051)
    assert level.source.status is SourceStatus.SEEN
