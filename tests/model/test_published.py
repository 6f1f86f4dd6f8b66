"""The published form of a record keeps what a result needs and nothing that identifies a wearer."""

from __future__ import annotations

import string
from pathlib import Path

from generator.loading import load_catalogue
from generator.model.device_test import DeviceTest
from generator.model.published import PublishedSession, PublishedTest, published, published_test
from generator.model.session import FitSession
from tests.presenting.small_sites import given
from tests.scoring.builders import a_test, a_wearer

PRIVATE_FIELDS = {"size"}
OF_THE_WEARER = {"fitness_on_record"}
"""What a published session says of its wearer beside the letter; never how or since when."""


def test_only_private_fields_are_left_out() -> None:
    # Named one by one: a field that is added to a record must be decided on here before it can be left out.
    assert set(FitSession.model_fields) - set(PublishedSession.model_fields) == PRIVATE_FIELDS
    assert set(PublishedSession.model_fields) - set(FitSession.model_fields) == OF_THE_WEARER
    assert set(PublishedTest.model_fields) - set(DeviceTest.model_fields) == {"sessions_with_hair_at_seal"}
    assert set(DeviceTest.model_fields) < set(PublishedTest.model_fields)


def test_the_types_keep_the_two_apart() -> None:
    assert not issubclass(FitSession, PublishedSession)
    assert not issubclass(DeviceTest, PublishedTest)


def test_a_wearer_is_a_letter(demo_records: Path) -> None:
    catalogue = load_catalogue(demo_records).catalogue
    assert catalogue is not None
    out = published(catalogue)
    letters = {name: wearer.catalogue_letter for name, wearer in catalogue.wearers.items()}
    assert out.wearers == (*string.ascii_uppercase, "AA")
    for name, test in catalogue.device_tests.items():
        worn_by = [session.wearer for session in out.device_tests[name].fit]
        assert worn_by == [letters[session.wearer] for session in test.fit]


def test_a_published_record_is_read_back_as_it_was_written(demo_records: Path) -> None:
    catalogue = load_catalogue(demo_records).catalogue
    assert catalogue is not None
    for test in published(catalogue).device_tests.values():
        assert PublishedTest.model_validate_json(test.model_dump_json()) == test


def test_of_fitness_only_that_it_was_on_record_is_published() -> None:
    test = a_test([given(10.0)])
    for since, on_record in ((None, False), ("2025-06-02", False), ("2025-06-01", True)):
        wearer = a_wearer("wren", "A", fit_since=since)
        out = published_test(test, {"wren": wearer}, tight=False)
        assert [session.fitness_on_record for session in out.fit] == [on_record]
        assert "2025-06-02" not in out.model_dump_json()
        assert "asked" not in out.model_dump_json()
