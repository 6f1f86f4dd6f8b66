"""Holds today's records and program against a base: what of the results, cautions and pages differs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from generator import __version__
from generator.contributing.impact.bases import Base, base_of, records_now
from generator.contributing.kept_scores import KeptScores
from generator.loading.published_results import PublishedResults
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.published_files import RecordResults
from generator.model.result import RecordResult
from generator.presenting.caution_changes import caution_changes
from generator.presenting.context import Context
from generator.presenting.impact import Impact, present_impact
from generator.presenting.impact_views import ImpactView, Said
from generator.presenting.page_changes import page_changes
from generator.presenting.whole_site import present
from generator.presenting.wording import count_text
from generator.scoring.flat_results import FlatResult, flat
from generator.scoring.record_changes import record_changes, renamed_tests
from generator.scoring.result_changes import Owner, OwnerKind, ResultChanges, changes

Report = Callable[[int, int, str], None]
_OF_COMPARISON = ("title", "question", "note", "no_differences", "differences")
"""What a comparison adds to the results of its devices, which it holds too."""


def impact_of(records: Path, base_name: str, report: Report) -> ImpactView:
    """Return what the records as they stand, scored by today's program, change of a base.

    Parameters
    ----------
    records : Path
        The records folder.
    base_name : str
        A folder of records, a published site, or a git revision.
    report : Report
        Is told of the progress.

    Raises
    ------
    WrongUsage, SideHasProblems, PublishedSiteUnreadable
        See `base_of` and `records_now`.
    """
    report(0, 0, "Reading the records")
    base, now = base_of(base_name, records), records_now(records)
    return impact_on(base, now, f"the records in {records}", report)


def impact_on(base: Base, now: PublishedCatalogue, words: str, report: Report) -> ImpactView:
    """Return what a catalogue, named by words and scored by today's program, changes of a base."""
    before, after = _with_one_hash(base.catalogue, _shared(base.catalogue, now))
    report(0, 0, "Scoring")
    scores = KeptScores()
    old = scores.score(before)[0]
    new = old if after == before else scores.score(after)[0]
    report(0, 0, "Comparing pages")
    contexts, renames = (Context(before, old), Context(after, new)), renamed_tests(before, after)
    results = _result_changes(old, new, renames, base.published)
    site = present(before, old)
    sites = site, site if new is old else present(after, new)
    impact = Impact(
        records=record_changes(base.catalogue, now),
        results=results,
        cautions=caution_changes(_as_published(contexts[0], base.published), contexts[1], renames),
        # What was published is not presented again: its pages are told by the results that differ on them.
        pages=page_changes(*sites, results.owners if base.published is not None else ()),
        before=contexts[0],
        after=contexts[1],
        as_published=base.published is not None,
    )
    return present_impact(impact, _compared(base, words), tuple(_remarks(base)))


def _shared(before: PublishedCatalogue, after: PublishedCatalogue) -> PublishedCatalogue:
    """Return a catalogue with what is the same in another one taken from there: it need not be compared again."""
    parts: dict[str, Any] = {}
    for part in fields(PublishedCatalogue):
        old, new = getattr(before, part.name), getattr(after, part.name)
        if isinstance(new, Mapping):
            same = {name for name, item in new.items() if name in old and old[name] == item}
            parts[part.name] = {name: old[name] if name in same else item for name, item in new.items()}
        elif old == new:
            parts[part.name] = old
    return replace(after, **parts)


def _with_one_hash(*catalogues: PublishedCatalogue) -> Iterator[PublishedCatalogue]:
    """Give catalogues the same hashes: each stands on pages, and is no change of what these say."""
    hashes = {name: each for catalogue in catalogues for name, each in catalogue.record_sha256.items()}
    for catalogue in catalogues:
        yield replace(catalogue, record_sha256=hashes)


def _result_changes(
    before: CatalogueResult, after: CatalogueResult, renames: Mapping[str, str], published: PublishedResults | None
) -> ResultChanges:
    found = _changes_of_records(before, after, renames, published)
    # Figures of records are told there: what stands of them in other results is which one it is.
    known = _keys(before) | _keys(after)
    for kind, old, new in (
        (OwnerKind.DEVICE, before.devices, after.devices),
        (OwnerKind.COMPARISON, _comparisons(before, published), _comparisons(after)),
        (OwnerKind.INSTRUMENT, _instruments(before, published), _instruments(after)),
    ):
        for name in dict.fromkeys([*new, *old]):
            if old.get(name) != new.get(name):
                sides = flat(_renamed(_dumped(old.get(name)), renames), known), flat(_dumped(new.get(name)), known)
                found += changes(Owner(kind, name), *sides)
    return found


def _changes_of_records(
    before: CatalogueResult, after: CatalogueResult, renames: Mapping[str, str], published: PublishedResults | None
) -> ResultChanges:
    found = ResultChanges()
    earlier = {now: was for was, now in renames.items()}
    for name in dict.fromkeys([*after.records, *(each for each in before.records if each not in renames)]):
        was, now = earlier.get(name, name), after.records.get(name)
        as_published = published.records.get(was) if published is not None else None
        if as_published is None and before.records.get(was) is now:
            continue
        old = _flat_record(before.records.get(was), renames) if as_published is None else _flat_published(as_published)
        shared_only = as_published is not None
        found += changes(Owner(OwnerKind.RECORD, name), old, _flat_record(now, {}), shared_only)
    return found


def _dumped(result: Any) -> Mapping[str, Any]:
    if result is None:
        return {}
    dumped: Mapping[str, Any] = result if isinstance(result, Mapping) else result.model_dump(mode="json")
    return dumped


def _flat_record(result: RecordResult | None, renames: Mapping[str, str]) -> FlatResult:
    return flat(_renamed(_dumped(result), renames), by_key=True)


def _flat_published(results: RecordResults) -> FlatResult:
    """Take apart a record's results as they were published: of its sessions, what is listed of each attempt."""
    dumped = results.model_dump(mode="json")
    return flat({"topics": {"fit": {"sessions": dumped.pop("sessions")}}, **dumped}, by_key=True)


def _renamed(part: Any, renames: Mapping[str, str]) -> Any:
    """Return dumped results with the ids that records have today."""
    if not renames:
        return part
    if isinstance(part, Mapping):
        return {name: _renamed(item, renames) for name, item in part.items()}
    if isinstance(part, list):
        return [_renamed(item, renames) for item in part]
    return renames.get(part, part) if isinstance(part, str) else part


def _keys(result: CatalogueResult) -> set[str]:
    """Return the keys of all figures and verdicts of records."""
    topics = [topic for record in result.records.values() for topic in record.topics.values()]
    return {figure.key for topic in topics for figure in topic.figures} | {
        verdict.key for topic in topics for verdict in topic.verdicts
    }


def _comparisons(result: CatalogueResult, published: PublishedResults | None = None) -> dict[str, Mapping[str, Any]]:
    dumped = published.comparisons if published is not None else _all_dumped(result.comparisons)
    return {
        name: {part: each.get(part) for part in _OF_COMPARISON}
        | {"devices": {device: {"withdrawn": of["withdrawn"]} for device, of in each.get("devices", {}).items()}}
        for name, each in dumped.items()
    }


def _instruments(result: CatalogueResult, published: PublishedResults | None = None) -> Mapping[str, Mapping[str, Any]]:
    return published.instruments if published is not None else _all_dumped(result.instruments)


def _all_dumped(results: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    return {name: _dumped(each) for name, each in results.items()}


def _as_published(context: Context, published: PublishedResults | None) -> Context:
    """Return what the cautions of the base follow from: the findings as they were published."""
    if published is None:
        return context
    tests: Mapping[str, PublishedTest] = context.catalogue.device_tests
    records = {
        name: RecordResult(record=name, device=tests[name].device, topics={}, findings=results.findings)
        for name, results in published.records.items()
    }
    return Context(context.catalogue, context.result.model_copy(update={"records": records}))


def _compared(base: Base, words: str) -> tuple[Said, ...]:
    program = f"both scored by today’s program (inward {__version__})."
    if base.published is not None:
        program = f"scored by today’s program (inward {__version__}), against results as they were published."
    return Said("Compared: "), Said(base.words, True), Said(" with "), Said(words, True), Said(f", {program}")


def _remarks(base: Base) -> Iterator[tuple[Said, ...]]:
    if base.program:
        counts = [
            (base.program.code, "file of its code", "files of its code"),
            (base.program.reference, "file", "files"),
        ]
        said = [count_text(number, *words) for number, *words in counts if number]
        if base.program.reference:
            said[-1] += " of criteria and other data that come with it"
        yield (
            Said(
                f"The program differs too, in {' and '.join(said)}. Here both sides are scored by today’s. What the "
                "program changes shows against a published site: "
            ),
            Said("inward impact output", True),
            Said("."),
        )
    if base.published is not None:
        versions = ", ".join(f"{name} {version}" for name, version in base.made_with.items())
        yield (
            Said("The site was made with "),
            Said(versions, True),
            Said(
                ". What the records of a device say together stands on its page and not among the published data: for "
                "it, and for what pages say, the published records are scored and worded by today’s program. What the "
                "program alone changes there, "
            ),
            Said("inward verify", True),
            Said(" names."),
        )
