"""What happens to a record after it was issued: amendments, and withdrawal."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from generator.model.base import Day, Frozen, Id, Text


class EarlierFigure(Frozen):
    """A figure as it was published before an amendment."""

    figure: Annotated[str, StringConstraints(pattern=r"^[a-z_]+\.[a-z0-9_-]+\.[a-z0-9_-]+$", max_length=120)]
    """The figure's key on the record's page, such as `fit.first.overall` or `flow.high-fresh.mean`."""
    was: Text
    """What was published, with its unit and interval, such as `212 (188 to 240)`."""


class Amendment(Frozen):
    """A change to a record after it was issued."""

    date: Day
    """When the record was changed."""
    reason: Text
    """Why."""
    changed: Text
    """What was changed, from what to what."""
    earlier: tuple[EarlierFigure, ...] = ()
    """The figures that the change touched, as they were published before."""


class Withdrawal(Frozen):
    """A record or device that no longer stands. Its pages stay, and say so at the top."""

    date: Day
    """When it was withdrawn."""
    reason: Text
    """Why, in a sentence for the reader."""
    replaced_by: Id | None = None
    """The id of the record or device that stands in its place."""
