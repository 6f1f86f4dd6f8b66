"""Filter: how fast air goes through it, what it lets through, what it costs in pressure, and what loading does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.model.device import Device
from generator.model.filter_result import FilterResult, FilterSummary
from generator.model.filter_test import FilterLoading, FilterPenetration
from generator.model.flow_result import FlowResult
from generator.model.pressure_flow import PressureDrops
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.figures import working_view
from generator.presenting.filter_charts import filter_charts
from generator.presenting.filter_tables import Results, filter_tables
from generator.presenting.filter_words import (
    EQUAL_ONLY,
    WHAT_FACE_VELOCITY_IS,
    above_limit_words,
    charge_words,
    drop_words,
    flow_words,
    medium_words,
    noticed_words,
    particle_words,
    penetration_words,
)
from generator.presenting.modified_words import chart_on_device
from generator.presenting.topics.flow import run_state
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection, WorkingView
from generator.presenting.wording import listed, recorded_text

ANSWER_ORDER = 40
HOLDS = "filter"
PART = "run or measurement"


def _sentences(results: Results) -> tuple[str, ...]:
    """Say what holds for the tables that follow."""
    found = [WHAT_FACE_VELOCITY_IS] if any(result.velocities for _, result in results) else []
    measured = [test.filter_test for test, result in results if result.penetrations and test.filter_test is not None]
    if measured:
        media = sorted({medium_words(filter_test) for filter_test in measured})
        found += [f"Whether the filter medium is charged: {listed(media)}.", EQUAL_ONLY]
    drops = [drop for _, result in results for drop in result.drops]
    found += [noticed_words(drop) for drop in drops]
    return tuple(sentence for sentence in dict.fromkeys(found) if sentence)


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show what was found of the filter in one record."""
    assert isinstance(result, FilterResult)
    device = context.catalogue.devices[test.device]
    return TopicSection(
        topic="filter",
        heading="Filter",
        anchor="filter",
        answer=(),
        sentences=_sentences([(test, result)]),
        chart=None,
        tables=filter_tables([(test, result)], device, context, on_device=False),
        blocks=tuple(_blocks(test)),
        workings=tuple(_workings(test, result, context)),
        curves=filter_charts(test, result, context, ""),
        workings_on_paper=False,
        tables_told=True,
    )


def _workings(test: PublishedTest, result: FilterResult, context: Context) -> Iterator[WorkingView]:
    for figure, of in _of_each(test, result, context):
        view = working_view(figure, of, test.id, context)
        if view is not None:
            yield view


def _of_each(test: PublishedTest, result: FilterResult, context: Context) -> Iterator[tuple[Figure, str]]:
    """Yield each figure with what it is of."""
    flow = context.result.records[test.id].topics.get("flow")
    runs = {run.run: run_state(run) for run in flow.runs} if isinstance(flow, FlowResult) else {}
    for velocity in result.velocities:
        yield velocity.velocity, runs.get(velocity.run or "", "the filter medium")
    measured = {item.id: item for item in test.filter_test.penetrations} if test.filter_test is not None else {}
    for item in result.penetrations:
        of = penetration_words(measured[item.penetration])
        for figure in (item.velocity, item.together, item.quality, item.at_other_flow, item.highest_fit_factor):
            if figure is not None:
                yield figure, of
    for share in result.past_seal:
        yield share.share, f"wearer {share.wearer}, donning {share.donning}"
    for drop in result.drops:
        of = drop_words(drop.of, drop.filter, drop.blower)
        for figure in (drop.resistance, drop.off_line, drop.together, drop.at_test_flow):
            if figure is not None:
                yield figure, of
    for loading in result.loading:
        for figure in (loading.flow_change, loading.pressure_change, loading.time_to_required):
            if figure is not None:
                yield figure, f"loading {loading.loading}"


def _blocks(test: PublishedTest) -> Iterator[Block]:
    """Yield what was recorded, so that each working leads to the readings that it began with."""
    filter_test = test.filter_test
    if filter_test is not None:
        if filter_test.media_area is not None:
            facts = (
                Fact("Area of the medium, all filters together", recorded_text(filter_test.media_area)),
                Fact("How it was measured", filter_test.how or "not recorded"),
            )
            yield _block("filter-medium", "The filter medium, as measured", facts)
        yield from (_penetration_block(item) for item in filter_test.penetrations)
    # Those of a hose, or of another filter, too: what another section works out from them leads to the points here.
    yield from (_drop_block(item) for item in test.pressure_drops)
    if filter_test is not None:
        yield from (_loading_block(item) for item in filter_test.loading)


def _penetration_block(item: FilterPenetration) -> Block:
    facts = [
        Fact("Filter", item.filter.value),
        Fact("Flow", flow_words(item)),
        Fact("Particles", particle_words(item)),
        Fact("Diameter", recorded_text(item.diameter)),
        Fact("Their charge", charge_words(item)),
        Fact("Penetration", recorded_text(item.penetration)),
        Fact("Expanded uncertainty (95 %)", recorded_text(item.uncertainty)),
        Fact("Measured", item.where),
    ]
    if item.sessions:
        facts.append(Fact("Fit sessions with this filter and counter", listed(item.sessions)))
    return _block(f"filter-penetrations.{item.id}", f"Penetration {item.id}", tuple(facts))


def _drop_block(item: PressureDrops) -> Block:
    words = drop_words(item.of.value, item.filter.value, item.blower)
    words += ", not a part of the tested device" if item.alternative else ""
    facts = (
        Fact("Measured", item.what),
        Fact("Filters side by side", str(item.filters_at_once)),
        Fact("Expanded uncertainty (95 %) of one pressure", recorded_text(item.uncertainty)),
    )
    as_read = any(point.pressure.unit != "Pa" for point in item.points)
    points = tuple(
        Row(
            (
                Cell(quantity_text(point.flow.to("L/min"), "1", 4)),
                Cell(quantity_text(point.pressure.to("Pa"), "1", 4)),
                *((Cell(recorded_text(point.pressure)),) if as_read else ()),
            )
        )
        for point in item.points
    )
    columns = (
        Column("Flow", "L/min"),
        Column("Pressure lost", "Pa", numeric=True),
        *((Column("As recorded", numeric=True),) if as_read else ()),
    )
    table = Table(f"filter-drops.{item.id}.points", "Points as measured", columns, points)
    return _block(f"filter-drops.{item.id}", f"Pressure drops {item.id}: {words}", facts, table)


def _loading_block(item: FilterLoading) -> Block:
    facts = (
        Fact("Loaded with", item.what),
        Fact("Log", item.log.file.removeprefix("logs/"), f"data/{item.log.file}"),
    )
    return _block(f"filter-loading.{item.id}", f"Loading {item.id}", facts)


def _block(anchor: str, heading: str, facts: tuple[Fact, ...], table: Table | None = None) -> Block:
    return Block(anchor=anchor, heading=heading, facts=facts, table=table, figures=(), verdict=None, note=None)


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show what was found of a device's filter in all its records; nothing where none says anything of it."""
    found = [
        (context.catalogue.device_tests[record], result)
        for record, result in results.items()
        if isinstance(result, FilterResult)
    ]
    if not any(result.figures for _, result in found):
        return None
    assert isinstance(summary, FilterSummary)
    answer = (above_limit_words(summary.above_limit),) if summary.above_limit is not None else ()
    return TopicSection(
        topic="filter",
        heading="Filter",
        anchor="filter",
        answer=answer,
        sentences=(*answer, *_sentences(found)),
        chart=None,
        tables=filter_tables(found, device, context, on_device=True),
        blocks=(),
        workings=(),
        curves=tuple(
            chart_on_device(chart, test.id, context)
            for test, result in found
            for chart in filter_charts(test, result, context, f"{test.id}-")
        ),
        workings_on_paper=False,
        tables_told=True,
    )
