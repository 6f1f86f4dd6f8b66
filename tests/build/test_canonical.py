"""One hash of what a page is made from: equal for equal things in every process, different for different ones."""

import os
import subprocess
import sys
from dataclasses import dataclass, replace
from datetime import date
from enum import Enum, StrEnum
from itertools import combinations

import pytest

from generator.build.canonical import digest_of
from generator.model.base import Frozen
from generator.presenting.page_parts import Letterhead
from generator.presenting.presented import Presented
from generator.presenting.views import Fact, Link
from tests.conftest import ROOT


class Kind(StrEnum):
    """Texts with names."""

    A = "a"
    B = "b"


class Other(Enum):
    """The same texts as another kind."""

    A = "a"


@dataclass(frozen=True)
class Pair:
    """Two things."""

    one: object
    other: object


@dataclass(frozen=True)
class OtherPair:
    """Two things by another name."""

    one: object
    other: object


class Model(Frozen):
    """A model with a child of any kind below its own."""

    name: str
    child: Frozen | None = None


class Child(Frozen):
    """More than its parent's annotation tells."""

    value: float


DIFFERENT: tuple[object, ...] = (
    *(None, True, False, 0, 1, -1, 0.0, 1.0, 1.5, "", "a", "1", "None", b"", b"a", "é", "e\u0301", "\ud800"),
    *((), ("",), ("a",), ("a", "b"), ("ab",), (("a",), "b"), ("a", ("b",)), ("a", "", "b"), [], [1, 2], [12]),
    *({}, {"a": "b"}, {"a": "c"}, {"b": "a"}, {"a": {"b": "c"}}, {"a": "x", "b": "y"}, {"b": "y", "a": "x"}),
    *(frozenset(), frozenset({"a"}), frozenset({"a", "b"}), Kind.A, Kind.B, Other.A, date(2025, 1, 2)),
    *(Pair(1, 2), Pair(12, ""), OtherPair(1, 2), Pair((1, 2), None), Pair(1, (2, None))),
    *(
        Model(name="a"),
        Model(name="b"),
        Model(name="a", child=Child(value=1.0)),
        Model(name="a", child=Child(value=2.0)),
    ),
    *(Link("a", "b"), Link("ab", ""), Fact("a", "b")),
    *(Presented({"a.html": int}), Presented({"b.html": int})),
)
# A list and a tuple of the same are the same to a page.
SAME: tuple[object, ...] = ((), [])


def test_different_things_have_different_hashes() -> None:
    hashes = [digest_of(thing) for thing in DIFFERENT]
    for (one, first), (other, second) in combinations(zip(DIFFERENT, hashes, strict=True), 2):
        assert first != second or (one, other) == SAME, (one, other)
    assert digest_of("a", "b") != digest_of("ab") != digest_of(("a", "b"))


def test_equal_things_have_equal_hashes() -> None:
    assert digest_of(Pair("a", (1, 2.5))) == digest_of(replace(Pair("b", (1, 2.5)), one="a"))
    assert digest_of(frozenset("abcdefg")) == digest_of(frozenset("gfedcba"))
    assert digest_of(Presented({"a.html": int})) == digest_of(Presented({"a.html": str}))


@pytest.mark.parametrize("thing", [object(), lambda: None, {"a": (1, object())}, Letterhead, ...])
def test_what_is_not_known_is_refused(thing: object) -> None:
    with pytest.raises(TypeError, match="is not made of plain values, dataclasses and models"):
        digest_of(thing)


def test_hashes_are_the_same_in_every_process() -> None:
    script = (
        "from generator.build.canonical import digest_of\nfrom generator.model.base import Frozen\n"
        "class M(Frozen):\n    a: int = 1\n    b: tuple[str, ...] = ('x',)\n"
        "print(digest_of(frozenset({'a', 'b', 'c', 'd'}), M(b=('y',), a=2), {'k': 1.5}))"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(told) == 1
