"""Counts as the terminal tells them, in figures."""

from __future__ import annotations


def counted(number: int, what: str) -> str:
    """Write a count with its noun: `1 page`, `3 pages`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
