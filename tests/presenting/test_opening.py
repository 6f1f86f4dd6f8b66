"""The last sentence that opens a device's page in every case, how long an opening is, and what corrections say."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.corrections import NO_CORRECTION
from generator.presenting.design_views import Correction
from generator.presenting.device_page import present_device_page
from generator.presenting.digits import THIN
from generator.presenting.views import Link
from tests.presenting.small_sites import NOT_KNOWN, device_page, given
from tests.scoring.builders import Data, a_device, a_run, a_test

LOOSE = "loose_powered_hood"
UNKNOWN = "gases and vapours, other wearers, other days, and what the device does after long use."
WITHDRAWN = {"date": "2025-08-01", "reason": "the wrong unit"}
MODIFIED: Data = {"configuration": {"state": "modified", "description": "with a clip", "changes": ["a clip"]}}


@pytest.mark.parametrize(
    ("test", "device", "last"),
    [
        pytest.param({}, a_device(), NOT_KNOWN, id="nothing else"),
        pytest.param(
            {"blower": "high"},
            a_device(LOOSE),
            f"Not known from these tests: the fit with the blower off, {UNKNOWN}",
            id="worn with the blower running only",
        ),
        pytest.param({"blower": "off"}, a_device(LOOSE), NOT_KNOWN, id="worn with the blower off"),
        pytest.param(
            {},
            a_device(withdrawn=WITHDRAWN),
            f"The device was withdrawn from this catalogue on 1 August 2025; not known from these tests: {UNKNOWN}",
            id="device withdrawn",
        ),
        pytest.param(
            MODIFIED,
            a_device(),
            f"Nothing was measured on the device as supplied; not known from these tests: {UNKNOWN}",
            id="modified only",
        ),
    ],
)
def test_the_last_sentence_says_what_is_left_open(test: Data, device: Any, last: str) -> None:
    parts = dict(test)
    session = given(150.0, **({"blower": parts.pop("blower")} if "blower" in parts else {}))
    answer = device_page(a_test([session], **parts), device=device).answer
    assert answer[-1] == last
    assert len(answer) == (3 if device.kind.powered else 2)


@pytest.mark.parametrize(
    ("tests", "device", "answer"),
    [
        pytest.param(
            (),
            a_device(withdrawn=WITHDRAWN),
            (
                "No test of this device is on record, so that nothing is known of what it delivers.",
                "The device was withdrawn from this catalogue on 1 August 2025.",
            ),
            id="no record, and withdrawn",
        ),
        pytest.param(
            ("one",),
            a_device(),
            ("Its one test record was withdrawn, so that no result of the device counts.",),
            id="one record, withdrawn",
        ),
        pytest.param(
            ("one", "two"),
            a_device(),
            ("All of its two test records were withdrawn, so that no result of the device counts.",),
            id="two records, withdrawn",
        ),
    ],
)
def test_a_device_of_which_no_record_stands(tests: tuple[str, ...], device: Any, answer: tuple[str, ...]) -> None:
    records = [a_test([given(10.0)], id=name, withdrawn=WITHDRAWN) for name in tests]
    assert device_page(*records, device=device).answer == answer


def test_the_worst_of_several_states_and_of_claimed_settings() -> None:
    runs = [a_run([200.0, 201.0, 202.0]), a_run([99.0, 100.0, 101.0], id="low", setting="low")]
    power = {"source": "pack", "energy": "40 Wh", "settings": ["low", "high"], "protective_settings": ["high"]}
    (first, *_) = device_page(a_test(flow=runs), device=a_device(LOOSE, power=power)).answer
    assert first.startswith(
        "In the one state measured at a claimed setting (high, battery fresh, new filter) it delivered "
        f"201{THIN}L/min of air (95 % interval 196 to 206{THIN}L/min): 1.18 times the 170{THIN}L/min that custom"
    )


def test_no_opening_of_the_demo_is_longer_than_three_sentences_of_46_words(demo: Any, scored: Any) -> None:
    out = published(demo)
    context = Context(out, scored)
    for device in out.devices.values():
        answer = present_device_page(device, context).answer
        assert 1 <= len(answer) <= 3, device.id
        # A number and its unit are read as one.
        assert [len(sentence.split(" ")) for sentence in answer if len(sentence.split(" ")) > 46] == [], device.id


def test_corrections_of_device_and_records_stand_in_one_list_newest_first() -> None:
    changed = {"date": "2025-08-05", "reason": "a slip", "changed": "the lot"}
    earlier = [{"figure": "fit.am.overall", "was": "12"}]
    first = a_test([given(10.0)], id="first", amendments=[{**changed, "earlier": earlier}])
    second = a_test([given(10.0)], id="second", withdrawn=WITHDRAWN)
    page = device_page(first, second, device=a_device(amendments=[{**changed, "date": "2025-09-01"}]))
    of_first, of_second = Link("first", "records/first.html"), Link("second", "records/second.html")
    assert page.corrections == (
        Correction("1 September 2025", None, "amended", "The lot. Reason: A slip.", None),
        Correction(
            "5 August 2025",
            of_first,
            "amended",
            "The lot. Reason: A slip.",
            Link("Earlier figures", "records/first.html#amendments"),
        ),
        Correction("1 August 2025", of_second, "withdrawn", "Reason: The wrong unit.", None),
    )
    assert device_page(a_test([given(10.0)])).corrections == ()
    assert NO_CORRECTION.startswith("None: neither what is on record of this device nor any of its test records")
