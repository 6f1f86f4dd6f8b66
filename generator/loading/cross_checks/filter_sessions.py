"""Penetrations of a filter name the fit sessions that they hold for."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.records import Records, good


def penetrations_name_sessions_of_the_record(records: Records) -> Iterator[Problem]:
    """A penetration names fit sessions of its own record, each by its id."""
    for entry, test in good(records.device_tests):
        known = tuple(session.id for session in test.fit)
        for place, item in enumerate(test.filter_test.penetrations if test.filter_test is not None else ()):
            for at, name in enumerate(item.sessions):
                if name in known:
                    continue
                close = nearest(name, known)
                remedy = "Name a fit session of this record"
                yield entry.problem(
                    ("filter_test", "penetrations", place, "sessions", at),
                    "unknown-reference",
                    f"`{name}`",
                    "the id of a fit session",
                    f"Did you mean `{close}`? {remedy}" if close is not None else remedy,
                )
