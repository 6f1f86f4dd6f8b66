"""`inward score`: text for reading, JSON with everything, and its exit codes."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from generator.command_line import run
from generator.loading import load_catalogue
from tests.scoring.builders import score_all, score_one

RECORDS = Path(__file__).resolve().parent.parent.parent / "records"
RECORD = "sandmartin-fold-2025-04"


def score(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = run(["score", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize("record", sorted((RECORDS / "device_tests").glob("*.yaml")), ids=lambda path: path.stem)
def test_text_of_every_record_fits_80_columns(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = score(capsys, str(record))
    assert (code, err) == (0, "")
    assert [line for line in out.splitlines() if len(line) > 80] == []
    withdrawn = "Withdrawn: " if "\nwithdrawn:" in record.read_text(encoding="utf-8") else ""
    assert out.startswith(f"{withdrawn}Test report {record.stem}\n")
    assert "\nFindings\n--------\n" in out


def test_text_names_figures_verdicts_and_findings(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = score(capsys, RECORD, "--records", str(RECORDS))
    assert "Fit factor\n----------\n" in out
    assert "  overall fit factor: " in out
    assert "interval; it covers counting inside and outside, and ambient change" in out
    assert "  Made from: Particles counted one by one, in a known volume of air." in out
    assert "    method: Overall fit factor; of the interval: Interval of a session by\n    simulation\n" in out
    assert "Verdict: level reached (Fit-test pass level, filtering facepieces)." in out
    assert "- fit[b1]: " in out
    assert "Wearer A" in out


def test_json_is_the_result_at_full_precision(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = score(capsys, str(RECORDS / "device_tests" / f"{RECORD}.yaml"), "--format", "json")
    assert code == 0
    loaded = load_catalogue(RECORDS)
    assert loaded.catalogue is not None
    result = score_one(loaded.catalogue.device_tests[RECORD], loaded.catalogue)
    document = json.loads(out)
    assert list(document) == ["record", "device", "topics", "findings", "instruments"]
    instruments = document.pop("instruments")
    assert document == result.model_dump(mode="json")
    scored = score_all(loaded.catalogue).instruments
    assert instruments == {"bench-counter": scored["bench-counter"].model_dump(mode="json")}
    figures = {figure["key"]: figure["value"] for figure in document["topics"]["fit"]["figures"]}
    assert figures["fit.a1.overall"] == result.topics["fit"].figures[8].value


def test_the_same_twice(capsys: pytest.CaptureFixture[str]) -> None:
    arguments = (RECORD, "--records", str(RECORDS), "--format", "json")
    assert score(capsys, *arguments) == score(capsys, *arguments)


def test_problems_are_printed_one_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    records = tmp_path / "records"
    shutil.copytree(RECORDS, records)
    path = records / "device_tests" / f"{RECORD}.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "colour: blue\nshade: dark\n", encoding="utf-8")
    code, out, err = score(capsys, str(path))
    assert (code, out) == (1, "")
    problems = [line for line in err.splitlines() if "[unknown-key]" in line]
    assert len(problems) == 2
    assert all(f"{RECORD}.yaml:" in line for line in problems)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["sandmartin-fold-2025-4"], "found no test record `sandmartin-fold-2025-4`"),
        (["sandmartin-fold-2025-4"], f"did you mean `{RECORD}`?"),
        (["nowhere.yaml"], "found nothing at `nowhere.yaml`, expected a test record"),
        ([str(RECORDS / "publication.yaml")], "expected a file in a records folder's device_tests/"),
        ([RECORD, "--records", "nowhere"], "found no folder `nowhere`, expected the records folder"),
    ],
)
def test_wrong_usage_says_what_was_expected(
    arguments: list[str], message: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(RECORDS.parent)
    code, out, err = score(capsys, *arguments)
    assert (code, out) == (2, "")
    assert message in err


def test_help_documents_the_keys_of_the_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = score(capsys, "--help")
    assert code == 0
    for key in ("topics", "figures", "no_interval", "probability_of_conformity", "sessions", "runs", "working"):
        assert key in out


@pytest.mark.parametrize("device", sorted(path.stem for path in (RECORDS / "devices").glob("*.yaml")))
def test_text_of_every_device_fits_80_columns(device: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = score(capsys, device, "--records", str(RECORDS))
    assert (code, err) == (0, "")
    assert [line for line in out.splitlines() if len(line) > 80] == []
    for heading in ("Cautions", "What its maker says"):
        assert f"\n{heading}\n{'-' * len(heading)}\n" in out


@pytest.mark.parametrize("device", ["mothwing-hood", "sallowby-pleat", "kelderby-hood"])
def test_json_of_a_device_is_what_the_whole_catalogue_gives(device: str, capsys: pytest.CaptureFixture[str]) -> None:
    # Only the device's own records are scored for it; nothing else may bear on it.
    _, out, _ = score(capsys, device, "--records", str(RECORDS), "--format", "json")
    loaded = load_catalogue(RECORDS)
    assert loaded.catalogue is not None
    assert json.loads(out) == score_all(loaded.catalogue).devices[device].model_dump(mode="json")


@pytest.mark.parametrize("name", ["kind-loose-powered-hood", "lime-plaster-weekend", "vane-flow-meter"])
def test_comparisons_and_instruments_are_given_as_json(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = score(capsys, name, "--records", str(RECORDS), "--format", "json")
    assert code == 0
    loaded = load_catalogue(RECORDS)
    assert loaded.catalogue is not None
    result = score_all(loaded.catalogue)
    expected = {**result.comparisons, **result.instruments}[name]
    assert json.loads(out) == expected.model_dump(mode="json")


def test_text_of_a_comparison_points_to_its_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = score(capsys, "third-strap", "--records", str(RECORDS))
    assert (code, out) == (2, "")
    assert "found `third-strap`, a comparison, expected a record or device. Add `--format json` for it" in err


def test_json_of_a_device_sums_up_its_records(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = score(capsys, "osierfold-visor", "--records", str(RECORDS), "--format", "json")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert document["device"] == "osierfold-visor"
    assert "osierfold-visor-2025-05" in document["records"]
    (claim,) = document["claims"]
    # source: the claim in the device's record, 170 L/min
    assert (claim["claimed"], claim["unit"]) == (170.0, "L/min")
    assert {"topics", "approvals", "findings"} <= set(document)


def test_json_and_text_of_a_device_hold_what_its_wearers_wore_on_the_same_day(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # The surgical mask's record, once more on the day on which the same wearers wore the filtering facepiece.
    records = tmp_path / "records"
    shutil.copytree(RECORDS, records)
    text = (records / "device_tests/meadowrue-pleat-2025-02.yaml").read_text(encoding="utf-8")
    text = text.split("\namendments:")[0].replace('version: "2"', 'version: "1"')
    for old, new in (
        ("meadowrue-pleat-2025-02", "meadowrue-pleat-2025-05"),
        ("performed: 2025-02-22", "performed: 2025-05-24"),
        ("issued: 2025-02-28", "issued: 2025-06-02"),
    ):
        assert old in text
        text = text.replace(old, new)
    (records / "device_tests/meadowrue-pleat-2025-05.yaml").write_text(text + "\n", encoding="utf-8")
    code, out, _ = score(capsys, "thriftleaf-fold", "--records", str(records), "--format", "json")
    assert code == 0
    document = json.loads(out)
    loaded = load_catalogue(records)
    assert loaded.catalogue is not None
    assert document == score_all(loaded.catalogue).devices["thriftleaf-fold"].model_dump(mode="json")
    assert [day["wearer"] for day in document["meaning"]["same_day"]] == ["A", "C"]
    assert {worn["device"] for day in document["meaning"]["same_day"] for worn in day["others"]} == {"meadowrue-pleat"}
    _, out, _ = score(capsys, "thriftleaf-fold", "--records", str(records))
    assert "\nWorn the same day by the same wearer\n" in out
    assert "  Worn: Meadowrue Pleat (donning 1)\n" in out
    assert "\nStarts from: " in out
