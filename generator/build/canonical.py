"""One hash of everything that a page is made from, the same in every process."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from pydantic import BaseModel

from generator.presenting.presented import Presented


def digest_of(*things: object) -> str:
    """Return one hash over things made of plain values, dataclasses and models. [SHA-256, hexadecimal]

    Raises
    ------
    TypeError
        Something is neither, so that nothing is known of what it is made of.
    """
    digest = hashlib.sha256()
    for thing in things:
        for piece in _pieces(thing):
            # With its length, so that no two things run together to the same.
            digest.update(f"{len(piece)}:{piece}".encode("utf-8", "surrogatepass"))
    return digest.hexdigest()


def _pieces(thing: Any) -> Iterator[str]:
    if thing is None or isinstance(thing, bool | int | float):
        yield repr(thing)
    elif isinstance(thing, Enum):
        yield f"{type(thing).__name__}.{thing.name}"
    elif isinstance(thing, str):
        yield f"'{thing}"
    elif isinstance(thing, bytes):
        yield f"b{hashlib.sha256(thing).hexdigest()}"
    elif isinstance(thing, tuple | list):
        yield f"({len(thing)}"
        for item in thing:
            yield from _pieces(item)
    elif isinstance(thing, Presented):
        # Pages that are presented one by one are made, and known, by themselves.
        yield from _pieces(tuple(thing.presenters))
    elif isinstance(thing, Mapping):
        yield f"{{{len(thing)}"
        for key, item in thing.items():
            yield from _pieces(key)
            yield from _pieces(item)
    elif isinstance(thing, set | frozenset):
        yield f"<{len(thing)}"
        yield from sorted(digest_of(item) for item in thing)
    elif isinstance(thing, BaseModel):
        yield type(thing).__qualname__
        yield from _pieces(thing.__dict__)
    elif is_dataclass(thing) and not isinstance(thing, type):
        yield type(thing).__qualname__
        for field in fields(thing):
            yield from _pieces(getattr(thing, field.name))
    elif callable(written := getattr(thing, "isoformat", None)):
        yield f"day {written()}"
    else:
        raise TypeError(f"{type(thing).__qualname__} is not made of plain values, dataclasses and models")
