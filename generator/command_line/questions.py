"""Questions on a terminal, for what was not given as an option; without a terminal the option is named instead."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

import click

from generator.command_line.plain_text import colours_wanted, wrapped
from generator.errors import WrongUsage

_Answer = TypeVar("_Answer")
_BEFORE_ERRORS = "Error: "
"""What the library puts before the reason why an answer cannot be."""


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
    choices: Sequence[tuple[str, str]] = (),
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
        Sentences that stand above the question.
    choices : sequence of tuple of str, optional
        The words to choose from, each with its meaning. They are numbered, and a number is as good as its word.

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

    by_number = {str(number): word for number, (word, _) in enumerate(choices, start=1)}

    def reads(words: str) -> _Answer:
        word = words.strip()
        try:
            return read(by_number.get(word, word))
        except WrongUsage as refused:
            told = "\n".join(wrapped(f"{_BEFORE_ERRORS}{refused}"))
            raise click.UsageError(told.removeprefix(_BEFORE_ERRORS)) from refused

    for line in (*(line for text in explained for line in wrapped(text)), *_numbered(choices)):
        click.echo(line, err=True)
    found: _Answer = click.prompt(_bold(question), default=suggested, value_proc=reads, err=True)
    return found


def _numbered(choices: Sequence[tuple[str, str]]) -> list[str]:
    """Return the words to choose from with their numbers and meanings, one below the other."""
    width = max((len(word) for word, _ in choices), default=0)
    return [
        line
        for number, (word, meaning) in enumerate(choices, start=1)
        for line in wrapped(f"{number:>3}  {word.ljust(width)}  {meaning}", "", " " * (width + 7))
    ]


def _bold(text: str) -> str:
    return click.style(text, bold=True) if colours_wanted() else text


def confirmed(given: bool | None, option: str, question: str, suggested: bool) -> bool:
    """Return whether an option was given, or what is answered to its question."""
    if given is not None:
        return given
    if not can_ask():
        raise WrongUsage(
            f"found no `{option}`, and no terminal on which to ask: {question}? Expected it among the options. "
            f"Add one of the two"
        )
    return click.confirm(_bold(f"{question}?"), default=suggested, err=True)
