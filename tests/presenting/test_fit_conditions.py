"""How fit sessions were done, as pages say it, and what a sample inside the mask cannot show."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.result import Finding
from generator.presenting.digits import THIN
from generator.presenting.finding_details import finding_detail
from generator.presenting.page_views import RecordPage
from generator.presenting.views import Fact
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, record_page, shown
from tests.scoring.builders import NONE, Data, a_device, a_protocol, a_run, a_session, a_test, readings

VOIDED: Data = {
    "id": "b",
    "donning": 2,
    "outcome": "voided",
    "reason": "a strap slipped",
    "adjusted": "the upper strap",
}


def by_id(facts: tuple[Fact, ...]) -> dict[str | None, str]:
    return {fact.id: fact.text for fact in facts if fact.id is not None and not fact.id.endswith(".made-from")}


@pytest.mark.parametrize(
    ("parts", "aerosol", "probe"),
    [
        ({"probe": None}, "particles of the room's own air", "not recorded"),
        ({"probe": "under the nose", "aerosol": "salt"}, "salt particles that were sprayed", "under the nose"),
        ({"probe": "at the chin", "aerosol": "oil"}, "oil droplets that were sprayed", "at the chin"),
    ],
)
def test_a_record_says_what_was_counted_and_where(parts: Data, aerosol: str, probe: str) -> None:
    facts = by_id(record_page(a_test([given(10.0)], **parts)).facts)
    assert (facts["aerosol"], facts["probe"]) == (aerosol, probe)


def test_a_record_without_fit_sessions_says_nothing_of_them() -> None:
    page = record_page(a_test(flow=[a_run([200.0, 201.0])]), device=a_device("loose_powered_hood"))
    assert {"aerosol", "probe"} & set(by_id(page.facts)) == set()


@pytest.mark.parametrize(
    ("check", "text"),
    [
        ({"count": 2, "time": "60 s"}, f"2 counted in 60{THIN}s of air without particles"),
        ({"concentration": "0.02 /cm3", "time": "1 min"}, f"0.02{THIN}/cm³ in 1{THIN}min of air without particles"),
    ],
)
def test_a_session_says_what_its_zero_check_read(check: Data, text: str) -> None:
    page = record_page(a_test([a_session(readings("3 /cm3", "4 /cm3", "5 /cm3"), zero_check=check)]))
    (block,) = page.sections[0].blocks
    assert by_id(block.facts) == {"fit.am.zero-check": text}


def test_what_was_adjusted_or_left_out_stands_with_the_session_and_in_the_register() -> None:
    part = given(10.0, id="c", donning=3, partial="the wearer had to leave")
    page = record_page(a_test([given(10.0), a_session(**VOIDED), part]))
    blocks = {block.anchor: by_id(block.facts) for block in page.sections[0].blocks}
    assert blocks == {
        "fit.am": {},
        "fit.b": {"fit.b.adjusted": "the upper strap"},
        "fit.c": {"fit.c.partial": "the wearer had to leave"},
    }
    (register,) = page.sections[0].tables
    assert [row.cells[-1].note for row in register.rows] == [None, "Adjusted: the upper strap", None]
    of_device = device_page(a_test([given(10.0), a_session(**VOIDED | {"adverse_event": "a bruise"})]))
    notes = [row.cells[-1].note for row in of_device.sections[0].tables[0].rows]
    assert notes == [None, "Adjusted: the upper strap; Adverse event: a bruise"]


def found(page: RecordPage, heading: str) -> str:
    (text,) = (text for text in page.findings if heading in text)
    return text


def the_page(fit: list[Data], protocol: Any = None, **parts: Any) -> RecordPage:
    return record_page(a_test(fit, **parts), **({"protocol": protocol} if protocol is not None else {}))


def test_findings_say_how_many_sessions_and_by_how_much() -> None:
    # source: 3000 and 3400 differ by 400 of their mean of 3200, 12.5 % by hand
    drift = readings("30 /cm3", "20 /cm3", "20.5 /cm3")
    drift[1]["ambient_after"] = "3400 /cm3"
    page = the_page([a_session(drift), given(10.0, id="b", donning=2)])
    assert found(page, "changed while") == (
        f"fit[am]: The air in the room changed while an exercise was measured (by 12.5{THIN}% at most; more than "
        f"10{THIN}% is noted)."
    )
    assert found(page, "clean air") == (
        "fit: For at least one session it was not recorded what the counter reads in clean air (1 of 1 sessions)."
    )
    alike = the_page([a_session(readings(900, 900, 900))])
    assert found(alike, "to the last digit").endswith("last digit (3 of 3 exercises: standing, talking, bending).")
    short = the_page([a_session(readings("30 /cm3", "20 /cm3", "20.5 /cm3"), in_mask_time="10 s")])
    assert found(short, "not sampled for the time").endswith("gives them (standing, talking, bending).")
    voided = the_page([given(10.0), a_session(**VOIDED)])
    assert found(voided, "in the middle").endswith("which voids it (1 of 2 sessions).")


def test_a_change_just_above_the_share_is_not_shown_as_the_share() -> None:
    facts: dict[str, str | int | float] = {"largest_change": 0.10001, "noted_above": 0.1}
    finding = Finding(rule="ambient-changed", where="fit[a]", facts=facts)
    # source: rounded up to three digits
    assert finding_detail(finding) == f"by 10.1{THIN}% at most; more than 10{THIN}% is noted"


def test_a_finding_that_says_all_has_no_detail() -> None:
    air = {"temperature": "20 degC", "pressure": "101325 Pa", "humidity": NONE}
    page = the_page([given(10.0)], a_protocol(generated_aerosol=True), aerosol="salt", environment=air, probe=None)
    assert set(page.findings) == {
        "environment.humidity: Salt particles were counted, and nobody recorded how damp the air was.",
        "probe: Where inside the device the air was sampled is not on record.",
    }


def test_mild_cautions_stand_last() -> None:
    page = record_page(
        a_test([a_session(readings("3000 /cm3", "20 /cm3", "20.5 /cm3"))], probe=None, sample=LENT),
        device=a_device(home_built=True),
    )
    shown_first = [caution.id for caution in (*page.cautions.open, *page.cautions.folded)]
    # source: the severities in generator/reference/cautions/; two of the worst rank, then mild ones by name
    assert shown_first[0] == "in-mask-not-below-ambient"
    assert shown_first[-2:] == ["probe-not-recorded", "zero-check-missing"]
    assert len(page.cautions.open) == 5


LENT: Data = {"obtained": "lent", "source": "the maker", "lot": NONE, "unit": NONE}


def test_the_methods_page_says_what_a_sample_inside_cannot_show() -> None:
    index = shown(a_whole_catalogue()).methods_index
    sizes = {item.id: fact.text for item in index.biases for fact in item.facts}
    # source: NIOSH, working draft of 15 September 1992, printed page 56: 100 %, 25 %, 300 to 500 %
    assert sizes == {
        "bias-probe-depth": "up to 100 % too high without a probe that reaches deep",
        "bias-lung-retention": "up to 25 % too high without a correction",
        "bias-wall-losses": "300 % to 500 % too high without a correction",
        "bias-deposition": "not known",
    }
    known = [fact.note for item in index.biases for fact in item.facts]
    assert [note for note in known if note is None or "(" not in note] == []
    assert index.beyond.href == "methods/index.html#inside-the-mask"


def test_the_fit_section_of_a_device_leads_there() -> None:
    index = shown(a_whole_catalogue()).methods_index
    worn = device_page(a_test([given(10.0)]))
    assert worn.sections[0].beyond == index.beyond
    never = device_page(device=a_device("loose_powered_hood"))
    assert all(section.beyond is None for section in never.sections)
