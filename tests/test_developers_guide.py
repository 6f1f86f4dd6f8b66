"""The guide for contributors of code names tests that exist, and every fault and threat names one."""

import ast
import re

import pytest

from tests.conftest import ROOT

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = re.findall(r"`(tests/[a-z_/]+\.py)(?:::(test_[a-z0-9_]+))?`", GUIDE)


def rows(section: str) -> list[str]:
    """Return the rows of the table in a section, without its head."""
    text = GUIDE.partition(f"## {section}\n")[2].partition("\n## ")[0]
    return [line for line in text.splitlines() if line.startswith("|")][2:]


@pytest.mark.parametrize(("file", "test"), NAMED, ids=["::".join(named) for named in NAMED])
def test_a_test_that_is_named_exists(file: str, test: str) -> None:
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    names = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
    assert test in names if test else any(name.startswith("test_") for name in names)


def test_every_threat_names_the_test_that_shows_how_it_is_stopped() -> None:
    found = rows("Threat model")
    assert len(found) >= 15
    assert [row for row in found if not re.search(r"`tests/[a-z_/]+\.py(::test_\w+)?` \|$", row)] == []


def test_every_row_of_a_table_has_as_many_cells() -> None:
    assert {row.count("|") for row in rows("Threat model")} == {5}
    assert {row.count("|") for row in rows("Faults")} == {5}
