"""Findings in the records of the files that are named: unlikely numbers, slips, and what scoring notices."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from generator.contributing.checking.finding_words import Words, caution_words, slip_words, unlikely_words
from generator.contributing.checking.places import steps_to
from generator.contributing.checking.remarks import Level, Remark, remark
from generator.loading.records import Records, good, record_of
from generator.loading.reference import load_plausible_ranges
from generator.loading.yaml_source import Steps, YamlSource
from generator.model.base import Frozen
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.plausibility import RecordKind
from generator.scoring.plausible_values import unlikely_values
from generator.scoring.record_slips import Slip, copied_readings, slips_of_instrument, slips_of_test

IsNamed = Callable[[str], bool]
"""Says of a file whether it was named."""


def record_findings(records: Records, is_named: IsNamed) -> Iterator[Remark]:
    """Return what is unlikely or contradictory in the records of the named files that could be read."""
    for kind in RecordKind:
        rules = [rule for rule in load_plausible_ranges() if rule.record is kind]
        for entry, record in good(getattr(records, kind.value)):
            if is_named(entry.source.file):
                for unlikely in unlikely_values(record, _kinds(record, records), rules):
                    yield _told(entry.source, unlikely.steps, unlikely.rule.id, unlikely_words(unlikely))
    for entry, instrument in good(records.instruments):
        if is_named(entry.source.file):
            yield from _slips(entry.source, slips_of_instrument(instrument))
    for entry, test in good(records.device_tests):
        if is_named(entry.source.file):
            yield from _slips(entry.source, slips_of_test(test))
    tests = sorted((test for _, test in good(records.device_tests)), key=lambda test: (test.dates.issued, test.id))
    for test_id, slip in copied_readings(tests):
        source = records.device_tests[test_id].source
        if is_named(source.file):
            yield from _slips(source, (slip,))


def scoring_findings(records: Records, catalogue: Catalogue, is_named: IsNamed) -> Iterator[Remark]:
    """Return what scoring notices in the test records of the named files."""
    # Only here: scoring takes a second to import.
    from generator.model.published import published
    from generator.presenting.finding_details import finding_detail
    from generator.scoring.one_record import score_record

    shown = published(catalogue)
    cautions = {rule.when: rule for rule in reversed(catalogue.caution_rules)}
    for entry, test in good(records.device_tests):
        if not is_named(entry.source.file):
            continue
        for finding in score_record(shown.device_tests[test.id], shown).all_findings:
            steps = steps_to(finding.where, entry.source.data)
            found, remedy = caution_words(cautions[finding.rule], finding_detail(finding))
            told = entry.source.problem(steps, finding.rule, found, "", remedy, of_key=True)
            # What the file does not hold, such as a missing probe, is told by the name that scoring has for it.
            path = told.path if steps else finding.where
            yield remark(replace(told, path=path), Level.FINDING)


def _kinds(record: Frozen, records: Records) -> set[str]:
    """Return the kinds of device and instrument that a record is about."""
    kinds = {kind.value} if (kind := getattr(record, "kind", None)) is not None else set()
    if isinstance(record, DeviceTest):
        device = record_of(records.devices, record.device)
        counter = record_of(records.instruments, record.instruments.particle_counter or "")
        kinds |= {each.kind.value for each in (device, counter) if each is not None}
    return kinds


def _slips(source: YamlSource, slips: Iterable[Slip]) -> Iterator[Remark]:
    for slip in slips:
        yield _told(source, slip.steps, slip.rule, slip_words(slip))


def _told(source: YamlSource, steps: Steps, slug: str, words: Words) -> Remark:
    return remark(source.problem(steps, slug, *words), Level.FINDING)
