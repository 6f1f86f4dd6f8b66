"""Which column of a log holds what, by what was told or by words in the headings; and the unit of the readings."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.contributing.taking_in.cells import is_like_a_number, is_number_or_time, plain_number
from generator.contributing.taking_in.layout import Layout
from generator.contributing.taking_in.told import NOT_USED, Choice, Told, Unclear
from generator.loading.characters import shortened
from generator.model.units import units_of

_WORD = re.compile(r"[a-z]+")
_WORDS = {
    "time": {"time", "t", "clock", "when", "seconds", "minutes", "elapsed", "timestamp"},
    "concentration": {"concentration", "conc", "inside", "particles", "count", "counts", "mask"},
    "outside": {"outside", "ambient", "room"},
    "exercise": {"exercise", "step", "activity", "movement"},
    "sampling": {"sampling", "drawn", "air", "valve"},
}
"""Plain words by which a heading is known; what they do not tell is asked."""
_QUESTIONS = {
    "time": "Which column holds the time?",
    "concentration": "Which column holds the concentration, inside where there are two?",
    "outside": "Which column holds the second channel, that counts outside all the time?",
    "exercise": "Which column holds the exercise?",
    "sampling": "Which column tells what air was drawn?",
}
_OTHERS = 0.1
"""Share of the cells of a column that may be something else than what it holds."""
_MARKS = ("exercise", "sampling")

_IN_BRACKETS = re.compile(r"[\[(]([^\[\]()]{1,30})[\])]")
_AFTER_WORD = re.compile(r"((?:per[_ ]?|/)(?:cm3|cc|l|liter|litre|m3))$")
_SPELLINGS = {
    "/cm3": ("/cm3", "/cc", "cm-3", "cc-1", "percm3", "percc", "/ccm"),
    "/L": ("/l", "/liter", "/litre", "l-1", "perl", "perliter", "perlitre", "/dm3"),
    "/m3": ("/m3", "m-3", "perm3"),
}
_COUNTED = re.compile(r"^(?:#|1|p|n|particles?|counts?)(?=/|per|cm|cc|l-1|m-)")


@dataclass(frozen=True)
class Columns:
    """Places of the columns that are read, counted from 0; None for what a log does not have."""

    time: int
    concentration: int
    outside: int | None
    exercise: int | None
    sampling: int | None


def columns_of(layout: Layout, sample: Sequence[Sequence[str]], told: Told) -> Columns:
    """Find the columns of a log; `sample` are some of its rows.

    Raises
    ------
    Unclear
        Neither what was told nor the headings say which one it is.
    """
    numeric = [place for place in range(layout.width) if _all(is_like_a_number, sample, place)]
    timely = [place for place in range(layout.width) if _all(is_number_or_time, sample, place)]
    time = _column("time", layout, told.time, range(layout.width))
    if time is None:
        time = _only([place for place in timely if place not in numeric] or _rising(layout, sample, numeric))
    time = _needed("time", time, layout, timely)
    rest = [place for place in numeric if place != time]
    outside = _column("outside", layout, told.outside, rest)
    concentration = _column("concentration", layout, told.concentration, [each for each in rest if each != outside])
    if concentration is None:
        concentration = _only([place for place in rest if place != outside])
    concentration = _needed("concentration", concentration, layout, rest)
    taken = {time, concentration, outside}
    free = [place for place in range(layout.width) if place not in taken]
    exercise, sampling = (_column(name, layout, getattr(told, name), free) for name in _MARKS)
    return Columns(time, concentration, outside, exercise, sampling)


def _all(test: Callable[[str], bool], sample: Sequence[Sequence[str]], place: int) -> bool:
    """Say whether a column holds little else; rows may lack a reading, and what is none is told by its line later."""
    cells = [cells[place] for cells in sample if cells[place]]
    others = len(cells) - sum(map(test, cells))
    return 2 * others < len(cells) and others <= max(1, _OTHERS * len(cells))


def _rising(layout: Layout, sample: Sequence[Sequence[str]], numeric: Sequence[int]) -> list[int]:
    """Return the columns of numbers that never go down and do go up."""
    rising = []
    for place in numeric:
        plain = [plain_number(cells[place], layout.decimal) for cells in sample]
        values = [float(each) for each in plain if each is not None]
        if values == sorted(values) and values[:1] != values[-1:]:
            rising.append(place)
    return rising


def _only(places: Sequence[int]) -> int | None:
    return places[0] if len(places) == 1 else None


def _column(name: str, layout: Layout, told: str | None, fitting: Sequence[int]) -> int | None:
    if told == NOT_USED:
        return None
    if told is not None:
        return _told_column(name, layout, told)
    words = _WORDS[name]
    found = [
        place for place in fitting if layout.headings and words & set(_WORD.findall(layout.headings[place].lower()))
    ]
    if len(found) > 1:
        raise _unclear(name, f"{len(found)} columns that could hold it", layout, found)
    return _only(found)


def _told_column(name: str, layout: Layout, told: str) -> int:
    if told in layout.headings:
        if layout.headings.count(told) > 1:
            places = [place for place, heading in enumerate(layout.headings) if heading == told]
            raise _unclear(name, f"the heading `{shortened(told)}` more than once", layout, places)
        return layout.headings.index(told)
    if told.isascii() and told.isdecimal() and 1 <= int(told[:4]) <= layout.width:
        return int(told) - 1
    raise _unclear(name, f"no column `{shortened(told)}`", layout, range(layout.width))


def _needed(name: str, place: int | None, layout: Layout, fitting: Sequence[int]) -> int:
    if place is None:
        raise _unclear(name, f"no column that is surely the {name}", layout, fitting or range(layout.width))
    return place


def _unclear(name: str, found: str, layout: Layout, places: Sequence[int]) -> Unclear:
    choices = [Choice(str(place + 1), shortened(layout.headings[place]) if layout.headings else "") for place in places]
    return Unclear(f"--{name}", found, _QUESTIONS[name], choices)


def concentration_unit(heading: str, told: str | None) -> str:
    """Return the unit of the readings, as the table of units spells it.

    Raises
    ------
    Unclear
        The heading names none of the table, or none at all.
    """
    units = units_of("concentration")
    if told is not None:
        if told in units:
            return told
        raise Unclear(
            "--unit", f"the unit `{shortened(told)}`", "In which unit was it counted?", [Choice(each) for each in units]
        )
    written = (
        heading.lower().replace("\N{SUPERSCRIPT THREE}", "3").replace("\N{SUPERSCRIPT MINUS}", "-").replace("^", "")
    )
    for candidate in (*_IN_BRACKETS.findall(written), *_AFTER_WORD.findall(written)):
        bare = _COUNTED.sub("", candidate.replace(" ", "").replace("_", ""))
        for unit, spellings in _SPELLINGS.items():
            if bare in spellings:
                return unit
    found = f"no unit that is known in the heading `{shortened(heading)}`"
    raise Unclear("--unit", found, "In which unit was it counted?", [Choice(each) for each in units])
