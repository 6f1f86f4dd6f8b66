"""Time the main jobs against their floor: the least that the libraries need for the same input, in the same run.

    make bench
    python tests/bench/bench.py --devices 100 --rounds 1 --growth 100 1000 5000
    python tests/bench/bench.py --against tests/bench/measured/*.json

Prints one table and writes it to build/bench.json, row by row: a run that is stopped leaves what it measured. A ratio
is worth more than a time: machines differ, and are busy. Runs of a job and of its floor take turns, and medians are
told. Tables of an earlier day are kept in measured/.
"""

import argparse
import json
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.bench.measuring import HEADING, Row, beside_earlier, where_and_when  # noqa: E402
from tests.bench.page_rows import row_of_catalogue, row_of_first_page  # noqa: E402
from tests.bench.publish_rows import fewest_devices, rows_of_growth, rows_of_publishing  # noqa: E402
from tests.bench.reading_rows import row_of_preview, rows_of_reading  # noqa: E402

RESULTS = ROOT / "build" / "bench.json"


def main() -> None:
    """Run all, print the table, write the JSON."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--devices", type=int, default=21, help="devices of the publishes with PDFs")
    parser.add_argument("--rounds", type=int, default=3, help="cold publishes with PDFs, and their floors")
    parser.add_argument("--growth", type=int, nargs="*", default=[21, 100], help="devices of publishes without PDFs")
    parser.add_argument("--only", choices=("reading", "pages", "publishing", "growth"), nargs="*")
    parser.add_argument("--into", type=Path, default=RESULTS, help="file to write the table to")
    parser.add_argument("--against", type=Path, nargs="+", default=[], help="tables to hold the ratios against")
    given = parser.parse_args()
    wanted = given.only or ["reading", "pages", "publishing", "growth"]
    if "publishing" in wanted and given.devices < (fewest := fewest_devices()):
        parser.error(f"--devices is {given.devices}; {fewest} or more are needed, or none has the record to change")
    earlier = [row for file in given.against for row in json.loads(file.read_text(encoding="utf-8"))["rows"]]
    if not yaml.__with_libyaml__:
        raise SystemExit("PyYAML was built without libyaml here: the floor cannot be measured.")
    rows: list[Row] = []
    told: dict[str, Any] = where_and_when()

    def keep() -> None:
        table = told | {"rows": [row.as_json() for row in rows]}
        given.into.write_text(json.dumps(table, indent=2) + "\n", encoding="utf-8")

    def add(more: Iterable[Row]) -> None:
        for row in more:
            rows.append(row)
            print(row, flush=True)
            keep()

    given.into.parent.mkdir(exist_ok=True)
    print(HEADING)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if "reading" in wanted:
            add(rows_of_reading(folder / "thousand"))
            add([row_of_preview(folder / "saved")])
        if "pages" in wanted:
            add([row_of_catalogue(folder), row_of_first_page(folder / "first")])
        if "publishing" in wanted:
            (folder / "publishing").mkdir()
            add(rows_of_publishing(folder / "publishing", given.devices, given.rounds, told))
        if "growth" in wanted:
            (folder / "growth").mkdir()
            add(rows_of_growth(folder / "growth", given.growth, told))
            if "slope" in told:
                print(f"growth without PDFs, slope of log time over log devices: {told['slope']:.3f}")
    keep()
    print(f"Written to {given.into}")
    if earlier:
        print("\n".join(["Ratios beside the earlier ones:", *beside_earlier(rows, earlier)]))


if __name__ == "__main__":
    main()
