"""Amendments: the earlier figures that they name are figures of the record."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.cross_checks.air_parts import air_part_names
from generator.loading.explain import nearest
from generator.loading.records import Records, good
from generator.model.device_test import DeviceTest

AIR_TOPICS = ("breathing", "air_balance", "gas", "filter", "blower", "run_time", "burden")
"""Topics whose figures are about the parts of a record that bear on air, first word of their keys."""
WITHOUT_NAMES = ("carried", "use", "hood", "medium")
"""What figures of air and burden are about that has no name of its own."""


def earlier_figures_are_of_the_record(records: Records) -> Iterator[Problem]:
    """An earlier figure names a session, run or other part of its record.

    The figure itself may be gone: a session that an amendment voided keeps its place and loses its figures.
    """
    for entry, test in good(records.device_tests):
        parts = (*(f"fit.{session.id}." for session in test.fit), *(f"flow.{run.id}." for run in test.flow))
        names = sorted(air_part_names(test))
        for at, amendment in enumerate(test.amendments):
            for place, earlier in enumerate(amendment.earlier):
                topic, about, _ = earlier.figure.split(".")
                if earlier.figure.startswith(parts) or (topic in AIR_TOPICS and about in (*names, *WITHOUT_NAMES)):
                    continue
                close = nearest(earlier.figure, parts)
                remedy = "Write the key as the record's page and `inward score` have it"
                yield entry.problem(
                    ("amendments", at, "earlier", place, "figure"),
                    "unknown-reference",
                    f"`{earlier.figure}`",
                    f"a key that begins with {', '.join(f'`{part}`' for part in _beginnings(parts, test))}",
                    f"Did you mean one that begins with `{close}`? {remedy}" if close is not None else remedy,
                )


def _beginnings(parts: tuple[str, ...], test: DeviceTest) -> tuple[str, ...]:
    """Return what a key can begin with; of air, by the names of the parts alone, since several topics tell of one."""
    names = sorted(air_part_names(test) - {run.id for run in test.flow})
    return (*parts, *(f"<topic>.{name}." for name in names)) or ("<topic>.<name>.",)


def device_amendments_have_no_figures(records: Records) -> Iterator[Problem]:
    """A device's file holds no figures, so that its amendments have none to keep."""
    for entry, device in good(records.devices):
        for at, amendment in enumerate(device.amendments):
            if amendment.earlier:
                yield entry.problem(
                    ("amendments", at, "earlier", 0, "figure"),
                    "unknown-reference",
                    f"`{amendment.earlier[0].figure}`",
                    "no earlier figures: they belong to test records",
                    "Move them to an amendment of the test record, or say in `changed` what stood there before",
                )
