"""One module per topic. A module placed here is found by generator.scoring.registry, whether or not it is listed."""

from __future__ import annotations

from collections.abc import Mapping

SCORED_FROM: Mapping[str, tuple[str, ...]] = {
    "air_balance": ("exhaust", "openings", "pressure_traces"),
    "blower": ("blower_curves",),
    "breathing": ("flow",),
    "burden": ("burden",),
    "fit": ("fit",),
    "flow": ("flow",),
    "gas": ("flow", "hood", "inhaled_gas"),
    "run_time": ("run_downs",),
}
"""Keys of a record by topic: where it has none of them, the topic scores nothing, and need not be imported to be asked.
A topic that is not listed is asked of every record."""
