"""The part of the record guide that explains results as JSON, made from the result models."""

from __future__ import annotations

import datetime
import inspect
import re
from collections.abc import Iterator, Mapping
from enum import Enum
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from generator.command_line.guide_headings import described, link
from generator.loading.model_keys import parts_of
from generator.loading.record_kinds import heading
from generator.model.base import Frozen, NotRecorded
from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import ComparisonResult
from generator.model.configuration import ChangeCosts
from generator.model.field_meanings import field_meanings
from generator.model.instrument_result import InstrumentResult
from generator.model.quantity import Quantity, QuantityOf
from generator.model.result import RecordResult, TopicResult, TopicSummary
from generator.scoring.registry import scored_topics

RESULT_HEADING = "Results as JSON"
PRINTED: tuple[tuple[str, type[Frozen]], ...] = (
    ("a test record", RecordResult),
    ("a device", DeviceResult),
    ("a comparison", ComparisonResult),
    ("an instrument", InstrumentResult),
)
"""What `inward score <id> --format json` prints."""
OF_RECORDS: tuple[type[Frozen], ...] = (NotRecorded, ChangeCosts)
"""Parts of results that records hold too, and that the guide explains there."""

_OPENING = """\
`inward score <id> --format json` prints the result of one thing, every number at full precision. Each key is there
every time; what there is none of is `null`, an empty list or an empty object. Units stand beside their numbers, or in
the tables below. Keys may be added; none changes its meaning without a line in the changelog.
"""
INSTRUMENTS = "The instruments that the test used, by id: each an [instrument result](#instrument-result)."
SCHEMA = "The address of the JSON Schema that describes this file."
RECORD_FILE = {
    "$schema": SCHEMA,
    "published_record": "The [device test](#device-test) as published: wearers by their letters, without what stays "
    "in the house.",
    "record_sha256": "SHA-256 of the record's file.",
    "made_with": "The version of this program and of each library that took part, by name.",
    "results": "Four lists. `sessions`: of each [session result](#session-result) how it ended and whether it counts. "
    "`figures`, `verdicts` and `findings`: as below, without workings.",
}
"""The keys of `records/<id>.json` in the published site."""
CATALOGUE_FILE = {
    "$schema": SCHEMA,
    "made_with": "The version of this program and of each library that took part, by name.",
    "publication": "The [publication](#publication).",
    "wearers": "The letters of all wearers.",
    "devices": "Each [device](#device), by id.",
    "instruments": "Each [instrument](#instrument), by id.",
    "instrument_results": "Each [instrument result](#instrument-result), by id.",
    "testers": "Each [tester](#tester), by id.",
    "protocols": "Each [protocol](#protocol), by id, published ones too.",
    "criteria": "Each [criterion](#criterion), by id, published ones too.",
    "comparisons": "Each [comparison](#comparison) that a reviewer made, by id.",
    "comparison_results": "Each [comparison result](#comparison-result), by id, those of kinds too, without workings.",
    "records": "The ids of the test records, each of which has a file of its own.",
    "attempts": "By device, how many sessions were completed, left out, aborted, voided or withdrawn, as in the "
    "[fit summary](#fit-summary).",
    "pictures": "SHA-256 of each picture, by its place in the site.",
    "logs": "SHA-256 of each raw log as it was recorded, by its place below `data/`.",
    "series": "The same of logs of flow, pressure, voltage and current.",
    "published_logs": "SHA-256 of each log as it is published below `data/`: without other columns, in base units.",
}
"""The keys of `data/catalogue.json` in the published site."""


def result_guide() -> str:
    """Return the section on results as Markdown."""
    sections = [f"## {RESULT_HEADING}\n\n{_OPENING}", _printed()]
    sections.append(_file("records/<id>.json", RECORD_FILE))
    sections.append(_file("data/catalogue.json", CATALOGUE_FILE))
    sections += [
        f"### {heading(model)}\n\n{_words(described(model))}\n\n{keys_table(model)}" for model in result_models()
    ]
    return "\n".join(sections)


def result_models() -> tuple[type[Frozen], ...]:
    """Return every model that a printed result may hold, each before its parts."""
    found: dict[type[Frozen], None] = {}
    for _, model in PRINTED:
        found |= dict.fromkeys(_with_parts(model, set(found)))
    return tuple(model for model in found if model not in OF_RECORDS)


def _with_parts(model: type[Frozen], told: set[type[Frozen]]) -> Iterator[type[Frozen]]:
    if model in told:
        return
    told.add(model)
    if model in (TopicResult, TopicSummary):
        for topic in _of_topics(model):
            yield from _with_parts(topic, told)
        return
    yield model
    for known in model.model_fields.values():
        for part in parts_of(known.annotation):
            yield from _with_parts(part, told)


def _of_topics(base: type[Frozen]) -> tuple[type[Frozen], ...]:
    scored_topics()  # their modules define what stands for the base in a result
    return tuple(sorted(base.__subclasses__(), key=lambda model: model.__name__))


def _printed() -> str:
    rows = ["| `<id>` of | prints |", "| --- | --- |"]
    for what, model in PRINTED:
        more = " with one more key, `instruments`" if model is RecordResult else ""
        rows.append(f"| {what} | {link(model)}{more} |")
    return "\n".join([*rows, "", f"`instruments`: {INSTRUMENTS}\n"])


def _file(name: str, keys: dict[str, str]) -> str:
    rows = ["| key | what it holds |", "| --- | --- |", *(f"| `{key}` | {words} |" for key, words in keys.items())]
    return f"The published site holds `{name}`:\n\n" + "\n".join(rows) + "\n"


def keys_table(model: type[Frozen]) -> str:
    """Return the table of a printed model's keys."""
    hints, meanings = get_type_hints(model, include_extras=True), field_meanings(model)
    rows = ["| key | form | what it holds |", "| --- | --- | --- |"]
    rows += [f"| `{name}` | {_form(hints[name])} | {_words(meanings.get(name, ''))} |" for name in model.model_fields]
    return "\n".join(rows) + "\n"


def _words(text: str) -> str:
    """Write a description for readers of JSON, in one line."""
    return re.sub(r"\bNone\b", "null", " ".join(text.split()))


def _form(hint: Any, extras: tuple[Any, ...] = ()) -> str:
    """Say in words what a type hint becomes in JSON."""
    origin, arguments = get_origin(hint), get_args(hint)
    if origin is Annotated:
        inner, *more = arguments
        return _form(inner, (*extras, *more))
    if origin in (Union, UnionType):
        forms = [_form(each) for each in arguments if each is not NoneType]
        return " or ".join(dict.fromkeys(forms)) + (", or null" if NoneType in arguments else "")
    if origin is tuple:
        return f"list; each: {_form(arguments[0])}"
    if origin in (dict, Mapping):
        return f"object, by name; each: {_form(arguments[1])}"
    if hint is NotRecorded:
        return "`{not_recorded: <reason>}`"
    if hint is Quantity:
        return next(f"text, such as `{extra.example}`" for extra in extras if isinstance(extra, QuantityOf))
    if inspect.isclass(hint) and issubclass(hint, Frozen):
        models = _of_topics(hint) if hint in (TopicResult, TopicSummary) else (hint,)
        return " or ".join(link(model) for model in models)
    return _simple_form(hint)


def _simple_form(hint: type) -> str:
    if issubclass(hint, Enum):
        return " or ".join(f"`{each.value}`" for each in hint)
    return {bool: "`true` or `false`", int: "whole number", float: "number", str: "text"}.get(
        hint, "day, such as `2025-03-14`" if hint is datetime.date else hint.__name__
    )
