"""A plan as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import heading_lines, joined, wrapped
from generator.presenting.planning.views import PlanView, SessionView

SESSIONS = "Next, in this order"
SIZES = "What numbers of wearers take for granted"


def plan_text(view: PlanView) -> str:
    """Return a plan as text: the sessions first, then every statement with what it lacks."""
    lines = [*_wrapped(view.title), ""]
    for sentence in view.lead:
        lines += _wrapped(sentence)
    if view.sessions:
        lines += heading_lines(SESSIONS)
        for number, session in enumerate(view.sessions, start=1):
            lines += [*_session_lines(number, session), ""]
        lines += _wrapped(view.order)
    if view.day is not None:
        lines += heading_lines(view.day)
        lines += [line for text in view.instruments for line in _wrapped(f"- {text}", hang="  ")]
    for group in view.groups:
        lines += heading_lines(group.heading)
        for statement in group.statements:
            lines += [*_wrapped(f"- {statement.title}", hang="  "), *_wrapped(statement.text, "    ")]
    if view.assumptions:
        lines += heading_lines(SIZES)
        lines += [line for text in view.assumptions for line in _wrapped(f"- {text}", hang="  ")]
    return joined(lines)


def _session_lines(number: int, session: SessionView) -> list[str]:
    lines = _wrapped(f"{number}. {session.heading}.", hang="   ")
    return lines + [line for text in session.sentences for line in _wrapped(text, "   ", "     ")]


def _wrapped(text: str, indent: str = "", hang: str | None = None) -> list[str]:
    """Return a text in lines that leave ids whole, so that they can be copied."""
    return wrapped(text, indent, hang, at_hyphens=False)
