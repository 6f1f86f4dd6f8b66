"""Which results are of a modified device: their short name, and labels that no two lines of a chart share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.model.configuration import State
from generator.presenting.context import Context
from generator.presenting.curve_views import CurveChart
from generator.presenting.wording import sentence_case, shortened, told_apart

_MOST = 24
"""The most characters of a configuration's short name, which has to fit beside a drawing."""


def modified_words(record: str, context: Context) -> str:
    """Say in short what a record's device was modified to; nothing for one as supplied."""
    configuration = context.catalogue.device_tests[record].configuration
    if configuration.state is State.AS_SUPPLIED:
        return ""
    name = configuration.name.replace("-", " ") if configuration.name is not None else configuration.description
    return f"modified: {shortened(name, _MOST)}"


def with_modified(label: str, record: str, context: Context) -> str:
    """Return a label that says so where it is of a modified device."""
    return "; ".join(words for words in (label, modified_words(record, context)) if words)


def chart_on_device(chart: CurveChart, record: str, context: Context) -> CurveChart:
    """Return the chart of one record, which says where it is of a modified device."""
    modified = modified_words(record, context)
    if not modified:
        return chart
    caption = f"{sentence_case(modified)}. {chart.caption}"
    return replace(chart, title=f"{chart.title}; {modified}", caption=caption)


def labels_on_device(labels: Sequence[str], records: Sequence[str], context: Context) -> tuple[str, ...]:
    """Return labels for one drawing or table of a device, each given with its record; none of them equal."""
    named = [with_modified(label, record, context) for label, record in zip(labels, records, strict=True)]
    return numbered(told_apart(named, [context.performed(record) for record in records]))


def numbered(labels: Sequence[str]) -> tuple[str, ...]:
    """Give equal labels a number, in their order."""
    return tuple(
        f"{label} ({labels[:place].count(label) + 1})" if labels.count(label) > 1 else label
        for place, label in enumerate(labels)
    )
