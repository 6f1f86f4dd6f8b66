"""Words of tests, devices and records that a reader of the catalogue meets, in plain language, as data.

`forms` are the ways a sentence may write the word, in lower case; the first use on a page leads to the glossary. A word
that sentences also use in its everyday sense has no forms.
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

TERMS_OF_TESTS = (
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
        "A record was changed after it had been issued. The change, its reason and the earlier figures stay on its "
        "page.",
    ),
    Term(
        "as-supplied",
        "As supplied, modified",
        "The state a device was tested in: as it came, or with something changed. What was tested modified says "
        "nothing of the device as supplied.",
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
        "battery-at-its-alarm",
        "Battery at its alarm",
        "The battery is so far run down that the device’s own alarm sounds. It is the last state in which anyone "
        "should still be wearing it.",
        ("battery at its alarm",),
    ),
    Term(
        "blower",
        "Blower",
        "The fan of a powered device, which pushes or draws air through the filter. Its state belongs to every result.",
    ),
    Term(
        "claim",
        "Claim",
        "What a maker says a device does, in the maker’s own words. It is held against what was measured; a test may "
        "contradict it, support it, or decide nothing.",
    ),
    Term(
        "claimed-setting",
        "Claimed setting",
        "A blower setting at which its maker says that the device protects; every setting, where its maker names none. "
        "Only claimed settings count towards the verdict on its air supply.",
        ("claimed settings", "claimed setting"),
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
        "donning",
        "Donning",
        "Each time a wearer put the device on anew. How well it sits differs from one donning to the next.",
        ("donnings", "donning"),
    ),
    Term(
        "exercise",
        "Exercise",
        "One movement of a protocol, such as talking or bending, during which particles are counted.",
        ("exercises", "exercise"),
        Link("Protocols and their exercises", "requirements.html#protocols"),
    ),
    Term(
        "face-velocity",
        "Face velocity",
        "How fast air passes through a filter medium: the flow divided by the area. The same filter lets more or less "
        "through at another face velocity.",
        ("face velocities", "face velocity"),
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
        "in-mask",
        "In-mask",
        "Of the air inside the facepiece, hood or helmet, where the probe draws its sample.",
        ("in-mask",),
    ),
    Term(
        "inward-leakage",
        "Inward leakage",
        "The reciprocal of the fit factor: which share of the particles outside is also inside.",
        ("inward leakages", "inward leakage"),
    ),
    Term(
        "loaded-filter",
        "Loaded filter",
        "A filter that holds the dust of use or of a loading test, and so resists the air more than a new one. Less "
        "air gets through, so that a device may fall short with it that does not with a new one.",
        ("loaded filters", "loaded filter"),
    ),
    Term(
        "log",
        "Log",
        "The file of an instrument’s readings, one after another. Every figure made from one can be worked out anew.",
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
        "zero-check",
        "Zero check",
        "What a counter counts while it draws air without particles. It is taken off every factor.",
        ("zero checks", "zero check"),
    ),
)
