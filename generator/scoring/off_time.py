"""What would be left of a device's lowest fit factor if it were not worn all the time: a what-if, no figure of it."""

from __future__ import annotations

from generator.model.configuration import State
from generator.model.fit_result import Basis, FitGroup, FitSummary
from generator.model.meaning_result import OffTime, OffTimeRow
from generator.model.published import PublishedCatalogue
from generator.model.reference import Principle
from generator.model.result import Figure
from generator.scoring.worn_part_of_the_time import hypothetical_protection

METHOD = "hypothetical-protection"
SHARES_OFF = (0.0, 0.01, 0.05, 0.1, 0.25)


def off_time(summary: FitSummary, catalogue: PublishedCatalogue) -> OffTime | None:
    """Return the what-if of a device as supplied, or None where no factor can carry it.

    It starts from the lowest overall factor of a whole protocol in which particles were counted: a part of a protocol
    does not stand for the whole, and a factor from a pressure is no ratio of concentrations. There is none for a
    modified device: nobody else has that one. Where the factor assumed is not above 1, there is nothing to lose.
    """
    usable = [group for group in summary.groups if _usable(group, catalogue)]
    if not usable:
        return None
    lowest = min(usable, key=lambda group: (group.lowest.value or 0, group.lowest_record, group.lowest.key))
    assumed = _assumed(lowest.lowest)
    if assumed <= 1:
        return None
    return OffTime(
        protocol=lowest.protocol,
        blower=lowest.blower,
        record=lowest.lowest_record,
        overall=lowest.lowest,
        assumed=assumed,
        from_limit=_lower_limit(lowest.lowest) is not None,
        method=METHOD,
        rows=tuple(
            OffTimeRow(
                share_off=share,
                protection=hypothetical_protection(assumed, share),
                most=1 / share if share > 0 else None,
            )
            for share in SHARES_OFF
        ),
    )


def _usable(group: FitGroup, catalogue: PublishedCatalogue) -> bool:
    return (
        group.configuration == State.AS_SUPPLIED.value
        and group.basis is Basis.WHOLE_PROTOCOL
        and catalogue.protocols[group.protocol].principle is Principle.PARTICLES
        and group.lowest.value is not None
    )


def _lower_limit(figure: Figure) -> float | None:
    return figure.interval.low if figure.interval is not None else None


def _assumed(figure: Figure) -> float:
    limit = _lower_limit(figure)
    if limit is not None:
        return limit
    assert figure.value is not None
    return figure.value
