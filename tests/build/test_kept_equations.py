"""An equation that an earlier build drew is taken as it was; one that is damaged, or not wanted, is drawn again."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.build.kept_equations import KeptEquations
from generator.publishing.kept_files import KeptFiles
from generator.rendering import equations
from generator.rendering.equations import drawn_before, equation_svg, equation_svg_inline

LATEX = r"F = \frac{c_\mathrm{out}}{c_\mathrm{in}}"


@pytest.fixture
def kept(tmp_path: Path) -> KeptFiles:
    """Where equations are kept."""
    return KeptFiles(tmp_path / "kept", "tool")


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, float]]:
    """Every equation that is drawn, whether it was drawn before in this process or not."""
    asked: list[tuple[str, float]] = []
    draw = equations._drawn

    def noted(latex: str, size: float) -> str:
        asked.append((latex, size))
        return draw(latex, size)

    monkeypatch.setattr(equations, "_drawn", noted)
    return asked


def shown(kept: KeptFiles, *, anew: bool = False) -> tuple[str, str]:
    """Return the equation in both sizes, as a process shows it that knows none."""
    equation_svg.cache_clear()
    equation_svg_inline.cache_clear()
    with drawn_before(KeptEquations(kept, anew)):
        return equation_svg(LATEX), equation_svg_inline(LATEX)


def test_what_was_drawn_is_not_drawn_again(kept: KeptFiles, drawn: list[tuple[str, float]]) -> None:
    first = shown(kept)
    assert drawn == [(LATEX, 15), (LATEX, 11)]
    assert shown(kept) == first
    assert len(drawn) == 2
    equation_svg.cache_clear()
    assert equation_svg(LATEX) == first[0]  # with nothing kept, it is drawn just so
    assert len(drawn) == 3


def test_it_is_drawn_again_where_all_is_made_anew(kept: KeptFiles, drawn: list[tuple[str, float]]) -> None:
    first = shown(kept)
    assert shown(kept, anew=True) == first
    assert len(drawn) == 4


def test_a_damaged_drawing_is_drawn_again(kept: KeptFiles, drawn: list[tuple[str, float]], tmp_path: Path) -> None:
    first = shown(kept)
    entries = [path for path in (tmp_path / "kept").rglob("*") if path.is_file()]
    assert len(entries) == 2
    for entry in entries:
        content = entry.read_bytes()
        entry.write_bytes(content[:-9] + bytes([content[-9] ^ 1]) + content[-8:])
    assert shown(kept) == first
    assert len(drawn) == 4
