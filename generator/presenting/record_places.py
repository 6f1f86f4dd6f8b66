"""Places in a record, which its keeper writes as keys, in words: `fit[b2].exercises[talking]` and figures' keys."""

from __future__ import annotations

import re
from collections.abc import Mapping

from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.scoring.registry import topic_names

_ROOTS = sorted({*PublishedTest.model_fields, *Device.model_fields, *topic_names()})
_PLACE = re.compile(rf"(?<![\w./\[-])(?:{'|'.join(_ROOTS)})(?:\[[\w-]+\]|\.[a-z][\w-]*)+(?P<then> from\b)?", re.ASCII)
_STEP = re.compile(r"(\w[\w-]*)(?:\[([\w-]+)\])?", re.ASCII)
_ONE_OF: Mapping[str, str] = {
    "fit": "session",
    "exercises": "exercise",
    "flow": "flow run",
    "blower_curves": "blower curve",
    "pressure_drops": "pressure drop",
    "exhaust": "exhaust run",
    "pressure_traces": "pressure trace",
    "inhaled_gas": "inhaled air",
    "penetrations": "penetration",
    "loading": "filter loading",
    "run_downs": "run-down",
    "noise": "noise reading",
    "speech": "speech test",
}
"""What one item of a list is called."""
_PARTS: Mapping[str, str] = {
    "environment": "air of the room",
    "in_mask": "concentration inside",
    "in_mask_count": "particles counted inside",
    "in_mask_time": "counting time inside",
    "ambient_before": "concentration outside before",
    "ambient_during": "concentration outside meanwhile",
    "ambient_after": "concentration outside after",
    "ambient_time": "counting time outside",
    "log": "raw log",
}
"""What a part is called where its key does not say it."""


def in_words(text: str) -> str:
    """Return a record's text with the places that it names as keys in words; everything else stays as it is."""
    return _PLACE.sub(_words, text)


def figure_of(key: str) -> str:
    """Name what a figure is about, such as `session b2`, from its key."""
    topic, about, _ = key.split(".")
    return f"{_ONE_OF[topic]} {about}" if topic in ("fit", "flow") else _spaced(about)


def figure_words(key: str) -> str:
    """Name a figure that the record has no more, from its key: `session b2, talking`."""
    return f"{figure_of(key)}, {_spaced(key.split('.')[2])}"


def _words(found: re.Match[str]) -> str:
    place, then = found[0].removesuffix(found["then"] or ""), found["then"]
    root = re.split(r"[.\[]", place, maxsplit=1)[0]
    # A figure's key has three words; the keys of a record name an item in brackets.
    if root in topic_names() and "[" not in place and place.count(".") == 2:
        words = figure_words(place)
    else:
        words = ", ".join(_step(key, item) for key, item in _STEP.findall(place))
    return f"{words},{then}" if then else words


def _step(key: str, item: str) -> str:
    return f"{_ONE_OF.get(key, _spaced(key))} {item}" if item else _PARTS.get(key, _spaced(key))


def _spaced(key: str) -> str:
    return key.replace("_", " ").replace("-", " ")
