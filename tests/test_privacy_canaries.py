"""Distinctive values in every private field of the records appear nowhere in what is published."""

from __future__ import annotations

import io
import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from pypdf.generic import EncodedStreamObject, StreamObject

from generator.command_line import run

DEVICE = "gorseback-half"
CANARIES = {
    "wearer id": "zephyrquagga",
    "private note": "NIGHTJAR-NOTE-7731",
    "consent": "LAPWING-CONSENT-4412",
    "fitness": "DOTTEREL-FITNESS-6604",
    "day of fitness": "2019-05-23",
    "day of consent": "2019-03-17",
    "size": "OCTAVE-SIZE-58",
    "facial hair": "stubble",
    "comment": "COMMENT-CANARY-9020",
}
DAYS_IN_WORDS = ("17 March 2019", "23 May 2019")


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> Path:
    """Publish a device that is worn, with every private field filled with a value that stands out."""
    folder = tmp_path_factory.mktemp("canaries")
    records = folder / "records"
    shutil.copytree(demo_records, records, ignore=shutil.ignore_patterns("comparisons"))
    for kind in ("devices", "device_tests"):
        for path in (records / kind).glob("*.yaml"):
            if not path.name.startswith(DEVICE):
                path.unlink()
    _unused_files_removed(records)
    worn_by = sorted({wearer for path in (records / "device_tests").iterdir() for wearer in _wearers(path)})
    for path in (records / "wearers").glob("*.yaml"):
        letter = re.search(r"^catalogue_letter: .*$", path.read_text(encoding="utf-8"), re.MULTILINE)
        assert letter is not None
        name = path.stem if path.stem not in worn_by else f"{CANARIES['wearer id']}-{worn_by.index(path.stem)}"
        path.unlink()
        (records / "wearers" / f"{name}.yaml").write_text(
            f'id: {name}\nversion: "1"\n{letter[0]}\n'
            f"consent: {{given: {CANARIES['day of consent']}, covers: {CANARIES['consent']}}}\n"
            f"fitness: {{declared: {CANARIES['day of fitness']}, how: {CANARIES['fitness']}}}\n"
            f"facial_hair: {CANARIES['facial hair']}\nprivate_note: {CANARIES['private note']}\n",
            encoding="utf-8",
        )
    for path in (records / "device_tests").iterdir():
        text = path.read_text(encoding="utf-8")
        for number, wearer in enumerate(worn_by):
            text = text.replace(f"wearer: {wearer}\n", f"wearer: {CANARIES['wearer id']}-{number}\n")
        text = re.sub(r"^    size: .*\n", "", text, flags=re.MULTILINE)
        text = re.sub(r"^(    filter: .*\n    outcome)", rf"    size: {CANARIES['size']}\n\1", text, flags=re.MULTILINE)
        path.write_text(f"# {CANARIES['comment']}\n{text}", encoding="utf-8")
    told = [path.read_text(encoding="utf-8") for path in (records / "device_tests").iterdir()]
    worn = [text for text in told if "\nfit:\n" in text]
    assert len(worn) >= 2
    assert all(CANARIES["size"] in text for text in worn)
    assert run(["publish", "--records", str(records), "--output", str(folder / "output")]) == 0
    return folder / "output"


def _unused_files_removed(records: Path) -> None:
    texts = "".join(path.read_text(encoding="utf-8") for path in records.rglob("*.yaml"))
    for path in (*(records / "pictures").iterdir(), *(records / "logs").iterdir()):
        if path.name not in texts:
            path.unlink()


def _wearers(path: Path) -> list[str]:
    return re.findall(r"^    wearer: (\S+)$", path.read_text(encoding="utf-8"), re.MULTILINE)


def streams(content: bytes) -> Iterator[bytes]:
    """Give everything a PDF holds: its text, its objects as written, its streams unpacked, its attachments."""
    reader = pypdf.PdfReader(io.BytesIO(content))
    for page in reader.pages:
        yield page.extract_text().encode()
    for name, parts in reader.attachments.items():
        yield name.encode()
        yield from parts
    for number in range(1, int(str(reader.trailer["/Size"]))):
        item = reader.get_object(number)
        yield repr(item).encode()
        if isinstance(item, StreamObject | EncodedStreamObject):
            yield item.get_data()


def contents(folder: Path) -> Iterator[tuple[str, bytes]]:
    for path in sorted(folder.rglob("*")):
        name = str(path.relative_to(folder))
        yield name, name.encode()
        if path.is_file():
            yield name, path.read_bytes()
            if path.suffix == ".pdf":
                yield from ((name, stream) for stream in streams(path.read_bytes()))


def test_no_canary_is_published(published: Path) -> None:
    words = {word.lower().encode() for word in [*CANARIES.values(), *DAYS_IN_WORDS]}
    found = [(name, word) for name, content in contents(published) for word in words if word in content.lower()]
    assert found == []


def test_of_hair_under_a_seal_a_record_says_only_in_how_many_sessions(published: Path) -> None:
    documents = [json.loads(path.read_bytes()) for path in sorted((published / "records").glob("*.json"))]
    worn = [document for document in documents if document["published_record"]["fit"]]
    assert len(worn) >= 2
    for document in worn:
        record = document["published_record"]
        completed = [session for session in record["fit"] if session["outcome"] == "completed"]
        # Every wearer of this catalogue has some.
        assert record.pop("sessions_with_hair_at_seal") == len(completed) > 0
        assert re.findall(r"\b(hair|shaven|shaved)\b", json.dumps(record).lower()) == []
        (finding,) = (item for item in document["results"]["findings"] if item["rule"] == "hair-under-seal")
        assert finding["facts"] == {"sessions": len(completed), "of": len(completed)}


def test_the_search_sees_what_is_published(published: Path) -> None:
    # What must be there is found in pages, panels, data, sheets and their attachments: so the search does look there.
    seen = {name.rpartition(".")[2] for name, content in contents(published) if b"Gorseback Half" in content}
    assert {"html", "pdf", "js"} <= seen
    attached = [name for name, content in contents(published) if b'"published_record"' in content]
    assert any(name.endswith(".pdf") for name in attached)
    assert any(name.endswith(".json") for name in attached)


def test_a_canary_in_a_packed_stream_would_be_found() -> None:
    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("note.txt", b"xx NIGHTJAR-NOTE-7731 xx")
    sheet = io.BytesIO()
    writer.write(sheet)
    assert any(b"NIGHTJAR-NOTE-7731" in stream for stream in streams(sheet.getvalue()))
