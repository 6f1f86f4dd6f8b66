"""Data as JSON inside a page, of which no text can end the element that it stands in."""

from __future__ import annotations

import json
from collections.abc import Mapping

from markupsafe import Markup

_MARKUP = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}
"""Signs that begin markup, or end a line for some readers: JSON has them in texts only, where it can write them so."""


def json_in_script(data: Mapping[str, object]) -> Markup:
    """Return data as JSON for an element `script`, whose content is not unescaped by readers of HTML."""
    text = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return Markup(text.translate(_MARKUP))
