"""A record as a test report: the points that ISO/IEC 17025:2017 asks of one, answered from the record or not.

The points are restated in short words of our own. What a record leaves out is `not recorded`; a list that is empty
says `none recorded`, since a record cannot tell nothing from nothing written down.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.model.published import PublishedTest
from generator.model.reference import DecisionRule
from generator.model.result import Outcome, Verdict
from generator.presenting.context import Context
from generator.presenting.figures import outcome_text
from generator.presenting.page_parts import Report, ReportRow
from generator.presenting.registry import shown_topics
from generator.presenting.shown_values import figures_with_limits
from generator.presenting.standing import withdrawn_text
from generator.presenting.views import Link, TopicSection
from generator.presenting.wording import count_text, day_text, listed, recorded_text, without_full_stop

NOT_RECORDED = "not recorded"
NONE_RECORDED = "none recorded"
NO_STATEMENT = "this report holds no figure against a requirement"
_ITEMS_ONLY = "The results relate only to the items tested, in the state described, on the day of the test."
_RULES = {
    DecisionRule.GUARDED: (
        "guarded: met only if the whole 95 % interval lies on the right side of the limit, not met only if it lies "
        "wholly on the wrong side, else undecided"
    ),
    DecisionRule.PLAIN: "the regulation's own plain comparison, which takes no account of uncertainty",
}


def _item(test: PublishedTest, context: Context) -> str:
    """Say what was tested so that it can be told from its like."""
    device = context.catalogue.devices[test.device]
    sample = test.sample
    condition = f"condition on arrival: {sample.condition or NOT_RECORDED}"
    state = f"{test.configuration.state.value.replace('_', ' ')}: {test.configuration.description}"
    identity = f"lot {recorded_text(sample.lot)}; unit {recorded_text(sample.unit)}"
    return f"{device.name} by {device.maker}, {state}; {identity}; {condition}"


def _each_once(items: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(items))


def _methods(test: PublishedTest, context: Context) -> tuple[str, tuple[Link, ...]]:
    protocols = _each_once(session.protocol for session in test.fit)
    figures = figures_with_limits(test.id, context).values()
    methods = _each_once(figure.method for figure, _ in figures)
    parts = []
    if protocols:
        parts.append(f"{'protocol' if len(protocols) == 1 else 'protocols'} {listed(protocols)}")
    if test.flow:
        parts.append(f"air supply read at: {listed(_each_once(run.where for run in test.flow))}")
    if methods:
        parts.append(f"figures computed by {listed(methods)}")
    links = (*(context.protocol_link(name) for name in protocols), *(context.method_link(name) for name in methods))
    return "; ".join(parts), links


def _issued(test: PublishedTest) -> str:
    parts = [f"{day_text(test.dates.issued)}, version {test.version}"]
    if test.amendments:
        days = _each_once(day_text(amendment.date) for amendment in test.amendments)
        parts.append(f"amended on {listed(days)}")
    if test.withdrawn is not None:
        parts.append(withdrawn_text(test.withdrawn))
    return "; ".join(parts)


def _deviations(test: PublishedTest) -> str:
    done_otherwise, not_done = (
        "; ".join(without_full_stop(each) for each in texts) for texts in (test.deviations, test.not_tested)
    )
    parts = [done_otherwise or NONE_RECORDED]
    if not_done:
        parts.append(f"not done: {not_done}")
    return "; ".join(parts)


def _decided(test: PublishedTest, context: Context) -> list[Verdict]:
    return [
        verdict
        for topic in context.result.records[test.id].topics.values()
        for verdict in topic.verdicts
        if verdict.criterion is not None and verdict.outcome is not Outcome.NOT_APPLICABLE
    ]


def _decision_rules(verdicts: Sequence[Verdict], context: Context) -> str:
    criteria = _each_once(verdict.criterion or "" for verdict in verdicts)
    by_rule: dict[DecisionRule, list[str]] = {}
    for name in criteria:
        criterion = context.catalogue.criteria[name]
        by_rule.setdefault(criterion.decision_rule, []).append(criterion.title)
    return ". ".join(f"{'; '.join(titles)}: {_RULES[rule]}" for rule, titles in by_rule.items())


def _risk(verdicts: Sequence[Verdict], context: Context) -> str:
    rules = {context.catalogue.criteria[verdict.criterion or ""].decision_rule for verdict in verdicts}
    parts = []
    if DecisionRule.GUARDED in rules:
        parts.append(
            "the guarded rule leaves a result undecided rather than wrong; the record’s page gives, beside each "
            "verdict, the probability that the true value conforms, where the readings give one"
        )
    if DecisionRule.PLAIN in rules:
        parts.append("the plain comparison is set by a regulation; its risk of a wrong statement was not examined")
    return "; ".join(parts)


def _stated(verdicts: Sequence[Verdict], context: Context) -> str:
    by_words: dict[str, list[str]] = {}
    for verdict in verdicts:
        title = context.catalogue.criteria[verdict.criterion or ""].title
        by_words.setdefault(f"{title}: {outcome_text(verdict, context)}", []).append(verdict.figure)
    return "; ".join(f"{words} ({_places(figures)})" for words, figures in by_words.items())


def _places(keys: Sequence[str]) -> str:
    """Name the sessions and runs that figures belong to: `sessions a1 and a2, run high-fresh`."""
    by_kind: dict[str, list[str]] = {}
    for key in keys:
        topic, place, _ = key.split(".", 2)
        by_kind.setdefault(shown_topics()[topic].PART, []).append(place)
    return ", ".join(f"{kind if len(places) == 1 else kind + 's'} {listed(places)}" for kind, places in by_kind.items())


def _covered(verdicts: Sequence[Verdict], test: PublishedTest, context: Context) -> str:
    figures = figures_with_limits(test.id, context)
    by_name: dict[str, list[str]] = {}
    for verdict in verdicts:
        by_name.setdefault(figures[verdict.figure][0].name, []).append(verdict.figure)
    return "; ".join(f"{name} of {_places(keys)}" for name, keys in by_name.items())


def _conformity_rows(test: PublishedTest, context: Context) -> tuple[ReportRow, ...]:
    verdicts = _decided(test, context)
    risk = covered = stated = rules = NO_STATEMENT
    links: tuple[Link, ...] = ()
    if verdicts:
        risk, rules = _risk(verdicts, context), _decision_rules(verdicts, context)
        covered = _covered(verdicts, test, context)
        stated = _stated(verdicts, context)
        links = tuple(context.criterion_link(name) for name in _each_once(each.criterion or "" for each in verdicts))
    return (
        ReportRow("report-7.8.6.1", "7.8.6.1", "The decision rule and the risk of a wrong statement", risk),
        ReportRow("report-7.8.6.2a", "7.8.6.2 a", "Results that a statement of conformity covers", covered),
        ReportRow("report-7.8.6.2b", "7.8.6.2 b", "Requirements met or not met", stated, links),
        ReportRow("report-7.8.6.2c", "7.8.6.2 c", "Decision rule applied", rules),
    )


def _results(test: PublishedTest, sections: Sequence[TopicSection], context: Context) -> tuple[str, tuple[Link, ...]]:
    count = len(figures_with_limits(test.id, context))
    named = listed([f"“{section.heading}”" for section in sections])
    answer = f"{count_text(count, 'figure')}, each with its unit, under {named}"
    if test.raw_data is not None:
        answer += f"; raw readings: {test.raw_data}"
    return answer, tuple(Link(each.heading, f"records/{test.id}.html#{each.anchor}") for each in sections)


def present_report(test: PublishedTest, sections: Sequence[TopicSection], context: Context) -> Report:
    """Return a record as a test report, point by point."""
    publication = context.catalogue.publication
    device = context.catalogue.devices[test.device]
    address = ", ".join(line.strip() for line in publication.address.splitlines())
    end = f"End of test report {test.id}, version {test.version}."
    methods, method_links = _methods(test, context)
    results, result_links = _results(test, sections, context)
    answers: tuple[tuple[str, str, str, tuple[Link, ...]], ...] = (
        ("a", "Title", f"Test report {test.id}: {device.name}", ()),
        ("b", "Who reports, and where they are found", f"{publication.publisher}, {address}", ()),
        ("c", "Place of the work", test.place, ()),
        (
            "d",
            "Identification of the whole report, and its end",
            f"{test.id}, version {test.version}; it ends with “{end}”",
            (),
        ),
        ("e", "Customer", test.customer or NOT_RECORDED, ()),
        ("f", "Methods", methods, method_links),
        ("g", "Item, and its condition", _item(test, context), ()),
        ("h", "Received", day_text(test.dates.received), ()),
        ("i", "Performed", day_text(test.dates.performed), ()),
        ("j", "Issued", _issued(test), ()),
        ("k", "Sampling plan", test.sample.plan or NOT_RECORDED, ()),
        ("l", "What the results relate to", _ITEMS_ONLY, ()),
        ("m", "Results with units", results, result_links),
        ("n", "Additions to, deviations and exclusions from the method", _deviations(test), ()),
        ("o", "Who authorised the report", publication.authorised_by, ()),
        ("p", "Results from others", "; ".join(test.external_results) or NONE_RECORDED, ()),
    )
    rows = tuple(
        ReportRow(f"report-{letter}", f"7.8.2.1 {letter}", asked, answer, links)
        for letter, asked, answer, links in answers
    )
    return Report(standing=_standing(context), rows=rows + _conformity_rows(test, context), end=end)


def _standing(context: Context) -> str:
    points = "The points are those that ISO/IEC 17025:2017 asks of a test report, restated in short."
    if context.catalogue.publication.accredited_laboratory:
        return f"{points} Whether this test falls under the publisher's accreditation is not recorded."
    return f"The publisher is not an accredited laboratory and claims no conformity with any standard for one. {points}"
