"""Tables of what was found of a filter; a record's page and its device's page have the same columns."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.device import Device
from generator.model.filter_result import FilterResult
from generator.model.fit_result import FitResult
from generator.model.flow_result import FlowResult
from generator.model.published import PublishedTest
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import quantity_text, value_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.filter_words import (
    FACEPIECE_SOURCE,
    drop_words,
    facepiece_velocity,
    limit_words,
    outcome_words,
    penetration_words,
)
from generator.presenting.modified_words import numbered, with_modified
from generator.presenting.topics.flow import run_state
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import count_text, sentence_case, told_apart
from generator.scoring.filter_velocities import FACEPIECE_AREA, TEST_FLOW, device_filter

Results = Sequence[tuple[PublishedTest, FilterResult]]
"""Records with what was found of their filters, oldest first."""


def filter_tables(results: Results, device: Device, context: Context, *, on_device: bool) -> tuple[Table, ...]:
    """Return every table that has something in it."""
    tables = (
        _velocities(results, device, context, on_device),
        _penetrations(results, context, on_device),
        _past_seal(results, context, on_device),
        _drops(results, context, on_device),
        _together(results, context, on_device),
        _loading(results, context, on_device),
    )
    return tuple(table for table in tables if table.rows)


def _named(label: str, test: PublishedTest, context: Context, on_device: bool) -> str:
    """Return a label, which on a device's page says where it is of a modified one."""
    return with_modified(label, test.id, context) if on_device else label


def _velocities(results: Results, device: Device, context: Context, on_device: bool) -> Table:
    rows, states, days = [], [], []
    for place, (test, result) in enumerate(results):
        flow = context.result.records[test.id].topics.get("flow")
        runs = {run.run: run for run in flow.runs} if isinstance(flow, FlowResult) else {}
        for item in result.velocities:
            # What follows from the area alone is the same in every record: on a device's page the newest one has it.
            if item.run is None and place < len(results) - 1:
                continue
            words = {"required": "the required flow", "test": "the flow of the tests"}.get(item.at)
            state = run_state(runs[item.run]) if item.run is not None else ""
            states.append(words or _named(state, test, context, on_device))
            days.append(test.dates.performed)
            rows.append(
                (
                    context.record_link(test.id, "filter").href if on_device else None,
                    Cell(quantity_text(item.flow_l_per_min, "1", 3)),
                    Cell("not on record" if item.area_cm2 is None else quantity_text(item.area_cm2, "cm2", 4)),
                    figure_cell(item.velocity, test.id, on_device=on_device),
                )
            )
    labels = numbered(told_apart(states, days))
    lines = [
        Row((Cell(sentence_case(label), href), *cells)) for label, (href, *cells) in zip(labels, rows, strict=True)
    ]
    if lines:
        lines.append(
            Row(
                (
                    Cell("A filtering facepiece, for comparison", note=FACEPIECE_SOURCE),
                    Cell(quantity_text(TEST_FLOW, "1")),
                    Cell(quantity_text(FACEPIECE_AREA, "cm2")),
                    Cell(facepiece_velocity()),
                )
            )
        )
    described = device_filter(device)
    several = described is not None and described.count > 1
    number = f", {count_text(described.count, 'filter')} together" if described is not None and several else ""
    return Table(
        "filter-velocities",
        f"How fast air goes through the filter medium{number}",
        (
            Column("Air through the filter"),
            Column("Flow", "L/min", numeric=True),
            Column("Area of the medium"),
            Column("Face velocity"),
        ),
        tuple(lines),
    )


def _penetrations(results: Results, context: Context, on_device: bool) -> Table:
    rows = []
    for test, result in results:
        recorded = {item.id: item for item in test.filter_test.penetrations} if test.filter_test is not None else {}
        for item in result.penetrations:
            measured = recorded[item.penetration]
            figures = (item.velocity, item.quality, item.at_other_flow, item.highest_fit_factor)
            there = context.record_link(test.id, f"filter-penetrations.{item.penetration}").href
            share = quantity_text(measured.penetration.to("%"), "%", 4)
            cells = [figure_cell(figure, test.id, on_device=on_device) for figure in figures]
            head = _named(sentence_case(penetration_words(measured)), test, context, on_device)
            rows.append(Row((Cell(head, there), Cell(share), *cells)))
    return Table(
        "filter-penetrations",
        "What the filter by itself lets through",
        (
            Column("Filter and particles"),
            Column("Penetration", numeric=True),
            Column("Face velocity"),
            Column("Quality factor"),
            Column("At the device's own flow"),
            Column("Highest fit factor it leaves"),
        ),
        tuple(rows),
    )


def _past_seal(results: Results, context: Context, on_device: bool) -> Table:
    rows = []
    for test, result in results:
        fit = context.result.records[test.id].topics.get("fit")
        sessions = {item.session: item for item in fit.sessions} if isinstance(fit, FitResult) else {}
        for item in result.past_seal:
            leakage = sessions[item.session].inward_leakage if item.session in sessions else None
            blower = blower_words(item.blower)
            words = f"Wearer {item.wearer}, donning {item.donning}{f', {blower}' if blower else ''}"
            head = _named(words, test, context, on_device)
            rows.append(
                Row(
                    (
                        Cell(head, context.record_link(test.id, f"fit.{item.session}").href),
                        Cell("not scored" if leakage is None else value_text(leakage)),
                        figure_cell(item.share, test.id, on_device=on_device),
                    )
                )
            )
    return Table(
        "filter-past-seal",
        "Past the seal, where the filter was measured with the air of the fit sessions",
        (
            Column("Fit session"),
            Column("Inward leakage, seal and filter together", numeric=True),
            Column("Air past the seal"),
        ),
        tuple(rows),
    )


def _drops(results: Results, context: Context, on_device: bool) -> Table:
    rows = []
    for test, result in results:
        for item in result.drops:
            words = drop_words(item.of, item.filter, item.blower)
            there = context.record_link(test.id, f"filter-drops.{item.drops}").href
            cells = [figure_cell(item.resistance, test.id, on_device=on_device)]
            cells.append(figure_cell(item.off_line, test.id, on_device=on_device))
            if item.at_test_flow is None or item.verdict is None:
                cells += [Cell("not of a whole device"), Cell("no limit for a part")]
            else:
                verdict = item.verdict
                identity = f"{test.id}-{verdict.key}" if on_device else verdict.key
                href = context.criterion_link(verdict.criterion).href if verdict.criterion is not None else None
                cells += [
                    figure_cell(item.at_test_flow, test.id, on_device=on_device, limit=verdict.limit),
                    Cell(outcome_words(verdict), href, limit_words(verdict, item.blower), identity),
                ]
            rows.append(Row((Cell(_named(sentence_case(words), test, context, on_device), there), *cells)))
    return Table(
        "filter-resistance",
        "What breathing through it, and through its filter, costs in pressure",
        (
            Column("Pressure lost in"),
            Column("Resistance"),
            Column("Left over by the line"),
            Column("At 85 L/min"),
            Column("Against the limit"),
        ),
        tuple(rows),
    )


def _together(results: Results, context: Context, on_device: bool) -> Table:
    rows = [
        Row(
            (
                Cell(_named(sentence_case(figure.name), test, context, on_device)),
                figure_cell(figure, test.id, on_device=on_device),
            )
        )
        for test, result in results
        for figure in (
            *(item.together for item in result.penetrations),
            *(item.together for item in result.drops),
        )
        if figure is not None
    ]
    return Table(
        "filter-together",
        "All filters of the device together, worked out from those that were measured",
        (Column("Filters side by side, taken as alike"), Column("Together")),
        tuple(rows),
    )


def _loading(results: Results, context: Context, on_device: bool) -> Table:
    rows = []
    for test, result in results:
        recorded = {item.id: item for item in test.filter_test.loading} if test.filter_test is not None else {}
        for item in result.loading:
            figures = (item.flow_change, item.pressure_change, item.time_to_required)
            there = context.record_link(test.id, f"filter-loading.{item.loading}").href
            cells = [
                Cell("not logged") if figure is None else figure_cell(figure, test.id, on_device=on_device)
                for figure in figures
            ]
            rows.append(Row((Cell(_named(recorded[item.loading].what, test, context, on_device), there), *cells)))
    return Table(
        "filter-loading",
        "While the filter was loaded, from the first reading to the last",
        (
            Column("Loaded with"),
            Column("Flow", numeric=True),
            Column("Pressure", numeric=True),
            Column("Until the flow fell below the requirement"),
        ),
        tuple(rows),
    )
