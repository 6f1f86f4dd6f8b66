"""The words that a reader of the catalogue meets, in plain language, as data.

`forms` are the ways a sentence may write the word, in lower case; the first use on a page leads to the glossary. A word
that sentences also use in its everyday sense has no forms. The list is in the order of the alphabet.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Link


@dataclass(frozen=True)
class Term:
    """A word, what it means here, how sentences write it, and where more is said of it."""

    id: str
    heading: str
    text: str
    forms: tuple[str, ...] = ()
    more: Link | None = None


_READING = "reading.html#"
_METHODS = "methods/index.html#"

TERMS = (
    Term(
        "action-limit",
        "Action limit, warning limit",
        "Lines on an instrument’s control chart. A reading beyond an action limit is rare by chance, so that tests done "
        "after it are marked. One beyond a warning limit calls for another look.",
        ("action limits", "action limit", "warning limits", "warning limit"),
        Link("Instruments", "instruments/index.html"),
    ),
    Term(
        "ambient",
        "Ambient",
        "Of the air outside the device. The ambient concentration is that of the particles in the room, in which the "
        "wearer stands.",
        ("ambient concentration", "ambient concentrations", "ambient samples", "ambient sample", "ambient"),
    ),
    Term(
        "amended",
        "Amended",
        "A record was changed after it had been issued. The change, its reason and the earlier figures stay on its page.",
    ),
    Term(
        "as-supplied",
        "As supplied, modified",
        "The state a device was tested in: as it came, or with something changed. What was tested modified says nothing "
        "of the device as supplied.",
        ("as supplied",),
    ),
    Term(
        "assigned-protection-factor",
        "Assigned protection factor",
        "A number that an authority gives to a class of approved devices, for workplaces with a complete programme "
        "behind them. It is no result of a test of one device, and no fit factor is ever turned into one here.",
        ("assigned protection factors", "assigned protection factor", "assigned factors", "assigned factor"),
        Link("Assigned protection factors, by body", "requirements.html#assigned"),
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
        "blower",
        "Blower",
        "The fan of a powered device, which pushes or draws air through the filter. Its state belongs to every result.",
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
        "claim",
        "Claim",
        "What a maker says a device does, in the maker’s own words. It is held against what was measured; a test may "
        "contradict it, support it, or decide nothing.",
    ),
    Term(
        "configuration",
        "Configuration",
        "A device with all its parts as they were in a test: as supplied, or changed and how. Results of two "
        "configurations are never put together.",
        ("configurations", "configuration"),
    ),
    Term(
        "controlled-negative-pressure",
        "Controlled negative pressure",
        "A way to test fit without particles: air is drawn out of the facepiece while the wearer holds still, and what "
        "leaks in is measured.",
        ("controlled negative pressure",),
    ),
    Term(
        "counter",
        "Counter",
        "An instrument that counts particles in the air it draws in. It sees only sizes within its range.",
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
        "donning",
        "Donning",
        "Each time a wearer put the device on anew. How well it sits differs from one donning to the next.",
        ("donnings", "donning"),
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
        "exercise",
        "Exercise",
        "One movement of a protocol, such as talking or bending, during which particles are counted.",
        ("exercises", "exercise"),
        Link("Protocols and their exercises", "requirements.html#protocols"),
    ),
    Term(
        "expanded-uncertainty",
        "Expanded uncertainty",
        "How far a measured value may lie from the true one, to either side, with a stated probability, mostly 95 %.",
        ("expanded uncertainty",),
        Link("Supply flow and its uncertainty", f"{_METHODS}about-flow"),
    ),
    Term(
        "face-velocity",
        "Face velocity",
        "How fast air passes through a filter medium: the flow divided by the area. The same filter lets more or less "
        "through at another face velocity.",
        ("face velocities", "face velocity"),
    ),
    Term(
        "finding",
        "Finding",
        "Something that was noticed while a record was scored and that bears on trust, such as a concentration outside "
        "that changed. Findings raise cautions.",
    ),
    Term(
        "fit-factor",
        "Fit factor",
        "The concentration of particles outside over that inside. The overall one of a session is the harmonic mean of "
        "its exercises, so that the worst of them weigh most.",
        ("overall fit factors", "overall fit factor", "fit factors", "fit factor"),
        Link("What a fit factor is not", f"{_READING}not"),
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
        "in-mask",
        "In-mask",
        "Of the air inside the facepiece, hood or helmet, where the probe draws its sample.",
        ("in-mask",),
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
        "inward-leakage",
        "Inward leakage",
        "The reciprocal of the fit factor: which share of the particles outside is also inside.",
        ("inward leakages", "inward leakage"),
    ),
    Term(
        "landmark",
        "Landmark",
        "A named span of the fit factor scale that helps to place a value. It decides nothing.",
        ("landmarks", "landmark"),
        Link("How to read the scale", f"{_READING}fit"),
    ),
    Term(
        "log",
        "Log",
        "The file of an instrument’s readings, one after another. Every figure made from one can be worked out anew.",
    ),
    Term(
        "log-normal",
        "Log-normal",
        "Spread evenly in times, not in differences: as many lie at half the middle as at twice it. Fit factors often "
        "are, and some statements rest on it.",
        ("log-normal",),
    ),
    Term(
        "minute-volume",
        "Minute volume",
        "The air that a person breathes in within a minute. It grows with work.",
        ("minute volumes", "minute volume"),
        Link("Breathing demand", "requirements.html#work-levels"),
    ),
    Term(
        "over-breathing",
        "Over-breathing",
        "The wearer draws more air than the supply gives at that moment, so that the rest comes from outside or from "
        "the air that the hood holds.",
        ("over-breathing", "over-breathed", "over-breathe", "over-breathes"),
        Link("Breathing demand", f"{_METHODS}about-breathing"),
    ),
    Term(
        "panel",
        "Panel",
        "A group of wearers chosen by a published rule, so that many faces are in it. Volunteers who happened to come "
        "are none.",
    ),
    Term(
        "peak-flow",
        "Peak inspiratory flow",
        "The highest flow within a breath in, several times the minute volume. While talking it is higher still.",
        ("peak inspiratory flows", "peak inspiratory flow", "peak flows", "peak flow"),
        Link("Breathing demand", "requirements.html#work-levels"),
    ),
    Term(
        "penetration",
        "Penetration",
        "The share of particles that gets through a filter, at one size, one flow and one state of the filter.",
        ("penetrations", "penetration"),
    ),
    Term(
        "probability-of-conformity",
        "Probability of conformity",
        "How probable it is, by the uncertainty on record, that the true value meets the requirement.",
        ("probability that the true value conforms",),
        Link("How a verdict is made", f"{_READING}verdict"),
    ),
    Term(
        "probe",
        "Probe",
        "The end of the tube through which air from inside is drawn. Where it sits changes what is counted.",
        (),
        Link("What a sample inside the mask cannot show", f"{_METHODS}inside-the-mask"),
    ),
    Term(
        "protocol",
        "Protocol",
        "A list of exercises and a rule for when the air outside is sampled. Factors of different protocols are not "
        "put side by side.",
        ("protocols", "protocol"),
        Link("Protocols and their exercises", "requirements.html#protocols"),
    ),
    Term(
        "requirement",
        "Requirement, criterion",
        "A published limit with its document and clause, bound to its own method and to kinds of device.",
        ("requirements", "requirement"),
        Link("Requirements", "requirements.html#criteria"),
    ),
    Term(
        "resistance",
        "Resistance",
        "The pressure it takes to draw or push air through a part, at one flow.",
    ),
    Term(
        "run-down",
        "Run-down",
        "A run on one battery charge until the flow falls below what is required, or the blower stops.",
        ("run-downs", "run-down"),
    ),
    Term(
        "session",
        "Session",
        "One wearer, one donning, one protocol, one state of the device.",
        ("sessions", "session"),
    ),
    Term(
        "standard-deviation",
        "Standard deviation",
        "How far single readings lie from their mean, as a rule.",
        ("standard deviations", "standard deviation"),
    ),
    Term(
        "supply-flow",
        "Supply flow",
        "The air that a blower delivers to the wearer, at one setting.",
        ("supply flows", "supply flow", "air supply"),
    ),
    Term(
        "test-record",
        "Test record",
        "One device in one state, tested by one tester on one day. Every figure leads to its record.",
        ("test records", "test record"),
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
        "voided",
        "Voided, aborted",
        "A session that was broken off, or that cannot count because something went wrong. Every one is on record.",
        ("voided", "aborted"),
    ),
    Term(
        "wearer",
        "Wearer",
        "A person who wore the device, named by a letter only; the same letter is the same person.",
        ("wearers", "wearer"),
    ),
    Term(
        "withdrawn",
        "Withdrawn",
        "A record or device that its publisher no longer stands by. It stays readable with the reason, and makes no "
        "result.",
        ("withdrawn",),
    ),
    Term(
        "working",
        "Working",
        "How one figure comes about: equation, numbers that went in with their places, source, result.",
        (),
        Link("Methods", "methods/index.html"),
    ),
    Term(
        "zero-check",
        "Zero check",
        "What a counter counts while it draws air without particles. It is taken off every factor.",
        ("zero checks", "zero check"),
    ),
)
