"""Pictures of records: what a stranger's file may be, and the clean picture that is made from it.

A picture is decoded here, while the records are checked, so that `inward check` finds one that is broken, and so that
nothing of the original goes further than this module: the rest of the generator has only pixels that were encoded anew.
Colours are taken as they stand, since a colour profile is one more file format for a stranger to play with.
"""

from __future__ import annotations

import io
import re
import struct
import warnings
import zlib
from typing import TYPE_CHECKING

from generator.loading.files import LARGEST_PICTURE
from generator.loading.guarded_reading import NotRead

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS = 40_000_000
"""Half as many where decoding takes twice the room: with transparency, and for progressive JPEG."""
LONGEST_SIDE = 1600
"""Pixels of the longer side of a published picture."""
_JPEG_QUALITY = 85
_MOST_PARTS = 20_000
"""Parts of a file; cameras and programs write some hundred."""
_MOST_SCANS = 100
"""Scans of a JPEG; programs write about ten, and each one is work for the whole picture."""

_PNG_START = b"\x89PNG\r\n\x1a\n"
_JPEG_START = b"\xff\xd8\xff"
# Inside a scan, FF stands before 00 or a restart marker only.
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7]")
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


_SMALLER = f"Save it smaller; it is published at most {LONGEST_SIDE} pixels long"
_TOO_EARLY = "a picture that ends too early"


def clean_picture(content: bytes, ending: str) -> bytes:
    """Return a picture of the same kind, turned upright, at most 1600 pixels long, with nothing in it but pixels.

    Raises
    ------
    NotRead
        The file is too large, not what its ending says, damaged, holds more than one picture, or has too many pixels.
    """
    if len(content) > LARGEST_PICTURE:
        found, expected = f"more than {LARGEST_PICTURE} bytes", f"at most {LARGEST_PICTURE} bytes"
        raise NotRead("file-too-large", found, expected, _SMALLER)
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
        raise _broken(_TOO_EARLY) from error
    if end != len(content):
        raise _broken(f"{len(content) - end} bytes behind the end of the picture")


def _end_of_png(content: bytes) -> int:
    place = len(_PNG_START)
    for _ in range(_MOST_PARTS):
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
    raise _broken(f"more than {_MOST_PARTS} parts")


def _end_of_jpeg(content: bytes) -> int:
    place = 2
    scans = 0
    for _ in range(_MOST_PARTS):
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
            scans += 1
            if scans > _MOST_SCANS:
                raise _broken(f"more than {_MOST_SCANS} scans")
            found = _MARKER.search(content, place)
            if found is None:
                raise _broken(_TOO_EARLY)
            place = found.start()
    raise _broken(f"more than {_MOST_PARTS} parts")


def _made_anew(content: bytes, wanted: str) -> bytes:
    # Not before: Pillow takes longer to import than all records to check, and few records have pictures.
    from PIL import Image, ImageOps

    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            with Image.open(io.BytesIO(content), formats=(wanted,)) as opened:
                _check_size(opened)
                # Made smaller before anything else, so that the large picture is in memory once.
                picture: Image.Image = opened
                if opened.mode == "P":
                    picture = opened.convert("RGBA" if opened.has_transparency_data else "RGB")
                picture.draft(picture.mode, (LONGEST_SIDE, LONGEST_SIDE))
                picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
                return _encoded(ImageOps.exif_transpose(picture), wanted)
        except NotRead:
            raise
        except (Image.DecompressionBombWarning, Image.DecompressionBombError) as error:
            found, expected = f"far more than {MOST_PIXELS} pixels", f"at most {MOST_PIXELS} pixels"
            raise NotRead("picture-too-large", found, expected, _SMALLER) from error
        # Whatever the library raises over bytes that were made to break it, the bytes are at fault.
        except Exception as error:
            raise _broken(f"data that cannot be decoded ({type(error).__name__})") from error


def _check_size(opened: Image.Image) -> None:
    width, height = opened.size
    heavy = opened.has_transparency_data or "progressive" in opened.info
    most = MOST_PIXELS // 2 if heavy else MOST_PIXELS
    if width * height > most:
        why = " where it is progressive or has transparency" if heavy else ""
        found, expected = f"{width} by {height} pixels", f"at most {most} pixels{why}"
        raise NotRead("picture-too-large", found, expected, _SMALLER)
    if getattr(opened, "n_frames", 1) != 1:
        raise NotRead("picture-animated", "several pictures in one file", "one still picture", "Save one of them")


def _encoded(picture: Image.Image, wanted: str) -> bytes:
    transparent = wanted == "PNG" and picture.has_transparency_data
    grey = picture.mode in ("1", "L", "I;16", "I")
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
