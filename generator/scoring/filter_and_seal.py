"""What a filter leaves possible in the fit sessions it was worn in, and what of the air came in past the seal."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.air import Aerosol
from generator.model.base import NotRecorded
from generator.model.device import Device
from generator.model.filter_result import PastSealResult
from generator.model.filter_test import FilterPenetration, ParticleCharge
from generator.model.fit_result import FitResult, SessionResult
from generator.model.flow_result import FlowRunResult
from generator.model.published import PublishedTest
from generator.model.result import Figure, Finding, Input, Interval, Relation, Working
from generator.model.session import BLOWER_OFF
from generator.scoring.combined_ends import combined_ends
from generator.scoring.counting import COVERAGE
from generator.scoring.filter_penetration import highest_fit_factor, share_past_seal
from generator.scoring.filter_penetrations import NO_UNCERTAINTY, NOTHING_THROUGH, Penetrated, flow_each, penetrated
from generator.scoring.filter_velocities import device_filter
from generator.scoring.unscored import unscored_figure

SAME_FLOW = 0.02
"""Flows that differ by no more than this share are taken as the same: an own rule."""
_SEEN_BY = {Aerosol.ROOM_AIR: "the room's own particles", Aerosol.SALT: "salt", Aerosol.OIL: "oil"}


def why_other_particles(item: FilterPenetration, test: PublishedTest) -> str | None:
    """Say why a penetration is of other particles than the fit sessions count, or return None where it is not."""
    if not item.sessions:
        return "the record names no fit session that was done with this filter and its particles"
    if item.aerosol is not test.aerosol:
        return f"it was measured with {_SEEN_BY[item.aerosol]}, the fit sessions with {_SEEN_BY[test.aerosol]}"
    if test.aerosol is not Aerosol.ROOM_AIR:
        return "the charge of the particles in the fit sessions is not on record"
    if item.charge is not ParticleCharge.AS_IN_ROOM:
        return "the charge of its particles was not that of the room's, which the fit sessions count"
    if not isinstance(item.diameter, NotRecorded):
        return "it was measured with particles of a stated size, and the fit sessions count those of every size"
    return None


def same_flow(
    item: FilterPenetration, session: SessionResult, runs: Sequence[FlowRunResult], device: Device
) -> str | None:
    """Say why the flow of a penetration is not that of a fit session, or return None where it is."""
    if item.breathing:
        return None
    if session.blower in (None, BLOWER_OFF):
        return "it was measured at a steady flow, and in the fit session the wearer drew the air through the filter"
    described = device_filter(device)
    count = item.filters_at_once if described is None else described.count
    whole = flow_each(item).value * count
    flows = [run.mean.value for run in runs if run.setting == session.blower and run.filter == item.filter.value]
    if any(flow is not None and abs(flow - whole) <= SAME_FLOW * whole for flow in flows):
        return None
    return "it was not measured at the flow that the blower delivered at the session's setting"


def fitting_sessions(
    item: FilterPenetration,
    fit: FitResult,
    runs: Sequence[FlowRunResult],
    test: PublishedTest,
    device: Device,
) -> tuple[list[SessionResult], str]:
    """Return the fit sessions that a penetration holds for, and why it holds for none."""
    reason = why_other_particles(item, test)
    if reason is not None:
        return [], reason
    scored = [
        session
        for session in fit.sessions
        if session.session in item.sessions
        and session.counted
        and session.inward_leakage is not None
        and session.overall is not None
        and session.overall.value is not None
        and session.overall.relation is Relation.EQUAL
    ]
    if not scored:
        return [], "none of the fit sessions that it names counts and has an overall factor of particles"
    reasons = [same_flow(item, session, runs, device) for session in scored]
    held = [session for session, why in zip(scored, reasons, strict=True) if why is None]
    return held, "" if held else next(why for why in reasons if why is not None)


def highest_figure(item: FilterPenetration, held: Sequence[SessionResult], why_none: str) -> Figure:
    """Return the fit factor that a filter leaves possible in the sessions it holds for."""
    key, name, method = f"filter.{item.id}.highest-fit-factor", "highest fit factor it leaves", "highest-fit-factor"
    measured = penetrated(item)
    if not held or measured.value == 0:
        return unscored_figure(key, name, "1", method, why_none if not held else NOTHING_THROUGH)
    interval = None
    if measured.low is not None and measured.high is not None:
        interval = Interval(
            low=highest_fit_factor(measured.high),
            high=None if measured.low == 0 else highest_fit_factor(measured.low),
            coverage=COVERAGE,
            method=method,
            covers="the stated uncertainty of the penetration; not differences between filters",
        )
    return Figure(
        key=key,
        name=name,
        value=highest_fit_factor(measured.value),
        unit="1",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=1,
        sample_of="penetration",
        method=method,
        working=Working(method=method, inputs=(measured.as_input(),)),
    )


def past_seal(item: FilterPenetration, session: SessionResult) -> PastSealResult:
    """Return what of the air came in past the seal in one session that a penetration holds for."""
    return PastSealResult(
        session=session.session,
        penetration=item.id,
        wearer=session.wearer,
        donning=session.donning,
        blower=session.blower,
        share=_share_figure(penetrated(item), session),
    )


def _share_figure(measured: Penetrated, session: SessionResult) -> Figure:
    key, name, method = f"filter.{session.session}.past-seal", "share of the air past the seal", "share-past-seal"
    overall = session.overall
    assert overall is not None
    assert overall.value is not None
    ends = _share_ends(measured, overall)
    if ends is None:
        reason = NO_UNCERTAINTY if not measured.known else "the fit factor has no interval with two ends"
        return unscored_figure(key, name, "%", method, f"{reason}, so that a leak cannot be told from none")
    low, high = ends
    if high < 0:
        reason = "fewer particles were inside than the filter lets through: the two measurements contradict each other"
        return unscored_figure(key, name, "%", method, reason)
    if low <= 0:
        return unscored_figure(
            key, name, "%", method, "unresolved: within the intervals there may be no leak past the seal"
        )
    factor = Input(
        symbol=r"\mathrm{FF}",
        meaning="overall fit factor",
        value=overall.value,
        unit="1",
        where=f"fit[{session.session}]: {overall.key}",
    )
    return Figure(
        key=key,
        name=name,
        value=100 * share_past_seal(1 / overall.value, measured.value),
        unit="%",
        interval=Interval(
            low=100 * low,
            high=100 * min(high, 1.0),
            coverage=COVERAGE,
            method="combined-ends",
            covers="that of the fit factor and the stated uncertainty of the penetration",
        ),
        sample_size=1,
        sample_of="session",
        method=method,
        working=Working(method=method, inputs=(factor, measured.as_input())),
    )


def _share_ends(measured: Penetrated, overall: Figure) -> tuple[float, float] | None:
    interval = overall.interval
    if measured.low is None or measured.high is None or measured.high >= 1 or overall.value is None:
        return None
    if interval is None or interval.low is None or interval.high is None:
        return None
    leakage = 1 / overall.value
    # An interval of a simulation may lie wholly on one side of its figure; the figure is then an end of it.
    least, most = min(1 / interval.high, leakage), max(1 / interval.low, leakage)
    return combined_ends(
        share_past_seal(leakage, measured.value),
        [share_past_seal(least, measured.value), share_past_seal(leakage, measured.high)],
        [share_past_seal(most, measured.value), share_past_seal(leakage, measured.low)],
    )


def above_filter_findings(item: FilterPenetration, held: Sequence[SessionResult], highest: Figure) -> list[Finding]:
    """Return a finding where the whole interval of a fit factor lies above all that the filter leaves possible."""
    if highest.interval is None or highest.interval.high is None or highest.value is None:
        return []
    above = [
        session.session
        for session in held
        if session.overall is not None
        and session.overall.interval is not None
        and session.overall.interval.low is not None
        and session.overall.interval.low > highest.interval.high
    ]
    if not above:
        return []
    facts: dict[str, str | int | float] = {"sessions": len(above), "of": len(held), "highest": highest.value}
    return [Finding(rule="fit-factor-above-filter", where=f"filter_test.penetrations[{item.id}]", facts=facts)]
