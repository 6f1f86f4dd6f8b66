"""The ratio of the two channels of a log as a number that goes into figures, with how it comes about."""

from __future__ import annotations

from generator.model.result import Input, Working
from generator.scoring.two_channels import ChannelComparison


def ratio_input(channels: ChannelComparison) -> Input:
    """Return the ratio of the channel that goes inside to the second one, or 1 where they were never compared."""
    meaning = "ratio of the channels" if channels.compared else "ratio of the channels, which were never compared"
    return Input(
        symbol="r",
        meaning=meaning,
        value=channels.ratio,
        unit="1",
        where=channels.where,
        working=ratio_working(channels) if channels.compared else None,
    )


def ratio_working(channels: ChannelComparison) -> Working:
    """Return how the ratio comes about: a mean of each channel in every block."""
    inputs = tuple(
        Input(
            symbol=f"{symbol}_{{{number}}}",
            meaning=f"{which}, block {number}",
            value=mean,
            unit="/cm3",
            where=channels.where,
        )
        for number, means in enumerate(zip(channels.first, channels.second, strict=True), start=1)
        for symbol, which, mean in zip("ab", ("inside channel", "second channel"), means, strict=True)
    )
    return Working(method="side-by-side-ratio", inputs=inputs)
