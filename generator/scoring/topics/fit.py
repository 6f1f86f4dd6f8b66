"""Fit: how much of the air's particles reaches the wearer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.device import Device
from generator.model.fit_result import Basis, ExerciseResult, FitGroup, FitResult, FitSummary, SessionResult
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.reference import Principle, Protocol
from generator.model.result import Figure, Finding, TopicResult
from generator.model.session import Outcome
from generator.scoring.data_levels import basis_of, data_level
from generator.scoring.fit_conditions import session_condition_findings
from generator.scoring.fit_figures import exercise_figure, leakage_figure, overall_figure
from generator.scoring.fit_findings import session_findings
from generator.scoring.fit_groups import GroupKey, Recorded, donnings_of, extremes, group_key, wearers_of
from generator.scoring.given_factors import overall_as_given
from generator.scoring.items import item_of
from generator.scoring.log_findings import log_findings
from generator.scoring.penetrations import with_penetrations
from generator.scoring.requirements import fit_verdict
from generator.scoring.samples import ExerciseSamples, counting_air, session_samples
from generator.scoring.session_rules import counted_sessions
from generator.scoring.two_channel_intervals import channel_ratio_figure
from generator.scoring.wearers import over_wearers
from generator.scoring.zero_reading import zero_particles

ORDER = 10


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> FitResult | None:
    """Score the fit sessions of a record, or return None where it has none."""
    if not test.fit:
        return None
    counted = counted_sessions(test)
    scored = [_score_session(session, session.id in counted, test, catalogue) for session in test.fit]
    sessions = tuple(result for result, _ in scored)
    findings = tuple(finding for result, found in scored if result.counted for finding in found)
    findings += session_condition_findings(test, counted, catalogue)
    not_completed = _not_completed([result.outcome for result in sessions])
    if not_completed is not None:
        findings += (not_completed,)
    figures = [figure for result in sessions for figure in _figures(result)]
    verdicts = tuple(result.verdict for result in sessions if result.verdict is not None)
    return FitResult(figures=tuple(figures), verdicts=verdicts, findings=findings, sessions=sessions)


def _score_session(
    session: PublishedSession, counted: bool, test: PublishedTest, catalogue: PublishedCatalogue
) -> tuple[SessionResult, tuple[Finding, ...]]:
    attempt = SessionResult(
        session=session.id,
        wearer=session.wearer,
        donning=session.donning,
        protocol=session.protocol,
        blower=session.blower,
        outcome=session.outcome.value,
        reason=session.reason,
        counted=counted,
        basis=basis_of(session),
        exercises=(),
        overall=None,
        inward_leakage=None,
        verdict=None,
    )
    if session.outcome is not Outcome.COMPLETED:
        return attempt, ()
    protocol = catalogue.protocols[session.protocol]
    samples = session_samples(session, test, catalogue)
    zero = zero_particles(session, counting_air(test, catalogue))
    exercises = tuple(
        ExerciseResult(
            exercise=item.exercise,
            name=item.name,
            counted=item.counted,
            fit_factor=exercise_figure(session.id, item, zero),
        )
        for item in samples
    )
    log = catalogue.logs[session.log.file] if session.log is not None else None
    exercises = with_penetrations(session.id, exercises, samples, log)
    if session.overall_only:
        overall = overall_as_given(session)
    else:
        factors = [exercise.fit_factor for exercise in exercises]
        overall = overall_figure(session.id, samples, factors, zero, _overall_name(session, samples, protocol))
    done = [exercise.exercise for exercise in exercises if exercise.fit_factor.value is not None]
    complete = done == [exercise.id for exercise in protocol.exercises]
    verdict = fit_verdict(session, overall, complete, test, catalogue)
    leakage = leakage_figure(session.id, overall) if protocol.principle is Principle.PARTICLES else None
    result = attempt.model_copy(
        update={
            "level": data_level(session, samples),
            "exercises": exercises,
            "overall": overall,
            "inward_leakage": leakage,
            "channel_ratio": channel_ratio_figure(
                session.id, [item.measured for item in samples if item.measured is not None]
            ),
            "verdict": verdict,
        }
    )
    findings = session_findings(session.id, samples, overall, verdict, test, catalogue)
    return result, (*findings, *log_findings(session, samples, exercises, test, catalogue))


def _overall_name(session: PublishedSession, samples: Sequence[ExerciseSamples], protocol: Protocol) -> str:
    if session.partial is None:
        return "overall fit factor"
    done, of_protocol = sum(item.counted for item in samples), sum(step.counted for step in protocol.exercises)
    return f"partial fit factor, {done} of {of_protocol} counted exercises"


def _figures(result: SessionResult) -> tuple[Figure, ...]:
    of_exercises = [
        figure
        for exercise in result.exercises
        for figure in (exercise.fit_factor, exercise.average_penetration, exercise.peak_penetration)
    ]
    of_session = (result.channel_ratio, result.overall, result.inward_leakage)
    return tuple(figure for figure in (*of_exercises, *of_session) if figure is not None)


def _not_completed(outcomes: Sequence[str]) -> Finding | None:
    counts = {outcome.value: outcomes.count(outcome.value) for outcome in Outcome}
    if counts[Outcome.ABORTED.value] + counts[Outcome.VOIDED.value] == 0:
        return None
    return Finding(rule="attempts-not-completed", where="fit", facts={**counts})


def summarise_device(device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue) -> FitSummary:
    """Sum up all fit sessions of a device; a device without any is summed up too, since nobody wore it."""
    sessions = [
        (record, session)
        for record, result in results.items()
        if isinstance(result, FitResult)
        for session in result.sessions
    ]
    counted = [(record, session) for record, session in sessions if session.counted]
    donnings, wearers = donnings_of(counted), wearers_of(counted)
    # Partial factors, and those of which only an overall one was given, stand in groups of their own alone.
    whole = [(record, session) for record, session in counted if session.basis is Basis.WHOLE_PROTOCOL]
    found = extremes((record, session.overall) for record, session in whole)
    lowest, highest = found if found is not None else (None, None)
    outcomes = [session.outcome for _, session in sessions]
    withdrawn = [session.outcome.value for test in catalogue.withdrawn_tests_of(device.id) for session in test.fit]
    return FitSummary(
        findings=_device_findings(device, wearers, donnings, outcomes, withdrawn),
        wearers=wearers,
        donnings=len(donnings),
        completed=outcomes.count(Outcome.COMPLETED.value),
        aborted=outcomes.count(Outcome.ABORTED.value),
        voided=outcomes.count(Outcome.VOIDED.value),
        not_counted=outcomes.count(Outcome.COMPLETED.value) - len(counted),
        withdrawn=len(withdrawn),
        lowest=lowest[1] if lowest else None,
        lowest_record=lowest[0] if lowest else None,
        highest=highest[1] if highest else None,
        highest_record=highest[0] if highest else None,
        groups=_groups(device, counted, catalogue),
    )


def _device_findings(
    device: Device,
    wearers: Sequence[str],
    donnings: set[tuple[str, str, int]],
    outcomes: Sequence[str],
    withdrawn: Sequence[str],
) -> tuple[Finding, ...]:
    where = f"devices/{device.id}"
    findings = []
    completed = [*outcomes, *withdrawn].count(Outcome.COMPLETED.value)
    if not wearers and completed:
        findings.append(Finding(rule="no-session-counts", where=where, facts={"completed": completed}))
    elif not wearers:
        findings.append(Finding(rule="no-wearer", where=where, facts={"attempts": len(outcomes)}))
    elif len(wearers) == 1:
        findings.append(Finding(rule="one-wearer", where=where, facts={"wearers": 1, "donnings": len(donnings)}))
    most = max((sum(wearer == worn_by for _, worn_by, _ in donnings) for wearer in wearers), default=0)
    if most == 1:
        findings.append(Finding(rule="one-donning", where=where, facts={"wearers": len(wearers), "most_donnings": 1}))
    not_completed = _not_completed(outcomes)
    return (*findings, not_completed) if not_completed is not None else tuple(findings)


def _groups(device: Device, counted: Sequence[Recorded], catalogue: PublishedCatalogue) -> tuple[FitGroup, ...]:
    together: dict[GroupKey, list[Recorded]] = {}
    for record, session in counted:
        key = group_key(session, catalogue.device_tests[record], catalogue)
        together.setdefault(key, []).append((record, session))
    groups: list[FitGroup] = []
    for key, members in together.items():
        found = extremes((record, session.overall) for record, session in members)
        if found is None:
            continue
        (lowest_record, lowest), (highest_record, highest) = found
        items = [item_of(catalogue.device_tests[record]) for record, _ in members]
        groups.append(
            FitGroup(
                number=len(groups) + 1,
                **key._asdict(),
                wearers=wearers_of(members),
                donnings=len(donnings_of(members)),
                units=tuple(sorted({item.unit for item in items if item.unit is not None})),
                unit_not_recorded=any(item.unit is None for item in items),
                lots=tuple(sorted({item.lot for item in items if item.lot is not None})),
                lowest=lowest,
                lowest_record=lowest_record,
                highest=highest,
                highest_record=highest_record,
                over_wearers=over_wearers(device, len(groups) + 1, members, catalogue),
            )
        )
    return tuple(groups)
