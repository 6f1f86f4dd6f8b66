"""The record guide is what the code says, and explains every problem that can be told."""

import ast
import re
from pathlib import Path

from generator.command_line.record_guide import COMMAND, record_guide
from generator.contributing.checking.report import CheckRemark, CheckReport
from generator.contributing.checking.rules import finding_rules
from generator.loading.record_kinds import RECORD_KINDS
from generator.loading.slugs import SLUGS
from generator.model.base import Frozen
from generator.model.field_meanings import field_meanings
from tests.loading.example_records import BAD, read_bad_example

ROOT = Path(__file__).resolve().parent.parent.parent
GUIDE = ROOT / "records" / "README.md"
NOT_SLUGS = {"utf-8", "in-mask", "side-by-side", "north-hood-2", "north-hood-2025-03", "high-fresh"}
# Told of by tests of their own, since a file of text cannot hold the fault.
TESTED_ELSEWHERE = {
    "not-utf-8",
    "character-not-allowed",
    "file-too-large",
    "too-deep",
    "too-many-values",
    "outside-records",
    "unreadable-file",
    "too-many-items",
    "log-more-problems",
    "log-too-long",
    "more-problems",
    "changed-while-read",
    "picture-changed",
    "picture-unused",
    "picture-kind",
    "picture-broken",
    "picture-too-large",
    "picture-animated",
}


def slugs_in_the_code() -> set[str]:
    """Return every text in the code of loading and model that looks like a slug."""
    found: set[str] = set()
    for layer in ("loading", "model"):
        for path in (ROOT / "generator" / layer).rglob("*.py"):
            if path.name != "slugs.py":
                texts = (node.value for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Constant))
                found |= {
                    text for text in texts if isinstance(text, str) and re.fullmatch(r"[a-z]+(-[a-z0-9]+)+", text)
                }
    return found - NOT_SLUGS


def test_the_guide_is_up_to_date() -> None:
    assert GUIDE.read_text() == record_guide(), f"records/README.md is out of date; write it again: {COMMAND}"


def test_every_problem_is_explained_and_every_explanation_is_of_a_problem() -> None:
    assert slugs_in_the_code() == set(SLUGS)


def test_the_guide_explains_every_problem() -> None:
    text = GUIDE.read_text()
    assert [slug for slug in SLUGS if f'<a id="{slug}"></a>`{slug}`' not in text] == []


def test_the_guide_explains_every_finding() -> None:
    text = GUIDE.read_text()
    slugs = [slug for rules in finding_rules().values() for slug in rules]
    assert len(slugs) >= 80
    assert [slug for slug in slugs if f'<a id="{slug}"></a>`{slug}`' not in text] == []


def test_the_guide_explains_every_key_of_a_check() -> None:
    part = GUIDE.read_text().partition("## Check as JSON\n")[2].partition("\n## ")[0]
    keys = [*CheckReport.model_fields, *CheckRemark.model_fields]
    assert [key for key in keys if f"| `{key}` | " not in part] == []


def test_every_problem_has_an_example_or_a_test() -> None:
    shown = {
        slug
        for path in BAD
        for line in read_bad_example(path).expected
        for slug in re.findall(r" \[([a-z0-9-]+)\]: ", line)
    }
    assert set(SLUGS) - shown == TESTED_ELSEWHERE


def test_every_key_is_described() -> None:
    def models(model: type[Frozen]) -> list[type[Frozen]]:
        from generator.loading.model_keys import parts_of

        return [
            model,
            *(
                each
                for known in model.model_fields.values()
                for part in parts_of(known.annotation)
                for each in models(part)
            ),
        ]

    missing = {
        f"{model.__name__}.{name}"
        for kind in RECORD_KINDS.values()
        for model in models(kind.model)
        for name in model.model_fields.keys() - field_meanings(model).keys()
    }
    assert missing == set()


def test_every_link_in_the_guide_leads_to_a_heading() -> None:
    text = GUIDE.read_text()
    headings = {
        re.sub(r"[^a-z0-9 -]", "", each.lower()).replace(" ", "-") for each in re.findall(r"^#+ (.+)$", text, re.M)
    }
    assert set(re.findall(r"\]\(#([^)]+)\)", text)) <= headings
