"""What is said where nothing was recorded or scored."""

from __future__ import annotations

from typing import Any

from generator.model.flow_result import FlowResult
from generator.model.published import published
from generator.presenting.whole_site import present
from generator.scoring.catalogue import score_catalogue
from tests.presenting.small_sites import a_whole_catalogue, device_page, index_row
from tests.scoring.builders import a_device, a_run, a_test

LOOSE, TIGHT = "loose_powered_hood", "tight_powered_half_facepiece"


def test_a_device_without_any_record() -> None:
    parts: dict[str, Any] = {"device": a_device(LOOSE)}
    page = device_page(**parts)
    assert page.answer == ("No test of this device is on record, so that nothing is known of what it delivers.",)
    assert page.brief == ()
    assert page.records == ()
    assert page.head.state[-1].text == "no record issued"
    assert index_row(**parts).records == "no records"


def test_a_flow_that_could_not_be_scored() -> None:
    catalogue = published(a_whole_catalogue(a_test(flow=[a_run([200.0, 201.0])]), device=a_device(LOOSE)))
    result = score_catalogue(catalogue)
    flow = result.records["test"].topics["flow"]
    assert isinstance(flow, FlowResult)
    mean = flow.runs[0].mean.model_copy(update={"value": None, "interval": None, "not_scored": "the log is empty"})
    run = flow.runs[0].model_copy(update={"mean": mean})
    topics = result.records["test"].topics
    assert isinstance(topics, dict)
    topics["flow"] = flow.model_copy(update={"runs": (run,)})
    summary = result.devices["device"].topics["flow"]
    result.devices["device"].topics["flow"] = summary.model_copy(update={"governing": run})
    (page,) = present(catalogue, result).devices
    assert page.answer[0] == (
        "How much air its blower delivers could not be scored: the log is empty (high, battery fresh, new filter)."
    )
    chart = page.sections[1].chart
    assert chart is not None
    assert [(row.marks, row.note) for row in chart.rows] == [((), "not scored")]
