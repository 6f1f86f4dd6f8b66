"""What scoring gives for a comparison: each device as summarised, and the difference of each pair."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.difference_result import FactorDifference
from generator.model.fit_result import Basis, FitGroup
from generator.model.flow_result import FlowRunResult
from generator.model.result import Figure


class FitConditions(Frozen):
    """What two fit sessions must share before their factors are divided by one another."""

    protocol: str
    counter: str
    """Kind of particle counter: factors of different kinds are of different particles."""
    blower: str
    """`none` for a device without a blower, `off`, or `running`."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factors stand for."""


class ComparedSession(Frozen):
    """A fit session that counts: completed, of a standing record, with the device as supplied."""

    record: str
    session: str
    wearer: str
    donning: int
    conditions: FitConditions | None
    """None where the kind of counter is not on record."""
    blower: str | None
    basis: Basis = Basis.WHOLE_PROTOCOL
    as_given: bool
    """Whether the instrument gave the factor, so that what it rests on is not on record."""
    overall: Figure


class ComparedRun(Frozen):
    """A flow run of a standing record, with the device as supplied."""

    record: str
    run: FlowRunResult


class ComparedDevice(Frozen):
    """One device of a comparison. One that was withdrawn is named and has nothing."""

    device: str
    withdrawn: bool
    groups: tuple[FitGroup, ...] = ()
    """Its fit groups as supplied."""
    sessions: tuple[ComparedSession, ...] = ()
    runs: tuple[ComparedRun, ...] = ()


class Difference(FactorDifference):
    """How many times the fit factor of one device was that of another."""

    first: str
    second: str
    conditions: FitConditions | None
    """The one set of conditions that the pair is compared under."""


class ComparisonResult(Frozen):
    """Devices side by side, in their order."""

    id: str
    title: str
    question: str
    note: str | None
    of_kind: bool
    """Whether it was made for a kind of device, without asking."""
    devices: dict[str, ComparedDevice]
    differences: tuple[Difference, ...]
    no_differences: str | None = None
    """Why no pair is compared at all."""
