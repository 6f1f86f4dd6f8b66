"""The configuration that a test was done in: as supplied, or what was changed and what the change costs."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Recorded, Text
from generator.model.quantity import Mass, quantity_problem

LocalName = Annotated[
    str,
    StringConstraints(pattern=r"^[a-z0-9]+([_-][a-z0-9]+)*$", max_length=40),
    Field(examples=["first", "high-fresh"]),
]
"""A name that is unique within one record: a session, a run, an exercise."""


class State(StrEnum):
    """The state a device was tested in."""

    AS_SUPPLIED = "as_supplied"
    """As it came, with nothing changed."""
    MODIFIED = "modified"
    """Changed by somebody; `changes` says how."""


class Fitted(Frozen):
    """What was fitted to the device during the test, as far as an approval may name it."""

    power_source: Text | None = None
    """The battery or supply that was used."""
    filters: tuple[Text, ...] = ()
    """The filters that were fitted."""
    parts: tuple[Text, ...] = ()
    """Hose, hood, harness and whatever else can be exchanged."""


class ChangeCosts(Frozen):
    """What a modification costs, beside money."""

    approval: Text
    """What becomes of an approval that the maker states."""
    mass: Recorded[Mass]
    """What the wearer carries after the change."""
    noise: Recorded[Text]
    """What the change does to the noise."""


class Configuration(Frozen):
    """The configuration that was tested."""

    state: State
    """Whether the device was as supplied."""
    description: Text
    """The state that was tested, in a sentence."""
    name: LocalName | None = None
    """A name for the configuration, the same in every record of it, such as `third-strap`."""
    based_on: LocalName | None = None
    """For modified devices: the name of the configuration that was changed; another record of the device has it."""
    changes: tuple[Text, ...] = ()
    """What was changed; for modified devices only, and needed there."""
    costs: ChangeCosts | None = None
    """For modified devices: what the change costs."""
    carries_out: LocalName | None = None
    """For modified devices: the predicted change that was made, `two` for twice as many filters, or the id of an
    alternative part's pressure drops; its measured flow then stands beside the prediction."""
    fitted: Fitted | None = None
    """What was fitted; it is held against what a stated approval covers."""

    @model_validator(mode="after")
    def _changes_fit_state(self) -> Configuration:
        modified = self.state is State.MODIFIED
        if modified != bool(self.changes):
            raise quantity_problem(
                "changes-and-state",
                f"`state: {self.state.value}` with {len(self.changes)} `changes`",
                "`changes` for a modified device and none for one as supplied",
                "List what was changed, or correct `state`",
            )
        if not modified and any((self.based_on, self.costs, self.carries_out)):
            raise quantity_problem(
                "changes-and-state",
                "`based_on`, `costs` or `carries_out` for a device as supplied",
                "them for a modified device only",
                "Leave them out, or correct `state`",
            )
        return self
