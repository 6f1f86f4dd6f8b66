"""A published site is computed anew from its own records; every kind of tampering is named."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from generator.command_line import run
from generator.contributing.differences import Difference, differences
from generator.loading.published_site import load_published_site
from generator.presenting.pictures import picture_places
from generator.presenting.whole_site import present
from generator.rendering.sheets import render_sheet
from generator.scoring.catalogue import score_catalogue
from tests.contributing.verifying import verified

RECORD = "patchwork-cover-2025-03"
FIGURE = re.compile(r'id="(fit\.[a-z0-9]+\.overall)".*?class="value">([^<]+)<', re.DOTALL)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> Path:
    """Publish one device of the demo."""
    folder = tmp_path_factory.mktemp("verify")
    records = folder / "records"
    shutil.copytree(demo_records, records)
    for test in (records / "device_tests").glob("*.yaml"):
        if test.stem != RECORD:
            test.unlink()
    for device in (records / "devices").glob("*.yaml"):
        if device.stem != "patchwork-cover":
            device.unlink()
    shutil.rmtree(records / "logs")
    shutil.rmtree(records / "comparisons")
    lines = (demo_records / "devices" / "mothwing-hood.yaml").read_text(encoding="utf-8").split("\npictures:\n")
    pictures = re.split(r"\n(?=\w)", lines[1])[0]
    with (records / "devices" / "patchwork-cover.yaml").open("a", encoding="utf-8") as file:
        file.write(f"pictures:\n{pictures}\n")
    shown = re.findall(r"file: (pictures/\S+)", pictures)
    for picture in (records / "pictures").iterdir():
        if f"pictures/{picture.name}" not in shown:
            picture.unlink()
    assert run(["publish", "--records", str(records), "--output", str(folder / "output")]) == 0
    return folder / "output"


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_bytes().decode()
    assert old in text
    path.write_bytes(text.replace(old, new, 1).encode())


def test_an_untouched_site_is_what_its_records_give(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = verified(site, capsys)
    assert code == 0
    assert re.fullmatch(r"All \d+ files are what the published records give\.", lines[-1])


def test_stills_belong_to_a_site_that_was_published_with_them(
    small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    site = tmp_path / "with-stills" / "output"
    site.parent.mkdir()
    assert run(["publish", "--records", str(small_records), "--output", str(site), "--stills"]) == 0
    assert " and 2 stills: " in capsys.readouterr().out
    code, lines = verified(site, capsys)
    assert code == 0, lines
    (site / "stills" / "patchwork-cover-fit-dark.png").write_bytes(
        (site / "stills/patchwork-cover-fit.png").read_bytes()
    )
    (site / "stills" / "patchwork-cover-fit.png").unlink()
    code, lines = verified(site, capsys)
    assert code == 1
    assert [line.partition(": ")[0] for line in lines] == [
        "stills/patchwork-cover-fit-dark.png",
        "stills/patchwork-cover-fit.png",
    ]


def test_a_figure_changed_on_a_page_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = copy / "records" / f"{RECORD}.html"
    match = FIGURE.search(page.read_text(encoding="utf-8"))
    assert match is not None
    changed = page.read_text(encoding="utf-8")
    page.write_text(changed[: match.start(2)] + "2000" + changed[match.end(2) :], encoding="utf-8")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert len(lines) == 1
    assert lines[0].startswith(f"records/{RECORD}.html: #{match[1]}: published “overall fit factor 2000")
    assert match[2] in lines[0]


def test_a_mark_moved_in_a_drawing_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = copy / "devices" / "patchwork-cover.html"
    text = page.read_text(encoding="utf-8")
    mark = re.search(rf'id="(fit-scale-{RECORD}-fit\.[a-z0-9]+\.overall)" d="M([0-9.]+)', text)
    assert mark is not None
    page.write_text(text[: mark.start(2)] + "650" + text[mark.end(2) :], encoding="utf-8")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert [line.split(": ")[1] for line in lines] == [f"#{mark[1]}, markup"]


def test_a_figure_changed_in_a_panel_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    panel = copy / "panels" / "patchwork-cover.js"
    value = re.search(r'"worn": ".*?class=\\"value\\"\\u003e(\w+ wearers?)', panel.read_text(encoding="utf-8"))
    assert value is not None
    replaced(panel, f"u003e{value[1]} ", "u003e99 wearers ")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert [line.partition(": published")[0] for line in lines] == [
        "panels/patchwork-cover.js: facts.worn, outside any element with an id"
    ]
    assert "99 wearers" in lines[0]
    assert value[1] in lines[0]


def test_a_script_changed_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "scripts" / "compare.js", "'use strict';", "")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert len(lines) == 1
    assert lines[0].startswith("scripts/compare.js: published ")


def test_a_figure_changed_in_a_table_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = copy / "records" / f"{RECORD}.csv"
    row = next(line for line in table.read_text(encoding="utf-8").splitlines() if ".overall," in line)
    key, _, value = row.split(",")[:3]
    replaced(table, f",{value},1,", ",99.5,1,")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert lines == [f"records/{RECORD}.csv: row {key}, value: published 99.5, recomputed {value}"]


def test_a_result_changed_in_the_data_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = copy / "records" / f"{RECORD}.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    figure = next(item for item in data["results"]["figures"] if item["key"].endswith(".overall"))
    key, value = figure["key"], figure["value"]
    figure["value"] = 12.5
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert lines == [f"records/{RECORD}.json: results.figures[{key}].value: published 12.5, recomputed {value!r}"]


def test_a_changed_picture_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (picture,) = (copy / "pictures" / "devices").iterdir()
    picture.write_bytes(picture.read_bytes() + b"\0")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert len(lines) == 1
    assert lines[0].startswith(f"data/catalogue.json: pictures.pictures/devices/{picture.name}: published ")


def test_a_changed_reading_shows_in_every_file_that_rests_on_it(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = copy / "records" / f"{RECORD}.json"
    data = json.loads(path.read_text(encoding="utf-8"))
    reading = data["published_record"]["fit"][0]["exercises"][0]
    reading["in_mask"] = "1 /cm3"
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    code, lines = verified(copy, capsys)
    assert code == 1
    files = {line.split(": ")[0] for line in lines}
    assert {
        f"records/{RECORD}.html",
        f"records/{RECORD}.csv",
        f"records/{RECORD}.json",
        "devices/patchwork-cover.html",
        "devices/patchwork-cover.pdf",
    } <= files
    # The sheet's own text and the record that is attached to it are both told.
    assert any(re.match(r"devices/patchwork-cover\.pdf: page \d+: published “", line) for line in lines)
    assert any(line.startswith(f"devices/patchwork-cover.pdf: attachment {RECORD}.json, ") for line in lines)


def test_a_figure_changed_in_a_sheet_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # The sheet as it would be had one exercise let in half as much, in place of the sheet that the records give.
    catalogue, _ = load_published_site(copy)
    catalogue = replace(catalogue, pictures={file: b"" for _, file in picture_places(catalogue)})
    test = catalogue.device_tests[RECORD]
    session = next(session for session in test.fit if session.exercises)
    inside = session.exercises[0].in_mask
    assert inside is not None
    changed = session.exercises[0].model_copy(
        update={"in_mask": inside.model_copy(update={"number": inside.number / 2})}
    )
    better = session.model_copy(update={"exercises": (changed, *session.exercises[1:])})
    sessions = tuple(better if each.id == session.id else each for each in test.fit)
    other = replace(catalogue, device_tests={RECORD: test.model_copy(update={"fit": sessions})})
    site = present(other, score_catalogue(other))
    attached = {f"{RECORD}.json": (copy / "records" / f"{RECORD}.json").read_bytes()}
    (copy / "devices" / "patchwork-cover.pdf").write_bytes(render_sheet(site.sheets[0], site.letterhead, attached))
    code, lines = verified(copy, capsys)
    assert code == 1
    assert all(line.startswith("devices/patchwork-cover.pdf: page ") for line in lines)
    overall = re.compile(rf"{session.wearer}, donning {session.donning} completed ([0-9.]+) .*recomputed .*completed ")
    assert [line for line in lines if overall.search(line)] != []


def test_a_foreign_sheet_is_named_page_by_page(copy: Path, demo_site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copyfile(demo_site / "devices" / "meadowrue-pleat.pdf", copy / "devices" / "patchwork-cover.pdf")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert {line.split(": ")[0] for line in lines} == {"devices/patchwork-cover.pdf"}
    assert any("Meadowrue Pleat" in line and "Patchwork Cover" in line for line in lines)


def test_missing_and_added_files_are_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (copy / "requirements.html").unlink()
    (copy / "added.html").write_text("<p>x</p>", encoding="utf-8")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert lines == [
        "added.html: published a file, recomputed nothing",
        "requirements.html: published nothing, recomputed a file",
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda data: "{", r"found no JSON \(.*\), expected published data"),
        (lambda data: "[]", "found no mapping, expected published data"),
        (lambda data: data.replace('"maker"', '"malker"'), r"devices\.patchwork-cover: \w+: "),
    ],
    ids=["no JSON", "no mapping", "another key"],
)
def test_damaged_data_are_told(copy: Path, capsys: pytest.CaptureFixture[str], change: object, message: str) -> None:
    assert callable(change)
    path = copy / "data" / "catalogue.json"
    path.write_text(change(path.read_text(encoding="utf-8")), encoding="utf-8")
    capsys.readouterr()
    assert run(["verify", str(copy)]) == 1
    err = capsys.readouterr().err
    assert "[published-site-unreadable]" in err
    assert re.search(message, err)


def test_a_folder_that_is_no_site_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(tmp_path)]) == 1
    assert "Name the folder that `inward publish` wrote" in capsys.readouterr().err


def test_other_versions_are_told(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "data" / "catalogue.json", '"scipy": "', '"scipy": "0.')
    capsys.readouterr()
    assert run(["verify", str(copy)]) == 1
    assert re.search(r"Published with inward .*, scipy 0\..*; recomputed with inward ", capsys.readouterr().err)


@pytest.mark.parametrize(
    ("file", "old", "new", "expected"),
    [
        ("a.html", "<p id='x'>1</p>", "<p id='x'>2</p>", [Difference("a.html", "#x", "“1”", "“2”")]),
        ("a.html", "<p>1</p>", "<p>2</p>", [Difference("a.html", "outside any element with an id", "“1”", "“2”")]),
        ("a.csv", "k,v\r\na,1\r\n", "k,v\r\na,2\r\n", [Difference("a.csv", "row a, v", "1", "2")]),
        (
            "a.csv",
            "k,v\r\n",
            "k,v\r\na,2\r\n",
            [
                Difference("a.csv", "row a, k", "nothing", "a"),
                Difference("a.csv", "row a, v", "nothing", "2"),
            ],
        ),
        ("a.json", '{"a": [1]}', '{"a": [1, 2]}', [Difference("a.json", "a[1]", '"nothing"', "2")]),
        ("a.json", "{", "{}", [Difference("a.json", "", "no JSON", "JSON")]),
        ("a.css", "x", "xy", [Difference("a.css", "", "1 other bytes", "2 bytes")]),
        ("a.css", "x", "x", []),
    ],
)
def test_differences_are_placed(file: str, old: str, new: str, expected: list[Difference]) -> None:
    assert differences(file, old.encode(), new.encode()) == expected


def test_a_damaged_pdf_is_told() -> None:
    (found,) = differences("a.pdf", b"no pdf at all", b"%PDF-1.7 neither")
    assert found.published.startswith("no readable PDF")
