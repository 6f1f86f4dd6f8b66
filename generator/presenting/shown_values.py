"""A record's figure as its own page writes it, for the other places where it is shown."""

from __future__ import annotations

from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.digits import value_text


def shown_value(record: str, figure: Figure, context: Context) -> str:
    """Write a figure's value on the side of its limit on which it lies, as on the page of its record."""
    if figure.value is None:
        return f"not scored: {figure.not_scored}"
    verdicts = (verdict for topic in context.result.records[record].topics.values() for verdict in topic.verdicts)
    limit = next((verdict.limit for verdict in verdicts if verdict.figure == figure.key), None)
    return value_text(figure, limit)
