"""What a page says of noise, words understood, mass and money, in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.session import BLOWER_OFF
from generator.presenting.digits import THIN
from generator.presenting.wording import listed, shortened

NO_BLOWER = "none"
SHARE_UNDERSTOOD = (
    "The share understood is of the words that were understood without the device. What guessing gives is taken off "
    "both."
)
NO_GRADES = (
    "Lines for comparison are about other kinds of device or other ways of testing, and decide nothing. Standards set "
    "limits for such things; none that was seen grades them, and nothing here does."
)


@dataclass(frozen=True)
class Compared:
    """A published figure that stands below a table for comparison: what it is of, how it is known, how much."""

    of: str
    note: str
    value: str


LIMIT_OF_OTHER_HOODS = Compared(
    "For comparison: 42 CFR 84.140", "inside supplied-air hoods, another kind of device", f"at most 80{THIN}dB(A)"
)
NOISE_FROM_MEMORY = Compared(
    "For comparison: EN 12941", "powered hoods; from memory, not seen", f"at most 75{THIN}dB(A)"
)
RATING_OF_ONE_CLASS = Compared(
    "For comparison: 42 CFR 84.181", "one class of powered device, its own panel and method", f"at least 70{THIN}%"
)
PUBLISHED_RATINGS = (
    Compared(
        "For comparison: a published test",
        f"words in quiet, people in running powered hoods; 100{THIN}% without; doi 10.1177/0194599820945685",
        f"48{THIN}%",
    ),
    Compared(
        "For comparison: another published test",
        f"words in quiet, ten people in running powered hoods; 100{THIN}% without; "
        "J Occup Med Toxicol 2021, s12995-021-00334-y",
        f"2.5{THIN}%",
    ),
)
MASSES_FROM_MEMORY = (
    Compared("For comparison: EN 12941, all parts", "powered hoods; from memory, not seen", f"at most 5{THIN}kg"),
    Compared("For comparison: EN 12941, on the head", "powered hoods; from memory, not seen", f"at most 1.5{THIN}kg"),
)


def setting_words(setting: str) -> str:
    """Say how the blower stood where the device may have none."""
    if setting == NO_BLOWER:
        return "no blower"
    return "blower off" if setting == BLOWER_OFF else shortened(setting, 40)


def noise_sentence(settings: int, loudest: str | None, level: str | None) -> str:
    """Say how loud the device is at the ear, at the loudest of the settings that were measured."""
    if loudest is None or level is None:
        return "How loud the device itself is at the ear could not be told from the background."
    if settings == 1:
        at = "Switched on," if loudest == "on" else f"At {loudest}"
        return f"{at} the device alone makes {level} at the ear."
    return f"At the loudest setting measured, {loudest}, the device alone makes {level} at the ear."


def dose_sentence(scored: int, of: int) -> str:
    """Say what a noise dose is of, and by whose rule, and why there may be none."""
    rule = "The dose follows the rule for noise at work in the United States"
    if scored == 0:
        return f"No noise dose is given: the table of that rule in the United States begins at 80{THIN}dB(A)."
    on_top = "noise in the hours without the device comes on top"
    rest = "" if scored == of else f"; levels below 80{THIN}dB(A) are not in its table"
    return f"{rule}, 29 CFR 1910.95{rest}. It is of the hours of wearing only: {on_top}."


def cost_note(not_counted: Sequence[str]) -> str:
    """Say what a cost is made of, and what is missing from it."""
    return f"without {listed(not_counted)}: not on record" if not_counted else "all of these"
