"""Logs of flow, pressure, voltage or current: there, unchanged, readable, and with the columns their part needs."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from generator.errors import Problem
from generator.loading.characters import shortened
from generator.loading.files import LOGS, FilesFound
from generator.loading.log_cells import MOST_CELLS, MOST_LINES, Cell, cells_of, number_in, plain_columns
from generator.loading.log_references import log_reference_problems
from generator.loading.logs import MOST_PROBLEMS, headings_of, log_text, problem_in_line
from generator.loading.records import Entry, Records, good
from generator.loading.yaml_source import Steps
from generator.model.device_test import DeviceTest, Test
from generator.model.run_down import RunDown
from generator.model.series import SERIES_DIMENSIONS, Series, SeriesReference
from generator.model.units import BASE_UNITS, Dimension, checked_unit, to_base

_EXERCISE = re.compile(r"(\w[\w ,.()/-]{0,59})?")
"""What a cell of the exercise column may hold: a few words, or nothing."""


@dataclass(frozen=True)
class _Kind:
    """What a column holds: the field that it fills, and the numbers that a bench can have read, in the base unit."""

    field: str
    dimension: Dimension
    least: float
    most: float


_KINDS = {
    "time": _Kind("time_s", "time", -1e8, 1e8),
    "flow": _Kind("flow_l_per_min", "flow", 0, 1e6),
    "pressure": _Kind("pressure_pa", "pressure", -1e6, 1e6),
    "voltage": _Kind("voltage_v", "voltage", 0, 1e4),
    "current": _Kind("current_a", "current", -1e4, 1e4),
}


@dataclass(frozen=True)
class SeriesUse:
    """A reference to such a log, where it stands in the record, and the columns of which its part needs one."""

    steps: Steps
    reference: SeriesReference
    needs: tuple[str, ...]


def series_of(test: Test) -> Iterator[SeriesUse]:
    """Go through every reference to a log of this kind in a record."""
    for place, trace in enumerate(test.pressure_traces):
        yield SeriesUse(("pressure_traces", place, "log"), trace.log, ("pressure",))
    for place, run in enumerate(test.run_downs):
        yield SeriesUse(("run_downs", place, "log"), run.log, ("flow",))
    for place, loading in enumerate(test.filter_test.loading if test.filter_test is not None else ()):
        yield SeriesUse(("filter_test", "loading", place, "log"), loading.log, ("flow", "pressure"))


def read_series_logs(
    records: Records, files: FilesFound, taken: Collection[str]
) -> tuple[dict[str, Series], list[Problem], set[str]]:
    """Read every such log; return the good ones by file, the problems, and the files referred to.

    `taken` are the logs of sessions, which belong to these alone.
    """
    contents = {f"{LOGS}/{name}": content for name, content in files.contents[LOGS].items()}
    series: dict[str, Series] = {}
    problems: list[Problem] = []
    used: set[str] = set()
    for entry, test in good(records.device_tests):
        for use in series_of(test):
            shared = use.reference.file in used or use.reference.file in taken
            used.add(use.reference.file)
            misfits = list(_reference_problems(entry, use, contents, shared))
            problems += misfits
            if misfits:
                continue
            file = files.shown(*use.reference.file.split("/"))
            read, found = read_series(contents[use.reference.file], file, use.reference)
            problems += found
            if read is not None:
                series[use.reference.file] = read
                problems += _alarm_problems(entry, use, test, read)
    return series, problems, used


def _alarm_problems(entry: Entry[DeviceTest], use: SeriesUse, test: DeviceTest, read: Series) -> Iterator[Problem]:
    """An alarm is heard while the log runs; one outside it is mostly a time in another unit."""
    if use.steps[0] != "run_downs":
        return
    run: RunDown = test.run_downs[int(use.steps[1])]
    first, last = read.time_s[0], read.time_s[-1]
    for place, alarm in enumerate(run.alarms):
        if not first <= alarm.at.to("s") <= last:
            expected = f"a time on the clock of the log, from {first:.12g} s to {last:.12g} s"
            remedy = "Correct the time or its unit"
            yield entry.problem((*use.steps[:2], "alarms", place, "at"), "alarm-time", f"{alarm.at}", expected, remedy)


def _reference_problems(
    entry: Entry[DeviceTest], use: SeriesUse, contents: Mapping[str, bytes], shared: bool
) -> Iterator[Problem]:
    reference = use.reference
    other = "another part" if shared else None
    yield from log_reference_problems(entry, use.steps, reference, contents, other, "each")
    if reference.file not in contents:
        return
    if not any(getattr(reference, name) is not None for name in use.needs):
        needed = " or ".join(f"`{name}`" for name in use.needs)
        remedy = "Name its heading and its unit"
        yield entry.problem(use.steps, "series-columns", "no such column", f"a column of {needed}", remedy, of_key=True)


@dataclass(frozen=True)
class _Column:
    """A column that is read."""

    kind: _Kind
    place: int
    unit: str


@dataclass
class _Reading:
    """One walk through such a log."""

    file: str
    problems: list[Problem] = field(default_factory=list)

    def note(self, line: int, cell: Cell | int, slug: str, found: str, expected: str, remedy: str) -> None:
        self.problems.append(problem_in_line(self.file, line, cell, slug, found, expected, remedy))


def read_series(content: bytes, file: str, reference: SeriesReference) -> tuple[Series | None, tuple[Problem, ...]]:
    """Read such a log by the columns that a record gives."""
    text = log_text(content, file)
    if isinstance(text, Problem):
        return None, (text,)
    reading = _Reading(file)
    lines = text.replace("\r\n", "\n").removesuffix("\n").split("\n", MOST_LINES + 1)
    named = {name: column for name in SERIES_DIMENSIONS if (column := getattr(reference, name)) is not None}
    wanted = {"time": reference.time, **{name: column.heading for name, column in named.items()}}
    if reference.exercise is not None:
        wanted["exercise"] = reference.exercise
    places = headings_of(lines[0], wanted, file, reading.problems, "Correct the heading in the record's `log`")
    if not places:
        return None, tuple(reading.problems)
    units = {"time": reference.time_unit, **{name: column.unit for name, column in named.items()}}
    columns = tuple(_Column(_KINDS[name], places[name], unit) for name, unit in units.items())
    read = _whole_columns(lines, columns, places.get("exercise"))
    if read is None:
        rows = tuple(_rows(lines, columns, places.get("exercise"), reading))
        if not rows and not reading.problems:
            reading.note(1, 1, "log-empty", "no readings below the headings", "one line for each reading", "Add them")
        if reading.problems:
            return None, tuple(reading.problems)
        read = list(zip(*(numbers for numbers, _ in rows), strict=True)), tuple(words for _, words in rows)
    numbers = {column.kind.field: values for column, values in zip(columns, read[0], strict=True)}
    exercise = read[1] if "exercise" in places else None
    named_so = {"file": reference.file, "sha256": reference.sha256}
    return Series.model_validate({**named_so, **numbers, "exercise": exercise}), ()


def _whole_columns(
    lines: Sequence[str], columns: Sequence[_Column], exercise: int | None
) -> tuple[list[tuple[float, ...]], tuple[str, ...]] | None:
    """Return the numbers of each column in base units, and the exercises; None where anything is not right."""
    plain = plain_columns(lines)
    if plain is None or plain.rising(columns[0].place) is None:
        return None
    all_numbers: list[tuple[float, ...]] = []
    for column in columns:
        read, unit = plain.numbers(column.place), checked_unit(column.unit)
        numbers = tuple([to_base(number, unit) for number in read or ()])
        if not numbers or min(numbers) < column.kind.least or max(numbers) > column.kind.most:
            return None
        all_numbers.append(numbers)
    texts = tuple(plain.texts(exercise)) if exercise is not None else ()
    return (all_numbers, texts) if all(map(_EXERCISE.fullmatch, set(texts))) else None


def _rows(
    lines: Sequence[str], columns: Sequence[_Column], exercise: int | None, reading: _Reading
) -> Iterator[tuple[tuple[float, ...], str]]:
    """Yield the numbers of each good line in base units, the time first, and the exercise."""
    width = len(cells_of(lines[0]))
    last_time: float | None = None
    for line, text in enumerate(lines[1:], start=2):
        if len(reading.problems) >= MOST_PROBLEMS:
            remedy = "Mend these first; often one change of the columns, the unit or the decimal sign mends them all"
            found, expected = f"{MOST_PROBLEMS} problems above this line", "a log without problems"
            reading.note(line, 1, "log-more-problems", found, expected, remedy)
            return
        if line > MOST_LINES:
            expected, remedy = f"at most {MOST_LINES} lines", "Keep the part that belongs to the test"
            reading.note(line, 1, "log-too-long", "more lines", expected, remedy)
            return
        cells = cells_of(text)
        if len(cells) != width:
            found = "more values" if len(cells) > MOST_CELLS else f"{len(cells)} values"
            expected = f"{width} values, as there are headings"
            reading.note(line, 1, "log-row", found, expected, "Correct the line, or take the log anew")
            continue
        numbers = [_number(line, cells[column.place], column, reading) for column in columns]
        words = _words(line, cells[exercise], reading) if exercise is not None else ""
        time = numbers[0]
        if time is not None and last_time is not None and time <= last_time:
            cell = cells[columns[0].place]
            found = f"the time {shortened(cell.text)} after a later or equal one"
            reading.note(line, cell, "log-time-order", found, "times that go up", "Take the log anew")
        last_time = last_time if time is None else time
        good = tuple(number for number in numbers if number is not None)
        if len(good) == len(columns) and words is not None:
            yield good, words


def _number(line: int, cell: Cell, column: _Column, reading: _Reading) -> float | None:
    kind, unit, read = column.kind, checked_unit(column.unit), number_in(cell.text)
    if read is None:
        remedy = "Write a plain number with a decimal point; leave out lines without a reading"
        found = f"`{shortened(cell.text)}`" if cell.text else "nothing"
        reading.note(line, cell, "log-number", found, f"a {kind.dimension}", remedy)
        return None
    number = to_base(read, unit)
    if not kind.least <= number <= kind.most:
        base = BASE_UNITS[kind.dimension]
        expected = f"a {kind.dimension} from {kind.least:.12g} to {kind.most:.12g} {base}"
        reading.note(line, cell, "log-number", f"{read:.12g} {unit.spelling}", expected, "Correct the unit or the line")
        return None
    return number


def _words(line: int, cell: Cell, reading: _Reading) -> str | None:
    if _EXERCISE.fullmatch(cell.text) is not None:
        return cell.text
    expected, remedy = "nothing, or a few words of at most 60 characters", "Write what was done in plain words"
    reading.note(line, cell, "log-exercise", f"`{shortened(cell.text)}`", expected, remedy)
    return None
