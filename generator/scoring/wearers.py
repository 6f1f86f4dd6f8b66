"""Which statement the donnings of a group carry, of those tested and of others, and that statement."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.device import Device
from generator.model.published import PublishedCatalogue
from generator.model.result import Figure, Working
from generator.model.wearers_result import Carried, OverWearers
from generator.scoring.donnings import donnings_in_order, numbered_inputs
from generator.scoring.fit_groups import Recorded
from generator.scoring.log_normality import DOUBTFUL_BELOW
from generator.scoring.lognormal import geometric_mean
from generator.scoring.panel_results import panel_results
from generator.scoring.pass_shares import pass_share
from generator.scoring.wearer_figures import Group, least_mean_figure, level_figures, log_normality_figure
from generator.scoring.wearers_once import BOUND, MEAN, PERCENTILE, one_donning_each, one_donning_each_with_bounds
from generator.scoring.wearers_repeated import several_donnings, several_donnings_with_bounds

_DOUBTFUL = "the results do not look log-normal, and this would rest on their being so"
_ONE_WEARER = "with one wearer, nothing follows for others"


def over_wearers(
    device: Device, number: int, members: Sequence[Recorded], catalogue: PublishedCatalogue
) -> OverWearers:
    """Return what the donnings of a device's group say together; groups are numbered, so that figures have keys."""
    donnings = donnings_in_order(members, catalogue)
    group = Group(device.id, number, donnings)
    changes = {
        "sessions_of_a_donning": sum(
            session.overall is not None and session.overall.value is not None for _, session in members
        )
        - len(donnings),
        "passes": pass_share(group, members),
        "panels": panel_results(device, donnings, members, catalogue),
    }
    return _without_the_model(group, _carried(group)).model_copy(update=changes)


def _carried(group: Group) -> OverWearers:
    bounds = [donning.bound for donning in group.donnings]
    if len(group.wearers) == 1:
        return OverWearers(carried=Carried.ONE_WEARER, donnings=group.donnings, mean=_mean_of_one(group))
    if all(bounds):
        return OverWearers(carried=Carried.BOUNDS_ONLY, donnings=group.donnings, mean=least_mean_figure(group))
    once = len(group.wearers) == len(group.donnings)
    if any(bounds):
        return one_donning_each_with_bounds(group) if once else several_donnings_with_bounds(group)
    return one_donning_each(group) if once else several_donnings(group)


def _mean_of_one(group: Group) -> Figure | None:
    if len(group.donnings) == 1 or any(donning.bound for donning in group.donnings):
        return None
    working = Working(method="wearer-fit-factor", inputs=numbered_inputs(group.donnings))
    return group.figure("mean", MEAN, geometric_mean(group.values), working, no_interval=_ONE_WEARER, of_wearers=False)


def _without_the_model(group: Group, result: OverWearers) -> OverWearers:
    """Add the test of the log-normal model, and what asks for no model where it fails or cannot be used."""
    if result.carried is Carried.ONE_WEARER:
        return result
    modelled = result.carried in (Carried.ONE_DONNING_EACH, Carried.SEVERAL_DONNINGS)
    tested = log_normality_figure(group) if modelled else None
    doubtful = tested is not None and tested.value is not None and tested.value < DOUBTFUL_BELOW
    changes: dict[str, object] = {"log_normality": tested, "log_normal_doubtful": doubtful}
    if doubtful:
        changes |= {
            "percentile": group.not_scored("percentile", PERCENTILE, "low-percentile", _DOUBTFUL),
            "bound": group.not_scored("bound", BOUND, "low-percentile-bound", _DOUBTFUL),
            "wearers_needed": None,
        }
    if doubtful or not modelled or result.percentile is None:
        changes["level_of_all"], changes["share_above"] = level_figures(group)
    return result.model_copy(update=changes)
