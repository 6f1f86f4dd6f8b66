"""A comparison: a question, and the devices that it is asked of."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Frozen, Id, LongText, Text, Version
from generator.model.quantity import quantity_problem

KIND_COMPARISON = "kind-"
"""How the ids of comparisons start that are made of each kind of device without asking."""


class Comparison(Frozen):
    """records/comparisons/<id>.yaml"""

    id: Id
    """The file name without its ending. Those that start with `kind-` are made without asking."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    title: Text
    """The heading that readers see."""
    question: Text
    """The question that a reader comes with, in a sentence."""
    devices: Annotated[tuple[Id, ...], Field(min_length=2, max_length=8)]
    """The devices to put side by side, in this order."""
    note: LongText | None = None
    """The editor's note, in Markdown."""

    @model_validator(mode="after")
    def _each_device_once(self) -> Comparison:
        twice = [device for number, device in enumerate(self.devices) if device in self.devices[:number]]
        if twice:
            raise quantity_problem(
                "device-twice", f"`{twice[0]}` twice", "each device once", "Remove one of the two from `devices`"
            )
        return self
