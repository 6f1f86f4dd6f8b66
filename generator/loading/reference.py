"""The reference data that comes with the generator: criteria, protocols, methods, caution rules and the like."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import TypeVar

from generator import reference
from generator.errors import GeneratorFailed
from generator.loading.explain import checked
from generator.loading.yaml_source import read_yaml
from generator.model.assigned_protection import AssignedProtection
from generator.model.panel import PanelRule
from generator.model.plausibility import PlausibleRange
from generator.model.reference import CautionRule, Criterion, Method, Protocol, ScaleLandmark
from generator.model.work_gas import GasLimit, WorkGas
from generator.model.work_level import WorkLevel

_Item = TypeVar(
    "_Item",
    Criterion,
    Protocol,
    Method,
    CautionRule,
    ScaleLandmark,
    PanelRule,
    AssignedProtection,
    WorkGas,
    GasLimit,
    WorkLevel,
    PlausibleRange,
)


@dataclass(frozen=True)
class Reference:
    """Reference data by id, methods sorted by it; caution rules worst first."""

    criteria: Mapping[str, Criterion]
    protocols: Mapping[str, Protocol]
    methods: Mapping[str, Method]
    caution_rules: tuple[CautionRule, ...]
    landmarks: tuple[ScaleLandmark, ...]
    panels: Mapping[str, PanelRule]
    assigned_protection: tuple[AssignedProtection, ...]
    work_levels: tuple[WorkLevel, ...]
    work_gas: Mapping[str, WorkGas]
    gas_limits: Mapping[str, GasLimit]


@cache
def load_plausible_ranges() -> tuple[PlausibleRange, ...]:
    """Read where the numbers of records lie as a rule; no figure and no page is made from it."""
    return _items("plausible_ranges.yaml", PlausibleRange)


@cache
def _methods() -> Mapping[str, Method]:
    return {item.id: item for item in sorted(_items_below("methods", Method), key=lambda method: method.id)}


class _Methods(Mapping[str, Method]):
    """The methods, read when one is asked for: three quarters of the reference data, of which no check needs any."""

    def __getitem__(self, name: str) -> Method:
        return _methods()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(_methods())

    def __len__(self) -> int:
        return len(_methods())


@cache
def load_reference() -> Reference:
    """Read the reference data.

    Raises
    ------
    GeneratorFailed
        A file is missing or has problems. It is part of the generator, so that no record is at fault. Of a method's
        file this is told when the first method is asked for.
    """
    return Reference(
        criteria={item.id: item for item in _items("criteria.yaml", Criterion)},
        protocols={item.id: item for item in _items("protocols.yaml", Protocol)},
        methods=_Methods(),
        # Each file has its own worst first; together they stand so too.
        caution_rules=tuple(sorted(_items_below("cautions", CautionRule), key=lambda rule: rule.severity)),
        landmarks=_items("landmarks.yaml", ScaleLandmark),
        panels={item.id: item for item in _items("panels.yaml", PanelRule)},
        assigned_protection=_items("assigned_protection.yaml", AssignedProtection),
        work_levels=_items("work_levels.yaml", WorkLevel),
        work_gas={item.id: item for item in _items("carbon_dioxide_generation.yaml", WorkGas)},
        gas_limits={item.id: item for item in _items("gas_limits.yaml", GasLimit)},
    )


def _items_below(folder: str, model: type[_Item]) -> tuple[_Item, ...]:
    """Return the items of every file of a folder, in the order of the files' names; an id stands in one file only."""
    names = sorted(file.name for file in (resources.files(reference) / folder).iterdir() if file.name.endswith(".yaml"))
    items = [item for name in names for item in _items(f"{folder}/{name}", model)]
    _refuse_repeated(f"generator/reference/{folder}", [item.id for item in items])
    return tuple(items)


def _refuse_repeated(shown: str, ids: list[str]) -> None:
    again = sorted({each for each in ids if ids.count(each) > 1})
    if again:
        raise GeneratorFailed(f"{shown}: found the id(s) {', '.join(again)} more than once, expected each once.")


def _items(name: str, model: type[_Item]) -> tuple[_Item, ...]:
    file = resources.files(reference) / name
    shown = f"generator/reference/{name}"
    try:
        content = file.read_bytes()
    except FileNotFoundError as error:
        raise GeneratorFailed(f"{shown}: found no such file, expected a list. Install the generator anew") from error
    return items_in(content, shown, model)


def items_in(content: bytes, file: str, model: type[_Item]) -> tuple[_Item, ...]:
    """Return the items of one reference file: a YAML list of which each item has an `id` of its own."""
    source = read_yaml(content, file)
    if source.problems or not isinstance(source.data, list):
        found = "\n".join(str(problem) for problem in source.problems) or f"{file}: found no list, expected one."
        raise GeneratorFailed(f"{found} Mend the reference data")
    items: list[_Item] = []
    for place in range(len(source.data)):
        item, problems = checked(source, model, (place,))
        if item is None:
            raise GeneratorFailed("\n".join(str(problem) for problem in problems))
        items.append(item)
    _refuse_repeated(file, [item.id for item in items])
    return tuple(items)
