"""The panel of a device as a script: a page opened from a disk can load scripts, and no other part of itself."""

from __future__ import annotations

import json

from generator.presenting.panel_views import Panel
from generator.rendering.pages import part_markup

_PARTS = ("short", "fit", "flow", "column")
_LEFT_AS_IT_IS = {ord(character): f"\\u{ord(character):04x}" for character in "<>&'\u2028\u2029"}
"""Characters that JSON leaves and that something else might read as markup or as the end of a line of script."""


def panel_script(panel: Panel) -> bytes:
    """Return the script that hands a panel, as markup in its parts, to the page that loads it."""
    handed = {
        "id": panel.id,
        "kind": panel.kind,
        "parts": {name: part_markup(f"panels/{name}.html", panel=panel) for name in _PARTS},
        "facts": {name: part_markup("panels/fact.html", panel=panel, fact=lines) for name, lines in panel.facts},
        "pairs": {
            pair.other: {
                "stated": pair.stated,
                "inShort": part_markup("panels/in_short.html", pair=pair),
                "said": part_markup("panels/pair.html", pair=pair),
            }
            for pair in panel.pairs
        },
        "neverCompared": _paragraph(panel.never_compared),
        "notWithinKind": _paragraph(panel.not_within_kind),
    }
    return f"comparing.take({json.dumps(handed, ensure_ascii=False).translate(_LEFT_AS_IT_IS)});\n".encode()


def _paragraph(text: str | None) -> str | None:
    return None if text is None else part_markup("panels/reason.html", reason=text)
