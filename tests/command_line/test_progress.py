"""Progress: plain lines where nobody watches, a bar on a terminal."""

import pytest

from generator.command_line.progress import shown_progress


def test_plain_lines_are_few_and_say_how_far(capsys: pytest.CaptureFixture[str]) -> None:
    with shown_progress() as report:
        report(0, 0, "Reading the records")
        report(0, 0, "Reading the records")
        for done in range(201):
            report(done, 200, "Drawing pages")
        report(0, 0, "Putting the site in place")
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines() == [
        "Reading the records",
        *(f"{done}/200 Drawing pages" for done in range(0, 201, 20)),
        "Putting the site in place",
    ]


def test_a_new_step_name_does_not_break_the_count(capsys: pytest.CaptureFixture[str]) -> None:
    with shown_progress() as report:
        for done, name in enumerate(["hood-a", "hood-b", "mask-c"], start=1):
            report(done, 3, name)
    assert capsys.readouterr().err.splitlines() == ["1/3 hood-a", "2/3 hood-b", "3/3 mask-c"]


def test_a_terminal_gets_a_bar(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "100")
    with shown_progress() as report:
        report(0, 0, "Reading [records]")
        report(3, 7, "Drawing [pages]")
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Drawing [pages]" in captured.err
    assert "3/7" in captured.err
