"""A record as a test report: every point answered from the record, or said not to be recorded.

The points are those of ISO/IEC 17025:2017, 7.8.2.1 a to p and 7.8.6 (seen in secondary sources), restated; the
answers' words are ours: regression only.
"""

from __future__ import annotations

from string import ascii_lowercase
from typing import Any

import pytest

from generator.presenting.page_parts import Report
from tests.presenting.small_sites import given, record_page
from tests.scoring.builders import a_device, a_run, a_test

POINTS = [f"report-{letter}" for letter in ascii_lowercase[: ascii_lowercase.index("p") + 1]]
CONFORMITY = ["report-7.8.6.1", "report-7.8.6.2a", "report-7.8.6.2b", "report-7.8.6.2c"]
NO_STATEMENT = "this report holds no figure against a requirement"
HOOD = a_device("loose_powered_hood")


def report(fit: Any = (), flow: Any = (), **parts: Any) -> Report:
    site = {name: parts.pop(name) for name in ("device", "publication") if name in parts}
    return record_page(a_test(fit or [given(10.0)] if not flow else fit, flow, **parts), **site).report


def answers(fit: Any = (), flow: Any = (), **parts: Any) -> dict[str, str]:
    return {row.id: row.answer for row in report(fit, flow, **parts).rows}


def test_every_point_is_answered_in_order() -> None:
    rows = report().rows
    assert [row.id for row in rows] == POINTS + CONFORMITY
    assert all(row.answer and row.asked for row in rows)
    assert [row.clause for row in rows][:2] == ["7.8.2.1 a", "7.8.2.1 b"]
    assert [row.clause for row in rows][-4:] == ["7.8.6.1", "7.8.6.2 a", "7.8.6.2 b", "7.8.6.2 c"]


def test_a_record_that_says_little() -> None:
    unknown = "not recorded: not needed in this test"
    assert answers() == {
        "report-a": "Test report test: Device",
        "report-b": "Nobody, Nowhere",
        "report-c": "here",
        "report-d": "test, version 1; it ends with “End of test report test, version 1.”",
        "report-e": "not recorded",
        "report-f": "protocol three-exercises; figures computed by exercise-fit-factor, overall-fit-factor and "
        "inward-leakage",
        "report-g": f"Device by Maker, as supplied: as it came; lot {unknown}; unit {unknown}; condition on arrival: "
        "not recorded",
        "report-h": "1 May 2025",
        "report-i": "1 June 2025",
        "report-j": "1 July 2025, version 1",
        "report-k": "not recorded",
        "report-l": "The results relate only to the items tested, in the state described, on the day of the test.",
        "report-m": "five figures, each with its unit, under “Fit factor”",
        "report-n": "none recorded",
        "report-o": "nobody",
        "report-p": "none recorded",
        **dict.fromkeys(CONFORMITY, NO_STATEMENT),
    }


@pytest.mark.parametrize(
    ("point", "parts", "answer"),
    [
        ("e", {"customer": "the fire brigade of Nowhere"}, "the fire brigade of Nowhere"),
        (
            "g",
            {
                "configuration": {"state": "modified", "description": "taped", "changes": ["tape"]},
                "sample": {
                    "obtained": "bought",
                    "source": "a shop",
                    "lot": "L7",
                    "unit": "U9",
                    "condition": "box dented",
                },
            },
            "Device by Maker, modified: taped; lot L7; unit U9; condition on arrival: box dented",
        ),
        (
            "j",
            {"version": "1.1", "amendments": [{"date": "2025-08-01", "reason": "r", "changed": "c"}] * 2},
            "1 July 2025, version 1.1; amended on 1 August 2025",
        ),
        (
            "j",
            {"withdrawn": {"date": "2025-08-02", "reason": "r"}},
            "1 July 2025, version 1; withdrawn on 2 August 2025",
        ),
        (
            "k",
            {
                "sample": {
                    "obtained": "bought",
                    "source": "a shop",
                    "lot": "L7",
                    "unit": "U9",
                    "plan": "third from the left",
                }
            },
            "third from the left",
        ),
        (
            "m",
            {"raw_data": "notebook 3"},
            "five figures, each with its unit, under “Fit factor”; raw readings: notebook 3",
        ),
        ("n", {"deviations": ["no grimace", "lamp on"]}, "no grimace; lamp on"),
        ("n", {"not_tested": ["noise"]}, "none recorded; not done: noise"),
        ("p", {"external_results": ["mass, by the post office"]}, "mass, by the post office"),
        ("o", {"publication": {"authorised_by": "the board"}}, "the board"),
        ("b", {"publication": {"publisher": "P", "address": "Line 1\nLine 2\n"}}, "P, Line 1, Line 2"),
    ],
)
def test_a_point_that_is_on_record(point: str, parts: dict[str, Any], answer: str) -> None:
    assert answers(**parts)[f"report-{point}"] == answer


def test_flow_and_fit_with_their_requirements() -> None:
    device = a_device("tight_powered_half_facepiece")
    fit = [given(150.0, blower="off", protocol="eight-standard-exercises")]
    flow = [a_run([200.0, 201.0, 200.5]), a_run([20.0, 20.1, 20.2], id="low", setting="low")]
    found = answers(fit, flow, device=device)
    assert found["report-f"] == (
        "protocol eight-standard-exercises; air supply read at: at the hood; figures computed by exercise-fit-factor, "
        "overall-fit-factor, inward-leakage, mean-flow, standard-deviation, coefficient-of-variation and "
        "change-over-run"
    )
    assert found["report-7.8.6.1"] == (
        "the guarded rule leaves a result undecided rather than wrong; the record’s page gives, beside each verdict, "
        "the probability that the true value conforms, where the readings give one; the plain comparison is set by a "
        "regulation; its risk of a wrong statement was not examined"
    )
    assert found["report-7.8.6.2a"] == "overall fit factor of session am; supply flow of runs high and low"
    assert found["report-7.8.6.2b"] == (
        "Fit-test pass level, half facepieces: level reached (session am); Supply flow of tight-fitting powered "
        "devices: meets the requirement (run high); Supply flow of tight-fitting powered devices: does not meet the "
        "requirement (run low)"
    )
    assert found["report-7.8.6.2c"] == (
        "Fit-test pass level, half facepieces: the regulation's own plain comparison, which takes no account of "
        "uncertainty. Supply flow of tight-fitting powered devices: guarded: met only if the whole 95 % interval lies "
        "on the right side of the limit, not met only if it lies wholly on the wrong side, else undecided"
    )


def test_points_lead_to_where_more_is_said() -> None:
    links = {
        row.id: [link.href for link in row.links] for row in report(flow=[a_run([200.0, 201.0])], device=HOOD).rows
    }
    assert links["report-f"][:4] == [
        "methods/mean-flow.html",
        "methods/standard-deviation.html",
        "methods/coefficient-of-variation.html",
        "methods/change-over-run.html",
    ]
    assert "methods/mixed-hood-oxygen.html" in links["report-f"]
    assert links["report-m"] == ["records/test.html#flow", "records/test.html#gas"]
    assert links["report-7.8.6.2b"] == ["requirements.html#supply-flow-loose-fitting"]


@pytest.mark.parametrize(
    ("accredited", "words"),
    [
        (
            False,
            "The publisher is not an accredited laboratory and claims no conformity with any standard for one. The "
            "points are those that ISO/IEC 17025:2017 asks of a test report, restated in short.",
        ),
        (
            True,
            "The points are those that ISO/IEC 17025:2017 asks of a test report, restated in short. Whether this test "
            "falls under the publisher's accreditation is not recorded.",
        ),
    ],
)
def test_who_is_not_accredited_says_so(accredited: bool, words: str) -> None:
    assert report(publication={"accredited_laboratory": accredited}).standing == words


def test_the_report_ends_with_its_identity() -> None:
    assert report(version="2.1").end == "End of test report test, version 2.1."
