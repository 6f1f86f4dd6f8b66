"""A contributor who fills in every blank of a draft by the example beside it, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

_BLANK = re.compile(r"^(\s*(?:- )?([a-z0-9_]+):)\s*(#.*)?$")
_BLANK_IN_ONE_LINE = re.compile(r"([a-z_]+): (?=[,}])")
_HINT = re.compile(r"\b(?:such as|one of) `([^`]+)`", re.IGNORECASE)
_HINT_OF_KEY = re.compile(r"^([a-z_]+): (.*)$")
_COMMENT = re.compile(r"^\s*# (\S.*)$")
_OPTIONAL = re.compile(r"^(\s*)#(?=\S)(?! )", re.MULTILINE)


def filled_in(text: str) -> str:
    """Return a draft with each blank filled in by what its comment gives as an example, or as the first choice."""
    return "".join(f"{line}\n" for line in _filled_lines(text.splitlines()))


def _filled_lines(lines: list[str]) -> Iterator[str]:
    above: list[str] = []
    explained: dict[str, str] = {}
    for number, line in enumerate(lines):
        comment = _COMMENT.match(line)
        if comment is not None:
            above.append(comment[1])
            yield line
            continue
        blank = _BLANK.match(line)
        if blank is not None and not _holds_more(lines, number):
            yield f"{blank[1]} {hint(blank[3] or ' '.join(above), line)}"
        elif " {" in line:
            yield _between_braces(line, explained)
        else:
            explained |= of_keys(above)
            yield line
        above = []


def _between_braces(line: str, explained: dict[str, str]) -> str:
    return _BLANK_IN_ONE_LINE.sub(lambda match: f"{match[1]}: {explained[match[1]]}", line)


def of_keys(comments: list[str]) -> dict[str, str]:
    """Return the examples of keys that stand between braces below a comment."""
    about: dict[str, str] = {}
    key = ""
    for comment in comments:
        named = _HINT_OF_KEY.match(comment)
        key = named[1] if named is not None else key
        if key:
            about[key] = f"{about.get(key, '')} {comment}"
    return {key: found[1] for key, words in about.items() if (found := _HINT.search(words))}


def hint(comment: str, line: str) -> str:
    """Return what a comment gives as an example."""
    found = _HINT.search(comment)
    assert found is not None, f"no example for {line!r} in {comment!r}"
    return found[1]


def _holds_more(lines: list[str], number: int) -> bool:
    """Say whether lines below belong to a key, so that it is no blank."""
    indent = len(lines[number]) - len(lines[number].lstrip(" -"))
    for line in lines[number + 1 :]:
        if line.lstrip().startswith("#"):
            continue
        return len(line) - len(line.lstrip()) > indent or (
            line.lstrip().startswith("- ") and len(line) - len(line.lstrip()) >= indent
        )
    return False


def used(text: str, *keys: str) -> str:
    """Return a draft in which the `#` before these keys, and before what belongs to them, is taken away."""
    lines, within = [], None
    for line in text.splitlines():
        start = re.match(r"^(\s*)#([a-z_]+):", line)
        if start is not None and start[2] in keys:
            within = start[1]
            lines.append(line.replace("#", "", 1))
        elif within is not None and line.startswith(f"{within}# ") and line[len(within) + 1 :].startswith("  "):
            lines.append(line.replace("#", "", 1))
        else:
            within = None
            lines.append(line)
    return "\n".join(lines) + "\n"


def fill_in_folder(folder: Path) -> None:
    """Fill in every draft of a records folder."""
    for path in folder.rglob("*.yaml"):
        path.write_text(filled_in(path.read_text(encoding="utf-8")), encoding="utf-8")
