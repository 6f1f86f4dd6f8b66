"""What a supply of air is enough for, in sentences."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.breathing_result import BreathingRun, Coverage, LevelResult
from generator.model.result import Figure
from generator.model.work_level import WorkLevel
from generator.presenting.digits import quantity_text, value_text

Level = tuple[WorkLevel, LevelResult]
LIGHTEST = 2
"""How many levels without speech are so light that a supply too low for them is told before anything else."""

COVERAGE = {
    Coverage.COVERED: "covered",
    Coverage.UNDECIDED: "undecided",
    Coverage.OVER_BREATHED: "not covered",
}
TIGHT = (
    "In a tight-fitting device the air beyond the supply is drawn mostly through the filter. Its share is no leakage, "
    "and no protection follows from it."
)
DEMANDS = (
    "The demands are printed means of people, each breath drawn as a half sine with the printed peak. Who breathes "
    "otherwise draws in more or less."
)
INDEX = (
    "This is an index, not a measurement. Real protection may be lower, through other leaks and the filter, or higher, "
    "through air stored in the hood and less work."
)
EXHAUST = "A fan draws air out of this device. What it takes is not taken off the supply; the wearer is left with less."


def named(level: WorkLevel) -> str:
    """Name a level in a sentence, with what was done."""
    return f"“{level.name}” ({level.work})"


def peak_text(level: WorkLevel) -> str:
    """Write a level's peak flow."""
    return quantity_text(level.peak, "L/min")


def coverage_sentences(levels: Sequence[Level]) -> tuple[str, ...]:
    """Say for which work a supply is enough; speaking comes first where it is what the supply is not enough for."""
    if all(result.coverage is Coverage.COVERED for _, result in levels):
        return ("No printed demand peaks above this supply, reading aloud at work included.",)
    silent = [(level, result) for level, result in levels if not level.speaking]
    over = next((level for level, result in silent[:LIGHTEST] if result.coverage is Coverage.OVER_BREATHED), None)
    if over is not None:
        lightest = silent[0][0]
        start = f"Not even {named(over)} is covered"
        if over is not lightest:
            start = f"Of silent work {named(lightest)} is covered, but not {named(over)}"
        return (f"{start}: its breaths peak at {peak_text(over)}. Harder work and speaking ask for more.",)
    return (*_speaking(levels), *_silent(silent))


def _speaking(levels: Sequence[Level]) -> tuple[str, ...]:
    words = {
        Coverage.COVERED: "Speaking at work is covered",
        Coverage.UNDECIDED: "Whether speaking at work is covered cannot be told",
        Coverage.OVER_BREATHED: "Speaking at work is not covered",
    }
    return tuple(
        f"{words[result.coverage]}: breaths while {level.work} peak at {peak_text(level)}."
        for level, result in levels
        if level.speaking
    )


def _silent(silent: Sequence[Level]) -> tuple[str, ...]:
    covered = [level for level, result in silent if result.coverage is Coverage.COVERED]
    undecided = [level for level, result in silent if result.coverage is Coverage.UNDECIDED]
    sentences = []
    if covered and len(covered) == len(silent):
        sentences.append("All silent work listed is covered.")
    elif covered:
        sentences.append(f"Silent work is covered up to {named(covered[-1])}, with peaks of {peak_text(covered[-1])}.")
    for level in undecided:
        sentences.append(
            f"Whether {named(level)} is covered cannot be told: its peak of {peak_text(level)} lies within the "
            "interval of the supply."
        )
    return tuple(sentences)


def deciding_level(levels: Sequence[Level]) -> Level | None:
    """Return the over-breathed level that says most: the first silent one where it is light, else speaking."""
    over = [(level, result) for level, result in levels if result.time is not None]
    lightest = {level.id for level, _ in [pair for pair in levels if not pair[0].speaking][:LIGHTEST]}
    for pair in over:
        if pair[0].id in lightest:
            return pair
    speaking = [pair for pair in over if pair[0].speaking]
    return next(iter(speaking or over), None)


def answer(supply: Figure, levels: Sequence[Level]) -> tuple[str, ...]:
    """Open a device's page with what its supply is not enough for, where that is rest, light work or speaking."""
    silent = [pair for pair in levels if not pair[0].speaking]
    decides = deciding_level(levels)
    if decides is None:
        return ()
    level, result = decides
    flow, then = value_text(supply), f"and about {value_text(result.share)} of the air would come from outside"
    peaks = f"breaths peak at {peak_text(level)} by a printed demand"
    if level.speaking:
        covered = [each for each, of_it in silent if of_it.coverage is Coverage.COVERED]
        enough = f"cover silent work up to “{covered[-1].name}”, but not" if covered else "do not cover"
        return (f"Its {flow} {enough} speaking at hard work: {peaks}, {then}.",)
    if level.id == silent[0][0].id:
        return (f"Its {flow} do not cover even sitting still: {peaks}, {then}.",)
    if len(silent) > 1 and level.id == silent[1][0].id:
        return (f"Its {flow} cover sitting still but not light work: {peaks}, {then}.",)
    return ()


def index_sentence(level: WorkLevel, result: LevelResult) -> str:
    """Say how many times cleaner the air would be at best at a level, and with what the hood holds."""
    assert result.factor is not None
    text = (
        f"At {named(level)}: if over-breathing were the only leak and no clean air were stored, the air breathed in "
        f"would be at best {value_text(result.factor)} times cleaner than outside"
    )
    if result.mixed is not None:
        text += f"; with the air that the hood holds mixed in, {value_text(result.mixed)} times"
    return text + "."


def measured_sentence(ranges: Sequence[str]) -> str:
    """Set the fit factors measured at the same blower setting beside the index."""
    if not ranges:
        return "No fit factor was measured at this setting."
    return f"Fit factors measured at this setting, with every leak together: {'; '.join(ranges)}."


def breaths_sentence(run: BreathingRun) -> str:
    """Say how many breaths a minute volumes of a breath are for, and how that number is known."""
    number = quantity_text(run.breaths_per_minute, "1")
    if run.breaths_counted:
        return f"Volumes of a breath are for {number} breaths a minute, as counted on a wearer at work."
    return (
        f"Volumes of a breath are for {number} breaths a minute. That is an assumption, since none were counted: the "
        "setting of a breathing machine in GB 30864-2014, for tight-fitting powered devices with the blower off. At "
        "hard work people breathe more often and each breath is smaller; who breathes less often draws in more in each."
    )


def stored_sentence(run: BreathingRun) -> str:
    """Say what the hood holds and how that is reckoned with, or that it is not known."""
    if run.hood_volume is None:
        return "The hood's volume is not on record, so that what its stored air does is not scored."
    return (
        f"The hood holds {quantity_text(run.hood_volume, 'L', 3)}. Mixed in, it is taken as the same everywhere in the "
        "hood, and what the lungs return of the particles as anything from all to none. Used first, it is taken as "
        "breathed unmixed, which is the best that it can do."
    )
