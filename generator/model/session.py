"""A fit session: one wearer, one donning, one protocol, one state of the device."""

from __future__ import annotations

from enum import StrEnum
from itertools import pairwise
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Id, Sha256, Text
from generator.model.configuration import LocalName
from generator.model.log import Sampling
from generator.model.quantity import Concentration, Duration, Moment, check_unit, quantity_problem, unit_of
from generator.model.zero_check import ZeroCheck


class LogColumns(Frozen):
    """Which column of a log holds what, by the headings of the file."""

    time: Text
    """Heading of the time in seconds; it goes up from line to line."""
    concentration: Text
    """Heading of the concentration, in the unit that the record gives."""
    exercise: Text | None = None
    """Heading of the exercise's id; may be empty in lines that are not in-mask."""
    sampling: Text | None = None
    """Heading of `ambient`, `in-mask`, `purge` or `side-by-side`."""
    outside: Text | None = None
    """Heading of a second channel that counts the ambient air all the time, where there is one."""


class TimetableEntry(Frozen):
    """What was drawn between two times of a log whose lines are not marked."""

    sampling: Sampling
    """What the counter drew."""
    exercise: LocalName | None = None
    """The exercise's id in the protocol; needed for `in-mask`."""
    start: Moment
    """The time of the first line that belongs to it."""
    end: Moment
    """The time before which its last line lies."""

    @model_validator(mode="after")
    def _parts_fit(self) -> TimetableEntry:
        if not self.start.to("s") < self.end.to("s"):
            raise quantity_problem(
                "timetable-order",
                f"from {self.start} to {self.end}",
                "an end after the start",
                "Correct the time that is wrong",
            )
        if self.sampling is Sampling.IN_MASK and self.exercise is None:
            raise quantity_problem(
                "timetable-exercise",
                f"`sampling: {self.sampling.value}` without `exercise`",
                "the exercise that was done",
                "Add its id as the protocol has it",
            )
        return self


class LogReference(Frozen):
    """A raw log of a session, cut by the marks in its lines or by a timetable."""

    file: Annotated[str, StringConstraints(pattern=r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$", max_length=100)]
    """The log, below the records folder."""
    sha256: Sha256
    """SHA-256 of the file, as `sha256sum` prints it, so that a later change is noticed."""
    unit: Annotated[str, unit_of("concentration", example="/cm3")]
    """The unit of the concentrations in the log."""
    columns: LogColumns
    """Which column holds what."""
    timetable: Annotated[tuple[TimetableEntry, ...], Field(max_length=100)] = ()
    """In place of the columns `exercise` and `sampling`: when what was drawn. Lines outside it are purge."""

    @model_validator(mode="after")
    def _unit_is_concentration(self) -> LogReference:
        check_unit(self.unit, "concentration")
        return self

    @model_validator(mode="after")
    def _cut_in_one_way(self) -> LogReference:
        marks = [f"`columns.{name}`" for name in ("exercise", "sampling") if getattr(self.columns, name) is not None]
        if (len(marks) < 2 and not self.timetable) or (marks and self.timetable):
            found = " and ".join([*marks, *(["`timetable`"] if self.timetable else [])])
            raise quantity_problem(
                "marks-or-timetable",
                found or "neither marks nor `timetable`",
                "either both `columns.exercise` and `columns.sampling`, or `timetable`",
                "Name the two columns that mark the lines; give a timetable only where the log has no such columns",
            )
        side_by_side = any(entry.sampling is Sampling.SIDE_BY_SIDE for entry in self.timetable)
        if side_by_side and self.columns.outside is None:
            raise quantity_problem(
                "log-sampling",
                "`side-by-side` in the timetable of a log with one channel",
                "`ambient`, `in-mask` or `purge`",
                "Name the heading of the second channel in `columns.outside`, or write what was drawn",
            )
        for earlier, later in pairwise(self.timetable):
            if later.start.to("s") < earlier.end.to("s"):
                raise quantity_problem(
                    "timetable-order",
                    f"an entry that starts at {later.start} after one that ends at {earlier.end}",
                    "entries in order of time that do not overlap",
                    "Put them in order, and correct the time that is wrong",
                )
        return self


READINGS = ("in_mask", "in_mask_count", "fit_factor", "fit_factor_at_least")
AS_GIVEN = ("fit_factor", "fit_factor_at_least")


class ExerciseReading(Frozen):
    """What was read during one exercise: a concentration, a count of particles, or a factor as given."""

    exercise: LocalName
    """The exercise's id in the protocol."""
    ambient_before: Concentration | None = None
    """The ambient concentration before it, where the protocol takes one around each exercise."""
    in_mask: Concentration | None = None
    """The mean concentration inside."""
    in_mask_count: Annotated[int, Field(ge=0, le=10**9)] | None = None
    """In place of `in_mask`: the particles counted inside during `in_mask_time`."""
    fit_factor: Annotated[float, Field(ge=1, le=1e9)] | None = None
    """In place of `in_mask`: the factor as the instrument gave it."""
    fit_factor_at_least: Annotated[float, Field(ge=1, le=1e9)] | None = None
    """In place of `fit_factor`: the number that the instrument showed the factor to be more than."""
    ambient_during: Concentration | None = None
    """The mean ambient concentration during it, where the protocol takes it all the time."""
    ambient_after: Concentration | None = None
    """The ambient concentration after it."""

    @model_validator(mode="after")
    def _one_reading(self) -> ExerciseReading:
        given = [name for name in READINGS if getattr(self, name) is not None]
        if len(given) != 1:
            raise quantity_problem(
                "one-reading-each",
                " and ".join(f"`{name}`" for name in given) or "no reading",
                f"exactly one of {', '.join(f'`{name}`' for name in READINGS)}",
                "Keep the reading that was taken, or mark the session as aborted and leave the exercise out",
            )
        return self

    @property
    def as_given(self) -> bool:
        """Whether it is a factor as the instrument gave it, so that no ambient sample belongs to it."""
        return self.fit_factor is not None or self.fit_factor_at_least is not None


class Outcome(StrEnum):
    """How a session ended. Every attempt stays on record."""

    COMPLETED = "completed"
    """Done to its end as the protocol says."""
    ABORTED = "aborted"
    """Broken off; `reason` says why."""
    VOIDED = "voided"
    """Done, but it does not count; `reason` says why."""


BLOWER_OFF = "off"


class Session(Frozen):
    """What the record of a session and its published form share: one wearer, one donning, one protocol, one state."""

    id: LocalName
    """A name that is unique in the record, such as `first`."""
    wearer: str
    donning: Annotated[int, Field(ge=1, le=99, examples=[1, 2])]
    """1 for the first time this wearer put the device on for this record, 2 for the second, and so on."""
    protocol: Id
    """The protocol's id, published or your own."""
    blower: Text | None = None
    """`off` or one of the device's settings; for powered devices only, and needed there."""
    filter: Text
    """The filter that was fitted."""
    outcome: Outcome
    """How the session ended. Every attempt stays on record."""
    reason: Text | None = None
    """Why it was aborted or voided."""
    in_mask_time: Duration | None = None
    """The sampling time inside for each exercise."""
    ambient_time: Duration | None = None
    """The sampling time of each ambient sample."""
    ambient_before: Concentration | None = None
    """The ambient concentration before the first exercise, where the protocol takes it first and last."""
    ambient_after: Concentration | None = None
    """The ambient concentration after the last exercise."""
    exercises: tuple[ExerciseReading, ...] = ()
    """The exercises in the order in which they were done."""
    log: LogReference | None = None
    """In place of `exercises`: the raw log, cut by its marks or by a timetable."""
    fit_factor: Annotated[float, Field(ge=1, le=1e9)] | None = None
    """In place of `exercises`: the overall factor as it was given, where nothing else was kept."""
    fit_factor_at_least: Annotated[float, Field(ge=1, le=1e9)] | None = None
    """In place of `fit_factor`: the number that the overall factor was given to be more than."""
    partial: Text | None = None
    """Why only a part of the protocol's exercises was done; the result is then called partial."""
    adjusted: Text | None = None
    """What was adjusted after the first exercise had begun, such as `upper strap tightened`; it voids the session."""
    zero_check: ZeroCheck | None = None
    """The zero check of the counter before or after the session."""
    adverse_event: Text | None = None
    """What troubled or harmed the wearer, in words that do not tell who it was; it is published."""

    @model_validator(mode="after")
    def _parts_fit(self) -> Session:
        if self.outcome is not Outcome.COMPLETED and self.reason is None:
            raise quantity_problem(
                "reason-missing",
                f"`outcome: {self.outcome.value}` without `reason`",
                "the reason for it",
                "Add `reason` in plain words",
            )
        if self.log is not None and self.exercises:
            raise quantity_problem(
                "log-and-exercises",
                "both `log` and `exercises`",
                "one of them",
                "Leave out `exercises`: they are cut from the log by its marks",
            )
        overall = [name for name in AS_GIVEN if getattr(self, name) is not None]
        if overall and (len(overall) > 1 or self.log is not None or self.exercises):
            kept = [*overall, *(("log",) if self.log is not None else ("exercises",) if self.exercises else ())]
            raise quantity_problem(
                "overall-beside-readings",
                " and ".join(f"`{name}`" for name in kept),
                "one of them",
                "Keep what says most: the log, else the exercises, else the overall factor",
            )
        if self.outcome is Outcome.COMPLETED and self.log is None and not self.exercises and not overall:
            raise quantity_problem(
                "no-readings",
                "neither `log` nor `exercises` nor `fit_factor`",
                "one of them for a completed session",
                "Add the readings, or mark the session as aborted or voided with its reason",
            )
        if self.adjusted is not None and self.outcome is not Outcome.VOIDED:
            raise quantity_problem(
                "adjusted-not-voided",
                f"`outcome: {self.outcome.value}` with `adjusted`",
                "`outcome: voided` where anything was adjusted after the first exercise had begun",
                "Void the session with its reason, and begin a new one",
            )
        return self

    @property
    def overall_only(self) -> bool:
        """Whether nothing but an overall factor as given is on record."""
        return self.fit_factor is not None or self.fit_factor_at_least is not None


class FitSession(Session):
    """One wearer, one donning, one protocol, one state of the device."""

    wearer: Id
    """The wearer's id."""
    size: Text | None = None
    """The size of the facepiece, where there are several; it is not published."""
