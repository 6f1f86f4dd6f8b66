"""Parts of a record about what wearing a device costs: a test changes the one thing it is about."""

from __future__ import annotations

from typing import Any

from tests.scoring.builders import Data


def a_sound(level: str = "71.2 dB(A)", background: Any = "58.3 dB(A)", **changes: Any) -> Data:
    data: Data = {"id": "ear-high", "setting": "high", "where": "at the ear", "level": level, "background": background}
    return data | changes


def a_speech_test(understood_with: int = 171, understood_without: int = 288, **changes: Any) -> Data:
    data: Data = {
        "id": "words-high",
        "setting": "high",
        "method": "word lists",
        "words": 300,
        "choices": 6,
        "understood_with": understood_with,
        "understood_without": understood_without,
        "listeners": 3,
        "talkers": 2,
    }
    return data | changes


def a_part(mass: str, where: str = "head", what: str = "hood") -> Data:
    return {"what": what, "where": where, "mass": mass}


def a_use(hours: str = "240 h") -> Data:
    return {"what": "a volunteer", "hours": hours, "reason": "two years of weekends"}
