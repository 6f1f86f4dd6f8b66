"""The configurations of a device as a lineage, each modified one beside the one it was made from."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen, Recorded
from generator.model.configuration import ChangeCosts, State
from generator.model.difference_result import FactorDifference
from generator.model.fit_result import Basis
from generator.model.quantity import Mass
from generator.model.result import Figure


class Side(StrEnum):
    """On which side of a change something was measured."""

    BEFORE = "before"
    AFTER = "after"


class SideSession(Frozen):
    """One session that counts, on one side of a change."""

    side: Side
    record: str
    session: str
    wearer: str
    donning: int
    overall: Figure


class SideBySideFit(Frozen):
    """Sessions before and after by the same protocol, blower state and kind of counter, and what they differ by.

    They are of the wearers of both sides; where other wearers are compared, of all.
    """

    protocol: str
    blower: str | None
    counter: str | None
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factors stand for."""
    sessions: tuple[SideSession, ...]
    one_side_only: tuple[str, ...]
    """Wearers with sessions on one side only who are not shown."""
    difference: FactorDifference
    """The factors after the change, as the first, against those before it."""


class SideRun(Frozen):
    """One flow run on one side of a change."""

    side: Side
    record: str
    run: str
    mean: Figure


class SideBySideFlow(Frozen):
    """The runs before and after at one setting, battery and filter state; one side may have none."""

    setting: str
    battery: str
    filter: str
    runs: tuple[SideRun, ...]


class ConfigurationResult(Frozen):
    """One configuration of a device, from its standing records."""

    key: str
    """Its name, else `as_supplied`, else what the record says of it."""
    name: str | None
    state: State
    description: str
    """As the first record has it."""
    based_on: str | None
    """The key of the configuration that was changed; None where it is as supplied, or no standing record has it."""
    changes: tuple[str, ...]
    costs: ChangeCosts | None
    mass_before: Recorded[Mass] | None
    """What the wearer carried before the change; None for a device as supplied."""
    records: tuple[str, ...]
    fit: tuple[SideBySideFit, ...]
    flow: tuple[SideBySideFlow, ...]
