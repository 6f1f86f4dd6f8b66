"""What a check imports: a contributor waits for all of it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from generator.scoring.topics import SCORED_FROM

ROOT = Path(__file__).parents[2]
RECORD = "records/device_tests/tansy-fold-2025-11.yaml"
_IMPORTED = """
import sys
from generator.command_line import run
run(sys.argv[1:])
print("imported", *sys.modules)
"""


def imported(*arguments: str) -> set[str]:
    ended = subprocess.run(
        [sys.executable, "-c", _IMPORTED, "check", *arguments], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return set(ended.stdout.splitlines()[-1].split()[1:])


def test_problems_are_looked_for_without_scoring_or_pages() -> None:
    modules = imported("--no-findings", RECORD)
    assert {"generator.model.device_test", "generator.loading.folder"} <= modules
    assert modules.isdisjoint({"numpy", "scipy", "generator.presenting.views", "generator.scoring.one_record"})


def test_findings_of_a_record_of_fit_sessions_are_looked_for_without_other_topics() -> None:
    modules = imported(RECORD)
    assert "generator.scoring.topics.fit" in modules
    others = {f"generator.scoring.topics.{name}" for name in SCORED_FROM.keys() - {"fit"}}
    assert modules.isdisjoint(others | {"generator.scoring.catalogue", "generator.presenting.context"})
