"""What an hour with a device costs, from the prices on its record and the use that a test record names."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.base import NotRecorded
from generator.model.burden import Use
from generator.model.burden_result import CostResult
from generator.model.device import Consumable, Device
from generator.model.result import Figure, Input, Relation, Working
from generator.scoring.running_cost import cost_of_an_hour

NO_INTERVAL = "prices are those of the record; how they differ between shops and days is not estimated"
NO_PRICE = "no price is on record"


@dataclass(frozen=True)
class _Part:
    """A part that is used up, with what is known of it."""

    item: Consumable
    place: int
    amount: float
    hours: float


def cost_result(device: Device, use: Use | None) -> CostResult | None:
    """Return what an hour of a use costs, or None where no use is named."""
    if use is None:
        return None
    price = None if isinstance(device.price, NotRecorded) else amount_of(device.price)
    parts = _known_parts(device)
    not_counted = tuple(
        (["the device"] if price is None else [])
        + [item.item for place, item in enumerate(device.consumables) if place not in {part.place for part in parts}]
    )
    currencies = sorted(_currencies(device, parts))
    if len(currencies) != 1:
        reason = f"prices in {len(currencies)} currencies: {', '.join(currencies)}" if currencies else NO_PRICE
        return CostResult(an_hour=_figure(None, "currency/h", len(parts), reason), not_counted=not_counted)
    hours = use.hours.to("h")
    value = cost_of_an_hour(price, hours, [part.amount for part in parts], [part.hours for part in parts])
    figure = _figure(value, f"{currencies[0]}/h", len(parts) + (price is not None), None).model_copy(
        update={
            "relation": Relation.AT_LEAST if not_counted else Relation.EQUAL,
            "working": Working(method="cost-of-an-hour", inputs=_inputs(device, price, hours, parts, currencies[0])),
        }
    )
    return CostResult(an_hour=figure, not_counted=not_counted)


def amount_of(price: str) -> float:
    """Return the number of a price such as `12.50 EUR`."""
    return float(price.split(" ")[0])


def _known_parts(device: Device) -> list[_Part]:
    return [
        _Part(item, place, amount_of(item.price), item.lasts.to("h"))
        for place, item in enumerate(device.consumables)
        if not isinstance(item.price, NotRecorded) and not isinstance(item.lasts, NotRecorded)
    ]


def _currencies(device: Device, parts: list[_Part]) -> set[str]:
    prices = [str(part.item.price) for part in parts]
    if not isinstance(device.price, NotRecorded):
        prices.append(device.price)
    return {price.split(" ")[1] for price in prices}


def _inputs(device: Device, price: float | None, hours: float, parts: list[_Part], currency: str) -> tuple[Input, ...]:
    record = f"devices/{device.id}"
    of_hours = Input(symbol="H", meaning="hours of use over its life", value=hours, unit="h", where="burden.use.hours")
    inputs = [of_hours]
    if price is not None:
        where = f"{record}: price"
        inputs = [
            Input(symbol="P", meaning="price of the device", value=price, unit=currency, where=where),
            of_hours,
        ]
    for number, part in enumerate(parts, start=1):
        where = f"{record}: consumables[{part.place}]"
        name = part.item.item
        inputs += [
            Input(symbol=f"p_{{{number}}}", meaning=f"price: {name}", value=part.amount, unit=currency, where=where),
            Input(
                symbol=f"t_{{{number}}}", meaning=f"how long it lasts: {name}", value=part.hours, unit="h", where=where
            ),
        ]
    return tuple(inputs)


def _figure(value: float | None, unit: str, prices: int, not_scored: str | None) -> Figure:
    return Figure(
        key="burden.use.an_hour",
        name="cost of an hour of use",
        value=value,
        unit=unit,
        no_interval=NO_INTERVAL if value is not None else None,
        sample_size=prices,
        sample_of="prices",
        method="cost-of-an-hour",
        not_scored=not_scored,
    )
