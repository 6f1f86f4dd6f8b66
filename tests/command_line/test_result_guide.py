"""The guide to results as JSON: every key has its words, and what is printed has the keys that the guide lists."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from generator.command_line import run
from generator.command_line.guide_headings import anchor
from generator.command_line.record_guide import record_guide
from generator.command_line.result_guide import CATALOGUE_FILE, RECORD_FILE, RESULT_HEADING, result_models
from generator.loading.model_keys import parts_of
from generator.loading.record_kinds import heading
from generator.model.field_meanings import field_meanings
from generator.rendering.open_data import open_data
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_test

RECORDS = Path(__file__).resolve().parent.parent.parent / "records"
LINK = re.compile(r"\]\(#([a-z-]+)\)")
Table = dict[str, tuple[str, str]]
"""Key to its form and its words."""


@cache
def tables() -> dict[str, Table]:
    """Return the tables of the guide by the address of their heading, as a reader finds them."""
    found: dict[str, Table] = {}
    for part in re.split(r"^#{2,3} ", record_guide(), flags=re.M)[1:]:
        title, text = part.split("\n", 1)
        rows = [line.strip("| ").split(" | ") for line in text.splitlines() if line.startswith("| `")]
        found[title.lower().replace(" ", "-")] = {row[0].strip("`"): (row[-2], row[-1]) for row in rows}
    return found


def faults(value: Any, form: str, where: str) -> list[str]:
    """Follow the links of a form and return where a printed value has other keys than the guide lists."""
    linked = LINK.findall(form)
    if isinstance(value, list):
        return [fault for number, item in enumerate(value) for fault in faults(item, form, f"{where}[{number}]")]
    if not isinstance(value, dict) or (list(value) == ["not_recorded"] and "{not_recorded: <reason>}" in form):
        return []
    if form.startswith("object, by name"):
        inner = form.removeprefix("object, by name; each: ")
        return [fault for name, item in value.items() for fault in faults(item, inner, f"{where}.{name}")]
    matching = [tables()[name] for name in linked if list(tables()[name]) == list(value)]
    if not matching:
        return [f"{where}: {sorted(value)} is not what the guide lists for `{form}`"]
    return [fault for name, item in value.items() for fault in faults(item, matching[0][name][0], f"{where}.{name}")]


def printed(name: str, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert run(["score", name, "--records", str(RECORDS), "--format", "json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


@pytest.mark.parametrize(
    ("name", "root"),
    [
        # A log, counts, factors as given, flow; devices with configurations, claims and an approval, one nobody wore.
        ("leatfoot-full-2025-10", "record-result"),
        ("sandmartin-fold-2025-04", "record-result"),
        ("mothwing-hood-2025-09", "record-result"),
        ("brindlecombe-half", "device-result"),
        ("furzecroft-visor", "device-result"),
        ("kelderby-hood", "device-result"),
        ("kind-loose-powered-hood", "comparison-result"),
        ("vane-flow-meter", "instrument-result"),
        ("bench-counter", "instrument-result"),
    ],
)
def test_what_is_printed_has_the_keys_of_the_guide(name: str, root: str, capsys: pytest.CaptureFixture[str]) -> None:
    document = printed(name, capsys)
    if root == "record-result":
        instruments = document.pop("instruments")
        assert instruments
        for instrument in instruments.values():
            assert faults(instrument, "[](#instrument-result)", "instruments") == []
    assert faults(document, f"[](#{root})", name) == []


def test_a_key_that_the_guide_does_not_list_would_be_found(capsys: pytest.CaptureFixture[str]) -> None:
    document = printed("sandmartin-fold-2025-04", capsys)
    document.pop("instruments")
    document["topics"]["fit"]["sessions"][0]["overall"]["colour"] = "blue"
    (fault,) = faults(document, "[](#record-result)", "x")
    assert fault.startswith("x.topics.fit.sessions[0].overall: ['colour', ")


def test_every_key_of_every_result_has_its_words() -> None:
    models = result_models()
    without = [
        f"{model.__name__}.{name}"
        for model in models
        for name in model.model_fields.keys() - field_meanings(model).keys()
    ]
    assert without == []
    assert [model.__name__ for model in models if not model.__doc__] == []
    # Every part of a result is told of here, or is part of a record too.
    parts = {part for model in models for known in model.model_fields.values() for part in parts_of(known.annotation)}
    assert {anchor(part) for part in parts} - {"topic-result", "topic-summary", "not-recorded"} <= set(tables())


def test_the_heading_of_a_result_is_the_only_one_of_its_name() -> None:
    headings = [each.lower() for each in re.findall(r"^#{2,3} (.+)$", record_guide(), flags=re.M)]
    assert {headings.count(heading(model).lower()) for model in result_models()} == {1}
    assert headings.count(RESULT_HEADING.lower()) == 1


def test_the_guide_says_null_as_json_does() -> None:
    section = record_guide().split(f"## {RESULT_HEADING}\n")[1]
    assert re.findall(r"\bNone\b", section) == []


def test_the_files_of_the_site_have_the_keys_of_the_guide() -> None:
    site = shown(a_whole_catalogue(a_test([given(100.0)])))
    made = open_data(site.data, ())
    files = {name: json.loads(made[name]) for name in ("data/catalogue.json", "records/test.json")}
    assert list(files["data/catalogue.json"]) == list(CATALOGUE_FILE)
    assert list(files["records/test.json"]) == list(RECORD_FILE)
    results = files["records/test.json"]["results"]
    assert list(results) == ["sessions", "figures", "verdicts", "findings"]
    assert all(f"`{name}`" in RECORD_FILE["results"] for name in results)
    (session,) = results["sessions"]
    assert set(session) <= set(tables()["session-result"])
