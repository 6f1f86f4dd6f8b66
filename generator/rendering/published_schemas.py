"""JSON Schemas of the site's own JSON files, made from the models that the files are made from."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import model_json_schema

from generator.model.base import Frozen
from generator.model.field_meanings import WithMeanings
from generator.model.json_schemas import whole_schema
from generator.model.published_files import CatalogueFile, RecordFile
from generator.presenting.open_data_page import CATALOGUE_SCHEMA, RECORD_SCHEMA

SCHEMAS: dict[str, tuple[str, type[Frozen]]] = {
    CATALOGUE_SCHEMA: ("The published catalogue", CatalogueFile),
    RECORD_SCHEMA: ("A published test record with its results", RecordFile),
}
"""Place in the site, title and model of each schema."""


def _without_workings(definition: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of a part as it is published: workings are left out of the files."""
    made = dict(definition)
    if "properties" in made:
        made["properties"] = {name: part for name, part in made["properties"].items() if name != "working"}
        made["required"] = [name for name in made.get("required", ()) if name != "working"]
    return made


def _named(value: Any) -> set[str]:
    """Return the names of the definitions that a schema refers to."""
    if isinstance(value, dict):
        own = {value["$ref"].rpartition("/")[2]} if isinstance(value.get("$ref"), str) else set()
        return own.union(*(_named(part) for part in value.values()))
    return set().union(*(_named(part) for part in value)) if isinstance(value, list) else set()


def _reached(schema: dict[str, Any], definitions: dict[str, Any]) -> dict[str, Any]:
    """Return the definitions that a schema needs, its parts' ones too."""
    known: set[str] = set()
    found = _named(schema)
    while found - known:
        known |= found
        found = _named([definitions[name] for name in known])
    return {name: definitions[name] for name in sorted(known)}


def published_schemas(base_address: str) -> dict[str, dict[str, Any]]:
    """Return each JSON Schema by its place in the site; its id is the address where it will stand."""
    made = {}
    for place, (title, model) in SCHEMAS.items():
        schema = model_json_schema(model, mode="serialization", schema_generator=WithMeanings)
        definitions = {name: _without_workings(part) for name, part in schema.pop("$defs").items()}
        made[place] = whole_schema(f"{base_address}{place}", title, schema, _reached(schema, definitions))
    return made
