"""The catalogue PDF of many devices beside its floor, a table of as many bare rows, in a process of its own.

    python tests/bench/catalogue_pdf.py DEVICES

Prints seconds of both, and the most memory that the catalogue took, as JSON.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))

import weasyprint

from generator.build.timings import memory_mib
from generator.rendering.sheets import render_sheet
from tests.bench.measuring import medians, once
from tests.rendering.large_catalogue import a_large_paper


def main() -> None:
    """Set both, and tell what they took."""
    devices = int(sys.argv[1])
    paper, letterhead = a_large_paper(devices)
    rows = "".join(
        f"<tr><th>Device {number}</th><td>two wearers</td><td>{number}</td><td>no blower</td><td>no cautions</td></tr>"
        for number in range(devices)
    )
    bare = f'<html lang="en"><head><title>Rows</title></head><body><table>{rows}</table></body></html>'
    first = once(lambda: render_sheet(paper, letterhead, {}))
    most = memory_mib()
    ours, least = medians(
        lambda: render_sheet(paper, letterhead, {}),
        lambda: weasyprint.HTML(string=bare).write_pdf(pdf_variant="pdf/ua-1"),
        rounds=3,
    )
    print(json.dumps({"first": first, "seconds": ours, "floor": least, "mib": most}))


if __name__ == "__main__":
    main()
