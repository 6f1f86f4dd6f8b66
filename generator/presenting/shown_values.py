"""A record's figures as its own page writes them, for the other places where they are shown."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.digits import value_text


def figures_with_limits(record: str, context: Context) -> Mapping[str, tuple[Figure, float | None]]:
    """Return every figure of a record by its key, with the limit that its digits must not cross."""
    found: dict[str, tuple[Figure, float | None]] = {}
    for topic in context.result.records[record].topics.values():
        limits = {verdict.figure: verdict.limit for verdict in topic.verdicts}
        found |= {figure.key: (figure, limits.get(figure.key)) for figure in topic.figures}
    return found


def shown_value(record: str, figure: Figure, context: Context) -> str:
    """Write a figure's value on the side of its limit on which it lies, as on the page of its record."""
    if figure.value is None:
        return f"not scored: {figure.not_scored}"
    shown = context.shown_values
    if (record, figure.key) not in shown:
        shown[record, figure.key] = value_text(*figures_with_limits(record, context)[figure.key])
    return shown[record, figure.key]
