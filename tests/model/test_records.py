"""What records can be asked: the kind of a device, the calibration of a day, the tests of a device."""

import datetime

import pytest

from generator.loading import load_catalogue
from generator.model.catalogue import Catalogue
from generator.model.device import DeviceKind, Fitting
from generator.model.published import published
from tests.loading.example_records import GOOD, REFERENCE


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    loaded = load_catalogue(GOOD, REFERENCE)
    assert loaded.catalogue is not None
    return loaded.catalogue


def test_kinds_by_their_fitting_and_blower() -> None:
    # source: the meaning of the words (29 CFR 1910.134(b): tight-fitting, loose-fitting, powered), from memory
    powered = {kind for kind in DeviceKind if kind.powered}
    assert powered == {
        DeviceKind.TIGHT_POWERED_HALF_FACEPIECE,
        DeviceKind.TIGHT_POWERED_FULL_FACEPIECE,
        DeviceKind.LOOSE_POWERED_FACEPIECE,
        DeviceKind.LOOSE_POWERED_HOOD,
    }
    assert {kind for kind in DeviceKind if kind.fitting is Fitting.LOOSE} == {
        DeviceKind.LOOSE_POWERED_FACEPIECE,
        DeviceKind.LOOSE_POWERED_HOOD,
    }
    assert DeviceKind.SURGICAL_MASK.fitting is Fitting.NONE
    assert DeviceKind.FILTERING_FACEPIECE.fitting is Fitting.TIGHT_HALF
    assert len({kind.heading for kind in DeviceKind}) == len(DeviceKind)


@pytest.mark.parametrize(
    ("day", "certificate"),
    [
        # source: the example records: C-1 of 2024-01-15, C-2 of 2025-01-20
        (datetime.date(2024, 1, 14), None),
        (datetime.date(2024, 1, 15), "C-1"),
        (datetime.date(2025, 1, 19), "C-1"),
        (datetime.date(2025, 1, 20), "C-2"),
    ],
)
def test_the_calibration_of_a_day_is_the_newest_before_it(
    catalogue: Catalogue, day: datetime.date, certificate: str | None
) -> None:
    calibration = catalogue.instruments["counter"].calibration_on(day)
    assert (calibration.certificate if calibration is not None else None) == certificate


def test_the_tests_of_a_device(catalogue: Catalogue) -> None:
    out = published(catalogue)
    assert [test.id for test in out.tests_of("half")] == ["half-april", "half-may", "half-june"]
    assert out.tests_of("nothing") == ()
