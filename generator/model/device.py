"""A device under review: its kind, what its maker says of it, its parts."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Id, Recorded, Text, Version
from generator.model.claims import Claim, MakerNotice, StatedApproval
from generator.model.corrections import Amendment, Withdrawal
from generator.model.picture import Picture
from generator.model.quantity import Area, Duration, Energy, Mass, quantity_problem


class Fitting(StrEnum):
    """How the inlet covering meets the wearer; it decides which requirements can apply."""

    TIGHT_HALF = "tight, over mouth and nose"
    TIGHT_FULL = "tight, over the whole face"
    LOOSE = "loose"
    NONE = "not designed to seal"


class DeviceKind(StrEnum):
    """The kinds of device that a catalogue groups by."""

    FACE_COVERING = "face_covering"
    """A covering of mouth and nose that is not made as a respirator, such as one of cloth."""
    SURGICAL_MASK = "surgical_mask"
    """A medical mask; it is not designed to seal on the face."""
    FILTERING_FACEPIECE = "filtering_facepiece"
    """A half mask that is itself the filter."""
    ELASTOMERIC_HALF_FACEPIECE = "elastomeric_half_facepiece"
    """A half mask of rubber or the like with filters on it; it seals round mouth and nose."""
    ELASTOMERIC_FULL_FACEPIECE = "elastomeric_full_facepiece"
    """A mask of rubber or the like with filters on it; it seals round the whole face."""
    TIGHT_POWERED_HALF_FACEPIECE = "tight_powered_half_facepiece"
    """A blower, and a mask that seals round mouth and nose."""
    TIGHT_POWERED_FULL_FACEPIECE = "tight_powered_full_facepiece"
    """A blower, and a mask that seals round the whole face."""
    LOOSE_POWERED_FACEPIECE = "loose_powered_facepiece"
    """A blower, and a visor or the like that lies loosely round the face."""
    LOOSE_POWERED_HOOD = "loose_powered_hood"
    """A blower, and a hood or helmet over the head."""

    @property
    def powered(self) -> bool:
        """Whether a blower moves the air."""
        return "powered" in self.value

    @property
    def fitting(self) -> Fitting:
        """How it meets the wearer."""
        return _FITTING[self]

    @property
    def tight(self) -> bool:
        """Whether it has a seal on the face."""
        return self.fitting in (Fitting.TIGHT_HALF, Fitting.TIGHT_FULL)

    @property
    def slug(self) -> str:
        """Its name in addresses."""
        return self.value.replace("_", "-")

    @property
    def heading(self) -> str:
        """The heading a reader sees for this kind."""
        return _HEADING[self]


_FITTING = {
    DeviceKind.FACE_COVERING: Fitting.NONE,
    DeviceKind.SURGICAL_MASK: Fitting.NONE,
    DeviceKind.FILTERING_FACEPIECE: Fitting.TIGHT_HALF,
    DeviceKind.ELASTOMERIC_HALF_FACEPIECE: Fitting.TIGHT_HALF,
    DeviceKind.ELASTOMERIC_FULL_FACEPIECE: Fitting.TIGHT_FULL,
    DeviceKind.TIGHT_POWERED_HALF_FACEPIECE: Fitting.TIGHT_HALF,
    DeviceKind.TIGHT_POWERED_FULL_FACEPIECE: Fitting.TIGHT_FULL,
    DeviceKind.LOOSE_POWERED_FACEPIECE: Fitting.LOOSE,
    DeviceKind.LOOSE_POWERED_HOOD: Fitting.LOOSE,
}
_HEADING = {
    DeviceKind.FACE_COVERING: "Face coverings",
    DeviceKind.SURGICAL_MASK: "Surgical masks",
    DeviceKind.FILTERING_FACEPIECE: "Filtering facepieces",
    DeviceKind.ELASTOMERIC_HALF_FACEPIECE: "Elastomeric half facepieces",
    DeviceKind.ELASTOMERIC_FULL_FACEPIECE: "Elastomeric full facepieces",
    DeviceKind.TIGHT_POWERED_HALF_FACEPIECE: "Tight-fitting powered, half facepiece",
    DeviceKind.TIGHT_POWERED_FULL_FACEPIECE: "Tight-fitting powered, full facepiece",
    DeviceKind.LOOSE_POWERED_FACEPIECE: "Loose-fitting powered, facepiece",
    DeviceKind.LOOSE_POWERED_HOOD: "Loose-fitting powered, hood or helmet",
}


class Filter(Frozen):
    """The filter as its maker describes it."""

    stated_class: Recorded[Text]
    """The class that the maker states, such as `P100`."""
    media_area: Recorded[Area]
    """The unfolded area of the filter medium, all filters together."""
    count: Annotated[int, Field(ge=1, le=12, examples=[1, 2])]
    """How many filters are in use at once."""


class Power(Frozen):
    """What drives the blower, and the blower settings that a test can name."""

    source: Text
    """What the blower runs on, such as `lithium-ion pack, 14.4 V`."""
    energy: Recorded[Energy]
    """The energy that a full battery holds."""
    settings: Annotated[tuple[Text, ...], Field(min_length=1)]
    """The blower settings by their names on the device; sessions and runs refer to them. `off` is not one of them."""
    protective_settings: tuple[Text, ...] = ()
    """The settings at which its maker says that it protects; without them, every one."""


Price = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]{1,6}(\.[0-9]{2})? [A-Z]{3}$"),
    Field(examples=["129.00 EUR", "85 CHF"]),
]
"""An amount and its currency code."""


class Consumable(Frozen):
    """A part that is used up."""

    item: Text
    """What it is."""
    price: Recorded[Price]
    """What one of it costs."""
    lasts: Recorded[Duration]
    """How long it lasts by the maker's statement."""


class Opening(Frozen):
    """One way for air into or out of the device."""

    where: Text
    """Where it is."""
    filtered: bool
    """Whether the air goes through a filter there."""


class PoweredExhaust(Frozen):
    """A fan that draws air out of the device."""

    where: Text
    """Where it is."""
    beside_inlet: bool
    """Whether it is so near an inlet that the two draw on the same air."""


class AirPath(Frozen):
    """How air gets in, round and out."""

    inlets: Annotated[tuple[Opening, ...], Field(min_length=1)]
    """Every way in for air."""
    outlets: tuple[Opening, ...]
    """Every way out for air."""
    powered_exhaust: PoweredExhaust | None = None
    """A fan that draws air out, where there is one."""
    seals: Text
    """What seals against the face, head or neck."""
    alarms: tuple[Text, ...] = ()
    """Alarms for low flow, low battery and the like."""
    low_flow_alarm: bool | None = None
    """Whether one of them tells of low flow; leave it out where that is not known."""


class Device(Frozen):
    """records/devices/<id>.yaml"""

    id: Id
    """The file name without its ending."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    name: Text
    """The name that readers see."""
    maker: Text
    """Who made it."""
    kind: DeviceKind
    """What kind of device it is; requirements are bound to kinds."""
    home_built: bool
    """Whether it was built at home; requirements are then benchmarks only."""
    breath_responsive: bool
    """Whether the blower follows the wearer's breath."""
    summary: Text
    """One or two sentences for the reader."""
    claims: tuple[Claim, ...] = ()
    """What the maker says of it."""
    approvals_stated: tuple[StatedApproval, ...] = ()
    """Approvals that the maker states. They are repeated, never confirmed."""
    filter: Recorded[Filter]
    """The filter as its maker describes it."""
    power: Power | None = None
    """What drives the blower; for powered kinds only."""
    price: Recorded[Price]
    """What the device costs."""
    consumables: tuple[Consumable, ...] = ()
    """Parts that are used up."""
    mass: Recorded[Mass]
    """What the wearer carries."""
    air_path: AirPath
    """How air gets in, round and out."""
    pictures: tuple[Picture, ...] = ()
    """Pictures of the device."""
    correspondence: tuple[MakerNotice, ...] = ()
    """Letters to the maker and what came back, oldest first."""
    amendments: tuple[Amendment, ...] = ()
    """Changes to this file since it was first published, oldest first."""
    withdrawn: Withdrawal | None = None
    """Where the device was taken out of the catalogue; its pages stay and say so."""

    @model_validator(mode="after")
    def _power_fits_kind(self) -> Device:
        if self.kind.powered and self.power is None:
            raise quantity_problem(
                "power-missing",
                "no `power`",
                f"`power` for a device of kind `{self.kind.value}`",
                "Add `power` with its source and settings, or correct `kind`",
            )
        if not self.kind.powered and self.power is not None:
            raise quantity_problem(
                "power-not-expected",
                "`power`",
                f"none for a device of kind `{self.kind.value}`",
                "Remove `power`, or correct `kind`",
            )
        if not self.kind.powered and self.breath_responsive:
            raise quantity_problem(
                "breath-responsive-without-blower",
                "`breath_responsive: true`",
                f"`false` for a device of kind `{self.kind.value}`, which has no blower",
                "Set it to `false`, or correct `kind`",
            )
        return self
