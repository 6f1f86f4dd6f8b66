"""What pages say of carbon dioxide and oxygen: of a hood's mixed air, and of inhaled air."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.base import NotRecorded
from generator.model.gas_result import GasSummary, InhaledGasResult, LimitSide, Plausible, Side
from generator.model.published import PublishedTest
from generator.model.session import BLOWER_OFF
from generator.model.work_gas import GasLimit, GasLimitOf, WorkGas
from generator.presenting.digits import THIN, quantity_text
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.wording import listed, recorded_text, sentence_case, shortened, source_text
from generator.scoring.hood_gas_figures import FRESH_CARBON_DIOXIDE
from generator.scoring.inhaled_gas_figures import GREATEST_RATIO, LEAST_RATIO
from generator.scoring.topics.gas import lightest

HOOD = (
    "Carbon dioxide and oxygen of the hood are by calculation: what its whole air settles to when the measured supply "
    "carries away what a person gives off. They are means of the hood’s air, not inhaled air; near mouth and nose the "
    "air can hold more."
)
UPPER = (
    "The measured supply is taken as all the air that comes in. Where room air leaks in besides, there is less carbon "
    "dioxide and more oxygen than stated."
)
BEYOND = (
    f"Where the calculation gives more than 5{THIN}% of carbon dioxide, nobody works on as before, and no figure is "
    "stated."
)
INHALED = (
    "Inhaled air was measured. Carbon dioxide gained over oxygen lost is no result about the device: between 0.7 and "
    "1.0 the two can belong together, outside one of them cannot be right."
)
SEALED = (
    "An illustration of how fast carbon dioxide rises without moving air, beginning with the air of the room. It is "
    "never a time that anyone may stay in the hood. Real hoods leak, which makes it slower; near mouth and nose it is "
    "faster than on the mean."
)
_SIDES = {
    Side.ABOVE: "above it",
    Side.UNDECIDED: "undecided, since the limit lies in the interval",
    Side.NOT_ABOVE: "not above it",
    Side.NOT_COMPARED: "not compared, since the two gases do not fit",
}
_NOT_COMPARED = "not compared: it is for the air of a workplace"


def room_words(test: PublishedTest) -> str:
    """Say what the carbon dioxide of the room's air was, or what is assumed."""
    measured = test.environment.carbon_dioxide
    if measured is None or isinstance(measured, NotRecorded):
        return f"The room’s own carbon dioxide was not measured; {quantity_text(FRESH_CARBON_DIOXIDE, '%')} is assumed."
    return f"The room’s own carbon dioxide was {recorded_text(measured)}."


def inhaled_state(gas: InhaledGasResult) -> str:
    """Say how the blower stood and what was done while inhaled air was measured."""
    blower = "blower off" if gas.blower in (BLOWER_OFF, "none") else f"blower at {shortened(gas.blower, 40)}"
    return f"{blower}, {gas.work}" if gas.blower != "none" else gas.work


def plausible_words(gas: InhaledGasResult) -> str:
    """Say whether inhaled oxygen and carbon dioxide can belong together."""
    if gas.plausible is Plausible.POSSIBLE:
        return "can belong together"
    if gas.plausible is Plausible.IMPOSSIBLE:
        return "cannot both be right"
    if gas.plausible is Plausible.NOT_SCORED or gas.ratio.value is None:
        return f"not scored: {gas.ratio.not_scored}"
    inside = LEAST_RATIO <= gas.ratio.value <= GREATEST_RATIO
    return f"undecided without an interval; the ratio itself lies {'within' if inside else 'outside'} 0.7 to 1.0"


def side_words(limit: GasLimit, sides: Mapping[str, LimitSide]) -> str:
    """Say which readings lie above a limit and which do not, or why none is compared."""
    if limit.of is not GasLimitOf.MEAN_INHALED:
        return _NOT_COMPARED
    groups = ((words, [state for state, side in sides.items() if side.side is kind]) for kind, words in _SIDES.items())
    return "; ".join(f"{words}: {', and '.join(states)}" for words, states in groups if states)


def level_sources(work: Mapping[str, WorkGas]) -> tuple[str, ...]:
    """Say where the levels of work are known from, one sentence for each source."""
    by_source: dict[str, list[str]] = {}
    for level in work.values():
        by_source.setdefault(source_text(level.source), []).append(level.name)
    return tuple(f"{sentence_case(listed(names))}: {source.rstrip('.')}." for source, names in by_source.items())


def limit_text(limit: GasLimit) -> str:
    """Write a limit."""
    return quantity_text(limit.percent, "%")


def answer_words(summary: GasSummary, work: Mapping[str, WorkGas]) -> tuple[str, ...]:
    """Return the sentence that opens a device's page, where carbon dioxide decides something."""
    worst = summary.worst
    level = lightest(worst.levels, work, "above_one_percent") if worst is not None else None
    if worst is None or level is None:
        return ()
    state = flow_state_words(worst.setting, worst.battery, worst.filter)
    return (
        f"By calculation, carbon dioxide would build up above 1{THIN}% in its hood already with "
        f"{work[level.level].name} ({state}).",
    )
