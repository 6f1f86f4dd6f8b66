"""What scoring gives for a comparison: each device as summarised, and the difference of each pair."""

from __future__ import annotations

from generator.model.air import Aerosol
from generator.model.base import Frozen
from generator.model.difference_result import FactorDifference
from generator.model.fit_result import Basis, FitGroup
from generator.model.flow_result import FlowRunResult
from generator.model.result import Figure


class FitConditions(Frozen):
    """What two fit sessions must share before their factors are divided by one another."""

    protocol: str
    """The protocol's id."""
    counter: str
    """Kind of particle counter: factors of different kinds are of different particles."""
    blower: str
    """`none` for a device without a blower, `off`, or `running`."""
    aerosol: Aerosol = Aerosol.ROOM_AIR
    """The particles that were counted."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factors stand for."""


class ComparedSession(Frozen):
    """A fit session that counts: completed, of a standing record, with the device as supplied."""

    record: str
    """The id of the test record."""
    session: str
    """The session's id in the record."""
    wearer: str
    """The wearer's letter."""
    donning: int
    """Which time this was that the wearer put the device on for that record, from 1."""
    conditions: FitConditions | None
    """The conditions it was measured under; None where the kind of counter is not on record."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factor stands for."""
    as_given: bool
    """Whether the instrument gave the factor, so that what it rests on is not on record."""
    overall: Figure
    """The overall fit factor."""


class ComparedRun(Frozen):
    """A flow run of a standing record, with the device as supplied."""

    record: str
    """The id of the test record."""
    run: FlowRunResult
    """The run."""


class ComparedDevice(Frozen):
    """One device of a comparison. One that was withdrawn is named and has nothing."""

    device: str
    """The id of the device."""
    withdrawn: bool
    """Whether the device was withdrawn."""
    groups: tuple[FitGroup, ...] = ()
    """Its fit groups as supplied."""
    sessions: tuple[ComparedSession, ...] = ()
    """Its fit sessions that count."""
    runs: tuple[ComparedRun, ...] = ()
    """Its flow runs."""


class Difference(FactorDifference):
    """How many times the fit factor of one device was that of another."""

    first: str
    """The id of the device whose factor is divided."""
    second: str
    """The id of the device whose factor it is divided by."""
    conditions: FitConditions | None
    """The one set of conditions that the pair is compared under."""


class ComparisonResult(Frozen):
    """Devices side by side, in their order."""

    id: str
    """The comparison's id; that of a kind begins with `kind-`."""
    title: str
    """Its title."""
    question: str
    """What it asks."""
    note: str | None
    """What its author adds; null where there is nothing."""
    of_kind: bool
    """Whether it was made for a kind of device, without asking."""
    devices: dict[str, ComparedDevice]
    """Each device, by its id."""
    differences: tuple[Difference, ...]
    """Each pair of devices."""
    no_differences: str | None = None
    """Why no pair is compared at all."""
