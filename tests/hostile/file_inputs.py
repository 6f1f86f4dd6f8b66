"""Hostile files, names, paths and logs, each beside every problem that it must give, written before it was tried.

Source of every expectation: the rules of the record guide, and the place counted by hand in the text.
"""

from __future__ import annotations

import hashlib
import os
import socket
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.hostile.yaml_inputs import TESTER, TESTER_FILE

GOOD_TESTER = f"{TESTER}disclosure: none\n".encode()
RECORD_FILE = "device_tests/stranger.yaml"
RECORD = """\
id: stranger
version: "1"
device: patchwork-cover
configuration: {state: as_supplied, description: none}
sample: {obtained: given, source: a stranger, lot: {not_recorded: none}, unit: {not_recorded: none}}
tester: lamplighter
dates: {received: 2025-03-01, performed: 2025-03-08, issued: 2025-03-14}
place: somewhere
environment: {temperature: 20 degC, pressure: 1013 hPa, humidity: 40 %}
instruments: {particle_counter: bench-counter}
fit:
  - id: a
    wearer: sedge
    donning: 1
    protocol: eight-standard-exercises
    filter: none
    outcome: aborted
    reason: none
    log:
      file: FILE
      sha256: SHA256
      unit: /cm3
      columns: {time: time, concentration: conc, exercise: step, sampling: where}
"""
"""A test whose aborted session has a log: line 20 names its file, from column 13 on; line 21 its hash."""


@dataclass(frozen=True)
class HostileFiles:
    """Something hostile done to the folder."""

    name: str
    put: Callable[[Path], None]
    expected: tuple[str, ...]
    """`file:line:column slug` of every problem."""

    def put_into(self, folder: Path) -> tuple[str, ...]:
        """Do it; return what must be said of it."""
        self.put(folder)
        return self.expected


def record_with_log(folder: Path, content: bytes, file: str = "logs/stranger.csv") -> None:
    """Write a log, and a test that refers to it by its hash."""
    (folder / "logs").mkdir(exist_ok=True)
    (folder / "logs" / "stranger.csv").write_bytes(content)
    text = RECORD.replace("FILE", file).replace("SHA256", hashlib.sha256(content).hexdigest())
    (folder / RECORD_FILE).write_text(text)


def _log(name: str, content: bytes, *expected: str) -> HostileFiles:
    return HostileFiles(
        name, lambda folder: record_with_log(folder, content), tuple(f"logs/stranger.csv:{each}" for each in expected)
    )


GOOD_LOG = b"time,conc,step,where\n0,1,,ambient\n1,1,,ambient\n"


def _path(name: str, written: str, slug: str = "wrong-form") -> HostileFiles:
    """Name another file in place of the log, which is then of no use."""
    unused = () if slug == "wrong-form" else ("logs/stranger.csv:1:1 log-unused",)
    return HostileFiles(
        name,
        lambda folder: record_with_log(folder, GOOD_LOG, written),
        (f"{RECORD_FILE}:20:13 {slug}", *unused),
    )


def _named(name: str, file_name: str | bytes, *slugs: str, shown: str | None = None) -> HostileFiles:
    """Put a good tester under another name; `id-not-file-name` stands at its id, the rest at the file."""

    def put(folder: Path) -> None:
        (folder / "testers" / os.fsdecode(file_name)).write_bytes(GOOD_TESTER)

    place = f"testers/{shown if shown is not None else os.fsdecode(file_name)}"
    at = {"id-not-file-name": "1:5"}
    return HostileFiles(name, put, tuple(f"{place}:{at.get(slug, '1:1')} {slug}" for slug in slugs))


def _at(slug: str, file: str = TESTER_FILE) -> tuple[str, ...]:
    return (f"{file}:1:1 {slug}",)


def _secret(folder: Path) -> Path:
    secret = folder.parent / "secret.yaml"
    secret.write_bytes(GOOD_TESTER)
    return secret


def _link(folder: Path, target: str | Path, file: str = TESTER_FILE) -> None:
    (folder / file).symlink_to(target)


def _linked_folder(folder: Path) -> None:
    (folder / "testers").rename(folder.parent / "moved")
    (folder / "testers").symlink_to(folder.parent / "moved")


def _hard_link(folder: Path) -> None:
    os.link(_secret(folder), folder / TESTER_FILE)


def _socket(folder: Path) -> None:
    # The path of a socket has at most 107 characters, so that it is bound by a short name.
    here = Path.cwd()
    os.chdir(folder / "testers")
    try:
        with socket.socket(socket.AF_UNIX) as bound:
            bound.bind("stranger.yaml")
    finally:
        os.chdir(here)


def _replaced(folder: Path, file: str, put: Callable[[Path], None]) -> None:
    path = folder / file
    if path.is_dir():
        path.rename(folder.parent / "moved")
    elif path.exists():
        path.unlink()
    put(path)


def _pipe_as_log(folder: Path) -> None:
    (folder / "logs").mkdir()
    os.mkfifo(folder / "logs" / "a.csv")


# Without testers, the small demo's record refers to nobody: its line 12 names the tester, from column 9 on.
_NO_TESTER = "device_tests/patchwork-cover-2025-03.yaml:12:9 unknown-reference"

FILES = (
    HostileFiles("a link to a file outside", lambda f: _link(f, _secret(f)), _at("outside-records")),
    HostileFiles("a link to the system's users", lambda f: _link(f, "/etc/passwd"), _at("outside-records")),
    HostileFiles("a link to an endless device", lambda f: _link(f, "/dev/zero"), _at("outside-records")),
    HostileFiles("a link to nothing", lambda f: _link(f, "nowhere"), _at("outside-records")),
    HostileFiles("a link to itself", lambda f: _link(f, "stranger.yaml"), _at("outside-records")),
    HostileFiles("a link within the records", lambda f: _link(f, "lamplighter.yaml"), _at("outside-records")),
    HostileFiles("a second name of a file outside", _hard_link, _at("outside-records")),
    HostileFiles("a linked folder", _linked_folder, (*_at("outside-records", "testers"), _NO_TESTER)),
    HostileFiles("a pipe in place of a record", lambda f: os.mkfifo(f / TESTER_FILE), _at("outside-records")),
    HostileFiles("a socket in place of a record", _socket, _at("outside-records")),
    HostileFiles("a folder in place of a record", lambda f: (f / TESTER_FILE).mkdir(), _at("unexpected-file")),
    HostileFiles(
        "a pipe in place of a folder",
        lambda f: _replaced(f, "testers", os.mkfifo),
        (*_at("outside-records", "testers"), _NO_TESTER),
    ),
    HostileFiles(
        "a link in place of the publication",
        lambda f: _replaced(f, "publication.yaml", lambda path: path.symlink_to("/etc/passwd")),
        _at("outside-records", "publication.yaml"),
    ),
    HostileFiles(
        "a folder in place of the publication",
        lambda f: _replaced(f, "publication.yaml", Path.mkdir),
        _at("outside-records", "publication.yaml"),
    ),
    HostileFiles(
        "a pipe as a log",
        _pipe_as_log,
        _at("outside-records", "logs/a.csv"),
    ),
    HostileFiles("a link as the guide, which is not read", lambda f: _link(f, "/etc/passwd", "README.md"), ()),
    _named("a reserved name", "con.yaml", "file-name", "id-not-file-name"),
    _named("a reserved name with a number", "lpt1.yaml", "file-name", "id-not-file-name"),
    _named("a name that differs in case", "Stranger.yaml", "file-name", "id-not-file-name"),
    _named("an ending that differs in case", "stranger.Yaml", "unexpected-file"),
    _named("a space before the ending", "stranger .yaml", "file-name", "id-not-file-name"),
    _named("a space behind the ending", "stranger.yaml ", "unexpected-file"),
    _named("a dot behind the ending", "stranger.yaml.", "unexpected-file"),
    _named("two dots", "stranger..yaml", "file-name", "id-not-file-name"),
    _named("a name of another script", "лось.yaml", "file-name", "id-not-file-name"),
    _named(
        "a space in a name that is not seen",
        "strang\u200ber.yaml",
        "file-name",
        "id-not-file-name",
        shown="strang er.yaml",
    ),
    _named("a name turned round", "a\u202elmay.yaml", "file-name", "id-not-file-name", shown="a lmay.yaml"),
    _named("a line end in a name", "a\nb.yaml", "file-name", "id-not-file-name", shown="a b.yaml"),
    _named("bytes that are no name", b"a\xffb.yaml", "file-name", "id-not-file-name", shown="a b.yaml"),
    _named("a name of 65 characters", "x" * 65 + ".yaml", "file-name", "id-not-file-name"),
    _named("a name like an option", "-rf.yaml", "file-name", "id-not-file-name"),
    _named("a hidden record", ".stranger.yaml", "unexpected-file"),
    _named("a name that begins a command", "$(reboot).yaml", "file-name", "id-not-file-name"),
)

PATHS = (
    _path("a path out of the records", "logs/../../secret.csv"),
    _path("a path to the top", "/etc/passwd"),
    _path("a path through a folder", "logs/a/b.csv"),
    _path("a path with two slashes", "logs//stranger.csv"),
    _path("a path with backslashes", "'logs\\stranger.csv'"),
    _path("a path with a drive", "C:/logs/stranger.csv"),
    _path("an address", "file:///etc/passwd"),
    _path("an address on the web", "http://records.example/stranger.csv"),
    _path("a path with percent signs", "logs/%2e%2e/stranger.csv"),
    _path("a path in another case", "logs/Stranger.csv"),
    _path("a path with a line end", '"logs/stranger.csv\\n"'),
    _path("a path of another folder", "testers/lamplighter.yaml"),
    _path("a path to nothing", "logs/nothing.csv", "log-missing"),
)

_HEAD = b"time,conc,step,where\n"
_MILLION = 1_000_000
LOGS = (
    _log("a log with a null byte", _HEAD + b"0,1,,amb\0ient\n", "2:9 character-not-allowed"),
    _log("a log turned round", _HEAD + "0,1,,\u202eambient\n".encode(), "2:6 character-not-allowed"),
    _log("a log that is no text", _HEAD + b"0,1,\xfe,ambient\n", "2:5 not-utf-8"),
    _log("a log in UTF-16", _HEAD.decode().encode("utf-16"), "1:1 not-utf-8"),
    _log("a log with a quote that is never closed", _HEAD + b'"' + b"x" * 8 * _MILLION, "2:1 log-row"),
    _log("a log of quotes", _HEAD + b'"' * 8 * _MILLION, "2:1 log-row"),
    _log("a log of commas", _HEAD + b"," * 8 * _MILLION, "2:1 log-row"),
    _log("a log of commas in its head", b"," * 8 * _MILLION, "1:1 log-row"),
    _log("a heading of eight million characters", b"x" * 8 * _MILLION, *["1:1 log-heading-missing"] * 4),
    _log(
        "a log of line ends",
        _HEAD + b"\n" * 8 * _MILLION,
        *(f"{line}:1 log-row" for line in range(2, 22)),
        "22:1 log-more-problems",
    ),
    _log(
        "a log of a million lines",
        _HEAD + b"".join(b"%d,1,,ambient\n" % n for n in range(400_000)),
        "100001:1 log-too-long",
    ),
    _log("a cell of eight million characters", _HEAD + b"0," + b"9" * 8 * _MILLION + b",,ambient\n", "2:3 log-number"),
    _log("a log that is too large", b"x" * (8 * 1024 * 1024 + 1), "1:1 file-too-large"),
    _log("a log with infinity", _HEAD + b"0,inf,,ambient\n", "2:3 log-number"),
    _log("a log with digits of another script", _HEAD + "0,٣,,ambient\n".encode(), "2:3 log-number"),
    _log("a log with a formula", _HEAD + b'0,"=1+1",,ambient\n', "2:3 log-number"),
    _log("a log with lone line ends", _HEAD + b"0,1,,ambient\r1,1,,ambient\r", "2:1 log-row"),
)

_RECORD_HEAD = RECORD[: RECORD.index("  - id: a")]
_SESSION = "  - {id: s%04d, wearer: sedga, donning: 1, protocol: eight, filter: n, outcome: aborted, reason: n}\n"
_EXERCISES = """\
  - id: a
    wearer: sedge
    donning: 1
    protocol: eight-standard-exercises
    filter: none
    outcome: completed
    exercises:
"""


def _record(name: str, text: str, *expected: str) -> HostileFiles:
    def put(folder: Path) -> None:
        (folder / RECORD_FILE).write_text(_RECORD_HEAD + text)

    return HostileFiles(name, put, tuple(f"{RECORD_FILE}:{each}" for each in expected))


RECORDS = (
    # The sessions begin in line 12; their wearer stands behind 24 characters, their protocol behind 53.
    _record(
        "four thousand sessions of nobody",
        "".join(_SESSION % number for number in range(4_000)),
        *(f"{line}:{column} unknown-reference" for line in range(12, 37) for column in (25, 54)),
        "37:25 more-problems",
    ),
    # The exercises begin in line 19. Each lacks two ambient samples; the first is told as not of the protocol too.
    _record(
        "nine thousand exercises of no protocol",
        _EXERCISES + "      - {exercise: none, in_mask: 1 /cm3}\n" * 9_000,
        "19:20 exercise-not-of-protocol",
        *(f"{line}:9 ambient-missing" for line in range(19, 43) for _ in range(2)),
        "43:9 ambient-missing",
        "43:9 more-problems",
    ),
)

HOSTILE_FILES = FILES + PATHS + LOGS + RECORDS
assert sys.platform != "win32", "the records are read by what only POSIX systems have"
