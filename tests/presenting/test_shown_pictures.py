"""Pictures on pages: where they are published, what stands beside them, and that only their pixels go out."""

from __future__ import annotations

import hashlib
from pathlib import Path

from generator.loading import load_catalogue
from generator.model.published import published
from generator.presenting.page_parts import PictureView
from generator.presenting.whole_site import present
from generator.rendering.pages import page_markup
from generator.scoring.catalogue import score_catalogue
from tests.loading.test_pictures import CAMERA, PLACE, REMARK, photograph

RECORD = "patchwork-cover-2025-03"
DEVICE = "patchwork-cover"


def add_picture(folder: Path, record: str, name: str, caption: str) -> None:
    kind = name.rpartition(".")[2]
    content = photograph("png" if kind == "png" else "jpg")
    (folder / "pictures").mkdir(exist_ok=True)
    (folder / "pictures" / name).write_bytes(content)
    path = folder / record
    path.write_text(
        f"{path.read_text()}pictures:\n  - file: pictures/{name}\n    sha256: {hashlib.sha256(content).hexdigest()}\n"
        f"    caption: {caption}\n    shows: half red & half blue\n"
    )


def test_a_picture_stands_on_its_page_with_its_words_and_nothing_of_the_original(small_records: Path) -> None:
    add_picture(small_records, f"device_tests/{RECORD}.yaml", "bench.jpeg", "The <b>bench</b>")
    add_picture(small_records, f"devices/{DEVICE}.yaml", "cover.png", "The cover")
    loaded = load_catalogue(small_records)
    assert loaded.problems == ()
    assert loaded.catalogue is not None
    out = published(loaded.catalogue)
    site = present(out, score_catalogue(out))

    (record,), (device,) = site.records, site.devices
    assert record.pictures == (PictureView(f"pictures/{RECORD}-1.jpg", "half red & half blue", "The <b>bench</b>"),)
    assert device.design.pictures == (
        PictureView(f"pictures/devices/{DEVICE}-1.png", "half red & half blue", "The cover"),
    )
    files = {picture.path: picture.content for picture in site.pictures}
    assert files.keys() == {f"pictures/{RECORD}-1.jpg", f"pictures/devices/{DEVICE}-1.png"}
    for content in files.values():
        assert not any(secret.encode() in content for secret in (PLACE, CAMERA, REMARK))

    page = page_markup("record.html", record, site.letterhead)
    assert f'<img src="../pictures/{RECORD}-1.jpg" alt="half red &amp; half blue" loading="lazy">' in page
    assert "<figcaption>The &lt;b&gt;bench&lt;/b&gt;</figcaption>" in page
    assert f'src="../pictures/devices/{DEVICE}-1.png"' in page_markup("device.html", device, site.letterhead)


def test_a_page_without_pictures_has_no_room_for_them(small_records: Path) -> None:
    loaded = load_catalogue(small_records)
    assert loaded.catalogue is not None
    out = published(loaded.catalogue)
    site = present(out, score_catalogue(out))
    assert site.pictures == ()
    assert 'id="pictures"' not in page_markup("record.html", site.records[0], site.letterhead)
