"""How to read the catalogue: its two rules with drawn examples, intervals, verdicts, and what a fit factor is not.

The examples are drawn for the page and belong to no device. Their means and outcomes come from scoring's own functions.
"""

from __future__ import annotations

from generator.model.reference import Source, SourceStatus
from generator.model.result import Outcome
from generator.presenting.assigned_protection import WHAT_IT_IS
from generator.presenting.digits import THIN, quantity_text, rounded
from generator.presenting.letterhead import page_head
from generator.presenting.reference_views import Annotated, ReadingPage
from generator.presenting.sampling_biases import LINK as SAMPLING
from generator.presenting.views import Definition, Fact, Landmark, Link, ScaleChart, ScaleMark, ScaleRow
from generator.presenting.wording import listed, source_text
from generator.scoring.conformity import guarded_outcome
from generator.scoring.fit_factors import overall_fit_factor

PATH = "reading.html"
NOT_A_FIT_FACTOR = "not"
_EXERCISES = (90.0, 200.0, 400.0, 600.0, 300.0, 500.0, 250.0)
_OVERALL = overall_fit_factor(_EXERCISES)
_REQUIRED = 170.0
_FLOWS = ((188.0, 180.0, 196.0), (173.0, 165.0, 181.0), (148.0, 140.0, 156.0))
"""Flows with the limits of their intervals, drawn against the requirement. [L/min]"""
_OUTCOMES = {
    Outcome.MEETS: "meets it",
    Outcome.UNDECIDED: "undecided",
    Outcome.DOES_NOT_MEET: "does not meet it",
}
_OWN = Source(document="This catalogue", edition="own reasoning", clause="no source", status=SourceStatus.OWN)
_COMMON = Source(document="-", edition="-", clause="-", status=SourceStatus.COMMON_PRACTICE)
_JCGM = Source(
    document="JCGM 106, The role of measurement uncertainty in conformity assessment",
    edition="2012",
    clause="8.3",
    status=SourceStatus.FROM_MEMORY,
)
_APPENDIX_A = Source(
    document="29 CFR 1910.134 Appendix A (United States)",
    edition="as amended by 84 FR 50739 of 26 September 2019",
    clause="Part I.C.2(b)(9)",
    status=SourceStatus.FROM_MEMORY,
)
_TABLE_1 = Source(
    document="29 CFR 1910.134 (United States)",
    edition="71 FR 50122 of 24 August 2006",
    clause="(d)(3)(i)(A), Table 1",
    status=SourceStatus.SEEN,
)
_SIZES = Source(
    document="Eshbaugh and others, J Occup Environ Hyg 6, pages 52 to 61",
    edition="2009",
    clause="abstract",
    status=SourceStatus.SEEN,
    note="Filters of two classes let through most of particles of about 0.05 to 0.2 µm, and more at a higher flow.",
)
_WITHOUT_FIT_TEST = Source(
    document="Simulated workplace protection factors for half-facepiece respiratory protective devices, "
    "J Occup Environ Hyg 4, pages 420 to 431",
    edition="2007",
    clause="abstract",
    status=SourceStatus.SEEN,
)


def _fit_example() -> ScaleChart:
    strokes = tuple(
        ScaleMark(f"exercise-{number}", value, minor=True) for number, value in enumerate(_EXERCISES, start=1)
    )
    overall = ScaleMark("overall", _OVERALL, 195.0, 290.0, text=f"overall {rounded(_OVERALL, -1)}")
    return ScaleChart(
        id="reading-scale",
        kind="fit",
        title="The fit factor scale with examples of each mark",
        description=(
            "Four invented examples on a logarithmic rule from 1 to 100 000. a: a diamond at "
            f"{rounded(_OVERALL, -1)} with a bar from 195 to 290 and seven short strokes below it. b: an open arrow "
            "that starts at 3000. c: two strokes at 100 and 500 joined by a line. d: an arrow head at the end of the "
            "rule. A vertical at 100 is a named level, a bracket from 2 to 4 a landmark."
        ),
        rows=(
            ScaleRow("a  One session", (*strokes, overall)),
            ScaleRow("b  At least", (ScaleMark("at-least", 3000.0, at_least=True, text="at least 3000"),)),
            ScaleRow(
                "c  Between two bounds", (ScaleMark("between", 100.0, None, 500.0, at_least=True, text="100 to 500"),)
            ),
            ScaleRow("d  Past the end", (ScaleMark("past", 140_000.0, text=f"140{THIN}000"),)),
        ),
        landmarks=(
            Landmark("example-span", "bracket: a landmark", 2.0, 4.0),
            Landmark("example-level", "100: vertical, a named level", 100.0),
        ),
    )


def _flow_example() -> ScaleChart:
    rows = []
    for letter, (value, low, high) in zip("efg", _FLOWS, strict=True):
        outcome = _OUTCOMES[guarded_outcome(low, high, _REQUIRED)]
        text = quantity_text(value, "L/min")
        rows.append(ScaleRow(f"{letter}  {text}, {outcome}", (ScaleMark(letter, value, low, high),)))
    told = "; ".join(
        f"{letter}: {rounded(value, 0)} with a bar from {rounded(low, 0)} to {rounded(high, 0)}, "
        f"{_OUTCOMES[guarded_outcome(low, high, _REQUIRED)]}"
        for letter, (value, low, high) in zip("efg", _FLOWS, strict=True)
    )
    return ScaleChart(
        id="reading-flow",
        kind="flow",
        title="The flow rule with one example of each verdict",
        description=f"Three invented flows in L/min against a requirement of at least 170. {told}.",
        rows=tuple(rows),
        landmarks=(Landmark("example-requirement", "170: the requirement", _REQUIRED),),
    )


def _scale_notes() -> tuple[Fact, ...]:
    mean = sum(_EXERCISES) / len(_EXERCISES)
    factors = listed([quantity_text(value, "1") for value in sorted(_EXERCISES)])
    return (
        Fact(
            "a",
            f"The diamond is the overall fit factor of one session, the bar its 95{THIN}% interval. The short strokes "
            f"below are single exercises, here {factors}. Their harmonic mean is {rounded(_OVERALL, -1)}; their "
            f"ordinary mean, {rounded(mean, -1)}, would hide the worst of them.",
        ),
        Fact(
            "b",
            "An open arrow says “at least”: no particle was counted inside, so that the data set a lower bound and no "
            "value. How far it reaches to the right is not known. A longer count could have shown more, or less.",
        ),
        Fact(
            "c",
            "Two strokes joined by a thin line are bounds between which the factor lies, where an instrument shows no "
            "more than a ceiling. No probability belongs to them.",
        ),
        Fact("d", "An arrow head at an end says that the value lies past the rule. Its number stands beside it."),
        Fact(
            "steps",
            "The rule is logarithmic: each long tick is ten times the one before. From 10 to 100 is as far as from "
            "1000 to 10\N{NARROW NO-BREAK SPACE}000, and twice as much is always the same short way. A bar that looks "
            "short may still reach from one value to twice that value.",
        ),
        Fact(
            "verticals",
            "A vertical is a published level and belongs to the kind of device on whose page it stands. Where it does "
            "not apply to every line it is dashed beside the others; where it applies to none it is not drawn. A "
            "bracket is a landmark: it helps to place a value and decides nothing.",
        ),
    )


_NOT = (
    (
        "not-assigned",
        "Not an assigned protection factor",
        WHAT_IT_IS,
        _TABLE_1,
        Link("Assigned protection factors, by body", "requirements.html#assigned"),
    ),
    (
        "not-workplace",
        "Not what happens at work",
        "It was taken in a few minutes of set movements, with somebody watching. A day of work has sweat, talk, tools, "
        "hours, and moments without the device. In one study that simulated work, with 25 people who had not been fit "
        "tested, one result in twenty with half facepieces of one class was below 4.6.",
        _WITHOUT_FIT_TEST,
        None,
    ),
    (
        "not-gases",
        "Nothing about gases and vapours",
        "The counter counts particles. Gases and vapours pass through a particle filter, and no fit factor shows it.",
        _COMMON,
        None,
    ),
    (
        "not-others",
        "Nothing about another wearer, another donning, another item",
        "It is of one face, one time it was put on, one item. Wearers differ from each other by far more than the "
        "interval of a session is wide; what several of them say of others is a statement of its own, with its own "
        "interval.",
        _COMMON,
        Link("Wearers with one result each", "methods/index.html#about-wearers"),
    ),
    (
        "not-other-sizes",
        "Nothing about other sizes of particles",
        "It is of the particles in that room that this counter sees. Filters let through more of some sizes than of "
        "others, and leaks do too.",
        _SIZES,
        None,
    ),
    (
        "not-efficiency",
        "Not the efficiency of a filter",
        "Particles inside came through the filter, past the seal, or in with air that the supply did not cover. The "
        "fit factor holds all of it together and does not say which.",
        _OWN,
        Link("Leakage past the seal and through the filter", "methods/seal-and-filter.html"),
    ),
    (
        "not-mean",
        "Not an ordinary mean",
        "In a harmonic mean the worst exercise weighs most. Six exercises at 1000 and one at 10 give "
        f"{rounded(overall_fit_factor((1000.0,) * 6 + (10.0,)), 0)}, where an ordinary mean would be "
        f"{rounded((6 * 1000.0 + 10.0) / 7, 0)}.",
        _APPENDIX_A,
        Link("Overall fit factor", "methods/overall-fit-factor.html"),
    ),
    (
        "not-lungs",
        "Not all of what is breathed in",
        "A probe takes its sample at one place and of both breaths. What stays in the lungs and on the walls of the "
        "tube makes the factor come out too high, and no interval covers it.",
        _OWN,
        SAMPLING,
    ),
    (
        "not-ranking",
        "Not a place in a ranking",
        "Factors of different protocols, counters, blower states or wearers do not stand in one order. Whether two "
        "devices differ is said only where scoring could work it out.",
        _OWN,
        Link("Differences between devices", "methods/index.html#about-differences"),
    ),
)


def _not_a_fit_factor() -> tuple[Definition, ...]:
    return tuple(
        Definition(
            identity,
            heading,
            text,
            (
                Fact("Source", source_text(source)),
                *([Fact("More", link.text, link.href)] if link is not None else []),
            ),
        )
        for identity, heading, text, source, link in _NOT
    )


def present_reading() -> ReadingPage:
    """Return the page that says how to read the others."""
    return ReadingPage(
        head=page_head(
            PATH,
            "How to read this catalogue",
            "What the marks on the two rules mean, what an interval says, how a verdict is made, and what a fit factor "
            "is not.",
        ),
        answer=(
            "A fit factor of 50 says that the counter saw one fiftieth of the outside particles inside: on that "
            "wearer, in that donning, during those movements. It includes what passes through the filter.",
            "Look at the bar before the number: where bars overlap, the numbers alone do not tell which is higher.",
        ),
        scale=Annotated(_fit_example(), _scale_notes()),
        flow=Annotated(
            _flow_example(),
            (
                Fact("e", "The whole bar lies at or above the vertical: the flow meets the requirement."),
                Fact("f", "The bar lies on both sides: the test does not decide, although the diamond lies above."),
                Fact("g", "The whole bar lies below: the flow does not meet the requirement."),
                Fact(
                    "rule",
                    "The flow rule runs evenly from 0 to 400 L/min, the same on every page; twice as far is twice as "
                    "much. What a wearer draws in at work may lie above the supply at every peak of a breath.",
                    "requirements.html#work-levels",
                ),
            ),
        ),
        interval=(
            f"A 95{THIN}% interval is made so that, of many such intervals, 19 in 20 hold the true value. It covers "
            "only what it says it covers: for a fit factor the chance of counting particles, for a flow the instrument "
            "and the scatter of its readings.",
            "It does not cover another wearer, another donning, another item or another day. A narrow interval says "
            "that little was left to chance in this measurement, not that the next result will be like it.",
            "Two intervals that overlap do not show that two values are equal, and neither does one that holds the "
            "limit show that a requirement is met.",
        ),
        interval_source=source_text(_COMMON),
        verdict=(
            f"Each verdict holds one figure against one published requirement, for the items tested, in that state, on "
            f"that day. By the guarded rule the whole 95{THIN}% interval must lie on one side of the limit. Else the "
            "verdict is “undecided”: neither a pass nor a failure, but too little measured, or too close to tell.",
            "Where a regulation compares the bare figure with its limit, that plain comparison is shown under its own "
            "name. It gives no account of uncertainty.",
            "Of several states of battery, filter and setting that a maker names, the worst governs. A requirement "
            "for another kind of device is a benchmark: the figure stands beside it and passes nothing.",
        ),
        verdict_links=(
            Link("Guarded verdict", "methods/guarded-verdict.html"),
            Link("Plain comparison", "methods/plain-verdict.html"),
            Link("Probability of conformity", "methods/probability-of-conformity.html"),
        ),
        verdict_source=source_text(_JCGM),
        not_a_fit_factor=_not_a_fit_factor(),
    )
