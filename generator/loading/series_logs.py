"""Logs of flow, pressure, voltage or current: there, unchanged, readable, and with the columns their part needs."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.files import LOGS, FilesFound
from generator.loading.logs import MOST_LINES, MOST_PROBLEMS, cells_of, headings_of, log_text, number_in, sha256_of
from generator.loading.records import Entry, Records, good
from generator.loading.yaml_source import Steps
from generator.model.device_test import DeviceTest
from generator.model.series import SERIES_DIMENSIONS, Series, SeriesReference
from generator.model.units import find_unit, to_base

_FIELDS = {"flow": "flow_l_per_min", "pressure": "pressure_pa", "voltage": "voltage_v", "current": "current_a"}


@dataclass(frozen=True)
class SeriesUse:
    """A reference to such a log, where it stands in the record, and the columns of which its part needs one."""

    steps: Steps
    reference: SeriesReference
    needs: tuple[str, ...]


def series_of(test: DeviceTest) -> Iterator[SeriesUse]:
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
    return series, problems, used


def _reference_problems(
    entry: Entry[DeviceTest], use: SeriesUse, contents: Mapping[str, bytes], shared: bool
) -> Iterator[Problem]:
    reference = use.reference
    content = contents.get(reference.file)
    if content is None:
        close = nearest(reference.file, tuple(contents))
        remedy = "Add the log, or correct its name"
        if close is not None:
            remedy = f"Did you mean `{close}`? {remedy}"
        yield entry.problem((*use.steps, "file"), "log-missing", f"`{reference.file}`", "a log on record", remedy)
        return
    if shared:
        found, expected = f"`{reference.file}`, which another part has", "a log of its own for each"
        yield entry.problem((*use.steps, "file"), "log-shared", found, expected, "Cut the log into one for each")
    actual = sha256_of(content)
    if actual != reference.sha256:
        expected = f"{actual}, the SHA-256 of {reference.file} as it is"
        remedy = "Put the log back as it was taken; give the new SHA-256 only if you know why it changed"
        yield entry.problem((*use.steps, "sha256"), "log-changed", f"{reference.sha256}", expected, remedy)
    if not any(getattr(reference, name) is not None for name in use.needs):
        needed = " or ".join(f"`{name}`" for name in use.needs)
        remedy = "Name its heading and its unit"
        yield entry.problem(use.steps, "series-columns", "no such column", f"a column of {needed}", remedy, of_key=True)


@dataclass(frozen=True)
class _Column:
    """A column that is read: the field it fills, its place, and the unit of its numbers."""

    field: str
    place: int
    unit: str
    what: str


def read_series(content: bytes, file: str, reference: SeriesReference) -> tuple[Series | None, tuple[Problem, ...]]:
    """Read such a log by the columns that a record gives."""
    text = log_text(content, file)
    if isinstance(text, Problem):
        return None, (text,)
    lines = text.replace("\r\n", "\n").removesuffix("\n").split("\n", MOST_LINES + 1)
    wanted = {"time": reference.time, "exercise": reference.exercise}
    wanted |= {name: column.heading for name in _FIELDS if (column := getattr(reference, name)) is not None}
    problems: list[Problem] = []
    places = headings_of(lines[0], {name: heading for name, heading in wanted.items() if heading}, file, problems)
    if problems:
        return None, tuple(problems)
    columns = [_Column("time_s", places["time"], reference.time_unit, "the time")]
    columns += [
        _Column(_FIELDS[name], places[name], getattr(reference, name).unit, f"a {SERIES_DIMENSIONS[name]}")
        for name in _FIELDS
        if name in places
    ]
    numbers, exercises = _columns(lines, columns, places.get("exercise"), file, problems)
    if not numbers["time_s"] and not problems:
        expected = "one line for each reading"
        problems.append(
            Problem(file, 1, 1, "line 1", "log-empty", "no readings below the headings", expected, "Add them")
        )
    if problems:
        return None, tuple(problems)
    read = {name: tuple(values) for name, values in numbers.items()}
    exercise = tuple(exercises) if "exercise" in places else None
    return Series(file=reference.file, sha256=reference.sha256, exercise=exercise, **read), ()


def _columns(
    lines: list[str], columns: list[_Column], exercise: int | None, file: str, problems: list[Problem]
) -> tuple[dict[str, list[float]], list[str]]:
    numbers: dict[str, list[float]] = {column.field: [] for column in columns}
    exercises: list[str] = []
    width = len(cells_of(lines[0]))
    for line, text in enumerate(lines[1:], start=2):

        def note(column: int, slug: str, found: str, expected: str, remedy: str, line: int = line) -> None:
            problems.append(Problem(file, line, column, f"line {line}", slug, found, expected, remedy))

        if len(problems) >= MOST_PROBLEMS:
            remedy = "Mend these first; often one change of the columns, the unit or the decimal sign mends them all"
            note(1, "log-more-problems", f"{MOST_PROBLEMS} problems above this line", "a log without problems", remedy)
            break
        if line > MOST_LINES:
            note(
                1, "log-too-long", "more lines", f"at most {MOST_LINES} lines", "Keep the part that belongs to the test"
            )
            break
        cells = cells_of(text)
        if len(cells) != width:
            expected = f"{width} values, as there are headings"
            note(1, "log-row", f"{len(cells)} values", expected, "Correct the line, or take the log anew")
            continue
        row: dict[str, float] = {}
        for column in columns:
            number, cell = number_in(cells[column.place].text), cells[column.place]
            unit = find_unit(column.unit)
            assert unit is not None, "the model checks the unit"
            if number is None:
                remedy = "Write a plain number with a decimal point; leave out lines without a reading"
                note(cell.column, "log-number", f"`{cell.text[:60]}`" if cell.text else "nothing", column.what, remedy)
                continue
            row[column.field] = to_base(number, unit)
        if len(row) < len(columns):
            continue
        times = numbers["time_s"]
        if times and row["time_s"] <= times[-1]:
            found = f"the time {cells[columns[0].place].text} after a later or equal one"
            note(cells[columns[0].place].column, "log-time-order", found, "times that go up", "Take the log anew")
            continue
        for name, value in row.items():
            numbers[name].append(value)
        if exercise is not None:
            exercises.append(cells[exercise].text)
    return numbers, exercises
