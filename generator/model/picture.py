"""A picture that belongs to a record."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from generator.model.base import Frozen, Sha256, Text

PictureFile = Annotated[
    str, StringConstraints(pattern=r"^pictures/[a-z0-9]+([-_][a-z0-9]+)*\.(png|jpg|jpeg)$", max_length=80)
]


class Picture(Frozen):
    """A photograph or drawing. It is published made anew, without place, camera and whatever else its file holds."""

    file: PictureFile
    """The picture, below the records folder: PNG or JPEG, at most 8 MiB and 40 million pixels."""
    sha256: Sha256
    """SHA-256 of the file, as `sha256sum` prints it, so that a later change is noticed."""
    caption: Text
    """The line below the picture."""
    shows: Text
    """What is to be seen, for a reader who does not see it. No wearer's face."""
