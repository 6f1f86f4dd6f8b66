"""`inward check`: say what is wrong with records, and what in them should be looked at."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import click

from generator.command_line.check_text import plain_lines, summary, terminal_lines
from generator.contributing.checking.checked import Checked, check_paths
from generator.errors import WrongUsage


@click.command(short_help="Say what is wrong with records, or that nothing is.")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--findings/--no-findings",
    default=None,
    help="Look for findings too, or not. Without either: where every PATH is a file.",
)
@click.option("--strict", is_flag=True, help="Look for findings, and end with exit code 1 where there are any.")
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json", "sarif"]),
    default="text",
    show_default=True,
    help="Text for reading, JSON for programs, SARIF 2.1.0 for code hosts and editors.",
)
def check(paths: tuple[Path, ...], findings: bool | None, strict: bool, layout: str) -> None:
    """Check records, and tell every problem with its place, the line it is in, and what to do.

    PATH is a records folder, or a file or folder in one (default: records/). The whole records folder is read either
    way, since records refer to one another; only what PATH names is told of.

    A problem must be mended before records can be scored. A finding may be right, and should be looked at: a number
    that is unlikely, such as 17 m3/h where 17 L/min was meant; readings that contradict one another or were copied; and
    what scoring notices, which pages will tell readers. Findings take longer than problems, so that they are looked for
    only in files that PATH names one by one, with --findings and with --strict. Scoring looks for some of them once no
    record of the folder has a problem.

    On a terminal, what is told is grouped by file. Elsewhere each problem begins with a line of its own,
    `file:line:column: path [name]: found ..., expected .... What to do.`, and a finding with
    `file:line:column: finding: path [name]: ...`; below it, indented, stand the line of the file and a caret. The
    record guide, records/README.md, explains every name, and the keys of --format json under "Check as JSON".

    Exit codes: 0 no problems, 1 problems (with --strict: or findings), 2 there is no such PATH.
    """
    if strict and findings is False:
        raise WrongUsage("found `--strict` with `--no-findings`, expected one of them. Leave one out")
    one_by_one = bool(paths) and not any(os.path.isdir(path) for path in paths)  # noqa: PTH112 - as in check_paths
    looked_for = strict or (one_by_one if findings is None else findings)
    checked = check_paths(paths or (Path("records"),), findings=looked_for)
    if layout == "text":
        _print_text(checked)
    else:
        # Escaped beyond ASCII, so that it is the same in every encoding and no terminal obeys what a record holds.
        click.echo(json.dumps(_document(checked, layout), indent=2))
    if checked.problems or (strict and checked.findings):
        click.get_current_context().exit(1)


def _document(checked: Checked, layout: str) -> object:
    if layout == "json":
        from generator.contributing.checking.report import check_report

        return check_report(checked).model_dump(mode="json")
    from generator.contributing.checking.sarif import sarif_log

    return sarif_log(checked)


def _print_text(checked: Checked) -> None:
    # What the encoding of the terminal or of a file does not have is written by its number, not refused.
    encoding = sys.stdout.encoding or "utf-8"
    for line in terminal_lines(checked) if sys.stdout.isatty() else plain_lines(checked):
        click.echo(line.encode(encoding, "backslashreplace").decode(encoding))
    told, about_findings = summary(checked)
    click.echo(told, err=bool(checked.remarks))
    if about_findings:
        click.echo(about_findings, err=True)
