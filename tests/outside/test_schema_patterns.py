"""The patterns of the schemas, in the regular expressions that JSON Schema means: those of ECMAScript, by a browser."""

from __future__ import annotations

import re

from playwright.sync_api import Browser

from generator.contributing.record_schemas.schemas import record_schema
from generator.loading.record_kinds import RECORD_KINDS
from generator.model.units import UNITS
from tests.contributing.test_record_schemas import parts

TEXTS = (
    *(f"{number}{gap}{unit.spelling}" for unit in UNITS for number in ("17.2", "0", "1e3") for gap in ("", " ", "  ")),
    "0.51", "17,2 L/min", "17.2 L/min\n", "2025-03-14", "2025-04-31", "first", "north-hood-2", "a--b", "1.2", "1.",
    "logs/a.csv", "logs/../a.csv", "pictures/a.png", "129.00 EUR", "a@b", "a@b\n", "", " ", "\n", "\u00a0", "bought",
    "https://reviews.example/catalogue/", "AB", "fit.first.overall", "٣ L/min", "0" * 64,
)  # fmt: skip
JUDGE = """([patterns, texts]) => patterns.map(pattern => {
    const expression = new RegExp(pattern, "u");
    return texts.filter(text => expression.test(text));
})"""


def test_every_pattern_is_one_with_the_flag_u_and_takes_what_ours_takes(browser: Browser) -> None:
    found = {part["pattern"] for kind in RECORD_KINDS for part in parts(record_schema(kind)) if "pattern" in part}
    patterns = sorted(found)
    assert len(patterns) > 25
    page = browser.new_page()
    taken = page.evaluate(JUDGE, [patterns, list(TEXTS)])
    page.close()
    for pattern, theirs in zip(patterns, taken, strict=True):
        ours = re.compile(f"{pattern[:-1]}\\Z" if pattern.endswith("$") else pattern)
        assert theirs == [text for text in TEXTS if ours.search(text)], pattern
