"""A log as it goes on record: comma-separated values with the numbers that were read, and what refers to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.contributing.taking_in.cut import Cut, Mark
from generator.contributing.taking_in.readings import Readings
from generator.loading.logs import sha256_of

_PER = {"/cm3": "per_cm3", "/L": "per_l", "/m3": "per_m3"}
_INDENT = "  "


@dataclass(frozen=True)
class WrittenLog:
    """A log to be put on record."""

    file: str
    """Below the records folder."""
    content: bytes
    sha256: str
    reference: dict[str, object]
    """What the record's session says of it, as plain data."""
    begins_s: float
    """Where its own clock begins, on the clock that counts from the first reading of the file."""


def write_log(file: str, readings: Readings, cut: Cut, marks: Sequence[Mark] | None) -> WrittenLog:
    """Write what is kept of a log; with marks where it is cut by them, else with a timetable beside it."""
    inside, outside = f"inside_{_PER[readings.unit]}", f"outside_{_PER[readings.unit]}"
    columns = {"time": "time_s", "concentration": inside}
    if readings.outside is not None:
        columns["outside"] = outside
    if marks is not None:
        columns |= {"exercise": "exercise", "sampling": "sampling"}
    order = [name for name in ("time", "concentration", "outside", "exercise", "sampling") if name in columns]
    lines = [",".join(columns[name] for name in order), *_rows(readings, cut, marks)]
    content = ("\n".join(lines) + "\n").encode()
    begins_s = float(readings.time_s[cut.first])
    reference: dict[str, object] = {
        "file": file,
        "sha256": sha256_of(content),
        "unit": readings.unit,
        "columns": {name: columns[name] for name in order},
    }
    if marks is None:
        reference["timetable"] = [
            {
                "sampling": entry.mark.sampling.value,
                **({"exercise": entry.mark.exercise} if entry.mark.exercise is not None else {}),
                "start": f"{_plain(max(entry.start_s - begins_s, 0))} s",
                "end": f"{_plain(entry.end_s - begins_s)} s",
            }
            for entry in cut.timetable
        ]
    return WrittenLog(file, content, sha256_of(content), reference, begins_s)


def _rows(readings: Readings, cut: Cut, marks: Sequence[Mark] | None) -> Iterator[str]:
    for place in range(cut.first, cut.end):
        cells = readings.cells(place)
        row = [readings.written_time(place, cut.first), readings.number(cells[readings.columns.concentration])]
        if readings.columns.outside is not None:
            row.append(readings.number(cells[readings.columns.outside]))
        if marks is not None:
            mark = marks[place]
            row += [mark.exercise or "", mark.sampling.value]
        yield ",".join(row)


def _plain(seconds: float) -> str:
    return f"{round(seconds, 6):.12g}"


def record_lines(written: WrittenLog, indent: str) -> list[str]:
    """Return the lines that refer to the log, for a session of a record."""
    lines = [f"{indent}log:"]
    for key, value in written.reference.items():
        if isinstance(value, dict):
            lines.append(f"{indent}{_INDENT}{key}:")
            lines += [f"{indent}{_INDENT}{_INDENT}{name}: {heading}" for name, heading in value.items()]
        elif isinstance(value, list):
            lines.append(f"{indent}{_INDENT}{key}:")
            for entry in value:
                row = ", ".join(f"{name}: {text}" for name, text in entry.items())
                lines.append(f"{indent}{_INDENT}{_INDENT}- {{{row}}}")
        else:
            lines.append(f"{indent}{_INDENT}{key}: {value}")
    return lines
