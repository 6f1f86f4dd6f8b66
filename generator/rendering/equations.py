"""LaTeX to MathML for pages, and to SVG with a title for paper, where MathML is not laid out."""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Protocol

import latex2mathml.converter
from markupsafe import Markup

# The converter makes an identifier of each letter of an upright word, which sets them apart and makes pages heavy.
_UPRIGHT_LETTERS = re.compile(r'(?:<mi mathvariant="normal">[A-Za-z]</mi>){2,}')
_TAGS = re.compile(r"<[^<>]+>")


_NUMBERED_SIGN = re.compile(r"&#x0([0-9A-F]{4});")
"""How the converter writes most signs, in three times their bytes."""
_FENCE = re.compile(r' stretchy="true" fence="true" form="(?:prefix|postfix)"(?=>[()\[\]{}])')
"""What holds for a bracket at the start or the end of its row anyway (MathML Core, operator dictionary)."""
_WHOLE_ROW = re.compile(r"(<math[^>]*>)<mrow>(.*)</mrow></math>", re.DOTALL)
"""The converter sets all of an equation in a row, which `math` itself is."""
_LONE_IN_ROW = re.compile(r"<mrow>(<(m[ino])[^>]*>[^<]*</\2>)</mrow>")


def _lightened(markup: str) -> Markup:
    """Return the converter's markup with whole words, without rows of one and without what a page says anyway."""
    light = _UPRIGHT_LETTERS.sub(lambda word: f"<mi>{_TAGS.sub('', word[0])}</mi>", markup)
    light = _NUMBERED_SIGN.sub(_sign, light)
    light = _WHOLE_ROW.sub(r"\1\2</math>", _FENCE.sub("", light))
    light = _LONE_IN_ROW.sub(r"\1", _LONE_IN_ROW.sub(r"\1", light))
    # The lines of an equation are as large as an equation of one line.
    light = light.replace("<mtable>", '<mtable displaystyle="true">')
    return Markup(light.replace(' xmlns="http://www.w3.org/1998/Math/MathML"', "").replace(' display="inline"', ""))


def _sign(numbered: re.Match[str]) -> str:
    sign = chr(int(numbered[1], 16))
    return numbered[0] if sign in "<>&" else sign


@cache
def mathml(latex: str) -> Markup:
    """Return an equation as MathML on a line of its own."""
    return _lightened(latex2mathml.converter.convert(latex, display="block"))


@cache
def mathml_inline(latex: str) -> Markup:
    """Return a symbol as MathML within a line."""
    return _lightened(latex2mathml.converter.convert(latex))


class DrawnBefore(Protocol):
    """Drawings that were made before, by the LaTeX and the size."""

    def get(self, latex: str, size: float) -> str | None:
        """Return a drawing, or None where there is none."""

    def put(self, latex: str, size: float, drawing: str) -> None:
        """Take a new one."""


_drawn_before: list[DrawnBefore] = []


@contextmanager
def drawn_before(drawings: DrawnBefore) -> Iterator[None]:
    """Take drawings from there meanwhile, and put new ones there: to draw one takes 40 ms."""
    _drawn_before.append(drawings)
    try:
        yield
    finally:
        _drawn_before.pop()


def _svg(latex: str, size: float) -> Markup:
    if not _drawn_before:
        return Markup(_drawn(latex, size))
    before = _drawn_before[-1]
    drawing = before.get(latex, size)
    if drawing is None:
        drawing = _drawn(latex, size)
        before.put(latex, size, drawing)
    return Markup(drawing)


def _drawn(latex: str, size: float) -> str:
    with warnings.catch_warnings():
        # The library warns at its import of what does not concern its use here.
        warnings.simplefilter("ignore")
        from ziamath.config import config
        from ziamath.zmath import Latex

    # Plain paths instead of symbols and ids, of which two equations on one sheet would share some.
    config.svg2 = False
    drawn: str = Latex(latex, size=size).svg()
    title = f"<title>{Markup.escape(latex)}</title>"
    return drawn.replace(">", f">{title}", 1)


@cache
def equation_svg(latex: str) -> Markup:
    """Return an equation as SVG, its LaTeX as title."""
    return _svg(latex, 15)


@cache
def equation_svg_inline(latex: str) -> Markup:
    """Return a symbol as small SVG, its LaTeX as title."""
    return _svg(latex, 11)
