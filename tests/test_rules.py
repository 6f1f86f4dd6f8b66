"""The project's own rules, kept by machine: layers, names, lengths, cautions for findings, explained slugs."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

import pytest
import yaml

from generator import errors
from generator.command_line import UNEXPECTED_SLUG

ROOT = Path(__file__).resolve().parent.parent
GENERATOR = ROOT / "generator"
MODULES = sorted(GENERATOR.rglob("*.py"))
LONGEST_MODULE = 400
NAMES_THAT_SAY_NOTHING = frozenset({"utils", "util", "misc", "helpers", "common", "tools", "stuff"})


def relative(path: Path) -> str:
    return str(path.relative_to(ROOT))


def test_the_import_contracts_hold() -> None:
    child = subprocess.run(
        [str(Path(sys.executable).with_name("lint-imports"))], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert child.returncode == 0, child.stdout


@pytest.mark.parametrize("path", MODULES, ids=relative)
def test_a_module_is_short_enough_to_read(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE


@pytest.mark.parametrize("path", MODULES, ids=relative)
def test_a_module_is_named_for_what_it_is(path: Path) -> None:
    assert path.stem not in NAMES_THAT_SAY_NOTHING
    assert path.stem not in sys.stdlib_module_names or path.stem.startswith("__")


def test_no_test_is_skipped_or_expected_to_fail() -> None:
    marks = [
        f"{relative(path)}:{node.lineno}"
        for path in (ROOT / "tests").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in ("skip", "skipif", "xfail", "importorskip")
    ]
    assert marks == []


def test_every_expected_error_is_matched_by_its_words() -> None:
    unmatched = [
        f"{relative(path)}:{node.lineno}"
        for path in (ROOT / "tests").rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "raises"
        and not any(keyword.arg == "match" for keyword in node.keywords)
    ]
    assert unmatched == []


def finding_rules() -> Iterator[tuple[str, str]]:
    """Yield where each finding is made in scoring, and its slug."""
    for path in sorted((GENERATOR / "scoring").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Finding":
                for keyword in node.keywords:
                    if keyword.arg == "rule":
                        for constant in ast.walk(keyword.value):
                            if isinstance(constant, ast.Constant) and isinstance(constant.value, str):
                                yield f"{relative(path)}:{node.lineno}", constant.value


def caution_rules() -> set[str]:
    files = sorted((GENERATOR / "reference" / "cautions").glob("*.yaml"))
    return {caution["when"] for file in files for caution in yaml.safe_load(file.read_text(encoding="utf-8"))}


def test_findings_are_found_in_the_code() -> None:
    assert len({slug for _, slug in finding_rules()}) >= 10


def test_every_finding_has_a_caution_or_a_reason_for_none() -> None:
    told = caution_rules()
    assert [f"{where}: {slug}" for where, slug in finding_rules() if slug not in told] == []


def test_every_caution_can_come_to_be() -> None:
    made = {slug for _, slug in finding_rules()} | {"always"}
    assert caution_rules() - made == set()


def error_slugs() -> list[str]:
    classes = [errors.InwardError]
    for kind in classes:
        classes.extend(kind.__subclasses__())
    return sorted({kind.slug for kind in classes} - {errors.InwardError.slug} | {UNEXPECTED_SLUG})


@pytest.mark.parametrize("slug", error_slugs())
def test_every_error_is_explained_to_developers(slug: str) -> None:
    assert f"`{slug}`" in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_versions_are_pinned_by_name_and_version_only() -> None:
    lines = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pinned = [line.split("==") for line in lines]
    assert [parts for parts in pinned if len(parts) != 2 or not parts[1][0].isdigit() or " " in "".join(parts)] == []
    names = [parts[0].lower() for parts in pinned]
    assert names == sorted(set(names))


def test_everything_that_is_declared_is_pinned() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = chain(declared["project"]["dependencies"], *declared["dependency-groups"].values())
    pinned = {line.partition("==")[0].lower() for line in (ROOT / ".ci" / "constraints.txt").read_text().splitlines()}
    assert [line for line in wanted if re.split(r"[ <>=~!]", line)[0].lower() not in pinned] == []
