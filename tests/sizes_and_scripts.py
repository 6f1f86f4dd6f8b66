"""A catalogue of extremes: many wearers, a long log, long notes, names in many scripts, devices without a test."""

from __future__ import annotations

import json
import random
import shutil
from pathlib import Path
from typing import Any

from generator.loading.logs import sha256_of
from generator.loading.yaml_source import read_yaml

WEARERS = 200
LOG_S = 8 * 3600
"""An eight-hour log, one line a second. [s]"""
NOTES = 10_000
EXERCISES = ("standing", "stepping", "reaching", "bending", "reading-aloud")

NAMES = {
    "arabic": "كمامة النسيم ٢",
    "hebrew": "קסדת רוח 12 (חדשה)",
    "devanagari": "क्षेत्र मास्क नं. ३",
    "thai": "หน้ากากกันฝุ่น",
    "chinese": "防塵口罩第二型",
    "hangul": "방진 마스크",
    "cyrillic": "Маска «Пылинка» №4",
    "polytonic": "Ἀνεμώνη ᾳ̃ ἤ̈",
    "stacked-marks": "Z̵̢̛̟͖͙̆͊a̷̧̛̘̎l̸̢̛̗̓g̶̡̜̿o̴ ế̬ẍ̣́",
    "emoji": "😷 👩🏽‍🔧 🏳️‍🌈 mask",
    "mixed": "Mask מסכה mask قناع 3",
    "unbroken": "Pneumonoultramicroscopicsilicovolcanoconiosis" * 5,
}
"""Names of devices by id."""
WORDS = ["the", "mask", "sat", "well", "and", "the", "strap", "did", "not", "slip", "although", "it", "rained"]


def data_of(path: Path) -> Any:
    source = read_yaml(path.read_bytes(), str(path))
    assert source.problems == ()
    return source.data


def write(path: Path, data: object) -> None:
    path.parent.mkdir(exist_ok=True)
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1), encoding="utf-8")


def letters(number: int) -> str:
    """Return A to Z, then AA to ZZ."""
    first, second = divmod(number, 26)
    return (chr(64 + first) if first else "") + chr(65 + second)


def long_notes() -> str:
    chosen = random.Random(1)
    text = ""
    while len(text) < NOTES:
        text += chosen.choice(WORDS) + chosen.choice([" ", " ", " ", ".\n\n", " *", "\n- "])
    return text[: NOTES - 1] + "."


def extreme_records(demo: Path, folder: Path) -> Path:
    """Write a catalogue of extremes, made from one device of the demo and its two tests."""
    left_out = ("README.md", "logs", "pictures", "wearers", "device*", "comparisons")
    shutil.copytree(demo, folder, ignore=shutil.ignore_patterns(*left_out))
    device = data_of(demo / "devices" / "tidewrack-full.yaml")
    for name, shown in NAMES.items():
        write(folder / "devices" / f"{name}.yaml", device | {"id": name, "name": shown, "maker": f"{shown} & Co."})
    for number in range(WEARERS):
        wearer = {
            "id": f"wearer-{number}",
            "version": "1",
            "catalogue_letter": letters(number),
            "consent": {"given": "2025-01-01", "covers": "everything"},
            "facial_hair": "none",
        }
        write(folder / "wearers" / f"wearer-{number}.yaml", wearer)
    test = data_of(demo / "device_tests" / "tidewrack-full-2025-07.yaml")
    many = test | {"id": "many-wearers", "device": "mixed", "notes": long_notes(), "fit": sessions()}
    write(folder / "device_tests" / "many-wearers.yaml", many)
    write(
        folder / "device_tests" / "long-log.yaml",
        test | {"id": "long-log", "device": "hebrew", "fit": [logged(folder)]},
    )
    spoken = test | {"id": "spoken", "device": "arabic", "place": NAMES["thai"], "fit": sessions()[:2]}
    write(
        folder / "device_tests" / "spoken.yaml",
        spoken | {"flow": [run | {"where": NAMES["hebrew"]} for run in test["flow"]]},
    )
    return folder


def session(number: int, **more: object) -> dict[str, object]:
    return {
        "id": f"s{number}",
        "wearer": f"wearer-{number}",
        "donning": 1,
        "protocol": "five-working-exercises",
        "blower": "follow",
        "filter": NAMES["hebrew"],
        "outcome": "completed",
        **more,
    }


def sessions() -> list[dict[str, object]]:
    drawn = random.Random(2)
    return [
        session(
            number,
            in_mask_time="30 s",
            ambient_time="15 s",
            ambient_before=f"{drawn.randint(2000, 2200)} /cm3",
            ambient_after=f"{drawn.randint(2000, 2200)} /cm3",
            exercises=[{"exercise": name, "in_mask_count": drawn.randint(0, 900)} for name in EXERCISES],
        )
        for number in range(WEARERS)
    ]


def logged(folder: Path) -> dict[str, object]:
    """Write the long log; return the session that refers to it."""
    drawn = random.Random(3)
    each = (LOG_S - 120) // len(EXERCISES)
    lines = ["time,conc,exercise,sampling"]
    for second in range(LOG_S):
        place = (second - 60) // each
        if 60 <= second < LOG_S - 60 and place < len(EXERCISES):
            lines.append(f"{second},{drawn.uniform(1, 9):.2f},{EXERCISES[place]},in-mask")
        else:
            lines.append(f"{second},{drawn.uniform(2000, 2100):.1f},,ambient")
    content = ("\n".join(lines) + "\n").encode()
    (folder / "logs").mkdir()
    (folder / "logs" / "long.csv").write_bytes(content)
    columns = {"time": "time", "concentration": "conc", "exercise": "exercise", "sampling": "sampling"}
    return session(0, log={"file": "logs/long.csv", "sha256": sha256_of(content), "unit": "/cm3", "columns": columns})
