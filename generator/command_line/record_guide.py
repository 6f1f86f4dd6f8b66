"""The record guide, made from the models: `python -m generator.command_line.record_guide > records/README.md`."""

from __future__ import annotations

import datetime
import inspect
from collections.abc import Iterator
from enum import Enum
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

import click
from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from generator.command_line.check_guide import CHECK_HEADING, FINDINGS_HEADING, check_guide, findings_guide
from generator.command_line.guide_headings import anchor, described, link
from generator.command_line.result_guide import RESULT_HEADING, result_guide
from generator.loading.asked import constraints
from generator.loading.model_keys import parts_of
from generator.loading.record_kinds import RECORD_KINDS, heading
from generator.loading.slugs import SLUGS_BY_GROUP
from generator.loading.text_forms import FORMS
from generator.model.base import Frozen, NotRecorded
from generator.model.field_meanings import field_meanings
from generator.model.quantity import Quantity, QuantityOf
from generator.model.units import BASE_UNITS, DIMENSIONS, units_of

USUAL_LENGTH = 600
"""Characters that most texts may have; only other lengths are told in the tables."""
COMMAND = "python -m generator.command_line.record_guide > records/README.md"

_OPENING = """\
# Records

One YAML file for each thing: a device, a test of it on one day, an instrument, a wearer. To add one:

1. `inward draft` writes it, with the blanks to fill in and a comment beside each; what is not on record yet, such as a
   device or a wearer, gets a draft of its own. For what it does not ask for, copy a record that is like yours.
2. Fill it in. `inward take-in` puts the log of a session on record.
3. Run `inward check` with the record's file. It tells every problem in one run, with its line and what to do; the name
   in brackets is explained [below](#problems). It also tells [findings](#findings), which may be right, and should be
   looked at. Without problems it says so, and you can send the record.

An editor that reads JSON Schema completes keys, shows what each one means, and marks most of what cannot be right while
you write. The schemas lie in `.schemas/` (`inward schema` writes them); an editor finds them by its settings, as in
`.vscode/settings.json`, or by a first line such as `# yaml-language-server: $schema=../.schemas/device.schema.json`.
They see one file each: `inward check` has the last word.

What every record keeps to:

- A physical quantity stands with its unit: `17.2 L/min`, never `17.2`. The [units](#units) are a closed list.
- What is missing is never 0 and never left blank. Where the table says so, write `{not_recorded: <the reason>}`.
- Every attempt is on record, aborted and voided ones too, with the reason.
- A fit session is given by the fullest readings there are: a raw log, else the particles counted or the concentrations
  of each exercise, else each exercise's factor, else the overall factor alone. A page can say no more than they carry.
- An id is the name of a file without its ending. Ids and names in a record are for good: others refer to them.
- Text has at most 600 characters, unless the table says otherwise. Versions are text, in quotes: `version: "1"`.
- Days are written 2025-03-14.
- A wearer is known by a pseudonym and a letter. No name goes into a record.
- YAML is read by its version 1.2: `on`, `off`, `yes` and `no` are text. Anchors, aliases and tags are not read.
"""

_LOGS = """\
A log is a file of comma-separated values with one line of headings; the record says which heading is which. Other
columns may stand in it. Each session, and each other part that has one, has a log of its own, and the log is not edited
after its SHA-256 was taken (`sha256sum records/logs/<file>`). A log has at most 100,000 lines.

Of particles, in a fit session; `log.columns` of the session names the headings:

- The time is a number of seconds that goes up from line to line.
- `sampling` is `ambient`, `in-mask` or `purge` in every line; lines marked `purge` are left out of every figure.
- The exercises of the in-mask lines are those of the session's protocol, in its order, once each.
- Ambient lines stand where the protocol takes ambient samples: before the first and after the last exercise, and
  between two exercises where it takes them around each.
- Where the log has no columns for exercise and sampling, `log.timetable` of the session says when what was drawn. An
  entry holds the lines from its `start` up to, but without, its `end`; lines outside all entries are `purge`.

A log may have a second channel that counts the outside air all the time; `log.columns.outside` names it, in the same
unit, with a number in every line.

- A protocol that takes the outside concentration during each exercise needs the second channel, and no `ambient` lines.
- In lines marked `side-by-side` both channels draw the same outside air, for a minute or so. From them follow the ratio
  of the two and how far the second is behind. With fewer than 20 of them, less the lag, the ratio is taken as 1 and the
  fit factors have no interval.
- Under any other protocol the second channel is kept and shown, but no figure is made from it: the protocol's own
  ambient lines count.
- Where the second channel is another instrument, `instruments.outside_counter` of the record names it.

Of flow, pressure, voltage or current, in a run-down, a pressure trace or the loading of a filter; `log` of that part
names the heading and the unit of each column that is read, and each column holds one thing:

- A run-down needs the flow; with voltage and current beside it, the energy is worked out too. A pressure trace needs
  the pressure, the loading of a filter flow or pressure.
- The time goes up from line to line, in the `time_unit` that the record gives, seconds where it gives none. Lines need
  not stand at equal distances; no line is made up between two.
- Numbers are plain ones as they were read, with a decimal point. A flow or voltage is never below 0; a pressure against
  the room, or a current, may be. A line without a reading is left out, never filled with 0.
- The flow is corrected by the certificate of the record's `flow_meter`, as in a flow run.
- `exercise` may name a column that says in a few words what the wearer did; it may be empty.
- Alarms of a run-down are told on the clock of its log, between its first and its last time.
"""

_PICTURES = """\
A picture is a PNG or JPEG file of at most 8 MiB and 40 million pixels. It shows the device, the bench or the readings,
never a wearer's face. The published picture is made anew from its pixels, at most 1600 pixels long and turned upright:
the place, the time and the camera that a photograph's file may hold are not published, but they stand in the file that
you send. Every picture in the folder belongs to a record, by its SHA-256 (`sha256sum records/pictures/<file>`).
"""


def record_guide() -> str:
    """Return the record guide as Markdown."""
    sections = [_OPENING, "## Contents\n\n" + "\n".join(_contents()) + "\n"]
    told: set[type[Frozen]] = {NotRecorded}
    for kind in RECORD_KINDS.values():
        sections.append(f"## {heading(kind.model)}\n\n`records/{kind.place}`\n\n{_table(kind.model)}")
        told.add(kind.model)
        for part in _parts_below(kind.model, told):
            sections.append(f"### {heading(part)}\n\n{described(part)}\n\n{_table(part)}")
    sections.append(f"## Logs\n\n`records/logs/<name>.csv`\n\n{_LOGS}")
    sections.append(f"## Pictures\n\n`records/pictures/<name>.png` or `.jpg`\n\n{_PICTURES}")
    sections += [_units(), _problems(), findings_guide(), check_guide(), result_guide()]
    sections.append(f"---\n\nThis page is made from the code by `{COMMAND}`; do not edit it by hand.\n")
    return "\n".join(sections)


def _contents() -> Iterator[str]:
    for kind in RECORD_KINDS.values():
        yield f"- [{heading(kind.model)}](#{anchor(kind.model)}): `records/{kind.place}`"
    yield "- [Logs](#logs): `records/logs/<name>.csv`"
    yield "- [Pictures](#pictures): `records/pictures/<name>.png` or `.jpg`"
    yield "- [Units](#units)"
    yield "- [Problems](#problems)"
    for made in (FINDINGS_HEADING, CHECK_HEADING, RESULT_HEADING):
        yield f"- [{made}](#{made.lower().replace(' ', '-')})"


def _parts_below(model: type[Frozen], told: set[type[Frozen]]) -> Iterator[type[Frozen]]:
    """Go through the parts of a record that have not been told of yet, each before its own parts."""
    for known in model.model_fields.values():
        for part in parts_of(known.annotation):
            if part not in told:
                told.add(part)
                yield part
                yield from _parts_below(part, told)


def _table(model: type[Frozen]) -> str:
    hints, meanings = get_type_hints(model, include_extras=True), field_meanings(model)
    rows = ["| key | needed | form | what it holds |", "| --- | --- | --- | --- |"]
    for name, known in model.model_fields.items():
        needed = "yes" if known.is_required() else "no"
        rows.append(f"| `{name}` | {needed} | {_form(hints[name])} | {meanings[name]} |")
    return "\n".join(rows) + "\n"


def _form(hint: Any, extras: tuple[Any, ...] = ()) -> str:
    """Say in words what a type hint lets a record hold."""
    origin = get_origin(hint)
    if origin is Annotated:
        inner, *more = get_args(hint)
        return _form(inner, (*extras, *more))
    if origin in (Union, UnionType):
        forms = [_form(each) for each in get_args(hint) if each is not NoneType]
        return ", or ".join(forms)
    if origin is tuple:
        least = _bounds(extras, "min_length")
        return f"list{', not empty' if least else ''}; each: {_form(get_args(hint)[0])}"
    if hint is NotRecorded:
        return "`{not_recorded: <reason>}`"
    if hint is Quantity:
        rule = next(extra for extra in extras if isinstance(extra, QuantityOf))
        return f"{' or '.join(rule.dimensions)}, such as `{rule.example}`"
    if inspect.isclass(hint) and issubclass(hint, Frozen):
        return link(hint)
    return _simple_form(hint, extras)


def _simple_form(hint: type, extras: tuple[Any, ...]) -> str:
    if issubclass(hint, Enum):
        return " or ".join(f"`{each.value}`" for each in hint)
    if hint is bool:
        return "`true` or `false`"
    if hint is datetime.date:
        return "day, such as `2025-03-14`"
    if hint is str:
        return _text_form(extras)
    bounds = [
        f"{words} {bound:.12g}"
        for name, words in (("gt", "above"), ("ge", "at least"), ("le", "at most"))
        for bound in _bounds(extras, name)
    ]
    return ", ".join(["whole number" if hint is int else "number", *bounds])


def _text_form(extras: tuple[Any, ...]) -> str:
    for extra in extras:
        if isinstance(extra, StringConstraints) and extra.pattern is not None:
            return FORMS[str(extra.pattern)]
    for extra in extras:
        if isinstance(extra, FieldInfo) and extra.examples:
            return f"text, such as `{extra.examples[0]}`"
    lengths = [extra.max_length for extra in extras if isinstance(extra, StringConstraints)]
    return "text" if lengths in ([], [USUAL_LENGTH]) else f"text, at most {lengths[0]:,} characters"


def _bounds(extras: tuple[Any, ...], name: str) -> list[float]:
    """Return what the constraints set as the bound of that name, also those that stand inside a `Field`."""
    found = (getattr(each, name, None) for each in constraints(extras))
    return [bound for bound in found if bound is not None]


def _units() -> str:
    rows = ["| what is measured | units | published in |", "| --- | --- | --- |"]
    for dimension in DIMENSIONS:
        spellings = ", ".join(f"`{spelling}`" for spelling in units_of(dimension))
        rows.append(f"| {dimension} | {spellings} | `{BASE_UNITS[dimension]}` |")
    opening = "A number, a space and one of these spellings. `mmH2O` is the conventional millimetre of water."
    return f"## Units\n\n{opening}\n\n" + "\n".join(rows) + "\n"


def _problems() -> str:
    parts = [
        "## Problems\n",
        "A problem reads `file:line:column: path [name]: found ..., expected .... What to do.` "
        "Places in lists are counted from 0, lines and columns from 1.\n",
    ]
    for group, slugs in SLUGS_BY_GROUP.items():
        rows = ["| name | what it means | what to do |", "| --- | --- | --- |"]
        rows += [
            f'| <a id="{slug}"></a>`{slug}` | {explanation.meaning} | {explanation.remedy} |'
            for slug, explanation in slugs.items()
        ]
        parts.append(f"### {group}\n\n" + "\n".join(rows) + "\n")
    return "\n".join(parts)


if __name__ == "__main__":
    click.echo(record_guide(), nl=False)
