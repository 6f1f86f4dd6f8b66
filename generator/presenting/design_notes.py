"""How a device is made, as its file tells it: the diagram of its air path, what bears on design, facts, cost."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.device import Device, DeviceKind, Fitting, Opening
from generator.presenting.design_views import AirPathChart, CostView, DesignNotes, Way
from generator.presenting.pictures import device_pictures
from generator.presenting.views import Caution, Fact, Link, TopicSection
from generator.presenting.wording import listed, recorded_text, sentence_case

OF_DESIGN = frozenset({"exhaust-exceeds-supply", "no-low-flow-alarm", "powered-exhaust", "pressure-below-room"})
"""Caution rules that come from how a device is made."""
HOUR_TABLE = "burden-cost"
_HOUR_NOT_KNOWN = (
    "What an hour of use costs is not worked out: no record says how long the device and its parts are used."
)
_HOUR = "Prices are those on record; what an hour of use costs holds for the hours that the record names."
_CAPTION = (
    "Drawn from what is on record of the air path. It is a diagram, no picture of the device: sizes and distances in "
    "it mean nothing. A solid line is filtered air, a broken one is not."
)
_OUTLINES = {
    DeviceKind.FACE_COVERING: "mask",
    DeviceKind.SURGICAL_MASK: "mask",
    DeviceKind.FILTERING_FACEPIECE: "mask",
    DeviceKind.LOOSE_POWERED_FACEPIECE: "visor",
    DeviceKind.LOOSE_POWERED_HOOD: "hood",
}


def _outline(kind: DeviceKind) -> str:
    return _OUTLINES.get(kind, "full" if kind.fitting is Fitting.TIGHT_FULL else "half")


def _ways(openings: tuple[Opening, ...]) -> tuple[Way, ...]:
    return tuple(Way(opening.where, opening.filtered) for opening in openings)


def _openings(openings: tuple[Opening, ...]) -> str:
    if not openings:
        return "none"
    return "; ".join(f"{opening.where} ({'filtered' if opening.filtered else 'not filtered'})" for opening in openings)


def _exhaust(device: Device) -> str:
    exhaust = device.air_path.powered_exhaust
    if exhaust is None:
        return "none"
    return f"{exhaust.where}, beside an inlet" if exhaust.beside_inlet else exhaust.where


def _description(device: Device) -> str:
    path = device.air_path
    parts = [f"Air gets in: {_openings(path.inlets)}"]
    if device.kind.powered:
        parts.append("A blower moves it")
    parts.append(f"Air gets out: {_openings(path.outlets)}")
    if path.powered_exhaust is not None:
        parts.append(f"A fan draws air out: {_exhaust(device)}")
    return f"{'. '.join(parts)}. Seals: {path.seals}."


def air_path_chart(device: Device) -> AirPathChart:
    """Return the diagram of a device's air path."""
    path = device.air_path
    exhaust = path.powered_exhaust
    return AirPathChart(
        id="air-path",
        title=f"Air path of {device.name}",
        description=_description(device),
        caption=_CAPTION,
        outline=_outline(device.kind),
        blower=device.kind.powered,
        inlets=_ways(path.inlets),
        outlets=_ways(path.outlets),
        exhaust=exhaust.where if exhaust is not None else None,
        beside_inlet=exhaust is not None and exhaust.beside_inlet,
        seals=path.seals,
    )


def _air_path_facts(device: Device) -> tuple[Fact, ...]:
    path = device.air_path
    facts = [
        Fact("Air gets in", _openings(path.inlets)),
        Fact("Air gets out", _openings(path.outlets)),
        Fact("Powered exhaust", _exhaust(device)),
        Fact("Seals", path.seals),
        Fact("Alarms", listed(path.alarms) or "none"),
    ]
    if path.low_flow_alarm is not None:
        facts.append(Fact("Tells of low flow", "yes" if path.low_flow_alarm else "no"))
    return tuple(facts)


def _sentences(device: Device) -> tuple[str, ...]:
    path = device.air_path
    unfiltered = [inlet.where for inlet in path.inlets if not inlet.filtered]
    sentences = []
    if len(unfiltered) == len(path.inlets):
        sentences.append(f"By its record, no way in for air has a filter: {listed(unfiltered)}.")
    elif unfiltered:
        sentences.append(f"By its record, air also gets in past the filter: {listed(unfiltered)}.")
    if path.powered_exhaust is not None and path.powered_exhaust.beside_inlet:
        sentences.append("By its record, the exhaust is so near an inlet that the two draw on the same air.")
    return tuple(sentences)


def _facts(device: Device) -> tuple[Fact, ...]:
    facts = [Fact("Maker", device.maker), Fact("Kind", device.kind.heading)]
    if device.kind.powered:
        facts.append(Fact("Follows the breath", "yes" if device.breath_responsive else "no"))
    if device.home_built:
        facts.append(Fact("Built", "at home"))
    if isinstance(device.filter, NotRecorded):
        facts.append(Fact("Filter", recorded_text(device.filter)))
    else:
        facts.append(Fact("Filter class, as the maker states it", recorded_text(device.filter.stated_class)))
        facts.append(Fact("Filters", f"{device.filter.count}; media area {recorded_text(device.filter.media_area)}"))
    if device.power is not None:
        energy = recorded_text(device.power.energy)
        facts.append(Fact("Power", f"{device.power.source}; energy {energy}"))
        facts.append(Fact("Blower settings", listed(device.power.settings)))
    facts.append(Fact("Mass", recorded_text(device.mass)))
    return tuple(facts)


def present_design(device: Device, raised: tuple[Caution, ...]) -> DesignNotes:
    """Return how a device is made, and which of its page's cautions come from that."""
    return DesignNotes(
        chart=air_path_chart(device),
        air_path=_air_path_facts(device),
        sentences=_sentences(device),
        cautions=tuple(
            Link(caution.heading, f"devices/{device.id}.html#caution-{caution.id}")
            for caution in raised
            if caution.id in OF_DESIGN
        ),
        facts=_facts(device),
        pictures=device_pictures(device.id, device.pictures),
    )


def present_cost(device: Device, burden: TopicSection | None) -> CostView:
    """Return what a device costs; an hour of use comes from the records that say how it is used."""
    hour = next((table for table in burden.tables if table.id == HOUR_TABLE), None) if burden is not None else None
    facts = [Fact("The device", recorded_text(device.price))]
    for item in device.consumables:
        facts.append(Fact(sentence_case(item.item), f"{recorded_text(item.price)}, lasts {recorded_text(item.lasts)}"))
    return CostView(
        # The table of an hour holds the prices itself.
        facts=() if hour is not None else tuple(facts),
        sentence=_HOUR_NOT_KNOWN if hour is None else _HOUR,
        hour=hour,
    )
