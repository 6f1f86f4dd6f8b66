"""A result taken apart into what can be held against another one: figures, verdicts, findings and the rest, by places.

A place stays the same whatever stands beside it: items of a list go by what names them, not by their number.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, field
from typing import Any, TypeVar

from generator.model.base import Frozen
from generator.model.result import Figure, Finding, Verdict

Plain = str | int | float | bool | None | tuple[Any, ...]
"""What is neither figure, verdict nor finding: a word, a number, or a list of such."""

_Part = TypeVar("_Part", bound=Frozen)

_NAMES = ("key", "id", "run", "session", "exercise", "standard", "run_down", "curve", "case", "reading", "test", "gas")
"""Fields of which one alone names an item among its neighbours, where there is one."""
_TOGETHER = (
    *("record", "instrument", "device", "side", "wearer", "donning", "date", "day", "rule", "criterion", "claimed"),
    *("configuration", "protocol", "blower", "counter", "aerosol", "basis", "setting", "battery", "filter", "item"),
    *("first", "second", "level", "limit", "share_off", "percent", "drops", "penetration", "at", "approval"),
    *("predicted_in", "predicted", "counts", "sense", "text", "conditions"),
)
"""Fields that together name any other item."""
_OF_STATES = ("configuration", "setting", "battery", "filter", "item")
"""Fields that together name a state of which there are runs."""
_OF_ITS_RECORD = ("record", "side")
"""What an item's own name is unique within, where the item says it."""
LEFT_OUT = frozenset({"working", "records", "withdrawn_records", "instruments", "as_of"})
"""Not taken: derivations, and what follows from a record's being there alone."""


@dataclass
class FlatResult:
    """What a result holds, each by its place."""

    figures: dict[str, Figure] = field(default_factory=dict)
    verdicts: dict[str, Verdict] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    plain: dict[str, Plain] = field(default_factory=dict)


def flat(dumped: Mapping[str, Any], elsewhere: Set[str] = frozenset(), by_key: bool = False) -> FlatResult:
    """Take apart a result as it is dumped to JSON.

    Parameters
    ----------
    dumped : mapping
        The result, as `model_dump(mode="json")` gives it.
    elsewhere : set of str
        Keys of figures and verdicts that belong to other results. Of such a one only its key is taken, as a word:
        which it is, is told here; what it is, there.
    by_key : bool
        Whether figures and verdicts go by their keys, which are unique in a record, rather than by their places.
    """
    found = FlatResult()
    _take(dumped, "", found, elsewhere, by_key)
    return found


def _take(part: Any, place: str, found: FlatResult, elsewhere: Set[str], by_key: bool) -> None:
    if isinstance(part, Mapping):
        if (_is(Figure, part) or _is(Verdict, part)) and part["key"] in elsewhere:
            found.plain[place] = part["key"]
        elif _is(Figure, part):
            found.figures.setdefault(part["key"] if by_key else place, _model(Figure, part))
        elif _is(Verdict, part):
            found.verdicts.setdefault(part["key"] if by_key else place, _model(Verdict, part))
        elif _is(Finding, part):
            found.findings.append(_model(Finding, part))
        else:
            for name, value in part.items():
                if name not in LEFT_OUT:
                    _take(value, f"{place}.{name}" if place else name, found, elsewhere, by_key)
    elif isinstance(part, list | tuple) and any(isinstance(item, Mapping) for item in part):
        for name, item in _named(part):
            _take(item, f"{place}[{name}]", found, elsewhere, by_key)
    else:
        found.plain[place] = tuple(part) if isinstance(part, list | tuple) else part


def _is(model: type[Frozen], part: Mapping[str, Any]) -> bool:
    """Say whether a mapping is a model's: it has no key that the model has not, and all that the model asks for."""
    known = model.model_fields
    return part.keys() <= known.keys() and all(name in part for name, key in known.items() if key.is_required())


def _model(model: type[_Part], part: Mapping[str, Any]) -> _Part:
    return model.model_validate(_without_workings(part), strict=False)


def _without_workings(part: Any) -> Any:
    if isinstance(part, Mapping):
        return {name: _without_workings(item) for name, item in part.items() if name != "working"}
    return part


def _named(items: list[Any] | tuple[Any, ...]) -> Iterator[tuple[str, Any]]:
    """Yield items with their names; of several by one name, later ones get their number."""
    met: dict[str, int] = {}
    for item in items:
        name = _name(item)
        met[name] = met.get(name, 0) + 1
        yield name if met[name] == 1 else f"{name} ({met[name]})", item


def _name(item: Any) -> str:
    if not isinstance(item, Mapping):
        return str(item)
    if "runs" in item:
        # A state of a device, which names the run that governs it today.
        return ", ".join(_word(item[name]) for name in _OF_STATES if item.get(name) is not None)
    own = next((name for name in _NAMES if isinstance(item.get(name), str)), None)
    # A group's number moves when another group comes before it; a claim has nothing else.
    numbered = ("number",) if "number" in item and "configuration" not in item else ()
    chosen = (*_OF_ITS_RECORD, own) if own is not None else numbered or _TOGETHER
    return ", ".join(_word(item[name]) for name in chosen if item.get(name) is not None)


def _word(value: Any) -> str:
    if isinstance(value, Mapping):
        return " ".join(_word(each) for each in value.values() if each is not None)
    return str(value)
