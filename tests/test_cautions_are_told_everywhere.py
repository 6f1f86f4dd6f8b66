"""Cautions and instruments: what the results raise stands on the page and on paper, and nothing beside it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pypdf
import pytest
from lxml import html

from generator.command_line import run
from generator.loading import load_reference

DEVICES = ("mothwing-hood", "allotment-hood", "brindlecombe-half", "thriftleaf-fold", "sallowby-pleat")
METER = "vane-flow-meter"


def scored(name: str, records: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    capsys.readouterr()
    assert run(["score", name, "--records", str(records), "--format", "json"]) == 0
    return json.loads(capsys.readouterr().out)


def findings_of(result: Any) -> set[str]:
    own = result["findings"]
    topics = [finding for topic in result["topics"].values() for finding in topic["findings"]]
    return {finding["rule"] for finding in (*own, *topics)}


def page(site: Path, name: str) -> html.HtmlElement:
    return html.fromstring((site / name).read_bytes())


def paper(site: Path, device: str) -> str:
    reader = pypdf.PdfReader(site / "devices" / f"{device}.pdf")
    return " ".join(" ".join(part.extract_text().split()) for part in reader.pages)


@pytest.mark.parametrize("device", DEVICES)
def test_a_device_warns_of_what_its_results_raise(
    device: str, demo_site: Path, demo_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    result = scored(device, demo_records, capsys)
    raised = findings_of(result)
    for record in result["records"]:
        raised |= findings_of(scored(record, demo_records, capsys))
    rules = load_reference().caution_rules
    expected = {rule.heading for rule in rules if rule.when in raised}
    others = {rule.heading for rule in rules if rule.when not in {*raised, "always"}}
    shown = {
        " ".join(heading.text_content().split())
        for heading in page(demo_site, f"devices/{device}.html").xpath('//*[@id="cautions"]//h3')
    }
    assert shown == expected
    text = paper(demo_site, device)
    assert {heading for heading in expected if heading not in text} == set()
    assert {heading for heading in others if heading in text} == set()


def test_at_most_five_boxes_stand_open_and_the_worst_first(demo_site: Path) -> None:
    severity = {rule.heading: rule.severity for rule in load_reference().caution_rules}
    counts = []
    for path in sorted(demo_site.glob("devices/*.html")):
        boxes = page(demo_site, f"devices/{path.name}").xpath('//*[@id="cautions"]/section[@class="caution"]/h3')
        folded = page(demo_site, f"devices/{path.name}").xpath('//*[@id="cautions"]/details//h3')
        order = [severity[" ".join(box.text_content().split())] for box in (*boxes, *folded)]
        assert order == sorted(order)
        assert len(boxes) == min(len(order), 5)
        counts.append(len(order))
    assert max(counts) > 5


def test_a_meter_found_out_of_tolerance_marks_its_records_everywhere(
    demo_site: Path, demo_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    result = scored(METER, demo_records, capsys)
    affected = {record for calibration in result["calibrations"] for record in calibration["affected"]}
    shown = page(demo_site, f"instruments/{METER}.html").xpath('//*[starts-with(@id, "affected-")]/@id')
    assert {identity.removeprefix("affected-") for identity in shown} == affected
    # The day of the calibration that found it out, and the one before, as the record of the instrument has them.
    assert affected == {"allotment-hood-2025-06", "bellheather-hood-2025-06", "osierfold-visor-2025-05"}
    heading = "An instrument used here was later found to read wrongly."
    for record in affected:
        device = record.rsplit("-", 2)[0]
        assert heading in page(demo_site, f"records/{record}.html").text_content()
        assert heading in paper(demo_site, device)
