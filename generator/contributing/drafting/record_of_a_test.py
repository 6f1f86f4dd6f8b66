"""The draft of a test record: its sessions, exercises and flow runs with their blanks."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as Known
from dataclasses import replace
from typing import Any

from generator.contributing.drafting.blanks import BLANK, Offered, Wording, comment_of, lines_of
from generator.contributing.drafting.commented_yaml import Line, Mapping, yaml_text
from generator.contributing.drafting.examples import EXAMPLES
from generator.loading.asked import asked
from generator.model.air import Aerosol
from generator.model.configuration import State
from generator.model.device import Fitting
from generator.model.device_test import DeviceTest
from generator.model.flow_run import FlowRun
from generator.model.planned_test import PlannedRun, PlannedSession, PlannedTest, ReadingsForm
from generator.model.reference import AmbientRule, Principle, Protocol
from generator.model.session import ExerciseReading, FitSession

HOW_TO_FILL_IN = (
    "What is empty is to be filled in; the comment beside it or above it says what goes there.",
    "A line that begins with `#` and a word, such as `#probe:`, is for those who need it: take the `#` away.",
    "What is not known is never 0 and never made up: the comments say where `{not_recorded: <reason>}` may stand.",
    "No name of a person goes into a record: wearers and testers are known by pseudonyms.",
    "`inward check` says what is still missing, and when nothing is.",
)
"""What stands at the top of every draft."""

_READING = {
    ReadingsForm.COUNTS: "in_mask_count",
    ReadingsForm.CONCENTRATIONS: "in_mask",
    ReadingsForm.FACTORS: "fit_factor",
}
_AROUND = {
    AmbientRule.AROUND_EACH_EXERCISE: ("ambient_before", "ambient_after"),
    AmbientRule.DURING_EACH_EXERCISE: ("ambient_during",),
}


def forms_for(protocol: Protocol) -> tuple[ReadingsForm, ...]:
    """Return the forms that readings under a protocol can take."""
    return (ReadingsForm.FACTORS,) if protocol.ambient is AmbientRule.NONE else tuple(ReadingsForm)


def draft_of_test(plan: PlannedTest, protocols: Known[str, Protocol], opening: tuple[str, ...] = ()) -> str:
    """Return the draft of a test record.

    Parameters
    ----------
    plan : PlannedTest
        What is known of the test.
    protocols : mapping of str to Protocol
        The protocols of its sessions, by id.
    opening : tuple of str, optional
        Comment lines for programs, above all others.
    """
    used = [protocols[name] for name in plan.protocols]
    sprayed = any(protocol.generated_aerosol for protocol in used)
    particles = any(protocol.principle is Principle.PARTICLES for protocol in used)
    modified = plan.state is State.MODIFIED
    known: dict[str, Any] = {
        "id": plan.record,
        "version": "1",
        "device": plan.device,
        "configuration": {
            "state": plan.state.value,
            "name": Offered(),
            **({"changes": BLANK, "based_on": Offered(), "costs": Offered()} if modified else {}),
        },
        "sample": {"plan": Offered(), "condition": Offered()},
        "tester": plan.tester,
        "customer": Offered(),
        "instruments": _instruments(plan),
        **({"aerosol": BLANK if sprayed else Offered(), "probe": Offered()} if particles else {}),
        **dict.fromkeys(("deviations", "not_tested", "raw_data", "hygiene", "notes"), Offered()),
    }
    if plan.sessions:
        first, *others = plan.sessions
        known["fit"] = (
            Mapping(_session(plan, first, protocols[first.protocol])),
            *(Mapping(_further(_session(plan, each, protocols[each.protocol], brief=True))) for each in others),
        )
    if plan.runs:
        first_run, *further = plan.runs
        known["flow"] = (Mapping(_run(first_run)), *(Mapping(_further(_run(run, brief=True))) for run in further))
    wording = Wording(
        above={
            "fit": (
                "One entry for each time a session was begun, aborted and voided ones too. For a further attempt copy "
                "an entry, give it an id of its own, and count `donning` on where the device was put on again.",
            ),
            "flow": ("One entry for each state that was measured; take out those that were not.",),
        },
        choices={"aerosol": tuple(each.value for each in Aerosol if not (sprayed and each is Aerosol.ROOM_AIR))},
    )
    lines = lines_of(DeviceTest, known, wording)
    return yaml_text(lines, (*opening, "Draft of a test record.", *HOW_TO_FILL_IN))


def _instruments(plan: PlannedTest) -> dict[str, str]:
    used = {"particle_counter": plan.particle_counter, "flow_meter": plan.flow_meter}
    return {role: instrument.id for role, instrument in used.items() if instrument is not None}


def _further(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Return an entry after the first, which has explained its keys and shown those that may be used."""
    return tuple(
        replace(line, above=line.above if line.value is BLANK and not line.comment else ())
        for line in lines
        if not line.optional
    )


def _session(plan: PlannedTest, session: PlannedSession, protocol: Protocol, brief: bool = False) -> tuple[Line, ...]:
    by_counter = plan.readings in (ReadingsForm.COUNTS, ReadingsForm.CONCENTRATIONS)
    known: dict[str, Any] = {
        "id": session.id,
        "wearer": session.wearer,
        "donning": session.donning,
        "protocol": protocol.id,
        **({"blower": session.blower} if session.blower is not None else {}),
        **dict.fromkeys(("in_mask_time", "ambient_time") if by_counter else (), BLANK),
    }
    if by_counter and protocol.ambient is AmbientRule.FIRST_AND_LAST:
        known |= {"ambient_before": BLANK, "ambient_after": BLANK}
    known |= dict.fromkeys(("reason", "adverse_event"), Offered())
    if protocol.principle is Principle.PARTICLES:
        known["zero_check"] = Offered({"count": BLANK, "time": BLANK})
    if plan.kind.fitting is not Fitting.LOOSE:
        known["size"] = Offered()
    if plan.readings is ReadingsForm.LOG:
        known["log"] = BLANK
        return lines_of(FitSession, known, Wording({"log": (_LOG,)}, brief=brief))
    keys = _keys_of_exercises(plan.readings, protocol)
    known["exercises"] = tuple(
        Mapping((Line("exercise", exercise.id), *(Line(key) for key in keys)), in_one_line=True)
        for exercise in protocol.exercises
    )
    above = {"exercises": tuple(_about_exercises(plan.readings, protocol)), **_TIMES.get(plan.readings, {})}
    return lines_of(FitSession, known, Wording(above, brief=brief))


_TIMES = {
    ReadingsForm.CONCENTRATIONS: {"in_mask_time": ("Take the two times out where the instrument does not tell them.",)},
}
_LOG = "`inward take-in` writes this part, together with the log below records/logs/."


def _keys_of_exercises(form: ReadingsForm, protocol: Protocol) -> tuple[str, ...]:
    around = () if form is ReadingsForm.FACTORS else _AROUND.get(protocol.ambient, ())
    before, after = around[:1], around[1:]
    return (*before, _READING[form], *after)


def _about_exercises(form: ReadingsForm, protocol: Protocol) -> Iterator[str]:
    """Say what goes between the braces of an exercise, key by key."""
    for key in _keys_of_exercises(form, protocol):
        what = asked(ExerciseReading, key)
        yield f"{key}: {comment_of(what, EXAMPLES.get((ExerciseReading, key), what.example), ())}"
    if form is ReadingsForm.FACTORS:
        yield "Where the instrument showed only that it was more than a number, write `fit_factor_at_least` instead."
    elif protocol.ambient is AmbientRule.AROUND_EACH_EXERCISE:
        yield "A sample between two exercises stands after the one and before the next."


def _run(run: PlannedRun, brief: bool = False) -> tuple[Line, ...]:
    known = {
        "id": run.id,
        "setting": run.setting,
        "battery": run.battery.value,
        "filter": run.filter.value,
        "readings": {"unit": BLANK, "values": BLANK},
        "meter": Offered({"pressure_drop": BLANK, "drop_uncertainty": BLANK}),
    }
    return lines_of(FlowRun, known, Wording(brief=brief))
