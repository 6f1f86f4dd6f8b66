"""What a log tells of itself, on logs made with a known fault."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.signal import correlate, correlation_lags

from generator.errors import OutsideRange
from generator.model.log import LogSample, Sampling
from generator.scoring.fit_factors import exercise_fit_factor
from generator.scoring.log_checks import Stretch, channel_lag, missing_readings, stuck_stretches
from generator.scoring.log_figures import (
    average_penetration,
    chance_of_repeats,
    peak_penetration,
    side_by_side_ratio,
)

FLOW = 100.0
PER_SECOND = FLOW / 60


def counted_log(seed: int, ambient: float = 3000.0, inside: float = 30.0, digits: int = 6) -> list[LogSample]:
    """Return a log of 300 s as a counter of single particles would write it, 60 s outside and 240 s inside."""
    random = np.random.default_rng(seed)
    samples = []
    for second in range(300):
        outside = second < 60
        count = random.poisson((ambient if outside else inside) * PER_SECOND)
        samples.append(
            LogSample(
                time_s=float(second),
                concentration_per_cm3=float(f"{count / PER_SECOND:.{digits}g}"),
                exercise="" if outside else "standing",
                sampling=Sampling.AMBIENT if outside else Sampling.IN_MASK,
            )
        )
    return samples


def with_readings(samples: list[LogSample], first: int, last: int, value: float) -> list[LogSample]:
    """Return the log with one value in all seconds from the first to the last."""
    return [
        sample._replace(concentration_per_cm3=value) if first <= at <= last else sample
        for at, sample in enumerate(samples)
    ]


@pytest.mark.parametrize("digits", [2, 3, 6])
@pytest.mark.parametrize("inside", [0.05, 0.5, 3.0, 30.0, 300.0])
def test_chance_is_not_taken_for_a_fault(inside: float, digits: int) -> None:
    # source: independent simulation; each log may be noted once in a thousand at most
    noted = [bool(stuck_stretches(counted_log(seed, inside=inside, digits=digits), FLOW)) for seed in range(40)]
    assert sum(noted) <= 1


def test_a_stretch_that_stuck_is_found_with_its_place() -> None:
    samples = with_readings(counted_log(1), 100, 119, 30.6)
    # source: the fault put in
    assert stuck_stretches(samples, FLOW) == (Stretch(100.0, 119.0, 20),)


def test_a_channel_that_never_changes_is_found() -> None:
    samples = with_readings(counted_log(1), 60, 299, 30.0)
    assert stuck_stretches(samples, FLOW) == (Stretch(60.0, 299.0, 240),)


def test_a_smoothed_reading_of_less_than_a_particle_that_repeats_is_found() -> None:
    assert stuck_stretches(with_readings(counted_log(1), 100, 139, 0.12), FLOW) == (Stretch(100.0, 139.0, 40),)


def test_zeros_in_a_row_are_nothing_strange() -> None:
    assert stuck_stretches(with_readings(counted_log(1), 60, 299, 0.0), FLOW) == ()


def test_a_log_of_one_reading_has_nothing_that_repeats() -> None:
    assert stuck_stretches(counted_log(1)[:1], FLOW) == ()


def test_missing_seconds_are_found_with_their_place() -> None:
    samples = counted_log(1)
    kept = [sample for sample in samples if sample.time_s not in (40.0, 41.0, 42.0, 200.0)]
    # source: the seconds taken out
    assert missing_readings(kept) == (Stretch(39.0, 43.0, 3), Stretch(199.0, 201.0, 1))
    assert missing_readings(samples) == ()
    assert missing_readings(samples[:2]) == ()


def breathing(seconds: int, seed: int) -> np.ndarray:
    """Return a channel that goes up and down with the breath and wanders."""
    random = np.random.default_rng(seed)
    times = np.arange(seconds)
    return 50 + 20 * np.sin(times / 3.1) + np.cumsum(random.normal(0, 3, seconds)) + random.normal(0, 4, seconds)


@pytest.mark.parametrize("lag", [-7, -1, 0, 1, 2, 9])
def test_the_lag_of_a_channel_is_the_one_put_in_and_that_of_a_general_library(lag: int) -> None:
    whole = breathing(260, 11)
    noise = np.random.default_rng(12).normal(0, 2, 200)
    first, second = whole[30:230], whole[30 - lag : 230 - lag] * 0.9 + noise
    found = channel_lag([*first], [*second], most=12)
    assert found is not None
    assert found.readings == lag
    # source: scipy 1.17.1, signal.correlate and correlation_lags; there the second channel is the one moved
    strength = correlate(second - second.mean(), first - first.mean())
    assert found.readings == correlation_lags(200, 200)[np.argmax(strength)]


def test_the_correlation_at_the_lag_is_that_of_a_general_library() -> None:
    first, second = breathing(100, 3)[:-4], breathing(100, 3)[4:]
    found = channel_lag([*first], [*second], most=6)
    # source: numpy 2.4.6: corrcoef of the same readings, moved by hand; they are the same, so exactly 1
    assert found is not None
    assert found.readings == -4
    assert found.correlation == pytest.approx(1.0, rel=1e-12)


def test_channels_that_do_not_agree_have_no_lag() -> None:
    random = np.random.default_rng(5)
    assert channel_lag([*random.normal(0, 1, 200)], [*random.normal(0, 1, 200)], most=10) is None
    assert channel_lag([1.0] * 50, [*breathing(50, 1)], most=10) is None


def test_of_two_lags_that_fit_alike_the_shorter_is_taken() -> None:
    wave = [0.0, 1.0, 0.0, -1.0] * 10
    found = channel_lag(wave, wave, most=8)
    assert found is not None
    assert found.readings == 0


def test_average_penetration_is_the_reciprocal_of_the_fit_factor() -> None:
    readings = [12.0, 30.0, 18.0, 24.0]
    # source: 29 CFR 1910.134 Appendix A, penetration as 1 / FF (from memory)
    assert average_penetration(readings, 3000) == pytest.approx(100 / exercise_fit_factor(3000, 21), rel=1e-12)
    assert peak_penetration(readings, 3000) > average_penetration(readings, 3000)


def test_the_ratio_of_channels_is_turned_over_with_them() -> None:
    one, other = [2510.0, 2490.0, 2602.0], [2401.0, 2405.0, 2460.0]
    ratio, low, high = side_by_side_ratio(one, other, 0.95)
    assert side_by_side_ratio(other, one, 0.95) == pytest.approx((1 / ratio, 1 / high, 1 / low), rel=1e-12)


def test_the_interval_of_the_ratio_holds_it_as_often_as_it_says() -> None:
    random = np.random.default_rng(8)
    # source: independent simulation, 2000 sets of ten pairs; a channel that reads 7 % high, both scatter by 2 %
    held = 0
    for _ in range(2000):
        air = 3000 * np.exp(np.cumsum(random.normal(0, 0.02, 10)))
        first = 1.07 * air * np.exp(random.normal(0, 0.02, 10))
        _, low, high = side_by_side_ratio([*first], [*(air * np.exp(random.normal(0, 0.02, 10)))], 0.95)
        held += int(low <= 1.07 <= high)
    assert held / 2000 >= 0.95 - 3 * (0.95 * 0.05 / 2000) ** 0.5


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: chance_of_repeats(-1, 0, 2, 9), "count that repeats: found -1"),
        (lambda: chance_of_repeats(1, -1, 2, 9), "counts in one step of the display: found -1"),
        (lambda: chance_of_repeats(1, 0, 0, 9), "readings in a row: found 0"),
        (lambda: chance_of_repeats(1, 0, 10, 9), "readings of the log beyond those in a row, and one: found 0"),
        (lambda: stuck_stretches([], 0), r"counted flow \[cm3/min\]: found 0"),
        (lambda: average_penetration([], 1), "readings inside the mask: found 0 values"),
        (lambda: average_penetration([-1], 1), r"reading inside the mask \[/cm3\]: found -1"),
        (lambda: peak_penetration([1], 0), r"ambient concentration \[/cm3\]: found 0"),
        (lambda: channel_lag([1, 2, 3], [1, 2], 0), "readings of two channels: found 3, 2 values"),
        (lambda: channel_lag([1, 2, 3], [1, 2, 3], -1), "longest lag: found -1"),
        (lambda: channel_lag([1, 2, 3], [1, 2, 3], 1), "readings of a channel: found 3 values, expected at least 5"),
        (lambda: side_by_side_ratio([1, 2], [1], 0.95), "readings of two channels: found 2, 1 values"),
        (lambda: side_by_side_ratio([1], [1], 0.95), "pairs of readings: found 1 values"),
        (lambda: side_by_side_ratio([1, 0], [1, 1], 0.95), r"reading side by side \[/cm3\]: found 0"),
        (lambda: side_by_side_ratio([1, 1], [1, 1], 1.5), "coverage: found 1.5"),
    ],
)
def test_what_is_outside_the_range_is_refused(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(OutsideRange, match=message):
        call()
