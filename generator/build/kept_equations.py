"""Equations drawn for paper, kept from one build to the next: to draw those of one data sheet takes most of a second.

They are found by what they say and by the tools alone, so that every sheet, changed or not, has the same ones. Each is
drawn again when it has been kept for 30 days, whether it is used or not.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.build.canonical import digest_of
from generator.publishing.kept_files import KeptFiles, KeptFileSpoiled

_DRAWING = "equation.svg"


@dataclass(frozen=True)
class KeptEquations:
    """The drawings of equations in a folder of kept files."""

    kept: KeptFiles
    anew: bool
    """Whether what was kept before is left alone."""

    def get(self, latex: str, size: float) -> str | None:
        """Return a drawing, or None where none is kept that is whole."""
        entry = None if self.anew else self.kept.get(_key(latex, size))
        try:
            return entry.read(_DRAWING).decode() if entry is not None else None
        except (KeptFileSpoiled, KeyError, ValueError):
            return None

    def put(self, latex: str, size: float, drawing: str) -> None:
        """Keep a drawing.

        Raises
        ------
        PublishFailed
            The system refused.
        """
        self.kept.put(_key(latex, size), {}, {_DRAWING: drawing.encode()})


def _key(latex: str, size: float) -> str:
    return digest_of("equation", latex, size)
