"""Templates only place what they are given: no computing, comparing, rounding or sorting, no way out of the sandbox."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2 import Environment, nodes

ROOT = Path(__file__).resolve().parent.parent
TEMPLATES = sorted(
    path for path in (ROOT / "site_templates").rglob("*") if path.suffix in (".html", ".md", ".svg", ".xml")
)

ALLOWED_FILTERS = frozenset({"markdown", "markdown_words", "markdown_cell", "equation", "equation_inline", "json_ld"})
"""Filters that turn text into markup or Markdown, or data into JSON, that no text in it can end; none that computes,
rounds, sorts or trusts what it is given."""
ALLOWED_FUNCTIONS = frozenset({"chart", "chart_in_parts", "chart_numbers", "first_uses", "section_template"})
"""Functions of the renderer: the drawing of a chart, those of a scale on paper, where its numbers stand, a sentence in
pieces, the name of a topic's template."""
ALLOWED_TESTS = frozenset({"none", "defined"})
LOOP_ATTRIBUTES = frozenset({"first", "last"})
ALLOWED_NODES = (
    nodes.Template,
    nodes.TemplateData,
    nodes.Output,
    nodes.Extends,
    nodes.Block,
    nodes.Include,
    nodes.Import,
    nodes.FromImport,
    nodes.Macro,
    nodes.CallBlock,
    nodes.For,
    nodes.If,
    nodes.With,
    nodes.Assign,
    nodes.Name,
    nodes.Const,
    nodes.Tuple,
    nodes.Keyword,
    nodes.Getattr,
    nodes.Call,
    nodes.Filter,
    nodes.Test,
    nodes.Compare,
    nodes.Operand,
    nodes.And,
    nodes.Or,
    nodes.Not,
    nodes.CondExpr,
)


def faults(source: str) -> list[str]:
    """Return what a template does that it must not do, one line each."""
    tree = Environment(autoescape=True).parse(source)
    macros = macro_names(tree) | ALLOWED_FUNCTIONS
    return [f"{node.lineno}: {why}" for node in every_node(tree) for why in faults_of(node, macros)]


def every_node(node: nodes.Node) -> Iterator[nodes.Node]:
    yield node
    for child in node.iter_child_nodes():
        yield from every_node(child)


def macro_names(tree: nodes.Template) -> frozenset[str]:
    """Return what a template may call: its macros, those it imports, the caller's block. `m.` stands for all of `m`."""
    names = {macro.name for macro in tree.find_all(nodes.Macro)} | {"caller"}
    names |= {f"{imported.target}." for imported in tree.find_all(nodes.Import)}
    for imported in tree.find_all(nodes.FromImport):
        names |= {name if isinstance(name, str) else name[1] for name in imported.names}
    return frozenset(names)


def faults_of(node: nodes.Node, macros: frozenset[str]) -> Iterator[str]:
    if not isinstance(node, ALLOWED_NODES):
        yield f"{type(node).__name__} is not allowed"
    elif isinstance(node, nodes.Filter) and node.name not in ALLOWED_FILTERS:
        yield f"the filter {node.name} is not allowed"
    elif isinstance(node, nodes.Test) and node.name not in ALLOWED_TESTS:
        yield f"the test {node.name} is not allowed"
    elif isinstance(node, nodes.Call) and called_name(node) not in macros:
        yield "only macros may be called"
    elif isinstance(node, nodes.Getattr):
        if node.attr.startswith("_"):
            yield f"the attribute {node.attr} is not allowed"
        if isinstance(node.node, nodes.Name) and node.node.name == "loop" and node.attr not in LOOP_ATTRIBUTES:
            yield f"loop.{node.attr} is not allowed"
    elif isinstance(node, nodes.Compare) and not is_text_comparison(node):
        yield "only `==` and `!=` with a text in quotes may compare"
    elif isinstance(node, nodes.Const) and isinstance(node.value, (int, float)) and not isinstance(node.value, bool):
        yield f"the number {node.value} is not allowed"


def called_name(node: nodes.Call) -> str | None:
    """Return the name of what is called, or its module's name and a dot, or None for anything else."""
    if isinstance(node.node, nodes.Name):
        return node.node.name
    if isinstance(node.node, nodes.Getattr) and isinstance(node.node.node, nodes.Name):
        return f"{node.node.node.name}."
    return None


def is_text_comparison(node: nodes.Compare) -> bool:
    return all(
        operand.op in ("eq", "ne") and isinstance(operand.expr, nodes.Const) and isinstance(operand.expr.value, str)
        for operand in node.ops
    )


def test_there_are_templates() -> None:
    assert TEMPLATES


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_template_only_places_what_it_is_given(path: Path) -> None:
    assert faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        "{{ figure.text }}",
        "{% if caution.severity_word == 'worst' %}x{% elif not a and b or c %}y{% endif %}",
        "{% for row in rows %}{{ row.name }}{% if not loop.last %}, {% endif %}{% else %}none{% endfor %}",
        "{% for name, value in pairs %}{{ name }}{{ value }}{% endfor %}",
        "{% if figure.interval is none %}{{ figure.no_interval }}{% endif %}",
        "{% extends 'base.html' %}{% block title %}{{ title if title else other }}{% endblock %}",
        "{% from 'parts.html' import chart as drawn %}{{ drawn(scale, wide=true) }}",
        "{% macro box(x) %}{{ caller() }}{% endmacro %}{% call box('a') %}b{% endcall %}",
        "{% import 'parts.html' as m %}{{ m.facts(items, root) }}{{ page.notes | markdown }}{{ chart(page.scale) }}",
        "{% include 'footer.html' %}{% set page = site.index %}{% with a = b %}{{ a }}{% endwith %}",
    ],
)
def test_placing_is_allowed(source: str) -> None:
    assert faults(source) == []


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        ("{{ a + b }}", "1: Add is not allowed"),
        ("{{ a - b }}", "1: Sub is not allowed"),
        ("{{ a * b }}", "1: Mul is not allowed"),
        ("{{ a / b }}", "1: Div is not allowed"),
        ("{{ a // b }}", "1: FloorDiv is not allowed"),
        ("{{ a % b }}", "1: Mod is not allowed"),
        ("{{ a ** b }}", "1: Pow is not allowed"),
        ("{{ -a }}", "1: Neg is not allowed"),
        ("{{ a ~ b }}", "1: Concat is not allowed"),
        ("{{ a[0] }}", "1: Getitem is not allowed"),
        ("{{ a[1:] }}", "1: Slice is not allowed"),
        ("\n{{ a|round }}", "2: the filter round is not allowed"),
        ("{{ a|safe }}", "1: the filter safe is not allowed"),
        ("{{ a|length }}", "1: the filter length is not allowed"),
        ("{% for x in a|sort %}{% endfor %}", "1: the filter sort is not allowed"),
        ("{% if a is divisibleby b %}{% endif %}", "1: the test divisibleby is not allowed"),
        ("{% if a is gt b %}{% endif %}", "1: the test gt is not allowed"),
        ("{% if a > b %}{% endif %}", "1: only `==` and `!=` with a text"),
        ("{% if a == b %}{% endif %}", "1: only `==` and `!=` with a text"),
        ("{% if a == 3 %}{% endif %}", "1: only `==` and `!=` with a text"),
        ("{% if a in b %}{% endif %}", "1: only `==` and `!=` with a text"),
        ("{{ a.__round__() }}", "1: the attribute __round__ is not allowed"),
        ("{{ a.items() }}", "1: only macros may be called"),
        ("{% import 'parts.html' as m %}{{ m.a.b() }}", "1: only macros may be called"),
        ("{{ m.facts(a) }}", "1: only macros may be called"),
        ("{{ range(b) }}", "1: only macros may be called"),
        ("{{ loop.index }}", "1: loop.index is not allowed"),
        ("{{ 3 }}", "1: the number 3 is not allowed"),
        ("{{ [a] }}", "1: List is not allowed"),
        ("{{ {'a': b} }}", "1: Dict is not allowed"),
        ("{% filter upper %}x{% endfilter %}", "1: FilterBlock is not allowed"),
        ("{% autoescape false %}x{% endautoescape %}", "1: ScopedEvalContextModifier is not allowed"),
    ],
)
def test_anything_else_is_found(source: str, fault: str) -> None:
    assert any(found.startswith(fault) for found in faults(source)), faults(source)
