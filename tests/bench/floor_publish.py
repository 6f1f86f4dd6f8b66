"""The floor of a cold publish: the same papers by bare WeasyPrint and as many drawings by bare matplotlib.

    python tests/bench/floor_publish.py FOLDER PROCESSES

With 0 processes, all is done in this one. FOLDER holds what `publishing.py --capture` wrote. Nothing of the project's
code runs here, and nothing else is done: no records are read, nothing is scored, worded, checked or put in place. Not
to be changed when the project changes.
"""

import io
import json
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

BASE = "build:/"


def do(device: str) -> float:
    """Set the papers and make the drawings of one device; return the processor time. [s]"""
    import matplotlib
    import weasyprint
    from matplotlib.figure import Figure
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    started = time.process_time()
    folder = Path(device)
    shared = folder.parent

    class Fetcher(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
            name = url.removeprefix(BASE)
            kind = "text/css" if name.endswith(".css") else "font/ttf"
            return URLFetcherResponse(url, (shared / "shared" / Path(name).name).read_bytes(), {"Content-Type": kind})

    for markup in sorted(folder.glob("*.html")):
        enclosed = json.loads(markup.with_suffix(".json").read_text(encoding="utf-8"))
        text = markup.read_text(encoding="utf-8")
        pdf = weasyprint.HTML(string=text, base_url=BASE, url_fetcher=Fetcher()).write_pdf(
            pdf_variant="pdf/ua-1",
            attachments=[weasyprint.Attachment(string=content.encode(), name=name) for name, content in enclosed],
        )
        markup.with_suffix(".pdf").write_bytes(pdf)
    matplotlib.rcParams["svg.fonttype"] = "none"
    for number, drawing in enumerate(json.loads((folder / "drawings").read_text(encoding="utf-8"))):
        figure = Figure(figsize=(7, 3))
        axes = figure.add_axes((0, 0, 1, 1))
        axes.set_axis_off()
        for corners in drawing["paths"]:
            axes.plot([place / corners for place in range(corners)], [0.5] * corners)
        for place, text in enumerate(drawing["texts"]):
            axes.text(0.5, place / len(drawing["texts"]), text.replace("$", r"\$"))
        file = io.BytesIO()
        figure.savefig(file, format="svg", metadata={"Date": None, "Creator": None})
        (folder / f"{number}.svg").write_bytes(file.getvalue())
    return time.process_time() - started


def main() -> None:
    """Do all devices and print how long it took."""
    devices = sorted(str(path) for path in Path(sys.argv[1]).iterdir() if path.name != "shared")
    started = time.perf_counter()
    if sys.argv[2] == "0":
        processor = sum(map(do, devices))
    else:
        with ProcessPoolExecutor(int(sys.argv[2]), get_context("spawn")) as pool:
            processor = sum(pool.map(do, devices))
    print(json.dumps({"seconds": time.perf_counter() - started, "processor_seconds": processor}))


if __name__ == "__main__":
    main()
