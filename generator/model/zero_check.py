"""The zero check of a particle counter."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Frozen
from generator.model.quantity import Concentration, Duration, quantity_problem


class ZeroCheck(Frozen):
    """What the counter counted by itself, with a filter on its inlet through which nothing comes that it can see."""

    concentration: Concentration | None = None
    """The concentration read."""
    count: Annotated[int, Field(ge=0, le=10**9)] | None = None
    """In place of `concentration`: the particles counted."""
    time: Duration
    """How long it counted."""

    @model_validator(mode="after")
    def _one_reading(self) -> ZeroCheck:
        given = [name for name in ("concentration", "count") if getattr(self, name) is not None]
        if len(given) != 1:
            raise quantity_problem(
                "one-reading-each",
                " and ".join(f"`{name}`" for name in given) or "no reading",
                "exactly one of `concentration`, `count`",
                "Keep the reading that was taken",
            )
        return self
