"""The short way from nodes to data: the same data as the long way, or none."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.loading import yaml_parser, yaml_source
from generator.loading.plain_nodes import MOST_BYTES, NotPlain, plain_data
from generator.loading.scalars import RefusedScalar
from generator.loading.yaml_refusals import DEEPEST, LONGEST_KEY, LONGEST_TEXT, MOST_MAPPINGS, MOST_VALUES
from generator.loading.yaml_source import YamlSource, read_yaml

ROOT = Path(__file__).parents[2]
FILES = sorted([*(ROOT / "records").glob("**/*.yaml"), *(ROOT / "tests/loading/examples").glob("**/*.yaml")])
DEEP = b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1)


def long_way(content: bytes, monkeypatch: pytest.MonkeyPatch) -> YamlSource:
    with monkeypatch.context() as patch:
        patch.setattr(yaml_source, "MOST_BYTES", -1)
        return read_yaml(content, "f.yaml")


def damaged(content: bytes) -> Iterator[bytes]:
    """Go through a file with one thing changed at each of some places."""
    for place in range(0, len(content), max(1, len(content) // 12)):
        for sign in (b'"', b": ", b"- ", b"01", b"\n", b".inf", b"~"):
            yield content[:place] + sign + content[place:]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_both_ways_read_the_same(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content = file.read_bytes()
    for each in (content, *damaged(content)):
        short, long = read_yaml(each, "f.yaml"), long_way(each, monkeypatch)
        assert short.problems == long.problems
        # As text, in which 1, 1.0 and true are not the same.
        assert json.dumps(short.data) == json.dumps(long.data)


@pytest.mark.parametrize(
    "content",
    [
        b"{a: 1, a: 2}",
        b"{a: 1, 'a': 2}",
        b"<<: {a: 1}",
        b"1: a",
        b"true: a",
        b"? [a]\n: b",
        b"? {a: 1}\n: b",
        b"%s: a" % (b"k" * (LONGEST_KEY + 1)),
        b"? '%s'\n: a" % (b"k" * (LONGEST_KEY + 1)),
        b'"\\x07": a',
        b'a: "\\x07"',
        b"a: 01",
        b"a: .nan",
        b"a: %s" % (b"9" * 40),
        b"a: %s" % (b"t" * (LONGEST_TEXT + 1)),
        b"a: '%s'" % (b"t" * (LONGEST_TEXT + 1)),
        DEEP,
    ],
)
def test_what_has_to_be_told_is_not_read(content: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises((NotPlain, RefusedScalar), match=r"^(number-leading-zero|number-too-long|not-finite|)$"):
        plain_data(yaml_parser.parser(content).get_single_node())
    assert long_way(content, monkeypatch).problems


@pytest.mark.parametrize(
    "content",
    [
        b"a: '%s'" % (b"t" * LONGEST_TEXT),
        b"%s: a" % (b"k" * LONGEST_KEY),
        b"a: 999999999999999999",
        b'"a b": "\\u00e9"',
        b"'<<': a",
        DEEP[1:-1],
    ],
)
def test_what_only_just_may_stand_is_read(content: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    data = plain_data(yaml_parser.parser(content).get_single_node())
    assert data == long_way(content, monkeypatch).data
    assert not long_way(content, monkeypatch).problems


@pytest.mark.parametrize("dense", [b"{},", b"a,", b"- \n", b"-\n", b"{a,b},"])
def test_a_file_that_is_read_the_short_way_is_too_short_for_too_much(dense: bytes) -> None:
    inside = dense * ((MOST_BYTES - 2) // len(dense))
    content = inside if dense.startswith(b"-") else b"[" + inside + b"]"
    assert len(content) <= MOST_BYTES
    data = plain_data(yaml_parser.parser(content).get_single_node())
    assert sum(isinstance(each, dict) for each in data) <= MOST_MAPPINGS
    assert sum(1 + len(each or ()) for each in data) + 1 <= MOST_VALUES
