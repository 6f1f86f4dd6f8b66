"""Wearers and donnings of a device: group by group on the scale and in sentences, with every figure's working."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.model.device import Device
from generator.model.fit_result import FitGroup
from generator.model.result import Figure, Relation
from generator.model.wearers_result import OverWearers, WearerDonning
from generator.presenting.context import Context
from generator.presenting.digits import percent_text, rough_text, scale_text, value_text
from generator.presenting.figures import working_view
from generator.presenting.fit_sessions import fit_test_levels, landmarks, level_of, marks_of
from generator.presenting.panel_statements import NO_PANEL_RULE
from generator.presenting.scale_captions import arrows_in_words, points_in_words
from generator.presenting.views import Cell, Column, Row, ScaleMark, Table, WorkingView
from generator.presenting.wearer_statements import (
    OF_VOLUNTEERS,
    group_sentences,
    level_text,
    mean_ends,
    share_text,
    speaks_of_others,
    spread_ends,
    spread_value,
    who_text,
)
from generator.presenting.wearer_views import WearerChart, WearerGroup, WearerRow, WearersView
from generator.presenting.wording import sentence_case

Headed = tuple[FitGroup, str]
"""A group and the words for its state and method, none where they need no telling apart."""

_ALL = "All donnings that count"
_READING = "Each line is a wearer, by letter."
_ORDER = "A wearer’s donnings lie below one another, the first on top."
_BOUND = (
    "The bracket is the lower bound of the 5th percentile: with 95 % confidence, at least 95 in 100 donnings of new "
    "wearers lie above it."
)


def shows_donnings(groups: Sequence[FitGroup]) -> bool:
    """Say whether a group has more than one donning, so that its sessions stand wearer by wearer."""
    return any(len(group.over_wearers.donnings) > 1 for group in groups)


def present_wearers(headed: Sequence[Headed], device: Device, context: Context) -> WearersView:
    """Show what the groups of a device say of wearers."""
    drawn = shows_donnings([group for group, _ in headed])
    every = [group.over_wearers for group, _ in headed]
    shared = [OF_VOLUNTEERS] if any(speaks_of_others(over) for over in every) else []
    if not any(over.panels for over in every):
        shared.append(NO_PANEL_RULE)
    charts = _captioned([_chart(group, words, device, context) for group, words in headed]) if drawn else None
    return WearersView(
        groups=tuple(
            WearerGroup(
                anchor=f"wearers-{group.number}",
                heading=(words or _ALL) if len(headed) > 1 else None,
                sentences=group_sentences(group.over_wearers, context.catalogue.panels),
                chart=charts[number] if charts is not None else None,
                workings=_workings(group.over_wearers, words, context),
            )
            for number, (group, words) in enumerate(headed)
        ),
        sentences=tuple(shared),
        table=_table(headed, device),
    )


def _captioned(charts: Sequence[WearerChart]) -> list[WearerChart]:
    """Give each chart the words for what is drawn in it and in none before it."""
    said: set[str] = set()
    captioned = []
    for chart in charts:
        parts = [part for part in _caption_parts(chart) if part not in said]
        said.update(parts)
        captioned.append(replace(chart, caption=" ".join(parts)))
    return captioned


def _caption_parts(chart: WearerChart) -> list[str]:
    marks = [mark for row in chart.rows for mark in row.marks]
    arrows = arrows_in_words(marks if chart.mean is None else [*marks, chart.mean])
    parts = [_READING, *points_in_words(marks, "one donning", "the 95 % interval of counting"), *arrows]
    if any(len(row.marks) > 1 for row in chart.rows):
        parts.append(_ORDER)
    if chart.mean is not None:
        parts.append(_mean_in_words(chart.mean))
    return [*parts, *([_BOUND] if chart.bound is not None else [])]


def _mean_in_words(mean: ScaleMark) -> str:
    if mean.at_least:
        return "Below the line, the arrow is the geometric mean: where a donning is a bound, so is the mean."
    interval = " with its interval over wearers" if mean.low is not None else ""
    return f"Below the line, the large diamond is the geometric mean{interval}."


def _workings(over: OverWearers, words: str, context: Context) -> tuple[WorkingView, ...]:
    views = []
    for figure in over.figures:
        view = working_view(figure, words or "Over wearers", "", context)
        if view is None:
            continue
        text = view.result
        if figure in _shares(over):
            text = share_text(figure)
        elif figure is over.level_of_all:
            text = f"at least {level_text(figure)}"
        if text != view.result:
            view = replace(view, result=text, value=replace(view.value, result=text))
        views.append(replace(view, name=sentence_case(view.name)))
    return tuple(views)


def _shares(over: OverWearers) -> tuple[Figure, ...]:
    """Return the figures that are shares of wearers; they are written in percent."""
    passes = over.passes
    of_level = (passes.share, passes.by_score, passes.without_failures) if passes is not None else ()
    return tuple(figure for figure in (over.share_above, *of_level) if figure is not None)


def _chart(group: FitGroup, words: str, device: Device, context: Context) -> WearerChart:
    over = group.over_wearers
    levels = fit_test_levels(device, context)
    # A rounded factor must not seem to lie on the other side of the level that may apply.
    limit = levels[0].limit if levels else None
    rows = tuple(_row(wearer, over, limit) for wearer in over.wearers)
    mean = marks_of(over.mean, text=value_text(over.mean)) if over.mean is not None and len(over.donnings) > 1 else []
    bound = marks_of(over.bound, text=rough_text(over.bound)) if over.bound is not None else []
    described = ["; ".join(f"{row.letter}: {row.text}" for row in rows)]
    if over.mean is not None and mean:
        ends = mean_ends(over.mean)
        described.append(f"Geometric mean {value_text(over.mean)}{f', {ends}' if ends else ''}")
    if over.bound is not None and bound:
        described.append(f"Lower bound of the 5th percentile: {rough_text(over.bound)}")
    return WearerChart(
        id=f"wearers-{group.number}-scale",
        title=f"Fit factors wearer by wearer on a logarithmic scale from 1 to 100 000. {words or _ALL}",
        description=f"{'. '.join(described)}. Bars are 95 % intervals.",
        caption="",
        rows=rows,
        mean=mean[0] if mean else None,
        bound=bound[0] if bound else None,
        landmarks=landmarks(context, (level_of(each.record, each.session, context) for each in over.donnings)),
        table="fit-register",
    )


def _row(wearer: str, over: OverWearers, limit: float | None) -> WearerRow:
    own = [donning for donning in over.donnings if donning.wearer == wearer]
    return WearerRow(
        letter=wearer,
        text=", ".join(scale_text(donning.factor, limit, factor_digits=2) for donning in own),
        marks=tuple(_mark(donning) for donning in own),
    )


def _mark(donning: WearerDonning) -> ScaleMark:
    (mark,) = marks_of(donning.factor, f"{donning.record}-")
    return mark


def _table(headed: Sequence[Headed], device: Device) -> Table | None:
    page = f"devices/{device.id}.html"
    columns = (
        Column("Donnings of"),
        Column("Geometric mean", numeric=True),
        Column("Differs between wearers by", "factor", numeric=True),
        Column("Within one wearer by", "factor", numeric=True),
        Column("95 in 100 donnings above", "lower bound", numeric=True),
        Column("95 in 100 donnings above", "estimate", numeric=True),
        Column("Share who reached the pass level", numeric=True),
    )
    rows = [_cells(group, words, page) for group, words in headed]
    # A column in which no group has anything to say is left out.
    kept = [place for place in range(len(columns)) if any(cells[place].text != _NOTHING for cells in rows)]
    if len(kept) == 1:
        return None
    return Table(
        "wearers-figures",
        "What these donnings say together, with 95 % intervals over wearers",
        tuple(columns[place] for place in kept),
        tuple(Row(tuple(cells[place] for place in kept)) for cells in rows),
    )


_NOTHING = "–"


def _cells(group: FitGroup, words: str, page: str) -> tuple[Cell, ...]:
    over, passes = group.over_wearers, group.over_wearers.passes
    share = passes.share if passes is not None else None
    return (
        Cell(words or _ALL, note=sentence_case(who_text(over))),
        _cell(over.mean, page, mean_ends(over.mean) if over.mean is not None else None),
        _spread_cell(over.between, page),
        _spread_cell(over.within, page),
        _cell(over.bound, page, None),
        _cell(over.percentile, page, None),
        _share_cell(share, page),
    )


def _cell(figure: Figure | None, page: str, ends: str | None) -> Cell:
    if figure is None:
        return Cell(_NOTHING)
    if figure.value is None:
        return Cell("not stated", id=figure.key)
    text = rough_text(figure) if figure.relation is Relation.AT_LEAST or figure.interval is None else value_text(figure)
    return Cell(text, f"{page}#working.{figure.key}", ends.removeprefix("95 % interval ") if ends else None, figure.key)


def _spread_cell(figure: Figure | None, page: str) -> Cell:
    if figure is None or figure.value is None:
        return _cell(figure, page, None)
    return replace(_cell(figure, page, spread_ends(figure)), text=spread_value(figure))


def _share_cell(figure: Figure | None, page: str) -> Cell:
    if figure is None or figure.value is None:
        return Cell(_NOTHING)
    share = percent_text(figure.value, digits=2)
    return Cell(share, f"{page}#working.{figure.key}", f"{figure.sample_size} wearers", figure.key)
