"""A figure without a value, and why."""

from __future__ import annotations

from generator.model.result import Figure


def unscored_figure(key: str, name: str, unit: str, method: str, reason: str) -> Figure:
    """Return a figure that is not scored, with its reason."""
    return Figure(
        key=key, name=name, value=None, unit=unit, sample_size=0, sample_of="values", method=method, not_scored=reason
    )
