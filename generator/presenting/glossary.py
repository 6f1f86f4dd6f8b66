"""The glossary: a page of its own, a list on paper, and the first use of each word on a page leading to it."""

from __future__ import annotations

import re

from generator.presenting.glossary_of_figures import TERMS_OF_FIGURES
from generator.presenting.glossary_terms import TERMS_OF_TESTS, Term
from generator.presenting.letterhead import page_head
from generator.presenting.reference_views import GlossaryPage
from generator.presenting.views import Fact, TextPiece

PATH = "glossary.html"
TERMS = tuple(sorted((*TERMS_OF_TESTS, *TERMS_OF_FIGURES), key=lambda term: term.heading.lower()))
GLOSSARY = tuple(Fact(term.heading, term.text) for term in TERMS)
_BY_FORM: dict[str, Term] = {form: term for term in TERMS for form in term.forms}


def _written(form: str) -> str:
    """Return the pattern of a form, with or without a capital letter at its start, and spaces of any kind."""
    first, rest = re.escape(form[0]), re.escape(form[1:]).replace(r"\ ", r"[ \u00a0\u202f]")
    return f"(?:{first.upper()}|{first}){rest}" if form[0].isalpha() else f"{first}{rest}"


# The longest form first, so that `overall fit factor` is not taken for `fit factor`; whole words alone.
_FORMS = re.compile(
    r"(?<![\w-])(?:" + "|".join(_written(form) for form in sorted(_BY_FORM, key=len, reverse=True)) + r")(?![\w-])"
)


class FirstUses:
    """Which words of the glossary a page has used so far: each leads to the glossary once, where it stands first."""

    def __init__(self) -> None:
        """Begin with none."""
        self._used: set[str] = set()

    def pieces(self, text: str) -> tuple[TextPiece, ...]:
        """Return a text in pieces, of which the first uses of words have the place of the word in the glossary."""
        pieces = []
        end = 0
        for match in _FORMS.finditer(text):
            term = _BY_FORM[_plain(match[0])]
            if term.id in self._used:
                continue
            self._used.add(term.id)
            if match.start() > end:
                pieces.append(TextPiece(text[end : match.start()]))
            pieces.append(TextPiece(match[0], f"{PATH}#{term.id}"))
            end = match.end()
        if end < len(text):
            pieces.append(TextPiece(text[end:]))
        return tuple(pieces)


def _plain(written: str) -> str:
    return re.sub(r"[\u00a0\u202f]", " ", written).lower()


def present_glossary() -> GlossaryPage:
    """Return the page of all words."""
    return GlossaryPage(
        head=page_head(PATH, "Glossary", "The words of this catalogue, each in a sentence or two."),
        terms=TERMS,
    )
