"""A JSON Schema for each kind of record, of what stands in its YAML: what is needed, in which form, and what it means.

A schema sees one file, and of that no more than forms and which keys go together. It refuses nothing that the loader
takes, but for texts that are too long only with the blanks at their ends; order, bounds of quantities and what lies in
other files stay with `inward check`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, get_args

from pydantic import TypeAdapter
from pydantic.fields import FieldInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import core_schema

from generator.contributing.record_schemas.rules import RULES
from generator.loading.record_kinds import RECORD_KINDS, heading, name_in_words
from generator.loading.text_forms import FORMS
from generator.model.enum_meanings import meanings
from generator.model.field_meanings import WithMeanings
from generator.model.json_schemas import whole_schema
from generator.model.quantity import QuantityOf

DAY_PATTERN = (
    "^[0-9]{4}-(?:(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])|(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)|"
    "02-(?:0[1-9]|[12][0-9]))$"
)
"""A day of the calendar, but for leap years."""
DAYS = ("2025-03-14", "2025-11-02")
NOT_BLANK = r"\S"


def record_schema(kind: str) -> dict[str, Any]:
    """Return the JSON Schema of a kind of record.

    Parameters
    ----------
    kind : str
        A name of `RECORD_KINDS`, such as `device_test`.
    """
    record = RECORD_KINDS[kind]
    schema = TypeAdapter(record.model).json_schema(schema_generator=_AsWritten)
    schema["description"] = record.what
    parts = {name: {**part, "title": name_in_words(name)} for name, part in schema.get("$defs", {}).items()}
    return whole_schema(f"urn:inward:record:{kind}", heading(record.model), schema, parts)


class _AsWritten(WithMeanings):
    """Schemas without what says nothing, with what helps a person who writes a record."""

    def field_title_should_be_set(self, schema: Any) -> bool:
        """Leave out titles that only repeat the key."""
        return False

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Leave out defaults that stand for nothing: an editor would write them out as values."""
        made = super().default_schema(schema)
        return {name: part for name, part in made.items() if name != "default" or part not in (None, [])}

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """Say of text that may be left blank in one piece what it may be, so that a fault in it is told by its words.

        Not of numbers: for a key that is one an editor fills in 0.
        """
        made = super().nullable_schema(schema)
        inner = made.get("anyOf", [{}])[0]
        return {**inner, "type": ["string", "null"]} if inner.get("type") == "string" else made

    def tagged_union_schema(self, schema: core_schema.TaggedUnionSchema) -> JsonSchemaValue:
        """Tell a value from `{not_recorded: ...}` by its form; editors go on better with `anyOf` than with `oneOf`."""
        made = super().tagged_union_schema(schema)
        return {"anyOf": made["oneOf"]}

    def tuple_schema(self, schema: core_schema.TupleSchema) -> JsonSchemaValue:
        """Give the type of numbers in a list as one of a list, for which an editor fills in no 0 as the first."""
        made = super().tuple_schema(schema)
        items = made["items"]
        return {**made, "items": {**items, "type": ["number"]}} if items.get("type") == "number" else made

    def enum_schema(self, schema: core_schema.EnumSchema) -> JsonSchemaValue:
        """Say what each value means, by a keyword that editors know and validators pass over."""
        made, told = super().enum_schema(schema), meanings(schema["cls"])
        return {**made, "enumDescriptions": [told[value] for value in made["enum"]]}

    def date_schema(self, schema: core_schema.DateSchema) -> JsonSchemaValue:
        """Days are text, as YAML 1.2 has it."""
        words = {"examples": list(DAYS), "errorMessage": f"Expected a day such as {DAYS[0]}."}
        return {**super().date_schema(schema), "pattern": DAY_PATTERN, **words}

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        """Say in words which form is needed; text that is stripped of blanks must hold something else."""
        made = super().str_schema(schema)
        if "pattern" in made:
            return {**made, "errorMessage": f"Expected {FORMS[made['pattern']]}."}
        return {**made, "pattern": NOT_BLANK} if schema.get("strip_whitespace") else made

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """Give a part of a record the rules for its keys, and each quantity its units."""
        made, model = super().model_schema(schema), schema["cls"]
        for name, field in model.model_fields.items():
            made["properties"][name] = _with_units(made["properties"][name], field)
        rules = [rule for each in model.__mro__ for rule in RULES.get(each, ())]
        return {**made, "allOf": rules} if rules else made


def _with_units(written: dict[str, Any], field: FieldInfo) -> dict[str, Any]:
    """Return the schema of a key with what may be written as a quantity, after what the key means."""
    rule = next(_quantities((*field.metadata, field.annotation)), None)
    if rule is None:
        return written
    made = {**written, "description": f"{written['description']} {rule.described}"}
    message = {"errorMessage": f"Expected {rule.described[0].lower()}{rule.described[1:]}"}
    if "anyOf" not in made:
        return {**made, **message}
    choices = [{**choice, **message} if "pattern" in choice else choice for choice in made["anyOf"]]
    # The key says it once, for all that it may hold.
    return {**made, "anyOf": [{name: choice[name] for name in choice if name != "description"} for choice in choices]}


def _quantities(parts: Iterable[Any]) -> Iterator[QuantityOf]:
    """Go through the quantities that the parts of a type hint name."""
    for part in parts:
        if isinstance(part, QuantityOf):
            yield part
        yield from _quantities(get_args(part))
