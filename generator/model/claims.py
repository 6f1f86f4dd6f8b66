"""What a maker says of a device: claims, approvals, and letters between maker and publisher."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Text
from generator.model.quantity import Duration, Flow, quantity_problem


class TestableClaim(Frozen):
    """What of a claim can be held against a measurement: a least value of one quantity."""

    __test__ = False  # not a test class, whatever its name suggests to a test runner

    supply_flow_at_least: Flow | None = None
    """The least air flow that is claimed."""
    fit_factor_at_least: Annotated[float, Field(gt=1, le=1e9)] | None = None
    """In its place: the least overall fit factor that is claimed for a wearer."""
    run_time_at_least: Duration | None = None
    """In its place: the least time that is claimed on one charge."""
    setting: Text | None = None
    """The blower setting that the claim is about; without it, every setting."""

    @model_validator(mode="after")
    def _one_quantity(self) -> TestableClaim:
        quantities = ("supply_flow_at_least", "fit_factor_at_least", "run_time_at_least")
        given = [name for name in quantities if getattr(self, name) is not None]
        if len(given) != 1:
            raise quantity_problem(
                "one-quantity-each",
                " and ".join(f"`{name}`" for name in given) or "no quantity",
                f"exactly one of {', '.join(f'`{name}`' for name in quantities)}",
                "Make a claim of its own for each quantity; leave `means` out where nothing here can measure it",
            )
        return self


class Claim(Frozen):
    """What the maker says, in a short quotation, and where it was read."""

    quotation: Annotated[str, StringConstraints(min_length=1, max_length=200, strip_whitespace=True)]
    """The maker's own words, at most 200 characters."""
    where: Text
    """Where they were read, such as `leaflet in the box, page 3`."""
    date: Day
    """When they were read."""
    means: TestableClaim | None = None
    """What of it can be held against a measurement; without it the claim counts as not tested."""


class ApprovedAssembly(Frozen):
    """The parts that a stated approval covers. A list that is left out is not looked at."""

    power_sources: tuple[Text, ...] = ()
    """The batteries and supplies that it names."""
    filters: tuple[Text, ...] = ()
    """The filters that it names."""
    parts: tuple[Text, ...] = ()
    """Hoses, hoods, harnesses and the like that it names."""


class StatedApproval(Frozen):
    """An approval that the maker states. The tool repeats it and never confirms it."""

    scheme: Text
    """The scheme or standard that the maker names."""
    number: Recorded[Text]
    """The approval number that the maker states."""
    date_checked: Day
    """When the statement was read."""
    covers: Text
    """What the approval covers by the maker's statement."""
    assembly: ApprovedAssembly | None = None
    """The same part by part, in the words that test records use for what was fitted."""


class MakerReply(Frozen):
    """What the maker answered. It is published in full."""

    received: Day
    """When it came."""
    text: LongText
    """The reply, in Markdown."""


class MakerNotice(Frozen):
    """A letter to the maker about results, before or after they were published."""

    sent: Day
    """When it was sent."""
    records: Annotated[tuple[Id, ...], Field(min_length=1)]
    """The test records that it was about."""
    reply_by: Day
    """The day until which a reply was asked for."""
    reply: MakerReply | None = None
    """The reply, where one came."""
    changed: Text | None = None
    """What was changed because of it; without it, nothing."""

    @model_validator(mode="after")
    def _in_order(self) -> MakerNotice:
        if self.reply_by < self.sent or (self.reply is not None and self.reply.received < self.sent):
            raise quantity_problem(
                "dates-out-of-order",
                f"sent {self.sent}, reply asked for by {self.reply_by}"
                + (f", received {self.reply.received}" if self.reply else ""),
                "the notice on or before the reply and the day asked for",
                "Correct the date that is wrong",
            )
        return self
