"""Filling in every blank of a draft by the example beside it, and nothing else, gives records without problems."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from generator.contributing.drafting.drafts import blanks_in, drafts_for, write_drafts
from generator.contributing.drafting.on_record import on_record
from generator.contributing.drafting.planning import counts_particles, runs_of, sessions_of
from generator.contributing.drafting.record_of_a_test import forms_for
from generator.loading import load_catalogue, load_reference
from generator.loading.yaml_source import read_yaml
from generator.model.configuration import State
from generator.model.device import DeviceKind
from generator.model.flow_run import BatteryState, FilterState
from generator.model.instrument import InstrumentKind
from generator.model.planned_test import PlannedInstrument, PlannedTest, ReadingsForm
from tests.contributing.drafting.filling_in import fill_in_folder, filled_in, used

PROTOCOLS = load_reference().protocols
FORMS = [(name, form) for name, protocol in PROTOCOLS.items() for form in forms_for(protocol)]


def a_plan(protocol: str | None = "eight-standard-exercises", **changes: Any) -> PlannedTest:
    """Return the plan of a test in which nothing is on record yet."""
    kind = changes.pop("kind", DeviceKind.LOOSE_POWERED_HOOD)
    settings = ("low", "high") if kind.powered else ()
    blowers = ("high", "off") if kind.powered else ()
    sessions = sessions_of(("finch", "heron"), 2, protocol, blowers) if protocol is not None else ()
    counter = protocol is not None and counts_particles(PROTOCOLS[protocol])
    return replace(
        PlannedTest(
            record="new-device-1",
            device="new-device",
            kind=kind,
            settings=settings,
            tester="quill",
            sessions=sessions,
            runs=runs_of(settings, (BatteryState.FRESH, BatteryState.AT_ALARM), (FilterState.NEW,)),
            particle_counter=PlannedInstrument("counter", InstrumentKind.OPTICAL_PARTICLE_COUNTER) if counter else None,
            flow_meter=PlannedInstrument("meter", InstrumentKind.THERMAL_MASS_FLOW_METER) if kind.powered else None,
        ),
        **changes,
    )


def written(plan: PlannedTest, folder: Path) -> Path:
    write_drafts(folder, drafts_for(plan, on_record(folder)))
    return folder


def problems(folder: Path) -> list[str]:
    return [str(problem) for problem in load_catalogue(folder).problems]


def offered_in(folder: Path) -> set[str]:
    """Return the keys that are commented out."""
    text = "".join(path.read_text(encoding="utf-8") for path in folder.rglob("*.yaml"))
    return set(re.findall(r"^ *#([a-z_]+):", text, re.MULTILINE))


@pytest.mark.parametrize(("protocol", "form"), [each for each in FORMS if each[1] is not ReadingsForm.LOG])
def test_under_every_protocol_and_form_of_readings(protocol: str, form: ReadingsForm, tmp_path: Path) -> None:
    folder = written(a_plan(protocol, readings=form), tmp_path)
    fill_in_folder(folder)
    assert problems(folder) == []


@pytest.mark.parametrize("kind", list(DeviceKind))
def test_for_every_kind_of_device(kind: DeviceKind, tmp_path: Path) -> None:
    folder = written(a_plan(kind=kind), tmp_path)
    fill_in_folder(folder)
    assert problems(folder) == []


@pytest.mark.parametrize("kind", list(InstrumentKind))
def test_for_every_kind_of_instrument(kind: InstrumentKind, tmp_path: Path) -> None:
    mine = PlannedInstrument("mine", kind)
    plan = a_plan(flow_meter=mine) if kind.measures_flow else a_plan(particle_counter=mine)
    folder = written(plan, tmp_path)
    fill_in_folder(folder)
    assert problems(folder) == []


def test_of_a_modified_device_and_without_wearers(tmp_path: Path) -> None:
    folder = written(a_plan(None, state=State.MODIFIED), tmp_path)
    fill_in_folder(folder)
    assert problems(folder) == []


def test_a_log_is_the_only_blank_left_where_readings_are_logged(tmp_path: Path) -> None:
    folder = written(a_plan(readings=ReadingsForm.LOG), tmp_path)
    record = folder / "device_tests" / "new-device-1.yaml"
    logs = record.read_text(encoding="utf-8").count("    log:\n") + record.read_text(encoding="utf-8").count(
        "    log:  "
    )
    assert logs == 8  # two wearers, two donnings, the blower high and off
    lines = record.read_text(encoding="utf-8").splitlines()
    for path in folder.rglob("*.yaml"):
        if path != record:
            path.write_text(filled_in(path.read_text(encoding="utf-8")), encoding="utf-8")
    kept = [line if line.startswith("    log:") else None for line in lines]
    done = filled_in("\n".join(lines).replace("    log:", "    log: {}  #")).splitlines()
    record.write_text("\n".join(was or now for was, now in zip(kept, done, strict=True)) + "\n", encoding="utf-8")
    found = load_catalogue(folder).problems
    assert [problem.slug for problem in found] == ["left-blank"] * 8
    assert [problem.path for problem in found] == [f"fit[{place}].log" for place in range(8)]


@pytest.mark.parametrize(
    "keys",
    [
        ("zero_check",),
        ("probe", "aerosol", "hygiene", "notes", "raw_data", "customer"),
        ("deviations", "not_tested", "plan", "condition", "name"),
        ("adverse_event", "size", "meter"),
        ("claims", "approvals_stated", "consumables", "alarms", "powered_exhaust", "protective_settings"),
        ("low_flow_alarm", "drift_per_year", "fitness", "paper"),
    ],
)
def test_what_is_offered_can_be_used(keys: tuple[str, ...], tmp_path: Path) -> None:
    folder = written(a_plan(kind=DeviceKind.TIGHT_POWERED_HALF_FACEPIECE), tmp_path)
    before = offered_in(folder)
    for path in folder.rglob("*.yaml"):
        path.write_text(used(path.read_text(encoding="utf-8"), *keys), encoding="utf-8")
    assert before - offered_in(folder) == set(keys)
    fill_in_folder(folder)
    assert problems(folder) == []


def test_the_loader_and_the_round_trip_library_read_each_draft_the_same(tmp_path: Path) -> None:
    for draft in drafts_for(a_plan(), on_record(tmp_path)):
        source = read_yaml(draft.text.encode(), draft.path)
        assert source.problems == ()
        assert YAML(typ="rt").load(draft.text) == source.data


def test_every_blank_of_a_draft_is_told_by_the_loader(tmp_path: Path) -> None:
    drafts = drafts_for(a_plan(), on_record(tmp_path))
    few = [draft for draft in drafts if not draft.path.startswith("device_tests")]
    folder = written(a_plan(), tmp_path)
    found = load_catalogue(folder).problems
    assert {problem.slug for problem in found if "device_tests" not in problem.file} == {"left-blank"}
    for draft in few:
        of_file = [problem for problem in found if problem.file == str(folder / draft.path)]
        assert len(of_file) == blanks_in(draft) > 0, draft.path
