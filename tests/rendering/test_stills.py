"""Stills for video: size, bytes, what they say, where their texts stand however long they are, and their contrast."""

from __future__ import annotations

import io
import struct
from dataclasses import replace
from itertools import combinations

import pytest
from PIL import Image

from generator.presenting.presented import Presented
from generator.presenting.still_views import STILLS_FOLDER, ScaleEnd, Still
from generator.presenting.stills import present_stills
from generator.presenting.views import Landmark, ScaleMark, ScaleRow
from generator.rendering.still_canvas import (
    BOTTOM,
    HEIGHT,
    LEAST_TEXT,
    LEFT,
    LIGHT,
    NIGHT,
    RIGHT,
    SANS,
    TOP,
    WIDTH,
    Palette,
    PlacedText,
    fitted,
    width_of,
    wrapped,
)
from generator.rendering.stills import drawn, still_png
from generator.rendering.whole_site import render_site
from tests.presenting.small_sites import context_of, shown
from tests.presenting.statement_cases import LOOSE, MODIFIED, PLENTY, Build, of, three
from tests.scoring.builders import a_run

NARROW = "\N{NARROW NO-BREAK SPACE}"
LONGEST = "Wide " * 119 + "Wide."
HOSTILE = "$x^2$ <b>%s</b> \\frac{1}{2} \u202e \N{HEBREW LETTER ALEF}\N{CJK UNIFIED IDEOGRAPH-4E00}\n{{ 7 * 7 }}"
ONE_WORD = "W" * 600


def stills_of(build: Build) -> tuple[Still, ...]:
    context = context_of(build())
    return present_stills(context.catalogue.devices["device"], context.result.devices["device"], context)


RUNS = [
    a_run(PLENTY),
    a_run([17.0, 17.1, 16.9], id="low", setting="low"),
    a_run([450.0, 451.0], id="m", battery="mains"),
]
BOTH = of(*three(150.0, 50.0, 2000.0, blower="high"), flow=RUNS, kind=LOOSE)


@pytest.fixture(scope="module")
def both() -> tuple[Still, ...]:
    return stills_of(BOTH)


def test_what_stands_on_them(both: tuple[Still, ...]) -> None:
    fit, flow = both
    assert (fit.light_path, fit.dark_path) == ("stills/device-fit.png", "stills/device-fit-dark.png")
    assert fit.sentence == (
        "On three wearers, three donnings in all, the air inside this device held 50 to 2000 times fewer particles "
        "than the air around it."
    )
    assert fit.conditions == "June 2025; with the blower at high"
    assert [row.label for row in fit.rows] == ["A", "B", "C"]
    assert fit.ends == (ScaleEnd(50.0, "50"), ScaleEnd(2000.0, "2000"))
    # An instrument gave the factors, so that none has an interval.
    assert (
        fit.limits
        == "These wearers, these items, these days: others may see less. It is no assigned protection factor."
    )
    assert fit.tested == "Record test"
    assert fit.where == "Catalogue · https://nowhere.example/devices/device.html"
    assert fit.invented is not None
    assert flow.sentence.startswith(f"This device delivered 17.00{NARROW}L/min of air. That is one tenth of the 170")
    assert flow.sentence.endswith("does not meet the requirement.")
    assert flow.conditions == "June 2025; low, battery fresh, new filter"
    assert [(row.label, row.marks[0].text) for row in flow.rows] == [
        ("low, fresh, new", f"17.00{NARROW}L/min"),
        ("high, fresh, new", f"201{NARROW}L/min"),
        ("high, on mains, new", f"450{NARROW}L/min"),
    ]
    assert flow.limits.endswith("Bars are 95 % intervals.")


def test_factors_that_are_written_alike_are_written_once() -> None:
    (still,) = stills_of(of(*three(150.0, 150.2)))
    assert still.ends == (ScaleEnd(150.0, "150"),)


def test_a_modified_device_is_called_so_and_stands_alone() -> None:
    fit, flow = stills_of(of(*three(150.0, blower="high"), flow=[a_run(PLENTY)], kind=LOOSE, configuration=MODIFIED))
    assert fit.conditions == "June 2025; with the blower at high, modified: taped"
    assert flow.conditions == "June 2025; high, battery fresh, new filter; modified: seams taped"


def test_many_runs_say_how_many_are_shown() -> None:
    runs = [a_run([180.0 + number, 181.0 + number], id=f"r{number}") for number in range(7)]
    (still,) = stills_of(of(flow=runs, kind=LOOSE))
    assert len(still.rows) == 5
    assert still.conditions.endswith("; 5 of 7 runs shown")


@pytest.mark.parametrize(
    ("build", "paths"),
    [
        (of(*three(150.0)), ["stills/device-fit"]),
        (of(flow=[a_run(PLENTY)], kind=LOOSE), ["stills/device-flow"]),
        (of(burden={"masses": [{"what": "hood", "where": "head", "mass": "200 g"}]}, kind=LOOSE), []),
        (of(*three(150.0), device={"withdrawn": {"date": "2025-08-01", "reason": "Recalled."}}), []),
        (of(*three(150.0), withdrawn={"date": "2025-08-01", "reason": "A fault."}), []),
    ],
)
def test_what_has_no_result_has_no_still(build: Build, paths: list[str]) -> None:
    assert [still.path for still in stills_of(build)] == paths


def crowded(kind: str, **changes: object) -> Still:
    """Return a still with as much on it as there can be."""
    rows = tuple(
        ScaleRow(
            f"{LONGEST}{number}",
            (
                ScaleMark(
                    f"m{number}", 10.0**number, 10.0**number * 0.9, 10.0**number * 1.2, text=f"123.4{NARROW}L/min"
                ),
            ),
        )
        for number in range(5)
    )
    spans = (Landmark("a", "surgical mask, usually 2 to 4", 2, 4), Landmark("b", "a span", 3, 50))
    levels = tuple(Landmark(f"l{number}", LONGEST, 100.0 + number) for number in range(2))
    still = Still(
        path=f"stills/device-{kind}",
        kind=kind,
        name=LONGEST,
        sentence=LONGEST,
        conditions=LONGEST,
        rows=rows,
        ends=(ScaleEnd(1.0, "at least 1.0"), ScaleEnd(200_000.0, f"at least 200{NARROW}000")) if kind == "fit" else (),
        landmarks=(*spans, *levels) if kind == "fit" else levels[:1],
        limits="These wearers, these items, these days: others may see less.",
        tested=LONGEST,
        where=LONGEST,
        invented="Invented demonstration: device, maker, wearers and figures are made up. Decide nothing by it.",
    )
    return replace(still, **changes)  # type: ignore[arg-type]


def test_an_interval_past_an_end_of_the_rule_points_on() -> None:
    cut, whole = ScaleMark("m", 100.0, 0.5, 200_000.0), ScaleMark("m", 100.0, 1.0, 100_000.0)
    reach = []
    for mark in (whole, cut):
        still = crowded("fit", name="Device", rows=(ScaleRow("A", (mark,)),), landmarks=(), ends=())
        picture = Image.open(io.BytesIO(drawn(still).png())).convert("RGB")
        wanted = tuple(int(LIGHT.accent[place : place + 2], 16) for place in (1, 3, 5))
        columns = [x for x in range(WIDTH) if any(picture.getpixel((x, y)) == wanted for y in range(300, 900))]
        reach.append((min(columns), max(columns)))
    (left, right), (cut_left, cut_right) = reach
    assert left - cut_left > 5
    assert cut_right - right > 5


def overlap(one: PlacedText, other: PlacedText) -> bool:
    return (
        one.left < other.right - 1
        and other.left < one.right - 1
        and one.top < other.bottom - 1
        and other.top < one.bottom - 1
    )


@pytest.mark.parametrize("kind", ["fit", "flow"])
@pytest.mark.parametrize("name", [LONGEST, HOSTILE, ONE_WORD, "Device"])
def test_texts_stay_inside_and_apart_whatever_their_length(kind: str, name: str) -> None:
    texts = drawn(crowded(kind, name=name, sentence=name, conditions=name)).texts
    assert min(text.size for text in texts) >= LEAST_TEXT
    for text in texts:
        assert text.left >= LEFT - 1, text
        assert text.right <= RIGHT + 1, text
        assert text.top >= TOP - 1, text
        assert text.bottom <= BOTTOM + 1, text
    assert [(one.text[:30], other.text[:30]) for one, other in combinations(texts, 2) if overlap(one, other)] == []


def test_the_search_finds_texts_that_meet() -> None:
    one = PlacedText("a", 0, 0, 100, 30, 28, "#000000")
    assert overlap(one, replace(one, left=50, right=150))
    assert not overlap(one, replace(one, left=100, right=150))


def test_stills_of_the_small_catalogue_stay_apart_too(both: tuple[Still, ...]) -> None:
    for still in both:
        texts = drawn(still).texts
        assert [(one, other) for one, other in combinations(texts, 2) if overlap(one, other)] == []


@pytest.mark.parametrize("palette", [LIGHT, NIGHT])
def test_a_still_is_the_same_each_time_and_names_no_program_or_day(palette: Palette, both: tuple[Still, ...]) -> None:
    first = still_png(both[0], palette)
    assert first == still_png(both[0], palette)
    picture = Image.open(io.BytesIO(first))
    assert picture.size == (WIDTH, HEIGHT) == (1920, 1080)
    assert set(chunks(first)) <= {"IHDR", "pHYs", "IDAT", "IEND"}


def chunks(png: bytes) -> list[str]:
    """Return the kinds of chunk of a PNG (source: PNG specification, third edition, 5.3)."""
    found, place = [], 8
    while place < len(png):
        (length,) = struct.unpack(">I", png[place : place + 4])
        found.append(png[place + 4 : place + 8].decode())
        place += 12 + length
    return found


@pytest.mark.parametrize("palette", [LIGHT, NIGHT])
@pytest.mark.parametrize("number", [0, 1])
def test_every_text_stands_out_by_its_pixels(palette: Palette, number: int, both: tuple[Still, ...]) -> None:
    canvas = drawn(both[number], palette)
    picture = Image.open(io.BytesIO(canvas.png())).convert("RGB")
    paper = luminance(picture.getpixel((2, 2)))
    for text in canvas.texts:
        box = picture.crop((int(text.left), int(text.top), int(text.right) + 1, int(text.bottom) + 1))
        found = [luminance(colour) for _, colour in box.getcolors(1_000_000) or []]
        most = max(contrast(each, paper) for each in found)
        # Source: WCAG 2.2, 1.4.3.
        assert most >= 4.5, text


def luminance(colour: object) -> float:
    """Return the relative luminance (source: WCAG 2.2, relative luminance)."""
    assert isinstance(colour, tuple)
    parts = [value / 255 for value in colour]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return float(0.2126 * red + 0.7152 * green + 0.0722 * blue)


def contrast(one: float, other: float) -> float:
    return (max(one, other) + 0.05) / (min(one, other) + 0.05)


def test_contrast_of_black_and_white() -> None:
    # Source: WCAG 2.2: 21 to 1.
    assert contrast(luminance((0, 0, 0)), luminance((255, 255, 255))) == pytest.approx(21)


def test_texts_are_cut_and_broken_by_their_width() -> None:
    assert fitted("Device", 1000, 28, SANS) == "Device"
    short = fitted(LONGEST, 300, 28, SANS)
    assert short.endswith("…")
    assert width_of(short, 28, SANS) <= 300
    assert " ".join(wrapped("one two three four", 100, 28, SANS, 9)) == "one two three four"
    assert len(wrapped(LONGEST, 300, 28, SANS, 3)) == 3
    assert wrapped("", 300, 28, SANS, 3) == [""]


def test_a_site_has_stills_only_where_they_were_asked_for() -> None:
    from generator.model.published import published
    from generator.presenting.whole_site import present
    from generator.scoring.catalogue import score_catalogue

    out = published(of(*three(150.0))())
    site = present(out, score_catalogue(out), with_stills=True)
    page = next(page for page in site.devices if page.id == "device")
    assert [(link.text, link.href) for link in page.may_be_said.stills] == [
        ("fit factor", "stills/device-fit.png"),
        ("fit factor, dark", "stills/device-fit-dark.png"),
    ]
    without_others = replace(
        site, sheets=Presented({}), papers=Presented({}), records=Presented({}), methods=Presented({})
    )
    made = render_site(without_others, lambda done, total, what: None)
    assert [path for path in made if path.startswith(f"{STILLS_FOLDER}/")] == [
        "stills/device-fit.png",
        "stills/device-fit-dark.png",
    ]
    assert b'<a href="../stills/device-fit-dark.png">fit factor, dark</a>' in made["devices/device.html"]
    without = shown(of(*three(150.0))())
    assert without.stills == ()
    assert without.devices[0].may_be_said.stills == ()
