"""A process that publishes again and again, itself or in a child that may be killed, and sets each sheet once.

Started as `python -m tests.publishing_process`. A publish of a small catalogue takes seconds, nearly all of them for
imports and for sheets that were set before; here it takes a fraction of one. What is not under test is saved: the
same paper is the same bytes, which tests/test_same_anywhere.py sees to.

It reads lines: `publish` with a list of words runs the command here, `begin` with a list of words and a failpoint runs
it in a child, after which `wait` or `kill` ends the child. What the command says comes out as it is said, and
`ended <exit code>` (negative: the signal) after it.
"""

from __future__ import annotations

import json
import os
import pickle
import signal
import sys
from collections.abc import Mapping
from unittest.mock import patch

from generator.command_line import run
from generator.presenting.page_parts import Letterhead, Paper
from generator.publishing.failpoint import VARIABLE
from generator.rendering import whole_site
from generator.rendering.sheets import render_sheet

_sheets: dict[bytes, bytes] = {}


def set_once(sheet: Paper, letterhead: Letterhead, attached: Mapping[str, bytes]) -> bytes:
    """Set a paper, or give it as it was set before."""
    key = pickle.dumps((sheet, letterhead, attached))
    if key not in _sheets:
        _sheets[key] = render_sheet(sheet, letterhead, attached)
    return _sheets[key]


def _begin(words: list[str], place: str) -> int:
    child = os.fork()
    if child == 0:
        os.environ[VARIABLE] = place
        code = run(words, ends_process=True)
        sys.stdout.flush()
        os._exit(code)
    return child


def _serve() -> None:
    os.dup2(1, 2)
    child = 0
    for line in sys.stdin:
        verb, _, given = line.partition(" ")
        if verb == "publish":
            code = run(json.loads(given))
        elif verb == "begin":
            child = _begin(*json.loads(given))
            continue
        else:
            if verb.strip() == "kill":
                os.kill(child, signal.SIGKILL)
            code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        print(f"\nended {code}", flush=True)  # noqa: T201 - this is the answer


if __name__ == "__main__":
    with patch.object(whole_site, "render_sheet", set_once):
        _serve()
