"""What became of a record or a device after it was issued: withdrawal, and amendments with the earlier figures."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.corrections import Amendment, Withdrawal
from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.correction_views import CorrectionNotice, EarlierFigure
from generator.presenting.corrections import own_amendments
from generator.presenting.digits import figure_text
from generator.presenting.page_parts import AmendmentView, Notice
from generator.presenting.record_places import figure_of, figure_words, in_words
from generator.presenting.shown_values import figures_with_limits
from generator.presenting.views import Cell, Column, Link, Row, Table
from generator.presenting.wording import count_text, day_text, full_sentence, sentence_case

NO_FIGURE_NOW = "no figure of this record any more"
FIGURES_AT_THE_TOP = 3
"""How many figures stand in the box at the top of a page; the amendments have them all."""


def withdrawn_text(withdrawal: Withdrawal) -> str:
    """Say in two words and a date that something was withdrawn."""
    return f"withdrawn on {day_text(withdrawal.date)}"


def record_notice(test: PublishedTest, context: Context) -> Notice | None:
    """Return what stands at the top of a withdrawn record's page, or None."""
    withdrawal = test.withdrawn
    if withdrawal is None:
        return None
    replaced = withdrawal.replaced_by
    return Notice(
        id="withdrawn",
        heading=f"This test record was withdrawn on {day_text(withdrawal.date)}.",
        text=(
            f"Reason: {full_sentence(withdrawal.reason)} Its figures can still be read below; they count towards no "
            "result of the device."
        ),
        replaced_by=context.record_link(replaced) if replaced is not None else None,
    )


def device_notice(device: Device, context: Context, of_record: bool = False) -> Notice | None:
    """Return what stands at the top of a withdrawn device's page, or of a page of one of its records."""
    withdrawal = device.withdrawn
    if withdrawal is None:
        return None
    replaced = withdrawal.replaced_by
    link = Link(context.catalogue.devices[replaced].name, f"devices/{replaced}.html") if replaced is not None else None
    what = f"The device {device.name}" if of_record else "This device"
    return Notice(
        id="device-withdrawn" if of_record else "withdrawn",
        heading=f"{what} was withdrawn from this catalogue on {day_text(withdrawal.date)}.",
        text=f"Reason: {full_sentence(withdrawal.reason)} What was measured can still be read.",
        replaced_by=link,
    )


def record_notices(test: PublishedTest, context: Context) -> tuple[Notice, ...]:
    """Return what stands at the top of a record's page: its own withdrawal, then its device's."""
    device = context.catalogue.devices[test.device]
    notices = (record_notice(test, context), device_notice(device, context, of_record=True))
    return tuple(notice for notice in notices if notice is not None)


def record_amendments(test: PublishedTest, context: Context) -> tuple[AmendmentView, ...]:
    """Return a record's amendments, oldest first, each earlier figure beside today's."""
    figures = figures_with_limits(test.id, context)
    return tuple(
        _amendment(number, amendment, figures, test.id, context)
        for number, amendment in enumerate(test.amendments, start=1)
    )


def correction_notice(test: PublishedTest, context: Context) -> CorrectionNotice | None:
    """Return what stands at the top of an amended record's page: its newest amendment; None where there is none."""
    amendments = own_amendments(test)
    if not amendments:
        return None
    newest, others = amendments[-1], len(amendments) - 1
    place = context.record_link(test.id, "amendments").href
    earlier = _earlier(newest, figures_with_limits(test.id, context), test.id, context)
    more = len(earlier) - FIGURES_AT_THE_TOP
    return CorrectionNotice(
        heading=f"This test record was corrected on {day_text(newest.date)}.",
        text=f"{full_sentence(in_words(newest.changed))} Reason: {full_sentence(newest.reason)}",
        earlier=earlier[:FIGURES_AT_THE_TOP],
        more=Link(f"and {count_text(more, 'more figure')}", place) if more > 0 else None,
        others=Link(sentence_case(count_text(others, "earlier amendment")), place) if others else None,
    )


def _earlier(
    amendment: Amendment, figures: Mapping[str, tuple[Figure, float | None]], record: str, context: Context
) -> tuple[EarlierFigure, ...]:
    """Return the figures that an amendment touched, as they were and as they are."""
    found = []
    for each in amendment.earlier:
        figure = figures.get(each.figure)
        if figure is None:
            found.append(EarlierFigure(each.figure, figure_words(each.figure), "", each.was, NO_FIGURE_NOW, None))
        else:
            name, of = figure[0].name, figure_of(each.figure)
            link = context.record_link(record, each.figure, name)
            found.append(EarlierFigure(each.figure, name, of, each.was, figure_text(*figure), link))
    return tuple(found)


def _amendment(
    number: int,
    amendment: Amendment,
    figures: Mapping[str, tuple[Figure, float | None]],
    record: str,
    context: Context,
) -> AmendmentView:
    rows = []
    for each in _earlier(amendment, figures, record, context):
        name = Cell(each.name, each.link.href, note=each.of) if each.link is not None else Cell(each.name)
        key = f"amendment-{number}.{each.key}"
        rows.append(Row((name, Cell(each.was, id=f"{key}.was"), Cell(each.today, id=f"{key}.today"))))
    table = Table(
        f"amendment-{number}",
        "Figures that the change touched",
        (Column("Figure"), Column("As published before"), Column("Today")),
        tuple(rows),
    )
    return AmendmentView(
        date=day_text(amendment.date),
        changed=full_sentence(in_words(amendment.changed)),
        reason=full_sentence(amendment.reason),
        earlier=table if rows else None,
    )
