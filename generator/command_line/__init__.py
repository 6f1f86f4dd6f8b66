"""The command `inward`: the only place that prints or exits. Each command is a module, imported when it is called."""

from __future__ import annotations

import importlib
import os
import platform
import shutil
import sys
import textwrap
import traceback
from collections.abc import Mapping, Sequence
from typing import cast

import click

from generator import __version__
from generator.command_line.counting import counted
from generator.command_line.stopping import Stopped, signal_that_stopped, stop_if_asked, stopping_on_signals
from generator.errors import InwardError, RecordsHaveProblems
from generator.garbage import left_to_the_system, seldom_looked_for

COMMANDS: Mapping[str, str] = {
    "check": "Say what is wrong with records, or that nothing is.",
    "draft": "Write the draft of a test record, with the blanks to fill in.",
    "impact": "Say what a change does to published results.",
    "plan": "Say what to test next of a device, and what each statement lacks.",
    "preview": "Show the catalogue on this machine while its records are written.",
    "publish": "Make the catalogue from the records and put it in place.",
    "schema": "Write JSON Schemas of the records, for editors.",
    "score": "Print the results of one test record, with their working.",
    "take-in": "Take in the readings of a logger for a session of a record.",
    "verify": "Compute a published site anew and name every figure that differs.",
}
"""Name and one-line help of every command; `take-in` lives in the module `take_in`, as the object of that name."""

TRACEBACK_OPTION = "--traceback"
TRACEBACK_VARIABLE = "INWARD_TRACEBACK"
UNEXPECTED_SLUG = "unexpected"
EXIT_GENERATOR_FAILED = 3
EXIT_STOPPED = 128
"""Added to the number of the signal, as shells do."""
STOPPED = "inward: stopped, as asked. Nothing is left half-written: what is published is one whole site."


class LazyGroup(click.Group):
    """A group that imports a command's module when the command is called, so that `inward --help` stays quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of all commands."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return a command, or None where there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        name = cmd_name.replace("-", "_")
        module = importlib.import_module(f"{__name__}.{name}")
        return cast(click.Command, getattr(module, name))

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="inward")
@click.option(
    TRACEBACK_OPTION,
    is_flag=True,
    expose_value=False,
    help=f"Show where in the code a failure came from (or set {TRACEBACK_VARIABLE}=1).",
)
def inward() -> None:
    """Turn a folder of test records of breathing protection into a published catalogue.

    Exit codes: 0 good, 1 the records have problems, 2 wrong usage, 3 the generator failed, 130 or 143 stopped.
    """


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command and exit with its code."""
    words = sys.argv[1:] if arguments is None else list(arguments)
    seldom_looked_for()
    code = run(words, ends_process=True)
    left_to_the_system()
    sys.exit(code)


def run(arguments: Sequence[str], *, ends_process: bool = False) -> int:
    """Run the command and return its exit code; every error becomes one clear message on stderr."""
    try:
        with stopping_on_signals(then_ignored=ends_process):
            return _run(arguments)
    except Stopped:
        number = signal_that_stopped()
    click.echo(STOPPED, err=True)
    return EXIT_STOPPED + (number or 0)


def _run(arguments: Sequence[str]) -> int:
    try:
        code = _called(arguments)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message(), err=True)
        return error.exit_code
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except RecordsHaveProblems as error:
        _show_traceback(arguments)
        for problem in error.problems:
            click.echo(str(problem), err=True)
        click.echo(
            f"inward: {counted(len(error.problems), 'problem')} in the records; nothing was written. "
            "records/README.md explains each one by the name in brackets.",
            err=True,
        )
        return error.exit_code
    except InwardError as error:
        _show_traceback(arguments)
        click.echo(_in_lines(f"inward: [{error.slug}] {error}"), err=True)
        return error.exit_code
    except Exception as error:
        _show_traceback(arguments)
        click.echo(_unexpected(error), err=True)
        return EXIT_GENERATOR_FAILED
    return code if isinstance(code, int) else 0


def _called(arguments: Sequence[str]) -> object:
    try:
        return inward.main(list(arguments), prog_name="inward", standalone_mode=False)
    except Exception:
        # A library that was stopped may have made a failure of its own of it.
        stop_if_asked()
        raise


def _in_lines(text: str) -> str:
    """Return a message as it is, or, on a terminal, in lines that end between words, with ids and options whole."""
    if not sys.stderr.isatty():
        return text
    width = min(shutil.get_terminal_size().columns, 100)
    return textwrap.fill(text, width, break_long_words=False, break_on_hyphens=False)


def _unexpected(error: Exception) -> str:
    told = (f"{type(error).__name__}: {error}".strip(), *getattr(error, "__notes__", ()))
    what = ", ".join(told).replace("\n", " ")
    versions = f"inward {__version__}, Python {platform.python_version()}"
    return (
        f"inward: [{UNEXPECTED_SLUG}] {what}. This is a fault of the generator, not of the records; what was published "
        f"before still stands. Run the command again with {TRACEBACK_VARIABLE}=1 and report what it prints, "
        f"with the record that leads to it ({versions})."
    )


def _show_traceback(arguments: Sequence[str]) -> None:
    if TRACEBACK_OPTION in arguments or os.environ.get(TRACEBACK_VARIABLE) == "1":
        traceback.print_exc()
