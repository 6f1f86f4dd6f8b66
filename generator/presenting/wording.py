"""Words that several pages share: dates, lists, states."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.base import Day, NotRecorded
from generator.model.quantity import Quantity
from generator.model.reference import Source, SourceStatus
from generator.presenting.digits import quantity_text

_MONTHS = (
    "January February March April May June July August September October November December".split()  # noqa: SIM905
)
_STATUS = {
    SourceStatus.SEEN: "seen in the document",
    SourceStatus.SEEN_IN_SECONDARY: "seen in a secondary source",
    SourceStatus.FROM_MEMORY: "from memory, not seen",
    SourceStatus.COMMON_PRACTICE: "common practice, no source",
    SourceStatus.OWN: "the reviewer's own",
}
_SMALL_NUMBERS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)


def day_text(day: Day) -> str:
    """Write a date as a reader of any country understands it."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def months_text(days: Sequence[Day]) -> str:
    """Write the months that days lie in, from the first to the last: `July to November 2025`."""
    first, last = min(days), max(days)
    end = f"{_MONTHS[last.month - 1]} {last.year}"
    if (first.year, first.month) == (last.year, last.month):
        return end
    start = _MONTHS[first.month - 1] if first.year == last.year else f"{_MONTHS[first.month - 1]} {first.year}"
    return f"{start} to {end}"


def status_text(status: SourceStatus) -> str:
    """Say how a fact is known."""
    return _STATUS[status]


_NO_PART = "none"
"""How a source says that it has no clause or edition, as a definition of one's own has none."""


def source_text(source: Source) -> str:
    """Write a source as one line: document, edition, clause, how it is known."""
    if source.status is SourceStatus.COMMON_PRACTICE:
        return _STATUS[source.status]
    named = [part for part in (source.document, source.edition, source.clause) if part != _NO_PART]
    parts = f"{', '.join(named)} ({_STATUS[source.status]})"
    return f"{parts}. {source.note}" if source.note else parts


def recorded_text(value: object) -> str:
    """Write a recorded value, or say that it was not recorded and why."""
    if isinstance(value, NotRecorded):
        return f"not recorded: {value.not_recorded}"
    if isinstance(value, Quantity):
        return quantity_text(value.number, value.unit)
    return str(value)


def count_text(count: int, one: str, many: str | None = None) -> str:
    """Write a count with its noun: `one wearer`, `3 wearers` as a word up to twelve."""
    number = _SMALL_NUMBERS[count] if count < len(_SMALL_NUMBERS) else str(count)
    return f"{number} {one if count == 1 else many or one + 's'}"


def without_full_stop(text: str) -> str:
    """Return a recorded text without the full stop at its end, to be a part of a sentence."""
    return text.rstrip(".")


def listed(items: Sequence[str]) -> str:
    """Join items as in a sentence: `a`, `a and b`, `a, b and c`."""
    if len(items) <= 1:
        return "".join(items)
    return ", ".join(items[:-1]) + " and " + items[-1]


def told_apart(labels: Sequence[str], days: Sequence[Day]) -> tuple[str, ...]:
    """Return labels that may stand in one drawing: equal ones get their month, those of one month their day."""
    dated = list(zip(labels, days, strict=True))
    told = []
    for label, day in dated:
        equal = [other for name, other in dated if name == label]
        of_month = {other for other in equal if (other.year, other.month) == (day.year, day.month)}
        date = f"{f'{day.day} ' if len(of_month) > 1 else ''}{_MONTHS[day.month - 1][:3]} {day.year}"
        told.append(f"{label}, {date}" if len(equal) > 1 else label)
    return tuple(told)


def sentence_case(text: str) -> str:
    """Give a sentence its capital letter, leaving the rest as it is."""
    return text[:1].upper() + text[1:]


def full_sentence(text: str) -> str:
    """Give a text of a record its capital letter and its full stop."""
    text = sentence_case(text)
    return text if text.endswith((".", "?")) else f"{text}."


def shortened(text: str, length: int) -> str:
    """Cut a text that has to fit beside a drawing; the table beside it holds the whole."""
    return text if len(text) <= length else text[: length - 1].rstrip() + "…"
