"""Good and bad example records are tests by being there."""

from pathlib import Path

import pytest

from generator.loading import load_catalogue
from tests.loading.example_records import BAD, GOOD, REFERENCE, apply, good_copy, read_bad_example

EXAMPLES = pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)


def messages(folder: Path) -> tuple[str, ...]:
    loaded = load_catalogue(folder, REFERENCE)
    assert (loaded.catalogue is None) == bool(loaded.problems)
    return tuple(str(problem).removeprefix(f"{folder}/") for problem in loaded.problems)


def test_the_good_folder_is_read_without_problems() -> None:
    loaded = load_catalogue(GOOD, REFERENCE)
    assert loaded.problems == ()
    # Counted by hand in the folder: 19 YAML files and four logs.
    assert loaded.files == 23
    assert loaded.catalogue is not None
    assert list(loaded.catalogue.device_tests) == ["half-april", "half-june", "half-may", "hood-march", "hood-may"]
    assert list(loaded.catalogue.protocols) == [
        "as-given",
        "drawn-in",
        "published-steps",
        "two-around",
        "two-during",
        "two-steps",
    ]
    assert len(loaded.catalogue.logs["logs/half-talk.csv"].samples) == 9


def test_a_log_of_flow_pressure_voltage_and_current_is_read_in_base_units() -> None:
    loaded = load_catalogue(GOOD, REFERENCE)
    assert loaded.catalogue is not None
    series = loaded.catalogue.series
    assert list(series) == ["logs/hood-dust.csv", "logs/hood-run-down.csv", "logs/hood-trace.csv"]
    run_down = series["logs/hood-run-down.csv"]
    # The file counts minutes; 60 s in each.
    assert run_down.time_s == (0, 3600, 7200, 10800, 14400)
    assert run_down.flow_l_per_min == (182.5, 176, 171, 160, 0)
    assert run_down.voltage_v == (12.6, 12.2, 11.8, 10.9, 8.8)
    assert run_down.current_a == (1.5, 1.4, 1.35, 1.2, 0)
    # The file has hPa and mbar; both are 100 Pa.
    assert series["logs/hood-dust.csv"].pressure_pa == (120, 150, 190)
    trace = series["logs/hood-trace.csv"]
    assert trace.pressure_pa == pytest.approx((21, 18, -2, 20), rel=1e-12)
    assert trace.exercise == ("standing", "standing", "standing", "")


@EXAMPLES
def test_a_bad_example_gives_exactly_its_messages(path: Path, tmp_path: Path) -> None:
    example = read_bad_example(path)
    folder = good_copy(tmp_path)
    apply(example, folder)
    assert messages(folder) == example.expected


def test_there_are_enough_examples() -> None:
    assert len(BAD) >= 220
