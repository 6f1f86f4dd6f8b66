"""How many sessions there were, which of them count, and by which rule."""

from __future__ import annotations

from generator.model.device_test import SessionChoice
from generator.model.fit_result import FitSummary
from generator.model.published import PublishedTest
from generator.presenting.views import Fact
from generator.presenting.wording import count_text, day_text, listed, sentence_case

_CHOICES = {
    SessionChoice.EVERY_COMPLETED: "Every completed session counts",
    SessionChoice.FIRST_OF_EACH_WEARER: (
        "Only the first completed donning of each wearer counts, in each state of blower and filter"
    ),
    SessionChoice.WITHOUT_FIRST_OF_EACH_WEARER: (
        "The first completed donning of each wearer does not count, in each state of blower and filter"
    ),
}


def session_rule_text(test: PublishedTest) -> str:
    """Say which sessions of a record count, by which rule, and since when it stood."""
    rule = test.session_rule
    if rule is None:
        return "Every completed session counts; the record states no other rule."
    days = f"Stated on {day_text(rule.stated)}, tested on {day_text(test.dates.performed)}"
    return f"{_CHOICES[rule.choice]}. {days}. Reason: {rule.why.rstrip('.')}."


def session_sentence(summary: FitSummary) -> str:
    """Say how many sessions of a device were completed, by whom, and how many were not or do not count."""
    words = f"{sentence_case(count_text(summary.completed, 'session'))} completed"
    who = (
        f"{count_text(len(summary.wearers), 'wearer')} ({listed(sorted(summary.wearers))}) "
        f"in {count_text(summary.donnings, 'donning')}"
    )
    if summary.not_counted:
        words += f", {count_text(summary.not_counted, 'of them', 'of them')} not counted by the record's rule"
        words += f"; those that count are by {who}" if summary.wearers else ""
    elif summary.wearers:
        words += f" by {who}"
    words += f"; {count_text(summary.aborted + summary.voided, 'attempt')} aborted or voided."
    if summary.withdrawn:
        rest = "its record is listed and does" if summary.withdrawn == 1 else "their record are listed and do"
        words += f" Besides, {count_text(summary.withdrawn, 'session')} withdrawn with {rest} not count."
    return words


def attempt_counts(summary: FitSummary) -> tuple[Fact, ...]:
    """Return the counts of a device's attempts, each with an id of its own."""
    return (
        Fact("Completed", str(summary.completed), id="attempts-completed"),
        Fact("of them not counted", str(summary.not_counted), id="attempts-not-counted"),
        Fact("Aborted", str(summary.aborted), id="attempts-aborted"),
        Fact("Voided", str(summary.voided), id="attempts-voided"),
        Fact("Of withdrawn records", str(summary.withdrawn), id="attempts-withdrawn"),
    )
