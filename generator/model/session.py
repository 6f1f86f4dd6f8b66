"""A fit session: one wearer, one donning, one protocol, one state of the device."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Id, Sha256, Text
from generator.model.configuration import LocalName
from generator.model.quantity import Concentration, Duration, check_unit, quantity_problem
from generator.model.zero_check import ZeroCheck


class LogColumns(Frozen):
    """Which column of a log holds what, by the headings of the file."""

    time: Text
    """Heading of the time in seconds; it goes up from line to line."""
    concentration: Text
    """Heading of the concentration, in the unit that the record gives."""
    exercise: Text
    """Heading of the exercise's id; may be empty in lines that are not in-mask."""
    sampling: Text
    """Heading of `ambient`, `in-mask`, `purge` or `side-by-side`."""
    outside: Text | None = None
    """Heading of a second channel that counts the ambient air all the time, where there is one."""


class LogReference(Frozen):
    """A raw log of a session. Its `sampling` column holds `ambient`, `in-mask`, `purge` or `side-by-side`."""

    file: Annotated[str, StringConstraints(pattern=r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$", max_length=100)]
    """The log, below the records folder."""
    sha256: Sha256
    """SHA-256 of the file, as `sha256sum` prints it, so that a later change is noticed."""
    unit: Annotated[str, Field(examples=["/cm3"])]
    """The unit of the concentrations in the log."""
    columns: LogColumns
    """Which column holds what."""

    @model_validator(mode="after")
    def _unit_is_concentration(self) -> LogReference:
        check_unit(self.unit, "concentration")
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
    ABORTED = "aborted"
    VOIDED = "voided"


BLOWER_OFF = "off"


class Session(Frozen):
    """What the record of a session and its published form share: one wearer, one donning, one protocol, one state."""

    id: LocalName
    """A name that is unique in the record, such as `first`."""
    wearer: str
    donning: Annotated[int, Field(ge=1, le=99)]
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
    """In place of `exercises`: the raw log, cut by its marks."""
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
