"""What a site says of its instruments follows from its own data; whatever is changed there is named."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.command_line import run
from tests.conftest import copy_small
from tests.contributing.verifying import verified

RECORD = "patchwork-cover-2025-03"
CALIBRATED = """\
calibrations:
  - date: 2024-12-03
    due: 2025-12-03
    laboratory: An invented bench
    certificate: X-1
    correction: 0 %
    expanded_uncertainty: 10 %
    k: 2.0
    as_found: {within_tolerance: true, found: read 1 % low}
  - date: 2025-06-20
    due: 2026-06-20
    laboratory: An invented bench
    certificate: X-2
    correction: 0 %
    expanded_uncertainty: 10 %
    k: 2.0
    as_found: {within_tolerance: false, found: read 30 % low; 10 % was agreed}
check_standards:
  - id: box
    what: the air of a closed box
    unit: /cm3
    centre: 2400
    standard_deviation: 70
    established: Thirty readings of another year.
    readings:
      - {date: 2025-02-01, value: 2390}
      - {date: 2025-03-01, value: 2700}
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> Path:
    """Publish the small device of the demo, its counter found out of tolerance and its last check beyond a limit."""
    folder = tmp_path_factory.mktemp("instruments")
    records = copy_small(demo_records, folder / "records")
    counter = records / "instruments" / "bench-counter.yaml"
    kept = counter.read_text(encoding="utf-8").partition("calibrations:")[0].partition("check_standards:")[0]
    counter.write_text(f"{kept.rstrip()}\n{CALIBRATED}", encoding="utf-8")
    assert run(["publish", "--records", str(records), "--output", str(folder / "output")]) == 0
    return folder / "output"


def changed(path: Path, pattern: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    again, count = re.subn(pattern, new, text, count=1)
    assert count == 1
    path.write_text(again, encoding="utf-8")


def test_an_untouched_site_is_what_its_records_give(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert f'id="affected-{RECORD}"' in (site / "instruments" / "bench-counter.html").read_text(encoding="utf-8")
    code, lines = verified(site, capsys)
    assert (code, len(lines)) == (0, 1)


@pytest.mark.parametrize(
    ("file", "pattern", "new", "named"),
    [
        (
            "instruments/bench-counter.html",
            r'(id="check\.box\.action_high">)2610',
            r"\g<1>2810",
            "#check.box.action_high",
        ),
        (
            "instruments/bench-counter.html",
            r'(id="check-box-chart-reading-2" d="M)[0-9.]+',
            r"\g<1>500",
            "#check-box-chart-reading-2",
        ),
        (
            "instruments/bench-counter.html",
            f'<li id="affected-{RECORD}".*?</li>',
            "",
            f"#affected-{RECORD}",
        ),
        ("data/catalogue.json", '"state": "beyond_action"', '"state": "inside"', "instrument_results.bench-counter"),
    ],
)
def test_what_is_changed_is_named(
    file: str, pattern: str, new: str, named: str, copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changed(copy / file, pattern, new)
    code, lines = verified(copy, capsys)
    assert code == 1
    assert any(line.startswith(f"{file}: ") and named in line for line in lines), lines
