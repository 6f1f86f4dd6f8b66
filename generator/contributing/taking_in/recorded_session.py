"""The session of a record that a log belongs to: its protocol, what is still blank in it, and the log put into it.

Only the lines of blank readings are exchanged; every other byte of the record stays, comments included.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.contributing.taking_in.written_log import WrittenLog, record_lines
from generator.errors import Problem, WrongUsage
from generator.loading import load_found
from generator.loading.characters import shortened
from generator.loading.explain import checked, nearest
from generator.loading.files import LOGS, FilesFound
from generator.loading.reference import load_reference
from generator.loading.yaml_source import Steps, YamlSource, read_yaml
from generator.model.reference import Protocol

_READINGS = (
    "log",
    "exercises",
    "in_mask_time",
    "ambient_time",
    "ambient_before",
    "ambient_after",
    "fit_factor",
    "fit_factor_at_least",
)
"""Keys of a session that a log takes the place of."""
_FOLDER = "device_tests"


@dataclass(frozen=True)
class RecordedSession:
    """A session as it stands in its record, whatever else is still blank there."""

    source: YamlSource
    name: str
    """File name of the record."""
    steps: Steps
    data: Mapping[str, Any]


def recorded_session(files: FilesFound, record: str, session: str) -> RecordedSession | None:
    """Find a session by the ids of its record and its own; None where there is no such record.

    Raises
    ------
    WrongUsage
        The record cannot be read as YAML, or has no such session.
    """
    name = f"{record}.yaml"
    content = files.contents[_FOLDER].get(name)
    if content is None:
        return None
    source = read_yaml(content, files.shown(_FOLDER, name))
    if not source.readable:
        raise WrongUsage(f"found a record that cannot be read as YAML: {source.problems[0]}")
    sessions = source.value(("fit",))
    ids = []
    for place, data in enumerate(sessions if isinstance(sessions, list) else []):
        if isinstance(data, dict):
            if data.get("id") == session:
                return RecordedSession(source, name, ("fit", place), data)
            ids.append(f"`{shortened(str(data.get('id')))}`")
    known = ", ".join(ids) or "none"
    raise WrongUsage(
        f"found no session `{shortened(session)}` in {source.file}, expected one of its sessions ({known}). Correct it"
    )


def protocol_named(files: FilesFound, name: str) -> Protocol:
    """Return a protocol, published or of the records.

    Raises
    ------
    WrongUsage
        There is none of that name, or its file has problems.
    """
    published = load_reference().protocols
    own = files.contents["protocols"]
    if name in published:
        return published[name]
    if f"{name}.yaml" in own:
        protocol, problems = checked(read_yaml(own[f"{name}.yaml"], files.shown("protocols", f"{name}.yaml")), Protocol)
        if protocol is not None:
            return protocol
        raise WrongUsage(f"found a protocol with problems: {problems[0]}")
    known = (*published, *(each.removesuffix(".yaml") for each in own))
    close = nearest(name, known)
    hint = "" if close is None else f"Did you mean `{close}`? "
    raise WrongUsage(f"found no protocol `{shortened(name)}`, expected one of {', '.join(known)}. {hint}Correct it")


def is_blank(value: Any) -> bool:
    """Say whether nothing was read into a part of a record; the names of exercises are no readings."""
    if isinstance(value, dict):
        return all(is_blank(each) for key, each in value.items() if key != "exercise")
    if isinstance(value, list):
        return all(map(is_blank, value))
    return value is None or value == ""


def with_log(session: RecordedSession, written: WrittenLog, replace: bool) -> bytes:
    """Return the record with the log in its session, in place of blank readings.

    Raises
    ------
    WrongUsage
        The session has readings already, or is not written in a way that lines can be put into.
    """
    kept = [key for key in _READINGS if key in session.data and not is_blank(session.data[key])]
    in_the_way = [key for key in kept if key not in ("in_mask_time", "ambient_time") and not (key == "log" and replace)]
    if in_the_way:
        found = " and ".join(f"`{key}`" for key in in_the_way)
        remedy = (
            "Give `--replace` to exchange the log" if in_the_way == ["log"] else "Remove what is wrong by hand first"
        )
        raise WrongUsage(f"found {found} in session `{session.data['id']}` already, expected none. {remedy}")
    goes = [key for key in _READINGS if key in session.data and (key not in kept or key == "log")]
    content = _exchanged(session, written, goes)
    after = read_yaml(content, session.source.file)
    expected = {key: value for key, value in session.data.items() if key not in goes} | {"log": written.reference}
    if after.value(session.steps) != expected or _without(after.data, session) != _without(
        session.source.data, session
    ):
        raise WrongUsage(
            f"found session `{session.data['id']}` written in a way that lines cannot be put into, expected one key on "
            "each line. Put the lines into the record by hand"
        )
    return content


def _without(data: Any, session: RecordedSession) -> Any:
    _, place = session.steps
    return {**data, "fit": [each for at, each in enumerate(data["fit"]) if at != place]}


def _exchanged(session: RecordedSession, written: WrittenLog, goes: list[str]) -> bytes:
    source = session.source
    newline = "\r\n" if b"\r\n" in source.content else "\n"
    lines = source.content.decode().replace("\r\n", "\n").split("\n")
    spans = {key: _span(lines, *source.position((*session.steps, key), of_key=True)) for key in session.data}
    _, column = source.position((*session.steps, "id"), of_key=True)
    new = record_lines(written, " " * (column - 1))
    place = next((spans[key][0] for key in ("log", "exercises") if key in goes), None)
    if "log" in goes:
        # What stands beside the key holds for what is put in its place.
        _, sign, comment = lines[spans["log"][0]].partition(" #")
        new[0] += f"  {sign.strip()}{comment}".rstrip()
    at = max(end for _, end in spans.values()) if place is None else place
    leaving = {line for key in goes for line in range(*spans[key])}
    result: list[str] = []
    for number, line in enumerate(lines):
        if number == at:
            result += new
        if number not in leaving or line.lstrip(" ").startswith("#"):
            result.append(line)
    if at == len(lines):
        result += new
    return newline.join(result).encode()


def _span(lines: list[str], line: int, column: int) -> tuple[int, int]:
    """Return the lines of a key and of what stands below it, from 0; not comments and blanks at its end."""
    first = line - 1
    end = first + 1
    for number in range(first + 1, len(lines)):
        text = lines[number]
        bare = text.strip()
        if not bare or bare.startswith("#"):
            continue
        indent = len(text) - len(text.lstrip(" "))
        # A list may begin in the column of its key.
        if indent < column - 1 or (indent == column - 1 and not bare.startswith("- ")):
            break
        end = number + 1
    return first, end


def new_problems(
    files: FilesFound, session: RecordedSession, written: WrittenLog, after: Sequence[Problem]
) -> Iterator[Problem]:
    """Yield what would be wrong with the log, or with a record that was good before; nothing is written for it.

    `after` are the problems that the records would have, as `remaining_with` returns them.
    """
    before = load_found(files).problems
    known = {_without_place(problem) for problem in before}
    good_before = not any(problem.file == session.source.file for problem in before)
    log = files.shown(*written.file.split("/"))
    path = f"fit[{session.steps[1]}].log"
    for problem in after:
        of_log = problem.file == log or (problem.file == session.source.file and problem.path.startswith(path))
        if (
            (good_before or of_log)
            and problem.file in (session.source.file, log)
            and _without_place(problem) not in known
        ):
            yield problem


def remaining_with(
    files: FilesFound, session: RecordedSession, written: WrittenLog, record: bytes
) -> tuple[Problem, ...]:
    """Return every problem that the records would have with the log and the record as they are to be written."""
    contents = {
        **files.contents,
        LOGS: {**files.contents[LOGS], written.file.removeprefix(f"{LOGS}/"): written.content},
        _FOLDER: {**files.contents[_FOLDER], session.name: record},
    }
    return load_found(
        FilesFound(files.folder, contents, files.unread, files.picture_names, list(files.problems))
    ).problems


def _without_place(problem: Problem) -> tuple[str, str, str, str]:
    return problem.file, problem.path, problem.slug, problem.found
