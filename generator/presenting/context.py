"""What presenting needs to look up while it words results: letters, links, titles."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from generator.model.base import Day
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.model.reference import Method
from generator.model.result import Figure, Finding
from generator.model.session import BLOWER_OFF
from generator.presenting.history import History, history_of
from generator.presenting.views import Link
from generator.presenting.wording import shortened, source_text
from generator.scoring.registry import topic_names

_FIGURE = re.compile(rf": ((?:{'|'.join(topic_names())})\.[a-z0-9_.-]+)$")
_OVER_WEARERS = re.compile(r"(devices/[a-z0-9_-]+): (wearers\.[a-z0-9_.-]+)$")
_CRITERION = re.compile(r"reference/criteria: ([a-z0-9-]+)$")
_OF_DEVICE = re.compile(r"(devices/[a-z0-9-]+): ")
# Anchored and taken without going back (possessive), so that a long text that is none of these is told at once.
_IN_RECORD = re.compile(r"^(?:[a-z_]++\.)?([a-z_]++)\[([a-z0-9_-]+)\]")
_WORK_LEVELS = "reference/work_levels.yaml: "
_SHOWN_BY = {
    "fit": "fit",
    "flow": "flow",
    "exhaust": "air_balance.exhaust",
    "pressure_traces": "air_balance.trace",
    "inhaled_gas": "gas.inhaled",
    "carbon_dioxide_generation": "gas.level",
    "blower_curves": "blower",
    "run_downs": "run_time",
    "noise": "burden",
    "speech": "burden",
    "loading": "filter-loading",
    "penetrations": "filter-penetrations",
    "pressure_drops": "filter-drops",
}
"""Parts of a record whose items have an element on its page, `<topic>.<item>`, and the topic that shows them."""
_SHOWN_AT = {"environment": "record", "openings": "air_balance.openings", "hood": "breathing.hood"}
"""Parts of a record that are no lists, and the element that shows them."""


@dataclass(frozen=True)
class Context:
    """The catalogue and its results, with the look-ups that sentences and links need."""

    catalogue: PublishedCatalogue
    result: CatalogueResult

    @cached_property
    def records_sha256(self) -> str:
        """One hash over the hashes of all records: the state of the catalogue."""
        lines = [f"{name} {sha256}" for name, sha256 in sorted(self.catalogue.record_sha256.items())]
        return hashlib.sha256("\n".join(lines).encode()).hexdigest()

    @cached_property
    def history(self) -> History:
        """What happened to records and devices, by their own dates."""
        return history_of(self.catalogue)

    def method(self, method_id: str) -> Method:
        """Return a method by its id."""
        return self.catalogue.methods[method_id]

    def method_link(self, method_id: str) -> Link:
        """Return the link to a method's page."""
        return Link(self.method(method_id).title, f"methods/{method_id}.html")

    def record_link(self, record: str, fragment: str = "", text: str = "") -> Link:
        """Return the link to a record's page or to one of its figures."""
        return Link(text or record, f"records/{record}.html{'#' if fragment else ''}{fragment}")

    def protocol_link(self, protocol: str) -> Link:
        """Return the link to a protocol in the list of requirements."""
        return Link(self.catalogue.protocols[protocol].title, f"requirements.html#{protocol}")

    def criterion_link(self, criterion: str) -> Link:
        """Return the link to a criterion in the list of requirements."""
        return Link(self.catalogue.criteria[criterion].title, f"requirements.html#{criterion}")

    def performed(self, record: str) -> Day:
        """Return the day on which a record's test was done."""
        return self.catalogue.device_tests[record].dates.performed

    @cached_property
    def _limits(self) -> Mapping[tuple[str, str], tuple[float, ...]]:
        limits: dict[tuple[str, str], tuple[float, ...]] = {}
        for name, result in self.result.records.items():
            for verdict in (verdict for topic in result.topics.values() for verdict in topic.verdicts):
                if verdict.limit is not None:
                    of_figure = name, verdict.figure
                    limits[of_figure] = (*limits.get(of_figure, ()), verdict.limit)
        return limits

    def limit_beside(self, record: str, figure: Figure) -> float | None:
        """Return the limit that a record's figure was held against, the nearest of several, or None."""
        value = figure.value
        limits = self._limits.get((record, figure.key), ()) if value is not None else ()
        return min(limits, key=lambda limit: abs(limit - (value or 0.0)), default=None)

    def device_findings(self, device: str) -> tuple[Finding, ...]:
        """Return the findings about a device; none where its records were not all scored."""
        result = self.result.devices.get(device)
        return result.all_findings if result is not None else ()

    @cached_property
    def shown_values(self) -> dict[tuple[str, str], str]:
        """Values as their records' pages write them, once they were written elsewhere, by record and figure."""
        return {}

    @cached_property
    def _sources(self) -> dict[str, tuple[str, ...]]:
        return {}

    def sources_of(self, method_id: str) -> tuple[str, ...]:
        """Return the sources of a method as lines; they stand beside each figure that it gives."""
        if method_id not in self._sources:
            self._sources[method_id] = tuple(source_text(source) for source in self.method(method_id).sources)
        return self._sources[method_id]

    @staticmethod
    def is_figure(where: str) -> bool:
        """Say whether a place that a working names is another figure of the record."""
        return _figure_in(where) is not None

    def where_href(self, record: str, where: str) -> str | None:
        """Return where a reader finds the number that a working names, or None where no page shows it."""
        figure = _figure_in(where)
        if figure is not None:
            # Where figures of several records go into one number, each is named with its record.
            named = where[: figure.start()]
            return f"records/{named if named in self.result.records else record}.html#working.{figure[1]}"
        over = _OVER_WEARERS.match(where)
        if over is not None:
            return f"{over[1]}.html#working.{over[2]}"
        match = _IN_RECORD.match(where)
        if match is not None and match[1] in _SHOWN_BY:
            return f"records/{record}.html#{_SHOWN_BY[match[1]]}.{match[2]}"
        if where.startswith(_WORK_LEVELS):
            return f"requirements.html#work-level-{where.removeprefix(_WORK_LEVELS)}"
        if where.startswith("burden."):
            return f"records/{record}.html#burden"
        of_device = _OF_DEVICE.match(where)
        if of_device is not None:
            return f"{of_device[1]}.html#device"
        if where.startswith("instruments"):
            return f"records/{record}.html#instruments"
        if where.startswith("filter_test.media_area"):
            return f"records/{record}.html#filter-medium"
        criterion = _CRITERION.match(where)
        if criterion is not None:
            return f"requirements.html#{criterion[1]}"
        shown_at = _SHOWN_AT.get(where.partition(".")[0])
        return f"records/{record}.html#{shown_at}" if shown_at is not None else None


@lru_cache(maxsize=1024)
def _figure_in(where: str) -> re.Match[str] | None:
    # The numbers of a record stand in few places, each of which is named again and again.
    return _FIGURE.search(where)


def blower_words(blower: str | None) -> str:
    """Say the blower's state; nothing for a device without one."""
    if blower is None:
        return ""
    if blower in (BLOWER_OFF, "on"):
        return f"blower {blower}"
    return f"blower at {shortened(blower, 40)}"
