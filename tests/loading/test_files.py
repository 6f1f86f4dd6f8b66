"""Which files of a records folder are read, and which are told of."""

import os
from pathlib import Path
from typing import Any

import pytest

from generator.errors import GeneratorFailed, WrongUsage
from generator.loading import load_catalogue, load_reference
from generator.loading.logs import MOST_PROBLEMS, sha256_of
from generator.loading.reference import items_in
from generator.model.reference import Protocol
from tests.loading.example_records import GOOD, REFERENCE, change, good_copy


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return good_copy(tmp_path)


def messages(folder: Path) -> list[str]:
    return [str(problem).removeprefix(f"{folder}/") for problem in load_catalogue(folder, REFERENCE).problems]


def test_a_folder_that_is_not_there_is_wrong_usage(tmp_path: Path) -> None:
    with pytest.raises(WrongUsage, match=r"found no folder `.*nowhere`, expected one with records"):
        load_catalogue(tmp_path / "nowhere", REFERENCE)


def test_an_empty_folder_lacks_the_publication(tmp_path: Path) -> None:
    (message,) = messages(tmp_path)
    assert message.startswith("publication.yaml:1:1: (file) [publication-missing]: found no such file")


def test_a_readme_and_hidden_files_may_stand_in_the_records(folder: Path) -> None:
    (folder / "README.md").write_text("# Records\n")
    (folder / ".hidden").write_text("x")
    (folder / "devices" / ".DS_Store").write_bytes(b"\0")
    assert messages(folder) == []


def test_what_editors_keep_beside_an_open_file_is_no_record(folder: Path) -> None:
    # source: the manual of GNU Emacs, "Interlocking", "Auto Save Files", "Names"; other editors use the last as well
    (folder / "devices" / ".#mask.yaml").symlink_to("someone@somewhere.1234")
    (folder / "devices" / "#mask.yaml#").write_text("id: half")
    (folder / "devices" / "mask.yaml~").write_text("id: earlier")
    (folder / "publication.yaml~").write_text("id: earlier")
    assert messages(folder) == []


@pytest.mark.parametrize(
    ("name", "start"),
    [
        ("devices/.half-done.yaml", "devices/.half-done.yaml:1:1: (file) [unexpected-file]: found the file"),
        ("devices/mask.YAML", "devices/mask.YAML:1:1: (file) [unexpected-file]: found the file `mask.YAML`"),
        ("devices/mask~.txt", "devices/mask~.txt:1:1: (file) [unexpected-file]: found the file `mask~.txt`"),
        ("devices/mask.txt", "devices/mask.txt:1:1: (file) [unexpected-file]: found the file `mask.txt`"),
        ("devices/old/mask.yaml", "devices/old:1:1: (file) [unexpected-file]: found the folder `old`"),
        ("notes.md", "notes.md:1:1: (file) [unexpected-file]: found the file `notes.md`"),
        ("logs/log.yaml", "logs/log.yaml:1:1: (file) [unexpected-file]: found the file `log.yaml`"),
    ],
)
def test_no_file_is_passed_over_in_silence(folder: Path, name: str, start: str) -> None:
    (folder / name).parent.mkdir(exist_ok=True)
    (folder / name).write_text("id: x\n")
    (message,) = messages(folder)
    assert message.startswith(start)


def test_links_are_not_followed(folder: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.yaml"
    outside.write_text("id: stray\n")
    (folder / "devices" / "stray.yaml").symlink_to(outside)
    (folder / "criteria" / "bench-flow.yaml").unlink()
    (folder / "criteria").rmdir()
    (folder / "criteria").symlink_to(tmp_path)
    assert messages(folder) == [
        "criteria:1:1: (file) [outside-records]: found a link, expected a folder in the records folder. "
        "Put what it stands for into the records folder itself.",
        "devices/stray.yaml:1:1: (file) [outside-records]: found a link, expected a file in the records folder. "
        "Put what it stands for into the records folder itself.",
    ]


def test_a_pipe_is_not_waited_for(folder: Path) -> None:
    os.mkfifo(folder / "devices" / "pipe.yaml")
    (message,) = messages(folder)
    assert message.startswith("devices/pipe.yaml:1:1: (file) [outside-records]: found a pipe, expected a file")


def test_a_file_that_cannot_be_read_is_a_problem(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.open

    def refuse(path: str, *arguments: Any, **options: Any) -> int:
        if path == "quill.yaml":
            raise PermissionError(13, "Permission denied")
        return real(path, *arguments, **options)

    monkeypatch.setattr(os, "open", refuse)
    # The records that name this tester are not told of: it is there.
    (found,) = messages(folder)
    assert found == (
        "testers/quill.yaml:1:1: (file) [unreadable-file]: found that it cannot be read (Permission denied), "
        "expected a file that can be read. Look at the permissions of the file."
    )


def test_a_broken_record_does_not_make_others_refer_to_nothing(folder: Path) -> None:
    (folder / "devices" / "hood.yaml").write_text("id: [\n")
    found = messages(folder)
    assert [message.split(":")[0] for message in found] == ["devices/hood.yaml"]


def test_the_catalogue_carries_the_hash_of_each_test_record(folder: Path) -> None:
    catalogue = load_catalogue(folder, REFERENCE).catalogue
    assert catalogue is not None
    # source: Python's hashlib over the file, which is what `sha256sum` prints
    expected = sha256_of((GOOD / "device_tests" / "hood-march.yaml").read_bytes())
    assert catalogue.record_sha256["hood-march"] == expected


def write_log(folder: Path, text: str | bytes) -> None:
    """Put another log in place of the good one, with its SHA-256."""
    path = folder / "logs" / "half-talk.csv"
    old = sha256_of(path.read_bytes())
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    change(folder, "device_tests/half-april.yaml", old, sha256_of(path.read_bytes()))


def test_a_log_with_a_problem_in_every_line_does_not_flood(folder: Path) -> None:
    write_log(folder, "time,conc,step,where,note\n" + "".join(f"{n},x,,ambient,\n" for n in range(500)))
    found = messages(folder)
    assert len(found) == MOST_PROBLEMS + 1
    assert "[log-more-problems]: found 20 problems above this line" in found[-1]


def test_quotes_and_windows_line_ends_in_a_log_are_read(folder: Path) -> None:
    text = (folder / "logs" / "half-talk.csv").read_text()
    text = text.replace("1,2990,,ambient,", '"1","2990","","ambient","a ""quoted"" note, with a comma"')
    write_log(folder, b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    catalogue = load_catalogue(folder, REFERENCE).catalogue
    assert catalogue is not None
    assert [sample.concentration_per_cm3 for sample in catalogue.logs["logs/half-talk.csv"].samples][:2] == [
        3000.5,
        2990,
    ]


def test_the_unit_of_a_log_is_converted(folder: Path) -> None:
    change(folder, "device_tests/half-april.yaml", "unit: /cm3", "unit: /L")
    catalogue = load_catalogue(folder, REFERENCE).catalogue
    assert catalogue is not None
    # 3000.5 per litre is 3.0005 per cubic centimetre: 1 L = 1000 cm3 (definition)
    assert catalogue.logs["logs/half-talk.csv"].samples[0].concentration_per_cm3 == pytest.approx(3.0005, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "start"),
    [
        (b"time,conc,step,where,note\n0,\xff,,ambient,\n", "logs/half-talk.csv:2:3: (file) [not-utf-8]"),
        (b'time,conc,step,where,note\n0,"1,,ambient,\n', "logs/half-talk.csv:2:1: line 2 [log-row]: found 2 values"),
        (b"", "logs/half-talk.csv:1:1: line 1 [log-heading-missing]: found no headings"),
        (b"time,conc,step,where,note\n\n", "logs/half-talk.csv:2:1: line 2 [log-row]: found 1 values"),
        (b"x" * (8 * 1024 * 1024 + 1), "logs/half-talk.csv:1:1: (file) [file-too-large]"),
    ],
    ids=["not text", "open quote", "nothing in it", "empty line", "too large"],
)
def test_a_log_that_is_no_log(folder: Path, text: bytes, start: str) -> None:
    write_log(folder, text)
    assert messages(folder)[0].startswith(start)


def test_a_log_of_an_aborted_session_may_end_early(folder: Path) -> None:
    change(
        folder,
        "device_tests/half-april.yaml",
        "outcome: completed\n    log:",
        "outcome: aborted\n    reason: pump\n    log:",
    )
    write_log(folder, "".join((GOOD / "logs" / "half-talk.csv").read_text().splitlines(keepends=True)[:6]))
    assert messages(folder) == []


def test_the_reference_data_is_good() -> None:
    reference = load_reference()
    assert "eight-standard-exercises" in reference.protocols
    assert reference.methods
    assert reference.criteria
    assert reference.caution_rules


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"id: x\n", r"found no list, expected one"),
        (b"- [\n", r"\[yaml-syntax\]"),
        (b"- {id: x}\n", r"r\.yaml:1:3: \[0\]\.title \[missing-key\]"),
        (
            b"- &a 3\n",
            r"\[anchor-not-allowed\]",
        ),
        (
            b"- {id: x, title: t, source: {document: d, edition: e, clause: c, status: own}, ambient: none,"
            b" exercises: [{id: a, name: a, duration: 3 s, counted: true}]}\n" * 2,
            r"found the id\(s\) x more than once",
        ),
    ],
)
def test_faults_of_the_reference_data_stop_the_generator(content: bytes, message: str) -> None:
    with pytest.raises(GeneratorFailed, match=message):
        items_in(content, "r.yaml", Protocol)
