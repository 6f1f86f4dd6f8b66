"""Burden: what wearing a device costs in noise, mass, words understood and money."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.model.burden import Burden
from generator.model.burden_result import BurdenResult, BurdenSummary, NoiseResult, SpeechResult
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, TopicResult
from generator.scoring.burden_cost import cost_result
from generator.scoring.burden_masses import carried_result
from generator.scoring.burden_noise import UNIT, noise_results
from generator.scoring.burden_speech import GUESSED_WITH, speech_results

ORDER = 90
LOUD = 80.0
"""The most that 42 CFR 84.140 allows inside supplied-air hoods at their greatest flow. [dB(A)]"""
FEW_WORDS = 70.0
"""The least rating that 42 CFR 84.181 asks of one class of powered device. [%]"""


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> BurdenResult | None:
    """Score what a record says of the burden, or return None where it says nothing."""
    if test.burden is None:
        return None
    device = catalogue.devices[test.device]
    noise = noise_results(test.burden, device, catalogue)
    speech = speech_results(test.burden, device, catalogue)
    carried, cost = carried_result(test.burden), cost_result(device, test.burden.use)
    of_noise = [
        figure
        for one in noise
        for figure in (one.level, one.with_surroundings, one.dose, one.eight_hour_level)
        if figure is not None
    ]
    return BurdenResult(
        figures=(
            *of_noise,
            *(one.rating for one in speech),
            *((carried.total, carried.head_share) if carried is not None else ()),
            *((cost.an_hour,) if cost is not None else ()),
        ),
        verdicts=tuple(
            verdict for verdict in (*(one.verdict for one in noise), *(one.verdict for one in speech)) if verdict
        ),
        findings=(*_loud(noise, test.burden), *_few_words(speech)),
        noise=noise,
        speech=speech,
        carried=carried,
        cost=cost,
    )


def _loud(noise: Iterable[NoiseResult], burden: Burden) -> list[Finding]:
    """Note levels above the landmark; where the background cannot be taken off, the level as it was read counts."""
    read = {reading.id: reading.level.to(UNIT) for reading in burden.noise}
    levels = [(one, read[one.reading] if one.level.value is None else one.level.value) for one in noise]
    return [
        Finding(
            rule="noise-above-eighty",
            where=f"burden.noise[{one.reading}]",
            facts={"setting": one.setting, "level_db_a": level, "as_read": int(one.level.value is None)},
        )
        for one, level in levels
        if level > LOUD
    ]


def _few_words(speech: Iterable[SpeechResult]) -> list[Finding]:
    return [
        Finding(
            rule="few-words-understood",
            where=f"burden.speech[{one.test}]",
            facts={"setting": one.setting, **_rating_fact(one.rating)},
        )
        for one in speech
        if _wholly_below(one.rating, FEW_WORDS) or one.rating.not_scored == GUESSED_WITH
    ]


def _rating_fact(rating: Figure) -> dict[str, str | int | float]:
    if rating.value is None:
        return {"not_scored": rating.not_scored or ""}
    return {"rating_percent": rating.value}


def _wholly_below(rating: Figure, limit: float) -> bool:
    return rating.interval is not None and rating.interval.high is not None and rating.interval.high < limit


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> BurdenSummary | None:
    """Sum up a device: its loudest level and its lowest speech rating."""
    of_burden = [(record, result) for record, result in results.items() if isinstance(result, BurdenResult)]
    if not of_burden:
        return None
    levels = [
        (one.level.value, one.level, record)
        for record, result in of_burden
        for one in result.noise
        if one.level.value is not None
    ]
    ratings = [
        (one.rating.value, one.rating, record)
        for record, result in of_burden
        for one in result.speech
        if one.rating.value is not None
    ]
    _, loudest, loudest_record = max(levels, key=lambda each: each[0], default=(None, None, None))
    _, least, least_record = min(ratings, key=lambda each: each[0], default=(None, None, None))
    return BurdenSummary(
        findings=(),
        loudest=loudest,
        loudest_record=loudest_record,
        least_rating=least,
        least_rating_record=least_record,
    )
