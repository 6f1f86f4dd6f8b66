"""The table beneath a plot: what was drawn when, how many readings, their mean, the lowest and the highest."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from generator.contributing.taking_in.cut import Cut
from generator.contributing.taking_in.plot import Line, Segment, minutes_text, signs
from generator.contributing.taking_in.readings import Readings
from generator.model.log import Sampling
from generator.presenting.digits import THIN, decimals_for_digits, rounded

_DIGITS = 3
_ENOUGH = 5
"""Readings that a stretch has at least, where its first ones are looked at by themselves."""
_UNSETTLED = 5.0
"""Times the median of a stretch, from where on its first readings are told to lie far above it."""


def cut_table(readings: Readings, cut: Cut) -> tuple[Line, ...]:
    """Return the table's lines."""
    unit = readings.unit
    rows = [("", "what was drawn", "from", "to", "n", f"mean {unit}", "lowest", "highest")]
    for sign, stretch in zip(signs(cut.stretches), cut.stretches, strict=True):
        values = readings.concentration[stretch.first : stretch.end]
        times = readings.time_s[stretch.first : stretch.end]
        mean, lowest, highest = (_number(float(each)) for each in (values.mean(), values.min(), values.max()))
        span = minutes_text(times[0]), minutes_text(times[-1])
        rows.append((sign, stretch.mark.name, *span, str(len(values)), mean, lowest, highest))
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    kinds = ["", *(stretch.mark.sampling.value for stretch in cut.stretches)]
    return tuple(
        (
            Segment(" "),
            Segment(row[0].ljust(widths[0]), kind),
            Segment(f" {row[1]:<{widths[1]}}"),
            *(Segment(f"  {cell:>{width}}") for cell, width in zip(row[2:], widths[2:], strict=True)),
        )
        for row, kind in zip(rows, kinds, strict=True)
    )


def _number(value: float) -> str:
    # Not every terminal has the narrow space; the columns stand two blanks apart.
    return "0" if value == 0 else rounded(value, min(decimals_for_digits(value, _DIGITS), 4)).replace(THIN, " ")


def doubts(readings: Readings, cut: Cut) -> Iterator[str]:
    """Yield what speaks for a wrong cut or for exchanged columns, each with the exercises that it was seen in."""
    before = None
    not_below, unsettled = [], []
    for stretch in cut.stretches:
        values = readings.concentration[stretch.first : stretch.end]
        if stretch.mark.sampling is Sampling.AMBIENT:
            before = float(values.mean())
        elif stretch.mark.sampling is Sampling.IN_MASK:
            if before is not None and float(values.mean()) >= before:
                not_below.append(stretch.mark.name)
            elif len(values) >= _ENOUGH and float(values[:2].max()) > _UNSETTLED * float(np.median(values)):
                unsettled.append(stretch.mark.name)
    if not_below:
        yield f"The mean inside is not below that of the ambient sample before it: {', '.join(not_below)}."
    if unsettled:
        yield (
            "The first readings lie far above the rest, as where the air of before is still in the line or the times "
            f"are off: {', '.join(unsettled)}."
        )
