"""The pages a figure leads to beside its method: requirements and protocols, and who publishes."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.panel import PanelRule
from generator.model.reference import (
    AmbientRule,
    Bound,
    Criterion,
    DecisionRule,
    Principle,
    Protocol,
)
from generator.presenting.assigned_protection import BY_BODY, WHAT_IT_IS, assigned_tables
from generator.presenting.cautions import cautions_for
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.fit_basis import DRAWN_IN
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import AboutPage
from generator.presenting.panel_statements import panel_demand
from generator.presenting.reference_views import RequirementsPage
from generator.presenting.views import Cell, Column, Definition, Fact, Row, Table
from generator.presenting.wording import listed, source_text
from generator.presenting.work_levels import work_levels_table

_AMBIENT = {
    AmbientRule.AROUND_EACH_EXERCISE: "the mean of the samples before and after each exercise",
    AmbientRule.FIRST_AND_LAST: "the mean of the first and the last sample of the session",
    AmbientRule.DURING_EACH_EXERCISE: "the mean during each exercise, counted all the time",
    AmbientRule.NONE: "none",
}


_BOUND = {Bound.AT_LEAST: "at least", Bound.AT_MOST: "at most"}


def _criterion(criterion: Criterion) -> Definition:
    rule = (
        "the regulation's plain comparison"
        if criterion.decision_rule is DecisionRule.PLAIN
        else "guarded: the whole 95 % interval must lie on one side"
    )
    facts = [
        Fact("Limit", f"{_BOUND[criterion.bound]} {quantity_text(criterion.limit, criterion.unit)}"),
        *([Fact("State of the filter", criterion.filter.value.replace("_", " "))] if criterion.filter else []),
        *([Fact("Conditions of its method", criterion.conditions)] if criterion.conditions else []),
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
    drawn_in = f" Its factors are {DRAWN_IN}." if protocol.principle is not Principle.PARTICLES else ""
    caption = (
        f"{protocol.title}. Outside concentration: {_AMBIENT[protocol.ambient]}.{drawn_in} "
        f"Source: {source_text(protocol.source)}"
    )
    columns = (Column("Exercise"), Column("Duration", numeric=True), Column("Counted in the overall factor"))
    return Table(protocol.id, caption, columns, rows)


def _panels(context: Context) -> Table:
    rows = tuple(
        Row(
            (
                Cell(rule.title, note=rule.meaning),
                Cell(panel_demand(rule)),
                _panel_method(rule, context),
                Cell(listed([kind.heading.lower() for kind in rule.kinds])),
                Cell("; ".join(source_text(source) for source in rule.sources)),
            ),
            rule.id,
        )
        for rule in context.catalogue.panels.values()
    )
    columns = tuple(Column(head) for head in ("Rule", "What it asks", "Its method", "Device kinds", "Source"))
    return Table(
        "panels", "Rules about a whole panel of wearers, each bound to the method it was written for", columns, rows
    )


def _panel_method(rule: PanelRule, context: Context) -> Cell:
    if rule.protocol is None or rule.protocol not in context.catalogue.protocols:
        return Cell("no protocol here", note=rule.not_recorded)
    link = context.protocol_link(rule.protocol)
    return Cell(link.text, link.href, f"only with {rule.aerosol.value} as the aerosol" if rule.aerosol else None)


def present_requirements(context: Context) -> RequirementsPage:
    """Return the requirements and protocols with their clauses, and how each is known."""
    return RequirementsPage(
        head=page_head(
            "requirements.html",
            "Requirements and protocols",
            "Published requirements that figures are held against, and the exercises that were done.",
        ),
        criteria=tuple(_criterion(criterion) for criterion in context.catalogue.criteria.values()),
        panels=_panels(context),
        protocols=tuple(_protocol_table(protocol) for protocol in context.catalogue.protocols.values()),
        assigned=assigned_tables(context),
        assigned_words=(WHAT_IT_IS, BY_BODY),
        work_levels=work_levels_table(context),
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
