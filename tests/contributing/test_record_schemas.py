"""The JSON Schemas of records, held against a validator from elsewhere, the demo, the bad examples and the models."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from jsonschema.exceptions import best_match
from ruamel.yaml import YAML
from ruamel.yaml.constructor import SafeConstructor

from generator.contributing.record_schemas.schemas import record_schema
from generator.loading.record_kinds import RECORD_KINDS
from generator.loading.yaml_source import WHOLE_RECORD, path_text, read_yaml
from tests.conftest import ROOT
from tests.loading.example_records import BAD, GOOD, apply, good_copy, read_bad_example

SCHEMAS = {kind: record_schema(kind) for kind in RECORD_KINDS}
JUDGES = {kind: Draft202012Validator(schema) for kind, schema in SCHEMAS.items()}
KIND_OF_FOLDER = {record.place.partition("/")[0]: kind for kind, record in RECORD_KINDS.items()}
EVERY_KIND = pytest.mark.parametrize("kind", RECORD_KINDS)

# What a schema of one file cannot see: what lies in other files, order and sums, and how YAML itself was written.
NEVER_SEEN = {
    "aerosol-not-named", "alarm-time", "alarms-order", "ambient-missing", "ambient-not-expected", "blower-missing",
    "blower-not-expected", "consent-after-test", "counted-flow-unknown", "curve-of-another-state", "dates-out-of-order",
    "duplicate-key", "exercise-not-of-protocol", "exercises-missing", "exercises-out-of-order", "fit-factor-expected",
    "flow-not-expected", "id-already-used", "id-not-file-name", "key-not-text", "key-too-long", "letter-already-used",
    "log-changed", "log-missing", "log-second-channel", "log-shared", "merge-key-not-allowed", "more-than-read",
    "name-already-used", "partial-with-all-exercises", "picture-missing", "points-order", "rule-after-test",
    "timetable-order", "unknown-reference", "unknown-setting", "wrong-instrument",
    "out-of-bounds",  # a pattern does not count
    "not-finite", "number-leading-zero", "number-too-long",  # our reading leaves no value there
}  # fmt: skip
SEEN_AT_TIMES = {
    "not-a-whole-number": {"not-a-whole-number"},  # 1.0 is a whole number to a schema
    "instrument-missing": {"instrument-missing-beside-another-principle"},  # it hangs on the protocol
    "series-columns": {"series-columns-one-for-two"},  # two texts that are the same
}
"""Slugs that a schema sees in some examples, and those in which it does not."""


class CoreConstructor(SafeConstructor):
    """Reads YAML 1.2 by its core schema, which knows no dates."""


CoreConstructor.add_constructor("tag:yaml.org,2002:timestamp", lambda _self, node: node.value)


def records(kind: str) -> list[Path]:
    """Return the demo's and the examples' records of a kind."""
    pattern = RECORD_KINDS[kind].place.replace("<id>", "*")
    return [path for folder in (ROOT / "records", GOOD) for path in sorted(folder.glob(pattern))]


def faults(kind: str, content: Any) -> list[str]:
    return [f"{error.json_path}: {error.message}" for error in JUDGES[kind].iter_errors(content)]


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Go through a schema and every schema in it."""
    if isinstance(schema, dict):
        yield schema
        for inside in schema.values():
            yield from parts(inside)
    elif isinstance(schema, list):
        for inside in schema:
            yield from parts(inside)


def keys_of(kind: str) -> Iterator[tuple[str, dict[str, Any], bool]]:
    """Go through the keys of a kind of record: where, the schema, whether it is needed."""
    for name, part in [(kind, SCHEMAS[kind]), *SCHEMAS[kind].get("$defs", {}).items()]:
        for key, written in part.get("properties", {}).items():
            yield f"{name}.{key}", written, key in part.get("required", ())


@EVERY_KIND
def test_a_schema_is_one_by_the_metaschema(kind: str) -> None:
    Draft202012Validator.check_schema(SCHEMAS[kind])
    # source: JSON Schema Core 2020-12, 8.1.1 and 8.2.1
    assert SCHEMAS[kind]["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert SCHEMAS[kind]["$id"] == f"urn:inward:record:{kind}"


@EVERY_KIND
def test_a_schema_needs_no_other_file_and_holds_nothing_that_it_does_not_use(kind: str) -> None:
    used = {part["$ref"] for part in parts(SCHEMAS[kind]) if "$ref" in part}
    assert used == {f"#/$defs/{name}" for name in SCHEMAS[kind].get("$defs", {})}


@EVERY_KIND
def test_every_record_is_as_its_schema_says(kind: str) -> None:
    found = records(kind)
    assert found
    assert {path.name: faults(kind, read_yaml(path.read_bytes(), path.name).data) for path in found} == {
        path.name: [] for path in found
    }


@EVERY_KIND
def test_a_record_read_by_another_library_is_as_its_schema_says(kind: str) -> None:
    # One of each kind: tests/loading/test_same_reading.py holds our reading of every record to another one.
    path = records(kind)[0]
    library = YAML(typ="safe", pure=True)
    library.Constructor = CoreConstructor
    content = library.load(path.read_bytes())
    assert content == read_yaml(path.read_bytes(), path.name).data
    assert faults(kind, content) == []


def seen(kind: str, path: Path, file: str, told: list[str]) -> tuple[set[str], set[str]]:
    """Return the slugs of a file's problems in whose place the schema has a fault too, and those where it has none."""
    source = read_yaml(path.read_bytes(), file)
    # Of a value that may be this or that, the fault within what it seems to be, not that it is neither.
    errors = [best_match([error]) for error in JUDGES[kind].iter_errors(source.data)]
    places = [path_text(tuple(error.absolute_path)) for error in errors]
    caught: set[str] = set()
    missed: set[str] = set()
    for line in told:
        where, slug = re.match(r"\S+ (.+?) \[([a-z0-9-]+)\]: ", line).groups()  # type: ignore[union-attr]
        near = any(WHOLE_RECORD in (each, where) or where.startswith(each) or each.startswith(where) for each in places)
        (caught if near else missed).add(slug)
    return caught, missed


def test_bad_examples_are_seen_as_far_as_one_file_shows_them_and_good_files_never(tmp_path: Path) -> None:
    caught: dict[str, set[str]] = {}
    missed: dict[str, set[str]] = {}
    for path in BAD:
        example = read_bad_example(path)
        folder = good_copy(tmp_path / path.stem)
        apply(example, folder)
        for file in sorted({*example.changed_files, *(line.partition(":")[0] for line in example.expected)}):
            record = folder / file
            kind = KIND_OF_FOLDER.get(file.partition("/")[0])
            told = [line for line in example.expected if line.startswith(f"{file}:")]
            if kind is None or not record.exists() or not read_yaml(record.read_bytes(), file).readable:
                continue
            if not told:
                assert faults(kind, read_yaml(record.read_bytes(), file).data) == [], (path.stem, file)
            here, not_here = seen(kind, record, file, told)
            for slugs, found in ((here, caught), (not_here, missed)):
                for slug in slugs:
                    found.setdefault(slug, set()).add(path.stem)
    assert set(missed) - set(caught) == NEVER_SEEN
    assert {slug: missed[slug] for slug in set(missed) & set(caught)} == SEEN_AT_TIMES
    # The slugs that tell of one value, one key, or keys of one part.
    assert len(caught) >= 43


@EVERY_KIND
def test_every_key_says_what_it_means_and_nothing_is_filled_in(kind: str) -> None:
    for where, written, needed in keys_of(kind):
        meant = written.get("description", SCHEMAS[kind].get("$defs", {}).get(written.get("$ref", "")[8:], {}))
        assert meant, where
        assert written.get("default", "something") not in (None, []), where
        # An editor puts 0, or the one example there is, into a key that is needed.
        if needed and "default" not in written and written.get("type") in ("number", "integer", "string"):
            proposed = [*written.get("examples", []), *written.get("enum", [])]
            assert len(proposed) != 1, where
            assert proposed or written["type"] == "string", where


def test_every_quantity_and_every_value_of_a_list_is_explained() -> None:
    everything = [part for schema in SCHEMAS.values() for part in parts(schema)]
    quantities = [part for part in everything if "[0-9]{1,12}" in str(part.get("pattern"))]
    assert len(quantities) > 50
    for part in quantities:
        assert len(part["examples"]) == 2
        assert part["errorMessage"].startswith("Expected a number and a unit, such as `")
    choices = [part for part in everything if "enumDescriptions" in part]
    # Counted by hand in the models: 22 enumerations that a record can hold, some of them in several kinds.
    assert len({part["title"] for part in choices}) == 22
    assert all(len(part["enumDescriptions"]) == len(part["enum"]) for part in choices)


@EVERY_KIND
def test_every_example_and_default_is_as_its_schema_says(kind: str) -> None:
    for part in parts(SCHEMAS[kind]):
        for example in [*part.get("examples", ()), *([part["default"]] if "default" in part else ())]:
            judge = Draft202012Validator({**part, "$defs": SCHEMAS[kind].get("$defs", {})})
            assert list(judge.iter_errors(example)) == [], (part, example)


def test_hover_over_a_kind_of_device_and_over_a_quantity() -> None:
    kinds = SCHEMAS["device"]["$defs"]["DeviceKind"]
    told = dict(zip(kinds["enum"], kinds["enumDescriptions"], strict=True))
    assert told["elastomeric_half_facepiece"] == (
        "A half mask of rubber or the like with filters on it; it seals round mouth and nose."
    )
    room = SCHEMAS["device_test"]["$defs"]["Environment"]["properties"]
    assert room["temperature"]["description"] == (
        "The temperature of the room. A number and a unit, such as `21.5 degC`: temperature, at least -40 degC and at "
        "most 80 degC, in `degC`, `degF`, `K`."
    )
    assert room["humidity"] == {
        "anyOf": [
            {
                "errorMessage": "Expected a number and a unit, such as `45 %`: ratio, at least 0 and at most 100 %, in "
                "`1`, `%`, `ppm`.",
                "examples": ["45 %", "410 ppm"],
                "pattern": r"^[+-]?(?:[0-9]{1,12})(?:\.[0-9]{1,12})?(?:[eE][+-]?[0-9]{1,2})?(?: 1| ?%| ?ppm)$",
                "type": "string",
            },
            {"$ref": "#/$defs/NotRecorded"},
        ],
        "description": "The relative humidity. A number and a unit, such as `45 %`: ratio, at least 0 and at most "
        "100 %, in `1`, `%`, `ppm`.",
    }


def test_schemas_are_the_same_each_time() -> None:
    assert json.dumps({kind: record_schema(kind) for kind in RECORD_KINDS}) == json.dumps(SCHEMAS)
