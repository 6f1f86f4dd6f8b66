"""Drafts: their exact texts, and their way into the records folder."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.contributing.drafting.commented_yaml import Line, Listed, Mapping, yaml_text
from generator.contributing.drafting.drafts import Draft, drafts_for, write_drafts
from generator.contributing.drafting.on_record import on_record
from generator.contributing.drafting.other_records import draft_of_tester, draft_of_wearer, free_letters
from generator.contributing.drafting.planning import an_id, choice, runs_of, sessions_of, several
from generator.contributing.drafting.record_of_a_test import HOW_TO_FILL_IN
from generator.errors import WrongUsage
from generator.loading.yaml_source import read_yaml
from generator.model.device import DeviceKind
from generator.model.flow_run import BatteryState, FilterState
from generator.model.planned_test import ReadingsForm
from tests.contributing.drafting.test_filled_in import a_plan
from tests.loading.example_records import change, good_copy

SESSION = """\
  - id: s2
    wearer: finch
    donning: 1
    protocol: four-exercises-elastomeric
    blower: off
    filter:           # such as `new`
    outcome:          # one of `completed`, `aborted`, `voided`
    in_mask_time:     # such as `40 s`
    ambient_time:     # such as `15 s`
    ambient_before:   # such as `2400 /cm3`
    ambient_after:    # such as `2400 /cm3`
    exercises:
      - {exercise: bending, in_mask_count: }
      - {exercise: jogging, in_mask_count: }
      - {exercise: head-side-to-side, in_mask_count: }
      - {exercise: head-up-and-down, in_mask_count: }
"""
AROUND = """\
    # ambient_before: The ambient concentration before it, where the protocol takes one around each
    # exercise, such as `2400 /cm3`
    # in_mask: The mean concentration inside, such as `5.64 /cm3`
    # ambient_after: The ambient concentration after it, such as `2400 /cm3`
    # A sample between two exercises stands after the one and before the next.
    exercises:
      - {exercise: walking, ambient_before: , in_mask: , ambient_after: }
"""
LOGGED = """\
    # `inward take-in` writes this part, together with the log below records/logs/.
    log:       # The raw log, cut by its marks or by a timetable
"""


def of_test(plan_changes: dict[str, object], protocol: str, folder: Path) -> str:
    return drafts_for(a_plan(protocol, **plan_changes), on_record(folder))[0].text


def test_a_session_has_its_blanks_and_nothing_else(tmp_path: Path) -> None:
    assert SESSION in of_test({"readings": ReadingsForm.COUNTS}, "four-exercises-elastomeric", tmp_path)


def test_samples_around_each_exercise_are_explained_above_them(tmp_path: Path) -> None:
    assert AROUND in of_test({"readings": ReadingsForm.CONCENTRATIONS}, "five-exercises-inward-leakage", tmp_path)


def test_a_log_is_one_blank(tmp_path: Path) -> None:
    text = of_test({"readings": ReadingsForm.LOG}, "four-exercises-elastomeric", tmp_path)
    assert LOGGED in text
    assert text.count("    # `inward take-in` writes this part") == 8  # as many as there are sessions
    assert "exercises:" not in text


def test_of_a_sprayed_aerosol_it_is_asked_which(tmp_path: Path) -> None:
    text = of_test({}, "generated-aerosol-eight-exercises", tmp_path)
    assert re.search(r"One of\n?#? ?`salt`, `oil`\naerosol:\n", text)
    assert "room_air" not in text


def test_nothing_is_made_up(tmp_path: Path) -> None:
    # Every value of a draft is an id, a version, a name of the protocol or device, or what was answered.
    data = read_yaml(of_test({}, "four-exercises-elastomeric", tmp_path).encode(), "draft").data
    assert data.pop("fit")[0]["exercises"][0] == {"exercise": "bending", "in_mask": None}
    assert data.pop("flow")[0] == {
        "id": "low-fresh-new",
        "setting": "low",
        "battery": "fresh",
        "filter": "new",
        "where": None,
        "readings": {"unit": None, "values": None},
    }
    assert data == {
        "id": "new-device-1",
        "version": "1",
        "device": "new-device",
        "configuration": {"state": "as_supplied", "description": None},
        "sample": {"obtained": None, "source": None, "lot": None, "unit": None},
        "tester": "quill",
        "dates": {"received": None, "performed": None, "issued": None},
        "place": None,
        "environment": {"temperature": None, "pressure": None, "humidity": None},
        "instruments": {"particle_counter": "counter", "flow_meter": "meter"},
    }


def test_a_tester_and_a_wearer_word_for_word() -> None:
    opening = [line for line in draft_of_tester("quill").splitlines() if line.startswith("# ")]
    assert opening[0] == "# Draft of the record of a tester."
    assert " ".join(line[2:] for line in opening[1:]).startswith(" ".join(HOW_TO_FILL_IN))
    assert draft_of_tester("quill").endswith(
        """\
id: quill
version: "1"
pseudonym:    # The name that readers see, such as `Lamplighter`
# The tester's interests that a reader must know of, such as
# `Volunteer of the library; has no part in any maker.`
disclosure:
"""
    )
    wearer = draft_of_wearer("finch", "AB")
    assert "never a name.\ncatalogue_letter: AB\n# The signed consent itself is kept elsewhere" in wearer


def test_a_new_wearer_gets_a_letter_that_is_free(tmp_path: Path) -> None:
    # The example records have the letters A and B; a draft in work counts too.
    folder = good_copy(tmp_path)
    change(folder, "wearers/finch.yaml", "facial_hair:", "facial_hair: # ")
    known = on_record(folder)
    assert known.letters == {"A", "B"}
    plan = a_plan(sessions=sessions_of(("finch", "new-one", "new-two"), 1, "eight-standard-exercises", ("high",)))
    texts = {draft.path: draft.text for draft in drafts_for(plan, known)}
    assert "wearers/finch.yaml" not in texts
    assert "\ncatalogue_letter: C\n" in texts["wearers/new-one.yaml"]
    assert "\ncatalogue_letter: D\n" in texts["wearers/new-two.yaml"]


def test_letters_go_on_with_two() -> None:
    letters = free_letters({*"ABCDEFGHIJKLMNOPQRSTUVWXY", "AA"})
    assert [next(letters) for _ in range(3)] == ["Z", "AB", "AC"]


def test_what_is_on_record_gets_no_draft(tmp_path: Path) -> None:
    folder = good_copy(tmp_path)
    plan = a_plan(device="hood", tester="quill", sessions=())
    assert [draft.path for draft in drafts_for(plan, on_record(folder))] == [
        "device_tests/new-device-1.yaml",
    ]


def test_a_line_for_editors_stands_first(tmp_path: Path) -> None:
    texts = {draft.path: draft.text for draft in drafts_for(a_plan(), on_record(tmp_path))}
    line = "# yaml-language-server: $schema=../.schemas/tester.schema.json\n# Draft of the record of a tester.\n"
    assert texts["testers/quill.yaml"].startswith(line)
    line = "# yaml-language-server: $schema=.schemas/publication.schema.json\n"
    assert texts["publication.yaml"].startswith(line)


def test_a_new_folder_gets_the_schemas_that_its_drafts_name(tmp_path: Path) -> None:
    for path in write_drafts(tmp_path, drafts_for(a_plan(), on_record(tmp_path))):
        named = path.read_text().splitlines()[0].partition("$schema=")[2]
        assert (path.parent / named).is_file()


def test_nothing_is_written_where_one_name_is_taken(tmp_path: Path) -> None:
    (tmp_path / "testers").mkdir()
    (tmp_path / "testers" / "quill.yaml").write_text("mine\n")
    pair = [Draft("devices/hood.yaml", "new\n"), Draft("testers/quill.yaml", "new\n")]
    with pytest.raises(WrongUsage, match=r"quill\.yaml` already, expected a name that is free"):
        write_drafts(tmp_path, pair)
    assert (tmp_path / "testers" / "quill.yaml").read_text() == "mine\n"
    assert not (tmp_path / "devices").exists()


def test_a_failure_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(old: object, new: object) -> None:
        raise FileExistsError(17, "File exists")

    monkeypatch.setattr("os.link", refused)
    with pytest.raises(WrongUsage, match=r"hood\.yaml` cannot be written: File exists"):
        write_drafts(tmp_path, [Draft("devices/hood.yaml", "new\n")])
    assert list((tmp_path / "devices").iterdir()) == []


def test_a_file_system_without_second_names_is_written_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def not_permitted(old: object, new: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("os.link", not_permitted)
    (path,) = write_drafts(tmp_path, [Draft("devices/hood.yaml", "new\n")])
    assert path.read_text() == "new\n"
    assert [each.name for each in path.parent.iterdir()] == ["hood.yaml"]


def test_sessions_go_through_wearers_donnings_and_states() -> None:
    made = sessions_of(("finch", "heron"), 2, "p", ("high", "off"))
    assert [(each.id, each.wearer, each.donning, each.blower) for each in made] == [
        ("s1", "finch", 1, "high"),
        ("s2", "finch", 1, "off"),
        ("s3", "finch", 2, "high"),
        ("s4", "finch", 2, "off"),
        ("s5", "heron", 1, "high"),
        ("s6", "heron", 1, "off"),
        ("s7", "heron", 2, "high"),
        ("s8", "heron", 2, "off"),
    ]


def test_runs_have_names_whatever_the_settings_are_called() -> None:
    made = runs_of(("Stufe 1", "stufe-1", "高", "x" * 60), (BatteryState.AT_ALARM,), (FilterState.LOADED,))
    assert [each.id for each in made] == [
        "stufe-1-at-alarm-loaded",
        "setting-2-at-alarm-loaded",
        "setting-3-at-alarm-loaded",
        f"{'x' * 20}-at-alarm-loaded",
    ]
    assert [each.setting for each in made] == ["Stufe 1", "stufe-1", "高", "x" * 60]


@pytest.mark.parametrize("word", ["North Hood", "a/../b", "nul", "", "x" * 65])
def test_an_id_can_name_a_file(word: str) -> None:
    with pytest.raises(WrongUsage, match=r"expected an id for a device: lower-case letters, digits and single hyphens"):
        an_id(word, "a device")


def test_words_are_read_as_they_are_meant() -> None:
    assert several(" low,high , low,,") == ("low", "high")
    assert choice("Loose powered-hood", DeviceKind, "a kind") is DeviceKind.LOOSE_POWERED_HOOD
    with pytest.raises(WrongUsage, match=r"^found `freshe`, expected a state: one of .* Did you mean `fresh`\?$"):
        choice("freshe", BatteryState, "a state")


def test_texts_that_mean_something_in_yaml_are_quoted() -> None:
    # Whatever a setting is called on a device, it is read back as that text.
    for text in (
        "off",
        "1",
        "1.5",
        "true",
        "null",
        "~",
        "a: b",
        "x # y",
        "[",
        "{",
        "- a",
        "'",
        '"',
        "é高",
        "2025-03-14",
    ):
        lines = [Line("a", text), Line("b", Listed((text, "z"))), Line("c", Mapping((Line("d", text),)))]
        source = read_yaml(yaml_text(lines).encode(), "draft")
        assert (source.problems, source.data) == ((), {"a": text, "b": [text, "z"], "c": {"d": text}}), text
