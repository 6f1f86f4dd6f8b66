"""An independent validator holds every PDF of the demo against PDF/UA-1 (ISO 14289-1)."""

from pathlib import Path
from typing import Protocol

import page
import pytest
import weasyprint

GOOD = '<html lang="en"><head><title>Sheet</title></head><body><h1>One</h1><p>Text</p></body></html>'
WITHOUT_LANGUAGE = "<html><head><title>Sheet</title></head><body><h1>One</h1></body></html>"
WITHOUT_TEXT_ALTERNATIVE = (
    '<html lang="en"><head><title>Sheet</title></head><body><h1>One</h1>'
    '<svg width="9" height="9" viewBox="0 0 9 9"><rect width="5" height="5"/></svg></body></html>'
)


class Complaints(Protocol):
    """What the fixture gives: the library's complaints, which are expected here."""

    heard: list[str]


def faults(content: bytes) -> list[str]:
    report = page.validate_pdf_bytes(content, profile=page.ValidationProfile.PDF_UA_1)
    return [f"{failure.rule_id}: {failure.message}" for failure in report.failures]


def sheet(markup: str) -> bytes:
    return bytes(weasyprint.HTML(string=markup).write_pdf(pdf_variant="pdf/ua-1"))


def test_the_validator_has_nothing_to_say_of_a_good_sheet() -> None:
    assert faults(sheet(GOOD)) == []


@pytest.mark.parametrize(
    ("markup", "rule"),
    [(WITHOUT_LANGUAGE, "LANGUAGE"), (WITHOUT_TEXT_ALTERNATIVE, "FIGURE-ALTERNATIVE-TEXT")],
)
def test_the_validator_finds_planted_faults(markup: str, rule: str, complaints: Complaints) -> None:
    # source: ISO 14289-1:2014, 7.2 (natural language) and 7.3 (graphics), from memory
    assert any(rule in fault for fault in faults(sheet(markup)))
    complaints.heard.clear()


def test_every_pdf_of_the_demo_is_accessible(demo_site: Path) -> None:
    pdfs = sorted(demo_site.rglob("*.pdf"))
    assert len(pdfs) >= 8
    assert [f"{pdf.name}: {fault}" for pdf in pdfs for fault in faults(pdf.read_bytes())] == []
