"""From records to a site: the same bytes every time, exit codes, and a failed build that leaves the old site."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.build import BuildSummary, build
from generator.command_line import run
from generator.errors import BrokenLink, RecordsHaveProblems
from generator.publishing import page_links
from generator.publishing.links import link_faults
from tests.publishing.parsed_links import parsed


def files_of(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def tree_hash(folder: Path) -> str:
    digest = hashlib.sha256()
    for path, content in sorted(files_of(folder).items()):
        digest.update(f"{path}\0{len(content)}\0".encode() + content)
    return digest.hexdigest()


def silent(done: int, total: int, what: str) -> None:
    """Take progress reports and show nothing."""


def spoil(records: Path) -> None:
    """Put a problem into the one test record: a number without its unit."""
    (record,) = records.glob("device_tests/*.yaml")
    text = record.read_text(encoding="utf-8")
    assert "temperature: 17.9 degC" in text
    record.write_text(text.replace("temperature: 17.9 degC", "temperature: 17.9"), encoding="utf-8")


def test_every_link_and_fragment_of_the_demo_resolves(demo_site: Path) -> None:
    files = files_of(demo_site)
    assert sum(path.endswith(".html") for path in files) > 40
    assert link_faults(files) == []


def test_the_links_of_every_page_are_those_that_a_parser_finds(
    demo_site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All are read by the quick way: what only the parser reads takes eight times as long."""
    monkeypatch.setattr(page_links, "_in_any_markup", lambda markup: pytest.fail("left to the parser"))
    pages = {path: content for path, content in files_of(demo_site).items() if path.endswith(".html")}
    for path, content in pages.items():
        ids, links = parsed(content.decode())
        read = page_links.page_links(path, content)
        assert list(read.ids) == [name for _, name in ids], path
        assert read.repeated_ids == ()
        found = [(line, link.tag, link.attribute, link.target) for link in read.links for line in link.lines]
        assert sorted(found) == links, path
    assert sum(len(page_links.page_links(path, content).links) for path, content in pages.items()) > 10_000


def test_a_publish_after_others_in_the_same_process_gives_the_same_bytes(small_records: Path, tmp_path: Path) -> None:
    # Libraries keep tables for the whole process, and change them when they are first used.
    for name in ("first", "later"):
        build(small_records, tmp_path / name, silent)
    subprocess.run(
        [sys.executable, "-m", "generator", "publish", "--records", small_records, "--output", tmp_path / "alone"],
        check=True,
        capture_output=True,
    )
    alone = files_of(tmp_path / "alone")
    assert [path for path, content in files_of(tmp_path / "first").items() if alone[path] != content] == []
    assert [path for path, content in files_of(tmp_path / "later").items() if alone[path] != content] == []


def test_publish_says_last_what_was_published_where(
    small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "output"
    before = tree_hash(small_records)
    assert run(["publish", "--records", str(small_records), "--output", str(output)]) == 0
    captured = capsys.readouterr()
    (line,) = captured.out.splitlines()
    pages = sum(path.endswith(".html") for path in files_of(output))
    assert line == f"Published 1 device and 1 test record as {pages} pages and 2 PDFs: {output}/index.html"
    assert captured.err.splitlines()[0] == "Reading the records"
    assert (output / "index.html").is_file()
    assert tree_hash(small_records) == before


def test_build_tells_what_it_made(small_records: Path, tmp_path: Path) -> None:
    summary = build(small_records, tmp_path / "output", silent)
    records = len(list(small_records.rglob("*.yaml")))
    pages = sum(path.endswith(".html") for path in files_of(tmp_path / "output"))
    assert summary == BuildSummary(
        tmp_path / "output", records, devices=1, device_tests=1, pages=pages, sheets=2, stills=0
    )


def test_progress_ends_at_the_whole(small_records: Path, tmp_path: Path) -> None:
    steps: list[tuple[int, int]] = []
    build(small_records, tmp_path / "output", lambda done, total, what: steps.append((done, total)))
    # Two stages, of which each is counted from its own start.
    for total in {total for _, total in steps if total}:
        counted = [done for done, of in steps if of == total]
        assert counted == sorted(counted)
        assert counted[-1] == total


def test_a_bad_record_leaves_the_old_site_and_exits_1(
    small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "output"
    command = ["publish", "--records", str(small_records), "--output", str(output)]
    assert run(command) == 0
    before = tree_hash(output)
    capsys.readouterr()
    spoil(small_records)
    assert run(command) == 1
    assert tree_hash(output) == before
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "environment.temperature [unit-missing]: found the bare number 17.9, expected" in captured.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["output", "records"]


def test_a_bad_record_leaves_no_site_where_none_was(small_records: Path, tmp_path: Path) -> None:
    spoil(small_records)
    with pytest.raises(RecordsHaveProblems, match=r"unit-missing"):
        build(small_records, tmp_path / "output", silent)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["records"]


@pytest.mark.parametrize(
    ("error", "message"),
    [
        (BrokenLink("page a leads nowhere"), "inward: [broken-link] devices/patchwork-cover: page a leads nowhere\n"),
        (
            RuntimeError("no more ink"),
            "inward: [unexpected] RuntimeError: no more ink, while devices/patchwork-cover was made. ",
        ),
    ],
)
def test_a_failure_while_rendering_leaves_the_old_site_and_exits_3(
    error: Exception,
    message: str,
    small_records: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    output = tmp_path / "output"
    command = ["publish", "--records", str(small_records), "--output", str(output)]
    assert run(command) == 0
    before = tree_hash(output)

    def fail(*arguments: object, **named: object) -> dict[str, bytes]:
        raise error

    monkeypatch.setattr("generator.build.jobs.present_devices", fail)
    assert run([*command, "--anew"]) == 3
    assert message in capsys.readouterr().err
    assert tree_hash(output) == before


def test_a_folder_that_may_not_be_replaced_is_refused_before_the_work(
    small_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = tree_hash(small_records)
    assert run(["publish", "--records", str(small_records), "--output", str(small_records)]) == 2
    captured = capsys.readouterr()
    assert captured.err.startswith(f"inward: [wrong-usage] {small_records} holds files that `inward publish` did not")
    assert captured.err.count("\n") == 1
    assert tree_hash(small_records) == before


def test_nothing_is_written_outside_the_outputs_parent_and_the_cache_folder(
    small_records: Path, tmp_path: Path
) -> None:
    places = {name: tmp_path / name for name in ("home", "temporary", "work", "published")}
    for place in places.values():
        place.mkdir()
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "MPL"))}
    environment |= {"HOME": str(places["home"]), "TMPDIR": str(places["temporary"])}
    before = tree_hash(small_records)
    subprocess.run(
        [sys.executable, "-m", "generator", "publish", "--records", small_records, "--output", "../published/site"],
        cwd=places["work"],
        env=environment | {"PYTHONPATH": str(Path(__file__).resolve().parent.parent)},
        check=True,
        capture_output=True,
    )
    assert sorted(path.name for path in places["published"].iterdir()) == ["site"]
    assert list(places["work"].iterdir()) == []
    assert list(places["temporary"].iterdir()) == []
    assert [str(path.relative_to(places["home"])) for path in places["home"].rglob("*") if path.is_file()] == [
        name for name in files_of(places["home"]) if name.startswith(".cache/inward/")
    ]
    assert tree_hash(small_records) == before
