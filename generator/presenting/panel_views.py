"""What a reader sees on the page where devices are chosen and compared. Templates print these and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.comparison_views import SideLine
from generator.presenting.page_parts import Notice, PageHead
from generator.presenting.presented import Presented
from generator.presenting.views import Cautions, Fact, Link, ScaleChart
from generator.presenting.wording import listed


@dataclass(frozen=True)
class Choice:
    """A device that can be chosen."""

    id: str
    name: str
    maker: str
    withdrawn: str | None
    """That it was withdrawn and when; None where it stands."""


@dataclass(frozen=True)
class ChoiceGroup:
    """The devices of one kind."""

    kind: str
    heading: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True)
class PairDecision:
    """What follows from a difference: it depends on how many others stand in the comparison that it is part of."""

    comparisons: tuple[Link, ...]
    answer: str
    """What is decided, in a line."""
    lines: tuple[SideLine, ...] = ()
    sure: tuple[SideLine, ...] = ()
    """How sure it is: folded."""


@dataclass(frozen=True)
class PanelPair:
    """What the comparisons that hold a device and another one say of the two.

    The sessions are the same in all of them, and so is the ratio; what is decided is not always. Where no difference is
    stated, `lines` hold the reason, and the only decision none.
    """

    other: str
    """The id of the other device."""
    stated: bool
    lines: tuple[SideLine, ...]
    decisions: tuple[PairDecision, ...]
    rests_on: tuple[SideLine, ...] = ()

    @property
    def in_short(self) -> tuple[str, ...]:
        """What is decided, in a line; where comparisons decide differently, a line of each under its name."""
        answers = tuple(dict.fromkeys(each.answer for each in self.decisions))
        if len(answers) == 1:
            return answers
        return tuple(f"{listed([link.text for link in each.comparisons])}: {each.answer}" for each in self.decisions)


@dataclass(frozen=True)
class Panel:
    """A device as it stands beside others: its parts are put where those of the other devices are."""

    id: str
    kind: str
    """The kind's name in addresses: it tells whether two devices are of one kind."""
    link: Link
    heading: str
    """Its kind, for readers."""
    maker: str
    state: tuple[Fact, ...]
    notice: Notice | None
    answer: tuple[str, ...]
    cautions: tuple[str, ...]
    """The headings of the worst ones."""
    more_cautions: str
    sheet: Link
    fit_chart: ScaleChart | None
    no_fit: str
    fit_lines: tuple[SideLine, ...]
    flow_chart: ScaleChart | None
    no_flow: str
    flow_lines: tuple[SideLine, ...]
    facts: tuple[tuple[str, tuple[SideLine, ...]], ...]
    """What is told in each row of the table, in the order of the rows, by the row's name."""
    pairs: tuple[PanelPair, ...]
    never_compared: str | None
    """Why it is compared with no other device at all; None where it may be."""
    not_within_kind: str | None
    """Why it is not compared with others of its kind; None where it is."""


@dataclass(frozen=True)
class ComparingPage:
    """The page that devices are chosen on; what is said of each comes from its panel."""

    head: PageHead
    title: str
    lead: str
    groups: tuple[ChoiceGroup, ...]
    scale: ScaleChart
    """The rule with its named spans, above the fit factors of all chosen devices."""
    fit_note: str
    """How to read those charts: which exercises and which counter, unless a line says otherwise."""
    rows: tuple[tuple[str, str], ...]
    """Name and heading of each row of the table; a panel has a cell for each."""
    other_kind: str
    """Why a pair of different kinds is not compared where no comparison asks about both."""
    other_kind_in_short: str
    comparisons: tuple[Link, ...]
    cautions: Cautions
    panels: Presented[Panel]
    """One for each device, by the path of its file, which is loaded when its device is chosen."""
