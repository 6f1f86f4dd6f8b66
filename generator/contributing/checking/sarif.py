"""What is told of records as SARIF 2.1.0, the OASIS standard that code hosts show beside the lines of a change."""

from __future__ import annotations

import hashlib
import os
import re
from collections import Counter
from pathlib import Path
from typing import Any
from urllib.parse import quote

from generator import __version__
from generator.contributing.checking.checked import Checked
from generator.contributing.checking.excerpts import Lines
from generator.contributing.checking.remarks import Level, Remark
from generator.contributing.checking.rules import explained, is_caution
from generator.loading.yaml_source import WHOLE_FILE

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
ROOT = "SRCROOT"
FINGERPRINT = "placeInRecord/v1"
_IN_A_LOG = re.compile(r"line [0-9]+")


def sarif_log(checked: Checked) -> dict[str, Any]:
    """Return what was checked as a SARIF log with one run."""
    rules = list(dict.fromkeys((remark.slug, remark.level) for remark in checked.remarks))
    lines = Lines(checked.contents)
    seen: Counter[str] = Counter()
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "inward",
                        "version": __version__,
                        "rules": [_rule(slug, level) for slug, level in rules],
                    }
                },
                "columnKind": "unicodeCodePoints",
                "originalUriBaseIds": {ROOT: {"description": {"text": "The root of the repository of the records."}}},
                "invocations": [{"executionSuccessful": True}],
                "results": [
                    _result(remark, rules.index((remark.slug, remark.level)), checked.root, lines, seen)
                    for remark in checked.remarks
                ],
            }
        ],
    }


def _level(slug: str, level: Level) -> str:
    if level is Level.PROBLEM:
        return "error"
    # What scoring notices is mostly a result; an unlikely number is mostly a slip.
    return "note" if is_caution(slug) else "warning"


def _rule(slug: str, level: Level) -> dict[str, Any]:
    explanation = explained(slug, level)
    return {
        "id": slug,
        "shortDescription": {"text": explanation.meaning},
        "fullDescription": {"text": f"{explanation.meaning} {explanation.remedy}"},
        "help": {"text": f"{explanation.remedy} The record guide explains it under `{slug}`."},
        "defaultConfiguration": {"level": _level(slug, level)},
    }


def _result(remark: Remark, rule: int, root: Path, lines: Lines, seen: Counter[str]) -> dict[str, Any]:
    uri = _uri(remark.file, root)
    place: dict[str, Any] = {"artifactLocation": {"uri": uri, "uriBaseId": ROOT}}
    if (remark.path, remark.line, remark.column) != (WHOLE_FILE, 1, 1):
        place["region"] = _region(remark, lines.line(remark))
    location: dict[str, Any] = {"physicalLocation": place}
    if not remark.path.startswith("("):
        location["logicalLocations"] = [{"fullyQualifiedName": remark.path}]
    return {
        "ruleId": remark.slug,
        "ruleIndex": rule,
        "level": _level(remark.slug, remark.level),
        "message": {"text": remark.message},
        "locations": [location],
        "partialFingerprints": {FINGERPRINT: _fingerprint(uri, remark, seen)},
    }


def _region(remark: Remark, line: str | None) -> dict[str, Any]:
    region: dict[str, Any] = {"startLine": remark.line, "startColumn": remark.column}
    if remark.end is not None:
        region |= {"endLine": remark.end[0], "endColumn": remark.end[1]}
    if line is not None and (remark.end is None or remark.end[0] == remark.line):
        end = None if remark.end is None else remark.end[1] - 1
        region["snippet"] = {"text": line[remark.column - 1 : end]}
    return region


def _uri(file: str, root: Path) -> str:
    # Always with slashes, and what an address may not hold as its number.
    return quote(Path(os.path.relpath(file, root)).as_posix())


def _fingerprint(uri: str, remark: Remark, seen: Counter[str]) -> str:
    """Return what stays the same when lines move: where in the record, by which rule, and what was found."""
    # The path of a place in a log is its line.
    place = "" if _IN_A_LOG.fullmatch(remark.path) else remark.path
    told = "\n".join((uri, place, remark.slug, remark.found))
    seen[told] += 1
    return hashlib.sha256(f"{told}\n{seen[told]}".encode()).hexdigest()[:32]
