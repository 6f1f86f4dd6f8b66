"""The words that a reader of the catalogue meets, in plain language."""

from __future__ import annotations

from generator.presenting.views import Fact

GLOSSARY = (
    Fact("As supplied, modified", "The state a device was tested in: as it came, or with something changed."),
    Fact("At least", "No particle was counted inside, so that the data set only a lower bound."),
    Fact(
        "Caution",
        "A box that says what a reader must know before taking a figure as it stands. It is raised by a rule, never by "
        "taste.",
    ),
    Fact("Donning", "Each time a wearer put the device on anew."),
    Fact("Exercise", "One movement of a protocol, such as talking or bending, during which particles are counted."),
    Fact(
        "Fit factor",
        "The concentration of particles outside over that inside. The overall one of a session is the harmonic mean of "
        "its exercises, so that the worst of them weigh most.",
    ),
    Fact(
        "Interval",
        "Limits between which the figure lies with the probability stated, as far as what it covers goes. It does not "
        "cover another wearer or another day.",
    ),
    Fact("Inward leakage", "The reciprocal of the fit factor: which share of the particles outside is also inside."),
    Fact(
        "Requirement",
        "A published limit with its document and clause, bound to its own method and to kinds of device.",
    ),
    Fact("Session", "One wearer, one donning, one protocol, one state of the device."),
    Fact("Supply flow", "The air that a blower delivers to the wearer, at one setting."),
    Fact("Test record", "One device in one state, tested by one tester on one day. Every figure leads to its record."),
    Fact(
        "Undecided",
        "The interval of a figure lies on both sides of the limit, so that the test does not decide.",
    ),
    Fact("Wearer", "A person who wore the device, named by a letter only; the same letter is the same person."),
)
