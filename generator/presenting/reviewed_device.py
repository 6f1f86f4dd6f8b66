"""A device with everything that was found out about it, as the rules of what may be said look at it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import Difference
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.difference_result import Apart
from generator.model.evidence_result import Evidence
from generator.model.fit_result import FitSummary
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, percent_text
from generator.presenting.views import Link
from generator.presenting.wording import listed, months_text, shortened, without_full_stop

_Summary = TypeVar("_Summary", bound=TopicSummary)
_Result = TypeVar("_Result", bound=TopicResult)


@dataclass(frozen=True)
class ReviewedDevice:
    """One device, its result and the catalogue around it."""

    device: Device
    result: DeviceResult
    context: Context

    @property
    def name(self) -> str:
        """The name that readers see."""
        return self.device.name

    @property
    def evidence(self) -> Evidence:
        """What its results rest on."""
        assert self.result.evidence is not None
        return self.result.evidence

    @property
    def fit(self) -> FitSummary | None:
        """Its fit results, where a group of sessions makes any."""
        summary = self.summary("fit", FitSummary)
        return summary if summary is not None and summary.groups else None

    def summary(self, topic: str, kind: type[_Summary]) -> _Summary | None:
        """Return what a topic says of the device."""
        summary = self.result.topics.get(topic)
        return summary if isinstance(summary, kind) else None

    def results(self, topic: str, kind: type[_Result]) -> Iterator[tuple[str, _Result]]:
        """Yield a topic's result of each record that stands, oldest record first."""
        for record in self.result.records:
            result = self.context.result.records[record].topics.get(topic)
            if isinstance(result, kind):
                yield record, result

    def section(self, anchor: str, text: str) -> Link:
        """Return the link to a section of its page."""
        return Link(text, f"devices/{self.device.id}.html#{anchor}")

    def figure_link(self, record: str, figure: Figure) -> Link:
        """Return the link to a figure where it is derived."""
        return self.context.record_link(record, figure.key, record)

    def period(self, records: Iterable[str]) -> str:
        """Say in which months records were tested."""
        return months_text([self.context.performed(record) for record in records])

    def modification(self, record: str) -> str:
        """Say what was modified in the tested device; nothing for one as supplied."""
        configuration = self.context.catalogue.device_tests[record].configuration
        if configuration.state is State.AS_SUPPLIED:
            return ""
        return f"modified: {shortened(listed([without_full_stop(each) for each in configuration.changes]), 120)}"

    def differences(self) -> dict[str, list[tuple[str, Difference]]]:
        """Return the stated differences from each other device, with the comparison that states them."""
        found: dict[str, list[tuple[str, Difference]]] = {}
        for comparison in self.context.result.comparisons.values():
            for difference in comparison.differences:
                pair = (difference.first, difference.second)
                if self.device.id in pair and difference.ratio.value is not None:
                    other = pair[1] if pair[0] == self.device.id else pair[0]
                    found.setdefault(other, []).append((comparison.id, difference))
        return found


def told_apart(differences: Iterable[tuple[str, Difference]]) -> bool:
    """Say whether every comparison that states a difference tells the two apart."""
    return all(
        found.decision is not None and found.decision.apart is not Apart.CANNOT_BE_TOLD_APART
        for _, found in differences
    )


def in_brackets(*words: str | None) -> str:
    """Return what qualifies a statement, in brackets after a space; nothing where there is none."""
    said = "; ".join(word for word in words if word)
    return f" ({said})" if said else ""


def interval_words(figure: Figure) -> str | None:
    """Name a figure's interval with its coverage; None where there is none."""
    ends = interval_text(figure)
    if ends is None or figure.interval is None:
        return None
    return f"{percent_text(figure.interval.coverage)} interval {ends}"
