"""What a plan says of the rest: the filter by itself, sound, words, further units, approvals, instruments in doubt."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.base import NotRecorded
from generator.model.burden_result import BurdenSummary
from generator.model.filter_result import FilterResult
from generator.model.plan_result import Activity, PlannedSession, PlannedStatement, Standing, Tier
from generator.scoring.planning.reviewed import IN_DOUBT, Reviewed, Ruled


def instruments_in_doubt(of: Reviewed) -> Iterator[Ruled]:
    """Where an instrument of a record was out of calibration or later found wrong: that its figures wait for others."""
    found: dict[str, dict[str, None]] = {}
    for record in of.result.records:
        for finding in of.scored.records[record].findings:
            if finding.rule in IN_DOUBT:
                found.setdefault(str(finding.facts["instrument"]), {}).setdefault(record)
    for instrument, records in found.items():
        identity = f"instrument-{instrument}"
        session = PlannedSession(
            id=f"repeat-{instrument}", tier=Tier.DOUBT, activity=Activity.REPEAT, records=tuple(records)
        )
        yield Ruled(
            PlannedStatement(
                id=identity,
                rule="instrument-in-doubt",
                standing=Standing.LACKING,
                records=tuple(records),
                facts={"instrument": of.catalogue.instruments[instrument].name},
            ),
            (session,),
        )


def filter_by_itself(of: Reviewed) -> Iterator[Ruled]:
    """Where a filter class is stated: what gets through the filter by itself."""
    recorded = of.device.filter
    if isinstance(recorded, NotRecorded) or isinstance(recorded.stated_class, NotRecorded):
        return
    records = tuple(record for record, result in of.results("filter", FilterResult) if result.penetrations)
    yield _measured_or_not("filter", Activity.FILTER, records)


def sound(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices: how loud it is at the ear."""
    if of.device.power is None:
        return
    summary = of.summary("burden", BurdenSummary)
    record = summary.loudest_record if summary is not None else None
    yield _measured_or_not("sound", Activity.SOUND, (record,) if record is not None else ())


def words(of: Reviewed) -> Iterator[Ruled]:
    """Always: how much is understood of what a wearer says or hears."""
    summary = of.summary("burden", BurdenSummary)
    record = summary.least_rating_record if summary is not None else None
    yield _measured_or_not("words", Activity.WORDS, (record,) if record is not None else ())


def _measured_or_not(rule: str, activity: Activity, records: tuple[str, ...]) -> Ruled:
    """Return a statement that one measurement carries."""
    if records:
        return Ruled(PlannedStatement(id=rule, rule=rule, standing=Standing.SAID, records=records))
    session = PlannedSession(id=rule, tier=Tier.REST, activity=activity)
    return Ruled(PlannedStatement(id=rule, rule=rule, standing=Standing.LACKING), (session,))


def further_units(of: Reviewed) -> Iterator[Ruled]:
    """Always: how far units differ; two or more that are on record by their numbers show something of it."""
    evidence = of.result.evidence
    units = evidence.units if evidence is not None else ()
    standing = Standing.IN_PART if len(units) > 1 else Standing.LACKING
    session = PlannedSession(id="second-unit", tier=Tier.REST, activity=Activity.SECOND_UNIT)
    needed = of.result.records and len(units) < 2
    yield Ruled(
        PlannedStatement(id="units", rule="units", standing=standing, facts={"units": len(units)}),
        (session,) if needed else (),
    )


def approvals(of: Reviewed) -> Iterator[Ruled]:
    """Where its maker states an approval: that nothing measured here could confirm it."""
    for number, approval in enumerate(of.device.approvals_stated, start=1):
        yield Ruled(
            PlannedStatement(
                id=f"approval-{number}",
                rule="approval",
                standing=Standing.NOT_MEASURABLE,
                facts={"scheme": approval.scheme},
            )
        )
