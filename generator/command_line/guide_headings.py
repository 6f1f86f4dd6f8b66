"""How the record guide leads to a model: the address of its heading, a link there, what it says of itself."""

from __future__ import annotations

import inspect

from generator.loading.record_kinds import heading
from generator.model.base import Frozen


def anchor(model: type[Frozen]) -> str:
    """Return the address of a model's heading within the guide."""
    return heading(model).lower().replace(" ", "-")


def link(model: type[Frozen]) -> str:
    """Return a link to a model's heading."""
    return f"[{heading(model).lower()}](#{anchor(model)})"


def described(model: type[Frozen]) -> str:
    """Return what a model says of itself."""
    return inspect.cleandoc(model.__doc__ or "")
