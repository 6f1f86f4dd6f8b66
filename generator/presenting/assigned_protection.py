"""Assigned protection factors in words: what they are, whose they are, and on what they hang."""

from __future__ import annotations

from generator.model.assigned_protection import AssignedProtection
from generator.model.device import Device
from generator.model.meaning_result import AssignedFactor, AssignedProtectionResult, NothingAssigned
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.meaning_views import AssignedView
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import count_text, listed, sentence_case, source_text, status_text

WHAT_IT_IS = (
    "An assigned protection factor is the level of protection that a body expects a class of approved devices to give "
    "at work, where trained and fit-tested wearers use them in a complete programme. It is not a measurement of any "
    "device, and no fit factor can be turned into one."
)
BY_BODY = "Other bodies print other numbers for the same devices, so that a number says nothing without its body."
_NONE = "No assigned protection factor is given: such factors belong to "
_WHY_NONE = {
    NothingAssigned.HOME_BUILT: "approved devices as their makers supply them, and this one was built at home.",
    NothingAssigned.NO_APPROVAL: "approved devices, and no approval of this one is on record.",
    NothingAssigned.NOT_AS_APPROVED: "approved devices as supplied, and no record that stands tested this one so.",
    NothingAssigned.NOT_FOR_ITS_KIND: (
        "kinds and classes of device, and no body that is looked up here assigns one to this kind, or to a class that "
        "its stated approval names."
    ),
}


def present_assigned(device: Device, result: AssignedProtectionResult, context: Context) -> AssignedView:
    """Return the strip of a device's page on assigned protection factors."""
    if result.nothing is not None:
        return AssignedView((_NONE + _WHY_NONE[result.nothing], *_not_for(result)), None)
    rules = {rule.id: rule for rule in context.catalogue.assigned_protection}
    several = len(device.approvals_stated) > 1
    rows = tuple(_row(factor, rules[factor.rule], several) for factor in result.factors)
    holds = _approval_words(sorted({factor.approval for factor in result.factors}), several)
    if_so = (
        f"That this device is approved is its maker’s statement, which nothing here confirms. If {holds}, then for the "
        "device as supplied:"
    )
    return AssignedView(
        (WHAT_IT_IS, BY_BODY, *_not_for(result), if_so),
        Table("assigned-protection", "Assigned protection factors, by body; not measured here", _COLUMNS, rows),
    )


_COLUMNS = (
    Column("Body"),
    Column("Assigned factor", numeric=True),
    Column("For what, and only if"),
)


def _approval_words(approvals: list[int], several: bool) -> str:
    if not several:
        return "the stated approval holds"
    named = listed([str(approval) for approval in approvals])
    return f"approval {named} holds" if len(approvals) == 1 else f"approvals {named} hold"


def _row(factor: AssignedFactor, rule: AssignedProtection, several: bool) -> Row:
    which = f"approval {factor.approval}" if several else "the stated approval"
    condition = f"Only if {which} holds"
    if not factor.named:
        condition += f", and is one under {rule.named_as[0]}, which its statement does not name"
    condition += f"; and only if {rule.needs}" if rule.needs is not None else "."
    source = f"{rule.source.document}, {rule.source.clause} ({status_text(rule.source.status)})"
    return Row(
        (
            Cell(rule.body, note=source),
            Cell(quantity_text(factor.value, "1"), id=f"assigned-{rule.id}-value"),
            Cell(
                sentence_case(rule.holds_for),
                f"requirements.html#{rule.id}",
                condition,
                f"assigned-{rule.id}-condition",
            ),
        ),
        id=f"assigned-{rule.id}",
    )


def _not_for(result: AssignedProtectionResult) -> tuple[str, ...]:
    if not result.not_for:
        return ()
    count = sentence_case(count_text(len(result.not_for), "record"))
    verb = "is" if len(result.not_for) == 1 else "are"
    return (
        f"{count} {verb} of a modified device, or of one with a part that no stated approval covers, so that nothing "
        f"is assigned to what was tested there: {listed(result.not_for)}.",
    )


def assigned_tables(context: Context) -> tuple[Table, ...]:
    """Return every factor that a device's page may show, a table for each body, for the page of requirements."""
    by_body: dict[str, list[AssignedProtection]] = {}
    for rule in context.catalogue.assigned_protection:
        by_body.setdefault(rule.body, []).append(rule)
    return tuple(_table(number, body, rules) for number, (body, rules) in enumerate(by_body.items(), start=1))


def _table(number: int, body: str, rules: list[AssignedProtection]) -> Table:
    shown = "where a stated approval names the class"
    if not all(rule.must_be_named for rule in rules):
        shown = "by the kind of device, where an approval is stated"
    rows = tuple(
        Row(
            (
                Cell(sentence_case(rule.holds_for), note=f"Only if {rule.needs}" if rule.needs is not None else None),
                Cell(quantity_text(rule.value, "1")),
                Cell(source_text(rule.source)),
            ),
            id=rule.id,
        )
        for rule in rules
    )
    columns = (Column("For"), Column("Assigned factor", numeric=True), Column("Source"))
    return Table(f"assigned-by-{number}", f"Assigned by {body}; shown {shown}", columns, rows)
