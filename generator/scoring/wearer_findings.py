"""What scoring notices about the people who wore a device: what befell them, and whether they were known to be fit."""

from __future__ import annotations

from generator.model.published import PublishedTest
from generator.model.result import Finding


def adverse_event_findings(test: PublishedTest) -> list[Finding]:
    """Return what troubled or harmed a wearer in any session of a record, counted or not."""
    return [
        Finding(
            rule="adverse-event",
            where=f"fit[{session.id}]",
            facts={"wearer": session.wearer, "outcome": session.outcome.value, "event": session.adverse_event},
        )
        for session in test.fit
        if session.adverse_event is not None
    ]


def fitness_findings(test: PublishedTest) -> list[Finding]:
    """Return that fitness to wear was not on record for every session, or nothing."""
    without = [session for session in test.fit if not session.fitness_on_record]
    if not without:
        return []
    facts: dict[str, str | int | float] = {
        "sessions": len(without),
        "of": len(test.fit),
        "wearers": ", ".join(sorted({session.wearer for session in without})),
    }
    return [Finding(rule="fitness-not-recorded", where="fit", facts=facts)]
