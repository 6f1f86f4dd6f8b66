"""A publish that is asked to stop ends with the signal's code and leaves the old site, or the new one if it is late."""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from generator.command_line import STOPPED, run
from generator.publishing import exchange as exchanging
from generator.publishing import output_folder
from tests.conftest import ROOT
from tests.faults.places import Place, names_in, tree_hash

MOMENTS = 3
LONGEST_RUN = 3.0
"""Seconds after the first line within which the signals come; a run on a slow machine may last longer."""


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_at_random_moments(place: Place, number: signal.Signals) -> None:
    old = tree_hash(place.output)
    fresh = Place(place.records, place.output.parent.parent / "whole" / "output")
    fresh.output.parent.mkdir()
    assert run(fresh.publishing) == 0
    new = tree_hash(fresh.output)
    moments = random.Random(int(number))
    stopped = 0
    for _ in range(MOMENTS):
        with subprocess.Popen(
            [sys.executable, "-m", "generator", *place.publishing, "--anew"],
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        ) as child:
            assert child.stderr is not None
            assert child.stderr.readline() == "Reading the records\n"
            time.sleep(moments.uniform(0, LONGEST_RUN))
            child.send_signal(number)
            lines = child.stderr.read().splitlines()
        if child.returncode == 0:
            # Too late to stop: the new site stands.
            assert tree_hash(place.output) == new
        else:
            assert (child.returncode, lines[-1]) == (128 + number, STOPPED)
            assert not any("Traceback" in line or "Exception" in line for line in lines), lines
            assert tree_hash(place.output) in (old, new)
            stopped += 1
        assert names_in(place.output.parent) == ["output"]
    assert stopped > 0


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_with_workers_and_a_signal_to_all_processes(open_folder: Path, number: signal.Signals) -> None:
    place = Place(open_folder / "records", open_folder / "published" / "output")
    shutil.copytree(ROOT / "tests" / "loading" / "examples" / "good", place.records)
    place.output.parent.mkdir()
    moments = random.Random(number + 100)
    for _ in range(MOMENTS // 2):
        with subprocess.Popen(
            [sys.executable, "-m", "generator", *place.publishing, "--anew", "--workers", "2"],
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            # As for control-C on a terminal: a group of processes of their own, all of which get the signal.
            start_new_session=True,
        ) as child:
            assert child.stderr is not None
            assert child.stderr.readline() == "Reading the records\n"
            time.sleep(moments.uniform(0.5, LONGEST_RUN))
            os.killpg(child.pid, number)
            lines = child.stderr.read().splitlines()
        assert child.returncode in (0, 128 + number), lines
        # A worker that had just been started may have words of its own, since its parent is gone.
        assert (STOPPED in lines) == (child.returncode != 0)
        assert names_in(place.output.parent) in ([], ["output"])


def test_while_the_site_is_written(
    place: Place, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    old = tree_hash(place.output.parent)
    real = output_folder._write_file

    def write(file: Path, content: bytes) -> None:
        if file.name == "index.html":
            signal.raise_signal(signal.SIGTERM)
        real(file, content)

    monkeypatch.setattr(output_folder, "_write_file", write)
    assert run(place.publishing) == 143
    assert capsys.readouterr().err.splitlines()[-1] == STOPPED
    assert tree_hash(place.output.parent) == old


@pytest.mark.parametrize("way", ["exchange", "renames"])
def test_during_the_swap_it_is_too_late(
    place: Place, way: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    old = tree_hash(place.output)

    def exchange(one: Path, other: Path) -> bool:
        signal.raise_signal(signal.SIGINT)
        return way == "exchange" and exchanging.exchange(one, other)

    monkeypatch.setattr(output_folder, "exchange", exchange)
    assert run(place.publishing) == 0
    assert capsys.readouterr().out.startswith("Published 1 device ")
    assert tree_hash(place.output) != old
    assert names_in(place.output.parent) == ["output"]


def test_while_the_old_site_is_removed_it_is_too_late(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    old = tree_hash(place.output)
    real = shutil.rmtree

    def remove(folder: Any, ignore_errors: bool = False, **named: Any) -> None:
        if Path(folder).name == ".output.fresh":
            signal.raise_signal(signal.SIGINT)
        real(folder, ignore_errors=ignore_errors, **named)

    monkeypatch.setattr("generator.publishing.output_folder.shutil.rmtree", remove)
    assert run(place.publishing) == 0
    assert tree_hash(place.output) != old
    assert names_in(place.output.parent) == ["output"]
