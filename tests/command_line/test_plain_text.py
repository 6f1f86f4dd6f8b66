"""Tables as text: rows as sentences where a column of a terminal is too narrow, and which sections print theirs."""

from __future__ import annotations

from dataclasses import replace

from generator.command_line.plain_text import row_lines, section_lines
from generator.presenting.views import Cell, Column, Row, Table, TopicSection

TABLE = Table(
    "t",
    "Blower curve by setting.",
    (Column("Setting"), Column("Largest flow", "L/min", numeric=True), Column("What bears on it")),
    (
        Row((Cell("high", note="filter clean"), Cell("212", note="95 % interval 205 to 219"), Cell("none"))),
        Row((Cell("low"), Cell("not scored", note="one point only"), Cell("a sentence " * 12))),
    ),
)
SECTION = TopicSection("blower", "Blower", "blower", (), ("Two settings were measured.",), None, (TABLE,), (), ())


def test_rows_are_sentences_with_units_and_notes() -> None:
    lines = row_lines(TABLE)
    assert lines[:6] == [
        "Blower curve by setting:",
        "- high (filter clean)",
        "  Largest flow: 212 L/min (95 % interval 205 to 219)",
        "  What bears on it: none",
        "- low",
        "  Largest flow: not scored (one point only)",
    ]
    assert max(len(line) for line in lines) <= 80
    assert lines[6].startswith("  What bears on it: a sentence")
    assert all(line.startswith("    ") for line in lines[7:])
    assert " ".join(line.strip() for line in lines[6:]).count("a sentence") == 12


def test_a_figure_written_with_its_unit_gets_no_second_one() -> None:
    table = replace(TABLE, rows=(Row((Cell("high"), Cell("212 L/min"), Cell("none"))),))
    assert "  Largest flow: 212 L/min" in row_lines(table)


def test_the_caption_can_be_left_to_the_sentences_before() -> None:
    assert row_lines(TABLE, captioned=False) == row_lines(TABLE)[1:]


def test_a_section_prints_its_tables_only_where_no_sentence_tells_them() -> None:
    silent = section_lines(SECTION)
    assert silent == ["", "Blower", "------", "Two settings were measured."]
    told = section_lines(replace(SECTION, tables_told=True))
    assert told == [*silent, "", *row_lines(TABLE)]
