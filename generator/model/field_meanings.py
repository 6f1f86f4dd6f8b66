"""What the fields of a model mean: the text below each in the code, read where it is asked for.

Read for every model when it is made, these texts would take a sixth of the time of a check, which needs none of them.
"""

from __future__ import annotations

import ast
import inspect
import sys
from collections.abc import Mapping
from functools import cache
from itertools import pairwise

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from generator.model.base import Frozen


@cache
def field_meanings(model: type[Frozen]) -> Mapping[str, str]:
    """Return what each field of a model means, by its name; fields without a text are left out."""
    found: dict[str, str | None] = {}
    for each in reversed(model.__mro__):
        if issubclass(each, Frozen):
            # A field that is told of anew is not what it was in the model that this one is made from.
            found |= dict.fromkeys(each.__annotations__)
            found |= _texts_in(each.__module__).get(each.__name__, {})
    return {name: text for name in model.model_fields if (text := found.get(name)) is not None}


@cache
def _texts_in(module: str) -> Mapping[str, Mapping[str, str]]:
    """Return the texts below the fields of each class of a module."""
    definitions = ast.walk(ast.parse(inspect.getsource(sys.modules[module])))
    return {each.name: _texts_of(each) for each in definitions if isinstance(each, ast.ClassDef)}


def _texts_of(definition: ast.ClassDef) -> dict[str, str]:
    found: dict[str, str] = {}
    for field, below in pairwise(definition.body):
        match field, below:
            case ast.AnnAssign(target=ast.Name(id=name)), ast.Expr(value=ast.Constant(value=str(text))):
                found[name] = inspect.cleandoc(text)
    return found


class WithMeanings(GenerateJsonSchema):
    """JSON Schemas as pydantic makes them, with what each field means as its description."""

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        """Describe the fields of a model of ours."""
        made, model = super().model_schema(schema), schema["cls"]
        if issubclass(model, Frozen):
            for name, text in field_meanings(model).items():
                key = model.model_fields[name].alias or name
                # What the field's own model says of itself already is not said again.
                made["properties"][key] = self.handle_ref_overrides({**made["properties"][key], "description": text})
        return made
