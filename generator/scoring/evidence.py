"""What the results of a device rest on, from its standing records."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from typing import TypeVar

from generator.model.base import Day
from generator.model.device import Device
from generator.model.evidence_result import (
    CalibrationOnDay,
    Evidence,
    InstrumentOnDay,
    Item,
    ItemFit,
    ItemFlow,
    LevelCount,
    Stated,
)
from generator.model.fit_result import DataLevel, FitResult, FitSummary
from generator.model.flow_result import FlowResult, FlowRunResult
from generator.model.instrument import Instrument
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.result import RecordResult
from generator.model.session import Outcome
from generator.scoring.fit_groups import GroupKey, Recorded, donnings_of, extremes, group_key, wearers_of
from generator.scoring.gaps import gaps_of
from generator.scoring.items import configuration_key, item_of, lots_of_tests, units_of_tests

_Key = TypeVar("_Key", bound=Hashable)
_Member = TypeVar("_Member")


def device_evidence(
    device: Device, results: Mapping[str, RecordResult], fit: FitSummary, catalogue: PublishedCatalogue
) -> Evidence:
    """Return what the standing records of a device hold; `results` are those records', by id."""
    tests = [catalogue.device_tests[record] for record in results]
    completed = [(test, session) for test in tests for session in test.fit if session.outcome is Outcome.COMPLETED]
    units, lots = units_of_tests(tests), lots_of_tests(tests)
    without_unit = sum(not isinstance(test.sample.unit, str) for test in tests)
    runs = [(test, run) for test in tests for run in test.flow]
    return Evidence(
        records=tuple(results),
        wearers=fit.wearers,
        donnings=fit.donnings,
        completed=fit.completed,
        counted=fit.completed - fit.not_counted,
        aborted=fit.aborted,
        voided=fit.voided,
        flow_runs=len(runs),
        units=units,
        records_without_unit=without_unit,
        lots=lots,
        records_without_lot=sum(not isinstance(test.sample.lot, str) for test in tests),
        levels=_levels(results),
        with_log=sum(session.log is not None for _, session in completed),
        with_counts=sum(_has_counts(session) for _, session in completed),
        with_raw_stated=sum(test.raw_data is not None for test, _ in completed),
        with_raw=sum(
            session.log is not None or _has_counts(session) or test.raw_data is not None for test, session in completed
        ),
        instruments=tuple(use for test in tests for use in _instruments(test, catalogue)),
        deviations=tuple(Stated(record=test.id, text=text) for test in tests for text in test.deviations),
        not_tested_stated=tuple(Stated(record=test.id, text=text) for test in tests for text in test.not_tested),
        gaps=gaps_of(device, tests, fit, len(units), without_unit),
        fit_by_item=_fit_by_item(results, catalogue),
        flow_by_item=_flow_by_item(results, catalogue),
    )


def _levels(results: Mapping[str, RecordResult]) -> tuple[LevelCount, ...]:
    levels = [
        session.level
        for result in results.values()
        if isinstance(scored := result.topics.get("fit"), FitResult)
        for session in scored.sessions
        if session.level is not None
    ]
    return tuple(LevelCount(level=level, sessions=levels.count(level)) for level in DataLevel if level in levels)


def _has_counts(session: PublishedSession) -> bool:
    return any(reading.in_mask_count is not None for reading in session.exercises)


def calibration_state(instrument: Instrument, day: Day) -> tuple[CalibrationOnDay, Day | None]:
    """Return how the calibration of an instrument stands on a day, and until when it holds."""
    calibration = instrument.calibration_on(day)
    if calibration is None:
        return CalibrationOnDay.NONE_BEFORE, None
    state = CalibrationOnDay.LAPSED if calibration.lapsed_on(day) else CalibrationOnDay.IN_DATE
    return state, calibration.due


def _instruments(test: PublishedTest, catalogue: PublishedCatalogue) -> list[InstrumentOnDay]:
    performed, uses = test.dates.performed, []
    for name in test.instruments.by_role.values():
        state, due = calibration_state(catalogue.instruments[name], performed)
        uses.append(InstrumentOnDay(record=test.id, instrument=name, performed=performed, state=state, due=due))
    return uses


def _item_order(item: Item) -> tuple[bool, str, str]:
    return (item.unit is None, item.unit or "", item.lot or "")


def _of_several_items(
    groups: Mapping[_Key, Mapping[Item, list[_Member]]],
) -> Iterator[tuple[_Key, Item, list[_Member]]]:
    """Go through the items of each group that has more than one, with what was measured of each."""
    for key, items in groups.items():
        if len(items) > 1:
            for item in sorted(items, key=_item_order):
                yield key, item, items[item]


def _fit_by_item(results: Mapping[str, RecordResult], catalogue: PublishedCatalogue) -> tuple[ItemFit, ...]:
    """Return the factors of each item where sessions that may stand together come from more than one."""
    groups: dict[GroupKey, dict[Item, list[Recorded]]] = {}
    for record, result in results.items():
        test, scored = catalogue.device_tests[record], result.topics.get("fit")
        for session in scored.sessions if isinstance(scored, FitResult) else ():
            if session.counted:
                group = groups.setdefault(group_key(session, test, catalogue), {})
                group.setdefault(item_of(test), []).append((record, session))
    rows = []
    for key, item, members in _of_several_items(groups):
        found = extremes((record, session.overall) for record, session in members)
        if found is None:
            continue
        (lowest_record, lowest), (highest_record, highest) = found
        rows.append(
            ItemFit(
                **key._asdict(),
                item=item,
                wearers=wearers_of(members),
                donnings=len(donnings_of(members)),
                lowest=lowest,
                lowest_record=lowest_record,
                highest=highest,
                highest_record=highest_record,
            )
        )
    return tuple(rows)


def _flow_by_item(results: Mapping[str, RecordResult], catalogue: PublishedCatalogue) -> tuple[ItemFlow, ...]:
    """Return the mean flows of each item where runs in the same state come from more than one."""
    groups: dict[tuple[str, str, str, str], dict[Item, list[tuple[str, FlowRunResult]]]] = {}
    for record, result in results.items():
        test, scored = catalogue.device_tests[record], result.topics.get("flow")
        for run in scored.runs if isinstance(scored, FlowResult) else ():
            group = groups.setdefault((configuration_key(test), run.setting, run.battery, run.filter), {})
            group.setdefault(item_of(test), []).append((record, run))
    rows = []
    for (configuration, setting, battery, filter_state), item, runs in _of_several_items(groups):
        found = extremes((record, run.mean) for record, run in runs)
        if found is None:
            continue
        (lowest_record, lowest), (highest_record, highest) = found
        rows.append(
            ItemFlow(
                configuration=configuration,
                setting=setting,
                battery=battery,
                filter=filter_state,
                item=item,
                runs=len(runs),
                lowest=lowest,
                lowest_record=lowest_record,
                highest=highest,
                highest_record=highest_record,
            )
        )
    return tuple(rows)
