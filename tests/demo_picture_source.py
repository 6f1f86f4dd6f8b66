"""Make the demo's two pictures, drawn and invented: records/pictures/mothwing-plate.png and bellheather-bench.jpg.

Run as `python -m tests.demo_picture_source` to write them. The grain of the bench comes from a seeded generator whose
stream is frozen (numpy's RandomState, NEP 19); the bytes of the files also depend on the version of Pillow.
"""

import io
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

PICTURES = Path(__file__).parent.parent / "records" / "pictures"
SEED = 20250220


def plate_drawing() -> Image.Image:
    """Return a plate with an inlet (a filter pad) and an exhaust fan close beside it, and arrows for the air."""
    picture = Image.new("RGB", (900, 520), "#f4f1e8")
    draw = ImageDraw.Draw(picture)
    draw.rounded_rectangle((110, 70, 790, 450), radius=60, fill="#c9c4b6", outline="#3b3a36", width=6)
    draw.ellipse((190, 140, 430, 380), fill="#e9e6dc", outline="#3b3a36", width=5)
    for line in range(156, 380, 16):
        half = round((120**2 - (line - 260) ** 2) ** 0.5)
        draw.line((310 - half, line, 310 + half, line), fill="#a39d8c", width=3)
    draw.ellipse((520, 170, 700, 350), fill="#55524a", outline="#3b3a36", width=5)
    for start in range(0, 360, 72):
        draw.pieslice((530, 180, 690, 340), start, start + 34, fill="#8d8779")
    draw.ellipse((590, 240, 630, 280), fill="#3b3a36")
    # Air goes in on the left, out on the right, and some of it back in.
    draw.line((310, 20, 310, 120), fill="#0b5a6b", width=9)
    draw.polygon(((292, 112), (328, 112), (310, 140)), fill="#0b5a6b")
    draw.line((610, 160, 610, 50), fill="#9a3b1f", width=9)
    draw.polygon(((592, 58), (628, 58), (610, 26)), fill="#9a3b1f")
    draw.arc((330, 20, 590, 240), 190, 350, fill="#9a3b1f", width=7)
    draw.polygon(((322, 118), (354, 118), (334, 146)), fill="#9a3b1f")
    draw.line((430, 410, 520, 410), fill="#3b3a36", width=4)
    for end in (430, 520):
        draw.line((end, 396, end, 424), fill="#3b3a36", width=4)
    return picture


def bench_scene() -> Image.Image:
    """Return a bench with a hose that ends in a flow meter, in front of a plain wall."""
    random = np.random.RandomState(SEED)
    shade = np.linspace(214, 178, 600)[:, None] + random.normal(0, 2.0, (600, 900))
    bench = (
        120 + 14 * np.sin(np.arange(900)[None, :] / 37 + np.arange(200)[:, None] / 5) + random.normal(0, 5, (200, 900))
    )
    pixels = np.stack([shade, shade * 0.98, shade * 0.93], axis=-1)
    pixels[400:] = np.stack([bench * 1.15, bench * 0.86, bench * 0.6], axis=-1)
    picture = Image.fromarray(pixels.clip(0, 255).astype(np.uint8), "RGB")
    draw = ImageDraw.Draw(picture)
    draw.arc((80, -172, 600, 458), 90, 180, fill="#2f3438", width=46)
    for angle in range(92, 180, 4):
        draw.arc((80, -172, 600, 458), angle, angle + 1, fill="#5a636a", width=46)
    draw.rectangle((330, 400, 560, 470), fill="#59636b", outline="#23282c", width=4)
    draw.rounded_rectangle((540, 300, 780, 500), radius=18, fill="#d8d3c4", outline="#23282c", width=5)
    draw.rectangle((575, 330, 745, 400), fill="#26352c")
    for place in range(4):
        draw.rectangle((592 + 38 * place, 344, 614 + 38 * place, 386), outline="#8fd0a0", width=5)
    for place in range(3):
        draw.ellipse((590 + 55 * place, 430, 620 + 55 * place, 460), fill="#8d8779", outline="#23282c", width=3)
    return picture


def demo_pictures() -> dict[str, bytes]:
    """Return the files' bytes by name."""
    plate, bench = io.BytesIO(), io.BytesIO()
    plate_drawing().save(plate, "PNG", optimize=True)
    bench_scene().save(bench, "JPEG", quality=80)
    return {"mothwing-plate.png": plate.getvalue(), "bellheather-bench.jpg": bench.getvalue()}


if __name__ == "__main__":
    for name, content in demo_pictures().items():
        (PICTURES / name).write_bytes(content)
