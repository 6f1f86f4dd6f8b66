"""A plan as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import heading_lines, joined, wrapped
from generator.presenting.planning.views import PlanView, SessionView

SESSIONS = "Next, in this order"
SIZES = "What numbers of wearers take for granted"


def plan_text(view: PlanView) -> str:
    """Return a plan as text: the sessions first, then every statement with what it lacks."""
    lines = [*wrapped(view.title), ""]
    for sentence in view.lead:
        lines += wrapped(sentence)
    if view.sessions:
        lines += heading_lines(SESSIONS)
        for number, session in enumerate(view.sessions, start=1):
            lines += [*_session_lines(number, session), ""]
        lines += wrapped(view.order)
    if view.day is not None:
        lines += _heading(view.day)
        lines += [line for text in view.instruments for line in wrapped(f"- {text}", hang="  ")]
    for group in view.groups:
        lines += heading_lines(group.heading)
        for statement in group.statements:
            lines += [*wrapped(f"- {statement.title}:", hang="  "), *wrapped(statement.text, "    ")]
    if view.assumptions:
        lines += heading_lines(SIZES)
        lines += [line for text in view.assumptions for line in wrapped(f"- {text}", hang="  ")]
    return joined(lines)


def _session_lines(number: int, session: SessionView) -> list[str]:
    lines = wrapped(f"{number}. {session.heading}.", hang="   ")
    return lines + [line for text in session.sentences for line in wrapped(text, "   ", "     ")]


def _heading(text: str) -> list[str]:
    """Return a heading that may be longer than a line."""
    lines = wrapped(text)
    return ["", *lines, "-" * max(len(line) for line in lines)]
