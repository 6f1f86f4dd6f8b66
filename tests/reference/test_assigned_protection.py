"""The assigned protection factors that come with the generator, held against what is known of them from elsewhere."""

from __future__ import annotations

import pytest

from generator.loading.reference import load_reference
from generator.model.device import DeviceKind, Fitting
from generator.model.reference import SourceStatus

RULES = {rule.id: rule for rule in load_reference().assigned_protection}
SEEN, SECONDARY, MEMORY = SourceStatus.SEEN, SourceStatus.SEEN_IN_SECONDARY, SourceStatus.FROM_MEMORY
OSHA, HSE = "OSHA, United States", "HSE, United Kingdom"

# source: 29 CFR 1910.134(d)(3)(i)(A), Table 1 (71 FR 50122, 24 August 2006), rows for air-purifying and powered
# air-purifying respirators, seen: half mask 10, full facepiece 50; powered half 50, full 1000, helmet or hood 25 or
# 1000, loose-fitting facepiece 25.
BY_KIND = {
    "osha-filtering-facepiece": ("filtering_facepiece", 10),
    "osha-half-facepiece": ("elastomeric_half_facepiece", 10),
    "osha-full-facepiece": ("elastomeric_full_facepiece", 50),
    "osha-powered-half-facepiece": ("tight_powered_half_facepiece", 50),
    "osha-powered-full-facepiece": ("tight_powered_full_facepiece", 1000),
    "osha-powered-loose-facepiece": ("loose_powered_facepiece", 25),
    "osha-powered-hood": ("loose_powered_hood", 25),
    "osha-powered-hood-with-evidence": ("loose_powered_hood", 1000),
}
# source: HSG53, table of assigned protection factors, as a secondary page prints it: FFP1, FFP2, FFP3 and half masks
# with P1, P2, P3: 4, 10, 20; full masks with P2, P3: 10, 40; TH1, TH2, TH3: 10, 20, 40. From memory: TM1, TM2, TM3: 10,
# 20, 40.
BY_CLASS = {
    "hse-ffp1": ("FFP1", 4, SECONDARY),
    "hse-ffp2": ("FFP2", 10, SECONDARY),
    "hse-ffp3": ("FFP3", 20, SECONDARY),
    "hse-half-mask-p1": ("P1", 4, SECONDARY),
    "hse-half-mask-p2": ("P2", 10, SECONDARY),
    "hse-half-mask-p3": ("P3", 20, SECONDARY),
    "hse-full-mask-p2": ("P2", 10, SECONDARY),
    "hse-full-mask-p3": ("P3", 40, SECONDARY),
    "hse-th1": ("TH1", 10, SECONDARY),
    "hse-th2": ("TH2", 20, SECONDARY),
    "hse-th3": ("TH3", 40, SECONDARY),
    "hse-tm1": ("TM1", 10, MEMORY),
    "hse-tm2": ("TM2", 20, MEMORY),
    "hse-tm3": ("TM3", 40, MEMORY),
}


def test_there_are_no_other_rows_than_those_tested_here() -> None:
    assert list(RULES) == [*BY_KIND, *BY_CLASS]


@pytest.mark.parametrize("rule", BY_KIND)
def test_a_factor_by_kind_is_the_published_one(rule: str) -> None:
    kind, value = BY_KIND[rule]
    found = RULES[rule]
    assert ([each.value for each in found.kinds], found.value, found.body) == ([kind], value, OSHA)
    assert (found.must_be_named, found.source.status) == (False, SEEN)
    assert found.source.clause.startswith("(d)(3)(i)(A), Table 1")


@pytest.mark.parametrize("rule", BY_CLASS)
def test_a_factor_by_class_is_the_published_one(rule: str) -> None:
    name, value, status = BY_CLASS[rule]
    found = RULES[rule]
    assert (found.named_as[0], found.value, found.source.status, found.body) == (name, value, status, HSE)
    assert found.must_be_named
    assert found.holds_for.endswith(f"of class {name}")


def test_what_is_not_designed_to_seal_has_none() -> None:
    # source: neither table has a row for surgical masks or face coverings
    with_one = {kind for rule in RULES.values() for kind in rule.kinds}
    assert with_one == {kind for kind in DeviceKind if kind.fitting is not Fitting.NONE}


def test_only_the_higher_factor_of_a_hood_needs_evidence_and_its_words_name_the_lower_one() -> None:
    (needing,) = (rule for rule in RULES.values() if rule.needs is not None)
    assert (needing.id, needing.value) == ("osha-powered-hood-with-evidence", 1000)
    assert needing.needs is not None
    assert "evidence from the manufacturer" in needing.needs
    assert needing.needs.endswith("without it the factor is 25.")


def test_classes_bind_kinds_as_their_standards_do() -> None:
    # source: EN 12941 is for loose-fitting powered devices, EN 12942 for powered masks, EN 149 for filtering half masks
    bound = {prefix: _kinds(f"hse-{prefix}") for prefix in ("th", "tm", "ffp")}
    powered = {kind for kind in DeviceKind if kind.powered}
    loose = {kind for kind in powered if kind.fitting is Fitting.LOOSE}
    assert bound == {"th": loose, "tm": powered - loose, "ffp": {DeviceKind.FILTERING_FACEPIECE}}


def _kinds(prefix: str) -> set[DeviceKind]:
    return {kind for name, rule in RULES.items() if name.startswith(prefix) for kind in rule.kinds}
