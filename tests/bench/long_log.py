"""Measure how long a log of a million rows takes to be read, and the memory it takes, each in a fresh process.

    make bench

The floor is to split each line and to read its numbers, with nothing checked.
"""

import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from generator.contributing.taking_in.raw_text import raw_text, read_raw  # noqa: E402
from generator.contributing.taking_in.readings import Readings, read_readings  # noqa: E402
from generator.contributing.taking_in.told import Told  # noqa: E402

ROWS = 1_000_000
MOST_SECONDS = 5.0
MOST_MEGABYTES = 500.0


def write_seconds(path: Path) -> None:
    """Write a log of seconds and readings with a decimal point."""
    chance = random.Random(1)
    rows = (f"{at / 10:.1f},{chance.lognormvariate(5, 1):.2f}\n" for at in range(ROWS))
    path.write_text("time (s),inside (/cm3)\n" + "".join(rows), encoding="utf-8")


def write_stamps(path: Path) -> None:
    """Write a log of stamps, two channels and decimal commas, over several midnights."""
    chance = random.Random(2)
    rows = []
    for at in range(ROWS):
        seconds = 64_800 + at // 4
        stamp = f"{14 + seconds // 86_400}.03.2025 {seconds // 3600 % 24:02}:{seconds // 60 % 60:02}:{seconds % 60:02}"
        reading = f"{chance.lognormvariate(5, 1):.2f}".replace(".", ",")
        rows.append(f"{stamp},{at % 4 * 250:03};{reading};1200,5;;\n")
    path.write_text("when;inside (/cm3);outside (/cm3);exercise;note\n" + "".join(rows), encoding="utf-8")


def floor(path: Path, delimiter: str) -> float:
    """Return the seconds of the processor that it takes to split each line and to read two numbers of it."""
    begun = time.process_time()
    for line in path.read_text(encoding="utf-8").split("\n")[1:-1]:
        cells = line.split(delimiter)
        float(cells[1].replace(",", "."))
        float(cells[0].replace(",", ".")[-6:].rpartition(":")[2])
    return time.process_time() - begun


def measure(path: Path) -> None:
    """Read a log in this process and print what it took."""
    begun = time.process_time()
    readings = read_readings(raw_text(read_raw(path), None), path.name, Told())
    assert isinstance(readings, Readings)
    assert len(readings.time_s) == ROWS
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"seconds": time.process_time() - begun, "megabytes": megabytes}))


def main() -> None:
    """Measure both logs; exit with 1 where one takes too long or too much room."""
    failed = False
    with tempfile.TemporaryDirectory() as name:
        for path, write, delimiter in (
            (Path(name) / "seconds.csv", write_seconds, ","),
            (Path(name) / "stamps.csv", write_stamps, ";"),
        ):
            write(path)
            child = subprocess.run([sys.executable, __file__, str(path)], capture_output=True, text=True, check=True)
            took = json.loads(child.stdout)
            least = floor(path, delimiter)
            print(
                f"{path.stem}: a million rows in {took['seconds']:.2f} s of the processor "
                f"({took['seconds'] / least:.1f} times the floor of {least:.2f} s), {took['megabytes']:.0f} MB"
            )
            failed |= took["seconds"] > MOST_SECONDS or took["megabytes"] > MOST_MEGABYTES
    sys.exit(failed)


if __name__ == "__main__":
    measure(Path(sys.argv[1])) if len(sys.argv) > 1 else main()
