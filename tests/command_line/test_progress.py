"""Progress: plain lines where nobody watches, a bar on a terminal."""

import pytest

from generator.command_line.progress import TimeLeft, shown_progress


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


def test_the_time_left_follows_from_what_was_done_since_the_stage_began() -> None:
    now = [100.0]
    left = TimeLeft(lambda: now[0])

    def after(seconds: float, done: int, total: int) -> str:
        now[0] += seconds
        return left.words(done, total)

    # 800 of 1000 were kept from before; of the rest each takes ten seconds.
    assert after(0, 800, 1000) == ""
    assert after(10, 801, 1000) == ""
    assert after(20, 803, 1000) == "about 33 min left"
    assert after(970, 900, 1000) == "about 17 min left"
    assert after(960, 996, 1000) == "under a minute left"
    assert after(40, 1000, 1000) == ""
    # Another stage begins anew.
    assert after(0, 0, 500) == ""
    assert after(90, 3, 500) == "about 4 h 8 min left"
    assert after(0, 0, 500) == ""
    assert after(1, 100, 500) == ""
    assert TimeLeft(lambda: now[0]).words(0, 0) == ""


def test_plain_lines_say_how_much_time_is_left(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(TimeLeft, "words", lambda left, done, total: "about 2 min left" if done else "")
    with shown_progress() as report:
        report(0, 2, "devices/a")
        report(1, 2, "devices/b")
    assert capsys.readouterr().err.splitlines() == ["0/2 devices/a", "1/2 devices/b, about 2 min left"]
