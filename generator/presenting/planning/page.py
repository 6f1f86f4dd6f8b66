"""The whole plan of a device, as it is read on a terminal."""

from __future__ import annotations

from generator.model.evidence_result import CalibrationOnDay
from generator.model.plan_result import Plan, PlannedInstrument
from generator.presenting.context import Context
from generator.presenting.planning.session_words import ORDER, session_views
from generator.presenting.planning.size_words import ASSUMPTIONS
from generator.presenting.planning.statement_words import statement_groups
from generator.presenting.planning.views import PlanView
from generator.presenting.standing import withdrawn_text
from generator.presenting.wording import day_text

_LEAD = (
    "What further tests would newly allow to say, and what each statement lacks. It says what the data would carry, "
    "and never that a test is enough or a device good enough."
)
_NOTHING = "No statement of this list lacks a session."


def present_plan(plan: Plan, context: Context) -> PlanView:
    """Return a plan in words."""
    device = context.catalogue.devices[plan.device]
    title = f"{device.name}: what to test next"
    if device.withdrawn is not None:
        lead = (f"The device was {withdrawn_text(device.withdrawn)}; nothing is planned for it.",)
        return PlanView(title, lead, (), "", (), (), (), None)
    sessions = session_views(plan, context)
    tested = context.catalogue.standing_tests_of(device.id)
    none = () if tested else ("No test of this device is on record, or none of them stands.",)
    return PlanView(
        title=title,
        lead=(_LEAD, *none, *(() if sessions else (_NOTHING,))),
        sessions=sessions,
        order=ORDER,
        groups=statement_groups(plan, context),
        assumptions=ASSUMPTIONS,
        instruments=(*(_instrument_text(each, context) for each in plan.instruments), *_which_day(plan)),
        day=_day_text(plan),
    )


def _day_text(plan: Plan) -> str | None:
    if plan.day is None or not plan.instruments:
        return None
    return f"Instruments on {day_text(plan.day)}"


def _which_day(plan: Plan) -> tuple[str, ...]:
    if plan.day_named or not plan.instruments:
        return ()
    return ("That is the day of the newest test on record. Name the day that you plan for by `--on`.",)


def _instrument_text(found: PlannedInstrument, context: Context) -> str:
    name = context.catalogue.instruments[found.instrument].name
    if found.due is None:
        return f"{name}: no calibration by that day. Have it calibrated before."
    if found.state is CalibrationOnDay.LAPSED:
        return f"{name}: lapsed, it was due on {day_text(found.due)}. Have it calibrated before."
    return f"{name}: in date, due on {day_text(found.due)}."
