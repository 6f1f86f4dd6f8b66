"""Every bad example through `inward check` itself: slug, line and column, and how they move with the lines of the file.

What is expected stands beside each example in tests/loading/examples/bad.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.command_line import run
from generator.loading import folder as loading_folder
from tests.loading.example_records import BAD, REFERENCE, apply, good_copy, read_bad_example

WHOLE_FILE = re.compile(r"^[^:]+:1:1: \(file\) ")
COMMENTS = "# one\n# two\n# three\n"
KIND = re.compile(r"^[^:]+:\d+:\d+: .+? \[([a-z0-9-]+)\]: ")


@pytest.fixture(autouse=True)
def reference_of_the_examples(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loading_folder, "load_reference", lambda: REFERENCE)


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_three_comment_lines_above_move_the_lines_by_three_and_nothing_else(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    example = read_bad_example(path)
    folder = good_copy(tmp_path)
    apply(example, folder)
    for name in {message.split(":")[0] for message in example.expected}:
        file = folder / name
        if file.suffix == ".yaml" and file.exists():
            file.write_text(COMMENTS + file.read_text())
    monkeypatch.chdir(folder)
    assert run(["check", "."]) == 1
    told = capsys.readouterr().out.splitlines()
    assert tuple(line for line in told if not line.startswith("  ")) == tuple(map(_three_lines_down, example.expected))
    # Below each that has a place in a text stand its line and a caret.
    places = [line for line in told if re.fullmatch(r" +\| *\^~*", line)]
    assert len(places) == sum(WHOLE_FILE.match(message) is None for message in example.expected)


def _three_lines_down(message: str) -> str:
    """Add three to the line, where the message is about a place in a YAML file."""
    if WHOLE_FILE.match(message) or "[empty-file]" in message or ".csv:" in message.split(" ")[0]:
        return message
    file, line, rest = message.split(":", 2)
    return f"{file}:{int(line) + 3}:{rest}"


def test_there_are_more_than_sixty_kinds_of_mistake() -> None:
    expected = [message for path in BAD for message in read_bad_example(path).expected]
    slugs = {found[1] for message in expected if (found := KIND.match(message)) is not None}
    assert len(slugs) >= 100
    # Of broken YAML, which has one slug, as many kinds as there are things to say of it.
    assert len({message.split("]: ")[1] for message in expected if "[yaml-syntax]" in message}) >= 14
