"""What a log with two channels gives beside the factors: their intervals, and the ratio of the channels."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.channel_inputs import ratio_input, ratio_working
from generator.scoring.fit_inputs import count_input, volume_input, zero_inputs
from generator.scoring.samples import Measured, Particles
from generator.scoring.simulated_interval import seed_from
from generator.scoring.two_channel_simulation import two_channel_fit_factor_limits
from generator.scoring.two_channels import COVERAGE as RATIO_COVERAGE
from generator.scoring.two_channels import ChannelComparison

METHOD = "two-channel-interval"
NOT_COMPARED = "counting interval not available: the two channels were never compared"
NOT_COUNTED = "counting interval not available: not both channels counted single particles"


def has_two_channels(measured: Sequence[Measured]) -> bool:
    """Say whether all of these exercises have an ambient count of their own from a second channel."""
    return bool(measured) and all(item.channels is not None for item in measured)


def two_channel_interval(
    measured: Sequence[Measured], particles: Sequence[Particles], zero: Particles | None, coverage: float
) -> Interval | None:
    """Return the interval of the factor of one exercise or of several; `why_no_two_channel_interval` says why none.

    `particles` are those counted inside, in the same order.
    """
    channels, outside = measured[0].channels, [item.before.particles for item in measured]
    second = [each for each in outside if each is not None and each.count > 0]
    if channels is None or not channels.compared or len(second) < len(outside):
        return None
    counts, volumes = [each.count for each in particles], [each.volume for each in particles]
    inside_and_outside = (counts, volumes, [each.count for each in second], [each.volume for each in second])
    ratio = (channels.ratio, channels.deviation, len(channels.first))
    zero_count, zero_volume = (zero.count, zero.volume) if zero is not None else (0, None)
    seed = seed_from((*inside_and_outside, *ratio, zero_count, zero_volume, coverage))
    low, high = two_channel_fit_factor_limits(*inside_and_outside, *ratio, zero_count, zero_volume, coverage, seed)
    counted = "counting inside, outside and in the zero check" if zero is not None else "counting inside and outside"
    return Interval(
        low=low,
        high=high,
        coverage=coverage,
        method=METHOD,
        covers=f"{counted}, and the ratio of the two channels as it was measured; not a ratio that changed since, a "
        "counter that miscounts in bursts, or wearer, donning or probe differences",
        working=Working(method=METHOD, inputs=_inputs(measured, particles, second, channels, zero)),
    )


def why_no_two_channel_interval(measured: Sequence[Measured]) -> str:
    """Say why a factor from two channels has no interval."""
    channels = measured[0].channels
    return NOT_COMPARED if channels is not None and not channels.compared else NOT_COUNTED


def channel_ratio_figure(session: str, measured: Sequence[Measured]) -> Figure | None:
    """Return the ratio of the two channels of a session's log, or None where it has not two, or none is known."""
    channels = measured[0].channels if has_two_channels(measured) else None
    if channels is None or not channels.compared:
        return None
    working = ratio_working(channels)
    return Figure(
        key=f"fit.{session}.channel-ratio",
        name="inside channel over second channel in the same air",
        value=channels.ratio,
        unit="1",
        interval=Interval(
            low=channels.low,
            high=channels.high,
            coverage=RATIO_COVERAGE,
            method="side-by-side-ratio",
            covers=f"the scatter of the blocks in which both drew the same air, {_lag_words(channels)}; not a ratio "
            "that changed since",
            working=working,
        ),
        sample_size=len(channels.first),
        sample_of="blocks of readings side by side",
        method="side-by-side-ratio",
        working=working,
    )


def _lag_words(channels: ChannelComparison) -> str:
    if not channels.lag_seen:
        return "between which no lag was seen"
    if channels.lag == 0:
        return "neither later than the other"
    readings = f"{abs(channels.lag)} reading{'s' if abs(channels.lag) > 1 else ''}"
    return f"the second moved {'back' if channels.lag > 0 else 'on'} by {readings}"


def _inputs(
    measured: Sequence[Measured],
    particles: Sequence[Particles],
    second: Sequence[Particles],
    channels: ChannelComparison,
    zero: Particles | None,
) -> tuple[Input, ...]:
    inputs: list[Input] = []
    for number, (inside, outside) in enumerate(zip(particles, second, strict=True), start=1):
        exercise = f", exercise {number}"
        inputs += [
            count_input(f"n_{{{number}}}", f"particles counted in the mask{exercise}", inside),
            volume_input(f"V_{{{number}}}", f"volume counted in the mask{exercise}", inside),
            count_input(f"m_{{{number}}}", f"particles counted by the second channel{exercise}", outside),
            volume_input(f"A_{{{number}}}", f"volume counted by the second channel{exercise}", outside),
        ]
    spread = "standard deviation of the logarithms of the single ratios"
    of_ratio = ratio_input(channels)
    inputs += [
        of_ratio,
        of_ratio.model_copy(update={"symbol": "s", "meaning": spread, "value": channels.deviation}),
        Input(
            symbol="K",
            meaning="blocks in which the channels were compared",
            value=len(channels.first),
            unit="count",
            where=of_ratio.where,
        ),
    ]
    return (*inputs, *zero_inputs(zero))
