"""The pages a figure leads to beside its method: requirements and protocols, and who publishes."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.reference import Criterion, DecisionRule
from generator.presenting.assigned_protection import BY_BODY, WHAT_IT_IS, assigned_tables
from generator.presenting.cautions import cautions_for
from generator.presenting.context import Context
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import AboutPage
from generator.presenting.reference_views import RequirementsPage
from generator.presenting.requirement_tables import (
    criteria_table,
    exercises_table,
    limit_cell,
    panels_table,
    protocols_table,
)
from generator.presenting.views import Definition, Fact
from generator.presenting.wording import listed, source_text
from generator.presenting.work_levels import work_levels_table


def _criterion(criterion: Criterion, context: Context) -> Definition:
    rule = (
        "the regulation's plain comparison"
        if criterion.decision_rule is DecisionRule.PLAIN
        else "guarded: the whole 95 % interval must lie on one side"
    )
    limit = limit_cell(criterion)
    facts = [
        Fact("Limit", limit.text, note=limit.note),
        *([Fact("State of the filter", criterion.filter.value.replace("_", " "))] if criterion.filter else []),
        *([Fact("Conditions of its method", criterion.conditions)] if criterion.conditions else []),
        Fact("Device kinds", listed([kind.heading.lower() for kind in criterion.kinds])),
        *(
            Fact("Protocol", context.protocol_link(each).text, context.protocol_link(each).href)
            for each in criterion.protocols
            if each in context.catalogue.protocols
        ),
        Fact("Decided by", rule),
    ]
    facts += [Fact("Source", source_text(source)) for source in criterion.sources]
    return Definition(criterion.id, criterion.title, criterion.meaning, tuple(facts))


def present_requirements(context: Context) -> RequirementsPage:
    """Return the requirements and protocols with their clauses, and how each is known."""
    return RequirementsPage(
        head=page_head(
            "requirements.html",
            "Requirements and protocols",
            "Published requirements that figures are held against, and the exercises that were done.",
        ),
        criteria_table=criteria_table(context),
        criteria=tuple(_criterion(criterion, context) for criterion in context.catalogue.criteria.values()),
        panels=panels_table(context),
        protocols_table=protocols_table(context),
        protocols=tuple(exercises_table(protocol) for protocol in context.catalogue.protocols.values()),
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
