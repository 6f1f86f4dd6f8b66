"""Words understood with a device as a share of those understood without it, with its interval and verdict."""

from __future__ import annotations

from generator.model.burden import Burden, SpeechTest
from generator.model.burden_result import SpeechResult
from generator.model.device import Device
from generator.model.published import PublishedCatalogue
from generator.model.reference import CriterionQuantity
from generator.model.result import Figure, Input, Interval, Verdict, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.requirements import criteria_for, strictest, verdict_on
from generator.scoring.speech_scores import score_without_guesses, speech_rating, speech_rating_limits

COVERS = (
    "chance in which words were caught, each taken for itself; not differences between listeners, talkers and word "
    "lists, so that it is too narrow"
)
GUESSED_WITH = "no more words were understood with the device than guessing gives"
GUESSED_WITHOUT = "no more words were understood without the device than guessing gives"


def speech_results(burden: Burden, device: Device, catalogue: PublishedCatalogue) -> tuple[SpeechResult, ...]:
    """Score every test of words of a record, in its order."""
    results = []
    for test in burden.speech:
        rating = rating_figure(test)
        verdict = _verdict(test, rating, device, catalogue)
        results.append(SpeechResult(test=test.id, setting=test.setting, rating=rating, verdict=verdict))
    return tuple(results)


def rating_figure(test: SpeechTest) -> Figure:
    """Return the rating with its interval, or why there is none."""
    with_device = score_without_guesses(test.understood_with, test.words, test.choices)
    without = score_without_guesses(test.understood_without, test.words, test.choices)
    reason = GUESSED_WITHOUT if without <= 0 else GUESSED_WITH if with_device <= 0 else None
    return Figure(
        key=f"burden.{test.id}.rating",
        name="words understood, of those understood without the device",
        value=speech_rating(with_device, without) if reason is None else None,
        unit="%",
        interval=_interval(test) if reason is None else None,
        sample_size=test.words,
        sample_of="words each way",
        method="speech-rating",
        working=_working(test, with_device, without) if reason is None else None,
        not_scored=reason,
    )


def _interval(test: SpeechTest) -> Interval:
    low, high = speech_rating_limits(test.understood_with, test.understood_without, test.words, test.choices, COVERAGE)
    inputs = (
        _right("R_{\\mathrm{with}}", "with", test.understood_with, test),
        _right("R_{\\mathrm{without}}", "without", test.understood_without, test),
        *_words(test),
        Input(symbol="p", meaning="coverage probability", value=COVERAGE, unit="1", where="fixed here"),
    )
    return Interval(
        low=low,
        high=high,
        coverage=COVERAGE,
        method="speech-rating-limits",
        covers=COVERS,
        working=Working(method="speech-rating-limits", inputs=inputs),
    )


def _working(test: SpeechTest, with_device: float, without: float) -> Working:
    return Working(
        method="speech-rating",
        inputs=(
            _score(r"S_{\mathrm{with}}", "with", with_device, test.understood_with, test),
            _score(r"S_{\mathrm{without}}", "without", without, test.understood_without, test),
        ),
    )


def _score(symbol: str, how: str, score: float, understood: int, test: SpeechTest) -> Input:
    return Input(
        symbol=symbol,
        meaning=f"words understood {how} the device, without guesses",
        value=score,
        unit="count",
        where=f"burden.speech[{test.id}]",
        working=Working(method="score-without-guesses", inputs=(_right("R", how, understood, test), *_words(test))),
    )


def _right(symbol: str, how: str, understood: int, test: SpeechTest) -> Input:
    return Input(
        symbol=symbol,
        meaning=f"words chosen rightly {how} the device",
        value=understood,
        unit="count",
        where=f"burden.speech[{test.id}].understood_{how}",
    )


def _words(test: SpeechTest) -> tuple[Input, ...]:
    where = f"burden.speech[{test.id}]"
    return (
        Input(symbol="N", meaning="words read each way", value=test.words, unit="count", where=f"{where}.words"),
        Input(
            symbol="n",
            meaning="words to choose from for each one",
            value=test.choices,
            unit="count",
            where=f"{where}.choices",
        ),
    )


def _verdict(test: SpeechTest, rating: Figure, device: Device, catalogue: PublishedCatalogue) -> Verdict | None:
    criteria = criteria_for(CriterionQuantity.SPEECH, device, catalogue)
    if not criteria:
        return None
    key = f"burden.{test.id}.verdict"
    return verdict_on(key, as_ratio(rating), strictest(criteria), benchmark_only=device.home_built)


def as_ratio(rating: Figure) -> Figure:
    """Return a rating as a ratio, the unit that requirements of speech are stated in."""
    if rating.value is None or rating.interval is None:
        return rating
    low, high = (None if end is None else end / 100 for end in (rating.interval.low, rating.interval.high))
    interval = rating.interval.model_copy(update={"low": low, "high": high})
    return rating.model_copy(update={"value": rating.value / 100, "unit": "1", "interval": interval})
