"""The maker's side of a device's page: claims and approvals beside what was tested, letters, interests."""

from __future__ import annotations

from generator.model.claim_result import ApprovalCoverage, ClaimOutcome, ClaimResult, Coverage
from generator.model.claims import Claim, MakerNotice, StatedApproval
from generator.model.device import Device
from generator.model.fit_result import FitResult
from generator.model.flow_result import FlowResult
from generator.model.result import Figure
from generator.model.run_time_result import RunTimeResult
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, quantity_text, value_text
from generator.presenting.fit_sessions import session_label
from generator.presenting.page_views import Letter, MakerSide
from generator.presenting.run_time_words import run_down_state
from generator.presenting.topics.flow import run_state
from generator.presenting.views import Cell, Column, Fact, Row, Table
from generator.presenting.wording import count_text, day_text, recorded_text, sentence_case

CLAIM_WORDS = {
    ClaimOutcome.SUPPORTED: "supported by these tests",
    ClaimOutcome.CONTRADICTED: "contradicted by these tests",
    ClaimOutcome.UNDECIDED: "undecided by these tests",
    ClaimOutcome.NOT_TESTED: "not tested",
}
_CLAIMED_QUANTITY = {"L/min": "air flow", "1": "overall fit factor", "min": "time on one charge"}
COVERAGE_WORDS = {
    Coverage.WITHIN: "within what the approval names, as far as recorded",
    Coverage.OUTSIDE: "outside the approval",
    Coverage.NOT_RECORDED: "not recorded",
}


def present_maker_side(device: Device, context: Context) -> MakerSide:
    """Return what the maker says, what of it the tests bear out, and what passed between maker and publisher."""
    result = context.result.devices[device.id]
    return MakerSide(
        claims=_claims(device, result.claims, context) if device.claims else None,
        approvals=_approvals(device.approvals_stated) if device.approvals_stated else None,
        coverage=_coverage(result.approvals, context) if result.approvals else None,
        letters=tuple(_letter(number, notice, context) for number, notice in enumerate(device.correspondence, start=1)),
        interests=_interests(device, context),
    )


def _claims(device: Device, results: tuple[ClaimResult, ...], context: Context) -> Table:
    rows = tuple(_claim_row(claim, result, context) for claim, result in zip(device.claims, results, strict=True))
    columns = (Column("The maker’s words"), Column("Claimed"), Column("Measured"), Column("Outcome"))
    return Table("claims-held-against-tests", "What the maker claims, and what was measured", columns, rows)


def _claim_row(claim: Claim, result: ClaimResult, context: Context) -> Row:
    name = f"claim-{result.number}"
    measured, note, href = "nothing", None, None
    if result.figure is not None and result.record is not None:
        measured = value_text(result.figure, result.claimed)
        ends = interval_text(result.figure)
        parts = (ends, _of_figures(result.figures), _state(result.record, result.figure, context))
        note = "; ".join(part for part in parts if part)
        href = context.record_link(result.record, f"working.{result.figure.key}").href
    return Row(
        (
            Cell(f"“{claim.quotation}”", note=f"{claim.where}, read on {day_text(claim.date)}"),
            Cell(claimed_text(result), id=f"{name}-claimed"),
            Cell(measured, href, note, id=f"{name}-measured"),
            Cell(CLAIM_WORDS[result.outcome], note=result.reason, id=f"{name}-outcome"),
        ),
        id=name,
    )


def claimed_text(result: ClaimResult) -> str:
    """Say what a claim says as a least value of what is measured here."""
    if result.claimed is None or result.unit is None:
        return "nothing that is measured here"
    what = _CLAIMED_QUANTITY[result.unit]
    setting = f" at {result.setting}" if result.setting is not None else ""
    return f"{what}{setting} of at least {quantity_text(result.claimed, result.unit, 6)}"


def _state(record: str, figure: Figure, context: Context) -> str:
    """Say in which state the figure that decides was measured, or on whom."""
    topics = context.result.records[record].topics
    fit, flow, run_time = topics.get("fit"), topics.get("flow"), topics.get("run_time")
    if isinstance(flow, FlowResult):
        for run in flow.runs:
            if run.mean == figure:
                return run_state(run)
    if isinstance(run_time, RunTimeResult):
        for run_down in run_time.run_downs:
            if run_down.run_time == figure:
                return run_down_state(run_down)
    if isinstance(fit, FitResult):
        for session in fit.sessions:
            if session.overall == figure:
                return session_label(session, context)
    raise KeyError(figure.key)


def _of_figures(count: int) -> str:
    return "the only figure" if count == 1 else f"the one that decides, of {count_text(count, 'figure')}"


def _approvals(approvals: tuple[StatedApproval, ...]) -> Table:
    columns = (Column("Scheme, as the maker states it"), Column("Number"), Column("Looked up"), Column("Covers"))
    rows = tuple(
        Row(
            (
                Cell(approval.scheme),
                Cell(recorded_text(approval.number), id=f"approval-{number}-number"),
                Cell(day_text(approval.date_checked), id=f"approval-{number}-checked"),
                Cell(approval.covers, id=f"approval-{number}-covers"),
            ),
            id=f"approval-{number}",
        )
        for number, approval in enumerate(approvals, start=1)
    )
    return Table("approvals-stated", "Approvals that the maker states; none is confirmed here", columns, rows)


def _coverage(coverages: tuple[ApprovalCoverage, ...], context: Context) -> Table:
    several = len({item.approval for item in coverages}) > 1
    rows = tuple(
        Row(
            (
                Cell(item.record, context.record_link(item.record).href),
                *((Cell(f"approval {item.approval}"),) if several else ()),
                Cell(_coverage_text(item), note=item.reason, id=f"approval-{item.approval}-{item.record}"),
            )
        )
        for item in coverages
    )
    columns = (Column("Test record"), *((Column("Of"),) if several else ()), Column("What was tested was"))
    return Table("approval-coverage", "What was tested, held against what the approval covers", columns, rows)


def _coverage_text(item: ApprovalCoverage) -> str:
    words = COVERAGE_WORDS[item.coverage]
    return f"{words}: {'; '.join(item.outside)}" if item.outside else words


def _letter(number: int, notice: MakerNotice, context: Context) -> Letter:
    reply = notice.reply
    return Letter(
        id=f"letter-{number}",
        heading=f"Letter to the maker of {day_text(notice.sent)}",
        records=tuple(context.record_link(record) for record in notice.records),
        reply_by=f"A reply was asked for by {day_text(notice.reply_by)}.",
        received=(f"The maker’s reply of {day_text(reply.received)}, in full:" if reply else "No reply is on record."),
        reply=reply.text if reply else None,
        changed=f"What changed because of it: {notice.changed}" if notice.changed else "Nothing was changed.",
    )


def _interests(device: Device, context: Context) -> tuple[Fact, ...]:
    catalogue = context.catalogue
    testers = sorted({test.tester for test in catalogue.tests_of(device.id)})
    return (
        Fact(sentence_case(catalogue.publication.publisher), catalogue.publication.disclosure),
        *(
            Fact(catalogue.testers[name].pseudonym, catalogue.testers[name].disclosure)
            for name in testers
            if name in catalogue.testers
        ),
    )
