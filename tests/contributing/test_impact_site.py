"""What is published is held against today's records and program, by the results that stand in the published data."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from generator.command_line import run
from generator.contributing.impact.bases import base_of
from generator.contributing.impact.impact_of import impact_of
from generator.loading import load_catalogue
from generator.model.published import published
from generator.presenting.impact_views import ImpactView
from generator.presenting.whole_site import present
from generator.rendering.open_data import open_data
from generator.scoring.catalogue import score_catalogue
from tests.contributing.impacts import places, quiet, rows

RECORD = "patchwork-cover-2025-03"


@pytest.fixture
def site(small_records: Path, tmp_path: Path) -> Path:
    """The published data of the small records, without their pages."""
    loaded = load_catalogue(small_records)
    assert loaded.catalogue is not None
    out = published(loaded.catalogue)
    shown = present(out, score_catalogue(out))
    for place, content in open_data(shown.data, shown.pictures).items():
        path = tmp_path / "site" / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return tmp_path / "site"


def edited(path: Path, edit: Callable[[Any], None]) -> None:
    data = json.loads(path.read_bytes())
    edit(data)
    path.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")


def impact(records: Path, site: Path) -> ImpactView:
    return impact_of(records, str(site), quiet)


def test_what_was_just_published_has_not_changed(small_records: Path, site: Path) -> None:
    view = impact(small_records, site)
    assert view.verdict == "No published result changes."
    assert view.sections == ()
    assert "".join(piece.text for piece in view.compared).startswith(f"Compared: the site published in {site} with ")
    assert view.compared[-1].text.endswith("against results as they were published.")
    (remark,) = view.remarks
    assert "What the program alone changes there, inward verify names." in "".join(piece.text for piece in remark)


def test_a_figure_that_another_program_published_is_told(small_records: Path, site: Path) -> None:
    def edit(data: Any) -> None:
        figure = next(each for each in data["results"]["figures"] if each["key"] == "fit.c1.overall")
        figure["value"] = 2 * figure["value"]

    edited(site / "records" / f"{RECORD}.json", edit)
    view = impact(small_records, site)
    assert view.verdict == "One figure changes; three pages are touched."
    assert [row.owner.text for row in rows(view, "pages")] == [
        f"records/{RECORD}.html",
        "devices/patchwork-cover.html",
        "devices/patchwork-cover.pdf",
    ]
    (row,) = rows(view, "figures")
    assert (row.owner.text, row.place.text) == (RECORD, "fit.c1.overall")
    assert row.change.text == "half of what it was"


def test_a_verdict_and_a_finding_of_another_program_are_told(small_records: Path, site: Path) -> None:
    def edit(data: Any) -> None:
        data["results"]["verdicts"][0]["outcome"] = "undecided"
        data["results"]["findings"] = [
            each for each in data["results"]["findings"] if each["rule"] != "ambient-below-minimum"
        ]

    rules = json.loads((site / "records" / f"{RECORD}.json").read_bytes())["results"]["findings"]
    assert "ambient-below-minimum" in {each["rule"] for each in rules}
    edited(site / "records" / f"{RECORD}.json", edit)
    view = impact(small_records, site)
    assert places(rows(view, "verdicts")) == [(RECORD, "fit.c1.verdict")]
    assert {row.name.text for row in rows(view, "findings")} == {"ambient-below-minimum"}
    assert {(row.owner.text, row.change.text) for row in rows(view, "cautions")} == {
        ("devices/patchwork-cover.html", "new"),
        (f"records/{RECORD}.html", "new"),
    }


def test_a_session_that_counted_is_told(small_records: Path, site: Path) -> None:
    edited(
        site / "records" / f"{RECORD}.json",
        lambda data: data["results"]["sessions"][0].update(counted=False),
    )
    (row,) = rows(impact(small_records, site), "outcomes")
    assert (row.place.text, row.before.text, row.after.text) == ("fit.sessions[c1].counted", "no", "yes")


def test_a_requirement_that_was_published_with_another_limit_is_told(small_records: Path, site: Path) -> None:
    def edit(data: Any) -> None:
        data["criteria"]["supply-flow-tight-fitting"]["limit"] = 1.0

    edited(site / "data" / "catalogue.json", edit)
    view = impact(small_records, site)
    assert places(rows(view, "records")) == [("supply-flow-tight-fitting", "requirement")]
    assert [row.owner.text for row in rows(view, "pages")] == ["requirements.html"]


@pytest.mark.parametrize(
    ("file", "edit"),
    [
        ("data/catalogue.json", lambda data: data.update(comparison_results=[])),
        ("data/catalogue.json", lambda data: data.update(instrument_results={"bench-counter": 1})),
        (f"records/{RECORD}.json", lambda data: data["results"].pop("figures")),
        (f"records/{RECORD}.json", lambda data: data["results"]["figures"][0].update(value="high")),
    ],
)
def test_damaged_data_are_told(
    file: str, edit: Callable[[Any], None], small_records: Path, site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edited(site / file, edit)
    assert run(["impact", str(site), "--records", str(small_records)]) == 1
    assert f"[published-site-unreadable] {file}: " in capsys.readouterr().err


def test_a_folder_that_is_neither_is_wrong_usage(
    small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "empty").mkdir()
    assert run(["impact", str(tmp_path / "empty"), "--records", str(small_records)]) == 2
    assert "found neither `publication.yaml` nor `data/catalogue.json` in the folder" in capsys.readouterr().err


def test_a_base_is_what_its_folder_holds(small_records: Path, site: Path) -> None:
    for folder, words, as_published in (
        (small_records, f"the records in {small_records}", False),
        (site, f"the site published in {site}", True),
    ):
        base = base_of(str(folder), small_records)
        assert (base.words, base.published is not None) == (words, as_published)
