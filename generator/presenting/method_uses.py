"""Which figures and verdicts of the catalogue rest on a method, so that its page can lead back to them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, field

from pydantic import BaseModel

from generator.model.catalogue_result import CatalogueResult, DeviceResult
from generator.model.comparison_result import ComparedDevice
from generator.model.instrument_result import ControlLimits, MeanOfReadings
from generator.model.meaning_result import OffTime
from generator.model.result import Figure, RecordResult, TopicResult, Verdict, Working
from generator.presenting.views import Link
from generator.presenting.wording import count_text

_RULES = {"guarded": "guarded-verdict", "plain": "plain-verdict"}
_MOST_LINKS = 3

Named = tuple[int, str]
"""How often a method stands behind something in a part of a result, and the name of the first figure of it."""


@dataclass
class Uses:
    """How often a method stands behind something, and places where it does; of one page no more than one."""

    count: int = 0
    links: dict[str, Link] = field(default_factory=dict)

    def add(self, link: Link) -> None:
        """Count one more."""
        self.count += 1
        if len(self.links) < _MOST_LINKS:
            self.links.setdefault(link.href.partition("#")[0], link)

    def take(self, other: Uses) -> None:
        """Count those of another part of the catalogue too."""
        self.count += other.count
        for page, link in other.links.items():
            if len(self.links) < _MOST_LINKS:
                self.links.setdefault(page, link)


def rule_of(verdict: Verdict) -> str | None:
    """Return the method by which a verdict was reached, or None where nothing was compared."""
    return _RULES.get(verdict.rule or "")


def method_uses(result: CatalogueResult) -> dict[str, Uses]:
    """Return the uses of each method that is used, by its id, in the order of the results."""
    return together(
        (
            *(uses_in_record(record) for record in result.records.values()),
            *(uses_in_device(device, result.records) for device in result.devices.values()),
            uses_beside(result),
        )
    )


def together(parts: Iterable[Mapping[str, Uses]]) -> dict[str, Uses]:
    """Return the uses of each method from those in parts of the catalogue, in their order."""
    uses: dict[str, Uses] = defaultdict(Uses)
    for part in parts:
        for method, found in part.items():
            uses[method].take(found)
    return uses


def uses_in_record(record: RecordResult) -> dict[str, Uses]:
    """Return the uses of each method in one record's result, which has its workings."""
    uses: dict[str, Uses] = defaultdict(Uses)
    for topic in record.topics.values():
        for figure in topic.figures:
            at = f"#working.{figure.key}" if figure.working is not None else ""
            _add(uses, _methods_of(figure), Link(f"{figure.name}, {record.record}", _record(record.record, at)))
        for verdict in topic.verdicts:
            link = Link(f"a verdict, {record.record}", _record(record.record, f"#{verdict.key}"))
            _add(uses, _methods_of_verdict(verdict), link)
    return uses


def uses_in_device(device: DeviceResult, records: Mapping[str, RecordResult]) -> dict[str, Uses]:
    """Return the uses of each method in what a device has beside the figures of its records.

    The device's result has its workings; of the records' results, by id, the keys of their figures are enough.
    """
    uses: dict[str, Uses] = defaultdict(Uses)
    topics = (topic for name in device.records for topic in records[name].topics.values())
    known = {figure.key for topic in topics for figure in topic.figures}
    _add_named(uses, _named(device, known), device.device, f"devices/{device.device}.html")
    return uses


def uses_in_compared(device: ComparedDevice) -> dict[str, Named]:
    """Return the uses of each method in what comparisons show of a device; its figures have their workings."""
    return _named(device, frozenset())


def uses_beside(result: CatalogueResult, compared: Mapping[str, Mapping[str, Named]] | None = None) -> dict[str, Uses]:
    """Return the uses of each method in comparisons and instruments.

    What comparisons show of a device is taken from `compared`, by the device's id, where it is given: then the
    comparisons need no workings but those of their differences.
    """
    uses: dict[str, Uses] = defaultdict(Uses)
    for name, comparison in result.comparisons.items():
        page = f"comparisons/{name}.html"
        for device in comparison.devices.values():
            found = uses_in_compared(device) if compared is None else compared[device.device]
            _add_named(uses, found, name, page)
        _add_named(uses, _named(comparison.differences, frozenset()), name, page)
    for name, instrument in result.instruments.items():
        _add_named(uses, _named(instrument, frozenset()), name, f"instruments/{name}.html")
    return uses


def used_text(uses: Uses | None) -> str:
    """Say how often a method stands behind something in this catalogue."""
    if uses is None:
        return "No figure of this catalogue names this method in its working."
    counted = count_text(uses.count, "figure or verdict", "figures and verdicts")
    return f"It stands behind {counted} of this catalogue, for example:"


def _record(record: str, fragment: str) -> str:
    return f"records/{record}.html{fragment}"


def _add(uses: dict[str, Uses], methods: set[str], link: Link) -> None:
    for method in methods:
        uses[method].add(link)


def _add_named(uses: dict[str, Uses], found: Mapping[str, Named], name: str, page: str) -> None:
    for method, (count, figure) in found.items():
        uses[method].take(Uses(count, {page: Link(f"{figure}, {name}" if figure else name, page)}))


def _named(part: object, known: Set[str]) -> dict[str, Named]:
    """Return the uses of each method in a part of a result, but for the figures whose keys are known."""
    found: dict[str, Named] = {}
    for item in _parts(part, set()):
        if isinstance(item, Figure) and item.key in known:
            continue
        methods, name = _methods_and_name(item)
        for method in methods:
            count, first = found.get(method, (0, name))
            found[method] = count + 1, first
    return found


def _methods_and_name(item: BaseModel) -> tuple[set[str], str]:
    if isinstance(item, Figure):
        return _methods_of(item), item.name
    if isinstance(item, Working):
        return set(_methods_in(item)), ""
    return ({item.method} if isinstance(item, OffTime | ControlLimits | MeanOfReadings) else set()), ""


def _parts(part: object, seen: set[int]) -> Iterator[BaseModel]:
    """Give the models that a result is made of; what belongs to a record is not gone into."""
    if isinstance(part, tuple):
        for item in part:
            yield from _parts(item, seen)
    elif isinstance(part, dict):
        for item in part.values():
            yield from _parts(item, seen)
    elif isinstance(part, BaseModel) and not isinstance(part, TopicResult) and id(part) not in seen:
        seen.add(id(part))
        yield part
        if not isinstance(part, Figure | Working):
            yield from _parts(tuple(part.__dict__.values()), seen)


def _methods_of(figure: Figure) -> set[str]:
    methods = {figure.method}
    if figure.working is not None:
        methods |= set(_methods_in(figure.working))
    if figure.interval is not None:
        methods.add(figure.interval.method)
        if figure.interval.working is not None:
            methods |= set(_methods_in(figure.interval.working))
    return methods


def _methods_in(working: Working) -> Iterator[str]:
    yield working.method
    for item in working.inputs:
        if item.working is not None:
            yield from _methods_in(item.working)


def _methods_of_verdict(verdict: Verdict) -> set[str]:
    methods = {rule_of(verdict)} if rule_of(verdict) is not None else set()
    if verdict.probability_of_conformity is not None:
        methods.add("probability-of-conformity")
    if verdict.ratio is not None:
        methods.add("ratio-to-requirement")
    return {method for method in methods if method is not None}
