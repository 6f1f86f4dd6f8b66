"""Which figures a section shows: their ids in cells and blocks, and their workings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.model.result import Figure
from generator.presenting.views import Table, TopicSection


def tables_of(section: TopicSection) -> Iterator[Table]:
    yield from section.tables
    for block in section.blocks:
        if block.table is not None:
            yield block.table


def ids_of(section: TopicSection) -> list[str]:
    """Return the ids of cells, and the keys of figures in blocks."""
    in_cells = [cell.id for table in tables_of(section) for row in table.rows for cell in row.cells if cell.id]
    return in_cells + [figure.key for block in section.blocks for figure in block.figures]


def shown_once(figures: Sequence[Figure], section: TopicSection) -> None:
    """Check that each figure stands in a section once, and each with a value beside its working."""
    assert figures
    assert sorted(ids_of(section)) == sorted(figure.key for figure in figures)
    with_value = [figure.key for figure in figures if figure.value is not None]
    assert sorted(view.figure for view in section.workings) == sorted(with_value)
