"""Runs `inward verify`."""

from pathlib import Path

import pytest

from generator.command_line import run


def verified(site: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, list[str]]:
    """Return the exit code, and the lines that were printed."""
    capsys.readouterr()
    code = run(["verify", str(site)])
    return code, capsys.readouterr().out.splitlines()
