"""The table of likely numbers: its places exist, its units fit, and nothing of the demo lies outside."""

from __future__ import annotations

from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

from generator.contributing.checking.findings import record_findings
from generator.contributing.checking.rules import finding_rules
from generator.loading import load_catalogue
from generator.loading.model_keys import parts_of
from generator.loading.reference import load_plausible_ranges
from generator.loading.slugs import SLUGS
from generator.model.device import Device, DeviceKind
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument, InstrumentKind
from generator.model.plausibility import PlausibleRange, RecordKind
from generator.model.quantity import Quantity, QuantityOf, Readings
from generator.model.reference import Protocol
from generator.model.units import find_unit

MODELS = {
    RecordKind.DEVICE_TESTS: DeviceTest,
    RecordKind.DEVICES: Device,
    RecordKind.INSTRUMENTS: Instrument,
    RecordKind.PROTOCOLS: Protocol,
}
RULES = load_plausible_ranges()


def dimensions_in(hint: Any) -> set[str]:
    """Return the dimensions of the quantities that a type hint may hold."""
    found = {dimension for each in get_args(hint) if isinstance(each, QuantityOf) for dimension in each.dimensions}
    return found.union(*(dimensions_in(each) for each in get_args(hint)))


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_each_place_of_a_range_holds_such_a_quantity(rule: PlausibleRange) -> None:
    unit = find_unit(rule.unit)
    assert unit is not None
    for place in rule.places:
        *way, last = place.split(".")
        models: tuple[Any, ...] = (MODELS[rule.record],)
        for step in way:
            hints = [model.model_fields[step.removesuffix("[]")].annotation for model in models]
            models = tuple(part for hint in hints for part in parts_of(hint) if step.removesuffix("[]") not in ("",))
            models = tuple(model for model in models if "not_recorded" not in model.model_fields)
        (model,) = models
        hint = get_type_hints(model, include_extras=True)[last]
        if isinstance(hint, type) and issubclass(hint, Readings):
            assert unit.dimension == "flow"
        else:
            assert unit.dimension in dimensions_in(hint), place


def test_the_walk_above_can_fail() -> None:
    # A mass is no pressure, and a device has no readings.
    assert dimensions_in(get_type_hints(Device, include_extras=True)["mass"]) == {"mass"}
    assert not issubclass(Quantity, Readings)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_spans_for_kinds_go_before_the_one_for_all_others(rule: PlausibleRange) -> None:
    assert [bool(span.kinds) for span in rule.spans] == sorted((bool(span.kinds) for span in rule.spans), reverse=True)
    kinds = [kind for span in rule.spans for kind in span.kinds]
    assert len(kinds) == len(set(kinds))
    assert set(kinds) <= {*DeviceKind, *InstrumentKind}


def test_no_finding_has_the_name_of_a_problem_or_of_another_finding() -> None:
    slugs = [slug for rules in finding_rules().values() for slug in rules]
    assert len(slugs) == len(set(slugs))
    assert not set(slugs) & set(SLUGS)


def test_nothing_of_the_demo_is_unlikely(demo_records: Path) -> None:
    loaded = load_catalogue(demo_records, keep=True)
    assert loaded.kept is not None
    assert [str(told) for told in record_findings(loaded.kept.records, lambda _: True)] == []
