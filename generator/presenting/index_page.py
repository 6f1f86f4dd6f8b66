"""The catalogue's first page: one table of all devices, grouped by kind.

A script may order, filter and search the rows. What it goes by is made here, from the unrounded results: for each
column the place of a row among all rows, and for each filter the value of a row. A row without a figure has no place
in that column, and stands last whichever way the column is ordered.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from generator.model.base import NotRecorded
from generator.model.catalogue_result import DeviceResult
from generator.model.device import Device, DeviceKind
from generator.model.flow_result import FlowSummary
from generator.model.result import Outcome
from generator.presenting.catalogue_paper import CATALOGUE_PDF
from generator.presenting.cautions import cautions_for
from generator.presenting.comparisons import COMPARING, comparison_links
from generator.presenting.context import Context
from generator.presenting.device_page import all_findings, sheet_link, topic_results
from generator.presenting.fit_sessions import landmarks
from generator.presenting.flow_standing import partly_measured
from generator.presenting.index_views import Choice, IndexColumn, IndexFilters, IndexGroup, IndexPage, IndexRow
from generator.presenting.letterhead import page_head
from generator.presenting.linked_data import describe_catalogue
from generator.presenting.registry import indexed_topics
from generator.presenting.standing import withdrawn_text
from generator.presenting.views import Cautions, IndexCell, Link, ScaleChart
from generator.presenting.wording import count_text, sentence_case

OrderKey = tuple[float | str, ...]
"""What a row is ordered by in a column; rows with equal keys stand together."""

_SUPPLY = {
    "meets": "meets the requirement, every state measured",
    "meets-in-part": "meets, not every state measured",
    "does-not-meet": "does not meet the requirement",
    "undecided": "undecided",
    "benchmark": "home-built: held against a benchmark only",
    "not-compared": "not held against a requirement",
    "not-measured": "not measured",
    "no-blower": "no blower",
}
"""How an air supply can stand to its requirement, by its name in addresses."""
_BY_KIND = "Grouped by kind of device, in each by name."
_BY_PRICE = "by price, one currency after another, since nothing is converted"
_BY_EVIDENCE = "by how many people wore it, then by how often they put it on"
_BY_CAUTIONS = "by the gravest caution that was raised, then by how many were"
_LOWEST = ("lowest first", "highest first")


def present_index(context: Context, cells: Mapping[str, tuple[IndexCell, ...]] | None = None) -> IndexPage:
    """Return the first page, with a row for each device.

    `cells` is what `index_cells` gives for each device, by id; it is found here where it is not given.
    """
    catalogue = context.catalogue
    publication = catalogue.publication
    columns = _columns()
    if cells is None:
        cells = {name: index_cells(device, context) for name, device in catalogue.devices.items()}
    raised = {
        device: cautions_for(all_findings(result, context), context)
        for device, result in context.result.devices.items()
    }
    keys = {
        device.id: _order_keys(device, cells[device.id], raised[device.id], context)
        for device in catalogue.devices.values()
    }
    places = {
        column.key: _places({device: found.get(column.key) for device, found in keys.items()}) for column in columns
    }
    groups = []
    for kind in DeviceKind:
        devices = sorted(
            (device for device in catalogue.devices.values() if device.kind is kind), key=lambda device: device.name
        )
        if devices:
            rows = tuple(
                _row(
                    device,
                    cells[device.id],
                    raised[device.id],
                    {column: of[device.id] for column, of in places.items() if device.id in of},
                    context,
                )
                for device in devices
            )
            groups.append(IndexGroup(kind.heading, kind.slug, kind.powered, rows))
    return IndexPage(
        head=page_head(
            "index.html",
            publication.title,
            publication.subtitle,
            linked_data=describe_catalogue(context),
            records=context.state,
        ),
        question="How much air does it deliver, how much cleaner is the air inside, and how sure is that?",
        promise="Every figure leads to the record it comes from, the equation and the source.",
        scale=_key_scale(context),
        columns=columns,
        by_kind=_BY_KIND,
        filters=_filters(groups, context),
        groups=tuple(groups),
        counts=_counts(context),
        cautions=cautions_for((), context),
        catalogue_pdf=CATALOGUE_PDF,
        choose=COMPARING,
        comparisons=comparison_links(context),
    )


def _columns() -> tuple[IndexColumn, ...]:
    figures = [(name, topic.INDEX_HEADING, topic.INDEX_ORDER) for name, topic in indexed_topics().items()]
    return (
        _column("name", "Device", "by name", ("from A to Z", "from Z to A"), missing=False),
        *(_column(*named, _LOWEST, missing=True) for named in figures),
        _column("price", "Price", _BY_PRICE, _LOWEST, missing=True),
        _column("evidence", "Evidence", _BY_EVIDENCE, ("fewest first", "most first"), missing=False),
        _column("cautions", "Cautions", _BY_CAUTIONS, ("least grave first", "gravest first"), missing=False),
    )


def _column(key: str, heading: str, order: str, directions: tuple[str, str], *, missing: bool) -> IndexColumn:
    last = " A device without one stands last." if missing else ""
    ordered, in_reverse = (f"Ordered {order}; {direction}.{last}" for direction in directions)
    return IndexColumn(key, heading, ordered, in_reverse)


def _key_scale(context: Context) -> ScaleChart:
    return ScaleChart(
        id="key-scale",
        kind="fit",
        title="The fit factor scale that every page uses",
        description=(
            "A logarithmic rule from 1 to 100 000. A fit factor of 100 means that the counter saw one hundredth of "
            "the outside particles inside."
        ),
        rows=(),
        landmarks=landmarks(context, []),
    )


def _counts(context: Context) -> str:
    catalogue = context.catalogue
    withdrawn = sum(test.withdrawn is not None for test in catalogue.device_tests.values())
    of_them = f" ({count_text(withdrawn, 'of them', 'of them')} withdrawn)" if withdrawn else ""
    return (
        f"{sentence_case(count_text(len(catalogue.devices), 'device'))}, "
        f"{count_text(len(catalogue.device_tests), 'test record')}{of_them}, "
        f"{count_text(len(catalogue.wearers), 'wearer')}."
    )


def _filters(groups: Sequence[IndexGroup], context: Context) -> IndexFilters:
    devices = context.catalogue.devices.values()
    supply = {_supply(device, context) for device in devices}
    currencies = {price[1] for device in devices if (price := _price(device)) is not None}
    return IndexFilters(
        kinds=tuple(Choice(group.anchor, group.heading) for group in groups),
        supply=tuple(Choice(value, text) for value, text in _SUPPLY.items() if value in supply),
        currencies=tuple(Choice(currency, currency) for currency in sorted(currencies)),
    )


def index_cells(device: Device, context: Context) -> tuple[IndexCell, ...]:
    """Return what each topic shows of a device in its row."""
    result = context.result.devices[device.id]
    return tuple(
        topic.present_in_index(device, result.topics.get(name), topic_results(result, name, context), context)
        for name, topic in indexed_topics().items()
    )


def _order_keys(
    device: Device, cells: Iterable[IndexCell], raised: Cautions, context: Context
) -> Mapping[str, OrderKey]:
    """Return by what a device is ordered in each column; a column in which it has no figure is not there."""
    evidence, price = context.result.devices[device.id].evidence, _price(device)
    keys: dict[str, OrderKey] = {"name": (device.name.casefold(), device.name)}
    keys |= {cell.topic: (cell.order,) for cell in cells if cell.order is not None}
    if price is not None:
        amount, currency = price
        keys["price"] = (currency, float(amount))
    keys["evidence"] = (len(evidence.wearers), evidence.donnings) if evidence is not None else (0, 0)
    found = raised.raised
    # The gravest has the lowest severity: a device without any stands before all others.
    keys["cautions"] = (-min(caution.severity for caution in found), len(found)) if found else (float("-inf"), 0)
    return keys


def _places(keys: Mapping[str, OrderKey | None]) -> Mapping[str, int]:
    """Return the place of each row in one column, from 0; equal keys have one place, a row without key has none."""
    order = sorted({key for key in keys.values() if key is not None})
    place = {key: number for number, key in enumerate(order)}
    return {row: place[key] for row, key in keys.items() if key is not None}


def _price(device: Device) -> tuple[str, str] | None:
    """Return amount and currency, or None where no price is on record."""
    if isinstance(device.price, NotRecorded):
        return None
    amount, currency = device.price.split(" ")
    return amount, currency


def _supply(device: Device, context: Context) -> str:
    """Name how a device's air supply stands to its requirement."""
    if not device.kind.powered:
        return "no-blower"
    summary = context.result.devices[device.id].topics.get("flow")
    if not isinstance(summary, FlowSummary) or summary.governing is None:
        return "not-measured"
    verdict = summary.governing.verdict
    if verdict.outcome is Outcome.NOT_APPLICABLE:
        return "not-compared"
    if verdict.benchmark_only:
        return "benchmark"
    if verdict.outcome is Outcome.MEETS and partly_measured(summary.states) is not None:
        return "meets-in-part"
    return verdict.outcome.value.replace("_", "-")


def _row(
    device: Device, cells: tuple[IndexCell, ...], raised: Cautions, places: Mapping[str, int], context: Context
) -> IndexRow:
    result, price = context.result.devices[device.id], _price(device)
    wearers = len(result.evidence.wearers) if result.evidence is not None else 0
    data = {"device": device.id, "supply": _supply(device, context), "wearers": str(wearers)}
    if price is not None:
        data["amount"], data["currency"] = price
    data |= {f"by-{column}": str(place) for column, place in places.items()}
    return IndexRow(
        id=device.id,
        link=Link(device.name, f"devices/{device.id}.html"),
        maker=device.maker,
        cells=cells,
        price="not recorded" if isinstance(device.price, NotRecorded) else device.price,
        evidence=count_text(wearers, "wearer"),
        donnings=_donnings_words(result),
        records=_records_words(result),
        caution=raised.open[0].heading if raised.open else None,
        cautions=count_text(len(raised.raised), "caution"),
        sheet=sheet_link(device),
        data=tuple(data.items()),
        withdrawn=withdrawn_text(device.withdrawn) if device.withdrawn is not None else None,
    )


def _donnings_words(result: DeviceResult) -> str:
    evidence = result.evidence
    attempts = evidence.completed + evidence.aborted + evidence.voided if evidence is not None else 0
    if evidence is None or not attempts:
        return ""
    return f"{count_text(evidence.donnings, 'donning')} in {count_text(attempts, 'attempt')}"


def _records_words(result: DeviceResult) -> str:
    words = count_text(len(result.records), "record")
    withdrawn = len(result.withdrawn_records)
    return f"{words} and {count_text(withdrawn, 'withdrawn one')}" if withdrawn else words
