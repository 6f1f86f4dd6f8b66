"""What stands beside a device's fit factors, in words: devices of the same day, and what off-time would leave."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_FLOOR

from generator.model.catalogue_result import DeviceResult
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.meaning_result import OffTime, OffTimeRow, SameDay, WornSession
from generator.presenting.assigned_protection import present_assigned
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import (
    decimals_for_digits,
    interval_text,
    percent_text,
    quantity_text,
    rounded,
)
from generator.presenting.meaning_views import MeaningView, OffTimeView, SameDayView
from generator.presenting.shown_values import shown_value
from generator.presenting.views import Cell, Column, Fact, Row, Table
from generator.presenting.wording import count_text, day_text, sentence_case

_SAME_DAY_COLUMNS = (
    Column("Wearer and day"),
    Column("Worn"),
    Column("Overall fit factor", numeric=True),
    Column("95 % interval", numeric=True),
)
_OFF_TIME_COLUMNS = (
    Column("Not worn for"),
    Column("Hypothetical protection over the whole time", numeric=True),
    Column("No device could exceed", numeric=True),
)
_WORKING_DAY_MIN = 480
"""Eight hours, to picture a share of the time by."""


def present_meaning(device: Device, result: DeviceResult, context: Context) -> MeaningView:
    """Return what a reader may set beside a device's fit factors."""
    meaning = result.meaning
    return MeaningView(
        same_day=_same_day(meaning.same_day, context),
        off_time=_off_time(meaning.off_time, context) if meaning.off_time is not None else None,
        assigned=present_assigned(device, meaning.assigned, context),
    )


def same_day_of_record(record: str, device: str, context: Context) -> SameDayView | None:
    """Return what the wearers of one record wore beside its device; None where only that record was scored."""
    result = context.result.devices.get(device)
    if result is None:
        return None
    days = []
    for item in result.meaning.same_day:
        own = tuple(session for session in item.own if session.record == record)
        if own:
            days.append(item.model_copy(update={"own": own}))
    return _same_day(days, context)


def _same_day(days: Iterable[SameDay], context: Context) -> SameDayView | None:
    found = tuple(days)
    if not found:
        return None
    several = len({item.protocol for item in found}) > 1
    rows = [
        _session_row(session, item, own, several, context)
        for item in found
        for own, sessions in ((True, item.own), (False, item.others))
        for session in sessions
    ]
    wearers = len({item.wearer for item in found})
    who = sentence_case(count_text(wearers, "wearer"))
    return SameDayView(
        (
            f"{who} of this device also wore another one on the same day: the same face, tester, exercises and "
            "particle counter. The factors of the other device are that wearer’s own measure for those of this one. "
            "They are of single days, and no difference is made of them here.",
        ),
        Table("same-day-table", "Overall fit factors by wearer and day", _SAME_DAY_COLUMNS, tuple(rows)),
    )


def _session_row(session: WornSession, item: SameDay, own: bool, several: bool, context: Context) -> Row:
    protocol = context.catalogue.protocols[item.protocol].title if several else None
    name = "this device" if own else context.catalogue.devices[session.device].name
    modified = "modified" if session.state is State.MODIFIED else ""
    state = (f"donning {session.donning}", modified, blower_words(session.blower))
    return Row(
        (
            Cell(
                f"{item.wearer}, {day_text(item.day)}",
                context.record_link(session.record, f"fit.{session.session}").href,
                protocol,
            ),
            Cell(name, None if own else f"devices/{session.device}.html", ", ".join(filter(None, state))),
            Cell(
                shown_value(session.record, session.overall, context),
                id=f"same-day-{session.record}-{session.overall.key}-value",
            ),
            Cell(interval_text(session.overall) or "not stated"),
        ),
        id=f"same-day-{session.record}-{session.session}",
    )


def _off_time(found: OffTime, context: Context) -> OffTimeView:
    start = shown_value(found.record, found.overall, context)
    ends = interval_text(found.overall)
    if ends is not None:
        start += f" (95 % interval {ends})"
    words = ["lowest overall fit factor as supplied", blower_words(found.blower), f"record {found.record}"]
    taken = "its lower limit" if found.from_limit else "that factor, which has no lower limit,"
    return OffTimeView(
        sentences=(
            "Nobody measured this; it is arithmetic on one measured factor. "
            f"It takes {taken} as the protection whenever the device is worn, and the air around the wearer as the "
            "same all the time, breathed as it is while the device is off.",
        ),
        facts=(
            Fact(
                "Starts from",
                start,
                context.record_link(found.record, f"working.{found.overall.key}").href,
                ", ".join(word for word in words if word),
                "off-time-from",
            ),
            Fact("Method", context.method(found.method).title, context.method_link(found.method).href),
        ),
        table=Table(
            "off-time-table",
            "Hypothetical, not measured: what is left where it is off for a part of the time, rounded down",
            _OFF_TIME_COLUMNS,
            tuple(_off_time_row(row) for row in found.rows),
        ),
    )


def _off_time_row(row: OffTimeRow) -> Row:
    identity = f"off-time-{row.share_off * 100:g}"
    share = percent_text(row.share_off) if row.share_off else "0\N{NARROW NO-BREAK SPACE}%"
    minutes = quantity_text(row.share_off * _WORKING_DAY_MIN, "min", 3) if row.share_off else "worn all the time"
    return Row(
        (
            Cell(f"{share} of the time", note=f"{minutes} of 8 hours" if row.share_off else minutes),
            Cell(_two_digits(row.protection), id=f"{identity}-protection"),
            Cell(_two_digits(row.most) if row.most is not None else "no bound", id=f"{identity}-most"),
        ),
        id=identity,
    )


def _two_digits(protection: float) -> str:
    """Write a hypothetical protection to two digits, to its weaker side."""
    return rounded(protection, decimals_for_digits(protection, 2), ROUND_FLOOR)
