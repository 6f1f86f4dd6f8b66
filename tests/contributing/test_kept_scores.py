"""Scoring a changed catalogue with what was kept gives the same as scoring it from the start, and does little anew."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from generator.contributing.kept_scores import KeptScores
from generator.loading import load_catalogue
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue, published
from generator.scoring.catalogue import score_catalogue


def loaded(folder: Path) -> PublishedCatalogue:
    found = load_catalogue(folder)
    assert [str(problem) for problem in found.problems] == []
    assert found.catalogue is not None
    return published(found.catalogue)


@pytest.fixture(scope="module")
def kept(demo: Catalogue) -> KeptScores:
    scores = KeptScores()
    scores.score(published(demo))
    return scores


def changed(path: Path, pattern: str, other: str) -> None:
    text = path.read_text(encoding="utf-8")
    new, count = re.subn(pattern, other, text, count=1)
    assert count == 1
    path.write_text(new, encoding="utf-8")


def with_instrument(name: str) -> Callable[[PublishedCatalogue], set[str]]:
    return lambda catalogue: {
        test.id for test in catalogue.device_tests.values() if name in test.instruments.by_role.values()
    }


CHANGES: list[tuple[str, str, str, Callable[[PublishedCatalogue], set[str]]]] = [
    # a reading of a record: that record alone
    (
        "device_tests/gorseback-half-2025-11.yaml",
        r"values: \[126, 127",
        "values: [124, 127",
        lambda catalogue: {"gorseback-half-2025-11"},
    ),
    # what is known of an instrument: every record that used it, and no other
    (
        "instruments/vane-flow-meter.yaml",
        r"(?m)^name: (.*)$",
        r"name: Another name",
        with_instrument("vane-flow-meter"),
    ),
    # what a maker claims: every record of the device
    (
        "devices/gorseback-half.yaml",
        r"(?m)^name: .*$",
        "name: Another name",
        lambda catalogue: {test.id for test in catalogue.tests_of("gorseback-half")},
    ),
    # what no record is scored with: none
    ("publication.yaml", r"(?m)^title: .*$", "title: Another title", lambda catalogue: set()),
    ("comparisons/third-strap.yaml", r"(?m)^title: .*$", "title: Another title", lambda catalogue: set()),
]


def test_only_what_a_change_bears_on_is_scored_anew(kept: KeptScores, demo_records: Path, tmp_path: Path) -> None:
    kept.score(loaded(demo_records))
    shutil.copytree(demo_records, tmp_path / "records")
    for file, pattern, other, bears_on in CHANGES:
        changed(tmp_path / "records" / file, pattern, other)
        catalogue = loaded(tmp_path / "records")
        result, anew = kept.score(catalogue)
        assert (file, set(anew)) == (file, bears_on(catalogue))
    assert result.model_dump_json() == score_catalogue(catalogue).model_dump_json()


def test_nothing_is_scored_anew_for_the_same_records(
    kept: KeptScores, demo_records: Path, scored: CatalogueResult
) -> None:
    kept.score(loaded(demo_records))
    result, anew = kept.score(loaded(demo_records))
    assert anew == ()
    assert result.model_dump_json() == scored.model_dump_json()


def test_a_log_that_changes_counts_as_a_change_of_its_record(
    kept: KeptScores, demo: Catalogue, demo_records: Path
) -> None:
    before = published(demo)
    kept.score(before)
    name, log = next(iter(before.logs.items()))
    shifted = replace(log, samples=log.samples[1:])
    users = {
        test.id
        for test in before.device_tests.values()
        for session in test.fit
        if session.log is not None and session.log.file == name
    }
    assert users

    _, anew = kept.score(replace(before, logs={**before.logs, name: shifted}))
    assert set(anew) == users


def test_a_record_that_is_new_or_gone_is_noticed(kept: KeptScores, demo: Catalogue) -> None:

    whole = published(demo)
    kept.score(whole)
    first, *others = whole.device_tests
    without = replace(whole, device_tests={name: whole.device_tests[name] for name in others})
    result, anew = kept.score(without)
    assert (anew, set(result.records)) == ((), set(others))
    result, anew = kept.score(whole)
    assert anew == (first,)
    assert set(result.records) == {first, *others}
