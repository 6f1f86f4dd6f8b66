"""Claims, approvals and letters: page, the results as JSON and paper say the same.

Expected texts are put together from the JSON that `inward score` prints and from the records, without the code that
words them. Numbers are compared to the three digits that a factor or a flow is shown with.
"""

from __future__ import annotations

import io
import json
import re
import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pypdf
import pytest
import yaml
from lxml import html

from generator.command_line import run

DEVICES = ("brindlecombe-half", "furzecroft-visor", "mothwing-hood", "osierfold-visor")
OUTCOMES = {
    "supported": "supported by these tests",
    "contradicted": "contradicted by these tests",
    "undecided": "undecided by these tests",
    "not_tested": "not tested",
}
COVERAGES = {
    "within": "within what the approval names, as far as recorded",
    "outside": "outside the approval",
    "not_recorded": "not recorded",
}


@dataclass(frozen=True)
class Told:
    """A published site and the records it was made from."""

    records: Path
    site: Path

    def page(self, device: str) -> html.HtmlElement:
        return html.fromstring((self.site / f"devices/{device}.html").read_bytes())

    def device(self, device: str) -> dict[str, Any]:
        document: dict[str, Any] = yaml.safe_load((self.records / f"devices/{device}.yaml").read_text(encoding="utf-8"))
        return document


@cache
def paper(path: Path) -> str:
    reader = pypdf.PdfReader(io.BytesIO(path.read_bytes()))
    return squeezed("".join(page.extract_text() for page in reader.pages))


def squeezed(text: str) -> str:
    """Leave out spaces and hyphens, which paper puts in and takes away at the ends of lines."""
    return re.sub(r"[\s\u202f\u00ad-]+", "", text)


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> Told:
    folder = tmp_path_factory.mktemp("makers")
    records, site = folder / "records", folder / "site"
    shutil.copytree(demo_records, records, ignore=shutil.ignore_patterns("comparisons"))
    for path in [*records.glob("devices/*.yaml"), *records.glob("device_tests/*.yaml")]:
        if not path.name.startswith(DEVICES):
            path.unlink()
    texts = "".join(path.read_text(encoding="utf-8") for path in records.rglob("*.yaml"))
    for path in [*(records / "pictures").iterdir(), *(records / "logs").iterdir()]:
        if path.name not in texts:
            path.unlink()
    assert run(["publish", "--records", str(records), "--output", str(site)]) == 0
    return Told(records, site)


def scored(told: Told, device: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """Return what `inward score --format json` prints of a device."""
    capsys.readouterr()
    assert run(["score", device, "--records", str(told.records), "--format", "json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def text_of(element: html.HtmlElement) -> str:
    return " ".join(str(element.text_content()).replace("\u202f", " ").split())


def text_at(page: html.HtmlElement, identity: str) -> str:
    (element,) = page.xpath("//*[@id=$identity]", identity=identity)
    return text_of(element)


def number_in(text: str) -> float:
    match = re.search(r"\d[\d ]*(\.\d+)?", text)
    assert match is not None, text
    return float(match[0].replace(" ", ""))


@pytest.mark.parametrize("device", DEVICES)
def test_a_claim_is_the_same_on_page_in_json_and_on_paper(
    device: str, told: Told, capsys: pytest.CaptureFixture[str]
) -> None:
    page, recorded = told.page(device), told.device(device)["claims"]
    claims = scored(told, device, capsys)["claims"]
    assert [claim["number"] for claim in claims] == list(range(1, len(recorded) + 1))
    for claim, said in zip(claims, recorded, strict=True):
        name = f"claim-{claim['number']}"
        assert text_at(page, name).startswith(f"“{said['quotation']}” {said['where']}, read on ")
        outcome = f"{OUTCOMES[claim['outcome']]} {claim['reason']}"
        assert text_at(page, f"{name}-outcome") == outcome
        if claim["figure"] is None:
            assert text_at(page, f"{name}-measured") == "nothing"
        else:
            assert number_in(text_at(page, f"{name}-claimed")) == pytest.approx(claim["claimed"])
            (link,) = page.xpath("//*[@id=$identity]//a", identity=f"{name}-measured")
            assert number_in(text_of(link)) == pytest.approx(claim["figure"]["value"], rel=5e-3)
            assert link.get("href") == f"../records/{claim['record']}.html#working.{claim['figure']['key']}"
        row = "".join(text_of(cell) for cell in page.xpath("//*[@id=$identity]/*", identity=name))
        assert squeezed(row) in paper(told.site / f"devices/{device}.pdf")


def test_the_demo_shows_a_claim_that_is_contradicted_and_warns_of_it(
    told: Told, capsys: pytest.CaptureFixture[str]
) -> None:
    contradicted = {
        device: claims
        for device in DEVICES
        if (claims := [c for c in scored(told, device, capsys)["claims"] if c["outcome"] == "contradicted"])
    }
    assert contradicted
    for device in DEVICES:
        boxes = text_of(told.page(device).xpath("//*[@id='cautions']")[0])
        heading = "A measurement contradicts what the maker claims."
        assert (heading in boxes) == (device in contradicted), device


@pytest.mark.parametrize("device", ["brindlecombe-half", "furzecroft-visor"])
def test_an_approval_is_the_same_on_page_in_json_and_on_paper(
    device: str, told: Told, capsys: pytest.CaptureFixture[str]
) -> None:
    page, (approval,) = told.page(device), told.device(device)["approvals_stated"]
    coverages = scored(told, device, capsys)["approvals"]
    assert text_at(page, "approval-1-number") == approval["number"]
    assert text_at(page, "approval-1-covers") == approval["covers"]
    # source: both devices were tested once as the approval names them, and once otherwise
    assert {item["coverage"] for item in coverages} == {"within", "outside"}
    for item in coverages:
        outside = f": {'; '.join(item['outside'])}" if item["outside"] else ""
        words = f"{COVERAGES[item['coverage']]}{outside} {item['reason']}"
        assert text_at(page, f"approval-1-{item['record']}") == words
        assert squeezed(words) in paper(told.site / f"devices/{device}.pdf")


@pytest.mark.parametrize("device", ["brindlecombe-half", "osierfold-visor"])
def test_a_letter_and_its_reply_stand_in_full_on_page_and_paper(device: str, told: Told) -> None:
    page, sheet = told.page(device), paper(told.site / f"devices/{device}.pdf")
    for number, letter in enumerate(told.device(device)["correspondence"], start=1):
        words = text_at(page, f"letter-{number}")
        assert squeezed(words) in sheet
        links = page.xpath("//*[@id=$identity]//a/@href", identity=f"letter-{number}")
        assert [link for link in links if "/records/" in link] == [
            f"../records/{record}.html" for record in letter["records"]
        ]
        if "reply" in letter:
            reply = " ".join(letter["reply"]["text"].split())
            assert reply in words
        else:
            assert "No reply is on record." in words


@pytest.mark.parametrize("device", DEVICES)
def test_the_interests_of_publisher_and_testers_stand_beside_the_letters(device: str, told: Told) -> None:
    words = text_at(told.page(device), "maker")
    testers = {
        yaml.safe_load(path.read_text(encoding="utf-8"))["tester"]
        for path in (told.records / "device_tests").glob(f"{device}*.yaml")
    }
    files = [told.records / "publication.yaml", *(told.records / f"testers/{name}.yaml" for name in sorted(testers))]
    for path in files:
        disclosure = yaml.safe_load(path.read_text(encoding="utf-8"))["disclosure"]
        assert " ".join(disclosure.split()) in words
