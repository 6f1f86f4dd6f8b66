"""What puts an instrument in doubt for one test record, in a few words beside its name."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.base import Day
from generator.model.result import Finding
from generator.presenting.wording import day_text


def doubts_about(instrument: str, findings: Iterable[Finding]) -> str | None:
    """Return why a record's readings by an instrument are in doubt, or None where nothing says so."""
    doubts = []
    for finding in findings:
        if finding.facts.get("instrument") != instrument:
            continue
        if finding.rule == "calibration-out-of-tolerance":
            day = day_text(Day.fromisoformat(str(finding.facts["calibrated"])))
            doubts.append(f"found out of tolerance on {day}")
        elif finding.rule == "check-standard-beyond-limits":
            day = day_text(Day.fromisoformat(str(finding.facts["read"])))
            doubts.append(f"last check beyond an action limit, on {day}")
    return "; ".join(doubts) or None
