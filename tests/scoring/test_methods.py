"""Every method reproduces its outside values, and its page can be printed."""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.loading import load_catalogue, load_reference
from generator.model.difference_result import FactorDifference
from generator.model.reference import CheckValue, Method
from generator.model.result import Figure, Working
from tests.scoring.builders import score_all
from tests.scoring.check_values import function_name, module_of, reproduces

METHODS = load_reference().methods
CHECKS = [
    pytest.param(method, check, id=f"{method.id}-{number}")
    for method in METHODS.values()
    for number, check in enumerate(method.check_values)
]


@pytest.mark.parametrize(("method", "check"), CHECKS)
def test_method_reproduces_outside_value(method: Method, check: CheckValue) -> None:
    function = getattr(module_of(method), function_name(method))
    assert reproduces(function, check), function(**check.inputs)


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda method: method.id)
def test_every_method_has_a_value_that_is_not_from_memory_alone(method: Method) -> None:
    known = [
        check
        for check in method.check_values
        if "from memory" not in check.source or re.search(r"(GTC|scipy|numpy|R|fluids|pint) [0-9]", check.source)
    ]
    assert known


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda method: method.id)
def test_equation_and_symbols_can_be_printed(method: Method) -> None:
    from latex2mathml.converter import convert

    with warnings.catch_warnings():
        # ziamath reads its font through a call that Python 3.11 warns of.
        warnings.simplefilter("ignore", DeprecationWarning)
        from ziamath.zmath import Latex
    for latex in (method.equation, *(symbol.symbol for symbol in method.symbols)):
        mathml = convert(latex)
        # A command that the converter does not know is passed through with its backslash.
        assert "\\" not in mathml
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", DeprecationWarning)
            drawing = Latex(latex).svg()
        assert "<svg" in drawing


def methods_used(figure: Figure) -> Iterator[str]:
    yield figure.method
    if figure.interval is not None:
        yield figure.interval.method
    for working in (figure.working, figure.interval.working if figure.interval else None):
        if working is not None:
            yield from methods_in(working)


def methods_in(working: Working) -> Iterator[str]:
    yield working.method
    for item in working.inputs:
        if item.working is not None:
            yield from methods_in(item.working)


def test_results_name_methods_that_exist_and_symbols_that_the_method_explains() -> None:
    loaded = load_catalogue(Path("records"))
    assert loaded.catalogue is not None
    results = score_all(loaded.catalogue)
    figures = [
        figure for record in results.records.values() for topic in record.topics.values() for figure in topic.figures
    ]
    assert figures
    used = {method for figure in figures for method in methods_used(figure)}
    assert used <= set(METHODS)
    for figure in figures:
        if figure.working is not None:
            check_symbols(figure.working)
        if figure.interval is not None and figure.interval.working is not None:
            check_symbols(figure.interval.working)


def test_comparisons_and_changes_name_symbols_that_their_methods_explain() -> None:
    loaded = load_catalogue(Path("records"))
    assert loaded.catalogue is not None
    results = score_all(loaded.catalogue)
    stated: list[FactorDifference] = [each for part in results.comparisons.values() for each in part.differences]
    for device in results.devices.values():
        stated += [pair.difference for part in device.configurations for pair in part.fit]
    figures = [
        figure
        for each in stated
        for figure in (each.ratio, each.chance, each.least_chance, each.adjusted_chance, each.better_for_new_wearer)
        if figure is not None
    ]
    assert figures
    for figure in figures:
        assert (figure.value is None) == (figure.not_scored is not None) == (figure.working is None)
        assert {*methods_used(figure)} <= set(METHODS)
        if figure.value is not None:
            assert (figure.interval is None) == (figure.no_interval is not None)
    decisions = [each.decision for each in stated if each.decision is not None]
    workings = [figure.working for figure in figures] + [decision.working for decision in decisions]
    for working in workings:
        if working is not None:
            check_symbols(working)


def check_symbols(working: Working) -> None:
    explained = {general(part) for symbol in METHODS[working.method].symbols for part in symbol.symbol.split(", ")}
    for item in working.inputs:
        assert general(item.symbol) in explained, (working.method, item.symbol, explained)
        if item.working is not None:
            check_symbols(item.working)


def general(symbol: str) -> str:
    """Return a symbol without the number of its exercise or reading: `n_{3}` as `n_{i}`."""
    return re.sub(r"_\{?[0-9]+\}?$", "_{i}", symbol)


def test_every_figure_can_be_traced() -> None:
    loaded = load_catalogue(Path("records"))
    assert loaded.catalogue is not None
    for record in score_all(loaded.catalogue).records.values():
        for topic in record.topics.values():
            keys = [figure.key for figure in topic.figures]
            assert len(keys) == len(set(keys))
            for figure in topic.figures:
                assert (figure.value is None) == (figure.not_scored is not None)
                assert (figure.value is None) == (figure.working is None)
                if figure.value is not None:
                    assert (figure.interval is None) == (figure.no_interval is not None)
            assert {verdict.figure for verdict in topic.verdicts} <= set(keys)
