"""The worksheet of a planned test as a PDF file."""

from __future__ import annotations

import io
import os
from pathlib import Path

from pypdf import PdfReader

from generator.contributing.drafting.on_record import OnRecord
from generator.contributing.whole_files import write_new
from generator.errors import WrongUsage
from generator.model.people import Publication
from generator.model.planned_test import PlannedTest
from generator.presenting.letterhead import letterhead_of_worksheet
from generator.presenting.worksheet import present_worksheet
from generator.rendering.sheets import render_sheet

NOT_ON_RECORD = Publication(
    title="Worksheet",
    subtitle="not published",
    publisher="a publisher not on record yet",
    address="not on record yet",
    contact="nobody@publisher.example",
    base_address="https://publisher.example/",
    data_licence="none",
    disclosure="none",
    authorised_by="nobody",
    accredited_laboratory=False,
    invented=False,
    scenario="none",
)
"""What a worksheet is headed with before the publication's record is filled in; nothing of it is printed but A4."""


def worksheet_pdf(plan: PlannedTest, known: OnRecord) -> bytes:
    """Return the worksheet of a test."""
    view = present_worksheet(plan, known.protocols, known.good_instruments)
    return render_sheet(view, letterhead_of_worksheet(known.publication or NOT_ON_RECORD), {})


def write_worksheet(plan: PlannedTest, known: OnRecord, file: Path) -> int:
    """Write the worksheet of a test into a new file, and return its pages.

    Raises
    ------
    WrongUsage
        A file is there already, or cannot be written.
    """
    if os.path.lexists(file):
        raise WrongUsage(f"found `{file}` already, expected a name that is free. No worksheet is written over a file")
    content = worksheet_pdf(plan, known)
    try:
        write_new(file, content)
    except OSError as error:
        raise WrongUsage(f"`{file}` cannot be written: {error.strerror or error}. Name another file") from error
    return len(PdfReader(io.BytesIO(content)).pages)
