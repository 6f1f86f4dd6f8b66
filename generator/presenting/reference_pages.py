"""The pages a figure leads to: methods, requirements and protocols, and who publishes."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.reference import AmbientRule, CheckValue, Criterion, DecisionRule, Method, Protocol
from generator.presenting.assigned_protection import BY_BODY, WHAT_IT_IS, assigned_tables
from generator.presenting.cautions import cautions_for
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text, unit_text
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import AboutPage, CheckRow, MethodPage, MethodsIndex, RequirementsPage
from generator.presenting.views import Cell, Column, Definition, Fact, Link, Row, Table, WorkingInput
from generator.presenting.wording import listed, source_text, status_text

_METHODS = Link("Methods", "methods/index.html")
_AMBIENT = {
    AmbientRule.AROUND_EACH_EXERCISE: "the mean of the samples before and after each exercise",
    AmbientRule.FIRST_AND_LAST: "the mean of the first and the last sample of the session",
    AmbientRule.DURING_EACH_EXERCISE: "the mean during each exercise, counted all the time",
    AmbientRule.NONE: "none",
}


def _check_row(check: CheckValue) -> CheckRow:
    inputs = ", ".join(f"{name.replace('_', ' ')} {_plain(value)}" for name, value in check.inputs.items())
    return CheckRow(inputs, _plain(check.expected), check.source)


def _plain(value: object) -> str:
    if isinstance(value, tuple):
        return "(" + ", ".join(_plain(item) for item in value) + ")"
    if value is None:
        return "none"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def present_method(method: Method) -> MethodPage:
    """Return the page of one method."""
    return MethodPage(
        head=page_head(f"methods/{method.id}.html", method.title, method.purpose, trail=(_METHODS,)),
        id=method.id,
        title=method.title,
        purpose=method.purpose,
        equation=method.equation,
        symbols=tuple(
            WorkingInput(symbol.symbol, symbol.meaning, unit_text(symbol.unit) or "dimensionless", "", "", None)
            for symbol in method.symbols
        ),
        range=method.range,
        sources=tuple(
            Fact(
                source.document,
                f"{source.edition}, {source.clause}. {source.note or ''}".strip(),
                note=status_text(source.status),
            )
            for source in method.sources
        ),
        checks=tuple(_check_row(check) for check in method.check_values),
    )


def present_methods_index(context: Context) -> MethodsIndex:
    """Return the list of all methods."""
    return MethodsIndex(
        head=page_head(
            "methods/index.html",
            "Methods",
            "Every computation behind a figure: equation, symbols, range, sources and values it was checked against.",
        ),
        methods=tuple(
            Fact(method.title, method.purpose, f"methods/{method.id}.html")
            for method in context.catalogue.methods.values()
        ),
    )


def _criterion(criterion: Criterion) -> Definition:
    rule = (
        "the regulation's plain comparison"
        if criterion.decision_rule is DecisionRule.PLAIN
        else "guarded: the whole 95 % interval must lie on one side"
    )
    facts = [
        Fact("Limit", f"at least {quantity_text(criterion.limit, criterion.unit)}"),
        Fact("Device kinds", listed([kind.heading.lower() for kind in criterion.kinds])),
        Fact("Decided by", rule),
    ]
    facts += [Fact("Source", source_text(source)) for source in criterion.sources]
    return Definition(criterion.id, criterion.title, criterion.meaning, tuple(facts))


def _protocol_table(protocol: Protocol) -> Table:
    rows = tuple(
        Row(
            (
                Cell(exercise.name),
                Cell(quantity_text(exercise.duration.number, exercise.duration.unit)),
                Cell("yes" if exercise.counted else "no"),
            )
        )
        for exercise in protocol.exercises
    )
    caption = (
        f"{protocol.title}. Outside concentration: {_AMBIENT[protocol.ambient]}. Source: {source_text(protocol.source)}"
    )
    columns = (Column("Exercise"), Column("Duration", numeric=True), Column("Counted in the overall factor"))
    return Table(protocol.id, caption, columns, rows)


def present_requirements(context: Context) -> RequirementsPage:
    """Return the requirements and protocols with their clauses, and how each is known."""
    return RequirementsPage(
        head=page_head(
            "requirements.html",
            "Requirements and protocols",
            "Published requirements that figures are held against, and the exercises that were done.",
        ),
        criteria=tuple(_criterion(criterion) for criterion in context.catalogue.criteria.values()),
        protocols=tuple(_protocol_table(protocol) for protocol in context.catalogue.protocols.values()),
        assigned=assigned_tables(context),
        assigned_words=(WHAT_IT_IS, BY_BODY),
    )


def present_about(context: Context) -> AboutPage:
    """Return who publishes, with which interests, and who tests."""
    publication = context.catalogue.publication
    return AboutPage(
        head=page_head("about.html", "About this catalogue", "Who publishes, with which interests, and who tests."),
        scenario=None if isinstance(publication.scenario, NotRecorded) else publication.scenario,
        disclosure=publication.disclosure,
        publisher=(
            Fact("Publisher", publication.publisher),
            Fact("Address", publication.address),
            Fact("Contact", publication.contact, f"mailto:{publication.contact}"),
            Fact("Reports authorised by", publication.authorised_by),
            Fact("Accredited laboratory", "yes" if publication.accredited_laboratory else "no"),
            Fact("Licence of the data", publication.data_licence),
        ),
        testers=tuple(
            Fact(tester.pseudonym, tester.disclosure, note=f"tester-{tester.id}")
            for tester in context.catalogue.testers.values()
        ),
        cautions=cautions_for((), context),
    )
