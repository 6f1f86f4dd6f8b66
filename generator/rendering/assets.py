"""What all pages share beside their markup: one style sheet put together from its parts, scripts, typefaces."""

from __future__ import annotations

from importlib.resources import files

from generator.rendering.fonts import FACES, font_bytes

STYLE_PARTS = (
    "base",
    "device",
    "charts",
    "tables",
    "figures",
    "index",
    "first_page",
    "print",
    "records",
    "comparisons",
    "wearers",
    "access",
    "chart_numbers",
    "open_data",
    "comparing",
    "reference",
    "said",
    "device_page",
    "corrections",
)
"""Parts of the style sheet in their order; of rules that weigh the same, the later one holds."""
SCRIPTS = ("device_table", "compare")
"""Scripts below `scripts/`, each loaded by the pages that name it. Without them every page says the same."""


def shared_files() -> dict[str, bytes]:
    """Return style sheet, scripts, typefaces and their licences by their paths in the site."""
    folder = files("site_templates")
    made = {"style.css": b"".join((folder / "styles" / f"{name}.css").read_bytes() for name in STYLE_PARTS)}
    made |= {f"scripts/{name}.js": (folder / "scripts" / f"{name}.js").read_bytes() for name in SCRIPTS}
    made |= {f"fonts/{name}.woff2": font_bytes(f"{name}.woff2") for _, name, _ in FACES}
    return made | {f"fonts/{name}": font_bytes(name) for name in ("Literata-OFL.txt", "SourceSans3-OFL.txt")}
