"""Protection factors that a body assigns to a class of devices: reference data, never a result of a test."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from generator.model.base import Frozen, Id, Text
from generator.model.device import DeviceKind
from generator.model.reference import Source


class AssignedProtection(Frozen):
    """One row of a body's table, for approved devices of a class as supplied, worn in a complete programme."""

    id: Id
    body: Text
    """Who assigns it. Others print other numbers for the same devices."""
    kinds: Annotated[tuple[DeviceKind, ...], Field(min_length=1)]
    """The kinds of device that it is for."""
    named_as: Annotated[tuple[Text, ...], Field(min_length=1)]
    """What an approval that it is for calls its scheme or class; any one of these."""
    must_be_named: bool
    """Whether it may be shown only where a stated approval names one of them."""
    value: Annotated[float, Field(ge=1)]
    holds_for: Text
    """The class of devices, in the body's terms."""
    needs: Text | None = None
    """What else must hold, as the end of a sentence that begins with `only if`."""
    source: Source
