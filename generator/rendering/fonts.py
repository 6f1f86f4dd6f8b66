"""The two type families of the catalogue, brought along so that every machine sets it alike."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from pathlib import Path

SANS = "Source Sans 3"
SERIF = "Literata"
FACES: tuple[tuple[str, str, int], ...] = (
    # family, file name without its ending, weight
    (SANS, "SourceSans3-Regular", 400),
    (SANS, "SourceSans3-SemiBold", 600),
    (SERIF, "Literata-Regular", 400),
    (SERIF, "Literata-SemiBold", 600),
)


def font_bytes(name: str) -> bytes:
    """Return a font file of the package, such as `Literata-Regular.woff2`."""
    return (files("site_templates") / "fonts" / name).read_bytes()


@cache
def chart_font() -> Path:
    """Return the path of the face that charts are set in."""
    with as_file(files("site_templates") / "fonts" / "SourceSans3-Regular.ttf") as path:
        return path
