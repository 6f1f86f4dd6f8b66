"""Pictures of records: what a stranger's file may be, and the clean picture that is made from it.

A picture is decoded here, while the records are checked, so that `inward check` finds one that is broken, and so that
nothing of the original goes further than this module: the rest of the generator has only pixels that were encoded anew.
Colours are taken as they stand, since a colour profile is one more file format for a stranger to play with.
"""

from __future__ import annotations

import io
import struct
import warnings
import zlib
from typing import TYPE_CHECKING

from generator.loading.files import LARGEST_PICTURE
from generator.loading.guarded_reading import NotRead

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 40_000_000
LONGEST_SIDE = 1600
"""Pixels of the longer side of a published picture."""
_JPEG_QUALITY = 85

_PNG_START = b"\x89PNG\r\n\x1a\n"
_JPEG_START = b"\xff\xd8\xff"
_FORMATS = {"png": "PNG", "jpg": "JPEG", "jpeg": "JPEG"}
_OTHER_STARTS = (
    (0, (b"GIF87a", b"GIF89a"), "a GIF picture"),
    (0, (b"II*\x00", b"MM\x00*"), "a TIFF picture"),
    (0, (b"BM",), "a BMP picture"),
    (0, (b"%PDF",), "a PDF document"),
    (0, (b"PK\x03\x04",), "an archive"),
    (8, (b"WEBP",), "a WebP picture"),
    (4, (b"ftyp",), "a HEIC picture or a film"),
)


def clean_picture(content: bytes, ending: str) -> bytes:
    """Return a picture of the same kind, turned upright, at most 1600 pixels long, with nothing in it but pixels.

    Raises
    ------
    NotRead
        The file is too large, not what its ending says, damaged, holds more than one picture, or has too many pixels.
    """
    if len(content) > LARGEST_PICTURE:
        found, expected = f"more than {LARGEST_PICTURE} bytes", f"at most {LARGEST_PICTURE} bytes"
        raise NotRead("file-too-large", found, expected, "Save it smaller; it is published at most 1600 pixels long")
    wanted = _FORMATS[ending]
    found = _kind(content)
    if found != wanted:
        expected = f"a {wanted} picture, as the ending says"
        raise NotRead("picture-kind", found, expected, "Save it as PNG or JPEG, and name it by what it is")
    _check_whole(content, wanted)
    return _made_anew(content, wanted)


def _kind(content: bytes) -> str:
    if content.startswith(_PNG_START):
        return "PNG"
    if content.startswith(_JPEG_START):
        return "JPEG"
    for place, starts, words in _OTHER_STARTS:
        if content[place:].startswith(starts):
            return words
    if b"<svg" in content[:4096].lower():
        return "an SVG drawing, which can hold programs"
    return "something else" if content else "nothing"


def _check_whole(content: bytes, wanted: str) -> None:
    """Refuse a file that ends early, goes on behind its picture, or moves."""
    try:
        end = _end_of_png(content) if wanted == "PNG" else _end_of_jpeg(content)
    except (IndexError, struct.error) as error:
        raise _broken("a picture that ends too early") from error
    if end != len(content):
        raise _broken(f"{len(content) - end} bytes behind the end of the picture")


def _end_of_png(content: bytes) -> int:
    place = len(_PNG_START)
    while True:
        length: int = struct.unpack_from(">I", content, place)[0]
        kind = content[place + 4 : place + 8]
        body_end = place + 8 + length
        checksum: int = struct.unpack_from(">I", content, body_end)[0]
        if zlib.crc32(content[place + 4 : body_end]) != checksum:
            raise _broken("a damaged part (its checksum is wrong)")
        if kind == b"acTL":
            raise NotRead("picture-animated", "a picture that moves", "one still picture", "Save one frame of it")
        place = body_end + 4
        if kind == b"IEND":
            return place


def _end_of_jpeg(content: bytes) -> int:
    place = 2
    while True:
        if content[place] != 0xFF:
            raise _broken("a damaged part (a marker is missing)")
        marker = content[place + 1]
        if marker == 0xD9:
            return place + 2
        if marker == 0xFF:  # filling
            place += 1
            continue
        length: int = struct.unpack_from(">H", content, place + 2)[0]
        place += 2 + length
        if marker == 0xDA:
            place = _end_of_scan(content, place)


def _end_of_scan(content: bytes, place: int) -> int:
    """Return where the next marker begins: inside a scan, FF stands before 00 or a restart marker only."""
    while True:
        place = content.find(b"\xff", place)
        if place < 0:
            raise IndexError
        following = content[place + 1]
        if following == 0 or 0xD0 <= following <= 0xD7:
            place += 2
        else:
            return place


def _made_anew(content: bytes, wanted: str) -> bytes:
    # Not before: Pillow takes longer to import than all records to check, and few records have pictures.
    from PIL import Image, ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            with Image.open(io.BytesIO(content), formats=(wanted,)) as opened:
                _check_size(opened)
                upright = ImageOps.exif_transpose(opened)
                upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                return _encoded(upright, wanted)
        except NotRead:
            raise
        # Whatever the library raises over bytes that were made to break it, the bytes are at fault.
        except Exception as error:
            raise _broken(f"data that cannot be decoded ({type(error).__name__})") from error


def _check_size(opened: Image) -> None:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        found, expected = f"{width} by {height} pixels", f"at most {MOST_PIXELS} pixels"
        raise NotRead("picture-too-large", found, expected, "Save it smaller; it is published at most 1600 pixels long")
    if getattr(opened, "n_frames", 1) != 1:
        raise NotRead("picture-animated", "several pictures in one file", "one still picture", "Save one of them")


def _encoded(picture: Image, wanted: str) -> bytes:
    transparent = wanted == "PNG" and picture.has_transparency_data
    grey = picture.mode in ("1", "L", "I;16", "I", "F")
    pixels = picture.convert("RGBA" if transparent else "L" if grey else "RGB")
    # What came with the file (place, camera, comments, profiles) hangs on here, and would be written again.
    pixels.info.clear()
    stream = io.BytesIO()
    if wanted == "PNG":
        pixels.save(stream, "PNG")
    else:
        pixels.save(stream, "JPEG", quality=_JPEG_QUALITY)
    return stream.getvalue()


def _broken(found: str) -> NotRead:
    remedy = "Open it in an image program and save it anew"
    return NotRead("picture-broken", found, "one whole picture and nothing else", remedy)
