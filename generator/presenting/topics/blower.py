"""Blower curves: flows that are predicted for one filter or another, beside what was measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from generator.model.blower_result import (
    BlowerCurveResult,
    BlowerResult,
    BlowerSummary,
    CarriedOut,
    MeasuredBeside,
    PredictedFlow,
)
from generator.model.device import Device
from generator.model.pressure_flow import BlowerCurve, PressureAtFlow, PressureDrops
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.presenting.blower_charts import pressure_chart
from generator.presenting.blower_words import (
    AS_THEY_STAND,
    NO_HOSE,
    WHAT_IT_IS,
    agreement_sentence,
    agreement_words,
    case_words,
    curve_state,
    ends_words,
    part_words,
    shape_words,
)
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, percent_text, quantity_text, unit_text, value_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import working_view
from generator.presenting.modified_words import chart_on_device, with_modified
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection
from generator.presenting.wording import recorded_text, sentence_case

ANSWER_ORDER = 70
HOLDS = "predicted flows"
PART = "curve"
_HEADING = "What another filter would do to the air: predicted, not measured"
_PREDICTED = (
    Column("What the air goes through"),
    Column("Predicted, not measured", numeric=True),
    Column("Measured", numeric=True),
    Column("Predicted less measured", numeric=True),
)
_Scored = Mapping[str, BlowerResult]


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the blower curves of one record: predictions, resistances, then every point."""
    assert isinstance(result, BlowerResult)
    device, scored = context.catalogue.devices[test.device], {test.id: result}
    chart = pressure_chart(test, result, device, "blower-curve", "blower-flows-")
    workings = (working_view(figure, of, test.id, context) for figure, of in _figures(test, result, device))
    return TopicSection(
        topic="blower",
        heading=_HEADING,
        anchor="blower",
        answer=(),
        sentences=_sentences(scored, (), context),
        chart=None,
        tables=_tables(device, scored, (), context, on_device=False),
        blocks=(*_curve_blocks(test, result), *_part_blocks(test, result)),
        workings=tuple(view for view in workings if view is not None),
        curves=(chart,) if chart is not None else (),
        workings_on_paper=False,
        tables_told=True,
    )


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show what the blower curves of a device predict, beside what was measured, also after a change."""
    assert summary is None or isinstance(summary, BlowerSummary)
    scored = {record: result for record, result in results.items() if isinstance(result, BlowerResult)}
    if not scored or summary is None:
        return None
    charts = [
        (
            record,
            pressure_chart(
                context.catalogue.device_tests[record],
                result,
                device,
                f"blower-curve-{record}",
                f"blower-flows-{record}-",
            ),
        )
        for record, result in scored.items()
    ]
    return TopicSection(
        topic="blower",
        heading=_HEADING,
        anchor="blower",
        answer=(),
        sentences=_sentences(scored, summary.carried_out, context),
        chart=None,
        tables=_tables(device, scored, summary.carried_out, context, on_device=True),
        blocks=(),
        workings=(),
        curves=tuple(chart_on_device(chart, record, context) for record, chart in charts if chart is not None),
        workings_on_paper=False,
        tables_told=True,
    )


def _figures(test: PublishedTest, result: BlowerResult, device: Device) -> Iterator[tuple[Figure, str]]:
    """Yield every figure of a record, and in words what it is of."""
    others = {drops.id: drops for drops in test.pressure_drops}
    for part in result.resistances:
        yield part.resistance, part_words(others[part.drops])
    for curve in result.curves:
        for prediction in curve.predictions:
            of = _row_words(curve, prediction, device, others)
            yield prediction.flow, of
            for beside in prediction.measured:
                yield beside.difference, of


def _row_words(
    curve: BlowerCurveResult, prediction: PredictedFlow, device: Device, others: Mapping[str, PressureDrops]
) -> str:
    case = case_words(prediction, device, others.get(prediction.part or ""))
    return f"{sentence_case(curve_state(curve.setting, curve.battery))}: {case}"


def _sentences(scored: _Scored, carried_out: Sequence[CarriedOut], context: Context) -> tuple[str, ...]:
    curves = [curve for result in scored.values() for curve in result.curves]
    predictions = [prediction for curve in curves for prediction in curve.predictions]
    said = [WHAT_IT_IS]
    if any(prediction.flow.value is not None and not prediction.hose_known for prediction in predictions):
        said.append(NO_HOSE)
    beside = [each.agrees for prediction in predictions for each in prediction.measured]
    said.append(agreement_sentence([*beside, *(made.agrees for made in carried_out)]))
    return (*said, AS_THEY_STAND)


def _tables(
    device: Device, scored: _Scored, carried_out: Sequence[CarriedOut], context: Context, *, on_device: bool
) -> tuple[Table, ...]:
    """Return a table of predictions for each curve, then one of all resistances."""
    tables, parts = [], []
    for record, result in scored.items():
        others = {drops.id: drops for drops in context.catalogue.device_tests[record].pressure_drops}
        for curve in result.curves:
            tables.append(_flows_table(record, curve, device, others, carried_out, context, on_device=on_device))
        for part in result.resistances:
            cell = figure_cell(part.resistance, record, on_device=on_device)
            href = context.record_link(record, f"blower.{part.drops}.points").href
            words = part_words(others[part.drops])
            named = with_modified(words, record, context) if on_device else words
            parts.append(Row((Cell(named, href, part.what), cell)))
    if parts:
        columns = (Column("Part"), Column("Pressure lost for each litre a minute", numeric=True))
        tables.append(Table("blower-resistances", "What filter and hose take of the pressure", columns, tuple(parts)))
    return tuple(tables)


def _flows_table(
    record: str,
    curve: BlowerCurveResult,
    device: Device,
    others: Mapping[str, PressureDrops],
    carried_out: Sequence[CarriedOut],
    context: Context,
    *,
    on_device: bool,
) -> Table:
    rows = []
    for prediction in curve.predictions:
        words = sentence_case(case_words(prediction, device, others.get(prediction.part or "")))
        key = (record, prediction.flow.key)
        made = [each for each in carried_out if (each.predicted_in, each.predicted) == key]
        rows += _rows(record, curve, prediction, words, made, context, on_device=on_device)
    identity = f"blower-flows-{record}-{curve.curve}" if on_device else f"blower-flows-{curve.curve}"
    caption = f"{sentence_case(curve_state(curve.setting, curve.battery))}: flows that are predicted"
    caption = with_modified(caption, record, context) if on_device else caption
    return Table(identity, caption, _PREDICTED, tuple(rows))


def _rows(
    record: str,
    curve: BlowerCurveResult,
    prediction: PredictedFlow,
    words: str,
    made: Sequence[CarriedOut],
    context: Context,
    *,
    on_device: bool,
) -> list[Row]:
    """Return a prediction's row, and one more for each further flow that was measured in its state."""
    first = Cell(words, context.record_link(record, f"blower.{curve.curve}").href)
    predicted = figure_cell(prediction.flow, record, on_device=on_device)
    beside = [_beside(each, record, context, on_device=on_device) for each in prediction.measured]
    beside += [_after_the_change(each, context) for each in made]
    rows = [(first, predicted, *cells) for cells in beside or [(Cell("not measured"), Cell("none"))]]
    return [Row(cells if place == 0 else (first, Cell("as above"), *cells[2:])) for place, cells in enumerate(rows)]


def _beside(each: MeasuredBeside, record: str, context: Context, *, on_device: bool) -> tuple[Cell, Cell]:
    measured = _measured_cell(each.mean, record, each.run, context)
    difference = figure_cell(each.difference, record, on_device=on_device)
    if each.difference.value is None:
        return measured, difference
    notes = [difference.note or "", agreement_words(each.agrees)]
    return measured, replace(difference, note="; ".join(note for note in notes if note))


def _after_the_change(made: CarriedOut, context: Context) -> tuple[Cell, Cell]:
    measured = _measured_cell(made.mean, made.measured_in, made.run, context)
    notes = [measured.note, f"after the change, in {made.measured_in}"]
    return replace(measured, note="; ".join(note for note in notes if note)), Cell(agreement_words(made.agrees))


def _measured_cell(mean: Figure, record: str, run: str, context: Context) -> Cell:
    """Return a measured flow that leads to its run; it is a figure of another section, and has its id there."""
    note = f"{percent_text(mean.interval.coverage)} interval {interval_text(mean)}" if mean.interval else None
    return Cell(value_text(mean), context.record_link(record, f"flow.{run}").href, note)


def _points_table(identity: str, points: Sequence[PressureAtFlow]) -> Table:
    return Table(
        identity,
        "Points as taken",
        (Column("Flow"), Column("Pressure", numeric=True)),
        tuple(
            Row(
                (
                    Cell(quantity_text(point.flow.number, unit_text(point.flow.unit), 6)),
                    Cell(quantity_text(point.pressure.number, unit_text(point.pressure.unit), 6)),
                )
            )
            for point in points
        ),
    )


def _curve_blocks(test: PublishedTest, result: BlowerResult) -> Iterator[Block]:
    recorded: dict[str, BlowerCurve] = {curve.id: curve for curve in test.blower_curves}
    for scored in result.curves:
        curve = recorded[scored.curve]
        ends = ends_words(curve)
        yield Block(
            anchor=f"blower.{curve.id}",
            heading=f"Blower curve: {curve_state(scored.setting, scored.battery)}",
            facts=(
                Fact("Measured", curve.where),
                Fact("Uncertainty of one pressure, 95 %", recorded_text(curve.uncertainty)),
                Fact("Curve", sentence_case(shape_words(scored, curve))),
                *((Fact("At its ends", sentence_case(ends)),) if ends is not None else ()),
            ),
            table=_points_table(f"blower.{curve.id}.held", curve.points),
            figures=(),
            verdict=None,
            note=None,
        )


def _part_blocks(test: PublishedTest, result: BlowerResult) -> Iterator[Block]:
    recorded = {drops.id: drops for drops in test.pressure_drops}
    for part in result.resistances:
        drops = recorded[part.drops]
        yield Block(
            anchor=f"blower.{drops.id}.points",
            heading=f"Pressure lost: {part_words(drops)[0].lower()}{part_words(drops)[1:]}",
            facts=(
                Fact("Measured", drops.what),
                Fact("Uncertainty of one pressure, 95 %", recorded_text(drops.uncertainty)),
            ),
            table=_points_table(f"blower.{drops.id}.taken", drops.points),
            figures=(),
            verdict=None,
            note=None,
        )
