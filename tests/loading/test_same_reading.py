"""The loader and the round-trip library, which writes records, read every record the same."""

import datetime
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from generator.loading.yaml_source import read_yaml
from tests.loading.example_records import GOOD

ROOT = Path(__file__).resolve().parent.parent.parent
RECORDS = sorted([*(ROOT / "records").rglob("*.yaml"), *GOOD.rglob("*.yaml"), *(ROOT / "generator").rglob("*.yaml")])


def plain(value: Any) -> Any:
    """Return what the round-trip library read as plain data; it alone makes dates of text."""
    if isinstance(value, dict):
        return {key: plain(inside) for key, inside in value.items()}
    if isinstance(value, list):
        return [plain(inside) for inside in value]
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, bool) or value is None:
        return value
    return next((kind(value) for kind in (int, float, str) if isinstance(value, kind)), value)


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_both_read_the_same(path: Path) -> None:
    content = path.read_bytes()
    source = read_yaml(content, path.name)
    assert source.problems == ()
    assert plain(YAML(typ="rt").load(content)) == source.data
    assert source.data
