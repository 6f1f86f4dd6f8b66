"""A device under review: its kind, what its maker says of it, its parts."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Day, Frozen, Id, Recorded, Text, Version
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
    SURGICAL_MASK = "surgical_mask"
    FILTERING_FACEPIECE = "filtering_facepiece"
    ELASTOMERIC_HALF_FACEPIECE = "elastomeric_half_facepiece"
    ELASTOMERIC_FULL_FACEPIECE = "elastomeric_full_facepiece"
    TIGHT_POWERED_HALF_FACEPIECE = "tight_powered_half_facepiece"
    TIGHT_POWERED_FULL_FACEPIECE = "tight_powered_full_facepiece"
    LOOSE_POWERED_FACEPIECE = "loose_powered_facepiece"
    LOOSE_POWERED_HOOD = "loose_powered_hood"

    @property
    def powered(self) -> bool:
        """Whether a blower moves the air."""
        return "powered" in self.value

    @property
    def fitting(self) -> Fitting:
        """How it meets the wearer."""
        return _FITTING[self]

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


class Claim(Frozen):
    """What the maker says, in a short quotation, and where it was read."""

    quotation: Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
    where: Text
    date: Day


class StatedApproval(Frozen):
    """An approval that the maker states. The tool repeats it and never confirms it."""

    scheme: Text
    number: Recorded[Text]
    date_checked: Day
    covers: Text


class Filter(Frozen):
    """The filter as its maker describes it."""

    stated_class: Recorded[Text]
    media_area: Recorded[Area]
    count: Annotated[int, Field(ge=1, le=12)]


class Power(Frozen):
    """What drives the blower, and the blower settings that a test can name."""

    source: Text
    energy: Recorded[Energy]
    settings: Annotated[tuple[Text, ...], Field(min_length=1)]


Price = Annotated[
    str,
    StringConstraints(pattern=r"^[0-9]{1,6}(\.[0-9]{2})? [A-Z]{3}$"),
    Field(description="amount and currency code", examples=["129.00 EUR"]),
]


class Consumable(Frozen):
    """A part that is used up."""

    item: Text
    price: Recorded[Price]
    lasts: Recorded[Duration]


class Opening(Frozen):
    """One way for air into or out of the device."""

    where: Text
    filtered: bool


class PoweredExhaust(Frozen):
    """A fan that draws air out of the device."""

    where: Text
    beside_inlet: bool


class AirPath(Frozen):
    """How air gets in, round and out."""

    inlets: Annotated[tuple[Opening, ...], Field(min_length=1)]
    outlets: tuple[Opening, ...]
    powered_exhaust: PoweredExhaust | None = None
    seals: Text
    alarms: tuple[Text, ...] = ()


class Device(Frozen):
    """records/devices/<id>.yaml"""

    id: Id
    version: Version
    name: Text
    maker: Text
    kind: DeviceKind
    home_built: bool
    breath_responsive: bool
    summary: Text
    claims: tuple[Claim, ...] = ()
    approvals_stated: tuple[StatedApproval, ...] = ()
    filter: Recorded[Filter]
    power: Power | None = None
    price: Recorded[Price]
    consumables: tuple[Consumable, ...] = ()
    mass: Recorded[Mass]
    air_path: AirPath

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
