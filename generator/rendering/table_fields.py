"""What a table of the open data is: its columns as Table Schema describes them, its key, its relations."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from generator.model.base import Frozen
from generator.model.field_meanings import field_meanings
from generator.presenting.open_data_page import TABLES

Row = tuple[object, ...]


@dataclass(frozen=True)
class Field:
    """A column, as Table Schema describes one. `name` is its heading."""

    name: str
    type: str
    description: str
    unit: str | None = None
    required: bool = False
    minimum: float | None = None
    maximum: float | None = None
    enum: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reference:
    """Columns that hold the key of a row of another table, or of the same one where `table` is empty."""

    fields: tuple[str, ...]
    table: str
    key: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """A table. No two of its rows have the same key."""

    name: str
    fields: tuple[Field, ...]
    key: tuple[str, ...] = ()
    references: tuple[Reference, ...] = ()

    @property
    def description(self) -> str:
        """What a row is."""
        return TABLES[self.name]

    @property
    def heading(self) -> tuple[str, ...]:
        """The names of its columns."""
        return tuple(field.name for field in self.fields)


def _words(model: type[Frozen], name: str) -> str:
    """Return what the model says of one of its fields, in one line, as a reader of tables says it."""
    words = " ".join(field_meanings(model).get(name, "").split())
    return words.replace("null", "empty").replace("None", "empty")


def model_field(model: type[Frozen], name: str, kind: str = "string", heading: str = "", **more: Any) -> Field:
    """Return the column of a field of a model, in the model's own words."""
    return Field(heading or name, kind, _words(model, name), **more)


ID = Field("id", "string", "Its id, by which other tables name it.", required=True)
VERSION = Field("version", "string", "Goes up with every amendment.", required=True)
RECORD = Field("record", "string", "The id of the test record.", required=True)
DEVICE = Field("device", "string", "The id of the device.", required=True)
PAGE = Field("page", "string", "Its page, from the root of the site.", required=True)
OF_RECORD = (Reference(("record",), "records", ("id",)), Reference(("device",), "devices", ("id",)))


def json_cell(value: object) -> str:
    """Return the text of a cell that holds a list or an object."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
