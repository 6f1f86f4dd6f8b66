"""A process that checks folders of records, each in a child of its own with limits, and tells what it cost.

Started as `python -m tests.hostile.checking_process`. It reads one folder a line and answers with one line of JSON:
exit code (negative: the signal that ended it), output, seconds of processor time, and the most memory in MB.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
import tempfile
from typing import IO

# Loaded once, as `inward check` loads them; a child starts with them and nothing that an earlier record left.
from generator.command_line import check, run
from generator.loading import load_reference

MOST_ADDRESS_SPACE = 700 * 1024 * 1024
MOST_SECONDS = 20
"""Wall-clock time after which a check counts as hanging, on however busy a machine."""


def _check(folder: str, output: IO[bytes]) -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MOST_ADDRESS_SPACE, MOST_ADDRESS_SPACE))
    signal.alarm(MOST_SECONDS)
    os.dup2(output.fileno(), 1)
    os.dup2(output.fileno(), 2)
    os.environ["INWARD_TRACEBACK"] = "1"
    try:
        code = run(["check", folder])
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException as error:
        os.write(1, f"Traceback: {error!r}".encode(errors="replace"))
        code = 99
    os._exit(code)


def _told(folder: str) -> str:
    with tempfile.TemporaryFile() as output:
        child = os.fork()
        if child == 0:
            _check(folder, output)
        _, status, used = os.wait4(child, 0)
        output.seek(0)
        return json.dumps(
            {
                "code": os.waitstatus_to_exitcode(status),
                "output": output.read().decode(errors="replace"),
                "seconds": used.ru_utime + used.ru_stime,
                "megabytes": used.ru_maxrss / 1024,
            }
        )


if __name__ == "__main__":
    load_reference()
    assert check is not None
    for line in sys.stdin:
        sys.stdout.write(_told(line.rstrip("\n")) + "\n")
        sys.stdout.flush()
