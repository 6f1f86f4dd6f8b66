"""`inward take-in`: take in the readings of a logger for one session of a record."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from generator.command_line.counting import counted
from generator.command_line.plain_text import WIDTH, colours_wanted, wrapped
from generator.command_line.records_option import records_option
from generator.errors import Problem, WrongUsage

if TYPE_CHECKING:
    from generator.contributing.taking_in.cut import Cut
    from generator.contributing.taking_in.on_record import ToWrite
    from generator.contributing.taking_in.plot import Segment
    from generator.contributing.taking_in.readings import Readings
    from generator.contributing.taking_in.recorded_session import RecordedSession
    from generator.contributing.taking_in.taking import Wishes
    from generator.contributing.taking_in.told import Told, Unclear

_COLOURS = {"ambient": "cyan", "in-mask": "magenta", "side-by-side": "yellow", "outside": "blue"}
# The same as in the modules that read a log, which are imported only when it is called.
_ENCODINGS = ("utf-8", "utf-16", "cp1252", "latin-1")
_DELIMITERS = ("tab", "semicolon", "stroke", "comma", "blanks")
_TIME_FORMS = (
    "seconds",
    "milliseconds",
    "minutes",
    "hours",
    "clock",
    "minutes-seconds",
    "hours-minutes",
    "year-first",
    "day-first",
    "month-first",
)
_LINES = re.compile(r"([0-9]{1,9})-([0-9]{1,9})")
_Wanted = TypeVar("_Wanted", "Told", "Wishes")
_Done = TypeVar("_Done")
_MOST_QUESTIONS = 30


@click.command(name="take-in", short_help="Take in the readings of a logger for a session of a record.")
@click.argument("log", type=click.Path(path_type=Path))
@records_option
@click.option("--record", required=True, metavar="ID", help="The test record that the log belongs to.")
@click.option("--session", required=True, metavar="ID", help="The session of that record.")
@click.option("--protocol", metavar="ID", help="The protocol, where the session does not name it yet.")
@click.option("--into-record", is_flag=True, help="Put the lines into the record, in place of blank readings.")
@click.option("--replace", is_flag=True, help="Exchange a log that is on record for this session already.")
@click.option("--name", metavar="NAME", help="File name of the log without its ending.  [default: record-session]")
@click.option("--yes", "-y", is_flag=True, help="Take what was detected as right, without a question.")
@click.option("--encoding", type=click.Choice(_ENCODINGS), help="How letters are written.")
@click.option(
    "--delimiter",
    type=click.Choice(_DELIMITERS),
    help="What stands between the values; a stroke is `|`.",
)
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The sign before the decimals.")
@click.option("--headings", type=click.IntRange(min=0), metavar="LINE", help="Line of the headings, 0 for none.")
@click.option("--lines", metavar="FIRST-LAST", help="The lines of the file that are read; others are left out.")
@click.option("--time", metavar="COLUMN", help="Column of the time, by its heading or its number; so for the others.")
@click.option("--concentration", metavar="COLUMN", help="Column of the concentration, inside where there are two.")
@click.option("--outside", metavar="COLUMN", help="Column of a second channel that counts outside, or `none`.")
@click.option("--exercise", metavar="COLUMN", help="Column of the exercise, or `none`.")
@click.option("--sampling", metavar="COLUMN", help="Column of what air was drawn, or `none`.")
@click.option(
    "--time-format",
    type=click.Choice(_TIME_FORMS),
    metavar="FORM",
    help=f"How times are written: {', '.join(_TIME_FORMS)}.",
)
@click.option("--unit", metavar="UNIT", help="Unit of the readings, such as /cm3.")
@click.option("--doubled", type=click.Choice(["spread"]), help="Spread readings that have one time evenly.")
@click.option("--mark", "marks", multiple=True, metavar="WORD=MEANING", help="An exercise, ambient, in-mask or purge.")
@click.option(
    "--exercise-at", multiple=True, metavar="ID=START-END", help="When an exercise was, as talking=5:10-6:10."
)
@click.option("--ambient-at", multiple=True, metavar="START-END", help="When the room's air was drawn.")
@click.option("--side-by-side-at", multiple=True, metavar="START-END", help="When both channels drew the same air.")
@click.option("--start", metavar="TIME", help="When the protocol's timetable begins.")
@click.option("--ambient-time", metavar="TIME", help="How long each ambient sample is in it, such as 20.")
@click.option("--in-mask-time", metavar="TIME", help="How long the air inside is drawn in each exercise of it.")
@click.option(
    "--settle", metavar="TIME", help="How long is left out, beside these times, where the air changes, such as 5."
)
@click.option("--from", "first", metavar="TIME", help="Keep the log from this time on.")
@click.option("--to", "last", metavar="TIME", help="Keep the log up to, without, this time.")
def take_in(log: Path, records: Path, record: str, session: str, protocol: str | None, **given: Any) -> None:
    """Take in the raw readings of a logger for one session of a record.

    LOG is any text with a reading on each line and the same sign between the values. How it is written is detected,
    shown and confirmed; then it is cut into exercises by columns of marks, by given times, or by the protocol's
    timetable from its start, and drawn. The log is written to logs/ in the records folder, and the lines that refer to
    it are printed for the record or put into it.

    Times are given from the first reading of the file, as `310` (seconds) or `5:10`, or on the log's own clock, as
    `18:05:10`.

    Exit codes: 0 the log is on record, 1 it has problems or would give some, 2 something is missing or contradicts.
    """
    from generator.contributing.taking_in.on_record import log_name, to_write
    from generator.contributing.taking_in.raw_text import raw_text, read_raw
    from generator.contributing.taking_in.readings import read_readings
    from generator.contributing.taking_in.recorded_session import protocol_named, recorded_session
    from generator.contributing.taking_in.report import meaning_lines, reading_lines
    from generator.contributing.taking_in.taking import cut_log
    from generator.loading.files import find_files

    name = log_name(record, session, given["name"])
    told, wishes = _told(given), _wishes(given)
    content = read_raw(log)
    files = find_files(records)
    recorded = recorded_session(files, record, session)
    if given["into_record"] and recorded is None:
        raise WrongUsage(f"found no record `{record}` in {records}, expected one to put the lines into. Correct the id")
    steps = protocol_named(files, _protocol_name(protocol, recorded))

    def read(told: Told) -> Readings | tuple[Problem, ...]:
        return read_readings(raw_text(content, told.encoding), str(log), told)

    readings, _ = _asked(read, told)
    if isinstance(readings, tuple):
        _refuse(readings, "in the log")
    _tell(reading_lines(readings))
    _confirm("Is it read right?", given["yes"])
    if recorded is not None:
        wishes = wishes.with_session(recorded.data, steps)
    while True:
        taken, asked = _asked(lambda wishes: cut_log(readings, steps, wishes), wishes)
        _tell(["", *meaning_lines(taken.meanings), ""] if taken.meanings else [""])
        _show_cut(readings, taken.cut)
        # Answers that were given here can be given anew; options stay as they are.
        if _confirm("Is it cut right?", given["yes"], again=asked != wishes):
            break
    ready = to_write(
        files, name, readings, taken, steps, recorded, into_record=given["into_record"], replace=given["replace"]
    )
    if ready.problems:
        _refuse(ready.problems, "with the log as it would be")
    ready.write()
    _tell_written(ready)


def _protocol_name(given: str | None, recorded: RecordedSession | None) -> str:
    named = None if recorded is None else recorded.data.get("protocol")
    if given is not None and named is not None and given != named:
        raise WrongUsage(f"found `--protocol {given}` and `protocol: {named}` in the record, expected one. Correct one")
    if isinstance(named, str):
        return named
    if given is None:
        raise WrongUsage("found no protocol in the session, expected one to cut the log by. Name it by `--protocol`")
    return given


def _told(given: Mapping[str, Any]) -> Told:
    from generator.contributing.taking_in.told import Told

    lines = None
    if given["lines"] is not None:
        match = _LINES.fullmatch(given["lines"])
        if match is None or not 1 <= int(match[1]) <= int(match[2]):
            raise WrongUsage(f"found `--lines {given['lines']}`, expected two lines such as `10-700`. Correct it")
        lines = int(match[1]), int(match[2])
    return Told(**{each.name: given[each.name] for each in fields(Told) if each.name != "lines"}, lines=lines)


def _wishes(given: Mapping[str, Any]) -> Wishes:
    from generator.contributing.taking_in.taking import Wishes

    return Wishes(
        marks=dict(_mark(text) for text in given["marks"]),
        exercises=given["exercise_at"],
        ambient=given["ambient_at"],
        side_by_side=given["side_by_side_at"],
        **{key: given[key] for key in ("start", "ambient_time", "in_mask_time", "settle", "first", "last")},
    )


def _mark(text: str) -> tuple[str, str]:
    word, between, meaning = text.rpartition("=")
    if not between:
        raise WrongUsage(f"found `--mark {text}`, expected a word and its meaning such as `step 3=talking`. Correct it")
    return word, meaning


def _asked(work: Callable[[_Wanted], _Done], wanted: _Wanted) -> tuple[_Done, _Wanted]:
    """Do what is to be done; what it leaves open is asked at a terminal, and elsewhere named by its option.

    Returned with the answers that it was done by.
    """
    from generator.contributing.taking_in.taking import unclear_without_answer
    from generator.contributing.taking_in.told import Unclear

    for _ in range(_MOST_QUESTIONS):
        try:
            return work(wanted), wanted
        except Unclear as unclear:
            key = unclear.option.removeprefix("--").replace("-", "_")
            key = "marks" if key == "mark" else key
            if not sys.stdin.isatty() or key not in {each.name for each in fields(wanted)}:
                raise unclear_without_answer(unclear) from unclear
            answer: Any = _answer(unclear, getattr(wanted, key))
            wanted = replace(wanted, **{key: answer})
    raise WrongUsage("found too many answers that do not fit the log, expected others. Look at the log in an editor")


def _answer(unclear: Unclear, before: object) -> object:
    """Ask at the terminal; answers are numbered, unless they are numbers themselves."""
    _tell([f"The log leaves open ({unclear.option}): {unclear.found}."])
    values = [choice.value for choice in unclear.choices]
    labels = values if all(map(str.isdecimal, values)) else [str(place) for place in range(1, len(values) + 1)]
    for label, choice in zip(labels, unclear.choices, strict=True):
        words = [choice.meaning] if label == choice.value else [choice.value, choice.meaning]
        _tell([f"  {label}  {', '.join(filter(None, words))}"])
    kind = click.Choice(labels) if labels else click.STRING
    _tell([unclear.question])
    label = click.prompt("Answer", type=kind, show_choices=False, err=True)
    answer = dict(zip(labels, values, strict=True)).get(label, label)
    if unclear.option == "--headings":
        return int(answer)
    return {**before, **dict([_mark(answer)])} if isinstance(before, dict) else answer


def _tell(lines: Iterable[str]) -> None:
    for line in lines:
        for part in wrapped(line, "", "  ") if len(line) > WIDTH else [line]:
            click.echo(part, err=True)


def _show_cut(readings: Readings, cut: Cut) -> None:
    from generator.contributing.taking_in.cut_table import cut_table, doubts
    from generator.contributing.taking_in.plot import BLOCKS, PLAIN, plot

    blocks = (sys.stderr.encoding or "").lower().startswith("utf")
    for line in (*plot(readings, cut, BLOCKS if blocks else PLAIN), (), *cut_table(readings, cut), ()):
        click.echo("".join(_coloured(segment) for segment in line).rstrip(), err=True, color=_colour())
    _tell(f"Look: {each}" for each in doubts(readings, cut))


def _coloured(segment: Segment) -> str:
    colour = _COLOURS.get(segment.kind)
    return click.style(segment.text, fg=colour) if colour is not None else segment.text


def _colour() -> bool | None:
    """Return False where colours are not wanted; None leaves it to whether there is a terminal."""
    return None if colours_wanted() else False


def _confirm(question: str, yes: bool, again: bool = False) -> bool:
    """Ask whether something is right; where it is not, end, or return that the questions before are asked again."""
    if yes:
        return True
    if not sys.stdin.isatty():
        raise WrongUsage(
            "found nobody to ask whether this is right, expected `--yes`. Look at it, and call the command again with "
            "`--yes`, or with the options that correct it. Nothing was written"
        )
    if click.confirm(question, err=True):
        return True
    if again and click.confirm("Answer again how it is cut?", default=True, err=True):
        return False
    click.echo("Nothing was written. Options correct what was taken wrongly: `inward take-in --help`.", err=True)
    raise click.exceptions.Exit(2)


def _refuse(problems: Sequence[Problem], where: str) -> NoReturn:
    for problem in problems:
        click.echo(str(problem))
    click.echo(f"{counted(len(problems), 'problem')} {where}; nothing was written.", err=True)
    raise click.exceptions.Exit(1)


def _tell_written(ready: ToWrite) -> None:
    from generator.contributing.taking_in.written_log import record_lines

    done = "is there already" if ready.log_is_there else f"written, {len(ready.log.content)} bytes"
    _tell([f"{ready.log_path}: {done}."])
    if ready.log.begins_s:
        _tell([f"Its clock begins {ready.log.begins_s:.12g} s after the first reading of the file."])
    if ready.record_path is None:
        _tell(["For the session in the record, in place of its readings (or give `--into-record`):"])
        for line in record_lines(ready.log, "    "):
            click.echo(line)
        return
    _tell([f"{ready.record_path}: the lines of the log are in it."])
    left = len(ready.remaining)
    _tell(
        [
            f"{counted(left, 'problem')} left in the record; `inward check` names them."
            if left
            else "No problems left in the record."
        ]
    )
