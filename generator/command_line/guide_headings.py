"""How the record guide names a model: its heading, the address of that heading, what it says of itself."""

from __future__ import annotations

import inspect
import re

from generator.model.base import Frozen


def heading(model: type[Frozen]) -> str:
    """Return the heading of a model: its name in words."""
    return re.sub(r"(?<=[a-z])([A-Z])", lambda match: f" {match[1].lower()}", model.__name__)


def anchor(model: type[Frozen]) -> str:
    """Return the address of a model's heading within the guide."""
    return heading(model).lower().replace(" ", "-")


def link(model: type[Frozen]) -> str:
    """Return a link to a model's heading."""
    return f"[{heading(model).lower()}](#{anchor(model)})"


def described(model: type[Frozen]) -> str:
    """Return what a model says of itself."""
    return inspect.cleandoc(model.__doc__ or "")
