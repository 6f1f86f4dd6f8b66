"""Every sentence about wearers and donnings, word for word."""

from __future__ import annotations

import math

import pytest

from generator.loading import load_reference
from generator.presenting.panel_statements import panel_demand, panel_sentence
from generator.presenting.wearer_statements import (
    group_sentences,
    not_tested_sentence,
    pass_sentence,
    speaks_of_others,
)
from tests.scoring.test_panel_results import CAPABILITY, FIVE, LEAKAGE, panels
from tests.scoring.test_pass_shares import known, passes
from tests.scoring.test_wearers import EIGHT, in_batches
from tests.scoring.wearer_builders import NOTHING_COUNTED, one_each, over

NARROW = "\N{NARROW NO-BREAK SPACE}"
RULES = load_reference().panels
WEIGHTS = tuple(math.exp(weight / 50) for weight in (148, 154, 158, 160, 161, 162, 166, 170, 182, 195, 236))
NOBODY = "With one wearer, nothing follows for anyone else."
UNTESTED = (
    "That rests on results being log-normal, as fit factors often are; fewer than eight wearers are too few to test it."
)

Factors = dict[str, list[float | str]]
CASES: list[tuple[str, Factors, list[str]]] = [
    (
        "one wearer once",
        {"a": [341.0]},
        [
            "One wearer, one donning: the fit factor was 340. With one donning, nothing follows for another; with one "
            "wearer, nothing follows for anyone else."
        ],
    ),
    (
        # source: R 4.2.2: exp(mean(log(c(120, 340, 95)))) is 157.08
        "one wearer three times",
        {"a": [120.0, 340.0, 95.0]},
        [
            "One wearer, three donnings: the middle of the fit factors (geometric mean) was 160, the lowest 95 and the "
            f"highest 340. {NOBODY}"
        ],
    ),
    (
        # source: 3000 * 200 / 2.996 by hand: 3 exercises of 40 s at 100 cm3/min, no particle counted
        "one wearer with a bound",
        {"a": [120.0, NOTHING_COUNTED]},
        [f"One wearer, two donnings: the lowest fit factor was 120, the highest at least 200{NARROW}000. {NOBODY}"],
    ),
    (
        # source: R 4.2.2: GM 12.2874 (7.2689 to 20.77), GSD 1.8738 (1.5146 to 3.59), 4.3741, bound 1.6605, p 0.7753
        "eight wearers once each",
        one_each(*EIGHT),
        [
            "Eight wearers, one donning each: the middle of the fit factors (geometric mean) was 12; "
            "95 % interval 7.2 to 21.",
            "From wearer to wearer they differed by a factor of 1.9 (geometric standard deviation; 95 % interval 1.5 "
            "to 3.6): about two wearers in three are expected within that factor of the middle.",
            "With 95 % confidence, at least 95 in 100 donnings of new wearers like these lie above 1.6. The estimate, "
            "without that confidence, is 4.4.",
            "That rests on results being log-normal. A test did not contradict it (by Shapiro and Wilk, p = 0.78), "
            "which does not show it to be so.",
        ],
    ),
    (
        # source: R 4.2.2: GM 122.4745 (below 1 to 7e9), GSD 7.3110 (2.4292 to 4e27); for the 20 see test_wearers
        "two wearers once each",
        one_each(30.0, 500.0),
        [
            "Two wearers, one donning each: the middle of the fit factors (geometric mean) was 120; "
            f"95 % interval below 1 to above 100{NARROW}000.",
            "From wearer to wearer they differed by a factor of 7.3 (geometric standard deviation; 95 % interval 2.4 "
            "to more than 100): about two wearers in three are expected within that factor of the middle.",
            "How low the worst 5 in 100 donnings of new wearers like these lie is not stated: not enough wearers to "
            "say; 20 with this spread would do.",
        ],
    ),
    (
        # source: the third root of 0.05 is 0.368
        "three alike",
        one_each(150.0, 150.0, 150.0),
        [
            "Three wearers, one donning each: the middle of the fit factors (geometric mean) was 150; no interval, "
            "since the results are all the same, so that they show no spread.",
            "How much wearers differ is not given: the results are all the same, so that they show no spread.",
            "How low the worst 5 in 100 donnings of new wearers like these lie is not stated: the results are all the "
            "same, so that they show no spread.",
            "However the results are distributed: all three wearers reached 150 at the first donning that counts, and "
            f"with 95 % confidence at least 36{NARROW}% of wearers like these do.",
        ],
    ),
    (
        # source: R 4.2.2, nlme 3.1-162: 5385.9903 (3389.1868 to 8074), 1.4584, 1.6552 (1.4468 to 2.5288), 1912.3355;
        # the limits between wearers and the bound by the scripts named in the registry of methods and below
        "six wearers, several donnings",
        in_batches(),
        [
            "Six wearers, 16 donnings: the middle of the fit factors (geometric mean) was 5400; "
            "95 % interval 3300 to 8100.",
            "Between wearers they differed by a factor of 1.5 (95 % interval 1.0 to 2.6), from donning to donning of "
            "one wearer by a factor of 1.66 (95 % interval 1.44 to 2.53).",
            # the bound: regression only
            "With 95 % confidence, at least 95 in 100 donnings of new wearers like these lie above 940. The estimate, "
            "without that confidence, is 1900.",
            UNTESTED,
        ],
    ),
    (
        # source: R 4.2.2, nlme 3.1-162: 142.3374 (69.4572 to 291.7), 1.0000, 1.5342 (1.3673 to 7.8386), 70.4010
        "no difference between wearers",
        {"a": [100.0, 200.0], "b": [210.0, 100.0], "c": [90.0, 220.0]},
        [
            "Three wearers, two donnings each: the middle of the fit factors (geometric mean) was 140; "
            "95 % interval 69 to 300.",
            "No difference between wearers shows beyond that from donning to donning of one wearer by a factor of 1.53 "
            "(95 % interval 1.36 to 7.84); they may differ all the same.",
            # the bound: regression only
            "With 95 % confidence, at least 95 in 100 donnings of new wearers like these lie above 21. The estimate, "
            "without that confidence, is 70.",
            UNTESTED,
        ],
    ),
    (
        # source: the root of 0.05 is 0.224
        "no spread within a wearer",
        {"a": [100.0, 100.0], "b": [200.0, 200.0]},
        [
            "Two wearers, two donnings each: no middle of the fit factors is given, since no wearer had two different "
            "results, so that the spread within one wearer is not known.",
            "How low the worst 5 in 100 donnings of new wearers like these lie is not stated: no wearer had two "
            "different results, so that the spread within one wearer is not known.",
            "However the results are distributed: both wearers reached 100 at the first donning that counts, and with "
            f"95 % confidence at least 22{NARROW}% of wearers like these do.",
        ],
    ),
    (
        # source: R 4.2.2, survival: survreg(Surv(c(9, 13, 18, 23, 31, 200284), c(1, 1, 1, 1, 1, 0)) ~ 1,
        # dist = "lognormal"): 107.8 and 64.6; the sixth root of 0.05 is 0.607
        "a bound among single donnings",
        one_each(9.0, 13.0, 18.0, 23.0, 31.0, NOTHING_COUNTED),
        [
            "Six wearers, one donning each, one of them known only as “at least”: the middle of the fit factors "
            "(geometric mean) was 110; no interval, since none holds for so few wearers where results are only known "
            "as “at least”.",
            "From wearer to wearer they differed by a factor of 65 (geometric standard deviation; no interval): about "
            "two wearers in three are expected within that factor of the middle.",
            "However the results are distributed: all six wearers reached 9 at the first donning that counts, and with "
            f"95 % confidence at least 60{NARROW}% of wearers like these do.",
        ],
    ),
    (
        # source: by hand, exp((ln(9 * 20) / 2 + ln(13 * 200284) / 2) / 2) is 147.1; a bound is rounded down
        "a bound among several donnings",
        {"a": [9.0, 20.0], "b": [13.0, NOTHING_COUNTED]},
        [
            "Two wearers, two donnings each, one of them known only as “at least”: the middle of the fit factors "
            "(geometric mean) of those tested was at least 140.",
            "However the results are distributed: both wearers reached 9 at the first donning that counts, and with "
            f"95 % confidence at least 22{NARROW}% of wearers like these do.",
        ],
    ),
    (
        "bounds only",
        one_each(NOTHING_COUNTED, NOTHING_COUNTED),
        [
            "Two wearers, one donning each, all known only as “at least”: the middle of the fit factors (geometric "
            f"mean) of those tested was at least 200{NARROW}000.",
            f"However the results are distributed: both wearers reached 200{NARROW}000 at the first donning that "
            f"counts, and with 95 % confidence at least 22{NARROW}% of wearers like these do.",
        ],
    ),
    (
        # source: R 4.2.2: 31.1870 (22.3034 to 43.61), 1.6471 (1.4172 to 2.401), p 0.0067; exp(148 / 50) is 19.298;
        # the eleventh root of 0.05 is 0.7616
        "not log-normal",
        one_each(*WEIGHTS),
        [
            "Eleven wearers, one donning each: the middle of the fit factors (geometric mean) was 31; "
            "95 % interval 22 to 44.",
            "From wearer to wearer they differed by a factor of 1.65 (geometric standard deviation; 95 % interval 1.41 "
            "to 2.41): about two wearers in three are expected within that factor of the middle.",
            "The wearers’ results do not look log-normal (test by Shapiro and Wilk, p = 0.0067). What is said above of "
            "the middle and the spread is doubtful for that, and how low the worst donnings lie is not stated.",
            "However the results are distributed: all eleven wearers reached 19.2 at the first donning that counts, "
            f"and with 95 % confidence at least 76{NARROW}% of wearers like these do.",
        ],
    ),
]


@pytest.mark.parametrize(("factors", "sentences"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_what_donnings_say(factors: Factors, sentences: list[str]) -> None:
    assert list(group_sentences(over(factors), RULES)) == sentences


@pytest.mark.parametrize(
    ("factors", "said"), [({"a": [100.0, 90.0]}, False), (one_each(100.0, 90.0), True), (one_each(100.0, 100.0), True)]
)
def test_whether_others_are_spoken_of(factors: Factors, said: bool) -> None:
    assert speaks_of_others(over(factors)) is said


@pytest.mark.parametrize(
    ("factors", "state", "sentence"),
    [
        (
            # source: as for the eight wearers above
            one_each(*EIGHT),
            " (with the blower off)",
            "For someone not tested, the fit factor (with the blower off) is not known. Going by eight wearers, one "
            "donning each, with 95 % confidence at least 95 in 100 donnings of new wearers like them lie above 1.6; "
            "the estimate, without that confidence, is 4.4.",
        ),
        (
            {"a": [100.0, 90.0]},
            "",
            "For someone not tested, the fit factor is not known, and no lower bound can be given: one wearer does not "
            "show how wearers differ.",
        ),
        (
            one_each(30.0, 500.0),
            " (with an optical particle counter)",
            "For someone not tested, the fit factor (with an optical particle counter) is not known, and no lower "
            "bound can be given: not enough wearers to say; 20 with this spread would do.",
        ),
        (
            {"a": [9.0, 20.0], "b": [13.0, NOTHING_COUNTED]},
            "",
            "For someone not tested, the fit factor is not known, and no lower bound can be given: some results are "
            "known only as “at least”.",
        ),
        (
            one_each(NOTHING_COUNTED, NOTHING_COUNTED),
            "",
            "For someone not tested, the fit factor is not known, and no lower bound can be given: every result is "
            "known only as “at least”.",
        ),
        (
            one_each(*WEIGHTS),
            "",
            "For someone not tested, the fit factor is not known, and no lower bound can be given: the results do not "
            "look log-normal, and this would rest on their being so.",
        ),
    ],
)
def test_the_answer_to_someone_who_was_not_tested(factors: Factors, state: str, sentence: str) -> None:
    assert not_tested_sentence(over(factors), state) == sentence


NEXT = "That does not tell whether the next wearer will."


@pytest.mark.parametrize(
    ("factors", "sentence"),
    # source of all limits: R 4.2.2: binom.test(x, n) and prop.test(x, n, correct = FALSE), rounded outwards
    [
        (
            one_each(*[150.0] * 7, *[60.0] * 13),
            f"Fit-test pass level 100: 7 of 20 wearers reached it at the first donning that counts (35{NARROW}%). Of "
            f"wearers like these, between 15{NARROW}% and 60{NARROW}% would (exact 95 % interval; between "
            f"18{NARROW}% and 57{NARROW}% by Wilson’s method). {NEXT}",
        ),
        (
            one_each(*[150.0] * 24, 60.0),
            f"Fit-test pass level 100: 24 of 25 wearers reached it at the first donning that counts (96{NARROW}%). Of "
            f"wearers like these, between 79{NARROW}% and nearly all would (exact 95 % interval; between "
            f"80{NARROW}% and nearly all by Wilson’s method). {NEXT}",
        ),
        (
            one_each(*[150.0] * 25),
            "Fit-test pass level 100: all 25 wearers reached it at the first donning that counts. Of wearers like "
            f"these, between 86{NARROW}% and 100{NARROW}% would (exact 95 % interval; between 86{NARROW}% and "
            f"100{NARROW}% by Wilson’s method). With 95 % confidence, at least 88{NARROW}% would, since none failed. "
            f"{NEXT}",
        ),
        (
            one_each(60.0, 70.0),
            f"Fit-test pass level 100: 0 of 2 wearers reached it at the first donning that counts (0{NARROW}%). Of "
            f"wearers like these, between 0{NARROW}% and 85{NARROW}% would (exact 95 % interval; between 0{NARROW}% "
            f"and 66{NARROW}% by Wilson’s method). {NEXT}",
        ),
    ],
)
def test_who_reached_a_pass_level(factors: Factors, sentence: str) -> None:
    assert pass_sentence(known(passes(factors))) == sentence


ABOUT = "It is about this panel, and the rule’s text says what follows from it."
THIRTEEN = "Panel rule “Fit capability, 13 of 25 wearers at a fit factor of 100”"


@pytest.mark.parametrize(
    ("factors", "kind", "sentence"),
    [
        (
            one_each(*[100.0] * 13, *[99.0] * 12),
            "filtering_facepiece",
            f"{THIRTEEN}: reached (13 wearers at 100 or more, 13 needed). {ABOUT}",
        ),
        (
            one_each(100.0, *[99.0] * 24),
            "filtering_facepiece",
            f"{THIRTEEN}: not reached (1 wearer at 100 or more, 13 needed). {ABOUT}",
        ),
        (
            one_each(*[500.0] * 24),
            "filtering_facepiece",
            f"{THIRTEEN}: panel not complete, since the rule asks for 25 wearers, and there were 24.",
        ),
        (
            one_each(*[500.0] * 25),
            "loose_powered_hood",
            f"{THIRTEEN}: not applied, since the rule is for another kind of device.",
        ),
    ],
)
def test_a_panel_rule(factors: Factors, kind: str, sentence: str) -> None:
    assert panel_sentence(panels(factors, kind=kind)[CAPABILITY], RULES[CAPABILITY]) == sentence


def test_a_panel_rule_with_two_conditions() -> None:
    result = panels(one_each(*[100 / 7.0] * 9, 100 / 11.5), LEAKAGE, FIVE, aerosol="salt")
    rule = RULES["total-inward-leakage-class-2"]
    assert panel_sentence(result[rule.id], rule) == (
        f"Panel rule “Total inward leakage of a filtering half mask, class 2”: not reached (45 exercises at "
        f"11{NARROW}% or less, 46 needed; 9 wearers by the mean of their exercises at 8{NARROW}% or less, 8 needed). "
        f"{ABOUT}"
    )
    assert panel_demand(rule) == (
        f"10 wearers, one donning each: 46 exercises at 11{NARROW}% or less and 8 wearers by the mean of their "
        f"exercises at 8{NARROW}% or less"
    )


def test_a_further_session_of_a_donning_is_left_aside() -> None:
    found = over(one_each(100.0, 150.0)).model_copy(update={"sessions_of_a_donning": 1})
    assert (
        "One further session of the same donning is left aside here: the one with the lowest factor stands for the "
        "donning."
    ) in group_sentences(found, RULES)


def test_a_bound_below_the_level_leaves_it_open() -> None:
    found = known(passes(one_each(150.0, 150.0, 60.0))).model_copy(update={"undecided": 1})
    assert pass_sentence(found).startswith(
        f"Fit-test pass level 100: 2 of 3 wearers reached it at the first donning that counts (67{NARROW}%); of one "
        "other only a bound below the level is known, which leaves it open."
    )
