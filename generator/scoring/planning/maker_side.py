"""What a plan says of a maker's claims: which session would decide each, and which nothing here can decide."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.claim_result import ClaimOutcome, ClaimResult
from generator.model.claims import Claim, TestableClaim
from generator.model.flow_result import FlowResult
from generator.model.plan_result import Facts, PlannedSession, PlannedStatement, Standing, Tier
from generator.scoring.flow_states import claimed_settings
from generator.scoring.planning.air import flow_session, run_down_session, states_of
from generator.scoring.planning.fit_states import worn_in_state
from generator.scoring.planning.reviewed import Reviewed, Ruled, new_wearers

_DECIDED = (ClaimOutcome.SUPPORTED, ClaimOutcome.CONTRADICTED)


def claims(of: Reviewed) -> Iterator[Ruled]:
    """For each claim of its maker: whether the tests decide it, and what would."""
    for claim, result in zip(of.device.claims, of.result.claims, strict=True):
        yield _claim(claim, result, of)


def _claim(claim: Claim, result: ClaimResult, of: Reviewed) -> Ruled:
    facts: Facts = {
        "quotation": claim.quotation,
        "outcome": result.outcome.value,
        "reason": result.reason,
    }
    followed_breath = claim.means is not None and claim.means.supply_flow_at_least and of.device.breath_responsive
    sessions: tuple[PlannedSession, ...] = ()
    if claim.means is None or followed_breath:
        standing = Standing.NOT_MEASURABLE
    elif result.outcome in _DECIDED:
        standing = Standing.SAID
    else:
        standing, sessions = Standing.LACKING, _deciding(claim.means, result, of)
    records = (result.record,) if result.record is not None else ()
    statement = PlannedStatement(
        id=f"claim-{result.number}", rule="claim", standing=standing, records=records, facts=facts
    )
    return Ruled(statement, sessions)


def _deciding(means: TestableClaim, result: ClaimResult, of: Reviewed) -> tuple[PlannedSession, ...]:
    """Return the session that could decide a claim.

    Of one that is undecided the flow is measured again in the same state: a further figure that lies wholly below
    contradicts the claim. The figure that left it open stands, so that nothing can support it any more.
    """
    settings = (means.setting,) if means.setting is not None else claimed_settings(of.device)
    if means.fit_factor_at_least is not None:
        return (_worn(means.setting, of),) if result.outcome is ClaimOutcome.NOT_TESTED else ()
    if not settings:
        return ()
    if means.run_time_at_least is not None:
        return (run_down_session(Tier.CLAIM, settings),)
    for record, flow in of.results("flow", FlowResult):
        for run in flow.runs:
            if result.record == record and result.figure is not None and run.mean.key == result.figure.key:
                return (flow_session(Tier.CLAIM, (run.setting,), run.battery, run.filter),)
    first = states_of(of)[0]
    return (flow_session(Tier.CLAIM, settings, first.battery, first.filter),)


def _worn(setting: str | None, of: Reviewed) -> PlannedSession:
    """Return a session in which someone wears it at the setting that is claimed for, or at the first that counts."""
    settings = claimed_settings(of.device)
    if setting is None and not settings:
        return new_wearers(of, 1).model_copy(update={"tier": Tier.CLAIM})
    protocol = of.main_group.protocol if of.main_group is not None else of.protocol()
    return worn_in_state(of, setting or settings[0], protocol, Tier.CLAIM)
