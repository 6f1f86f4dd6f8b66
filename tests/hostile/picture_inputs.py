"""Hostile pictures, each beside the problem that it must give, written before it was tried.

Source of every expectation: the rules of the record guide. The formats are built by hand from their specifications:
PNG (third edition, section 5) and JPEG (ITU-T T.81, annex B).
"""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from PIL import Image

from tests.hostile.yaml_inputs import DEVICE, DEVICE_FILE

PNG_START = b"\x89PNG\r\n\x1a\n"
NAME = "pictures/stranger"


def part(kind: bytes, body: bytes = b"") -> bytes:
    """Return one part of a PNG file."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def head(width: int, height: int, colour: int = 2) -> bytes:
    """Return the first part of a PNG file of 8 bits a sample; colour 2 is RGB, 6 RGB with transparency, 0 grey."""
    return part(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, colour, 0, 0, 0))


def png_of(width: int, height: int, *more: bytes, colour: int = 2) -> bytes:
    """Return a black PNG picture with more parts before its pixels."""
    row = b"\0" * (1 + width * {0: 1, 2: 3, 6: 4}[colour])
    packer = zlib.compressobj(1)
    pixels = b"".join(packer.compress(row) for _ in range(height)) + packer.flush()
    return PNG_START + head(width, height, colour) + b"".join(more) + part(b"IDAT", pixels) + part(b"IEND")


@cache
def good_png() -> bytes:
    """Return a small picture."""
    return png_of(8, 6)


@cache
def good_jpeg(**options: int) -> bytes:
    """Return a small picture."""
    stream = io.BytesIO()
    Image.new("RGB", (64, 48), "#888").save(stream, "JPEG", **options)
    return stream.getvalue()


def _scans() -> bytes:
    """Repeat the last scan of a progressive picture five thousand times: each one is work for the whole picture."""
    content = good_jpeg(progressive=1)
    last = content.rindex(b"\xff\xda")
    return content[:last] + content[last:-2] * 5_000 + content[-2:]


def _large_jpeg_head() -> bytes:
    content = good_jpeg()
    place = content.index(b"\xff\xc0") + 5
    return content[:place] + struct.pack(">HH", 65_000, 65_000) + content[place + 4 :]


@dataclass(frozen=True)
class HostilePicture:
    """One hostile picture of a device."""

    name: str
    make: Callable[[], bytes]
    slug: str
    ending: str = "png"

    def put_into(self, folder: Path) -> tuple[str, ...]:
        """Write the picture and a device that refers to it; return what must be said of it."""
        content, file = self.make(), f"{NAME}.{self.ending}"
        refer(folder, content, file)
        (folder / "pictures").mkdir()
        (folder / file).write_bytes(content)
        return (f"{file}:1:1 {self.slug}",) if self.slug else ()


def refer(folder: Path, content: bytes, file: str) -> None:
    """Write a device with one picture; its file stands in line 17, from column 11 on, its hash in line 18."""
    digest = hashlib.sha256(content).hexdigest()
    text = (
        f"{DEVICE}mass: 12 g\npictures:\n  - file: {file}\n    sha256: {digest}\n    caption: none\n    shows: none\n"
    )
    (folder / DEVICE_FILE).write_text(text)


@dataclass(frozen=True)
class HostileReference:
    """A picture that is not what the device says of it."""

    name: str
    put: Callable[[Path], None]
    expected: tuple[str, ...]

    def put_into(self, folder: Path) -> tuple[str, ...]:
        """Write it; return what must be said of it."""
        (folder / "pictures").mkdir()
        self.put(folder)
        return self.expected


def _other_hash(folder: Path) -> None:
    refer(folder, b"other", f"{NAME}.png")
    (folder / f"{NAME}.png").write_bytes(good_png())


def _linked(folder: Path) -> None:
    refer(folder, good_png(), f"{NAME}.png")
    (folder.parent / "secret.png").write_bytes(good_png())
    (folder / f"{NAME}.png").symlink_to(folder.parent / "secret.png")


def _unused(folder: Path) -> None:
    (folder / f"{NAME}.png").write_bytes(good_png())


_ANIMATION = part(b"acTL", struct.pack(">II", 2, 0))
_PROFILE = part(b"iCCP", b"x\0\0" + zlib.compress(b"\0" * 300_000_000))
_TEXT = part(b"zTXt", b"x\0\0" + zlib.compress(b"\0" * 300_000_000))

PICTURES = (
    HostilePicture("a GIF named PNG", lambda: b"GIF89a" + b"\0" * 99, "picture-kind"),
    HostilePicture(
        "a drawing that holds a program", lambda: b"<svg xmlns='x'><script>1</script></svg>", "picture-kind"
    ),
    HostilePicture("a TIFF named JPEG", lambda: b"II*\0" + b"\0" * 99, "picture-kind", "jpg"),
    HostilePicture("a WebP named PNG", lambda: b"RIFF\0\0\0\0WEBPVP8 ", "picture-kind"),
    HostilePicture("a HEIC named JPEG", lambda: b"\0\0\0\x18ftypheic" + b"\0" * 99, "picture-kind", "jpeg"),
    HostilePicture("a document named PNG", lambda: b"%PDF-1.7\n", "picture-kind"),
    HostilePicture("a page named PNG", lambda: b"<!doctype html><script>1</script>", "picture-kind"),
    HostilePicture("an archive named JPEG", lambda: b"PK\x03\x04" + b"\0" * 99, "picture-kind", "jpg"),
    HostilePicture("nothing named PNG", lambda: b"", "picture-kind"),
    HostilePicture("a PNG named JPEG", good_png, "picture-kind", "jpg"),
    HostilePicture("a JPEG named PNG", good_jpeg, "picture-kind"),
    HostilePicture("a PNG that ends early", lambda: good_png()[:-20], "picture-broken"),
    HostilePicture("a PNG of its first bytes", lambda: PNG_START, "picture-broken"),
    HostilePicture("a JPEG that ends early", lambda: good_jpeg()[:-20], "picture-broken", "jpg"),
    HostilePicture("a JPEG of its first bytes", lambda: b"\xff\xd8\xff", "picture-broken", "jpg"),
    HostilePicture("an archive behind a PNG", lambda: good_png() + b"PK\x03\x04", "picture-broken"),
    HostilePicture("a page behind a JPEG", lambda: good_jpeg() + b"<script>1</script>", "picture-broken", "jpg"),
    HostilePicture("a second JPEG behind the first", lambda: good_jpeg() * 2, "picture-broken", "jpg"),
    HostilePicture("a wrong checksum", lambda: good_png()[:-1] + b"\0", "picture-broken"),
    HostilePicture(
        "pixels that cannot be unpacked",
        lambda: PNG_START + head(8, 6) + part(b"IDAT", b"x" * 99) + part(b"IEND"),
        "picture-broken",
    ),
    HostilePicture("a picture without pixels", lambda: PNG_START + head(8, 6) + part(b"IEND"), "picture-broken"),
    HostilePicture("a picture of no width", lambda: png_of(0, 6), "picture-broken"),
    HostilePicture(
        "a part of four thousand million bytes",
        lambda: PNG_START + b"\xff\xff\xff\xffIHDR" + b"\0" * 99,
        "picture-broken",
    ),
    HostilePicture("half a million parts", lambda: png_of(8, 6, part(b"teXt") * 500_000), "picture-broken"),
    HostilePicture("a bomb in its profile", lambda: png_of(8, 6, _PROFILE), "picture-broken"),
    HostilePicture("a bomb in its text", lambda: png_of(8, 6, _TEXT), "picture-broken"),
    HostilePicture(
        "a bomb by its head",
        lambda: PNG_START + head(50_000, 50_000) + part(b"IDAT") + part(b"IEND"),
        "picture-too-large",
    ),
    HostilePicture("one pixel too many", lambda: png_of(40_000_001, 1, colour=0), "picture-too-large"),
    HostilePicture("forty million transparent pixels", lambda: png_of(8_000, 5_000, colour=6), "picture-too-large"),
    HostilePicture("a JPEG that is a bomb by its head", _large_jpeg_head, "picture-too-large", "jpg"),
    HostilePicture("a picture that moves", lambda: png_of(8, 6, _ANIMATION), "picture-animated"),
    HostilePicture("five thousand scans", _scans, "picture-broken", "jpg"),
    HostilePicture(
        "eight million filling bytes",
        lambda: good_jpeg()[:2] + b"\xff" * 8_000_000 + good_jpeg()[2:],
        "picture-broken",
        "jpg",
    ),
    HostilePicture(
        "a segment without length", lambda: b"\xff\xd8\xff\xe0\0\0" + good_jpeg()[2:], "picture-broken", "jpg"
    ),
    HostilePicture("a picture of nine million bytes", lambda: good_png() + b"\0" * 9_000_000, "file-too-large"),
    HostilePicture("forty million pixels, which are allowed", lambda: png_of(8_000, 5_000), ""),
    HostilePicture("one line of forty million pixels", lambda: png_of(40_000_000, 1, colour=0), ""),
)

REFERENCES = (
    HostileReference("a picture with another hash", _other_hash, (f"{DEVICE_FILE}:18:13 picture-changed",)),
    HostileReference("a picture that is a link", _linked, (f"{NAME}.png:1:1 outside-records",)),
    HostileReference(
        "a picture that nothing refers to",
        _unused,
        (f"{NAME}.png:1:1 picture-unused",),
    ),
    HostileReference(
        "a drawing as a picture",
        lambda folder: refer(folder, b"", f"{NAME}.svg"),
        (f"{DEVICE_FILE}:17:11 wrong-form",),
    ),
    HostileReference(
        "a picture out of the records",
        lambda folder: refer(folder, b"", "pictures/../../secret.png"),
        (f"{DEVICE_FILE}:17:11 wrong-form",),
    ),
)

HOSTILE_PICTURES = (*PICTURES, *REFERENCES)
