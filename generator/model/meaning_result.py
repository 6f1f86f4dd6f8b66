"""What stands beside a device's fit factors so that they can be understood, and what is never taken from them."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Day, Frozen
from generator.model.configuration import State
from generator.model.result import Figure


class NothingAssigned(StrEnum):
    """Why no assigned protection factor is shown for a device."""

    HOME_BUILT = "home_built"
    NO_APPROVAL = "no_approval"
    """Its maker states no approval, or none is on record."""
    NOT_AS_APPROVED = "not_as_approved"
    """No standing record tested it as supplied within what a stated approval covers."""
    NOT_FOR_ITS_KIND = "not_for_its_kind"
    """No body that is looked up assigns one to its kind, or to a class that a stated approval names."""


class AssignedFactor(Frozen):
    """A factor that a body assigns to devices of this kind and class. It is not made from any measurement."""

    rule: str
    """The id of the row of reference data."""
    body: str
    """Who assigns it."""
    value: float
    """The factor, without unit, as the body prints it."""
    approval: int
    """The stated approval that must hold for it: its place among those of the device, counted from 1."""
    named: bool
    """Whether that approval, as stated, names the body's scheme or class."""


class AssignedProtectionResult(Frozen):
    """What bodies assign to devices of this kind, if a stated approval holds; or why nothing is shown."""

    factors: tuple[AssignedFactor, ...]
    """In the order of the reference data; none is a figure of the device."""
    nothing: NothingAssigned | None
    """Why there is none; null where there is one."""
    not_for: tuple[str, ...]
    """Standing records that tested something else: modified, or with a part that no stated approval covers."""


class WornSession(Frozen):
    """One session that counts, of a day on which its wearer wore several devices."""

    device: str
    """The id of the device that was worn."""
    record: str
    """The id of the test record."""
    session: str
    """The session's id in the record."""
    donning: int
    """Which time this was that the wearer put that device on for that record, from 1."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    state: State
    """Whether that device was as supplied."""
    overall: Figure
    """The overall fit factor."""


class SameDay(Frozen):
    """Devices that one wearer wore on one day: same tester, same whole protocol, same particle counter."""

    wearer: str
    """The wearer's letter."""
    day: Day
    """The day of the tests."""
    tester: str
    """The tester's id."""
    protocol: str
    """The protocol's id."""
    counter: str
    """The particle counter's id."""
    own: tuple[WornSession, ...]
    """Sessions with this device."""
    others: tuple[WornSession, ...]
    """Sessions with other devices as supplied; no difference is made of them here."""


class OffTimeRow(Frozen):
    """What would be left if the device were off for a share of the time."""

    share_off: float
    """Share of the time during which it is not worn, from 0 to 1."""
    protection: float
    """Hypothetical protection over the whole time, without unit."""
    most: float | None
    """What no device could exceed with that share, however good: null where it is worn all the time."""


class OffTime(Frozen):
    """A what-if that nobody measured: the device off for a part of the time, in the same air throughout."""

    protocol: str
    """The protocol of the factor that it starts from."""
    blower: str | None
    """The blower state of that factor; null for a device without a blower."""
    record: str
    """The record that holds it."""
    overall: Figure
    """The lowest overall fit factor as supplied, from a whole protocol in which particles were counted."""
    assumed: float
    """The protection while worn that is assumed: the lower limit of that factor's interval, else the factor."""
    from_limit: bool
    """Whether it is the lower limit."""
    method: str
    """The id of the method."""
    rows: tuple[OffTimeRow, ...]
    """By the share, from none."""


class DeviceMeaning(Frozen):
    """What a reader may set beside a device's fit factors, each apart from them and from the others."""

    assigned: AssignedProtectionResult
    """What bodies assign to devices of its kind."""
    same_day: tuple[SameDay, ...]
    """Other devices that its wearers wore on the same days."""
    off_time: OffTime | None
    """What would be left if it were not worn all the time; null without a factor to start from."""
