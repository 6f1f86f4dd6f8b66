"""What the comparisons say of pairs of devices: each pair stands in the panel of one of the two."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from generator.model.comparison_result import ComparisonResult, Difference
from generator.presenting.comparison_differences import answer_in_short, difference_row
from generator.presenting.comparison_views import SideLine
from generator.presenting.context import Context
from generator.presenting.panel_views import PairDecision, PanelPair
from generator.presenting.views import Link


def pairs_held_by(device: str, context: Context) -> tuple[PanelPair, ...]:
    """Return the compared pairs that the panel of a device holds: those in which it comes first by its id."""
    found: dict[str, PanelPair] = {}
    for result in context.result.comparisons.values():
        for difference in result.differences:
            one, other = sorted((difference.first, difference.second))
            if one != device:
                continue
            pair = _pair(other, result, difference, context)
            known = found.get(other, replace(pair, decisions=()))
            found[other] = replace(known, decisions=_with(known.decisions, pair.decisions[0]))
    return tuple(found[other] for other in sorted(found))


def _with(known: tuple[PairDecision, ...], more: PairDecision) -> tuple[PairDecision, ...]:
    """Add what one comparison decides to what others do."""
    for place, same in enumerate(known):
        if _texts((*same.lines, *same.sure)) == _texts((*more.lines, *more.sure)):
            both = replace(same, comparisons=(*same.comparisons, *more.comparisons))
            return (*known[:place], both, *known[place + 1 :])
    return (*known, more)


def _texts(lines: Iterable[SideLine]) -> tuple[str, ...]:
    return tuple(text for line in lines for text in (line.text, line.note))


def _pair(other: str, result: ComparisonResult, difference: Difference, context: Context) -> PanelPair:
    page, key = f"comparisons/{result.id}.html", difference.ratio.key
    link = (Link(result.title, f"{page}#{key}"),)
    answer = answer_in_short(difference, context)
    if difference.ratio.value is None:
        return PanelPair(other, stated=False, lines=(SideLine("", answer),), decisions=(PairDecision(link, answer),))
    first, second = (context.catalogue.devices[name].name for name in (difference.first, difference.second))
    of_what = SideLine("", f"Fit factor with {first} as a multiple of that with {second}:")
    follows, times, rests_on = difference_row(difference, page, context).cells
    decided = (PairDecision(link, answer, follows.lines, follows.sure),)
    return PanelPair(other, stated=True, lines=(of_what, *times.lines), decisions=decided, rests_on=rests_on.lines)


def reasons_within_kinds(context: Context) -> Mapping[str, str]:
    """Return why no pair of a kind is compared, by the name of the kind in addresses; none where pairs are."""
    devices = context.catalogue.devices
    return {
        devices[next(iter(result.devices))].kind.slug: f"Not compared: {result.no_differences}."
        for result in context.result.comparisons.values()
        if result.of_kind and result.no_differences is not None
    }
