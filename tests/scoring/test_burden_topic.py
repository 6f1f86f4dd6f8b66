"""Burden: levels and doses, masses, words understood, the cost of an hour, findings, verdicts, a device's worst."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.burden_result import BurdenResult, BurdenSummary, CostResult, NoiseResult
from generator.model.catalogue import Catalogue
from generator.model.reference import Criterion
from generator.model.result import Figure, Outcome, Relation
from tests.scoring.builders import NONE, Data, a_catalogue, a_device, a_run, a_test, score_all, score_one
from tests.scoring.burden_builders import a_part, a_sound, a_speech_test, a_use

HOOD = "loose_powered_hood"


def a_burdened_catalogue(device: Data | None = None, kind: str = HOOD, **burden: Any) -> Catalogue:
    return a_catalogue(a_test(burden=burden), device=a_device(kind, **(device or {})))


def scored(device: Data | None = None, kind: str = HOOD, **burden: Any) -> BurdenResult:
    catalogue = a_burdened_catalogue(device, kind, **burden)
    return result_of(catalogue)


def result_of(catalogue: Catalogue) -> BurdenResult:
    (test,) = catalogue.device_tests.values()
    result = score_one(test, catalogue).topics["burden"]
    assert isinstance(result, BurdenResult)
    return result


def sound(level: str, background: Any, **burden: Any) -> NoiseResult:
    return scored(noise=[a_sound(level, background)], **burden).noise[0]


def hour(use: Data, **device: Any) -> CostResult:
    cost = scored(device, use=use).cost
    assert cost is not None
    return cost


def value(figure: Figure | None) -> float:
    assert figure is not None
    assert figure.value is not None
    return figure.value


def rules(result: BurdenResult) -> list[str]:
    return [finding.rule for finding in result.findings]


def test_a_record_without_a_burden_has_no_result() -> None:
    test = a_test(flow=[a_run([170.0])])
    assert "burden" not in score_one(test, a_catalogue(test, device=a_device(HOOD))).topics


def test_the_background_is_taken_off() -> None:
    # source: acoustics 0.2.6: decibel.dbsub(71.2, 58.3) and dbsub(63, 60)
    result = sound("71.2 dB(A)", "58.3 dB(A)")
    assert result.level.key == "burden.ear-high.level"
    assert value(result.level) == pytest.approx(70.97135246077453, rel=1e-12)
    assert result.level.no_interval == "the uncertainty of the sound level meter is not on record"
    assert value(sound("63 dB(A)", "60 dB(A)").level) == pytest.approx(59.97937560071699, rel=1e-12)


@pytest.mark.parametrize(
    ("background", "reason"),
    [
        ("60.01 dB(A)", "background too near: less than 3 dB below the level"),
        ("70 dB(A)", "background too near: less than 3 dB below the level"),
        (NONE, "the background was not recorded"),
    ],
)
def test_no_level_where_the_background_hides_it(background: Any, reason: str) -> None:
    result = sound("63 dB(A)", background, hours_a_day="8 h", surroundings="70 dB(A)")
    unknown = f"the level of the device alone is not known: {reason}"
    assert result.level.not_scored == reason
    assert result.with_surroundings is not None
    assert result.with_surroundings.not_scored == unknown
    assert result.dose is not None
    assert result.dose.not_scored == unknown
    assert result.eight_hour_level is None


def test_the_dose_of_the_device_alone() -> None:
    # source: 29 CFR 1910.95 Appendix A, Table G-16A: 16 h at 85 dB(A), 4 h at 95 dB(A); the background of 5 dB(A) takes
    # off less than a hundred-millionth of a decibel
    result = sound("85 dB(A)", "5 dB(A)", hours_a_day="8 h")
    assert value(result.dose) == pytest.approx(50, rel=1e-8)
    assert value(result.eight_hour_level) == pytest.approx(85, abs=1e-3)
    assert value(sound("95 dB(A)", "5 dB(A)", hours_a_day="120 min").dose) == pytest.approx(50, rel=1e-8)
    assert result.with_surroundings is None
    assert sound("85 dB(A)", "5 dB(A)").dose is None


def test_the_surroundings_go_into_the_dose() -> None:
    # source: printed worked sum of levels: 75 dB and 75 dB are 78.0 dB; acoustics 0.2.6: decibel.dbsum([75, 75])
    low = sound("75 dB(A)", "0 dB(A)", hours_a_day="8 h", surroundings="75 dB(A)")
    assert value(low.with_surroundings) == pytest.approx(78.01029995663981, abs=1e-6)
    # source: 29 CFR 1910.95 Appendix A, Table G-16A: 16 h at 85 dB(A), half the time for 5 dB more, 3.0103 dB more here
    high = sound("85 dB(A)", "5 dB(A)", hours_a_day="8 h", surroundings="85 dB(A)")
    assert value(high.dose) == pytest.approx(50 * 2 ** (3.010299956639812 / 5), rel=1e-7)
    assert low.dose is not None
    assert low.dose.not_scored == "below 80 dB(A), where the rule's table begins"


@pytest.mark.parametrize(
    ("level", "reason"),
    [
        ("79.99 dB(A)", "below 80 dB(A), where the rule's table begins"),
        ("130.01 dB(A)", "above 130 dB(A), where the rule's table ends"),
    ],
)
def test_no_dose_beside_the_table(level: str, reason: str) -> None:
    # source: 29 CFR 1910.95 Appendix A, Table G-16A: rows from 80 to 130
    result = sound(level, "5 dB(A)", hours_a_day="8 h")
    assert result.dose is not None
    assert result.dose.not_scored == reason
    assert result.eight_hour_level is None


@pytest.mark.parametrize(
    ("level", "background", "found"),
    [
        # source: 42 CFR 84.140, 2020: at most 80 dBA
        ("80 dB(A)", "5 dB(A)", []),
        ("80.1 dB(A)", "5 dB(A)", ["noise-above-eighty"]),
        # The device alone makes 79.2 dB(A): acoustics 0.2.6, decibel.dbsub(80.1, 73) = 79.16
        ("80.1 dB(A)", "73 dB(A)", []),
        ("80.1 dB(A)", "79 dB(A)", ["noise-above-eighty"]),
        ("80.1 dB(A)", NONE, ["noise-above-eighty"]),
    ],
)
def test_a_loud_device_is_found(level: str, background: Any, found: list[str]) -> None:
    assert rules(scored(noise=[a_sound(level, background)])) == found


def test_masses_are_summed_in_one_unit() -> None:
    # source: pint 0.25.3: (1.2 kg + 8 oz + 300 g).to("g"), and 300 g and 8 oz over it
    parts = [a_part("1.2 kg", "waist"), a_part("8 oz"), a_part("300 g")]
    carried = scored(masses=parts).carried
    assert carried is not None
    assert value(carried.total) == pytest.approx(1726.796185, rel=1e-9)
    assert value(carried.head_share) == pytest.approx(100 * 526.796185 / 1726.796185, rel=1e-9)
    assert (carried.total.method, carried.head_share.method) == ("total-mass", "share-on-head")
    assert scored(noise=[a_sound()]).carried is None


def test_nothing_on_the_head_and_all_on_it() -> None:
    for where, share in (("waist", 0), ("head", 100)):
        carried = scored(masses=[a_part("500 g", where)]).carried
        assert carried is not None
        assert value(carried.head_share) == share


def test_words_understood() -> None:
    # source: scipy 1.17.1, as the check values of the method: 171 and 228 of 300 words of 6 choices
    (result,) = scored(speech=[a_speech_test(171, 228)]).speech
    # source: 171 - 129 / 5 = 145.2 and 228 - 72 / 5 = 213.6 words beside guesses; numpy 2.4.6: numpy.divide
    assert value(result.rating) == pytest.approx(67.97752808988764, rel=1e-12)
    assert result.rating.interval is not None
    assert result.rating.interval.low == pytest.approx(57.50108588597207, rel=1e-9)
    assert result.rating.interval.high == pytest.approx(79.4986683920727, rel=1e-9)
    assert "too narrow" in result.rating.interval.covers


@pytest.mark.parametrize(
    ("understood_with", "understood_without", "reason"),
    [
        # source: scipy 1.17.1: stats.binom.mean(300, 1 / 6) is 50
        (50, 288, "no more words were understood with the device than guessing gives"),
        (171, 50, "no more words were understood without the device than guessing gives"),
        (10, 20, "no more words were understood without the device than guessing gives"),
        (51, 51, None),
    ],
)
def test_no_rating_of_guesses(understood_with: int, understood_without: int, reason: str | None) -> None:
    (result,) = scored(speech=[a_speech_test(understood_with, understood_without)]).speech
    assert result.rating.not_scored == reason


@pytest.mark.parametrize(
    ("understood_with", "found"),
    # source: scipy 1.17.1: optimize.brentq as in test_speech_scores, of 300 words of 6 choices, 288 without: the upper
    # limits are 69.9 % of 200 and 70.3 % of 201; 42 CFR 84.181, 2020: at least 70 %
    [(200, ["few-words-understood"]), (201, []), (50, ["few-words-understood"])],
)
def test_few_words_are_found(understood_with: int, found: list[str]) -> None:
    result = scored(speech=[a_speech_test(understood_with)])
    assert rules(result) == found


def test_the_finding_says_how_few() -> None:
    (rated,) = scored(speech=[a_speech_test(171)]).findings
    # source: numpy 2.4.6: 100 * numpy.divide(171 - 129 / 5, 288 - 12 / 5)
    assert rated.facts["rating_percent"] == pytest.approx(50.84033613445377, rel=1e-12)
    (guessed,) = scored(speech=[a_speech_test(50)]).findings
    assert "rating_percent" not in guessed.facts


PAD: Data = {"item": "filter pad", "price": "12.50 EUR", "lasts": "40 h"}
CELL: Data = {"item": "cell", "price": "40.00 EUR", "lasts": "1000 h"}


def test_an_hour_of_use() -> None:
    # source: numpy 2.4.6: 189 / 240 + numpy.dot([12.5, 40], numpy.reciprocal([40.0, 1000.0]))
    cost = hour(a_use(), price="189.00 EUR", consumables=[PAD, CELL])
    assert value(cost.an_hour) == pytest.approx(1.14, rel=1e-12)
    assert (cost.an_hour.unit, cost.an_hour.relation) == ("EUR/h", Relation.EQUAL)
    assert (cost.an_hour.sample_size, cost.not_counted) == (3, ())
    assert scored(noise=[a_sound()]).cost is None


@pytest.mark.parametrize(
    ("price", "pad", "least", "missing"),
    [
        # source: the same with what is on record alone
        (NONE, {}, 0.3125, ("the device",)),
        ("189.00 EUR", {"price": NONE}, 0.7875, ("filter pad",)),
        ("189.00 EUR", {"lasts": NONE}, 0.7875, ("filter pad",)),
    ],
)
def test_what_is_not_on_record_makes_it_a_least_cost(
    price: Any, pad: Data, least: float, missing: tuple[str, ...]
) -> None:
    cost = hour(a_use(), price=price, consumables=[PAD | pad])
    assert value(cost.an_hour) == pytest.approx(least, rel=1e-12)
    assert (cost.an_hour.relation, cost.not_counted) == (Relation.AT_LEAST, missing)


def test_two_currencies_and_no_price_are_not_scored() -> None:
    two = hour(a_use(), price="189.00 EUR", consumables=[PAD | {"price": "12.50 USD"}])
    assert two.an_hour.not_scored == "prices in 2 currencies: EUR, USD"
    assert two.an_hour.unit == "currency/h"
    none = hour(a_use(), price=NONE, consumables=[PAD | {"lasts": NONE}])
    assert none.an_hour.not_scored == "no price is on record"
    assert none.not_counted == ("the device", "filter pad")


def a_criterion(quantity: str, limit: float, **changes: Any) -> Criterion:
    data: Data = {
        "id": f"own-{quantity}-{1000 * limit:.0f}",
        "title": "Own",
        "label": "own",
        "quantity": quantity,
        "limit": limit,
        "unit": "dB(A)" if quantity == "noise" else "1",
        "bound": "at_most" if quantity == "noise" else "at_least",
        "decision_rule": "guarded",
        "kinds": [HOOD],
        "meaning": "The reviewer's own.",
        "sources": [{"document": "d", "edition": "e", "clause": "c", "status": "own"}],
    }
    return Criterion.model_validate(data | changes, strict=False)


def held_against(catalogue: Catalogue, *criteria: Criterion) -> BurdenResult:
    return result_of(replace(catalogue, criteria={criterion.id: criterion for criterion in criteria}))


def test_the_published_requirements_hold_no_such_figure_of_these_kinds() -> None:
    result = scored(noise=[a_sound()], speech=[a_speech_test()])
    assert result.verdicts == ()
    assert (result.noise[0].verdict, result.speech[0].verdict) == (None, None)


def test_a_level_without_interval_decides_nothing_against_the_lowest_limit() -> None:
    catalogue = a_burdened_catalogue(noise=[a_sound()])
    (verdict,) = held_against(catalogue, a_criterion("noise", 75), a_criterion("noise", 70)).verdicts
    assert (verdict.key, verdict.figure) == ("burden.ear-high.verdict", "burden.ear-high.level")
    assert (verdict.outcome, verdict.limit) == (Outcome.UNDECIDED, 70)


@pytest.mark.parametrize(
    ("understood_with", "outcome"),
    # source: JCGM 106:2012, the guarded rule; scipy 1.17.1: the intervals are 44 to 58 %, 62 to 75 %, 79 to 91 %
    [(171, Outcome.DOES_NOT_MEET), (213, Outcome.UNDECIDED), (252, Outcome.MEETS), (50, Outcome.UNDECIDED)],
)
def test_a_rating_is_held_against_the_highest_limit(understood_with: int, outcome: Outcome) -> None:
    catalogue = a_burdened_catalogue(speech=[a_speech_test(understood_with)])
    (verdict,) = held_against(catalogue, a_criterion("speech", 0.7), a_criterion("speech", 0.5)).verdicts
    assert (verdict.key, verdict.figure) == ("burden.words-high.verdict", "burden.words-high.rating")
    assert (verdict.outcome, verdict.limit, verdict.unit) == (outcome, 0.7, "1")


def test_the_loudest_and_the_worst_understood_stand_for_a_device() -> None:
    first = a_test(
        burden={"noise": [a_sound(), a_sound("60 dB(A)", "30 dB(A)", id="low")], "speech": [a_speech_test(252)]}
    )
    other = {"noise": [a_sound("90 dB(A)", NONE), a_sound("72 dB(A)", "30 dB(A)", id="b")], "speech": [a_speech_test()]}
    second = a_test(id="second", burden=other)
    catalogue = a_catalogue(first, second, device=a_device(HOOD))
    summary = score_all(catalogue).devices["device"].topics["burden"]
    assert isinstance(summary, BurdenSummary)
    assert summary.loudest is not None
    assert summary.least_rating is not None
    assert (summary.loudest.key, summary.loudest_record) == ("burden.b.level", "second")
    assert (summary.least_rating.key, summary.least_rating_record) == ("burden.words-high.rating", "second")


def test_a_device_of_which_nothing_is_scored() -> None:
    catalogue = a_burdened_catalogue(masses=[a_part("400 g")])
    summary = score_all(catalogue).devices["device"].topics["burden"]
    assert isinstance(summary, BurdenSummary)
    assert (summary.loudest, summary.least_rating) == (None, None)
    nothing = a_catalogue(a_test(flow=[a_run([170.0])]), device=a_device(HOOD))
    assert "burden" not in score_all(nothing).devices["device"].topics


def test_a_device_without_blower_has_masses_words_and_money() -> None:
    result = scored(
        {"price": "1.90 EUR"},
        "filtering_facepiece",
        masses=[a_part("10.2 g")],
        speech=[a_speech_test(setting="none")],
        use=a_use("16 h"),
    )
    assert [figure.key for figure in result.figures] == [
        "burden.words-high.rating",
        "burden.carried.total",
        "burden.carried.head_share",
        "burden.use.an_hour",
    ]
    assert result.cost is not None
    # source: pint 0.25.3 with a unit of money defined: (1.90 euro / (16 h)).to("euro/h")
    assert value(result.cost.an_hour) == pytest.approx(0.11875, rel=1e-12)


def test_every_figure_has_a_working_and_says_why_it_has_no_interval() -> None:
    result = scored(
        {"price": "189.00 EUR"},
        noise=[a_sound("85 dB(A)", "40 dB(A)")],
        hours_a_day="8 h",
        surroundings="80 dB(A)",
        masses=[a_part("400 g")],
        speech=[a_speech_test()],
        use=a_use(),
    )
    assert len(result.figures) == 8
    for figure in result.figures:
        assert figure.working is not None
        assert (figure.interval is None) == (figure.no_interval is not None)
        assert figure.working.method == figure.method
