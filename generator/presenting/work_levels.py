"""The printed breathing demands as a table, each with its source."""

from __future__ import annotations

from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import sentence_case, source_text


def work_levels_table(context: Context) -> Table:
    """Return every level of work with its minute volume, its peak and what one is to the other."""
    rows = tuple(
        Row(
            (
                Cell(sentence_case(level.name), note=level.work),
                Cell(quantity_text(level.minute_volume, "1")),
                Cell(quantity_text(level.peak, "1")),
                Cell(quantity_text(level.ratio, "1", 3)),
                Cell("yes" if level.speaking else "no"),
                Cell(source_text(level.source)),
            ),
            f"work-level-{level.id}",
        )
        for level in context.catalogue.work_levels
    )
    columns = (
        Column("Work"),
        Column("Minute volume", "L/min", numeric=True),
        Column("Peak flow", "L/min", numeric=True),
        Column("Peak over minute volume", numeric=True),
        Column("Speaking"),
        Column("Source"),
    )
    return Table("work-levels-table", "Breathing demand as printed, in the order of the peaks", columns, rows)
