"""The workflow for pull requests is valid, can be run for forks, and its commands do what they say."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.conftest import ROOT, SMALL_DEVICE, copy_small

WORKFLOW = ROOT / ".github" / "workflows" / "records.yml"
SET_UP = "Set up"
"""Needs the right to install packages; what it calls is what `make site` and CI call."""


@pytest.fixture(scope="module")
def workflow() -> dict[str, Any]:
    read: dict[str, Any] = YAML(typ="safe", pure=True).load(WORKFLOW)
    return read


@pytest.fixture(scope="module")
def steps(workflow: dict[str, Any]) -> list[dict[str, Any]]:
    (job,) = workflow["jobs"].values()
    found: list[dict[str, Any]] = job["steps"]
    return found


def judged(path: Path) -> subprocess.CompletedProcess[str]:
    """Hold a file against the schema of workflows that check-jsonschema brings along."""
    command = [sys.executable, "-m", "check_jsonschema", "--builtin-schema", "vendor.github-workflows", str(path)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_it_is_valid_by_the_schema_of_workflows(tmp_path: Path) -> None:
    done = judged(WORKFLOW)
    assert done.returncode == 0, done.stdout
    broken = tmp_path / "broken.yml"
    broken.write_text(WORKFLOW.read_text(encoding="utf-8").replace("runs-on:", "runs-at:"), encoding="utf-8")
    assert judged(broken).returncode == 1


def test_it_runs_for_forks_with_no_right_but_to_read(workflow: dict[str, Any], steps: list[dict[str, Any]]) -> None:
    text = WORKFLOW.read_text(encoding="utf-8")
    assert workflow["on"] == {"pull_request": None}
    assert workflow["permissions"] == {"contents": "read"}
    assert "secrets" not in text.replace("no secret", "")
    # What a stranger chose, such as the name of a branch, must not become a part of a command.
    assert [step["run"] for step in steps if "${{" in step.get("run", "")] == []
    (checkout,) = (step for step in steps if step.get("uses", "").startswith("actions/checkout@"))
    assert checkout["with"] == {"fetch-depth": 2, "persist-credentials": False}


@pytest.fixture
def merged(demo_records: Path, tmp_path: Path) -> Path:
    """The project as a pull request would be merged: one count of a small catalogue was changed."""
    folder = tmp_path / "inward"
    folder.mkdir()
    copy_small(demo_records, folder / "records")
    (folder / ".venv").symlink_to(ROOT / ".venv")
    git = ("git", "-c", "user.name=A tester", "-c", "user.email=tester@reviews.example", "-c", "commit.gpgsign=false")
    for words in (["init", "--quiet"], ["add", "records"], ["commit", "--quiet", "--message", "Before"]):
        subprocess.run([*git, *words], cwd=folder, check=True)
    record = folder / "records" / "device_tests" / f"{SMALL_DEVICE}-2025-03.yaml"
    text = record.read_text(encoding="utf-8")
    assert text.count("in_mask: 386 /cm3") == 1
    record.write_text(text.replace("in_mask: 386 /cm3", "in_mask: 368 /cm3"), encoding="utf-8")
    subprocess.run([*git, "commit", "--quiet", "--all", "--message", "A slip of the pen"], cwd=folder, check=True)
    return folder


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"GITHUB_STEP_SUMMARY": str(folder / "summary.md"), "PYTHONPATH": str(ROOT)}
    shell = shutil.which("bash")
    assert shell is not None
    # The options that a step without a shell of its own is run with.
    words = [shell, "-e", "-c", command]
    return subprocess.run(words, cwd=folder, env=environment, capture_output=True, text=True, check=False)


def test_its_commands_do_what_they_say(steps: list[dict[str, Any]], merged: Path) -> None:
    commands = {step["name"]: step["run"] for step in steps if "run" in step}
    assert set(commands) == {SET_UP, "Check the records", "Say what would change", "Publish"}
    for name, command in commands.items():
        if name != SET_UP:
            done = run(command, merged)
            assert done.returncode == 0, f"{name}\n{done.stdout}\n{done.stderr}"
    assert json.loads((merged / "report" / "check.sarif").read_text(encoding="utf-8"))["version"] == "2.1.0"
    told = (merged / "report" / "impact.md").read_text(encoding="utf-8")
    assert SMALL_DEVICE in told
    assert (merged / "summary.md").read_text(encoding="utf-8") == told
    assert (merged / "output" / "index.html").is_file()


def test_a_record_with_a_problem_fails_the_check_and_leaves_its_report(
    steps: list[dict[str, Any]], merged: Path
) -> None:
    (command,) = (step["run"] for step in steps if step.get("name") == "Check the records")
    record = merged / "records" / "device_tests" / f"{SMALL_DEVICE}-2025-03.yaml"
    record.write_text(record.read_text(encoding="utf-8").replace("version:", "versoin:"), encoding="utf-8")
    done = run(command, merged)
    assert done.returncode == 1
    assert "[unknown-key]" in done.stdout
    (of_check,) = json.loads((merged / "report" / "check.sarif").read_text(encoding="utf-8"))["runs"]
    assert "unknown-key" in {result["ruleId"] for result in of_check["results"]}
