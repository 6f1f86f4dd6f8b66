"""One publish in a process of its own, told as JSON.

    python tests/bench/publishing.py RECORDS OUTPUT [--workers N] [--no-papers] [--anew] [--capture FOLDER]

With `--capture`, no PDF is set: what each paper is set from and what each drawing is made of is written into a folder,
for the floor to make the same of.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))

from generator.build import Wishes, build
from generator.build.timings import Timings, memory_mib
from generator.garbage import seldom_looked_for

_SVG = re.compile(r"<svg [^>]*class=\"scale.*?</svg>", re.DOTALL)
_PATH = re.compile(r'<path [^>]*?\bd="([^"]*)"')
_NUMBER = re.compile(r"-?[0-9.]+")
_TEXT = re.compile(r"<text[^>]*>(?:<tspan[^>]*>)?([^<]*)<")


def capture(folder: Path) -> object:
    """Return what, while it lasts, writes what papers are set from into a folder in place of setting them."""
    from generator.rendering import sheets

    shared = folder / "shared"
    shared.mkdir(parents=True)
    templates = Path(__file__).resolve().parent.parent.parent / "site_templates"
    for style in templates.glob("*.css"):
        (shared / style.name).write_bytes(style.read_bytes())
    for face in (templates / "fonts").glob("*.ttf"):
        (shared / face.name).write_bytes(face.read_bytes())

    def noted(markup: str, lacking: object, enclosed: Sequence[tuple[object, bytes]]) -> bytes:
        found = re.search(r"<p class=\"end\">End of [^<]*?([a-z0-9-]+)?\)?\.</p>", markup)
        name = f"{len(list(folder.iterdir())):05}-{found[1] if found and found[1] else 'paper'}"
        (folder / name).mkdir()
        (folder / name / "paper.html").write_text(markup, encoding="utf-8")
        texts = [(getattr(item, "name", "x"), content.decode()) for item, content in enclosed]
        (folder / name / "paper.json").write_text(json.dumps(texts), encoding="utf-8")
        (folder / name / "drawings").write_text("[]", encoding="utf-8")
        return b"%PDF-"

    return patch.object(sheets, "_set", noted)


def write_drawings(output: Path, folder: Path) -> int:
    """Write of how many lines, corners and texts each drawing on the pages is made; return how many drawings."""
    places = [path for path in sorted(folder.iterdir()) if path.name != "shared"]
    drawings: list[list[dict[str, object]]] = [[] for _ in places]
    number = 0
    for page in sorted(output.rglob("*.html")):
        for drawing in _SVG.findall(page.read_text(encoding="utf-8")):
            corners = [max(len(_NUMBER.findall(path)) // 2, 2) for path in _PATH.findall(drawing)]
            drawings[number % len(places)].append({"paths": corners, "texts": _TEXT.findall(drawing)})
            number += 1
    for place, of_place in zip(places, drawings, strict=True):
        (place / "drawings").write_text(json.dumps(of_place), encoding="utf-8")
    return number


def main() -> None:
    """Publish, and print what it took."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("records", type=Path)
    parser.add_argument("output", type=Path)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--no-papers", action="store_true")
    parser.add_argument("--anew", action="store_true")
    parser.add_argument("--capture", type=Path)
    given = parser.parse_args()
    seldom_looked_for()  # as the command does
    timings, drawings = Timings(), None
    wishes = Wishes(workers=given.workers, papers=not given.no_papers, anew=given.anew)
    started = time.perf_counter()
    if given.capture is None:
        build(given.records, given.output, lambda done, total, what: None, wishes, timings)
    else:
        with capture(given.capture):  # type: ignore[attr-defined]
            build(given.records, given.output, lambda done, total, what: None, wishes, timings)
        drawings = write_drawings(given.output, given.capture)
    print(
        json.dumps(
            {
                "seconds": time.perf_counter() - started,
                "stages": timings.stages,
                "processor_seconds": timings.seconds,
                "worker_mib": timings.peak_mib,
                "own_mib": memory_mib(),
                "drawings": drawings,
                "made": dict(timings.made),
            }
        )
    )


if __name__ == "__main__":
    main()
