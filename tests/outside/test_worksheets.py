"""Worksheets: an independent validator holds them against PDF/UA-1, another reader finds every box, on both papers."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from pathlib import Path

import page
import pytest

from generator.contributing.drafting.on_record import OnRecord, on_record
from generator.contributing.drafting.planned_on_record import planned_on_record
from generator.contributing.drafting.worksheet_file import worksheet_pdf
from generator.model.people import PaperSize
from tests.conftest import ROOT

# Eight exercises with outside air around each, and a blower: what takes most room.
RECORD = "tidewrack-full-2025-07"
SIZES = {PaperSize.A4: "(A4)", PaperSize.US_LETTER: "(letter)"}


@pytest.fixture(scope="module")
def known() -> OnRecord:
    return on_record(ROOT / "records")


def read(pdf: bytes, *command: str) -> str:
    return subprocess.run([*command], input=pdf, capture_output=True, check=True).stdout.decode()


@pytest.mark.parametrize("paper", list(PaperSize))
def test_a_worksheet_is_accessible_and_holds_every_box(paper: PaperSize, known: OnRecord, tmp_path: Path) -> None:
    assert known.publication is not None
    here = replace(known, publication=known.publication.model_copy(update={"paper": paper}))
    pdf = worksheet_pdf(planned_on_record(RECORD, known), here)
    report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
    assert [f"{failure.rule_id}: {failure.message}" for failure in report.failures] == []
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    assert SIZES[paper] in read(b"", "pdfinfo", str(path))
    text = " ".join(read(b"", "pdftotext", str(path), "-").split())
    for words in (
        "Invented demonstration",
        "Stop at once where",
        "zero check: filter on the counter’s inlet",
        "due on 24 November 2026 (certificate LM-2025-197)",
        "consent is on file",
        "Normal breathing again",
        "completed",
        "how, in words that do not tell who it was",
        "tester’s pseudonym, day",
        "End of the worksheet for tidewrack-full-2025-07.",
    ):
        assert words in text, words
    # Nine around the eight exercises of the first session; the protocol of the second takes them first and last.
    assert text.count("outside air") == 9 + 2


def test_a_session_takes_one_page(known: OnRecord, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(worksheet_pdf(planned_on_record(RECORD, known), known))
    for number, session in ((2, "c1"), (3, "c2")):
        text = read(b"", "pdftotext", "-f", str(number), "-l", str(number), str(path), "-")
        assert f"Session {session} " in text
        assert "something was done otherwise than the protocol says" in text
