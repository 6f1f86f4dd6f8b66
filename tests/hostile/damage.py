"""Random damage to records, from a seed: to the bytes of a file, and to the tree of its values."""

from __future__ import annotations

import copy
import random
from typing import Any

import yaml

PIECES = (
    b"\0", b"\xff", b"\xc3", b"\xe2\x80\xae", b"\xef\xbb\xbf", b"\xc2\x85", b"\xed\xa0\x80", b"\t", b"\r", b"\n", b"  ",
    b"- ", b": ", b":", b"#", b"[", b"]", b"{", b"}", b",", b"&a ", b"*a", b"!!python/name:os ", b"!", b"|", b">", b"%",
    b"@", b"`", b"'", b'"', b"? ", b"---\n", b"...\n", b"<<: ", b"~", b".nan", b"1e999", b"-0", b"0x", b"0o17", b"010",
    b"9" * 30,
    b"not_recorded", b"{not_recorded: x}", b"\\", b'"\\0"', b'"\\ud800"', b"L/min", b"%PDF", b"\xf0\x9f\x98\xb7",
)  # fmt: skip
VALUES: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 10**9, 10**17, 0.5, -0.0, 1e308, 1e-308, 1.5, "", " ", "x", "off", "on", "1", "0 g",
    "5 L/min", "-5 L/min", "1e9 L/min", "0 /cm3", "1e12 /cm3", "0.000001 /cm3", "99999999 /cm3", "0 s", "1e-9 s",
    "1e9 h", "300 K", "0 %", "100 %", "0001-01-01", "9999-12-31", "2025-02-29", "2025-03-14T00:00:00", "\u202e",
    "é" * 50,
    "x" * 601, "../../x", "<script>", "{{ 7*7 }}", "=1+1", [], [[]], [None], {}, {"not_recorded": "x"}, {"x": {}},
)  # fmt: skip


def damaged_bytes(content: bytes, choice: random.Random) -> bytes:
    """Cut out, put in, repeat or exchange some pieces of a file."""
    for _ in range(choice.choice((1, 1, 1, 2, 3, 8))):
        at = choice.randrange(len(content) + 1)
        end = min(len(content), at + choice.choice((0, 1, 1, 2, 8, 40, 400)))
        kind = choice.randrange(6)
        if kind == 0:
            content = content[:at] + content[end:]
        elif kind == 1:
            content = content[:at] + choice.choice(PIECES) + content[at:]
        elif kind == 2:
            content = content[:at] + choice.choice(PIECES) + content[end:]
        elif kind == 3:
            content = content[:end] + content[at:]
        elif kind == 4:
            content = content[:at] + bytes(choice.randrange(256) for _ in range(end - at)) + content[end:]
        else:
            content = content[:at] + choice.choice(PIECES) * choice.randrange(1, 60) + content[at:]
    return content


def damaged_tree(content: bytes, choice: random.Random) -> bytes:
    """Exchange, remove, repeat, add or move some values of a record, and write it as YAML again."""
    record = copy.deepcopy(yaml.load(content, _Text))
    for _ in range(choice.choice((1, 1, 2, 3))):
        places = _places(record)
        if not places:
            break
        inside, step = choice.choice(places)
        kind = choice.randrange(6)
        if kind <= 1:
            inside[step] = copy.deepcopy(choice.choice(VALUES))
        elif kind == 2:
            del inside[step]
        elif kind == 3 and isinstance(inside, list):
            inside.insert(choice.randrange(len(inside) + 1), copy.deepcopy(inside[step]))
        elif kind == 4:
            other, there = choice.choice(places)
            inside[step] = copy.deepcopy(other[there])
        elif isinstance(inside, dict):
            inside[choice.choice(("surplus", step, f"{step}x", "id", "not_recorded"))] = choice.choice(VALUES)
    return yaml.safe_dump(record, allow_unicode=True, sort_keys=False).encode()


class _Text(yaml.SafeLoader):
    """Reads days as text, as records have them."""


_Text.yaml_implicit_resolvers = {
    first: [(tag, form) for tag, form in forms if not tag.endswith(":timestamp")]
    for first, forms in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def _places(inside: Any) -> list[tuple[Any, Any]]:
    found: list[tuple[Any, Any]] = []
    steps: Any = inside if isinstance(inside, dict) else range(len(inside)) if isinstance(inside, list) else ()
    for step in steps:
        found += [(inside, step), *_places(inside[step])]
    return found
