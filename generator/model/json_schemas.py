"""What the JSON Schemas of records and of published files have in common."""

from __future__ import annotations

from typing import Any

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def whole_schema(identifier: str, title: str, schema: dict[str, Any], definitions: dict[str, Any]) -> dict[str, Any]:
    """Return a schema that needs no other file: its dialect, id and title first, its definitions last."""
    body = {name: part for name, part in schema.items() if name not in ("title", "$defs")}
    made = {"$schema": DIALECT, "$id": identifier, "title": title, **body}
    return {**made, "$defs": definitions} if definitions else made
