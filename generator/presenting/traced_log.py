"""The methods page that follows one log through: from its rows to the overall fit factor and its interval."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.fit_result import FitResult
from generator.model.log import Sampling
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, percent_text, quantity_text, rounded, value_text
from generator.presenting.fit_sessions import pass_limit
from generator.presenting.letterhead import page_head
from generator.presenting.log_chart import session_log_chart
from generator.presenting.page_parts import PageHead
from generator.presenting.views import Cell, Column, Fact, Link, LogChart, Row, Table
from generator.presenting.wording import count_text, sentence_case
from generator.scoring.log_trace import LogTrace, TracedBlock, TracedExercise, log_to_trace, trace_of

PATH = "methods/traced-log.html"
FIRST_READINGS = 6
MEAN_DECIMALS = 2
"""Decimals of a mean: one more than most counters show, so that a column stands at its decimal mark."""
_DIGITS = 6
_KINDS = {
    Sampling.AMBIENT: ("outside", "made into means; every exercise is compared with the one before and the one after"),
    Sampling.IN_MASK: ("inside", "made into one mean for each exercise"),
    Sampling.PURGE: ("purge", "left out: the line still held the air from before"),
    Sampling.SIDE_BY_SIDE: ("side by side", "used to compare two channels"),
}


@dataclass(frozen=True)
class Step:
    """One step of the way: what is done, by which equation, and what comes out."""

    id: str
    heading: str
    text: tuple[str, ...]
    equation: str | None
    """LaTeX."""
    method: Link | None
    tables: tuple[Table, ...] = ()
    results: tuple[Fact, ...] = ()
    chart: LogChart | None = None


@dataclass(frozen=True)
class TracedLogPage:
    """A log that is followed through."""

    head: PageHead
    title: str
    answer: tuple[str, ...]
    facts: tuple[Fact, ...]
    steps: tuple[Step, ...]


def present_traced_log(context: Context) -> TracedLogPage | None:
    """Return the page, or None where the catalogue has no log that shows every step."""
    chosen = log_to_trace(context.catalogue, context.result.records)
    if chosen is None:
        return None
    topic = context.result.records[chosen[0]].topics["fit"]
    assert isinstance(topic, FitResult)
    trace = trace_of(*chosen, context.catalogue, topic)
    title = "One log, from its readings to the fit factor"
    description = "Every step from single readings to the overall fit factor and its interval, on one session."
    return TracedLogPage(
        head=page_head(PATH, title, description, trail=(Link("Methods", "methods/index.html"),)),
        title=title,
        answer=_answer(trace),
        facts=_facts(trace, context),
        steps=(
            _rows(trace, context),
            _means(trace),
            _counts(trace, context),
            _factors(trace, context),
            _overall(trace, context),
            _interval(trace, context),
        ),
    )


def _overall_text(trace: LogTrace) -> str:
    assert trace.result.overall is not None
    return value_text(trace.result.overall, pass_limit(trace.result))


def _anchor(trace: LogTrace, figure: str) -> str:
    return f"records/{trace.test.id}.html#{figure}"


def _answer(trace: LogTrace) -> tuple[str, ...]:
    assert trace.result.overall is not None
    return (
        f"{sentence_case(count_text(len(trace.log.samples), 'row'))} of a log become an overall fit factor of "
        f"{_overall_text(trace)}, with a 95 % interval of {interval_text(trace.result.overall)}.",
        "Whoever has the published log and a pocket calculator can check each step but the last.",
    )


def _facts(trace: LogTrace, context: Context) -> tuple[Fact, ...]:
    record, session = trace.test.id, trace.session
    device = context.catalogue.devices[trace.test.device]
    protocol = context.protocol_link(session.protocol)
    assert session.log is not None
    sha256 = f"SHA-256 of the file as taken: {trace.log.sha256}"
    return (
        Fact("Record", record, f"records/{record}.html"),
        Fact("Device", device.name, f"devices/{device.id}.html"),
        Fact("Session", f"{session.wearer}, donning {session.donning}", _anchor(trace, f"fit.{session.id}")),
        Fact("Protocol", protocol.text, protocol.href),
        Fact("Log", session.log.file, f"data/{session.log.file}", note=sha256),
        Fact("Counted flow", quantity_text(trace.air.flow, "cm3/min"), _anchor(trace, "instruments")),
    )


def _rows(trace: LogTrace, context: Context) -> Step:
    samples = trace.log.samples
    rows = tuple(
        Row((Cell(what), Cell(str(trace.rows[kind]), id=f"trace.rows.{kind.value}"), Cell(use)))
        for kind, (what, use) in _KINDS.items()
        if trace.rows[kind]
    )
    columns = (Column("Air"), Column("Rows", numeric=True), Column("What becomes of them"))
    return Step(
        id="rows",
        heading="The rows",
        text=(
            f"The log has {len(samples)} rows from {samples[0].time_s:g} s to {samples[-1].time_s:g} s. Each says the "
            "time, the concentration, the exercise, and where the counter drew its air from.",
        ),
        equation=None,
        method=None,
        tables=(Table("trace-rows", "Rows by the air that was drawn", columns, rows),),
        chart=session_log_chart(trace.session, context),
    )


def _means(trace: LogTrace) -> Step:
    outside = next(block for block in trace.blocks if block.air is Sampling.AMBIENT)
    inside = next(block for block in trace.blocks if block.air is Sampling.IN_MASK)
    return Step(
        id="means",
        heading="From readings to means",
        text=(
            "Rows of the same air that follow on one another are one block. Its concentration is the mean of its "
            f"readings. Here are the first {FIRST_READINGS} rows of the first two blocks, as they stand in the file.",
        ),
        equation=r"\bar{c} = \frac{1}{K} \sum_{k=1}^{K} c_{k}",
        method=None,
        tables=(_first(outside, "outside", "ambient"), _first(inside, "inside", "in-mask")),
    )


def _first(block: TracedBlock, what: str, key: str) -> Table:
    identity = f"trace-first-{key}"
    rows = [
        Row((Cell(f"{row.time_s:g}"), Cell(repr(row.concentration_per_cm3), id=f"trace.first.{key}.{number}")))
        for number, row in enumerate(block.rows[:FIRST_READINGS], start=1)
    ]
    total, mean = rounded(block.total, 1), rounded(block.mean, MEAN_DECIMALS)
    rows += [
        Row((Cell(f"sum of all {len(block.rows)}"), Cell(total, id=f"trace.first.{key}.sum"))),
        Row((Cell("mean"), Cell(mean, id=f"trace.first.{key}.mean"))),
    ]
    name = f", {block.name}" if block.name else ""
    caption = f"First block {what}{name}: {block.start:g} s to {block.end:g} s"
    columns = (Column("Time", "s"), Column("Concentration", "/cm³", numeric=True))
    return Table(identity, caption, columns, tuple(rows))


def _counts(trace: LogTrace, context: Context) -> Step:
    rows = tuple(_block_row(number, block) for number, block in enumerate(trace.blocks, start=1))
    columns = (
        Column("Block"),
        Column("From", "s", numeric=True),
        Column("To", "s", numeric=True),
        Column("Readings", numeric=True),
        Column("Mean", "/cm³", numeric=True),
        Column("Volume", "cm³", numeric=True),
        Column("Particles", numeric=True),
    )
    return Step(
        id="counts",
        heading="From means to particles",
        text=(
            "The counter counts single particles, so that behind every mean there is a whole number of them. The "
            "volume is the counted flow times the time of the readings; the number is mean times volume.",
        ),
        equation=context.method("count-from-concentration").equation,
        method=context.method_link("count-from-concentration"),
        tables=(Table("trace-blocks", "All blocks in order of time; purge is left out", columns, rows),),
    )


def _block_row(number: int, block: TracedBlock) -> Row:
    key = f"trace.block.{number}"
    return Row(
        (
            Cell(block.name or "Outside"),
            Cell(f"{block.start:g}"),
            Cell(f"{block.end:g}"),
            Cell(str(len(block.rows)), id=f"{key}.readings"),
            Cell(rounded(block.mean, MEAN_DECIMALS), id=f"{key}.mean"),
            Cell(rounded(block.particles.volume, MEAN_DECIMALS), id=f"{key}.volume"),
            Cell(rounded(block.particles.count, 0), id=f"{key}.particles"),
        )
    )


def _factors(trace: LogTrace, context: Context) -> Step:
    columns = (
        Column("Exercise"),
        Column("Outside", "/cm³", numeric=True),
        Column("Inside", "/cm³", numeric=True),
        Column("Fit factor", numeric=True),
        Column("95 % interval", numeric=True),
    )
    text = ["The outside concentration of an exercise is the mean of the block before it and the block after it."]
    if trace.zero is not None:
        zero = quantity_text(trace.zero.count / trace.zero.volume, "/cm3", _DIGITS)
        text.append(
            f"In the zero check the counter counted {count_text(trace.zero.count, 'particle')} by itself, {zero}; this "
            "is taken off the mean inside."
        )
    text.append("Each factor leads to its place on the record’s page, where it is written with the same digits.")
    return Step(
        id="factors",
        heading="The factor of each exercise",
        text=tuple(text),
        equation=context.method("exercise-fit-factor").equation,
        method=context.method_link("exercise-fit-factor"),
        tables=(
            Table(
                "trace-factors",
                "Factors of the exercises",
                columns,
                tuple(_factor_row(each, trace) for each in trace.exercises),
            ),
        ),
    )


def _factor_row(exercise: TracedExercise, trace: LogTrace) -> Row:
    result, key = exercise.result, f"trace.{exercise.result.exercise}"
    return Row(
        (
            Cell(result.name if result.counted else f"{result.name} (not counted)"),
            Cell(rounded(exercise.outside, MEAN_DECIMALS), id=f"{key}.outside"),
            Cell(rounded(exercise.inside, MEAN_DECIMALS), id=f"{key}.inside"),
            Cell(value_text(result.fit_factor), _anchor(trace, result.fit_factor.key), id=f"{key}.factor"),
            Cell(interval_text(result.fit_factor) or "not stated", id=f"{key}.interval"),
        )
    )


def _overall(trace: LogTrace, context: Context) -> Step:
    overall = trace.result.overall
    assert overall is not None
    left_out = [each.result.name for each in trace.exercises if not each.result.counted]
    without = f" {', '.join(left_out)} does not count." if len(left_out) == 1 else ""
    return Step(
        id="overall",
        heading="The overall factor",
        text=(
            "The reciprocals of the factors are the shares of outside that were inside. Their mean over the exercises "
            f"that count, turned over, is the overall factor: the worst exercise weighs most.{without}",
        ),
        equation=context.method("overall-fit-factor").equation,
        method=context.method_link("overall-fit-factor"),
        results=(
            Fact("Exercises that count", str(trace.counted), id="trace.counted"),
            Fact("Sum of the reciprocals", quantity_text(trace.sum_of_penetrations, "1", _DIGITS), id="trace.sum"),
            Fact("Their number over their sum", quantity_text(trace.overall, "1", _DIGITS), id="trace.quotient"),
            Fact("Overall, as published", _overall_text(trace), _anchor(trace, overall.key), id="trace.overall"),
        ),
    )


def _interval(trace: LogTrace, context: Context) -> Step:
    overall = trace.result.overall
    assert overall is not None
    assert overall.interval is not None
    method = context.method(overall.interval.method)
    limits, coverage = interval_text(overall) or "", percent_text(overall.interval.coverage)
    return Step(
        id="interval",
        heading="The interval",
        text=(
            "How far the overall factor may be off follows from the particles in the blocks above: a small number of "
            "them scatters more than a large one. This step needs a computer; the method’s page has every symbol, and "
            "the record’s page every number that went in.",
        ),
        equation=method.equation,
        method=context.method_link(method.id),
        results=(
            Fact("Particles inside, exercises that count", rounded(trace.inside, 0), id="trace.particles.inside"),
            Fact("Particles outside, all blocks", rounded(trace.outside, 0), id="trace.particles.outside"),
            Fact(f"{coverage} interval", limits, _anchor(trace, overall.key), id="trace.interval"),
            Fact("It covers", overall.interval.covers),
            Fact("Every number", "how the factor comes about", _anchor(trace, f"working.{overall.key}")),
        ),
    )
