"""Requirements, protocols and panel rules as tables: what each asks, where it stands, and how well that is known."""

from __future__ import annotations

from generator.model.panel import PanelRule
from generator.model.reference import (
    AmbientRule,
    Bound,
    Criterion,
    CriterionQuantity,
    DecisionRule,
    Principle,
    Protocol,
    Source,
)
from generator.presenting.context import Context
from generator.presenting.digits import other_system, quantity_text
from generator.presenting.fit_basis import DRAWN_IN
from generator.presenting.panel_statements import panel_demand
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import count_text, listed, sentence_case, source_text, status_text

BOUND = {Bound.AT_LEAST: "at least", Bound.AT_MOST: "at most"}
_PLACE, _HOW_KNOWN = "Document, clause, edition", "How known"
_QUANTITY = {
    CriterionQuantity.OVERALL_FIT_FACTOR: "overall fit factor",
    CriterionQuantity.SUPPLY_FLOW: "supply flow",
    CriterionQuantity.INHALATION_RESISTANCE: "resistance to breathing in",
    CriterionQuantity.EXHALATION_RESISTANCE: "resistance to breathing out",
    CriterionQuantity.NOISE: "noise at the ear",
    CriterionQuantity.SPEECH: "words understood",
}
_DECIDED_BY = {DecisionRule.PLAIN: "plain comparison", DecisionRule.GUARDED: "guarded rule"}
_RULE_METHOD = {DecisionRule.PLAIN: "plain-verdict", DecisionRule.GUARDED: "guarded-verdict"}
_AMBIENT = {
    AmbientRule.AROUND_EACH_EXERCISE: "the mean of the samples before and after each exercise",
    AmbientRule.FIRST_AND_LAST: "the mean of the first and the last sample of the session",
    AmbientRule.DURING_EACH_EXERCISE: "the mean during each exercise, counted all the time",
    AmbientRule.NONE: "none",
}
_PRINCIPLE = {
    Principle.PARTICLES: "particles",
    Principle.CONTROLLED_NEGATIVE_PRESSURE: "air that leaks in at a controlled negative pressure",
}


def limit_cell(criterion: Criterion) -> Cell:
    """Return a criterion's limit, with the other system's unit beside it."""
    text = f"{BOUND[criterion.bound]} {quantity_text(criterion.limit, criterion.unit)}"
    return Cell(text, note=other_system(criterion.limit, criterion.unit))


def _of_what(criterion: Criterion) -> Cell:
    limit = limit_cell(criterion)
    return Cell(f"{_QUANTITY[criterion.quantity]} {limit.text}", note=limit.note)


def _place_cell(*sources: Source) -> Cell:
    """Return document and clause, the edition below; further places are told where the requirement is told in full."""
    first, more = sources[0], len(sources) - 1
    further = f"; and {count_text(more, 'further source')}" if more else ""
    return Cell(f"{first.document}, {first.clause}", note=f"{first.edition}{further}")


def _known(sources: tuple[Source, ...]) -> str:
    return "; ".join(dict.fromkeys(status_text(source.status) for source in sources))


def _bound_to(criterion: Criterion) -> str:
    parts = [criterion.conditions] if criterion.conditions else []
    if criterion.filter is not None:
        parts.append(f"{criterion.filter.value.replace('_', ' ')} filter")
    if criterion.protocols:
        parts.append(count_text(len(criterion.protocols), "protocol"))
    return "; ".join(parts) or "no conditions on record"


def criteria_table(context: Context) -> Table:
    """Return every requirement in a row, those of a quantity together; each leads to what it says in full."""
    quantities = list(CriterionQuantity)
    criteria = sorted(
        context.catalogue.criteria.values(), key=lambda each: (quantities.index(each.quantity), each.limit)
    )
    rows = tuple(
        Row(
            (
                Cell(each.title, f"requirements.html#{each.id}"),
                _of_what(each),
                Cell(listed([kind.heading.lower() for kind in each.kinds])),
                Cell(_bound_to(each)),
                _place_cell(*each.sources),
                Cell(_known(each.sources)),
                Cell(_DECIDED_BY[each.decision_rule], f"methods/{_RULE_METHOD[each.decision_rule]}.html"),
            )
        )
        for each in criteria
    )
    heads = ("Requirement", "Limit", "Device kinds", "Bound to", _PLACE, _HOW_KNOWN, "Decided by")
    columns = tuple(Column(head) for head in heads)
    return Table("criteria-table", "Every requirement that figures are held against", columns, rows)


def protocols_table(context: Context) -> Table:
    """Return every protocol in a row; each leads to its exercises."""
    rows = tuple(
        Row(
            (
                Cell(protocol.title, f"requirements.html#{protocol.id}"),
                Cell(_PRINCIPLE[protocol.principle]),
                _exercises(protocol),
                Cell(_AMBIENT[protocol.ambient]),
                _place_cell(protocol.source),
                Cell(status_text(protocol.source.status)),
            )
        )
        for protocol in context.catalogue.protocols.values()
    )
    heads = ("Protocol", "What is measured", "Exercises", "Concentration outside", _PLACE, _HOW_KNOWN)
    return Table("protocols-table", "Every protocol", tuple(Column(head) for head in heads), rows)


def _exercises(protocol: Protocol) -> Cell:
    counted = sum(exercise.counted for exercise in protocol.exercises)
    seconds = sum(exercise.duration.to("s") for exercise in protocol.exercises)
    number = sentence_case(count_text(len(protocol.exercises), "exercise"))
    of_them = "all" if counted == len(protocol.exercises) else str(counted)
    return Cell(number, note=f"{of_them} counted; {quantity_text(seconds, 's')} in all")


def exercises_table(protocol: Protocol) -> Table:
    """Return the exercises of a protocol, with where it stands and how that is known."""
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


def panels_table(context: Context) -> Table:
    """Return every rule about a whole panel of wearers."""
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
