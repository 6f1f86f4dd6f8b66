"""A page for each method, with its checks and what uses it, and the list of them by subject."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.reference import CheckValue, Method, MethodSubject
from generator.presenting.agreement_words import (
    agreement_text,
    difference_text,
    found_text,
    number_text,
    tolerance_text,
)
from generator.presenting.context import Context
from generator.presenting.digits import unit_text
from generator.presenting.letterhead import page_head
from generator.presenting.method_uses import Uses, used_text
from generator.presenting.reference_views import CheckRow, MethodGroup, MethodPage, MethodsIndex
from generator.presenting.sampling_biases import BIASES, LEAD, LINK
from generator.presenting.traced_log import TracedLogPage
from generator.presenting.views import Fact, Link, WorkingInput
from generator.presenting.wording import count_text, sentence_case, status_text
from generator.scoring.check_agreement import Agreement, agreements

METHODS = Link("Methods", "methods/index.html")
SUBJECTS: dict[MethodSubject, tuple[str, str]] = {
    MethodSubject.PARTICLES: (
        "Particles and fit factors",
        "From particles counted outside and inside to the fit factor of an exercise and of a whole session.",
    ),
    MethodSubject.COUNTING: (
        "What counting few particles leaves open",
        "Few particles inside make a fit factor high and its interval wide; none at all gives a bound, no value.",
    ),
    MethodSubject.LOGS: (
        "What a raw log tells of itself",
        "Peaks, repeated readings, and a second channel that counts outside all the time.",
    ),
    MethodSubject.WEARERS: (
        "Wearers with one result each",
        "What wearers who each donned the device once say of other wearers.",
    ),
    MethodSubject.DONNINGS: (
        "Wearers who donned it several times",
        "The same, where donnings of one wearer differ too.",
    ),
    MethodSubject.SHARES: (
        "Shares of wearers",
        "How many of those tested reached a level, and what that says of others.",
    ),
    MethodSubject.BOUNDS: (
        "Results known only to be at least so much",
        "Statements over wearers where some results are lower bounds.",
    ),
    MethodSubject.DIFFERENCES: (
        "Differences between devices",
        "How many times one fit factor is the other, and whether the two can be told apart.",
    ),
    MethodSubject.OFF_TIME: ("Not worn all the time", "A what-if, calculated and never measured."),
    MethodSubject.FLOW: (
        "Supply flow and its uncertainty",
        "From a meter’s readings to litres a minute of the room’s air, with everything on record that makes them "
        "doubtful.",
    ),
    MethodSubject.AIR_BALANCE: (
        "Air balance and pressure inside",
        "Supply less exhaust, and how often the pressure inside lies below the room’s.",
    ),
    MethodSubject.BREATHING: (
        "Breathing demand",
        "How much of a breath the supply covers, and how much the wearer draws beyond it.",
    ),
    MethodSubject.GAS: (
        "Carbon dioxide and oxygen",
        "Calculated means of a hood’s air, and measured inhaled air checked.",
    ),
    MethodSubject.FILTER: ("Filters and resistance", "What filters let through, and what they hold back of the flow."),
    MethodSubject.BLOWER: (
        "Blower curves and predicted flows",
        "Where a blower’s curve meets what filter and hose take; predicted, not measured.",
    ),
    MethodSubject.RUN_TIME: ("Run time and energy", "How long the flow stays above what is required on one charge."),
    MethodSubject.BURDEN: ("Noise, mass, words and cost", "What the device asks of its wearer."),
    MethodSubject.VERDICTS: ("Verdicts", "How a figure is held against a requirement."),
    MethodSubject.INSTRUMENTS: ("Instruments", "Whether an instrument still reads as it did."),
}


def _check_row(check: CheckValue, measured: Agreement) -> CheckRow:
    inputs = ", ".join(f"{name.replace('_', ' ')} {number_text(value)}" for name, value in check.inputs.items())
    return CheckRow(
        inputs=inputs,
        expected=number_text(check.expected),
        found=found_text(measured, check),
        agreement=agreement_text(measured, check),
        difference=difference_text(measured, check),
        tolerance=tolerance_text(check.relative_tolerance),
        source=check.source,
    )


def present_method(method: Method, uses: Uses | None) -> MethodPage:
    """Return the page of one method. Its checks are run for it: one that fails stops the page."""
    heading, _ = SUBJECTS[method.subject]
    return MethodPage(
        head=page_head(
            f"methods/{method.id}.html",
            method.title,
            method.purpose,
            trail=(METHODS, Link(heading, f"{METHODS.href}#{_anchor(method.subject)}")),
        ),
        id=method.id,
        title=method.title,
        purpose=method.purpose,
        equation=method.equation,
        symbols=tuple(
            WorkingInput(symbol.symbol, symbol.meaning, unit_text(symbol.unit) or "dimensionless", "", "", None)
            for symbol in method.symbols
        ),
        range=method.range,
        sources=tuple(
            Fact(
                source.document,
                f"{source.edition}, {source.clause}. {source.note or ''}".strip(),
                note=status_text(source.status),
            )
            for source in method.sources
        ),
        checks=tuple(
            _check_row(check, measured) for check, measured in zip(method.check_values, agreements(method), strict=True)
        ),
        used=used_text(uses),
        used_by=tuple(uses.links.values()) if uses is not None else (),
    )


def _anchor(subject: MethodSubject) -> str:
    return f"about-{subject.value.replace('_', '-')}"


def present_methods_index(context: Context, traced_log: TracedLogPage | None, uses: Mapping[str, Uses]) -> MethodsIndex:
    """Return the list of all methods by subject, and where one log is followed through."""
    methods = tuple(context.catalogue.methods.values())
    groups = []
    for subject, (heading, lead) in SUBJECTS.items():
        facts = tuple(
            Fact(method.title, method.purpose, f"methods/{method.id}.html", note=_index_note(uses.get(method.id)))
            for method in sorted(methods, key=lambda each: each.title)
            if method.subject is subject
        )
        if facts:
            groups.append(MethodGroup(_anchor(subject), heading, lead, facts))
    checks = sum(len(method.check_values) for method in methods)
    return MethodsIndex(
        head=page_head(
            "methods/index.html",
            "Methods",
            "Every computation behind a figure: equation, symbols, range, sources and values it was checked against.",
        ),
        counts=(
            f"{sentence_case(count_text(len(methods), 'method'))} with {count_text(checks, 'value')} from outside. "
            "Each value was worked out anew for these pages; a method that missed one would have stopped the catalogue."
        ),
        groups=tuple(groups),
        traced_log=Link(traced_log.title, traced_log.head.path) if traced_log is not None else None,
        beyond=LINK,
        lead=LEAD,
        biases=BIASES,
    )


def _index_note(uses: Uses | None) -> str:
    return "" if uses is None else count_text(uses.count, "use")
