"""What may be said of fit: of those who were tested, of others, of pass levels, of other devices."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.air import Aerosol
from generator.model.comparison_result import Difference
from generator.model.difference_result import People
from generator.model.fit_result import Basis, FitGroup
from generator.model.reference import Principle
from generator.model.result import Figure, Relation
from generator.presenting.comparison_differences import conditions_words
from generator.presenting.difference_words import ONE
from generator.presenting.digits import value_text
from generator.presenting.fit_basis import DRAWN_IN
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.reviewed_device import ReviewedDevice, in_brackets, interval_words, told_apart
from generator.presenting.statement_views import Statement
from generator.presenting.topics.fit import items_words, method_words, range_text, state_words, worst_first
from generator.presenting.views import Link
from generator.presenting.wearer_statements import OF_VOLUNTEERS, bare_bound, pass_limits, reached_text, who_text
from generator.presenting.wording import count_text

_MOST_GROUPS = 3
"""So many of a device's groups are spoken of: the lowest as supplied first."""
_MOST_COMPARED = 2
_PARTICLES = {Aerosol.ROOM_AIR: "particles", Aerosol.SALT: "salt particles", Aerosol.OIL: "oil droplets"}


def first_groups(of: ReviewedDevice) -> tuple[FitGroup, ...]:
    """Return the groups of sessions that are spoken of: of whole protocols, others only where there is none."""
    if of.fit is None:
        return ()
    groups = worst_first(of.fit)
    whole = tuple(group for group in groups if group.basis is Basis.WHOLE_PROTOCOL)
    return (whole or groups)[:_MOST_GROUPS]


def not_measured(of: ReviewedDevice) -> Iterator[Statement]:
    """Where nothing makes a fit factor: that."""
    if of.fit is not None:
        return
    evidence = of.evidence
    tried = evidence.completed or evidence.aborted or evidence.voided
    why = "Sessions are on record, but none of them makes a result." if tried else "Nobody wore it here."
    text = f"How much cleaner the air inside {of.name} is has no result here."
    yield Statement("fit-none", text, why, (of.section("fit", "Fit factor"),))


def fit_factors(of: ReviewedDevice) -> Iterator[Statement]:
    """For each set of conditions: how many times fewer particles were inside, on how many wearers."""
    for group in first_groups(of):
        conditions = in_brackets(fit_state(group, of), of.period(records_of(group)))
        yield Statement(
            id=f"fit-{group.number}",
            text=f"{fit_sentence(group, of, of.name)}{conditions}: {_how_far(group, of)}.",
            limits=_fit_limits(group, of),
            sources=(of.section("fit", "Fit factor"), of.figure_link(group.lowest_record, group.lowest)),
        )


def _how_far(group: FitGroup, of: ReviewedDevice) -> str:
    """Say how far a fit factor carries, as the end of its own sentence, so that a quotation takes it along."""
    others = "nothing follows for anyone else" if len(group.wearers) == 1 else "others may see less"
    if not _counter_read_clean_air(group, of):
        return others
    return f"in clean air the counter read too much to tell its own counts from what was inside, and {others}"


def _counter_read_clean_air(group: FitGroup, of: ReviewedDevice) -> bool:
    """Say whether a zero check of one of its sessions was too high to tell the wearer's air from the counter."""
    sessions = {(donning.record, f"fit[{donning.session}]") for donning in group.over_wearers.donnings}
    return any(
        finding.rule == "zero-check-too-high" and (record, finding.where) in sessions
        for record in records_of(group)
        for finding in of.context.result.records[record].all_findings
    )


def records_of(group: FitGroup) -> tuple[str, ...]:
    """Return the records that a group's donnings stand in."""
    return tuple(dict.fromkeys(donning.record for donning in group.over_wearers.donnings))


def fit_sentence(group: FitGroup, of: ReviewedDevice, name: str) -> str:
    """Say on whom and how many times fewer particles were inside what is called `name`; without a full stop."""
    wearers, donnings = count_text(len(group.wearers), "wearer"), count_text(group.donnings, "donning")
    return f"On {wearers}, {donnings}{' in all' if group.donnings > 1 else ''}, {_held(group, of, name)}"


def fit_state(group: FitGroup, of: ReviewedDevice) -> str:
    """Say in which state, on how many items and by which method a group was measured, as far as that needs telling."""
    assert of.fit is not None
    words = (state_words(group, of.device), items_words(group), method_words(group, of.fit.groups, of.context))
    return ", ".join(word for word in words if word)


def _held(group: FitGroup, of: ReviewedDevice, name: str) -> str:
    factors = range_text(group, of.device, of.context)
    if not counts_particles(group, of):
        return f"{name} had a factor of {factors}, {DRAWN_IN}"
    assert group.lowest.value is not None
    particles = _PARTICLES[group.aerosol]
    if group.lowest.value <= 1:
        return f"the fit factor of {name} was {factors}, at worst no fewer {particles} inside than around it"
    return f"the air inside {name} held {factors} times fewer {particles} than the air around it"


def counts_particles(group: FitGroup, of: ReviewedDevice) -> bool:
    """Say whether the factors of a group are of particles that were counted."""
    protocol = of.context.catalogue.protocols[group.protocol]
    return protocol.principle is not Principle.CONTROLLED_NEGATIVE_PRESSURE


def _fit_limits(group: FitGroup, of: ReviewedDevice) -> str:
    said = []
    interval = interval_words(group.lowest)
    if interval is not None and group.lowest.relation is Relation.EQUAL:
        said.append(f"{'The lowest' if len(group.over_wearers.donnings) > 1 else 'It'} has the {interval}.")
    who = "this wearer" if len(group.wearers) == 1 else "these wearers"
    said.append(f"So it was for {who}, these items and these days.")
    if counts_particles(group, of):
        said.append("It is what one particle counter saw, and no assigned protection factor.")
    return " ".join(said)


def new_wearers(of: ReviewedDevice) -> Iterator[Statement]:
    """Where donnings are enough for it: above which factor new wearers like those tested would lie, once."""
    for group in first_groups(of):
        over = group.over_wearers
        bound = bound_of_others(group)
        if bound is None:
            continue
        yield Statement(
            id=f"new-wearers-{group.number}",
            text=(
                f"Going by {who_text(over)}, at least 95 in 100 donnings of {of.name} by new wearers like these would "
                f"give a fit factor above {bare_bound(bound)}, with 95 % confidence"
                f"{in_brackets(fit_state(group, of))}, if fit factors are log-normal and these volunteers stand for "
                "others."
            ),
            limits=OF_VOLUNTEERS,
            sources=(of.section(f"wearers-{group.number}", "Wearers and donnings"),),
        )
        return


def bound_of_others(group: FitGroup) -> Figure | None:
    """Return the bound above which new wearers lie; None where the donnings do not carry one."""
    over = group.over_wearers
    if over.bound is None or over.bound.value is None or over.log_normal_doubtful:
        return None
    return over.bound


def pass_levels(of: ReviewedDevice) -> Iterator[Statement]:
    """Where a fit-test pass level applies to two wearers or more: how many of them reached it."""
    for group in first_groups(of):
        passes = group.over_wearers.passes
        if passes is None:
            continue
        yield Statement(
            id=f"pass-level-{group.number}",
            text=(
                f"Fit-test pass level {passes.limit:g} with {of.name}{in_brackets(fit_state(group, of))}: "
                f"{reached_text(passes)}; whether the next wearer will is not known."
            ),
            limits=pass_limits(passes),
            sources=(of.context.criterion_link(passes.criterion), of.section("fit-register", "Every session")),
        )


def compared(of: ReviewedDevice) -> Iterator[Statement]:
    """Where comparisons tell it apart from another device: the surest of these differences."""
    apart = [found[0] for found in of.differences().values() if told_apart(found)]
    for comparison, difference in sorted(apart, key=lambda found: -_surest(found[1]))[:_MOST_COMPARED]:
        other = difference.second if difference.first == of.device.id else difference.first
        yield Statement(
            id=f"compared-{other}",
            text=_difference_text(difference, of),
            limits=_difference_limits(difference, of, len(apart)),
            sources=(Link("The comparison", f"comparisons/{comparison}.html#{difference.ratio.key}"),),
            compares=True,
        )


def _surest(difference: Difference) -> float:
    """Return how far the interval stays from 1, on whichever side: more is surer."""
    interval = difference.ratio.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    return interval.low if interval.low > 1 else 1 / interval.high


def _difference_text(difference: Difference, of: ReviewedDevice) -> str:
    first, second = (of.context.catalogue.devices[name].name for name in (difference.first, difference.second))
    who = f"the same {count_text(len(difference.wearers), 'wearer')}"
    if difference.people is People.OTHER_WEARERS:
        numbers = (len(difference.first_only), len(difference.second_only))
        who = f"different wearers, {numbers[0]} with {first} and {numbers[1]} with {second}"
    times = f"{value_text(difference.ratio, ONE)} times that with {second}"
    assert difference.conditions is not None
    aerosol = difference.conditions.aerosol
    sprayed = f"in {sprayed_words(aerosol)}" if aerosol is not Aerosol.ROOM_AIR else None
    conditions = in_brackets(sprayed, interval_words(difference.ratio))
    return f"On {who}, and on no others, the fit factor with {first} was {times}{conditions}."


def _difference_limits(difference: Difference, of: ReviewedDevice, apart: int) -> str:
    assert difference.conditions is not None
    said = ["It is of fit factors on these wearers, with both devices as supplied, and of nothing else about them."]
    if difference.people is People.OTHER_WEARERS:
        said.append("Different people tell less than the same people with both.")
    said.append(conditions_words(difference.conditions, of.context))
    if apart > _MOST_COMPARED:
        said.append(f"It is told apart from {apart} devices; these differences are the surest.")
    return " ".join(said)
