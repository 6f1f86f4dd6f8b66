"""YAML as YAML: what plain scalars mean, where things stand, what is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.loading import yaml_parser
from generator.loading.scalars import RefusedScalar, plain_value
from generator.loading.yaml_refusals import DEEPEST, LARGEST_FILE, MOST_VALUES
from generator.loading.yaml_source import read_yaml
from tests.loading.example_records import BAD, apply, good_copy, read_bad_example


@pytest.mark.parametrize(
    ("text", "value"),
    [
        # source: YAML 1.2.2, section 10.3.2, "Tag Resolution" of the core schema: its table of regular expressions
        ("null", None),
        ("Null", None),
        ("NULL", None),
        ("~", None),
        ("", None),
        ("true", True),
        ("True", True),
        ("TRUE", True),
        ("false", False),
        ("False", False),
        ("FALSE", False),
        ("0", 0),
        ("-19", -19),
        ("+12", 12),
        ("0o7", 7),
        ("0x3A", 58),
        ("0.", 0.0),
        ("-0.0", -0.0),
        (".5", 0.5),
        ("+12e03", 12000.0),
        ("-2E+05", -200000.0),
        ("1e3", 1000.0),
        # source: the same table, in which these match no pattern and so are text
        ("no", "no"),
        ("yes", "yes"),
        ("on", "on"),
        ("off", "off"),
        ("nULL", "nULL"),
        ("12:30:45", "12:30:45"),
        ("2025-03-14", "2025-03-14"),
        ("1_000", "1_000"),
        ("0b11", "0b11"),
        ("1.2.3", "1.2.3"),
        ("17.2 L/min", "17.2 L/min"),
        ("-", "-"),
        ("0o8", "0o8"),
    ],
)
def test_plain_scalars_mean_what_the_core_schema_says(text: str, value: object) -> None:
    found = plain_value(text)
    assert found == value
    assert type(found) is type(value)


@pytest.mark.parametrize(
    ("text", "slug"),
    [
        # source: the rules of the record guide, which are stricter than the core schema
        ("010", "number-leading-zero"),
        ("-00.5", "number-leading-zero"),
        (".inf", "not-finite"),
        ("-.Inf", "not-finite"),
        (".NaN", "not-finite"),
        ("1e999", "not-finite"),
        ("1234567890123456789", "number-too-long"),
        ("9" * 5000, "number-too-long"),
        ("0xFFFFFFFFFFFFFFFF", "number-too-long"),
    ],
)
def test_some_numbers_are_refused(text: str, slug: str) -> None:
    with pytest.raises(RefusedScalar, match=f"^{slug}$"):
        plain_value(text)


def test_the_longest_integer_is_exact() -> None:
    # source: 18 nines, the largest number of 18 digits
    assert plain_value("-999999999999999999") == -999999999999999999


def problems_of(content: bytes) -> list[str]:
    return [str(problem) for problem in read_yaml(content, "f.yaml").problems]


@pytest.mark.parametrize(
    ("content", "start"),
    [
        (b"a: gr\xfcn\n", "f.yaml:1:6: (yaml) [not-utf-8]: found the byte 0xfc"),
        (b"a: 1\nb: \xc3\xa9\xff\n", "f.yaml:2:5: (yaml) [not-utf-8]: found the byte 0xff"),
        ("a: 1\n".encode("utf-16"), "f.yaml:1:1: (yaml) [not-utf-8]: found the byte 0xff"),
        (b"a: 1\nb: x\x07y\n", "f.yaml:2:5: (yaml) [character-not-allowed]: found the control character U+0007"),
        (b'a: 1\nb: "x\\x0by"\n', "f.yaml:2:4: (yaml) [character-not-allowed]: found the control character U+000B"),
        (b"a: " + b"x" * LARGEST_FILE, "f.yaml:1:1: (yaml) [file-too-large]: found more than 524288 bytes"),
        (b"a: " + b"[" * 25 + b"]" * 25, "f.yaml:1:23: (yaml) [too-deep]: found more than 20 levels"),
        (b"[" * 5000, "f.yaml:1:"),
        (b"a: [" + b"1," * MOST_VALUES + b"]", "f.yaml:1:100001: (yaml) [too-many-values]: found more values"),
        (b"? [1, 2]\n: 3\n", "f.yaml:1:3: (yaml) [key-not-text]: found the key a list"),
        (b"true: 3\n", "f.yaml:1:1: (yaml) [key-not-text]: found the key `true`"),
        (b"010: 3\n", "f.yaml:1:1: (yaml) [key-not-text]: found the key `010`"),
    ],
)
def test_what_cannot_be_read_is_one_problem_with_its_place(content: bytes, start: str) -> None:
    (problem,) = problems_of(content)
    assert problem.startswith(start)


def test_aliases_are_refused_before_they_are_followed() -> None:
    bomb = b"a: &a [x, x]\n" + b"".join(
        b"%c: &%c [%s]\n" % (this, this, b", ".join([b"*%c" % last] * 9))
        for last, this in zip(b"abcdefgh", b"bcdefghi", strict=True)
    )
    assert [problem.split("[")[1].split("]")[0] for problem in problems_of(bomb)] == [
        "anchor-not-allowed",
        "alias-not-allowed",
    ]


def test_a_byte_order_mark_does_not_move_the_first_line() -> None:
    source = read_yaml(b"\xef\xbb\xbfa: 1\n", "f.yaml")
    assert source.data == {"a": 1}
    assert source.position(("a",), of_key=True) == (1, 1)


def test_positions_of_keys_and_values_count_characters() -> None:
    source = read_yaml("größe: {ü: [1, zwei]}\nlast: |\n  text\n".encode(), "f.yaml")
    assert source.position(("größe", "ü"), of_key=True) == (1, 9)
    assert source.position(("größe", "ü", 1)) == (1, 16)
    assert source.position(("last",)) == (2, 7)
    # What is missing is told where it is missing from.
    assert source.position(("größe", "ü", 5)) == (1, 12)


def everything_of(content: bytes) -> tuple[Any, list[str]]:
    source = read_yaml(content, "f.yaml")
    return source.data, [str(problem) for problem in source.problems]


@pytest.mark.parametrize(
    "content",
    [
        b"a: 1\nb: [x, 'y', \"z\", 1.5, no]\nc: |\n  text\n",
        b"a: 1\na: 2\n<<: 3\nb: 010\n",
        b"a: &x 1\nb: *x\nc: !!str 3\n",
        b"%YAML 1.1\n---\na: 1\n",
        b"# nothing\n",
        b"a: x\x07\n",
    ],
)
def test_the_pure_parser_reads_the_same(content: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    fast = everything_of(content)
    assert yaml_parser.parser is not yaml_parser.PureParser, "this test compares the two"
    monkeypatch.setattr(yaml_parser, "parser", yaml_parser.PureParser)
    assert everything_of(content) == fast


BROKEN = [path for path in BAD if "[yaml-syntax]" in path.read_text()]


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_the_pure_parser_says_the_same_of_broken_yaml(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    example = read_bad_example(path)
    folder = good_copy(tmp_path)
    apply(example, folder)
    (file,) = {message.split(":")[0] for message in example.expected}
    monkeypatch.setattr(yaml_parser, "parser", yaml_parser.PureParser)
    assert tuple(str(problem) for problem in read_yaml((folder / file).read_bytes(), file).problems) == example.expected


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"])
def test_broken_yaml_is_told_in_its_line_whatever_ends_the_lines(end: bytes) -> None:
    content = end.join((b"a: 1", b"b:", b"  c: 1", b"   d: 2", b""))
    (problem,) = problems_of(content)
    assert problem.startswith("f.yaml:4:4: (yaml) [yaml-syntax]: found a line that is indented unlike those above it")


def test_the_pure_parser_refuses_deep_nesting_too(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml_parser, "parser", yaml_parser.PureParser)
    (problem,) = problems_of(b"[" * 3000 + b"]" * 3000)
    assert "[too-deep]: found more than 20 levels" in problem


def test_the_c_parser_is_in_use() -> None:
    # Without it loading takes about eight times as long; PyYAML's wheels bring it.
    assert yaml.__with_libyaml__
    assert DEEPEST == 20
