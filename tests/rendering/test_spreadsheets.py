"""Tables for spreadsheets: numbers in full, and no text of a record that would be taken for a formula."""

import csv
import io

import pytest

from generator.rendering.spreadsheets import harmless_cell


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("http://a.example")'])
def test_a_text_that_would_be_a_formula_is_made_text(text: str) -> None:
    # source: common practice, no source: an apostrophe in front, as spreadsheets themselves write it
    assert harmless_cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["", "Mask", "3 - 2", "a=b", "m@sk", "17.2"])
def test_other_texts_stay_as_they_are(text: str) -> None:
    assert harmless_cell(text) == text


@pytest.mark.parametrize(
    ("number", "shown"),
    [(-0.5, "-0.5"), (0.1 + 0.2, "0.30000000000000004"), (3, "3"), (None, ""), (True, "true"), (False, "false")],
)
def test_numbers_stay_numbers_at_full_precision(number: object, shown: str) -> None:
    # source: Python language reference: repr of a float reads back as the same float; Table Schema 1: true and false
    assert harmless_cell(number) == shown


def test_a_cell_reads_back_whole() -> None:
    stream = io.StringIO()
    csv.writer(stream).writerow([harmless_cell('=a,"b"\n;c')])
    assert next(csv.reader(io.StringIO(stream.getvalue()))) == ['\'=a,"b"\n;c']
