"""A test before it is done: what is known of it, for the draft of its record and for its worksheet."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from generator.model.configuration import State
from generator.model.device import DeviceKind
from generator.model.flow_run import BatteryState, FilterState
from generator.model.instrument import InstrumentKind


class ReadingsForm(StrEnum):
    """What is written down of each exercise; the protocol and the counter decide what can be."""

    COUNTS = "counts"
    CONCENTRATIONS = "concentrations"
    FACTORS = "factors"
    LOG = "log"


@dataclass(frozen=True)
class PlannedSession:
    """One wearer, one donning, one state of the blower."""

    id: str
    wearer: str
    donning: int
    protocol: str
    blower: str | None = None
    """`off` or a setting; None for a device without a blower."""


@dataclass(frozen=True)
class PlannedRun:
    """The air delivered in one state."""

    id: str
    setting: str
    battery: BatteryState
    filter: FilterState


@dataclass(frozen=True)
class PlannedInstrument:
    """What will be measured with. Only one that has no record yet needs its kind told."""

    id: str
    kind: InstrumentKind


@dataclass(frozen=True, kw_only=True)
class PlannedTest:
    """One device, one configuration, one tester, one day that is still to come."""

    record: str
    """The id that its record will have."""
    device: str
    kind: DeviceKind
    settings: tuple[str, ...] = ()
    """The device's blower settings; none for a device without a blower."""
    state: State = State.AS_SUPPLIED
    tester: str
    readings: ReadingsForm = ReadingsForm.CONCENTRATIONS
    sessions: tuple[PlannedSession, ...] = ()
    runs: tuple[PlannedRun, ...] = ()
    particle_counter: PlannedInstrument | None = None
    flow_meter: PlannedInstrument | None = None

    @property
    def wearers(self) -> tuple[str, ...]:
        """Return the wearers, each once, in the order of their sessions."""
        return tuple(dict.fromkeys(session.wearer for session in self.sessions))

    @property
    def protocols(self) -> tuple[str, ...]:
        """Return the protocols, each once, in the order of their sessions."""
        return tuple(dict.fromkeys(session.protocol for session in self.sessions))
