"""Burden: what wearing a device costs in noise, mass, words understood, sight and money. Facts, and no grade."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.base import NotRecorded
from generator.model.burden_result import BurdenResult
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.filter_result import FilterResult, PressureDropResult
from generator.model.pressure_flow import DropOf
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.model.session import BLOWER_OFF
from generator.presenting.burden_tables import LANDMARK, Told, burden_tables
from generator.presenting.burden_words import (
    NO_GRADES,
    SHARE_UNDERSTOOD,
    dose_sentence,
    noise_sentence,
    setting_words,
)
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text, value_text
from generator.presenting.figures import working_view
from generator.presenting.modified_words import modified_words
from generator.presenting.views import IndexCell, TopicSection, WorkingView
from generator.scoring.filter_velocities import TEST_FLOW

INDEX_HEADING = "Burden"
INDEX_ORDER = "by the mass carried, of all parts as weighed, else as stated"
ANSWER_ORDER = 90
HOLDS = "the burden of wearing it"
PART = "reading"


def _sentences(told: Sequence[Told]) -> tuple[str, ...]:
    noise = [one for each in told for one in each.result.noise]
    doses = [one.dose for one in noise if one.dose is not None]
    sentences = []
    if noise:
        scored = [(one.level.value, one) for one in noise if one.level.value is not None]
        _, loudest = max(scored, key=lambda each: each[0], default=(None, None))
        level = value_text(loudest.level, LANDMARK) if loudest is not None else None
        setting = setting_words(loudest.setting) if loudest is not None else None
        sentences.append(noise_sentence(len(scored), setting, level))
    if doses:
        sentences.append(dose_sentence(sum(dose.value is not None for dose in doses), len(doses)))
    if any(each.result.speech for each in told):
        sentences.append(SHARE_UNDERSTOOD)
    return (*sentences, NO_GRADES)


def _section(told: Sequence[Told], device: Device, workings: tuple[WorkingView, ...]) -> TopicSection:
    return TopicSection(
        topic="burden",
        heading="The burden of wearing it",
        anchor="burden",
        answer=(),
        sentences=_sentences(told),
        chart=None,
        tables=burden_tables(told, device),
        blocks=(),
        workings=workings,
        workings_on_paper=False,
        tables_told=True,
    )


def _workings(result: BurdenResult, record: str, context: Context) -> tuple[WorkingView, ...]:
    named: list[tuple[str, Figure | None]] = []
    for one in result.noise:
        of = f"Sound, {setting_words(one.setting)}"
        named += [(of, each) for each in (one.level, one.with_surroundings, one.dose, one.eight_hour_level)]
    named += [(f"Words, {setting_words(test.setting)}", test.rating) for test in result.speech]
    if result.carried is not None:
        named += [("What is carried", each) for each in (result.carried.total, result.carried.head_share)]
    if result.cost is not None:
        named.append(("Use", result.cost.an_hour))
    views = [working_view(figure, of, record, context) for of, figure in named if figure is not None]
    return tuple(view for view in views if view is not None)


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show what one record says of the burden."""
    assert isinstance(result, BurdenResult)
    assert test.burden is not None
    told = Told(test.id, test.burden, result, context, on_device=False, several=False)
    return _section([told], context.catalogue.devices[test.device], _workings(result, test.id, context))


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show what all records of a device say of the burden; nothing where none says anything."""
    found = [(record, result) for record, result in results.items() if isinstance(result, BurdenResult)]
    named = len(found) > 1 or any(modified_words(record, context) for record, _ in found)
    told = [
        Told(record, burden, result, context, on_device=True, several=named)
        for record, result in found
        if (burden := context.catalogue.device_tests[record].burden) is not None
    ]
    return _section(told, device, ()) if told else None


def present_in_index(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> IndexCell:
    """Say what is carried and, where it was measured as supplied, how loud it is and what breathing in costs."""
    supplied = [record for record in context.result.devices[device.id].records if _as_supplied(record, context)]
    of_burden = [result for record, result in results.items() if record in supplied]
    burdens = [result for result in of_burden if isinstance(result, BurdenResult)]
    weighed = _greatest([result.carried.total for result in burdens if result.carried is not None])
    loudest = _greatest([one.level for result in burdens for one in result.noise])
    drop = _hardest_breath(supplied, context)
    notes = []
    if weighed is not None:
        text, grams = value_text(weighed), weighed.value
        notes.append("weighed, all parts")
    elif isinstance(device.mass, NotRecorded):
        text, grams = "mass not recorded", None
    else:
        text, grams = quantity_text(device.mass.number, device.mass.unit), device.mass.to("g")
        if device.mass.unit not in ("g", "kg"):
            notes.append(quantity_text(grams, "g", 3))
    if loudest is not None:
        notes.append(f"up to {value_text(loudest, LANDMARK)} at the ear")
    if drop is not None and drop.at_test_flow is not None:
        cost = value_text(drop.at_test_flow, drop.verdict.limit if drop.verdict is not None else None)
        held_off = ", blower off" if device.kind.powered else ""
        notes.append(f"breathing in, {drop.filter} filter{held_off}: {cost} at {quantity_text(TEST_FLOW, 'L/min')}")
    return IndexCell("burden", INDEX_HEADING, text, "; ".join(notes), None, order=grams)


def _hardest_breath(records: Sequence[str], context: Context) -> PressureDropResult | None:
    """Return the greatest pressure drop of breathing in through the whole device without help of a blower."""
    results = (context.result.records[record].topics.get("filter") for record in records)
    drops = [
        (one.at_test_flow.value, one)
        for result in results
        if isinstance(result, FilterResult)
        for one in result.drops
        if one.of == DropOf.INHALATION and one.blower in (None, BLOWER_OFF) and one.at_test_flow is not None
    ]
    scored = [(value, one) for value, one in drops if value is not None]
    return max(scored, key=lambda each: each[0])[1] if scored else None


def _as_supplied(record: str, context: Context) -> bool:
    return context.catalogue.device_tests[record].configuration.state is State.AS_SUPPLIED


def _greatest(figures: Sequence[Figure]) -> Figure | None:
    """Return the figure with the greatest value, or None where none was scored."""
    scored = [(figure.value, figure) for figure in figures if figure.value is not None]
    return max(scored, key=lambda each: each[0])[1] if scored else None
