"""Questions on a terminal, for what was not given as an option; without a terminal the option is named instead."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

import click

from generator.errors import WrongUsage

_Answer = TypeVar("_Answer")


def can_ask() -> bool:
    """Say whether somebody can answer."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def answer(
    given: str | None,
    option: str,
    question: str,
    read: Callable[[str], _Answer],
    *,
    suggested: str | None = None,
    explained: Sequence[str] = (),
) -> _Answer:
    """Return what was given for an option, or what is answered to its question.

    Parameters
    ----------
    given : str or None
        What the option was given.
    option : str
        The option, such as `--device`.
    question : str
        The question.
    read : callable
        Turns the words into the answer, or raises `WrongUsage`; on a terminal the question is then put again.
    suggested : str, optional
        The answer to an empty line.
    explained : sequence of str, optional
        Lines that stand above the question.

    Raises
    ------
    WrongUsage
        What was given cannot be, or nothing was given and nobody can be asked.
    """
    if given is not None:
        return read(given)
    if not can_ask():
        raise WrongUsage(
            f"found no `{option}`, and no terminal on which to ask: {question}? Expected it among the options. "
            f"Add `{option}`"
        )

    def reads(words: str) -> _Answer:
        try:
            return read(words.strip())
        except WrongUsage as refused:
            raise click.UsageError(str(refused)) from refused

    for line in explained:
        click.echo(line, err=True)
    found: _Answer = click.prompt(
        click.style(question, bold=True), default=suggested, value_proc=reads, err=True, show_default=True
    )
    return found


def confirmed(given: bool | None, option: str, question: str, suggested: bool) -> bool:
    """Return whether an option was given, or what is answered to its question."""
    if given is not None:
        return given
    if not can_ask():
        raise WrongUsage(
            f"found no `{option}`, and no terminal on which to ask: {question}? Expected it among the options. "
            f"Add one of the two"
        )
    return click.confirm(click.style(question, bold=True), default=suggested, err=True)
