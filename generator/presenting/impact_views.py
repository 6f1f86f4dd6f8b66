"""What a reader sees of a change to a catalogue: texts in rows, before and after. Templates print these."""

from __future__ import annotations

from dataclasses import dataclass, replace

MOST_UNFOLDED = 10
"""Rows of a detail that stand open."""


@dataclass(frozen=True)
class Said:
    """A piece of text. What comes from records is quoted, so that nothing in it can be taken for markup."""

    text: str
    quoted: bool = False


Pieces = tuple[Said, ...]
"""Pieces that follow on one another."""


@dataclass(frozen=True)
class ImpactRow:
    """One thing that changes."""

    owner: Said
    """The record, device, comparison or instrument that it belongs to, or the page."""
    place: Said
    """Which of its results: the key or place."""
    name: Said
    """What that is, in words; empty where the place says it."""
    before: Said
    after: Said
    change: Said
    """What the step is, such as the ratio of the two; empty where there is nothing to say."""

    @property
    def cells(self) -> tuple[Pieces, ...]:
        """The row as cells: owner, what, before, after, change."""
        what = tuple(piece for piece in (self.place, self.name) if piece.text)
        return ((self.owner,), what, (self.before,), (self.after,), (self.change,))


@dataclass(frozen=True)
class ImpactSection:
    """Changes of one kind."""

    id: str
    heading: str
    columns: tuple[str, str, str, str, str]
    """Heads of owner, what, before, after, change; a column whose head is empty is not shown."""
    rows: tuple[ImpactRow, ...]
    left_out: int = 0
    """How many rows are not shown."""
    detail: bool = False
    """Whether it stands behind what the other sections tell, so that a long list is folded away."""

    @property
    def folded(self) -> bool:
        """Whether it is folded away where that can be."""
        return self.detail and self.count > MOST_UNFOLDED

    @property
    def count(self) -> int:
        """How many there are, shown or not."""
        return len(self.rows) + self.left_out

    @property
    def heads(self) -> tuple[str, ...]:
        """The heads of the columns that are shown."""
        return tuple(head for head in self.columns if head)

    @property
    def lines(self) -> tuple[tuple[Pieces, ...], ...]:
        """The cells of each row, in the columns that are shown."""
        return tuple(
            tuple(cell for head, cell in zip(self.columns, row.cells, strict=True) if head) for row in self.rows
        )


@dataclass(frozen=True)
class ImpactView:
    """What a change does to what is published."""

    verdict: str
    """The whole in one sentence."""
    compared: Pieces
    """What was compared with what."""
    remarks: tuple[Pieces, ...]
    """What must be seen before anything else."""
    sections: tuple[ImpactSection, ...]
    notes: tuple[str, ...] = ()
    """What is to be known besides."""


def with_most_rows(view: ImpactView, most: int) -> ImpactView:
    """Return a view with at most so many rows in each section; each says how many it leaves out."""
    return replace(
        view,
        sections=tuple(
            replace(each, rows=each.rows[:most], left_out=each.count - len(each.rows[:most])) for each in view.sections
        ),
    )
