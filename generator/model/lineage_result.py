"""The configurations of a device as a lineage, each modified one beside the one it was made from."""

from __future__ import annotations

from enum import StrEnum

from generator.model.air import Aerosol
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
    """Before or after the change."""
    record: str
    """The id of the test record."""
    session: str
    """The session's id in the record."""
    wearer: str
    """The wearer's letter."""
    donning: int
    """Which time this was that the wearer put the device on for that record, from 1."""
    overall: Figure
    """The overall fit factor."""


class SideBySideFit(Frozen):
    """Sessions before and after by the same protocol, blower state and kind of counter, and what they differ by.

    They are of the wearers of both sides; where other wearers are compared, of all.
    """

    protocol: str
    """The protocol's id."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    counter: str | None
    """Kind of particle counter; null where it is not on record."""
    aerosol: Aerosol = Aerosol.ROOM_AIR
    """The particles that were counted."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factors stand for."""
    sessions: tuple[SideSession, ...]
    """Sessions of wearers who have some on both sides."""
    one_side_only: tuple[str, ...]
    """Wearers with sessions on one side only who are not shown."""
    difference: FactorDifference
    """The factors after the change, as the first, against those before it."""


class SideRun(Frozen):
    """One flow run on one side of a change."""

    side: Side
    """Before or after the change."""
    record: str
    """The id of the test record."""
    run: str
    """The run's id in the record."""
    mean: Figure
    """The mean supply flow, in L/min."""


class SideBySideFlow(Frozen):
    """The runs before and after at one setting, battery and filter state; one side may have none."""

    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    runs: tuple[SideRun, ...]
    """The runs of both sides."""


class ConfigurationResult(Frozen):
    """One configuration of a device, from its standing records."""

    key: str
    """Its name, else `as_supplied`, else what the record says of it."""
    name: str | None
    """Its name in the records; null where it has none."""
    state: State
    """Whether it is as supplied."""
    description: str
    """As the first record has it."""
    based_on: str | None
    """The key of the configuration that was changed; None where it is as supplied, or no standing record has it."""
    changes: tuple[str, ...]
    """What was changed; empty for a device as supplied."""
    costs: ChangeCosts | None
    """What the change costs; null where no record says."""
    mass_before: Recorded[Mass] | None
    """What the wearer carried before the change; None for a device as supplied."""
    records: tuple[str, ...]
    """The ids of the standing records that tested it."""
    fit: tuple[SideBySideFit, ...]
    """Fit before and after, for each set of conditions that both sides share."""
    flow: tuple[SideBySideFlow, ...]
    """Supply flow before and after, by setting and state."""
