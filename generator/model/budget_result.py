"""An uncertainty budget: what a figure's uncertainty is made of, row by row."""

from __future__ import annotations

from generator.model.base import Frozen


class BudgetRow(Frozen):
    """One source of uncertainty."""

    id: str
    """What it is, as a slug, such as `certificate`."""
    name: str
    """What it is, in words."""
    estimate: float | None
    """The input's value, in `unit`; null where the source is not on record."""
    unit: str
    """The unit of the input and of its standard uncertainty."""
    standard_uncertainty: float | None
    """The standard uncertainty of the input; null where it is not on record, so that it adds nothing."""
    degrees_of_freedom: float | None
    """Its degrees of freedom; null where they are taken as infinite."""
    sensitivity: float | None
    """The change of the figure for a change of the input by one unit; null where the input has no uncertainty."""
    contribution: float
    """The size of sensitivity times standard uncertainty, in the figure's unit."""
    share: float
    """Its share of the figure's variance, from 0 to 1."""
    missing: str | None = None
    """Why it adds nothing, where it is not on record."""


class Budget(Frozen):
    """All sources of a figure's uncertainty, combined by the law of propagation of uncertainty."""

    value: float
    """The figure, in `unit`."""
    unit: str
    """The figure's unit."""
    rows: tuple[BudgetRow, ...]
    """Every source, also those that are not on record."""
    standard_uncertainty: float
    """The combined standard uncertainty, in `unit`."""
    degrees_of_freedom: float | None
    """Its effective degrees of freedom by Welch and Satterthwaite; null where they are infinite."""
    coverage: float
    """The coverage probability, such as 0.95."""
    coverage_factor: float
    """The coverage factor k of Student's distribution."""
    expanded_uncertainty: float
    """k times the combined standard uncertainty, in `unit`: half the width of the interval."""

    @property
    def missing(self) -> tuple[BudgetRow, ...]:
        """The sources that are not on record."""
        return tuple(row for row in self.rows if row.missing is not None)
