"""The samples of a fit session, brought to one form whether they stand in the record or in a log."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.model.base import NotRecorded
from generator.model.instrument import Instrument
from generator.model.log import Log
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.quantity import Quantity
from generator.model.reference import AmbientRule, ProtocolExercise
from generator.model.result import Input, Working
from generator.model.session import ExerciseReading
from generator.scoring.channel_inputs import ratio_input
from generator.scoring.fit_factors import (
    ambient_mean,
    concentration_from_count,
    count_from_concentration,
    counted_volume,
)
from generator.scoring.logs import ExerciseCut, LogBlock, cut_log
from generator.scoring.two_channel_simulation import ambient_by_second_channel
from generator.scoring.two_channels import ChannelComparison, compare_channels, second_channel_during

NO_AMBIENT = "no ambient concentration before and after it is on record"
NO_AMBIENT_DURING = "no ambient concentration during it is on record"
NO_COUNTED_FLOW = "its particle count cannot become a concentration without a counted flow and an in-mask time"


@dataclass(frozen=True)
class Particles:
    """The particles behind a concentration, where the counter counts single ones."""

    count: int
    """Particles counted, a whole number."""
    volume: float
    """Counted volume in cm3."""
    count_where: str
    count_working: Working | None
    volume_where: str
    volume_working: Working


@dataclass(frozen=True)
class AirSample:
    """Air sampled once."""

    concentration: float
    """In /cm3."""
    where: str
    working: Working | None = None
    """How the concentration was derived, where it does not stand in the record."""
    particles: Particles | None = None


@dataclass(frozen=True)
class Measured:
    """The three samples that give one exercise its fit factor."""

    in_mask: AirSample
    before: AirSample
    after: AirSample
    around_each: bool
    """Whether ambient air was sampled around or during this exercise, not only at the session's beginning and end."""
    during: bool = False
    """Whether ambient air was sampled all the time during it; that one sample is then both before and after."""
    channels: ChannelComparison | None = None
    """How the two channels of a log compare, where a second one sampled ambient air all the time."""

    @property
    def ambient(self) -> float:
        """The ambient concentration to compare with, in /cm3."""
        return ambient_mean(self.before.concentration, self.after.concentration)

    @property
    def ambient_lower(self) -> float:
        """The lower of the two ambient concentrations, in /cm3."""
        return min(self.before.concentration, self.after.concentration)

    @property
    def ambient_higher(self) -> float:
        """The higher of the two ambient concentrations, in /cm3."""
        return max(self.before.concentration, self.after.concentration)


@dataclass(frozen=True)
class ExerciseSamples:
    """What is known of one exercise: its samples, a factor as given or what it was more than, or why there is none."""

    exercise: str
    name: str
    counted: bool
    where: str
    measured: Measured | None = None
    fit_factor: float | None = None
    at_least: float | None = None
    """What the instrument showed its factor to be more than."""
    missing: str | None = None


@dataclass(frozen=True)
class CountingAir:
    """What turns a concentration into a count and back: the counted flow and where it stands."""

    flow: float
    """In cm3/min."""
    where: str
    single_particle: bool


def counting_air(test: PublishedTest, catalogue: PublishedCatalogue) -> CountingAir | None:
    """Return a record's counted flow, or None where the counter or its counted flow is not on record."""
    return _air_of(particle_counter(test, catalogue))


def outside_air(test: PublishedTest, catalogue: PublishedCatalogue) -> CountingAir | None:
    """Return the counted flow of what counts outside all the time: a counter of its own, else the one there is."""
    name = test.instruments.outside_counter
    return _air_of(catalogue.instruments[name]) if name is not None else counting_air(test, catalogue)


def _air_of(instrument: Instrument | None) -> CountingAir | None:
    if instrument is None or instrument.counter is None or isinstance(instrument.counter.counted_flow, NotRecorded):
        return None
    counter = instrument.counter
    flow = instrument.counter.counted_flow.to("cm3/min")
    return CountingAir(flow, f"instruments/{instrument.id}: counter.counted_flow", counter.single_particle)


def particle_counter(test: PublishedTest, catalogue: PublishedCatalogue) -> Instrument | None:
    """Return the particle counter that a record names, or None."""
    name = test.instruments.particle_counter
    return catalogue.instruments[name] if name is not None else None


def counter_kind(test: PublishedTest, catalogue: PublishedCatalogue) -> str | None:
    """Return the kind of particle counter of a record, or None; factors of different kinds are of other particles."""
    counter = particle_counter(test, catalogue)
    return counter.kind.value if counter is not None else None


def session_samples(
    session: PublishedSession, test: PublishedTest, catalogue: PublishedCatalogue
) -> tuple[ExerciseSamples, ...]:
    """Return the samples of a session, one item per exercise of its protocol that was done."""
    protocol = catalogue.protocols[session.protocol]
    air = counting_air(test, catalogue)
    if session.log is not None:
        log = catalogue.logs[session.log.file]
        # What a partial session left out is not missing from it; the others say what the log lacks.
        cuts = [cut for cut in cut_log(log, protocol) if cut.in_mask is not None or session.partial is None]
        if protocol.ambient is AmbientRule.DURING_EACH_EXERCISE:
            channels = compare_channels(log.samples, f"fit[{session.id}].log")
            second = outside_air(test, catalogue)
            return tuple(_from_two_channels(session, cut, log, channels, air, second) for cut in cuts)
        return tuple(_from_log(session, cut, protocol.ambient, air) for cut in cuts)
    steps = {step.id: step for step in protocol.exercises}
    outside = outside_air(test, catalogue) if protocol.ambient is AmbientRule.DURING_EACH_EXERCISE else air
    return tuple(
        _from_record(session, reading, steps[reading.exercise], protocol.ambient, air, outside)
        for reading in session.exercises
    )


def _from_record(
    session: PublishedSession,
    reading: ExerciseReading,
    step: ProtocolExercise,
    rule: AmbientRule,
    air: CountingAir | None,
    outside: CountingAir | None,
) -> ExerciseSamples:
    path = f"fit[{session.id}].exercises[{reading.exercise}]"
    known = ExerciseSamples(step.id, step.name, step.counted, path)
    if reading.as_given:
        return replace(known, fit_factor=reading.fit_factor, at_least=reading.fit_factor_at_least)
    clock = _Clock(session.ambient_time, f"fit[{session.id}].ambient_time")
    if rule is AmbientRule.DURING_EACH_EXERCISE:
        if reading.ambient_during is None:
            return replace(known, missing=NO_AMBIENT_DURING)
        in_mask = _in_mask(session, reading, path, air)
        if in_mask is None:
            return replace(known, missing=NO_COUNTED_FLOW)
        sample = _read(reading.ambient_during, f"{path}.ambient_during", clock, outside)
        return _measured(known, Measured(in_mask, sample, sample, around_each=True, during=True))
    around = rule is AmbientRule.AROUND_EACH_EXERCISE
    ambient_path = path if around else f"fit[{session.id}]"
    before = reading.ambient_before if around else session.ambient_before
    after = reading.ambient_after if around else session.ambient_after
    if before is None or after is None:
        return replace(known, missing=NO_AMBIENT)
    in_mask = _in_mask(session, reading, path, air)
    if in_mask is None:
        return replace(known, missing=NO_COUNTED_FLOW)
    first = _read(before, f"{ambient_path}.ambient_before", clock, air)
    last = _read(after, f"{ambient_path}.ambient_after", clock, air)
    return _measured(known, Measured(in_mask, first, last, around))


def _measured(known: ExerciseSamples, measured: Measured) -> ExerciseSamples:
    if not (measured.before.concentration > 0 and measured.after.concentration > 0):
        return replace(known, missing="an ambient concentration of zero leaves nothing to compare with")
    return replace(known, measured=measured)


@dataclass(frozen=True)
class _Clock:
    time: Quantity | None
    where: str


def _in_mask(
    session: PublishedSession, reading: ExerciseReading, path: str, air: CountingAir | None
) -> AirSample | None:
    clock = _Clock(session.in_mask_time, f"fit[{session.id}].in_mask_time")
    if reading.in_mask is not None:
        return _read(reading.in_mask, f"{path}.in_mask", clock, air)
    if reading.in_mask_count is None or clock.time is None or air is None:
        return None
    count, time = reading.in_mask_count, clock.time.to("s")
    counted = Input(symbol="n", meaning="particles counted", value=count, unit="count", where=f"{path}.in_mask_count")
    flow_and_time = _flow_and_time(time, clock.where, air)
    return AirSample(
        concentration=concentration_from_count(count, air.flow, time),
        where=counted.where,
        working=Working(method="concentration-from-count", inputs=(counted, *flow_and_time)),
        particles=particles_counted(count, counted.where, time, clock.where, air),
    )


def _read(concentration: Quantity, where: str, clock: _Clock, air: CountingAir | None) -> AirSample:
    value = concentration.to("/cm3")
    if air is None or clock.time is None:
        return AirSample(value, where)
    return AirSample(value, where, particles=particles_behind(value, where, clock.time.to("s"), clock.where, air))


def particles_counted(count: int, where: str, seconds: float, where_time: str, air: CountingAir) -> Particles:
    """Return particles of which the count itself is on record."""
    return Particles(
        count=count,
        volume=counted_volume(air.flow, seconds),
        count_where=where,
        count_working=None,
        volume_where=where_time,
        volume_working=Working(method="counted-volume", inputs=_flow_and_time(seconds, where_time, air)),
    )


def particles_behind(
    concentration: float, where: str, seconds: float, where_time: str, air: CountingAir
) -> Particles | None:
    """Return the particles behind a concentration as read, or None where the counter does not count single ones."""
    if not air.single_particle:
        return None
    volume = counted_volume(air.flow, seconds)
    volume_working = Working(method="counted-volume", inputs=_flow_and_time(seconds, where_time, air))
    read = Input(symbol="c", meaning="concentration as read", value=concentration, unit="/cm3", where=where)
    counted = Input(
        symbol="V", meaning="counted volume", value=volume, unit="cm3", where=where_time, working=volume_working
    )
    return Particles(
        count=count_from_concentration(concentration, volume),
        volume=volume,
        count_where=where,
        count_working=Working(method="count-from-concentration", inputs=(read, counted)),
        volume_where=where_time,
        volume_working=volume_working,
    )


def _flow_and_time(seconds: float, where_time: str, air: CountingAir) -> tuple[Input, Input]:
    return (
        Input(symbol="Q", meaning="counted flow", value=air.flow, unit="cm3/min", where=air.where),
        Input(symbol="t", meaning="time of counting", value=seconds, unit="s", where=where_time),
    )


def _from_log(
    session: PublishedSession, cut: ExerciseCut, rule: AmbientRule, air: CountingAir | None
) -> ExerciseSamples:
    path = f"fit[{session.id}].log"
    known = ExerciseSamples(cut.step.id, cut.step.name, cut.step.counted, path)
    if cut.in_mask is None:
        return replace(known, missing="the log has no in-mask samples of it")
    if cut.before is None or cut.after is None:
        return replace(known, missing="the log has no ambient samples on both sides of it")
    in_mask, before, after = (_block(block, path, air) for block in (cut.in_mask, cut.before, cut.after))
    return _measured(known, Measured(in_mask, before, after, rule is AmbientRule.AROUND_EACH_EXERCISE))


def _from_two_channels(
    session: PublishedSession,
    cut: ExerciseCut,
    log: Log,
    channels: ChannelComparison,
    air: CountingAir | None,
    outside: CountingAir | None,
) -> ExerciseSamples:
    path = f"fit[{session.id}].log"
    known = ExerciseSamples(cut.step.id, cut.step.name, cut.step.counted, path)
    if cut.in_mask is None:
        return replace(known, missing="the log has no in-mask samples of it")
    second = second_channel_during(log.samples, cut.step.id, channels.lag)
    if second is None:
        return replace(known, missing="the log has no samples of the second channel during it")
    if second.concentration == 0:
        return replace(known, missing="an ambient concentration of zero leaves nothing to compare with")
    where, in_time = f"{path}: mean of {second.what}", f"{path}: {second.what}"
    lag = "lag of the second channel" if channels.lag_seen else "lag of the second channel, of which none was seen"
    inputs = (
        ratio_input(channels),
        Input(symbol=r"\bar{b}", meaning="second channel", value=second.concentration, unit="/cm3", where=where),
        Input(symbol=r"\ell", meaning=lag, value=channels.lag, unit="count", where=f"{path}: side-by-side samples"),
    )
    sample = AirSample(
        concentration=ambient_by_second_channel(channels.ratio, second.concentration),
        where=where,
        working=Working(method="ambient-by-second-channel", inputs=inputs),
        particles=particles_behind(second.concentration, where, second.seconds, in_time, outside) if outside else None,
    )
    in_mask = _block(cut.in_mask, path, air)
    return _measured(known, Measured(in_mask, sample, sample, around_each=True, during=True, channels=channels))


def _block(block: LogBlock, path: str, air: CountingAir | None) -> AirSample:
    where = f"{path}: mean of {block.what}"
    particles = (
        particles_behind(block.concentration, where, block.seconds, f"{path}: {block.what}", air) if air else None
    )
    return AirSample(block.concentration, where, particles=particles)
