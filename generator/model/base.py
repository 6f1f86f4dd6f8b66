"""The base of every model and the small text types that all records share."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Discriminator, Field, StringConstraints, Tag

ID_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"

Id = Annotated[
    str, StringConstraints(pattern=ID_PATTERN, max_length=64), Field(examples=["north-hood-2", "north-hood-2025-03"])
]
Text = Annotated[str, StringConstraints(min_length=1, max_length=600, strip_whitespace=True)]
LongText = Annotated[str, StringConstraints(min_length=1, max_length=20_000, strip_whitespace=True)]
Day = datetime.date
Version = Annotated[str, StringConstraints(pattern=r"^[0-9]+(\.[0-9]+)*$", max_length=20), Field(examples=["1", "1.2"])]
Sha256 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class Frozen(BaseModel):
    """A model that cannot be changed, converts nothing silently and knows all of its keys."""

    # The text below a field is its description in the record guide and in JSON Schemas, by `field_meanings`.
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


_GIVEN: dict[tuple[type, int], set[str]] = {}


class FrozenOfMany(Frozen):
    """A frozen model of which there are very many: objects that were given the same fields share one set of names.

    A set of its own, of more than four names, takes half of the room of an object.
    """

    def model_post_init(self, _context: Any, /) -> None:
        """Take the set that an earlier object has, where it is the same."""
        given = self.__pydantic_fields_set__
        shared = _GIVEN.setdefault((self.__class__, len(given)), given)
        if shared is not given and shared == given:
            object.__setattr__(self, "__pydantic_fields_set__", shared)


class NotRecorded(Frozen):
    """A value that is missing, with the reason why; never a zero or a blank."""

    not_recorded: Text
    """Why the value is missing."""


_T = TypeVar("_T")
RECORDED_TAG = "<recorded>"
NOT_RECORDED_TAG = "<not recorded>"


def _which(value: Any) -> str:
    if isinstance(value, NotRecorded) or (isinstance(value, Mapping) and "not_recorded" in value):
        return NOT_RECORDED_TAG
    return RECORDED_TAG


Recorded = Annotated[
    Annotated[_T, Tag(RECORDED_TAG)] | Annotated[NotRecorded, Tag(NOT_RECORDED_TAG)],
    Discriminator(_which),
]
"""`Recorded[X]`: an X, or `{not_recorded: <reason>}`."""
