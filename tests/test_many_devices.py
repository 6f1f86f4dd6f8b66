"""Catalogues for measuring: the same bytes each time, no problems, every shape of the demo."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.model.published import published
from generator.scoring.same_day import same_day_tests
from tests.bench.many_devices import RECORDS, RECORDS_EACH, shapes, write_catalogue

DEVICES = 43
"""Twice round the shapes of the demo, and one more."""


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A catalogue."""
    folder = tmp_path_factory.mktemp("many") / "records"
    write_catalogue(folder, DEVICES, seed=3)
    return folder


def test_it_has_no_problems_and_three_records_a_device(records: Path) -> None:
    loaded = load_catalogue(records)
    assert [str(problem) for problem in loaded.problems] == []
    assert loaded.catalogue is not None
    of_device = Counter(test.device for test in loaded.catalogue.device_tests.values())
    assert set(of_device) == set(loaded.catalogue.devices)
    assert (len(of_device), set(of_device.values())) == (DEVICES, {RECORDS_EACH})
    kinds = {device.kind for device in loaded.catalogue.devices.values()}
    assert kinds == {device.kind for device in load_catalogue(RECORDS).catalogue.devices.values()}  # type: ignore[union-attr]
    # What stands beside a device does not grow with the catalogue: it is of the same round of shapes.
    catalogue = published(loaded.catalogue)
    beside = {test.device for test in same_day_tests("tansy-fold-0017", catalogue)}
    assert beside
    assert {int(name.rpartition("-")[2]) // len(shapes()) for name in beside} == {0}


def test_every_device_of_the_demo_is_a_shape() -> None:
    assert {shape.device for shape in shapes()} == {path.stem for path in (RECORDS / "devices").glob("*.yaml")}


def test_the_same_seed_gives_the_same_bytes_and_a_larger_one_begins_with_a_smaller(
    records: Path, tmp_path: Path
) -> None:
    whole = contents(records)
    write_catalogue(tmp_path / "again", DEVICES, seed=3)
    assert contents(tmp_path / "again") == whole
    write_catalogue(tmp_path / "smaller", 22, seed=3)
    smaller = contents(tmp_path / "smaller")
    assert smaller.items() < whole.items()
    write_catalogue(tmp_path / "other", 22, seed=4)
    other = contents(tmp_path / "other")
    assert other.keys() == smaller.keys()
    assert sum(other[path] != smaller[path] for path in other if path.startswith("device_tests/")) > 22
