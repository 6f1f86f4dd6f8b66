"""What may be said of filter, burden, claims and approvals."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.base import NotRecorded
from generator.model.burden_result import BurdenResult, BurdenSummary, NoiseResult, SpeechResult
from generator.model.claim_result import ClaimOutcome, Coverage
from generator.model.filter_result import FilterResult
from generator.model.result import Verdict
from generator.presenting.burden_tables import LANDMARK, LEAST_RATING
from generator.presenting.burden_words import SHARE_UNDERSTOOD, setting_words
from generator.presenting.digits import value_text
from generator.presenting.figures import outcome_text
from generator.presenting.maker_side import CLAIM_WORDS, claimed_text
from generator.presenting.reviewed_device import ReviewedDevice, in_brackets, interval_words
from generator.presenting.statement_views import Statement
from generator.presenting.wording import count_text, day_text, listed, shortened, without_full_stop

_LONGEST_CLASS = 80


def stated_class(of: ReviewedDevice) -> str | None:
    """Return the filter class that the maker states; None where none is on record."""
    recorded = of.device.filter
    if isinstance(recorded, NotRecorded) or isinstance(recorded.stated_class, NotRecorded):
        return None
    return shortened(recorded.stated_class, _LONGEST_CLASS)


def penetration_measured(of: ReviewedDevice) -> bool:
    """Say whether what gets through the filter by itself was measured in a record that stands."""
    return any(result.penetrations for _, result in of.results("filter", FilterResult))


def filter_class(of: ReviewedDevice) -> Iterator[Statement]:
    """Where a filter class is stated: that it is the maker's word."""
    stated = stated_class(of)
    if stated is None:
        return
    measured = "Nothing was measured of the filter by itself."
    if penetration_measured(of):
        measured = "What got through the filter was measured here, but not in the test that the class asks for."
    yield Statement(
        id="filter-class",
        text=f"The maker of {of.name} states the filter class “{stated}”; that class was not tested here.",
        limits=f"{measured} A class is of the filter alone, and says nothing of how the device seals.",
        sources=(of.section("device", "Design notes"),),
    )


def noise(of: ReviewedDevice) -> Iterator[Statement]:
    """Where sound was measured: the loudest setting at the ear."""
    summary = of.summary("burden", BurdenSummary)
    if summary is None or summary.loudest is None or summary.loudest_record is None:
        return
    record, figure = summary.loudest_record, summary.loudest
    reading = _noise_reading(of, record, figure.key)
    conditions = in_brackets(setting_words(reading.setting), of.modification(record), interval_words(figure))
    yield Statement(
        id="noise",
        text=(
            f"{of.name} alone makes {value_text(figure, LANDMARK)} at the ear{conditions}"
            f"{_verdict(reading.verdict, of)}."
        ),
        limits="Noise around the wearer comes on top, and another head or fit gives another level.",
        sources=(of.section("burden", "The burden of wearing it"), of.figure_link(record, figure)),
    )


def _noise_reading(of: ReviewedDevice, record: str, key: str) -> NoiseResult:
    results = dict(of.results("burden", BurdenResult))
    return next(reading for reading in results[record].noise if reading.level.key == key)


def words_understood(of: ReviewedDevice) -> Iterator[Statement]:
    """Where words were read: the least that was understood."""
    summary = of.summary("burden", BurdenSummary)
    if summary is None or summary.least_rating is None or summary.least_rating_record is None:
        return
    record, figure = summary.least_rating_record, summary.least_rating
    test = _speech_test(of, record, figure.key)
    burden = of.context.catalogue.device_tests[record].burden
    assert burden is not None
    recorded = next(each for each in burden.speech if each.id == test.test)
    people = f"{count_text(recorded.listeners, 'listener')}, {count_text(recorded.talkers, 'talker')}"
    conditions = in_brackets(setting_words(test.setting), people, of.modification(record), interval_words(figure))
    yield Statement(
        id="words",
        text=(
            f"With {of.name}, {value_text(figure, LEAST_RATING)} of the words were understood that were understood "
            f"without it{conditions}{_verdict(test.verdict, of)}."
        ),
        limits=f"{SHARE_UNDERSTOOD} Other voices, words and rooms give other shares.",
        sources=(of.section("burden", "The burden of wearing it"), of.figure_link(record, figure)),
    )


def _speech_test(of: ReviewedDevice, record: str, key: str) -> SpeechResult:
    results = dict(of.results("burden", BurdenResult))
    return next(test for test in results[record].speech if test.rating.key == key)


def _verdict(verdict: Verdict | None, of: ReviewedDevice) -> str:
    """Say how a figure stands to a requirement; nothing where none is on record for the kind."""
    if verdict is None or verdict.limit is None:
        return ""
    return f": {outcome_text(verdict, of.context)}"


def decided_claims(of: ReviewedDevice) -> Iterator[Statement]:
    """For each claim that the tests support or contradict: the maker's words and what was measured."""
    for claim, result in zip(of.device.claims, of.result.claims, strict=True):
        if result.outcome not in (ClaimOutcome.SUPPORTED, ClaimOutcome.CONTRADICTED):
            continue
        assert result.figure is not None
        assert result.record is not None
        measured = f"{value_text(result.figure, result.claimed)}{in_brackets(interval_words(result.figure))}"
        lowest = "the only figure" if result.figures == 1 else f"the lowest of {count_text(result.figures, 'figure')}"
        yield Statement(
            id=f"claim-{result.number}",
            text=(
                f"The maker of {of.name} says “{without_full_stop(claim.quotation)}”: {claimed_text(result)}. "
                f"Measured was {measured}, {lowest}. The claim is {CLAIM_WORDS[result.outcome]}."
            ),
            limits=(
                f"{result.reason} It is about the items and the days of these tests; the words were read on "
                f"{day_text(claim.date)}."
            ),
            sources=(of.section(f"claim-{result.number}", "The claim"), of.figure_link(result.record, result.figure)),
        )


def stated_approvals(of: ReviewedDevice) -> Iterator[Statement]:
    """Where the maker states an approval: that, and whether what was tested lay outside it."""
    for number, approval in enumerate(of.device.approvals_stated, start=1):
        outside = [
            item.record for item in of.result.approvals if item.approval == number and item.coverage is Coverage.OUTSIDE
        ]
        records = "record" if len(outside) == 1 else "records"
        tested = f" What the {records} {listed(outside)} tested lay outside it." if outside else ""
        what = f"an approval under “{approval.scheme}”"
        yield Statement(
            id=f"approval-{number}",
            text=f"The maker of {of.name} states {what}; nothing here confirms it.{tested}",
            limits=(
                f"The statement was read on {day_text(approval.date_checked)}. An approval is looked up with the body "
                "that gives it, and covers only the parts that it names."
            ),
            sources=(of.section(f"approval-{number}", "The statement"),),
        )
