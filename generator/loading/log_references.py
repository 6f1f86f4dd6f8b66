"""What a record says of a log: the file is there, belongs to one part alone, and is the one that was taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.logs import sha256_of
from generator.loading.records import Entry
from generator.loading.yaml_source import Steps
from generator.model.device_test import DeviceTest
from generator.model.series import SeriesReference
from generator.model.session import LogReference


def log_reference_problems(
    entry: Entry[DeviceTest],
    steps: Steps,
    reference: LogReference | SeriesReference,
    contents: Mapping[str, bytes],
    other: str | None,
    each: str,
) -> Iterator[Problem]:
    """Yield what is wrong with a reference; `other` says what else has the log, `each` what must have its own."""
    content = contents.get(reference.file)
    if content is None:
        close = nearest(reference.file, tuple(contents))
        remedy = "Add the log, or correct its name"
        if close is not None:
            remedy = f"Did you mean `{close}`? {remedy}"
        yield entry.problem((*steps, "file"), "log-missing", f"`{reference.file}`", "a log on record", remedy)
        return
    if other is not None:
        found, expected = f"`{reference.file}`, which {other} has", f"a log of its own for {each}"
        yield entry.problem((*steps, "file"), "log-shared", found, expected, f"Cut the log into one for {each}")
    actual = sha256_of(content)
    if actual != reference.sha256:
        expected = f"{actual}, the SHA-256 of {reference.file} as it is"
        remedy = "Put the log back as it was taken; give the new SHA-256 only if you know why it changed"
        yield entry.problem((*steps, "sha256"), "log-changed", f"{reference.sha256}", expected, remedy)
