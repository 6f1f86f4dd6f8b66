"""Publishing measured: cold, with nothing changed, with one record changed, and how it grows."""

from __future__ import annotations

import math
import shutil
import statistics
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tests.bench.many_devices import write_catalogue
from tests.bench.measuring import Row, medians, once, run, told

HERE = Path(__file__).resolve().parent
PUBLISHING, FLOOR, FLOOR_NOTHING = (HERE / name for name in ("publishing.py", "floor_publish.py", "floor_nothing.py"))
WORKERS = 2


def _other_reading(record: Path) -> None:
    """Change one reading of a test record."""
    text = record.read_text(encoding="utf-8")
    for start in ("in_mask: ", "in_mask_count: "):
        if start in text:
            record.write_text(text.replace(start, f"{start}1", 1), encoding="utf-8")
            return
    raise SystemExit(f"{record} has no reading to change")


def rows_of_publishing(folder: Path, devices: int, rounds: int) -> tuple[list[Row], dict[str, Any]]:
    """Time a cold publish against its floor, then one with nothing to do, then one with one record changed."""
    records, captured = folder / "records", folder / "captured"
    write_catalogue(records, devices)
    seen = told([PUBLISHING, records, folder / "plain", "--capture", captured], folder / "plain-cache")
    ours, floors, last = [], [], {}
    for number in range(rounds):
        floors.append(told([FLOOR, captured, str(WORKERS)], folder / "floor-cache")["seconds"])
        shutil.rmtree(folder / "output", ignore_errors=True)
        cache = folder / f"cache-{number}"
        last = told([PUBLISHING, records, folder / "output", "--workers", str(WORKERS)], cache)
        ours.append(last["seconds"])
    made = f"{len(list(captured.iterdir())) - 1} PDFs, {seen['drawings']} drawings"
    cold = Row(
        "publish, cold",
        f"{devices} devices ({made})",
        statistics.median(ours),
        statistics.median(floors),
        last["worker_mib"],
    )
    words: list[str | Path] = ["-m", "generator", "publish", "--records", records]
    words += ["--output", folder / "output", "--workers", str(WORKERS)]
    nothing, least = medians(
        lambda: run(words, cache), lambda: run([FLOOR_NOTHING, records, folder / "output"], cache), rounds=5
    )
    rows = [cold, Row("publish, nothing changed", f"{devices} devices (look at and hash)", nothing, least)]
    rows += _one_changed(folder, devices, captured, words, cache)
    return rows, last


def _one_changed(folder: Path, devices: int, captured: Path, words: Sequence[str | Path], cache: Path) -> list[Row]:
    """Time a publish after one record was changed; the floor sets that device's sheet and makes its drawings.

    Tell also the processor time of papers of the whole in it, and the memory of the process that holds the catalogue.
    """
    device = sorted((folder / "records" / "devices").glob("tansy-fold-*.yaml"))[0].stem
    record = sorted((folder / "records" / "device_tests").glob(f"{device}-*.yaml"))[0]
    alone = folder / "alone"
    alone.mkdir()
    shutil.copytree(captured / "shared", alone / "shared")
    (its,) = captured.glob(f"*-{device}")
    shutil.copytree(its, alone / its.name)
    times, floors = [], []
    for _ in range(3):
        _other_reading(record)
        floors.append(once(lambda: run([FLOOR, alone, "0"], cache)))
        times.append(once(lambda: run(words, cache)))
    ours, least = statistics.median(times), statistics.median(floors)
    _other_reading(record)
    took = told([PUBLISHING, folder / "records", folder / "output", "--workers", str(WORKERS)], cache)
    whole = took["processor_seconds"]["papers beside devices"]
    return [
        Row("publish, one record changed", f"{devices} devices (its PDF and drawings)", ours, least, took["own_mib"]),
        Row("of it, PDFs of the whole", f"{devices} devices (processor time)", whole),
    ]


def rows_of_growth(folder: Path, sizes: Sequence[int]) -> tuple[list[Row], float]:
    """Time cold publishes without PDFs; return the slope of time over size on logarithmic scales too."""
    rows = []
    for devices in sizes:
        records = folder / str(devices)
        write_catalogue(records, devices)
        words: list[str | Path] = [PUBLISHING, records, folder / "output", "--workers", str(WORKERS), "--no-papers"]
        took = told(words, folder / f"cache-{devices}")
        rows.append(
            Row("publish, cold, no PDFs", f"{devices} devices", took["seconds"], most_memory_mib=took["worker_mib"])
        )
        for used in (records, folder / "output", folder / f"cache-{devices}"):
            shutil.rmtree(used)
    if len(rows) < 2:
        return rows, math.nan
    logs = [(math.log(size), math.log(row.seconds)) for size, row in zip(sizes, rows, strict=True)]
    return rows, statistics.linear_regression(*zip(*logs, strict=True)).slope
