"""Equations: every method's is set both ways, each drawing named by its LaTeX."""

from __future__ import annotations

import re

import pytest
from latex2mathml import converter
from lxml import etree

from generator.loading import load_reference
from generator.model.reference import Method
from generator.rendering.equations import equation_svg, equation_svg_inline, mathml, mathml_inline

METHODS = load_reference().methods
SYMBOLS = sorted({symbol.symbol for method in METHODS.values() for symbol in method.symbols})
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("method", METHODS.values(), ids=METHODS)
def test_every_equation_is_set_both_ways(method: Method) -> None:
    page = etree.fromstring(mathml(method.equation))
    assert (page.tag, page.attrib["display"]) == ("math", "block")
    # A command that the converter does not know would stand in the page as its own name.
    assert "\\" not in "".join(page.itertext())
    paper = etree.fromstring(equation_svg(method.equation))
    assert paper.tag == f"{SVG}svg"
    assert (paper[0].tag, paper[0].text) == (f"{SVG}title", method.equation)
    assert len(list(paper.iter(f"{SVG}path"))) >= 3


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_every_symbol_is_set_both_ways(symbol: str) -> None:
    page = etree.fromstring(mathml_inline(symbol))
    assert (page.tag, dict(page.attrib)) == ("math", {})
    assert "\\" not in "".join(page.itertext())
    paper = etree.fromstring(equation_svg_inline(symbol))
    assert (paper[0].tag, paper[0].text) == (f"{SVG}title", symbol)


def test_an_upright_word_is_one_identifier() -> None:
    assert mathml_inline(r"C_{\mathrm{before}}") == "<math><msub><mi>C</mi><mi>before</mi></msub></math>"


def test_drawings_carry_no_ids_that_two_of_them_could_share() -> None:
    drawings = [equation_svg(method.equation) for method in METHODS.values()]
    assert [drawing for drawing in drawings if re.search(r'\bid="|<symbol|<use|<style|style="', drawing)] == []


def test_an_inline_drawing_is_smaller() -> None:
    large, small = (etree.fromstring(drawn(r"x^2")) for drawn in (equation_svg, equation_svg_inline))
    assert float(small.attrib["height"]) < float(large.attrib["height"])


def test_a_comparison_in_an_equation_is_escaped() -> None:
    paper = etree.fromstring(equation_svg("a < b"))
    assert paper[0].text == "a < b"
    assert "<mo>&lt;</mo>" in mathml("a < b") or "&#x0003C;" in mathml("a < b")


@pytest.mark.parametrize("method", METHODS.values(), ids=METHODS)
def test_what_is_written_shorter_says_the_same(method: Method) -> None:
    whole = etree.fromstring(converter.convert(method.equation))
    assert "".join(etree.fromstring(mathml(method.equation)).itertext()) == "".join(whole.itertext())
