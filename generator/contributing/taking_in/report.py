"""What was detected in a log, for a tester to confirm: a short table, and the first rows as they were read."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from generator.contributing.taking_in.marks import Meaning
from generator.contributing.taking_in.plot import WIDTH, minutes_text
from generator.contributing.taking_in.readings import Readings, stretches
from generator.loading.characters import shortened

FIRST_ROWS = 3
MOST_NAMED = 6
"""Gaps, stretches of lines and lines of words that are told one by one."""
_TERM = 12
_LONGEST_SHOWN = 48


def reading_lines(readings: Readings) -> list[str]:
    """Return the table of what was detected, and the first rows."""
    lines = ["Read as"]
    for term, text in _terms(readings):
        lines += _wrapped(text, f"  {term:<{_TERM}}", " " * (_TERM + 2))
    return [*lines, "", "The first rows, as written and as read", *_first_rows(readings)]


def _wrapped(text: str, first: str, later: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, break_on_hyphens=False, initial_indent=first, subsequent_indent=later)


def _terms(readings: Readings) -> Iterator[tuple[str, str]]:
    layout, columns, raw = readings.layout, readings.columns, readings.raw
    yield "encoding", raw.encoding
    yield "values", f"{layout.delimiter} between them, decimal {'comma' if layout.decimal == ',' else 'point'}"
    headings = ", ".join(f"`{shortened(each)}`" for each in layout.headings)
    yield "headings", f"line {layout.headings_line}: {headings}" if layout.headings else "none; columns go by number"
    midnight = readings.days[-1]
    over = f", over midnight {'once' if midnight == 1 else f'{midnight} times'}" if midnight else ""
    yield "time", f"{_column(readings, columns.time)}: {readings.form.meaning} ({readings.form.name}){over}"
    yield "inside", f"{_column(readings, columns.concentration)}, in {readings.unit}"
    for name in ("outside", "exercise", "sampling"):
        place = getattr(columns, name)
        yield name, "no column" if place is None else _column(readings, place)
    used = {columns.time, columns.concentration, columns.outside, columns.exercise, columns.sampling}
    rest = [_column(readings, place) for place in range(layout.width) if place not in used]
    if rest:
        yield "not used", ", ".join(rest)
    first, last = readings.line_numbers[0], readings.line_numbers[-1]
    long = minutes_text(float(readings.time_s[-1]))
    form = "h:min:s" if long.count(":") > 1 else "min:s"
    every = f"every {readings.step_s:.3g} s" if len(readings.time_s) > 1 else "a single one"
    yield "readings", f"{len(readings.time_s)} in lines {first} to {last}, {every}, {long} ({form}) long"
    if readings.skipped:
        yield "left out", f"{_lines(readings.skipped)}, which {_hold(readings.skipped)} words and no reading"
    if readings.without_reading:
        yield "left out", f"{_lines(readings.without_reading)}, without a reading"
    if readings.doubled:
        yield "doubled", f"{readings.doubled} readings had the time of the one before; spread evenly, as asked"
    if readings.gaps:
        told = "; ".join(f"{gap.seconds:.4g} s after line {gap.line}" for gap in readings.gaps[:MOST_NAMED])
        more = len(readings.gaps) - MOST_NAMED
        yield "gaps", told + (f"; and {more} more" if more > 0 else "")


def _column(readings: Readings, place: int) -> str:
    return f"`{shortened(readings.layout.headings[place])}`" if readings.layout.headings else f"column {place + 1}"


def _hold(lines: Sequence[int]) -> str:
    return "holds" if len(lines) == 1 else "hold"


def _lines(numbers: Sequence[int]) -> str:
    spans = [f"{first}" if first == last else f"{first} to {last}" for first, last in stretches(numbers)]
    shown = spans if len(spans) <= MOST_NAMED else [*spans[:MOST_NAMED], f"{len(spans) - MOST_NAMED} more"]
    word = "line" if len(numbers) == 1 else "lines"
    return f"{word} {', '.join(shown[:-1])}{' and ' if len(shown) > 1 else ''}{shown[-1]}"


def _first_rows(readings: Readings) -> Iterator[str]:
    for place in range(min(FIRST_ROWS, len(readings.time_s))):
        line = readings.line_numbers[place]
        written = shortened(readings.raw.lines[line - 1], _LONGEST_SHOWN)
        cells = readings.cells(place)
        inside = f"inside {readings.number(cells[readings.columns.concentration])}"
        parts = [f"{readings.time_s[place]:.12g} s", inside]
        if readings.columns.outside is not None:
            parts.append(f"outside {readings.number(cells[readings.columns.outside])}")
        for name in ("exercise", "sampling"):
            marked = getattr(readings.columns, name)
            if marked is not None and cells[marked]:
                parts.append(f"{name} `{shortened(cells[marked])}`")
        yield f"  line {line}: {written}"
        yield from _wrapped(", ".join(parts), "    ", "    ")


def meaning_lines(meanings: Sequence[Meaning]) -> list[str]:
    """Return what each mark was taken for."""
    if not meanings:
        return []
    lines = ["Marks"]
    for each in meanings:
        word = f"`{shortened(each.word)}`" if each.word else "nothing"
        rows = f"{each.lines} line{'' if each.lines == 1 else 's'}"
        lines += _wrapped(f"{each.column} {word} ({rows}): {each.taken_for}", "  ", "    ")
    return lines
