"""What stands in the cells of a device beside other devices: who wore it, fit factors, flows, mass."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.base import NotRecorded
from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import ComparedDevice
from generator.model.device import Device
from generator.model.quantity import Quantity
from generator.model.result import Finding
from generator.presenting.comparison_views import SideLine
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text, value_text
from generator.presenting.figures import outcome_text
from generator.presenting.topics.fit import method_words, range_text, state_words
from generator.presenting.topics.flow import run_state
from generator.presenting.wording import count_text, listed, recorded_text

_GRAM = "g"
_METRIC = (_GRAM, "kg")


def shown_findings(device: DeviceResult, compared: ComparedDevice, context: Context) -> Iterable[Finding]:
    """Return what bears on trust in what is shown: findings about the device, and those of the records shown."""
    yield from device.all_findings
    shown = {session.record for session in compared.sessions} | {item.record for item in compared.runs}
    for record in device.records:
        if record in shown:
            yield from context.result.records[record].all_findings


def mass_text(mass: Quantity | NotRecorded) -> str:
    """Write a mass in grams, which all devices side by side share."""
    if isinstance(mass, NotRecorded):
        return recorded_text(mass)
    return quantity_text(mass.to(_GRAM), _GRAM, 4 if mass.unit in _METRIC else 3)


def recorded_in_words(mass: Quantity | NotRecorded) -> str:
    """Say in which unit a mass was recorded, where grams are not the same number with its point moved."""
    return "" if isinstance(mass, NotRecorded) or mass.unit in _METRIC else f"recorded as {recorded_text(mass)}"


def worn_lines(device: Device, compared: ComparedDevice, result: DeviceResult) -> tuple[SideLine, ...]:
    """Say who wore a device, how often, and which units of it."""
    wearers = sorted({session.wearer for session in compared.sessions})
    donnings = {(session.record, session.wearer, session.donning) for session in compared.sessions}
    letters = f" ({listed(wearers)})" if wearers else ""
    return (
        SideLine(
            f"{count_text(len(wearers), 'wearer')}{letters}",
            count_text(len(donnings), "donning"),
            f"worn-{device.id}",
        ),
        SideLine("", _units(result)),
    )


def _units(result: DeviceResult) -> str:
    """Say how many units of a device were tested, as far as that is on record."""
    evidence = result.evidence
    assert evidence is not None
    if not evidence.units:
        return "which unit was tested is not recorded" if evidence.records else "no unit tested"
    more = " and others that are not told apart" if evidence.records_without_unit else ""
    return f"{count_text(len(evidence.units), 'unit')}{more} tested"


def fit_lines(device: Device, compared: ComparedDevice, context: Context) -> tuple[SideLine, ...]:
    """Say the lowest and the highest fit factor of each group of sessions that may stand together."""
    lines = []
    for number, group in enumerate(compared.groups, start=1):
        words = (state_words(group, device), method_words(group, compared.groups, context))
        note = ", ".join(word for word in words if word)
        lines.append(SideLine(range_text(group, device, context), note, f"fit-{device.id}-{number}"))
    return tuple(lines) or (SideLine("not measured as supplied", "", f"fit-{device.id}-1"),)


def flow_lines(device: Device, compared: ComparedDevice, context: Context) -> tuple[SideLine, ...]:
    """Say what each flow run delivered, and how that stands to the requirement."""
    if not device.kind.powered:
        return (SideLine("no blower"),)
    lines = tuple(
        SideLine(
            value_text(item.run.mean, item.run.verdict.limit),
            f"{outcome_text(item.run.verdict, context)}; {run_state(item.run)}",
            f"flow-{item.record}-{item.run.run}",
        )
        for item in compared.runs
    )
    return lines or (SideLine("not measured as supplied"),)
