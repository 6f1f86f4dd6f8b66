"""Days: things happened in the order that the records say."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.errors import Problem
from generator.loading.records import Records, good, record_of


def amendments_follow_the_issue(records: Records) -> Iterator[Problem]:
    """An amendment is made after the record was issued, and after the amendment before it."""
    for entry, test in good(records.device_tests):
        days = [test.dates.issued, *(amendment.date for amendment in test.amendments)]
        for place, (before, day) in enumerate(pairwise(days)):
            if day < before:
                what = "the issue" if place == 0 else "the amendment before it"
                yield entry.problem(
                    ("amendments", place, "date"),
                    "dates-out-of-order",
                    f"{day}",
                    f"a day on or after {before}, the day of {what}",
                    "Correct the date, or put the amendments in order",
                )


def consent_comes_before_the_test(records: Records) -> Iterator[Problem]:
    """A wearer agreed to the tests before taking part in one."""
    for entry, test in good(records.device_tests):
        for place, session in enumerate(test.fit):
            wearer = record_of(records.wearers, session.wearer)
            if wearer is not None and wearer.consent.given > test.dates.performed:
                yield entry.problem(
                    ("fit", place, "wearer"),
                    "consent-after-test",
                    f"`{session.wearer}`, who gave consent on {wearer.consent.given}",
                    f"consent on or before {test.dates.performed}, the day of the test",
                    "Correct the date that is wrong; without consent the session cannot be on record",
                )


def calibrations_are_in_order(records: Records) -> Iterator[Problem]:
    """Calibrations stand oldest first, one a day, so that the one that held on a day is plain to see."""
    for entry, instrument in good(records.instruments):
        for place, (before, after) in enumerate(pairwise(instrument.calibrations), start=1):
            if after.date <= before.date:
                yield entry.problem(
                    ("calibrations", place, "date"),
                    "dates-out-of-order",
                    f"{after.date}",
                    f"a day after {before.date}, the day of the calibration before it",
                    "Correct the date, or put the calibrations in order",
                )


def session_rules_come_before_the_test(records: Records) -> Iterator[Problem]:
    """A rule that chooses sessions was stated before anybody could know which of them would be better."""
    for entry, test in good(records.device_tests):
        rule = test.session_rule
        if rule is not None and rule.stated > test.dates.performed:
            yield entry.problem(
                ("session_rule", "stated"),
                "rule-after-test",
                f"{rule.stated}",
                f"a day on or before {test.dates.performed}, the day of the test",
                "Correct the date; a rule that was made afterwards cannot choose, so leave `session_rule` out",
            )


def withdrawals_follow_the_issue(records: Records) -> Iterator[Problem]:
    """A record is withdrawn after it was issued."""
    for entry, test in good(records.device_tests):
        if test.withdrawn is not None and test.withdrawn.date < test.dates.issued:
            yield entry.problem(
                ("withdrawn", "date"),
                "dates-out-of-order",
                f"{test.withdrawn.date}",
                f"a day on or after {test.dates.issued}, the day of the issue",
                "Correct the date that is wrong",
            )


def check_readings_are_in_order(records: Records) -> Iterator[Problem]:
    """Readings of a check standard stand in the order in which they were taken."""
    for entry, instrument in good(records.instruments):
        for at, standard in enumerate(instrument.check_standards):
            for place, (before, after) in enumerate(pairwise(standard.readings), start=1):
                if after.date < before.date:
                    yield entry.problem(
                        ("check_standards", at, "readings", place, "date"),
                        "dates-out-of-order",
                        f"{after.date}",
                        f"a day on or after {before.date}, the day of the reading before it",
                        "Correct the date, or put the readings in order",
                    )
