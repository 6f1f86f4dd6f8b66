"""Time the main jobs against their floor: the least that the libraries need for the same input, in the same run.

    make bench

Prints a table and writes it to build/bench.json. A ratio is worth more than a time: machines differ, and are busy.
"""

import io
import json
import os
import re
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any
from unittest.mock import patch

import weasyprint
import yaml
from matplotlib.backend_bases import GraphicsContextBase
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.path import Path as DrawnPath
from matplotlib.transforms import IdentityTransform
from playwright.sync_api import sync_playwright
from yaml._yaml import CParser

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from generator.build import build  # noqa: E402
from generator.contributing.preview import Preview  # noqa: E402
from generator.loading import load_catalogue  # noqa: E402
from generator.loading.yaml_source import read_yaml  # noqa: E402
from generator.model.device_test import DeviceTest  # noqa: E402
from generator.model.published import published  # noqa: E402
from generator.rendering.sheets import render_sheet  # noqa: E402
from generator.scoring.catalogue import score_catalogue  # noqa: E402
from tests.outside.conftest import QUIET  # noqa: E402
from tests.rendering.large_catalogue import a_large_paper  # noqa: E402
from tests.rendering.large_first_page import write_large_first_page  # noqa: E402

RECORDS = ROOT / "records"
RESULTS = ROOT / "build" / "bench.json"
COPIES = 500
"""Test records in the large folder that loading is timed on."""
DEVICES = 1000
"""Devices in the large catalogue that is set as one PDF, and on the large first page."""
PATHS = 10
"""Lines in a plain drawing."""
ROUNDS = 5
Row = dict[str, Any]
Call = tuple[tuple[Any, ...], dict[str, Any]]


class FloorParser(CParser):
    """The C parser, composing nodes with their positions and reading no meaning into them."""

    def resolve(self, kind: object, value: object, implicit: object) -> str:
        """Give every node the same tag."""
        return "any"

    def descend_resolver(self, parent: object, index: object) -> None:
        """Prepare nothing."""

    def ascend_resolver(self) -> None:
        """Undo nothing."""


def once(job: Callable[[], object]) -> float:
    """Return the time that a job takes. [s]"""
    started = time.perf_counter()
    job()
    return time.perf_counter() - started


def medians(*jobs: Callable[[], object], rounds: int) -> list[float]:
    """Return each job's median time, the jobs taking turns, since a machine is busier at times. [s]"""
    turns = [[once(job) for job in jobs] for _ in range(rounds)]
    return [statistics.median(times) for times in zip(*turns, strict=True)]


def many_records(folder: Path) -> list[Path]:
    """Copy the demo's test records until there are enough, each with an id of its own; return their files."""
    shutil.copytree(RECORDS, folder)
    files = sorted(folder.glob("device_tests/*.yaml"))
    # A log belongs to one session, so a record with a log is not copied.
    sources = [path for path in files if "log:" not in path.read_text(encoding="utf-8")]
    for number in range(COPIES - len(files)):
        source = sources[number % len(sources)]
        copy = source.with_name(f"{source.stem}-{number}.yaml")
        text = source.read_text(encoding="utf-8")
        copy.write_text(re.sub(rf"(?m)^id: {source.stem}$", f"id: {copy.stem}", text), encoding="utf-8")
        files.append(copy)
    return files


def row(job: str, what: str, ours: float, floor: float) -> Row:
    """Make a row of the table."""
    return {"job": job, "of": what, "seconds": ours, "floor_seconds": floor, "ratio": ours / floor}


def bench_loading(folder: Path) -> tuple[Row, Row]:
    """Time loading and scoring of many records; the floor composes the YAML in C and validates JSON of the same."""
    files = many_records(folder)
    contents = [path.read_bytes() for path in files]
    as_json = [json.dumps(read_yaml(content, "bench").data, default=str) for content in contents]

    def floor() -> None:
        for content, text in zip(contents, as_json, strict=True):
            FloorParser(content).get_single_node()
            DeviceTest.model_validate_json(text)

    loaded = load_catalogue(folder)
    if loaded.catalogue is None:
        raise SystemExit("\n".join(str(problem) for problem in loaded.problems[:5]))
    catalogue = loaded.catalogue
    load, score, least = medians(
        lambda: load_catalogue(folder), lambda: score_catalogue(published(catalogue)), floor, rounds=ROUNDS
    )
    what = f"{len(files)} records"
    return row("load and check", what, load, least), row("score (floor: reading)", what, score, least)


class Watched:
    """What a publish asked of the libraries: the PDFs it set, and how many drawings it made."""

    def __init__(self) -> None:
        """Start without any."""
        self.sheets: list[tuple[Call, Call]] = []
        self.attached: dict[int, Call] = {}
        self.kept: list[weasyprint.Attachment] = []
        self.drawings = 0

    def watch(self, publish: Callable[[], object]) -> None:
        """Publish once, listening."""
        made: dict[int, Call] = {}
        init, write, draw = weasyprint.HTML.__init__, weasyprint.HTML.write_pdf, RendererSVG.finalize
        attach = weasyprint.Attachment.__init__

        def watched_init(page: weasyprint.HTML, *arguments: Any, **options: Any) -> None:
            made[id(page)] = (arguments, options)
            init(page, *arguments, **options)

        def watched_write(page: weasyprint.HTML, *arguments: Any, **options: Any) -> Any:
            self.sheets.append((made[id(page)], (arguments, options)))
            return write(page, *arguments, **options)

        def watched_attachment(attachment: weasyprint.Attachment, *arguments: Any, **options: Any) -> None:
            self.attached[id(attachment)] = (arguments, options)
            # Kept, so that no other object gets its id.
            self.kept.append(attachment)
            attach(attachment, *arguments, **options)

        def watched_draw(drawing: RendererSVG) -> None:
            self.drawings += 1
            draw(drawing)  # type: ignore[no-untyped-call]

        with (
            patch.object(weasyprint.HTML, "__init__", watched_init),
            patch.object(weasyprint.HTML, "write_pdf", watched_write),
            patch.object(weasyprint.Attachment, "__init__", watched_attachment),
            patch.object(RendererSVG, "finalize", watched_draw),
        ):
            publish()

    def floor(self) -> None:
        """Set the same PDFs from their HTML, and make as many plain drawings."""
        for (arguments, options), (write_arguments, write_options) in self.sheets:
            # An attachment can be written once only.
            again = [self.attached[id(each)] for each in write_options.get("attachments", ())]
            attachments = [weasyprint.Attachment(*given, **named) for given, named in again]
            weasyprint.HTML(*arguments, **options).write_pdf(
                *write_arguments, **write_options | {"attachments": attachments}
            )
        for _ in range(self.drawings):
            drawing = RendererSVG(504, 144, io.StringIO())  # type: ignore[no-untyped-call]
            for y in range(PATHS):
                line = DrawnPath([(0, y), (504, y)])
                drawing.draw_path(GraphicsContextBase(), line, IdentityTransform())  # type: ignore[no-untyped-call]
            drawing.finalize()  # type: ignore[no-untyped-call]


def bench_publish(folder: Path) -> Row:
    """Time a publish of the demo; the floor sets the same PDFs and makes as many plain drawings, nothing else."""

    def publish() -> None:
        build(RECORDS, folder / "output", lambda done, total, what: None)

    watched = Watched()
    watched.watch(publish)
    what = f"the demo, {len(watched.sheets)} PDFs, {watched.drawings} drawings"
    ours, least = medians(publish, watched.floor, rounds=3)
    return row("publish", what, ours, least)


def bench_catalogue() -> Row:
    """Time the catalogue PDF of many devices; the floor is a table of as many bare rows and nothing else."""
    paper, letterhead = a_large_paper(DEVICES)
    rows = "".join(
        f"<tr><th>Device {number}</th><td>two wearers</td><td>{number}</td><td>no blower</td><td>no cautions</td></tr>"
        for number in range(DEVICES)
    )
    bare = f'<html lang="en"><head><title>Rows</title></head><body><table>{rows}</table></body></html>'
    ours, least = medians(
        lambda: render_sheet(paper, letterhead, {}),
        lambda: weasyprint.HTML(string=bare).write_pdf(pdf_variant="pdf/ua-1"),
        rounds=3,
    )
    return row("catalogue PDF", f"{DEVICES} devices (floor: bare rows)", ours, least)


SEARCHED = """() => {
  const search = document.getElementById('find-search');
  const took = (job) => {
    const start = performance.now();
    job();
    document.body.offsetHeight; // Asks for the layout.
    return performance.now() - start;
  };
  const type = (text) => { search.value = text; search.dispatchEvent(new Event('input')); };
  const hide = (rows, some) => rows.forEach((row, place) => { row.hidden = some && place % 3 > 0; });
  const rows = [...document.querySelectorAll('tr[data-device]')];
  const turns = [];
  for (let turn = 0; turn < 10; turn += 1) {
    const ours = took(() => type('etang')) + took(() => type(''));
    turns.push([ours, took(() => hide(rows, true)) + took(() => hide(rows, false))]);
  }
  return turns;
}"""


def bench_first_page(folder: Path) -> Row:
    """Time a search and its clearing on a large first page in Chromium; the floor hides and shows its rows."""
    path = write_large_first_page(DEVICES, folder)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(path.as_uri())
        turns = page.evaluate(SEARCHED)
        browser.close()
    ours, least = (statistics.median(times) / 1000 for times in zip(*turns, strict=True))
    return row("search the first page", f"{DEVICES} devices (floor: hiding)", ours, least)


def bench_preview(folder: Path) -> Row:
    """Time a preview from a saved record to its device's page; the floor reads the demo's records and nothing else."""
    shutil.copytree(RECORDS, folder)
    record = folder / "device_tests" / "gorseback-half-2025-11.yaml"
    text = record.read_text(encoding="utf-8")
    other = text.replace("values: [126, 127", "values: [125, 127", 1)
    assert other != text
    files = sorted(folder.glob("*/*.yaml"))
    as_json = [json.dumps(read_yaml(path.read_bytes(), "bench").data, default=str) for path in files]
    preview = Preview(folder)
    preview.refresh()

    def save() -> None:
        record.write_text(text if record.read_text(encoding="utf-8") == other else other, encoding="utf-8")
        assert preview.refresh().scored == (record.stem,)
        preview.answer("devices/gorseback-half.html")

    def floor() -> None:
        for path, data in zip(files, as_json, strict=True):
            FloorParser(path.read_bytes()).get_single_node()
            json.loads(data)

    save()
    ours, least = medians(save, floor, rounds=ROUNDS)
    return row("preview a saved record", "the demo (floor: reading)", ours, least)


def main() -> None:
    """Run all, print the table, write the JSON."""
    if not yaml.__with_libyaml__:
        raise SystemExit("PyYAML was built without libyaml here: the floor cannot be measured.")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [
            *bench_loading(folder / "records"),
            bench_preview(folder / "saved"),
            bench_publish(folder),
            bench_catalogue(),
            bench_first_page(folder / "first"),
        ]
    print(f"{'job':<24} {'of':<34} {'seconds':>9} {'floor':>9} {'ratio':>7}")
    for entry in rows:
        print(
            f"{entry['job']:<24} {entry['of']:<34} {entry['seconds']:>9.3f} {entry['floor_seconds']:>9.3f}"
            f" {entry['ratio']:>7.2f}"
        )
    RESULTS.parent.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps({"cores": os.cpu_count(), "rows": rows}, indent=2) + "\n", encoding="utf-8")
    print(f"Written to {RESULTS.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
