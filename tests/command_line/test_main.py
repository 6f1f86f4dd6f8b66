"""The command as a whole: help, and one message and exit code for every kind of error."""

import gc
import signal
import subprocess
import sys
from collections.abc import Iterator
from types import ModuleType

import click
import pytest

from generator import __version__
from generator.command_line import COMMANDS, LazyGroup, inward, main, run
from generator.command_line.stopping import STOP_SIGNALS
from generator.errors import BrokenLink, InwardError, Problem, RecordsHaveProblems, WrongUsage

PROBLEM = Problem("records/a.yaml", 3, 5, "mass", "unit-missing", "the bare number 3", "a unit", "Add the unit")


def command_that_raises(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    """Put a command in the place of `check` that does nothing but fail."""

    @click.command()
    def check() -> None:
        raise error

    module = ModuleType("generator.command_line.check")
    module.check = check  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, module.__name__, module)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help(name: str) -> None:
    assert isinstance(inward, LazyGroup)
    command = inward.get_command(click.Context(inward), name)
    assert command is not None
    assert command.name == name
    assert command.help
    assert all(option.help for option in command.params if isinstance(option, click.Option))


@pytest.mark.parametrize("name", COMMANDS)
def test_help_exits_0(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([name, "--help"]) == 0
    assert f"Usage: inward {name}" in capsys.readouterr().out


def test_help_lists_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--help"]) == 0
    text = capsys.readouterr().out
    assert all(f"  {name} " in text for name in COMMANDS)


def test_the_version_is_the_packages(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["--version"]) == 0
    assert capsys.readouterr().out == f"inward, version {__version__}\n"


@pytest.fixture
def as_before() -> Iterator[None]:
    """Undo what a command leaves behind that ends its process: signals that are ignored, garbage left where it is."""
    before = {number: signal.getsignal(number) for number in STOP_SIGNALS}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)
    gc.unfreeze()


@pytest.mark.usefixtures("as_before")
def test_main_exits_with_the_code_and_cannot_be_stopped_any_more() -> None:
    with pytest.raises(SystemExit, match=r"^2$"):
        main(["no-such-command"])
    assert {signal.getsignal(number) for number in STOP_SIGNALS} == {signal.SIG_IGN}
    assert gc.get_freeze_count() > 0


@pytest.mark.parametrize("arguments", [[], ["no-such-command"], ["--no-such-option"], ["publish", "--records", "gone"]])
def test_wrong_usage_exits_2_and_says_so_on_stderr(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Usage: inward" in captured.err


@pytest.mark.parametrize(
    ("error", "code", "message"),
    [
        (WrongUsage("no folder x"), 2, "inward: [wrong-usage] no folder x\n"),
        (BrokenLink("page a"), 3, "inward: [broken-link] page a\n"),
        (InwardError("anything"), 3, "inward: [error] anything\n"),
    ],
)
def test_each_error_of_ours_has_its_code_and_one_line(
    error: InwardError, code: int, message: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    command_that_raises(monkeypatch, error)
    assert run(["check"]) == code
    assert capsys.readouterr() == ("", message)


def test_problems_are_all_listed_and_exit_1(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    command_that_raises(monkeypatch, RecordsHaveProblems([PROBLEM]))
    assert run(["check"]) == 1
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines()[0] == (
        "records/a.yaml:3:5: mass [unit-missing]: found the bare number 3, expected a unit. Add the unit."
    )
    assert captured.err.splitlines()[1].startswith("inward: 1 problem in the records; nothing was written. ")


def test_an_unexpected_error_is_one_line_without_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    command_that_raises(monkeypatch, KeyError("fit.morning"))
    assert run(["check"]) == 3
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("inward: [unexpected] KeyError: 'fit.morning'. This is a fault of the generator, not of")
    assert "INWARD_TRACEBACK=1" in line


@pytest.mark.parametrize("way", ["option", "variable"])
def test_a_traceback_is_shown_on_demand(
    way: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    command_that_raises(monkeypatch, KeyError("fit.morning"))
    if way == "variable":
        monkeypatch.setenv("INWARD_TRACEBACK", "1")
    assert run([*(["--traceback"] if way == "option" else []), "check"]) == 3
    assert "Traceback (most recent call last)" in capsys.readouterr().err


def test_a_reader_that_stops_reading_is_no_failure_worth_words() -> None:
    script = (
        "import sys, click, types\n"
        "from generator import command_line\n"
        "@click.command()\n"
        "def check():\n"
        "    for _ in range(100_000): click.echo('a line')\n"
        "module = types.ModuleType('generator.command_line.check'); module.check = check\n"
        "sys.modules[module.__name__] = module\n"
        "command_line.main(['check'])\n"
    )
    with subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.readline()
        child.stdout.close()
        assert child.stderr.read() == b""
    assert child.returncode != 0


def test_help_imports_no_command_and_no_heavy_library() -> None:
    script = (
        "import sys\nfrom generator.command_line import run\nrun(['--help'])\n"
        "heavy = {'pydantic', 'yaml', 'ruamel', 'jinja2', 'numpy', 'scipy', 'matplotlib', 'weasyprint', 'rich'}\n"
        "sys.exit(str(sorted(heavy & set(sys.modules))) if heavy & set(sys.modules) else 0)"
    )
    child = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (child.returncode, child.stderr) == (0, "")


def test_python_m_generator_is_the_same_command() -> None:
    child = subprocess.run([sys.executable, "-m", "generator", "--version"], capture_output=True, text=True, check=True)
    assert child.stdout == f"inward, version {__version__}\n"
