"""Pictures: what is published of them, and what is not."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from generator.loading.pictures import LONGEST_SIDE, clean_picture
from tests.demo_picture_source import PICTURES, demo_pictures

ROOT = Path(__file__).resolve().parent.parent.parent
PLACE, CAMERA, REMARK = "47 deg 03 min N", "Invented Camera 9", "a remark that nobody is to read"
ORIENTATION, MAKE, GPS, GPS_LATITUDE_REF, USER_COMMENT = 0x0112, 0x010F, 0x8825, 1, 0x9286


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def photograph(kind: str, orientation: int = 1) -> bytes:
    """Return a picture, red on the left and blue on the right, that carries all that a camera adds."""
    picture = Image.new("RGB", (60, 40), "#f00")
    picture.paste((0, 0, 255), (30, 0, 60, 40))
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKE], exif[USER_COMMENT] = orientation, CAMERA, REMARK
    exif.get_ifd(GPS)[GPS_LATITUDE_REF] = PLACE
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    stream = io.BytesIO()
    if kind == "jpg":
        picture.save(stream, "JPEG", quality=95, exif=exif, icc_profile=profile, comment=REMARK, dpi=(300, 300))
    else:
        texts = PngImagePlugin.PngInfo()
        texts.add_text("Comment", REMARK)
        texts.add_itxt("XML:com.adobe.xmp", f"<x>{REMARK}</x>")
        picture.save(stream, "PNG", exif=exif, icc_profile=profile, pnginfo=texts, dpi=(300, 300))
    return stream.getvalue()


@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_nothing_but_pixels_is_left(kind: str) -> None:
    content = photograph(kind)
    for secret in (PLACE, CAMERA, REMARK):
        assert secret.encode() in content, "the picture must hold what is to be removed"
    clean = clean_picture(content, kind)
    for secret in (PLACE, CAMERA, REMARK, "Exif", "ICC", "xmp", "JFIF\0\1\1\1\x01\x2c"):
        assert secret.encode() not in clean
    picture = opened(clean)
    assert dict(picture.getexif()) == {}
    assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


# source: Exif 2.32 (CIPA DC-008), tag Orientation: which side of the stored picture is shown on top and on the left.
# Stored: red left, blue right. Turned: 3 by half, 6 so that the left side comes on top, 8 so that it comes below.
@pytest.mark.parametrize(
    ("orientation", "size", "red_at", "blue_at"),
    [
        (1, (60, 40), (5, 20), (55, 20)),
        (2, (60, 40), (55, 20), (5, 20)),
        (3, (60, 40), (55, 20), (5, 20)),
        (6, (40, 60), (20, 5), (20, 55)),
        (8, (40, 60), (20, 55), (20, 5)),
    ],
)
@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_a_picture_is_turned_upright(
    kind: str, orientation: int, size: tuple[int, int], red_at: tuple[int, int], blue_at: tuple[int, int]
) -> None:
    picture = opened(clean_picture(photograph(kind, orientation), kind)).convert("RGB")
    assert picture.size == size
    red, blue = picture.getpixel(red_at), picture.getpixel(blue_at)
    assert isinstance(red, tuple)
    assert isinstance(blue, tuple)
    assert red[0] > 240 > 20 > red[2]
    assert blue[2] > 240 > 20 > blue[0]


@pytest.mark.parametrize(
    ("mode", "size", "expected"),
    [
        # source: by hand, the longer side becomes 1600 and the other one keeps its share of it
        ("RGB", (3200, 800), (1600, 400)),
        ("RGB", (800, 3200), (400, 1600)),
        ("RGB", (1600, 1600), (1600, 1600)),
        ("RGB", (20, 10), (20, 10)),
        ("L", (16_000, 1), (1600, 1)),
    ],
)
@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_a_picture_is_at_most_1600_pixels_long(
    kind: str, mode: str, size: tuple[int, int], expected: tuple[int, int]
) -> None:
    stream = io.BytesIO()
    Image.new(mode, size).save(stream, "PNG" if kind == "png" else "JPEG")
    assert opened(clean_picture(stream.getvalue(), kind)).size == expected
    assert LONGEST_SIDE == 1600


@pytest.mark.parametrize(
    ("mode", "kind", "expected"),
    [
        ("1", "png", "L"),
        ("L", "png", "L"),
        ("I;16", "png", "L"),
        ("LA", "png", "RGBA"),
        ("P", "png", "RGB"),
        ("RGB", "png", "RGB"),
        ("RGBA", "png", "RGBA"),
        ("L", "jpg", "L"),
        ("CMYK", "jpg", "RGB"),
    ],
)
def test_every_way_of_storing_colours_is_taken(mode: str, kind: str, expected: str) -> None:
    stream = io.BytesIO()
    Image.new(mode, (30, 20)).save(stream, "PNG" if kind == "png" else "JPEG")
    assert opened(clean_picture(stream.getvalue(), kind)).mode == expected


@pytest.mark.parametrize("kind", ["png", "jpg"])
def test_the_same_picture_gives_the_same_bytes_and_stays_as_it_is(kind: str) -> None:
    once = clean_picture(photograph(kind), kind)
    assert clean_picture(photograph(kind), kind) == once
    if kind == "png":
        assert clean_picture(once, kind) == once


def test_the_demo_pictures_are_those_of_their_source() -> None:
    # The pixels: the bytes depend on the version of the library, and a JPEG's pixels by a step or two of brightness.
    for name, content in demo_pictures().items():
        kept, drawn = (opened(each).convert("RGB") for each in ((PICTURES / name).read_bytes(), content))
        assert kept.size == drawn.size
        assert max(abs(a - b) for a, b in zip(kept.tobytes(), drawn.tobytes(), strict=True)) <= 4


@pytest.mark.parametrize(("with_pictures", "imported"), [(False, "False"), (True, "True")])
def test_the_library_is_imported_only_for_pictures(with_pictures: bool, imported: str, small_records: Path) -> None:
    records = ROOT / "records" if with_pictures else small_records
    program = (
        "import sys; from pathlib import Path; from generator.loading import load_catalogue;"
        f"assert load_catalogue(Path({str(records)!r})).catalogue; print('PIL' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout == f"{imported}\n"
