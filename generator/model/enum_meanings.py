"""What the members of an enumeration mean: the text below each in the code, as for the fields of a model."""

from __future__ import annotations

import ast
import inspect
import textwrap
from enum import Enum
from itertools import pairwise


def meanings(kind: type[Enum]) -> dict[str, str]:
    """Return what each member of an enumeration means, by its value; members without a text are left out."""
    (definition,) = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    assert isinstance(definition, ast.ClassDef)
    found: dict[str, str] = {}
    for member, below in pairwise(definition.body):
        match member, below:
            case ast.Assign(targets=[ast.Name(id=name)]), ast.Expr(value=ast.Constant(value=str(text))):
                found[kind[name].value] = inspect.cleandoc(text)
    return found
