"""The base of every model and the small text types that all records share."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Discriminator, Field, StringConstraints, Tag

ID_PATTERN = r"^[a-z0-9]+(-[a-z0-9]+)*$"

Id = Annotated[
    str,
    StringConstraints(pattern=ID_PATTERN, max_length=64),
    Field(description="lower-case letters, digits and single hyphens; the file name without its ending"),
]
Text = Annotated[str, StringConstraints(min_length=1, max_length=600, strip_whitespace=True)]
LongText = Annotated[str, StringConstraints(min_length=1, max_length=20_000, strip_whitespace=True)]
Day = datetime.date
Version = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]+(\.[0-9]+)*$", max_length=20),
    Field(description="quoted, for example '1' or '1.2'; goes up with every amendment"),
]
Sha256 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class Frozen(BaseModel):
    """A model that cannot be changed, converts nothing silently and knows all of its keys."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


class NotRecorded(Frozen):
    """A value that is missing, with the reason why; never a zero or a blank."""

    not_recorded: Text


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
