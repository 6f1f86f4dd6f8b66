"""Publishing measured: cold, with nothing changed, with one record changed, and how it grows."""

from __future__ import annotations

import math
import re
import shutil
import statistics
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.bench.many_devices import shapes, write_catalogue
from tests.bench.measuring import ROUNDS, Row, medians, run, told

HERE = Path(__file__).resolve().parent
PUBLISHING, FLOOR, FLOOR_NOTHING = (HERE / name for name in ("publishing.py", "floor_publish.py", "floor_nothing.py"))
WORKERS = 2
TURNS_OF_ONE_CHANGED = 7
"""On a busy machine three turns gave a ratio of 4.9 where the median of many is about 4."""
CHANGED = "tansy-fold"
"""The shape of the device of which one record is changed."""
_READING = re.compile(r"(in_mask(?:_count)?: )(\d+)")


def _other_reading(record: Path) -> None:
    """Make the first reading of a test record one larger, which no publish before has seen."""
    text, changed = _READING.subn(
        lambda found: found[1] + str(int(found[2]) + 1), record.read_text(encoding="utf-8"), count=1
    )
    if not changed:
        raise SystemExit(f"{record} has no reading to change")
    record.write_text(text, encoding="utf-8")


def _copy_papers(papers: Sequence[Path], captured: Path, folder: Path) -> None:
    """Copy what these papers are set from, and what all of them share, into a new folder."""
    for path in (captured / "shared", *papers):
        shutil.copytree(path, folder / path.name)


def papers_of_floor(captured: Path, rounds: int) -> list[list[Path]]:
    """Return the papers that a floor is measured on, in the parts it is measured in.

    A single round has two parts, one before our publish and one after it: a machine that grows slower in the hour
    between is no fault of either. Shapes of devices follow one another in turn, so that each part holds about as many
    of each.
    """
    papers = sorted(path for path in captured.iterdir() if path.name != "shared")
    return [papers[::2], papers[1::2]] if rounds == 1 else [papers]


def fewest_devices() -> int:
    """Return how many devices a catalogue has at least that holds the one of which a record is changed."""
    return [shape.device for shape in shapes()].index(CHANGED) + 1


def rows_of_publishing(folder: Path, devices: int, rounds: int, told_beside: dict[str, Any]) -> Iterator[Row]:
    """Time a cold publish against its floor, then one with nothing to do, then one with one record changed.

    Each row is given when it is measured; what the cold publish said of itself is added to `told_beside` before.
    """
    records, captured = folder / "records", folder / "captured"
    write_catalogue(records, devices)
    seen = told([PUBLISHING, records, folder / "plain", "--capture", captured], folder / "plain-cache")
    ours, floors, last = [], [], {}
    shares: list[Path] = []
    for papers in papers_of_floor(captured, rounds):
        shares.append(folder / f"share-{len(shares)}")
        _copy_papers(papers, captured, shares[-1])

    def floor_of(share: Path) -> float:
        seconds: float = told([FLOOR, share, str(WORKERS)], folder / "floor-cache")["seconds"]
        return seconds

    for number in range(rounds):
        floor = floor_of(shares[0])
        shutil.rmtree(folder / "output", ignore_errors=True)
        cache = folder / f"cache-{number}"
        last = told([PUBLISHING, records, folder / "output", "--workers", str(WORKERS)], cache)
        ours.append(last["seconds"])
        floors.append(floor + sum(map(floor_of, shares[1:])))
    told_beside["cold_publish"] = last
    made = f"{len(list(captured.iterdir())) - 1} PDFs, {seen['drawings']} drawings"
    yield Row(
        "publish, cold",
        f"{devices} devices ({made})",
        statistics.median(ours),
        statistics.median(floors),
        last["worker_mib"],
    )
    words: list[str | Path] = ["-m", "generator", "publish", "--records", records]
    words += ["--output", folder / "output", "--workers", str(WORKERS)]
    nothing, least = medians(
        lambda: run(words, cache), lambda: run([FLOOR_NOTHING, records, folder / "output"], cache), rounds=ROUNDS
    )
    yield Row("publish, nothing changed", f"{devices} devices (look at and hash)", nothing, least)
    yield from _one_changed(folder, devices, captured, words, cache)


def _one_changed(folder: Path, devices: int, captured: Path, words: Sequence[str | Path], cache: Path) -> list[Row]:
    """Time a publish after one record was changed; the floor sets that device's sheet and makes its drawings.

    Tell also the processor time of papers of the whole in it, and the memory of the process that holds the catalogue.
    """
    device = sorted((folder / "records" / "devices").glob(f"{CHANGED}-*.yaml"))[0].stem
    record = sorted((folder / "records" / "device_tests").glob(f"{device}-*.yaml"))[0]
    alone = folder / "alone"
    (its,) = captured.glob(f"*-{device}")
    _copy_papers([its], captured, alone)

    def publish_another() -> None:
        _other_reading(record)
        run(words, cache)

    ours, least = medians(publish_another, lambda: run([FLOOR, alone, "0"], cache), rounds=TURNS_OF_ONE_CHANGED)
    _other_reading(record)
    took = told([PUBLISHING, folder / "records", folder / "output", "--workers", str(WORKERS)], cache)
    whole = took["processor_seconds"]["papers beside devices"]
    return [
        Row("publish, one record changed", f"{devices} devices (its PDF and drawings)", ours, least, took["own_mib"]),
        Row("of it, PDFs of the whole", f"{devices} devices (processor time)", whole),
    ]


def rows_of_growth(folder: Path, sizes: Sequence[int], told_beside: dict[str, Any]) -> Iterator[Row]:
    """Time cold publishes without PDFs, one size after the other.

    With two sizes or more the slope of time over size, on logarithmic scales, is added to `told_beside`.
    """
    seconds = []
    for devices in sizes:
        records = folder / str(devices)
        write_catalogue(records, devices)
        words: list[str | Path] = [PUBLISHING, records, folder / "output", "--workers", str(WORKERS), "--no-papers"]
        took = told(words, folder / f"cache-{devices}")
        seconds.append(took["seconds"])
        yield Row("publish, cold, no PDFs", f"{devices} devices", took["seconds"], most_memory_mib=took["worker_mib"])
        for used in (records, folder / "output", folder / f"cache-{devices}"):
            shutil.rmtree(used)
    if len(seconds) > 1:
        told_beside["slope"] = statistics.linear_regression([*map(math.log, sizes)], [*map(math.log, seconds)]).slope
