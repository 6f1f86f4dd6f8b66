"""Records of a git revision are read out of a repository that may be a stranger's: nothing of it is run or followed."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

import generator
from generator.command_line import run
from generator.contributing.impact.git_objects import find_revision
from generator.contributing.impact.revision_records import ProgramChanges, program_changes, records_at
from generator.errors import WrongUsage

RECORD = "device_tests/patchwork-cover-2025-03.yaml"
AUTHOR = ("-c", "user.name=nobody", "-c", "user.email=nobody@nowhere.example")


def git(folder: Path, *arguments: str, given: bytes = b"") -> str:
    """Run git as a person would, and return what it prints."""
    ended = subprocess.run(
        ["git", *AUTHOR, *arguments], cwd=folder, input=given, capture_output=True, check=True, timeout=60
    )
    return ended.stdout.decode().strip()


def committed(folder: Path, words: str = "records") -> None:
    git(folder, "add", "--all")
    git(folder, "commit", "--quiet", "--no-verify", "-m", words)


@pytest.fixture(autouse=True)
def own_configuration(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let git know nothing of the machine's own configuration, nor look above the test's folder."""
    for name in ("GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM"):
        monkeypatch.setenv(name, os.devnull)


@pytest.fixture
def repository(small_records: Path) -> Path:
    """A repository whose only commit has the small records in `records`."""
    git(small_records.parent, "init", "--quiet", "--initial-branch", "main")
    committed(small_records.parent)
    return small_records.parent


def changed(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def impact(capsys: pytest.CaptureFixture[str], base: str, records: Path) -> tuple[int, str, str]:
    capsys.readouterr()
    code = run(["impact", base, "--records", str(records)])
    out, err = capsys.readouterr()
    return code, " ".join(out.split()), " ".join(err.split())


def test_a_changed_reading_is_held_against_the_revision(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    changed(repository / "records" / RECORD, "in_mask: 386 /cm3", "in_mask: 380 /cm3")
    code, out, err = impact(capsys, "main", repository / "records")
    assert code == 0, err
    commit = git(repository, "rev-parse", "--short=10", "main")
    assert out.startswith(f"Compared: the records of main ({commit}) with the records in ")
    assert "! patchwork-cover-2025-03: published figures move, and its version stays 1. Raise the version." in out
    assert "fit.c1.normal-breathing, fit factor, " in out
    assert "fit.c1.deep-breathing" not in out
    # Nothing of the working tree was touched.
    assert git(repository, "status", "--porcelain") == f"M records/{RECORD}"
    committed(repository, "another reading")
    assert impact(capsys, "HEAD", repository / "records")[1].endswith("Nothing that is published changes.")
    assert "fit.c1.normal-breathing, fit factor, " in impact(capsys, "HEAD~1", repository / "records")[1]


def test_a_revision_with_problems_is_told_by_its_own_names(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changed(repository / "records" / RECORD, "in_mask: 386 /cm3", "in_mask: 386")
    committed(repository, "without unit")
    changed(repository / "records" / RECORD, "in_mask: 386", "in_mask: 386 /cm3")
    code, out, err = impact(capsys, "HEAD", repository / "records")
    assert (code, out) == (1, "")
    assert "Not compared: the records of HEAD (" in err
    assert f" HEAD:records/{RECORD}:" in err
    assert "[unit-missing]" in err
    assert "inward-impact-" not in err


def test_records_of_today_with_problems_are_told_by_theirs(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changed(repository / "records" / RECORD, "in_mask: 386 /cm3", "in_mask: 386")
    code, out, err = impact(capsys, "HEAD", repository / "records")
    assert (code, out) == (1, "")
    assert f"Not compared: the records in {repository}/records have problems. {repository}/records/{RECORD}:" in err


@pytest.mark.parametrize(
    "name",
    [
        "--output=made",
        "-h",
        "",
        "main..HEAD",
        "main:records",
        ":/records",
        "HEAD^{/records}",
        "main main",
        "main\n--all",
        "$(touch made)",
        "`touch made`",
        "..",
        "é",
        "a" * 300,
        "main\0",
    ],
)
def test_a_hostile_name_is_handed_to_nobody(name: str, repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*arguments: object, **named: object) -> None:
        raise AssertionError(arguments)

    monkeypatch.setattr(subprocess, "run", refuse)
    with pytest.raises(WrongUsage, match=r"^found `.*`, expected a folder of records, .* Correct BASE$"):
        find_revision(name, repository / "records")


@pytest.mark.parametrize(
    ("name", "message"),
    [
        (
            "no-such-branch",
            "[wrong-usage] found neither a folder nor a git revision `no-such-branch`, expected a folder",
        ),
        ("0000000000", "[wrong-usage] found neither a folder nor a git revision `0000000000`"),
        ("\x1b[31m", "[wrong-usage] found `[31m`, expected a folder of records"),
    ],
)
def test_a_name_that_stands_for_nothing_is_wrong_usage(
    name: str, message: str, repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = impact(capsys, name, repository / "records")
    assert (code, out) == (2, "")
    assert message in err
    assert "\x1b" not in err


def test_outside_a_repository_it_is_said_so(
    small_records: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(small_records.parent.parent))
    code, _, err = impact(capsys, "main", small_records)
    assert code == 2
    assert "found no folder `main`, and no git repository in which to look for such a revision" in err


def test_without_git_it_is_said_so(
    repository: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    code, _, err = impact(capsys, "main", repository / "records")
    assert code == 2
    assert "found no git on this machine" in err


def test_a_revision_without_the_records_is_told(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (repository / "records").rename(repository / "moved")
    code, _, err = impact(capsys, "main", repository / "moved")
    assert code == 2
    assert "found no `moved/` in the revision main (" in err


def mark_filters(repository: Path, command: str) -> Callable[[], None]:
    (repository / ".gitattributes").write_text("* filter=mine diff=mine export-subst\n", encoding="utf-8")
    committed(repository, "attributes")
    for name in ("filter.mine.smudge", "filter.mine.clean", "diff.mine.textconv", "core.fsmonitor", "core.pager"):
        git(repository, "config", name, command)
    return lambda: _tried(repository, "archive", "HEAD")


def mark_fetching(repository: Path, command: str) -> Callable[[], None]:
    """Let a file be missing that git would fetch by a command of the repository's."""
    name = git(repository, "rev-parse", f"HEAD:records/{RECORD}")
    (repository / ".git" / "objects" / name[:2] / name[2:]).unlink()
    for key, value in (
        ("extensions.partialClone", "theirs"),
        ("remote.theirs.promisor", "true"),
        ("remote.theirs.url", f"ext::{command}"),
        ("protocol.ext.allow", "always"),
    ):
        git(repository, "config", key, value)
    return lambda: _tried(repository, "cat-file", "-p", name)


def _tried(repository: Path, *arguments: str) -> None:
    subprocess.run(["git", *arguments], cwd=repository, capture_output=True, check=False, timeout=60)


@pytest.mark.parametrize("prepare", [mark_filters, mark_fetching])
def test_a_repository_runs_nothing(
    prepare: Callable[[Path, str], Callable[[], None]],
    repository: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    made = tmp_path / "made"
    script = tmp_path / "script"
    script.write_text(f"#!/bin/sh\ntouch '{made}'\n", encoding="utf-8")
    script.chmod(0o755)
    careless = prepare(repository, str(script))
    made.unlink(missing_ok=True)

    code, _, err = impact(capsys, "HEAD", repository / "records")
    assert code == (2 if prepare is mark_fetching else 0), err
    assert not made.exists()
    # The trap works: who reads the repository without care runs it.
    careless()
    assert made.exists()


def test_a_variable_that_names_another_repository_is_not_heeded(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_DIR", "/nowhere")
    monkeypatch.setenv("GIT_INDEX_FILE", "/nowhere/index")
    assert find_revision("main", repository / "records").within == "records/"


def test_links_lead_nowhere_and_are_problems(
    repository: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    secret = tmp_path / "secret.yaml"
    secret.write_text("secret: 1\n", encoding="utf-8")
    link = repository / "records" / "devices" / "other.yaml"
    link.symlink_to(secret)
    committed(repository, "a link")
    link.unlink()
    code, _, err = impact(capsys, "HEAD", repository / "records")
    assert code == 1
    assert "HEAD:records/devices/other.yaml:1:1: " in err
    assert "[outside-records]: found a link" in err
    assert "secret" not in err.replace("secret.yaml", "")


@pytest.mark.parametrize("name", ["..", ".", "a/../../b"])
def test_a_path_that_leads_out_is_refused(name: str, repository: Path, tmp_path: Path) -> None:
    blob = git(repository, "hash-object", "-w", "--stdin", given=b"x")
    tree = f"100644 {name}\0".encode() + bytes.fromhex(blob)
    inner = git(repository, "hash-object", "-t", "tree", "-w", "--stdin", "--literally", given=tree)
    outer = git(repository, "mktree", given=f"040000 tree {inner}\trecords\n".encode())
    commit = git(repository, "commit-tree", outer, "-m", "names that no checkout would make")
    revision = find_revision(commit, repository / "records")
    before = sorted(tmp_path.iterdir())
    with pytest.raises(WrongUsage, match=r"^found the path '.*' in the revision"), records_at(revision):
        pass
    assert sorted(tmp_path.iterdir()) == before


def test_a_file_too_large_is_told_without_being_read(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    large = repository / "records" / "logs" / "large.csv"
    large.parent.mkdir()
    large.write_bytes(b"0" * (8 * 1024 * 1024 + 5))
    committed(repository, "a large file")
    large.unlink()
    code, _, err = impact(capsys, "HEAD", repository / "records")
    assert code == 1
    assert "HEAD:records/logs/large.csv:" in err


def test_a_program_that_differs_is_counted(
    repository: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    package = repository / "generator"
    (package / "reference").mkdir(parents=True)
    for name in ("__init__.py", "scoring.py", "reference/criteria.yaml"):
        (package / name).write_text("1\n", encoding="utf-8")
    committed(repository, "a program")
    monkeypatch.setattr(generator, "__file__", str(package / "__init__.py"))
    revision = find_revision("HEAD", repository / "records")
    assert program_changes(revision) == ProgramChanges(0, 0)
    assert not program_changes(revision)
    (package / "scoring.py").write_text("2\n", encoding="utf-8")
    (package / "new.py").write_text("2\n", encoding="utf-8")
    (package / "reference" / "criteria.yaml").unlink()
    assert program_changes(revision) == ProgramChanges(2, 1)
    code, out, _ = impact(capsys, "HEAD", repository / "records")
    assert code == 0
    assert (
        "! The program differs too, in two files of its code and one file of criteria and other data that come with it."
    ) in out
    assert "inward impact output" in out


def test_a_program_elsewhere_is_not_compared(repository: Path) -> None:
    assert program_changes(find_revision("HEAD", repository / "records")) is None
