"""No regular expression of the generator can be made slow: each is found in the code and tried on long hostile text."""

from __future__ import annotations

import ast
import importlib
import re
import time
from itertools import product
from pathlib import Path
from typing import Any

import pytest

import generator
from generator.loading.text_forms import FORMS
from generator.model.units import NUMBER_PATTERN
from generator.rendering.markdown import markdown

ROOT = Path(generator.__file__).parent
MOST_SECONDS = 0.2
"""Of the processor, for one text. One that takes time by the square of the length takes several times as long."""
LENGTH = 20_000
"""Characters of the longest text that a record may hold."""
ONLY_ANCHORED = {"generator.loading.log_cells._CELL"}
"""Used by `match` alone, one place at a time; a search would begin anew at every character."""

SEEDS = (
    "a", "0", "-", "_", ".", "a-", "a_", "0.", "a.", "A", "/", "/a", "\"", "'", "''", '""', ",", '",', " ", "\t", "\n",
    "{", "[", "&", "%", "`", "``", "@", "a@", "<", "url(", "url('", "@import '", "1e", "+", "con", "e", "é", "\u0301",
    "logs/a", "pictures/a", "https://a", "fit[", ": fit.a", ", exercise 1", "AAAaaa", "F00", "1.000", "\xff",
)  # fmt: skip
ENDS = ("", "!", "\n")
STARTS = ("", "logs/", "https://a", '"', "url('")


def patterns_in_code() -> dict[str, re.Pattern[str] | re.Pattern[bytes]]:
    """Return every pattern that a module compiles or hands to a function of `re`, by its place."""
    found: dict[str, re.Pattern[str] | re.Pattern[bytes]] = {}
    for path in sorted(ROOT.rglob("*.py")):
        name = ".".join(("generator", *path.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and _is_re(node.func):
                first = node.args[0]
                if isinstance(first, ast.Constant) and isinstance(first.value, str | bytes):
                    found[f"{name}:{node.lineno}"] = re.compile(first.value)
        if "re.compile" in path.read_text(encoding="utf-8"):
            for attribute, value in vars(importlib.import_module(name)).items():
                if isinstance(value, re.Pattern):
                    found[f"{name}.{attribute}"] = value
    return found


def _is_re(function: ast.Attribute) -> bool:
    names = {"search", "match", "fullmatch", "findall", "finditer", "sub", "split"}
    return isinstance(function.value, ast.Name) and function.value.id == "re" and function.attr in names


PATTERNS = (
    patterns_in_code()
    | {f"form {form}": re.compile(form) for form in FORMS}
    | {"number": re.compile(f"^{NUMBER_PATTERN}$")}
)


def test_the_patterns_are_found() -> None:
    # source: a search by hand; new ones come in by themselves
    assert {
        "generator.loading.log_cells._CELL",
        "generator.loading.yaml_refusals._MAY_HOLD_REFUSED_FEATURE",
        "generator.publishing.page_links._IN_VALUES",
        "generator.model.units._QUANTITY",
    } <= PATTERNS.keys()
    assert len(PATTERNS) >= 30


@pytest.mark.parametrize("place", PATTERNS)
def test_a_pattern_takes_little_time_on_long_hostile_text(place: str) -> None:
    pattern: re.Pattern[Any] = PATTERNS[place]
    for start, seed, end in product(STARTS, SEEDS, ENDS):
        text = start + seed * (LENGTH // len(seed)) + end
        told = text.encode() if isinstance(pattern.pattern, bytes) else text
        began = time.process_time()
        pattern.match(told)
        pattern.fullmatch(told)
        if place not in ONLY_ANCHORED:
            pattern.search(told)
        assert time.process_time() - began < MOST_SECONDS, (start, seed, end)


@pytest.mark.parametrize(
    "seed",
    [
        *SEEDS,
        "*",
        "**",
        "_a",
        "[](",
        "![",
        "> ",
        "- ",
        "1. ",
        "    ",
        "`a",
        "<a",
        "&#",
        "\\",
        "~",
        "|",
        "[a]: ",
        "[a][",
        "*a_",
        "a**b",
    ],
)
def test_the_markup_of_notes_takes_little_time(seed: str) -> None:
    # 20,000 characters are the longest notes that a record may have.
    began = time.process_time()
    markdown(seed * (LENGTH // len(seed)))
    assert time.process_time() - began < 2
