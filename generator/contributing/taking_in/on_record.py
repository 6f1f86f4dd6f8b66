"""What is to be written for a log: the file below logs/, and the record with its lines; or why nothing may be."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.contributing.taking_in.checked_log import log_problems
from generator.contributing.taking_in.readings import Readings
from generator.contributing.taking_in.recorded_session import (
    RecordedSession,
    new_problems,
    remaining_with,
    with_log,
)
from generator.contributing.taking_in.taking import TakenIn
from generator.contributing.taking_in.written_log import WrittenLog, write_log
from generator.contributing.whole_files import write_whole
from generator.errors import Problem, WrongUsage
from generator.loading.files import LOGS, FilesFound, can_name_a_log
from generator.model.reference import Protocol


@dataclass(frozen=True)
class ToWrite:
    """What is to be written, when it has no problems."""

    log: WrittenLog
    log_path: Path
    log_is_there: bool
    """Whether this very log is on record already."""
    record_path: Path | None
    record: bytes
    problems: tuple[Problem, ...]
    """Why nothing may be written."""
    remaining: tuple[Problem, ...]
    """What the record still lacks, when its lines are put into it."""

    def write(self) -> None:
        """Write the log, then the record that refers to it."""
        if not self.log_is_there:
            self.log_path.parent.mkdir(exist_ok=True)
            write_whole(self.log_path, self.log.content)
        if self.record_path is not None:
            write_whole(self.record_path, self.record)


def log_name(record: str, session: str, given: str | None) -> str:
    """Return the file name of a log without its ending.

    Raises
    ------
    WrongUsage
        It is no name that a log may have.
    """
    name = given if given is not None else f"{record}-{session}"
    if not can_name_a_log(name):
        raise WrongUsage(
            f"found `{name}` as the name of the log, expected at most 64 lower-case letters, digits and single hyphens "
            "or underscores. Give another by `--name`"
        )
    return name


def to_write(
    files: FilesFound,
    name: str,
    readings: Readings,
    taken: TakenIn,
    protocol: Protocol,
    session: RecordedSession | None,
    *,
    into_record: bool,
    replace: bool,
) -> ToWrite:
    """Return what is to be written for a log.

    Raises
    ------
    WrongUsage
        Another log has that name, or the session has readings already.
    """
    written = write_log(f"{LOGS}/{name}.csv", readings, taken.cut, taken.marks)
    shown = files.shown(LOGS, f"{name}.csv")
    there = files.contents[LOGS].get(f"{name}.csv")
    if os.path.lexists(shown) and there != written.content and not replace:
        raise WrongUsage(
            f"found another log in {shown}, expected no file of that name. Give `--replace` to exchange it, or another "
            "name by `--name`"
        )
    data: Mapping[str, Any] | None = None if session is None else session.data
    problems = log_problems(written, taken.cut, protocol, data, shown)
    record = b""
    remaining: tuple[Problem, ...] = ()
    if into_record and session is not None and not problems:
        record = with_log(session, written, replace)
        after = remaining_with(files, session, written, record)
        problems = tuple(new_problems(files, session, written, after))
        remaining = tuple(each for each in after if each.file == session.source.file)
    return ToWrite(
        log=written,
        log_path=Path(shown),
        log_is_there=there == written.content,
        record_path=Path(session.source.file) if into_record and session is not None else None,
        record=record,
        problems=problems,
        remaining=remaining,
    )
