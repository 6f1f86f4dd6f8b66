"""The cautions: one for each finding that concerns a reader, in plain sentences that promise nothing."""

import re

import pytest

from generator.loading.reference import load_reference
from generator.model.reference import CautionRule

RULES = {rule.id: rule for rule in load_reference().caution_rules}
ON_EVERY_PAGE = {
    "not-an-approval",
    "only-what-was-tested",
    "particles-only",
    "air-that-cannot-be-breathed",
    "law-and-competent-person",
    "not-an-accredited-laboratory",
}
AFTER_A_FINDING = {
    "above-ceiling",
    "adjusted-during-test",
    "adverse-event",
    "alarm-after-flow-fell",
    "ambient-below-minimum",
    "ambient-changed",
    "approval-does-not-cover",
    "attempts-not-completed",
    "breath-responsive",
    "calibration-lapsed",
    "calibration-missing",
    "calibration-out-of-tolerance",
    "carbon-dioxide-above-one-percent",
    "channels-not-compared",
    "check-standard-beyond-limits",
    "claim-contradicted",
    "exercise-times-unlike-protocol",
    "exhaust-exceeds-supply",
    "few-words-understood",
    "fit-factor-above-filter",
    "fitness-not-recorded",
    "flow-below-requirement",
    "flow-benchmark-only",
    "flow-only-predicted",
    "flow-undecided",
    "generated-aerosol-unlike-protocol",
    "hair-under-seal",
    "home-built",
    "hood-oxygen-low",
    "humid-salt-aerosol",
    "in-mask-not-below-ambient",
    "inhaled-gas-impossible",
    "low-flow-at-other-setting",
    "meter-back-pressure-not-corrected",
    "meter-back-pressure-unknown",
    "modified",
    "no-alarm-when-flow-fell",
    "no-low-flow-alarm",
    "no-session-counts",
    "no-wearer",
    "noise-above-eighty",
    "one-donning",
    "one-wearer",
    "over-breathed-at-light-work",
    "over-breathed-at-rest",
    "over-breathed-when-speaking",
    "pass-level-not-reached",
    "peak-above-limit",
    "power-source-not-covered",
    "powered-exhaust",
    "prediction-misses-measured",
    "pressure-below-room",
    "probe-not-recorded",
    "readings-missing",
    "readings-repeat",
    "record-withdrawn",
    "resistance-above-limit",
    "run-time-shorter-than-task",
    "salt-humidity-not-recorded",
    "same-readings-in-exercises",
    "sample-not-bought",
    "single-reading",
    "unsteady-flow",
    "zero-check-missing",
    "zero-check-too-high",
    "zero-in-mask-count",
}
PROMISES = r"\b(safe|safely|certified|guaranteed?|protects you|approved by us|recommend(ed)?|best)\b|!"


def test_every_caution_is_known_here() -> None:
    assert set(RULES) == ON_EVERY_PAGE | AFTER_A_FINDING


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_caution_follows_the_finding_it_is_named_after(rule: CautionRule) -> None:
    assert rule.when == ("always" if rule.id in ON_EVERY_PAGE else rule.id)


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_a_heading_is_one_full_sentence(rule: CautionRule) -> None:
    assert re.fullmatch(r"[A-Z][^.?!]*\.", rule.heading)
    assert len(rule.heading.split()) >= 5


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_the_reason_is_one_to_four_short_sentences(rule: CautionRule) -> None:
    sentences = re.split(r"(?<=[.])\s+", rule.text)
    assert 1 <= len(sentences) <= 4
    assert all(len(sentence.split()) <= 32 for sentence in sentences)
    assert rule.text.endswith(".")


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_no_caution_promises_anything(rule: CautionRule) -> None:
    # The cited finding about five models is the only place where `best` is a fact and not praise.
    words = rule.text.replace("the best of five models", "")
    assert not re.search(PROMISES, f"{rule.heading} {words}", flags=re.IGNORECASE)


def test_too_little_clean_air_is_worst() -> None:
    worst = min(rule.severity for rule in RULES.values())
    assert {rule.id for rule in RULES.values() if rule.severity == worst} == {
        "exhaust-exceeds-supply",
        "flow-below-requirement",
        "in-mask-not-below-ambient",
    }


def test_the_rules_stand_worst_first() -> None:
    severities = [rule.severity for rule in RULES.values()]
    assert severities == sorted(severities)
