"""What the comparisons say of pairs of devices: each pair stands in the panel of one of the two."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.comparison_result import ComparisonResult, Difference
from generator.presenting.comparison_differences import difference_row
from generator.presenting.comparison_views import SideLine
from generator.presenting.context import Context
from generator.presenting.panel_views import PairPart, PanelPair
from generator.presenting.views import Link

_Found = list[tuple[ComparisonResult, Difference]]


def pairs_by_device(context: Context) -> Mapping[str, tuple[PanelPair, ...]]:
    """Return the pairs that are compared, by the device whose panel holds them: the one that comes first by its id."""
    found: dict[tuple[str, str], _Found] = {}
    for result in context.result.comparisons.values():
        for difference in result.differences:
            pair = sorted((difference.first, difference.second))
            found.setdefault((pair[0], pair[1]), []).append((result, difference))
    held: dict[str, tuple[PanelPair, ...]] = {}
    for (one, other), differences in sorted(found.items()):
        parts = _parts(differences, context)
        pair_view = PanelPair(other, any(part.not_stated is None for part in parts), parts)
        held[one] = (*held.get(one, ()), pair_view)
    return held


def _parts(differences: _Found, context: Context) -> tuple[PairPart, ...]:
    """Return what each comparison says; those that say the same stand together."""
    said: dict[tuple[tuple[tuple[str, str], ...], str | None], PairPart] = {}
    for result, difference in differences:
        part = _part(result, difference, context)
        key = tuple((line.text, line.note) for line in part.lines), part.not_stated
        same = said.get(key)
        links = (*same.comparisons, *part.comparisons) if same is not None else part.comparisons
        said[key] = PairPart(links, part.lines if same is None else same.lines, part.not_stated)
    return tuple(said.values())


def _part(result: ComparisonResult, difference: Difference, context: Context) -> PairPart:
    page, key = f"comparisons/{result.id}.html", difference.ratio.key
    link = (Link(result.title, f"{page}#{key}"),)
    if difference.ratio.value is None:
        return PairPart(link, (), f"Not stated: {difference.ratio.not_scored}.")
    first, second = (context.catalogue.devices[name].name for name in (difference.first, difference.second))
    of_what = SideLine("", f"Fit factor with {first} as a multiple of that with {second}:")
    cells = difference_row(difference, page, context).cells
    return PairPart(link, (of_what, *(line for cell in cells for line in cell.lines)))


def reasons_within_kinds(context: Context) -> Mapping[str, str]:
    """Return why no pair of a kind is compared, by the name of the kind in addresses; none where pairs are."""
    devices = context.catalogue.devices
    return {
        devices[next(iter(result.devices))].kind.slug: f"Not compared: {result.no_differences}."
        for result in context.result.comparisons.values()
        if result.of_kind and result.no_differences is not None
    }
