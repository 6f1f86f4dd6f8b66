"""A command that is asked to stop ends with the signal's exit code and one line, wherever it is."""

import signal
import sys
import threading
from collections.abc import Iterator
from types import ModuleType

import click
import pytest

from generator.command_line import STOPPED, run, stopping
from generator.command_line.stopping import STOP_SIGNALS, Stopped, stop_if_asked
from generator.publishing import stop_signals
from generator.publishing.stop_signals import stop_signals_held


@pytest.fixture(autouse=True)
def nothing_asked_afterwards() -> Iterator[None]:
    """Forget that a command was asked to stop: the process goes on with other tests."""
    yield
    stopping._asked.clear()


def command_that(monkeypatch: pytest.MonkeyPatch, *steps: object) -> None:
    """Let `inward check` do nothing but the steps."""
    module = ModuleType("generator.command_line.check")

    @click.command()
    def check() -> None:
        for step in steps:
            assert callable(step)
            step()

    module.check = check  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, module.__name__, module)


def ask(number: int) -> None:
    signal.raise_signal(number)


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_it_says_so_and_exits_as_shells_expect(
    number: int, code: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    # source: common practice, no source: shells report 128 + n for a program ended by signal n
    before = [signal.getsignal(each) for each in STOP_SIGNALS]
    command_that(monkeypatch, lambda: ask(number), lambda: pytest.fail("it went on"))
    assert run(["check"]) == code
    captured = capsys.readouterr()
    assert (captured.out, captured.err) == ("", STOPPED + "\n")
    assert [signal.getsignal(each) for each in STOP_SIGNALS] == before


def test_a_stop_that_a_library_swallowed_is_not_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    def swallow() -> None:
        with pytest.raises(Stopped, match=r"^$"):
            ask(signal.SIGTERM)

    command_that(monkeypatch, swallow, stop_if_asked, lambda: pytest.fail("it went on"))
    assert run(["check"]) == 143


def test_a_stop_that_a_library_turned_into_its_own_error_is_a_stop(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def turn() -> None:
        try:
            ask(signal.SIGTERM)
        except BaseException as error:
            raise ImportError("half of a library") from error

    command_that(monkeypatch, turn)
    assert run(["check"]) == 143
    assert capsys.readouterr().err == STOPPED + "\n"


def test_a_stop_within_the_clean_up_of_an_object_is_not_forgotten(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    class Object:
        def __del__(self) -> None:
            ask(signal.SIGINT)

    command_that(monkeypatch, Object, stop_if_asked, lambda: pytest.fail("it went on"))
    assert run(["check"]) == 130
    assert capsys.readouterr().err == STOPPED + "\n"


def test_an_ignored_signal_stays_ignored(monkeypatch: pytest.MonkeyPatch) -> None:
    # source: POSIX, nohup: the command runs with SIGHUP ignored
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        command_that(monkeypatch, lambda: ask(signal.SIGHUP))
        assert run(["check"]) == 0
    finally:
        signal.signal(signal.SIGHUP, before)


def test_a_stop_of_one_run_does_not_reach_the_next(monkeypatch: pytest.MonkeyPatch) -> None:
    command_that(monkeypatch, lambda: ask(signal.SIGINT))
    assert run(["check"]) == 130
    command_that(monkeypatch, stop_if_asked)
    assert run(["check"]) == 0


def test_outside_the_main_thread_a_command_runs_without_handlers(monkeypatch: pytest.MonkeyPatch) -> None:
    codes: list[int] = []
    command_that(monkeypatch, lambda: None)
    thread = threading.Thread(target=lambda: codes.append(run(["check"])))
    thread.start()
    thread.join()
    assert codes == [0]


def test_both_lists_of_signals_are_the_same() -> None:
    assert stop_signals.STOP_SIGNALS == STOP_SIGNALS


def test_held_signals_come_afterwards_unless_it_was_too_late(monkeypatch: pytest.MonkeyPatch) -> None:
    steps: list[str] = []

    def hold(*, forget: bool) -> None:
        with stop_signals_held() as came:
            ask(signal.SIGTERM)
            steps.append(str(came))
            if forget:
                came.clear()
        steps.append("after")

    command_that(monkeypatch, lambda: hold(forget=True), lambda: hold(forget=False))
    assert run(["check"]) == 143
    assert steps == ["[15]", "after", "[15]"]
