"""What pages say of noise, words understood, mass, sight, fogging and money."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.command_line.plain_text import section_lines
from generator.model.device_test import DeviceTest
from generator.presenting.burden_words import cost_note, dose_sentence, noise_sentence, setting_words
from generator.presenting.views import Cell, Table, TopicSection
from tests.presenting.small_sites import a_whole_catalogue, device_page, record_page, shown, texts_of
from tests.scoring.builders import NONE, Data, a_device, a_run, a_test, score_one
from tests.scoring.burden_builders import a_part, a_sound, a_speech_test, a_use
from tests.scoring.test_burden_topic import HOOD, a_criterion

THIN = "\N{NARROW NO-BREAK SPACE}"
PRICED: Data = {"price": "189.00 EUR", "mass": "400 g"}


def a_burdened_test(name: str = "test", **parts: Any) -> DeviceTest:
    return a_test(id=name, burden=parts)


def everything(**parts: Any) -> DeviceTest:
    return a_burdened_test(
        **{
            "noise": [a_sound("86 dB(A)", "58.3 dB(A)"), a_sound("60 dB(A)", NONE, id="ear-low", setting="low")],
            "hours_a_day": "5 h",
            "surroundings": "84 dB(A)",
            "masses": [a_part("236 g"), a_part("174 g", "shoulders", "blower")],
            "speech": [a_speech_test(), a_speech_test(252, id="words-off", setting="off")],
            "field_of_view": {"effective": "81 %", "overlapped": NONE, "how": "a lamp on a dome"},
            "fogging": [{"setting": "low", "conditions": "12 degC", "seen": "a little fog"}],
            "use": a_use(),
        }
        | parts
    )


def of_record(test: DeviceTest, **device: Any) -> TopicSection:
    page = record_page(test, device=a_device(HOOD, **(PRICED | device)))
    return next(section for section in page.sections if section.topic == "burden")


def table(section: TopicSection, name: str) -> Table:
    return next(each for each in section.tables if each.id == f"burden-{name}")


def row(shown_table: Table, first: str) -> dict[str, Cell]:
    """Return the cells of a row by the heads of their columns."""
    (found,) = (each for each in shown_table.rows if each.cells[0].text == first)
    return {column.head: cell for column, cell in zip(shown_table.columns, found.cells, strict=True)}


@pytest.mark.parametrize(
    ("settings", "loudest", "level", "text"),
    [
        (0, None, None, "How loud the device itself is at the ear could not be told from the background."),
        (1, "high", "71.0 dB(A)", "At high the device alone makes 71.0 dB(A) at the ear."),
        (
            2,
            "high",
            "71.0 dB(A)",
            "At the loudest setting measured, high, the device alone makes 71.0 dB(A) at the ear.",
        ),
    ],
)
def test_noise_sentence(settings: int, loudest: str | None, level: str | None, text: str) -> None:
    assert noise_sentence(settings, loudest, level) == text


RULE = "The dose follows the rule for noise at work in the United States, 29 CFR 1910.95"
OF_WEARING = "It is of the hours of wearing only: noise in the hours without the device comes on top."


@pytest.mark.parametrize(
    ("scored", "of", "text"),
    [
        (2, 2, f"{RULE}. {OF_WEARING}"),
        (1, 2, f"{RULE}; levels below 80{THIN}dB(A) are not in its table. {OF_WEARING}"),
        (0, 2, f"No noise dose is given: the table of that rule in the United States begins at 80{THIN}dB(A)."),
    ],
)
def test_dose_sentence(scored: int, of: int, text: str) -> None:
    assert dose_sentence(scored, of) == text


@pytest.mark.parametrize(
    ("setting", "text"), [("high", "high"), ("off", "blower off"), ("none", "no blower"), ("s" * 50, "s" * 39 + "…")]
)
def test_setting_words(setting: str, text: str) -> None:
    assert setting_words(setting) == text


@pytest.mark.parametrize(
    ("missing", "text"),
    [
        ((), "all of these"),
        (("the device",), "without the device: not on record"),
        (("the device", "filter pad"), "without the device and filter pad: not on record"),
    ],
)
def test_cost_note(missing: tuple[str, ...], text: str) -> None:
    assert cost_note(missing) == text


def test_every_figure_stands_once_on_its_record_with_its_working() -> None:
    test = everything()
    section = of_record(test)
    catalogue = a_whole_catalogue(test, device=a_device(HOOD, **PRICED))
    keys = [figure.key for figure in score_one(test, catalogue).topics["burden"].figures]
    identities = [cell.id for each in section.tables for line in each.rows for cell in line.cells if cell.id]
    assert sorted(identities) == sorted(keys)
    with_value = {cell.id for each in section.tables for line in each.rows for cell in line.cells if cell.href}
    assert {view.figure for view in section.workings} == with_value
    assert [each.id for each in section.tables] == [
        f"burden-{name}" for name in ("noise", "speech", "masses", "sight", "fogging", "cost")
    ]


def test_a_noise_row() -> None:
    noise = table(of_record(everything()), "noise")
    assert noise.caption == "Sound at the ear: at the ear"
    loud = row(noise, "High")
    assert (loud["Blower on"].text, loud["Blower off"].text) == (f"86{THIN}dB(A)", f"58.3{THIN}dB(A)")
    assert loud["With surroundings"].note == f"84{THIN}dB(A) around"
    assert loud["Dose of a day"].note == f"in 5{THIN}h"
    low = row(noise, "Low")
    assert (low["Blower off"].text, low["Blower off"].note) == ("not recorded", NONE["not_recorded"])
    assert (low["Device alone"].text, low["Device alone"].note) == ("not scored", "the background was not recorded")
    assert low["Same dose in eight hours"].text == "no dose"
    compared = row(noise, "For comparison: EN 12941")
    assert (compared["Device alone"].text, compared["Setting"].note) == (
        f"at most 75{THIN}dB(A)",
        "powered hoods; from memory, not seen",
    )
    assert {line.id for line in noise.rows} == {"burden.ear-high", "burden.ear-low", None}


def test_columns_that_nothing_stands_in_are_left_out() -> None:
    bare = table(of_record(a_burdened_test(noise=[a_sound()])), "noise")
    assert [column.head for column in bare.columns] == ["Setting", "Device alone", "Blower on", "Blower off"]
    apart = [a_sound(), a_sound(id="b", where="behind the head")]
    notes = [line.cells[0].note for line in table(of_record(a_burdened_test(noise=apart)), "noise").rows[:2]]
    assert notes == ["at the ear", "behind the head"]


def test_a_level_never_seems_to_lie_on_the_other_side_of_its_landmark() -> None:
    noise = table(of_record(a_burdened_test(noise=[a_sound("80.04 dB(A)", "0 dB(A)")])), "noise")
    assert row(noise, "High")["Device alone"].text == f"80.04{THIN}dB(A)"


def test_a_row_of_words() -> None:
    words = row(table(of_record(everything()), "speech"), "High")
    assert words["Setting"].note == "word lists; listeners: 3, talkers: 2; 6 to choose from"
    assert (words["Right with it"].text, words["Right without"].text) == ("171 of 300", "288 of 300")
    assert words["Share understood"].text == f"51{THIN}%"
    assert words["Share understood"].note == f"95{THIN}% interval 43 to 59{THIN}%"


def test_rows_of_masses_and_money() -> None:
    section = of_record(everything(), consumables=[{"item": "filter pad", "price": "12.50 EUR", "lasts": NONE}])
    masses = table(section, "masses")
    assert row(masses, "Hood")["Part"].note == "on the head"
    assert row(masses, "All parts")["Mass"].text == f"410{THIN}g"
    assert row(masses, "Of that on the head")["Mass"].text == f"58{THIN}%"
    assert row(masses, "What the wearer carries, by the device's own record")["Mass"].text == f"400{THIN}g"
    assert row(masses, "For comparison: EN 12941, on the head")["Mass"].text == f"at most 1.5{THIN}kg"
    cost = table(section, "cost")
    assert row(cost, "Filter pad")["Lasts"].text == "not recorded"
    hour = row(cost, "An hour of use")
    assert (hour["Price"].text, hour["Lasts"].text) == (
        f"at least 0.787{THIN}EUR/h",
        "without filter pad: not on record",
    )
    assert hour["Item"].note == f"a volunteer, 240{THIN}h in all: two years of weekends"


def test_the_same_stands_in_a_terminal_without_empty_cells() -> None:
    lines = section_lines(of_record(everything()))
    assert "  Device alone: at most 80\N{NARROW NO-BREAK SPACE}dB(A)" in lines
    assert [line for line in lines if line.endswith(":") and line.startswith("  ")] == []


def test_a_device_names_its_records_where_there_are_several() -> None:
    tests = [everything(), everything().model_copy(update={"id": "second"})]
    page = device_page(*tests, device=a_device(HOOD, **PRICED))
    (section,) = (each for each in page.sections if each.topic == "burden")
    for each in section.tables:
        assert each.columns[-1].head == "Record"
    identities = [cell.id for each in section.tables for line in each.rows for cell in line.cells if cell.id]
    assert len(identities) == len(set(identities))
    assert {name.partition("-burden.")[0] for name in identities} == {"test", "second"}
    named = [line.cells[-1].text for line in table(section, "noise").rows]
    # Both were done on one day: then their ids decide.
    assert named == ["second", "second", "test", "test", "", ""]
    assert section.answer == ()


def test_a_device_of_which_nothing_is_on_record_has_no_such_section() -> None:
    page = device_page(a_test(flow=[a_run([170.0, 171.0])]), device=a_device(HOOD))
    assert [section.topic for section in page.sections if section.topic == "burden"] == []


def test_a_device_without_blower() -> None:
    test = a_burdened_test(masses=[a_part("10 g")], speech=[a_speech_test(setting="none")])
    page = record_page(test, device=a_device("filtering_facepiece"))
    (section,) = (each for each in page.sections if each.topic == "burden")
    said = " ".join(texts_of(section))
    assert "For comparison" not in said.replace("Lines for comparison", "")
    assert "No blower" in said
    assert "by the device's own record" not in said


def test_a_verdict_of_the_reviewers_own_requirement() -> None:
    own = {each.id: each for each in (a_criterion("noise", 75), a_criterion("speech", 0.7))}
    catalogue = a_whole_catalogue(everything(), device=a_device(HOOD, **PRICED))
    site = shown(replace(catalogue, criteria={**catalogue.criteria, **own}))
    for page, before in ((site.records[0], ""), (site.devices[0], "test-")):
        (section,) = (each for each in page.sections if each.topic == "burden")
        noise = row(table(section, "noise"), "High")["Against the requirement"]
        assert (noise.text, noise.id) == ("Undecided", f"{before}burden.ear-high.verdict")
        words = row(table(section, "speech"), "High")["Against the requirement"]
        assert (words.text, words.note) == ("Does not meet the requirement", "the whole interval lies below the limit")
        assert words.href == "requirements.html#own-speech-700"


def test_numbers_of_a_working_lead_to_where_they_stand() -> None:
    views = {view.figure: view for view in of_record(everything()).workings}
    level, dose, hour = (
        {item.where: item.href for item in views[f"burden.{name}"].value.inputs}
        for name in ("ear-high.level", "ear-high.dose", "use.an_hour")
    )
    assert level["burden.noise[ear-high].background"] == "records/test.html#burden.ear-high"
    assert dose["burden.hours_a_day"] == "records/test.html#burden"
    assert hour["devices/device: price"] == "devices/device.html#device"
