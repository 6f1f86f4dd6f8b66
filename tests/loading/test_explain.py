"""Every error that the models can give has its words."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.errors import GeneratorFailed
from generator.loading import explain
from generator.loading.explain import WORDINGS, checked, nearest
from generator.loading.model_keys import known_keys
from generator.loading.text_forms import FORMS
from generator.loading.yaml_source import read_yaml
from generator.model.base import NOT_RECORDED_TAG, RECORDED_TAG, Frozen
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.people import Consent, Publication, Tester, Wearer
from generator.model.reference import CautionRule, Criterion, Method, Protocol, ScaleLandmark
from tests.loading.example_records import GOOD

MODELS: tuple[type[Frozen], ...] = (
    Device,
    DeviceTest,
    Instrument,
    Publication,
    Tester,
    Wearer,
    Criterion,
    Protocol,
    Method,
    CautionRule,
    ScaleLandmark,
)

# Which errors each kind of schema gives for JSON in strict mode, and by which constraint.
# source: pydantic 2.14, documentation "Validation Errors", and the error types of its core schema
ERRORS_OF_SCHEMA: dict[str, dict[str, str]] = {
    "model": {"": "model_type"},
    "model-fields": {"": "missing"},
    "model-field": {"": "extra_forbidden"},
    "str": {
        "": "string_type",
        "min_length": "string_too_short",
        "max_length": "string_too_long",
        "pattern": "string_pattern_mismatch",
    },
    "int": {
        "": "int_type",
        "ge": "greater_than_equal",
        "gt": "greater_than",
        "le": "less_than_equal",
        "lt": "less_than",
    },
    "float": {
        "": "float_type",
        "ge": "greater_than_equal",
        "gt": "greater_than",
        "le": "less_than_equal",
        "lt": "less_than",
        "allow_inf_nan": "finite_number",
    },
    "bool": {"": "bool_type"},
    "date": {"": "date_type", "strict": "date_parsing"},
    "enum": {"": "enum"},
    "literal": {"": "literal_error"},
    "tuple": {"": "tuple_type", "min_length": "too_short", "max_length": "too_long"},
    "dict": {"": "dict_type", "min_length": "too_short", "max_length": "too_long"},
    # These give no error of their own: each error comes from what is inside, or from `quantity_problem`.
    "nullable": {},
    "default": {},
    "union": {},
    "tagged-union": {},
    "function-before": {},
    "function-after": {},
    "definitions": {},
    "definition-ref": {},
    "none": {},
    "no-info": {},
}


def schemas_in(schema: Any) -> Iterator[dict[str, Any]]:
    """Go through a core schema and everything inside it."""
    if isinstance(schema, dict):
        if isinstance(schema.get("type"), str):
            yield schema
        for key, inside in schema.items():
            if key not in ("metadata", "serialization"):
                yield from schemas_in(inside)
    elif isinstance(schema, list | tuple):
        for inside in schema:
            yield from schemas_in(inside)


@pytest.mark.parametrize("model", MODELS)
def test_every_error_type_of_a_model_has_its_words(model: type[Frozen]) -> None:
    schemas = list(schemas_in(model.__pydantic_core_schema__))
    assert {schema["type"] for schema in schemas} <= ERRORS_OF_SCHEMA.keys()
    possible = {
        error
        for schema in schemas
        for constraint, error in ERRORS_OF_SCHEMA[schema["type"]].items()
        if constraint in ("", "allow_inf_nan", "strict") or schema.get(constraint) is not None
    }
    assert possible <= WORDINGS.keys()


@pytest.mark.parametrize("model", MODELS)
def test_every_text_pattern_has_its_words(model: type[Frozen]) -> None:
    patterns = {
        schema["pattern"] for schema in schemas_in(model.__pydantic_core_schema__) if schema.get("pattern") is not None
    }
    assert patterns <= FORMS.keys()


def places_in(data: Any) -> list[tuple[str | int, ...]]:
    """Return the way to every value inside."""
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    ways: list[tuple[str | int, ...]] = []
    for step, inside in items:
        ways += [(step,), *((step, *way) for way in places_in(inside))]
    return ways


RECORDS: list[tuple[type[Frozen], Any]] = [
    (model, read_yaml((GOOD / name).read_bytes(), name).data)
    for model, name in (
        (DeviceTest, "device_tests/hood-march.yaml"),
        (DeviceTest, "device_tests/half-april.yaml"),
        (Device, "devices/hood.yaml"),
        (Instrument, "instruments/counter.yaml"),
        (Wearer, "wearers/finch.yaml"),
        (Publication, "publication.yaml"),
        (Protocol, "protocols/two-steps.yaml"),
        (Criterion, "criteria/bench-flow.yaml"),
    )
]
ANYTHING = st.sampled_from(
    [None, True, 0, -1, 2.5, 10**12, "", "x", "9" * 21_000, "5 L/min", [], [0], {}, {"x": 1}, {"not_recorded": 1}]
)


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_whatever_is_put_into_a_record_is_explained(data: st.DataObject) -> None:
    model, good = data.draw(st.sampled_from(RECORDS))
    record = copy.deepcopy(good)
    *way, last = data.draw(st.sampled_from(places_in(record)))
    inside = record
    for step in way:
        inside = inside[step]
    action = data.draw(st.sampled_from(["replace", "remove", "add"]))
    if action == "replace":
        inside[last] = data.draw(ANYTHING)
    elif action == "remove":
        del inside[last]
    elif isinstance(inside, dict):
        inside["surplus"] = data.draw(ANYTHING)
    # JSON is YAML, so that the loader reads what json writes.
    source = read_yaml(json.dumps(record).encode(), "f.yaml")
    found, problems = checked(source, model)
    assert (found is None) == bool(problems)
    try:
        model.model_validate_json(json.dumps(record))
    except ValidationError:
        assert problems
    assert all(problem.found and problem.expected and problem.remedy for problem in problems)
    assert all("<recorded>" not in problem.path and "<not recorded>" not in problem.path for problem in problems)


def test_an_error_type_without_words_fails_loudly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(explain, "WORDINGS", {})
    with pytest.raises(GeneratorFailed, match=r"f\.yaml: id: found the error type 'string_type' of a model"):
        checked(read_yaml(b"id: 3\n", "f.yaml"), Tester)


def test_a_problem_is_one_line_whatever_the_record_holds() -> None:
    content = rb'given: "\u200b[31m2025\n-\u200e01"' + b"\n"
    _, problems = checked(read_yaml(content, "f\n.yaml"), Consent)
    assert str(problems[0]).startswith(
        "f .yaml:1:8: given [not-a-date]: found the text `U+200B[31m2025 -U+200E01` "
        "(character 1 is U+200B ZERO WIDTH SPACE), expected a day"
    )


def test_known_keys_follow_the_way_to_a_mapping() -> None:
    # source: the keys of the models, by hand
    assert known_keys(Tester, ()) == ("id", "version", "pseudonym", "disclosure")
    assert known_keys(Device, ("consumables", 0)) == ("item", "price", "lasts")
    assert known_keys(Device, ("filter", RECORDED_TAG)) == ("stated_class", "media_area", "count")
    assert known_keys(Device, ("filter", NOT_RECORDED_TAG)) == ("not_recorded",)


def test_the_nearest_name_is_suggested_only_where_one_is_near() -> None:
    assert nearest("wearar", ("wearer", "tester")) == "wearer"
    assert nearest("zzz", ("wearer", "tester")) is None
