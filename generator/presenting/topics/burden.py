"""Burden: what wearing a device costs in noise, mass, words understood, sight and money. Facts, and no grade."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.burden_result import BurdenResult
from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.presenting.burden_tables import LANDMARK, Told, burden_tables
from generator.presenting.burden_words import (
    NO_GRADES,
    SHARE_UNDERSTOOD,
    dose_sentence,
    noise_sentence,
    setting_words,
)
from generator.presenting.context import Context
from generator.presenting.digits import value_text
from generator.presenting.figures import working_view
from generator.presenting.views import TopicSection, WorkingView

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
    told = [
        Told(record, burden, result, context, on_device=True, several=len(found) > 1)
        for record, result in found
        if (burden := context.catalogue.device_tests[record].burden) is not None
    ]
    return _section(told, device, ()) if told else None
