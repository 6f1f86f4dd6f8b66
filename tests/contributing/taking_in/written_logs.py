"""Small logs for tests of taking in."""

from __future__ import annotations

from generator.contributing.taking_in.raw_text import raw_text
from generator.contributing.taking_in.readings import Readings, read_readings
from generator.contributing.taking_in.told import Told
from generator.errors import Problem
from generator.model.quantity import Quantity
from generator.model.reference import AmbientRule, Protocol, ProtocolExercise, Source, SourceStatus

HEADINGS = "time (s),inside (/cm3)"
EXERCISES = ("standing", "talking", "standing-again")


def read(text: str | bytes, told: Told | None = None) -> Readings | tuple[Problem, ...]:
    """Read a log from its text."""
    content = text if isinstance(text, bytes) else text.encode()
    told = Told() if told is None else told
    return read_readings(raw_text(content, told.encoding), "log.csv", told)


def good(text: str, told: Told | None = None) -> Readings:
    """Read a log that has no problem."""
    readings = read(text, told)
    assert isinstance(readings, Readings), [str(problem) for problem in readings]
    return readings


def every_second(values: list[float] | list[int]) -> str:
    """Return a log of one reading a second."""
    return "\n".join([HEADINGS, *(f"{second},{value}" for second, value in enumerate(values))]) + "\n"


def a_protocol(ambient: AmbientRule) -> Protocol:
    """Return a protocol of three exercises of ten, five and ten seconds."""
    source = Source(document="d", edition="e", clause="c", status=SourceStatus.OWN)
    exercises = tuple(
        ProtocolExercise(
            id=name, name=name.replace("-", " ").capitalize(), duration=Quantity(number=seconds, unit="s"), counted=True
        )
        for name, seconds in zip(EXERCISES, (10, 5, 10), strict=True)
    )
    return Protocol(id="three", title="Three", source=source, ambient=ambient, exercises=exercises)
