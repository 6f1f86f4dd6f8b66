"""What the donnings of several wearers carry: figures over wearers, shares who reached a level, panels."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.panel import PanelCount, PanelOutcome, PanelSense
from generator.model.result import Figure


class Carried(StrEnum):
    """Which statement the donnings of a group carry."""

    ONE_WEARER = "one_wearer"
    """Nothing follows for other wearers."""
    ONE_DONNING_EACH = "one_donning_each"
    SEVERAL_DONNINGS = "several_donnings"
    """At least one wearer donned it more than once."""
    ONE_DONNING_EACH_WITH_BOUNDS = "one_donning_each_with_bounds"
    """Some results are only known to be at least so much."""
    SEVERAL_DONNINGS_WITH_BOUNDS = "several_donnings_with_bounds"
    BOUNDS_ONLY = "bounds_only"
    """Every result is only known to be at least so much."""


class WearerDonning(Frozen):
    """One donning that counts, with the session that it is known by."""

    wearer: str
    """The wearer's letter."""
    record: str
    """The record that holds it."""
    session: str
    """The session's id."""
    donning: int
    """The number of the donning in its record, from 1."""
    factor: Figure
    """Its overall fit factor; the working stands with the session."""
    least: float
    """The factor, or what it is at least."""
    bound: bool
    """Whether no more is known of it than that."""


class PassShare(Frozen):
    """How many wearers reached a fit-test pass level at one prespecified donning: their first that counts."""

    criterion: str
    """The criterion's id."""
    limit: float
    """The level. [1]"""
    wearers: int
    """Wearers with a first donning that counts. [count]"""
    reached: int
    """How many of them reached it. [count]"""
    undecided: int
    """Wearers of whom only a bound below the level is known; they are not among those who reached it."""
    share: Figure
    """Share who reached it, with the exact interval."""
    by_score: Figure
    """The same with Wilson's interval."""
    without_failures: Figure | None
    """Where all reached it: the share of wearers that at least does, with confidence."""


class PanelCountResult(Frozen):
    """How many results lie on the better side of one condition's limit, and how many must."""

    counts: PanelCount
    """What is counted."""
    sense: PanelSense
    """On which side of the limit a result counts."""
    limit: float
    """The limit, in the unit of the rule."""
    required: int
    """How many must lie there. [count]"""
    found: int
    """How many do. [count]"""


class PanelResult(Frozen):
    """A panel held against a published rule of its own method."""

    rule: str
    """The rule's id."""
    outcome: PanelOutcome
    """What the panel says of it."""
    counted: tuple[PanelCountResult, ...] = ()
    """Only for a complete panel."""
    reason: str
    """One sentence part: why this outcome."""


class OverWearers(Frozen):
    """What the donnings of one group say together. Figures that the data do not carry are None, or say why not."""

    carried: Carried
    """Which statement the donnings carry."""
    donnings: tuple[WearerDonning, ...]
    """Each wearer's donnings together, in the order of the letters; a wearer's first that counts comes first."""
    sessions_of_a_donning: int = 0
    """Sessions left aside because another one of the same donning, with the lower factor, stands for it."""
    mean: Figure | None = None
    """Geometric mean."""
    between: Figure | None = None
    """Geometric standard deviation between wearers; with one donning each, what differs between donnings is in it."""
    within: Figure | None = None
    """Geometric standard deviation within one wearer."""
    percentile: Figure | None = None
    """Factor that 95 in 100 donnings of new wearers are estimated to exceed."""
    bound: Figure | None = None
    """Its lower bound, or the reason why there is none."""
    wearers_needed: int | None = None
    """Wearers that would give a bound, where there is none."""
    log_normality: Figure | None = None
    """Probability of results as little log-normal as these by chance, where there are wearers enough to ask."""
    log_normal_doubtful: bool = False
    """Whether that probability is below 0.05, so that nothing is said that rests on the results being log-normal."""
    level_of_all: Figure | None = None
    """Level that every wearer reached at the first donning that counts."""
    share_above: Figure | None = None
    """Share of wearers who at least reach that level, with confidence."""
    passes: PassShare | None = None
    """How many reached a fit-test pass level; null where none applies."""
    panels: tuple[PanelResult, ...] = ()
    """Rules whose own method these results are of; every other rule was not applied."""

    @property
    def wearers(self) -> tuple[str, ...]:
        """Who is in it, each once."""
        return tuple(dict.fromkeys(donning.wearer for donning in self.donnings))

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure, whether it has a value or not."""
        over = (self.mean, self.between, self.within, self.percentile, self.bound, self.log_normality)
        free = (self.level_of_all, self.share_above)
        passes = self.passes
        shares = (passes.share, passes.by_score, passes.without_failures) if passes is not None else ()
        return tuple(figure for figure in (*over, *free, *shares) if figure is not None)
