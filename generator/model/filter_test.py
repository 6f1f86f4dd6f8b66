"""The filter as it was measured: area, charge, penetration, loading."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.model.air import Aerosol
from generator.model.base import Frozen, Recorded, Text
from generator.model.configuration import LocalName
from generator.model.flow_run import FilterState
from generator.model.quantity import Area, Flow, Fraction, Length, Share
from generator.model.series import SeriesReference


class MediaCharge(StrEnum):
    """Whether the filter medium catches particles by its own electric charge too."""

    CHARGED = "charged"
    """It does."""
    NOT_CHARGED = "not_charged"
    """It does not."""
    NOT_KNOWN = "not_known"
    """That is not known."""


class ParticleCharge(StrEnum):
    """The electric charge of the test particles."""

    NEUTRALISED = "neutralised"
    """Brought to the charge that a neutraliser leaves."""
    AS_IN_ROOM = "as_in_room"
    """As the particles of the room have it."""
    NOT_KNOWN = "not_known"
    """Not known."""


class FilterPenetration(Frozen):
    """The share of particles that got through the filter, measured by itself."""

    id: LocalName
    """A name that is unique in the record, such as `new-85`."""
    filter: FilterState
    """The state of the filter."""
    flow: Flow
    """The flow through it, all filters together."""
    filters_at_once: Annotated[int, Field(ge=1, le=12, examples=[1, 2])]
    """How many filters the flow went through side by side."""
    aerosol: Aerosol
    """The particles."""
    diameter: Recorded[Length]
    """The diameter of the particles, or the median of their number."""
    charge: ParticleCharge
    """Their electric charge."""
    breathing: bool = False
    """Whether the flow was that of breathing, as in the fit sessions, and not a steady one."""
    penetration: Fraction
    """The share that got through."""
    uncertainty: Recorded[Share]
    """Its expanded uncertainty (95 %), as a share of the particles."""
    where: Text
    """Where and how it was measured."""
    sessions: tuple[LocalName, ...] = ()
    """Fit sessions of this record that were done with this very filter in this state and the same counter: what came in
    past the seal is worked out for these alone, and only where aerosol, sizes, charge and flow agree."""


class FilterLoading(Frozen):
    """Flow and pressure drop of the filter while it was loaded with dust, from a log."""

    id: LocalName
    """A name that is unique in the record, such as `dust`."""
    what: Text
    """With what it was loaded, and how."""
    log: SeriesReference
    """The log; it has a column of flow, of pressure, or both."""


class FilterTest(Frozen):
    """The filter as it was measured."""

    media_area: Area | None = None
    """The unfolded area of the filter medium as measured, all filters together, where it is not the maker's."""
    how: Text | None = None
    """How the area was measured."""
    media_charge: MediaCharge = MediaCharge.NOT_KNOWN
    """Whether the medium is charged."""
    penetrations: tuple[FilterPenetration, ...] = ()
    """Penetrations of the filter by itself."""
    loading: tuple[FilterLoading, ...] = ()
    """Loading over time."""
