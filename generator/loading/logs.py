"""Raw logs: CSV text to samples in order of time, or problems with the line and column in the log."""

from __future__ import annotations

import codecs
import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import repeat

from generator.errors import Problem
from generator.loading.characters import shortened, unusable_text
from generator.loading.explain import nearest
from generator.loading.files import LARGEST_LOG
from generator.loading.log_cells import MOST_CELLS, MOST_LINES, Cell, cells_of, number_in, plain_columns
from generator.loading.yaml_source import WHOLE_FILE
from generator.model.log import Log, LogSample, Sampling
from generator.model.session import LogReference, TimetableEntry
from generator.model.units import checked_unit, to_base

MOST_PROBLEMS = 20
"""Problems told of one log; a decimal comma would otherwise give one for every second of it."""

_SAMPLINGS: Mapping[str, Sampling] = {each.value: each for each in Sampling}
_Span = tuple[float, float, TimetableEntry]
"""When an entry of the timetable begins and ends [s]."""


@dataclass
class _Reading:
    """One walk through a log."""

    file: str
    reference: LogReference
    exercises: tuple[str, ...]
    problems: list[Problem] = field(default_factory=list)

    def note(self, line: int, cell: Cell | int, slug: str, found: str, expected: str, remedy: str) -> None:
        self.problems.append(problem_in_line(self.file, line, cell, slug, found, expected, remedy))


def problem_in_line(
    file: str, line: int, cell: Cell | int, slug: str, found: str, expected: str, remedy: str
) -> Problem:
    """Make a problem with a cell of a line, or with the line from a column on."""
    column, end = (cell, None) if isinstance(cell, int) else (cell.column, (line, cell.end))
    return Problem(file, line, column, f"line {line}", slug, found, expected, remedy, end)


def read_log(
    content: bytes, file: str, reference: LogReference, exercises: tuple[str, ...]
) -> tuple[Log | None, tuple[Problem, ...]]:
    """Read a log by the columns that a record gives; `exercises` are those of the session's protocol."""
    reading = _Reading(file, reference, exercises)
    text = log_text(content, file)
    if isinstance(text, Problem):
        return None, (text,)
    lines = text.replace("\r\n", "\n").removesuffix("\n").split("\n", MOST_LINES + 1)
    places = _places(lines, reading)
    samples = (_samples_of_columns(lines, places, reading) or tuple(_samples(lines, places, reading))) if places else ()
    if places and not samples and not reading.problems:
        reading.note(1, 1, "log-empty", "no readings below the headings", "one line for each reading", "Add them")
    if reading.problems:
        return None, tuple(reading.problems)
    return Log(file=reference.file, sha256=reference.sha256, samples=samples), ()


def sha256_of(content: bytes) -> str:
    """Return the SHA-256 of a file's bytes, as records state it."""
    return hashlib.sha256(content).hexdigest()


def log_text(content: bytes, file: str) -> str | Problem:
    """Return a log's text, or the problem that it cannot be read as one."""
    if len(content) > LARGEST_LOG:
        found, expected = f"more than {LARGEST_LOG} bytes", f"at most {LARGEST_LOG} bytes"
        remedy = "Keep the part of the log that belongs to the session"
        return Problem(file, 1, 1, WHOLE_FILE, "file-too-large", found, expected, remedy)
    content = content.removeprefix(codecs.BOM_UTF8)
    return unusable_text(content, file, WHOLE_FILE) or content.decode()


def _places(lines: Sequence[str], reading: _Reading) -> dict[str, int]:
    """Return which column holds what, or nothing where a heading is missing."""
    wanted = {name: heading for name, heading in reading.reference.columns if heading is not None}
    return headings_of(lines[0], wanted, reading.file, reading.problems)


def headings_of(
    line: str,
    wanted: Mapping[str, str],
    file: str,
    problems: list[Problem],
    correct: str = "Correct `columns` in the record",
) -> dict[str, int]:
    """Return which column holds what, or nothing, with problems, where a heading is missing."""
    headings = [cell.text for cell in cells_of(line)]
    if len(headings) > MOST_CELLS:
        expected, remedy = f"at most {MOST_CELLS} headings", "Keep the columns that the record names"
        problems.append(Problem(file, 1, 1, "line 1", "log-row", "more headings", expected, remedy))
        return {}
    places: dict[str, int] = {}
    told = len(problems)
    for name, heading in wanted.items():
        if heading in headings:
            places[name] = headings.index(heading)
            continue
        close = nearest(heading, headings)
        remedy = correct if close is None else f"Did you mean `{close}`? {correct}"
        shown = ", ".join(f"`{shortened(each)}`" for each in headings if each) or "no headings"
        what = "second channel" if name == "outside" else name
        expected = f"the heading `{heading}` for the {what}"
        problems.append(Problem(file, 1, 1, "line 1", "log-heading-missing", shown, expected, remedy))
    return {} if len(problems) > told else places


def _samples_of_columns(
    lines: Sequence[str], places: Mapping[str, int], reading: _Reading
) -> tuple[LogSample, ...] | None:
    """Return all samples, or None where anything is not as it should be."""
    columns = plain_columns(lines)
    times = None if columns is None else columns.rising(places["time"])
    if columns is None or times is None:
        return None
    channels = [columns.numbers(places[name]) for name in ("concentration", "outside") if name in places]
    unit = checked_unit(reading.reference.unit)
    good = [numbers for numbers in channels if numbers is not None and min(numbers) >= 0]
    in_base = [[to_base(number, unit) for number in numbers] for numbers in good]
    if len(in_base) < len(channels):
        return None
    meant: list[tuple[str, Sampling]] | None
    if reading.reference.timetable:
        timetable = _spans(reading.reference)
        meant = [_by_timetable(time, timetable) for time in times]
    else:
        meant = _meant(columns.texts(places["exercise"]), columns.texts(places["sampling"]), reading)
    if meant is None:
        return None
    inside, outside = in_base[0], in_base[1] if len(in_base) > 1 else repeat(None)
    read = zip(times, inside, *zip(*meant, strict=True), outside, strict=False)
    return tuple(map(LogSample._make, read))


def _meant(exercises: Sequence[str], samplings: Sequence[str], reading: _Reading) -> list[tuple[str, Sampling]] | None:
    """Return what each line is by its cells, or None where one of them says nothing that is known."""
    pairs = list(zip(exercises, samplings, strict=True))
    known = {}
    for exercise, text in set(pairs):
        sampling = _known_sampling(text, reading)
        if sampling is None or not _is_exercise(exercise, sampling, reading):
            return None
        known[exercise, text] = (exercise, sampling)
    return [known[pair] for pair in pairs]


def _samples(lines: Sequence[str], places: dict[str, int], reading: _Reading) -> Iterator[LogSample]:
    width = len(cells_of(lines[0]))
    last_time: float | None = None
    timetable, unit = _spans(reading.reference), checked_unit(reading.reference.unit)
    for line, text in enumerate(lines[1:], start=2):
        if len(reading.problems) >= MOST_PROBLEMS:
            remedy = "Mend these first; often one change of the columns, the unit or the decimal sign mends them all"
            expected = "a log without problems"
            reading.note(line, 1, "log-more-problems", f"{MOST_PROBLEMS} problems above this line", expected, remedy)
            return
        if line > MOST_LINES:
            expected, remedy = f"at most {MOST_LINES} lines", "Keep the part of the log that belongs to the session"
            reading.note(line, 1, "log-too-long", "more lines", expected, remedy)
            return
        cells = cells_of(text)
        if len(cells) != width:
            expected = f"{width} values, as there are headings"
            found = "more values" if len(cells) > MOST_CELLS else f"{len(cells)} values"
            reading.note(line, 1, "log-row", found, expected, "Correct the line, or take the log anew")
            continue
        time = _number(line, cells[places["time"]], "the time in seconds", reading)
        concentration = _concentration(line, cells[places["concentration"]], reading)
        second = "outside" in places
        outside = _concentration(line, cells[places["outside"]], reading) if second else None
        exercise: str | None
        sampling: Sampling | None
        if timetable:
            exercise, sampling = _by_timetable(time, timetable)
        else:
            sampling = _sampling(line, cells[places["sampling"]], reading)
            exercise = _exercise(line, cells[places["exercise"]], sampling, reading)
        if time is not None and last_time is not None and time <= last_time:
            found, expected = f"the time {time:.12g} after {last_time:.12g}", "times that go up"
            reading.note(line, cells[places["time"]], "log-time-order", found, expected, "Take the log anew")
        last_time = last_time if time is None else time
        if time is None or concentration is None or sampling is None or exercise is None:
            continue
        if second and outside is None:
            continue
        yield LogSample(
            time_s=time,
            concentration_per_cm3=to_base(concentration, unit),
            exercise=exercise,
            sampling=sampling,
            outside_per_cm3=None if outside is None else to_base(outside, unit),
        )


def _number(line: int, cell: Cell, what: str, reading: _Reading) -> float | None:
    value = number_in(cell.text)
    if value is None:
        remedy = "Write a plain number with a decimal point; leave out lines without a reading"
        found = f"`{shortened(cell.text)}`" if cell.text else "nothing"
        reading.note(line, cell, "log-number", found, what, remedy)
    return value


def _concentration(line: int, cell: Cell, reading: _Reading) -> float | None:
    value = _number(line, cell, "a concentration", reading)
    if value is not None and value < 0:
        reading.note(line, cell, "log-number", f"the concentration {value:.12g}", "0 or more", "Take the log anew")
    return value


def _spans(reference: LogReference) -> list[_Span]:
    return [(entry.start.to("s"), entry.end.to("s"), entry) for entry in reference.timetable]


def _by_timetable(time: float | None, timetable: Sequence[_Span]) -> tuple[str, Sampling]:
    """Return what a line is by its time; purge where no entry of the timetable holds it."""
    for start, end, entry in timetable:
        if time is not None and start <= time < end:
            return entry.exercise or "", entry.sampling
    return "", Sampling.PURGE


def _known_sampling(text: str, reading: _Reading) -> Sampling | None:
    two_channels = reading.reference.columns.outside is not None
    meant = _SAMPLINGS.get(text)
    return meant if two_channels or meant is not Sampling.SIDE_BY_SIDE else None


def _is_exercise(text: str, sampling: Sampling | None, reading: _Reading) -> bool:
    return text in reading.exercises or (not text and sampling is not Sampling.IN_MASK)


def _sampling(line: int, cell: Cell, reading: _Reading) -> Sampling | None:
    meant = _known_sampling(cell.text, reading)
    if meant is not None:
        return meant
    two_channels = reading.reference.columns.outside is not None
    known = [each for each in Sampling if two_channels or each is not Sampling.SIDE_BY_SIDE]
    expected = ", ".join(f"`{each.value}`" for each in known)
    found = f"`{shortened(cell.text)}`" if cell.text else "nothing"
    remedy = "Write one of them in every line"
    if cell.text == Sampling.SIDE_BY_SIDE:
        remedy = "Name the heading of the second channel in `columns.outside`, or mark the line as what it is"
    reading.note(line, cell, "log-sampling", found, f"one of {expected}", remedy)
    return None


def _exercise(line: int, cell: Cell, sampling: Sampling | None, reading: _Reading) -> str | None:
    if _is_exercise(cell.text, sampling, reading):
        return cell.text
    close = nearest(cell.text, reading.exercises)
    remedy = "Write the exercise's id as the protocol has it"
    if close is not None:
        remedy = f"Did you mean `{close}`? {remedy}"
    found = f"`{shortened(cell.text)}`" if cell.text else "no exercise for an in-mask reading"
    expected = f"an exercise of the protocol ({', '.join(reading.exercises)})"
    reading.note(line, cell, "log-exercise", found, expected, remedy)
    return None
