"""Words that say how sure a figure is and what is decided by it, in plain language, as data."""

from __future__ import annotations

from generator.presenting.glossary_terms import Term
from generator.presenting.views import Link

_READING = "reading.html#"
_METHODS = "methods/index.html#"

TERMS_OF_FIGURES = (
    Term(
        "action-limit",
        "Action limit, warning limit",
        "Lines on an instrument’s control chart. A reading beyond an action limit is rare by chance, so that tests "
        "done after it are marked. One beyond a warning limit calls for another look.",
        ("action limits", "action limit", "warning limits", "warning limit"),
        Link("Instruments", "instruments/index.html"),
    ),
    Term(
        "at-least",
        "At least",
        "No particle was counted inside, or the instrument shows no more than a ceiling, so that the data set only a "
        "lower bound. It is drawn as an open arrow.",
    ),
    Term(
        "benchmark",
        "Benchmark",
        "A requirement that was written for another kind of device. The figure is set beside it for scale and passes "
        "nothing.",
        ("benchmarks", "benchmark"),
    ),
    Term(
        "caution",
        "Caution",
        "A box that says what a reader must know before taking a figure as it stands. It is raised by a rule, never by "
        "taste.",
        (),
        Link("Every caution rule", "cautions.html"),
    ),
    Term(
        "coverage",
        "Coverage of an interval",
        "How often intervals made this way hold the true value: 95 % means 19 times in 20, as far as what the interval "
        "covers goes.",
        ("coverage probability",),
        Link("What an interval says", f"{_READING}interval"),
    ),
    Term(
        "drift",
        "Drift",
        "How far an instrument may have moved since it was last calibrated.",
    ),
    Term(
        "evidence",
        "Evidence",
        "What results rest on: how many wearers, donnings, items, days, and what was not tested.",
    ),
    Term(
        "expanded-uncertainty",
        "Expanded uncertainty",
        "How far a measured value may lie from the true one, to either side, with a stated probability, mostly 95 %.",
        ("expanded uncertainty",),
        Link("Supply flow and its uncertainty", f"{_METHODS}about-flow"),
    ),
    Term(
        "finding",
        "Finding",
        "Something that was noticed while a record was scored and that bears on trust, such as a concentration outside "
        "that changed. Findings raise cautions.",
    ),
    Term(
        "pass-level",
        "Fit-test pass level",
        "The least overall fit factor that a rule asks for before a person wears a tight-fitting facepiece at work. It "
        "belongs to that wearer, that facepiece and a complete accepted protocol, and to no other kind of device.",
        ("fit-test pass levels", "fit-test pass level", "pass levels", "pass level", "fit-test level"),
        Link("Requirements", "requirements.html#criteria"),
    ),
    Term(
        "geometric-mean",
        "Geometric mean",
        "The middle of factors: the mean of their logarithms, turned back. One very high factor moves it little.",
        ("geometric means", "geometric mean"),
    ),
    Term(
        "geometric-standard-deviation",
        "Geometric standard deviation",
        "By how many times factors lie from their middle, as a rule: about two in three lie between the middle divided "
        "by it and the middle times it, where the factors are log-normal.",
        ("geometric standard deviations", "geometric standard deviation"),
    ),
    Term(
        "guarded",
        "Guarded decision",
        "A verdict is given only where the whole 95 % interval lies on one side of the limit. Else the test does not "
        "decide.",
        ("guarded rule", "guarded decision", "guarded decisions"),
        Link("How a verdict is made", f"{_READING}verdict"),
    ),
    Term(
        "harmonic-mean",
        "Harmonic mean",
        "The number of values over the sum of their reciprocals. Of fit factors it is the mean of what leaked in, and "
        "so the worst weigh most.",
        ("harmonic mean", "harmonic means"),
    ),
    Term(
        "holm",
        "Holm’s adjustment",
        "The more differences are looked at together, the sooner one of them looks large by chance. Holm’s adjustment "
        "raises each probability for the number of differences, so that this happens no more often than stated.",
        ("holm's adjustment", "holm’s adjustment"),
        Link("Differences between devices", f"{_METHODS}about-differences"),
    ),
    Term(
        "interval",
        "Interval",
        "Limits between which the figure lies with the probability stated, as far as what it covers goes. It does not "
        "cover another wearer or another day.",
        ("intervals", "interval"),
        Link("What an interval says", f"{_READING}interval"),
    ),
    Term(
        "landmark",
        "Landmark",
        "A named span of the fit factor scale that helps to place a value. It decides nothing.",
        ("landmarks", "landmark"),
        Link("How to read the scale", f"{_READING}fit"),
    ),
    Term(
        "log-normal",
        "Log-normal",
        "Spread evenly in times, not in differences: as many lie at half the middle as at twice it. Fit factors often "
        "are, and some statements rest on it.",
        ("log-normal",),
    ),
    Term(
        "probability-of-conformity",
        "Probability of conformity",
        "How probable it is, by the uncertainty on record, that the true value meets the requirement.",
        ("probability that the true value conforms",),
        Link("How a verdict is made", f"{_READING}verdict"),
    ),
    Term(
        "requirement",
        "Requirement, criterion",
        "A published limit with its document and clause, bound to its own method and to kinds of device. Some are law, "
        "some custom: that of air supply is the flow at which United States rules test filters, and the trade takes it "
        "as the least to deliver.",
        ("requirements", "requirement"),
        Link("Requirements", "requirements.html#criteria"),
    ),
    Term(
        "standard-deviation",
        "Standard deviation",
        "How far single readings lie from their mean, as a rule.",
        ("standard deviations", "standard deviation"),
    ),
    Term(
        "told-apart",
        "Told apart",
        "Two devices are told apart where an interval and a test both say that their fit factors differ. Where they "
        "are not, they may still differ.",
        ("told apart",),
        Link("Differences between devices", f"{_METHODS}about-differences"),
    ),
    Term(
        "tolerance-bound",
        "Tolerance bound",
        "A factor that so many in 100 wearers or donnings are expected to exceed, with a stated confidence. With few "
        "wearers it lies far below anything measured.",
        ("tolerance bounds", "tolerance bound"),
        Link("Wearers with one result each", f"{_METHODS}about-wearers"),
    ),
    Term(
        "undecided",
        "Undecided",
        "The interval of a figure lies on both sides of the limit, so that the test does not decide. It is neither a "
        "pass nor a failure.",
        ("undecided",),
        Link("How a verdict is made", f"{_READING}verdict"),
    ),
    Term(
        "working",
        "Working",
        "How one figure comes about: equation, numbers that went in with their places, source, result.",
        (),
        Link("Methods", "methods/index.html"),
    ),
)
