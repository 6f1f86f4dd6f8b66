"""Scores that are written and read back are the same, whatever process reads them."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.build.jobs import Clock, ScoreJob, Worker
from generator.build.kept_results import SCORES, DeviceScores, read, read_scores, written
from generator.build.parts import Parts
from generator.build.scored_here import ScoredHere
from generator.build.scores import catalogue_scores
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import published
from generator.presenting.method_uses import method_uses
from generator.publishing.kept_files import KeptFiles, KeptFileSpoiled
from generator.scoring.slim_results import device_without_workings, without_workings
from tests.conftest import ROOT

TOOL = "tool"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> KeptFiles:
    """Where the scores of the demo are kept."""
    return KeptFiles(tmp_path_factory.mktemp("kept"), TOOL)


@pytest.fixture(scope="module")
def scores(demo: Catalogue, kept: KeptFiles, tmp_path_factory: pytest.TempPathFactory) -> dict[str, DeviceScores]:
    """The scores of the demo's devices, each scored by a job that sees its part alone."""
    parts = Parts(published(demo), TOOL)
    found = {}
    for name in demo.devices:
        part = parts.of(name)
        ScoreJob(name, part).run(Worker(parts.shared, kept, ScoredHere(tmp_path_factory.mktemp(name))), Clock())
        entry = kept.get(name)
        assert entry is not None
        found[name] = read_scores(entry)
    return found


def test_parts_give_what_the_whole_gives(
    demo: Catalogue, scored: CatalogueResult, scores: dict[str, DeviceScores]
) -> None:
    together = catalogue_scores(published(demo), scores)
    assert list(together.result.records) == list(scored.records)
    assert together.result.records == {name: without_workings(each) for name, each in scored.records.items()}
    for name, device in scored.devices.items():
        # What was worn beside it comes in when its page is made.
        alone = device.model_copy(update={"meaning": device.meaning.model_copy(update={"same_day": ()})})
        assert together.result.devices[name] == device_without_workings(alone), name
    assert together.result.instruments == scored.instruments
    assert together.uses == method_uses(scored)
    for name, comparison in scored.comparisons.items():
        assert together.result.comparisons[name].differences == comparison.differences


def test_scores_are_read_back_as_they_were(scores: dict[str, DeviceScores]) -> None:
    for each in scores.values():
        again = read(written(each))
        assert again == each
        assert written(again) == written(each)


def test_they_are_read_by_a_process_that_scored_nothing(kept: KeptFiles, scores: dict[str, DeviceScores]) -> None:
    script = (
        "import hashlib, sys\nfrom pathlib import Path\nfrom generator.publishing.kept_files import KeptFiles\n"
        "from generator.build.kept_results import read_scores, written\n"
        "entry = KeptFiles(Path(sys.argv[1]), sys.argv[2]).get(sys.argv[3])\n"
        "print(hashlib.sha256(written(read_scores(entry))).hexdigest())"
    )
    name = "hollybrake-hood"
    entry = kept.get(name)
    assert entry is not None
    folder = entry.place.parent.parent.parent
    told = subprocess.run(
        [sys.executable, "-c", script, str(folder), TOOL, name],
        cwd=ROOT,
        env=os.environ,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert told.strip() == entry.files[SCORES].sha256


@pytest.mark.parametrize("damage", ["cut", "model", "number", "line"])
def test_scores_that_cannot_be_read_back_are_told(damage: str, scores: dict[str, DeviceScores], tmp_path: Path) -> None:
    lines = written(scores["patchwork-cover"]).decode().splitlines(keepends=True)
    if damage == "cut":
        lines = lines[: len(lines) // 2]
    elif damage == "model":
        lines = [line.replace('"FitResult"', '"Working"') for line in lines]
    elif damage == "number":
        lines = [line.replace('"value":', '"value":"x') for line in lines]
    else:
        lines.insert(0, "record\n")
    kept = KeptFiles(tmp_path, TOOL)
    kept.put("patchwork-cover", {}, {SCORES: "".join(lines).encode()})
    entry = kept.get("patchwork-cover")
    assert entry is not None
    with pytest.raises(KeptFileSpoiled, match="patchwork-cover"):
        read_scores(entry)
