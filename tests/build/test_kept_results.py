"""Scores that are written and read back are the same, whatever process reads them."""

import os
import pickle
import subprocess
import sys
from pathlib import Path

import pytest

from generator.build.jobs import Clock, ScoreJob, Worker
from generator.build.kept_results import SCORES, KeptScores, KeptTopics, read_scores, written
from generator.build.parts import Parts
from generator.build.scored_here import ScoredHere
from generator.build.scores import catalogue_scores
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.fit_result import FitResult
from generator.model.published import published
from generator.model.result import RecordResult
from generator.presenting.method_uses import method_uses
from generator.publishing.kept_files import Kept, KeptFiles, KeptFileSpoiled
from generator.scoring.slim_results import without_workings
from tests.conftest import ROOT

TOOL = "tool"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> KeptFiles:
    """Where the scores of the demo are kept."""
    return KeptFiles(tmp_path_factory.mktemp("kept"), TOOL)


@pytest.fixture(scope="module")
def scores(demo: Catalogue, kept: KeptFiles, tmp_path_factory: pytest.TempPathFactory) -> dict[str, KeptScores]:
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


def with_all_topics(record: RecordResult) -> RecordResult:
    """Return a result of which all topics were read."""
    return RecordResult(
        record=record.record, device=record.device, topics=dict(record.topics), findings=record.findings
    )


def entry_of(kept: KeptFiles, device: str) -> Kept:
    entry = kept.get(device)
    assert entry is not None
    return entry


def test_parts_give_what_the_whole_gives(
    demo: Catalogue, scored: CatalogueResult, scores: dict[str, KeptScores]
) -> None:
    together = catalogue_scores(published(demo), scores)
    assert list(together.result.records) == list(scored.records)
    read_back = {name: with_all_topics(each) for name, each in together.result.records.items()}
    assert read_back == {name: without_workings(each) for name, each in scored.records.items()}
    for name, device in scored.devices.items():
        # What was worn beside it comes in when its page is made.
        alone = device.model_copy(update={"meaning": device.meaning.model_copy(update={"same_day": ()})})
        assert together.result.devices[name] == without_workings(alone), name
    assert together.result.instruments == scored.instruments
    assert together.uses == method_uses(scored)
    for name, comparison in scored.comparisons.items():
        assert together.result.comparisons[name].differences == comparison.differences


def test_scores_are_read_back_as_they_were(kept: KeptFiles, scores: dict[str, KeptScores]) -> None:
    for name, each in scores.items():
        entry = entry_of(kept, name)
        assert {path: entry.read(path) for path in entry.files} == written(each)


def test_what_is_there_without_topics_is_what_topics_give(scores: dict[str, KeptScores]) -> None:
    records = [record for each in scores.values() for record in each.records.values()]
    assert any(record.all_findings for record in records)
    for record in records:
        whole = with_all_topics(record)
        assert record.all_findings == whole.all_findings
        assert record.methods == whole.methods
        assert record.methods


def test_topics_are_read_when_they_are_asked_for(kept: KeptFiles, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    read = Kept.read

    def noted(entry: Kept, name: str) -> bytes:
        asked.append(name)
        return read(entry, name)

    monkeypatch.setattr(Kept, "read", noted)
    scores = read_scores(entry_of(kept, "hollybrake-hood"))
    topics = scores.records["hollybrake-hood-2025-06"].topics
    assert (len(topics), "fit" in topics, "fitness" in topics) == (len(list(topics)), True, False)
    assert asked == [SCORES]
    for _ in range(2):
        assert isinstance(topics["fit"], FitResult)
    assert asked == [SCORES, "hollybrake-hood-2025-06/fit.json"]
    with pytest.raises(KeyError, match="fitness"):
        topics["fitness"]


def test_a_hash_over_results_is_another_where_anything_in_them_is(
    kept: KeptFiles, scores: dict[str, KeptScores], tmp_path: Path
) -> None:
    before = scores["hollybrake-hood"].sha256_of_records
    files = {path: entry_of(kept, "hollybrake-hood").read(path) for path in entry_of(kept, "hollybrake-hood").files}
    place = "hollybrake-hood-2025-06/fit.json"
    changed = files[place].replace(b'"sample_size":', b'"sample_size":1', 1)
    assert changed != files[place]
    others = KeptFiles(tmp_path, TOOL)
    others.put("hollybrake-hood", {}, files | {place: changed})
    after = read_scores(entry_of(others, "hollybrake-hood")).sha256_of_records
    assert [name for name in before if before[name] != after[name]] == ["hollybrake-hood-2025-06"]


def test_they_are_read_by_a_process_that_scored_nothing(kept: KeptFiles) -> None:
    script = (
        "import hashlib, sys\nfrom pathlib import Path\nfrom generator.publishing.kept_files import KeptFiles\n"
        "from generator.build.kept_results import read_scores, written\n"
        "entry = KeptFiles(Path(sys.argv[1]), sys.argv[2]).get(sys.argv[3])\n"
        "again = written(read_scores(entry))\n"
        "print(*(f'{name} {hashlib.sha256(again[name]).hexdigest()}' for name in sorted(again)), sep='\\n')"
    )
    name = "hollybrake-hood"
    entry = entry_of(kept, name)
    folder = entry.place.parent.parent.parent
    told = subprocess.run(
        [sys.executable, "-c", script, str(folder), TOOL, name],
        cwd=ROOT,
        env=os.environ,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert told.splitlines() == [f"{path} {entry.files[path].sha256}" for path in sorted(entry.files)]


@pytest.mark.parametrize("damage", ["cut", "number", "line", "topic gone"])
def test_scores_that_cannot_be_read_back_are_told(
    damage: str, kept: KeptFiles, scores: dict[str, KeptScores], tmp_path: Path
) -> None:
    files = written(scores["patchwork-cover"])
    lines = files[SCORES].decode().splitlines(keepends=True)
    if damage == "cut":
        lines = lines[: len(lines) // 2]
    elif damage == "number":
        lines = [line.replace('"value":', '"value":"x') for line in lines]
    elif damage == "line":
        lines.insert(0, "record\n")
    else:
        files = {}
    others = KeptFiles(tmp_path, TOOL)
    others.put("patchwork-cover", {}, {**files, SCORES: "".join(lines).encode()})
    with pytest.raises(KeptFileSpoiled, match="patchwork-cover"):
        read_scores(entry_of(others, "patchwork-cover"))


@pytest.mark.parametrize("damage", ["model", "number", "nothing in it"])
def test_a_topic_that_cannot_be_read_back_is_told_when_it_is_asked_for(
    damage: str, scores: dict[str, KeptScores], tmp_path: Path
) -> None:
    files = written(scores["patchwork-cover"])
    (place,) = [path for path in files if path.endswith("/fit.json")]
    if damage == "model":
        files[SCORES] = files[SCORES].replace(b'"FitResult"', b'"Working"')
    elif damage == "number":
        files[place] = files[place].replace(b'"value":', b'"value":"x')
    else:
        files[place] = b"{}"
    others = KeptFiles(tmp_path, TOOL)
    others.put("patchwork-cover", {}, files)
    record = read_scores(entry_of(others, "patchwork-cover")).records[place.partition("/")[0]]
    with pytest.raises(KeptFileSpoiled, match="patchwork-cover") as caught:
        record.topics["fit"]
    assert pickle.loads(pickle.dumps(caught.value)).key == "patchwork-cover"


def test_topics_that_were_not_read_are_read_by_a_process_that_they_are_sent_to(scores: dict[str, KeptScores]) -> None:
    for each in scores.values():
        for record in each.records.values():
            sent: RecordResult = pickle.loads(pickle.dumps(record))
            assert isinstance(sent.topics, KeptTopics)
            assert with_all_topics(sent) == with_all_topics(record)
            assert sent.all_findings == record.all_findings
