"""Figures made from one number that has an interval: each end of the interval goes through the same equation."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.counting import COVERAGE


@dataclass(frozen=True)
class VariedInput:
    """A number with the ends of its interval; without them, why there are none."""

    symbol: str
    meaning: str
    unit: str
    where: str
    value: float
    ends: tuple[float, float] | None
    no_interval: str | None
    sample_size: int
    sample_of: str

    def as_input(self) -> Input:
        """Return the number as the input of a working."""
        return self._input(self.symbol, self.meaning, self.value)

    def at_ends(self, symbol: str | None = None) -> tuple[Input, ...]:
        """Return the lower and the upper end of its interval, or none where there is no interval."""
        if self.ends is None:
            return ()
        names = ("lower end of its interval", "upper end of its interval")
        return tuple(
            self._input(f"{symbol or self.symbol}_{{{number}}}", f"{self.meaning}: {name}", end)
            for number, (name, end) in enumerate(zip(names, self.ends, strict=True), start=1)
        )

    def _input(self, symbol: str, meaning: str, value: float) -> Input:
        return Input(symbol=symbol, meaning=meaning, value=value, unit=self.unit, where=self.where)


def varied(figure: Figure, symbol: str, where: str, meaning: str | None = None) -> VariedInput:
    """Return a figure as the input of others; its ends are no lower than zero, since all of these are amounts."""
    assert figure.value is not None
    ends = None
    if figure.interval is not None and figure.interval.low is not None and figure.interval.high is not None:
        ends = (max(0.0, figure.interval.low), max(0.0, figure.interval.high))
    return VariedInput(
        symbol=symbol,
        meaning=meaning or figure.name,
        unit=figure.unit,
        where=where,
        value=figure.value,
        ends=ends,
        no_interval=figure.no_interval,
        sample_size=figure.sample_size,
        sample_of=figure.sample_of,
    )


@dataclass(frozen=True)
class Made:
    """What a figure is and by which equation it is made; `of` gives None where an end has no counterpart."""

    key: str
    name: str
    unit: str
    method: str
    of: Callable[[float], float | None]
    falls: bool = False
    """Whether it falls where its input rises."""


def figure_from(
    made: Made, source: VariedInput, others: Sequence[Input], covers: str, symbol: str | None = None
) -> Figure:
    """Return a figure made from a number with an interval and from numbers without; `symbol` is that of the ends."""
    interval = None
    if source.ends is not None:
        low, high = (made.of(end) for end in (reversed(source.ends) if made.falls else source.ends))
        interval = Interval(
            low=low,
            high=high,
            coverage=COVERAGE,
            method=made.method,
            covers=covers,
            working=Working(method=made.method, inputs=(*source.at_ends(symbol), *others)),
        )
    return Figure(
        key=made.key,
        name=made.name,
        value=made.of(source.value),
        unit=made.unit,
        interval=interval,
        no_interval=source.no_interval if interval is None else None,
        sample_size=source.sample_size,
        sample_of=source.sample_of,
        method=made.method,
        working=Working(method=made.method, inputs=(source.as_input(), *others)),
    )
