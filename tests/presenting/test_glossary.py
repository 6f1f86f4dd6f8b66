"""The glossary, and first uses of its words: whole words, each once, and the sentence reads as before."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.presenting.glossary import GLOSSARY, TERMS, FirstUses, present_glossary
from generator.presenting.views import TextPiece

WORDS = st.sampled_from(
    [form for term in TERMS for form in term.forms] + ["Fit", "factor", "of", ".", ",", "-", "x", "5", " ", "<b>", "é"]
)
SENTENCES = st.lists(WORDS).flatmap(lambda words: st.sampled_from([" ".join(words), "".join(words)]))


def linked(*texts: str) -> list[tuple[str, str]]:
    uses = FirstUses()
    pieces = [piece for text in texts for piece in uses.pieces(text)]
    return [(piece.text, piece.href.partition("#")[2]) for piece in pieces if piece.href is not None]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("The fit factor was 40.", [("fit factor", "fit-factor")]),
        ("Fit factors differ.", [("Fit factors", "fit-factor")]),
        ("Its overall fit factor, not any fit factor.", [("overall fit factor", "fit-factor")]),
        ("The fit\N{NARROW NO-BREAK SPACE}factor.", [("fit\N{NARROW NO-BREAK SPACE}factor", "fit-factor")]),
        ("Undecided: 95 % interval.", [("Undecided", "undecided"), ("interval", "interval")]),
        ("An interval-like fit-factor, misfit factors and intervalx.", []),
        ("FIT FACTOR", []),
        ("", []),
    ],
)
def test_whole_words_with_a_capital_or_in_the_plural(text: str, found: list[tuple[str, str]]) -> None:
    assert linked(text) == found


def test_each_word_leads_there_once_on_a_page() -> None:
    assert linked("One donning.", "Two donnings of a wearer.", "Wearers again.") == [
        ("donning", "donning"),
        ("wearer", "wearer"),
    ]
    uses = FirstUses()
    uses.pieces("One donning.")
    assert uses.pieces("Two donnings.") == (TextPiece("Two donnings."),)


@given(st.lists(SENTENCES | st.text(), max_size=4))
def test_the_pieces_of_a_text_are_the_text(texts: list[str]) -> None:
    uses = FirstUses()
    places: list[str] = []
    for text in texts:
        pieces = uses.pieces(text)
        assert "".join(piece.text for piece in pieces) == text
        assert all(piece.text for piece in pieces)
        places += [piece.href for piece in pieces if piece.href is not None]
    assert len(places) == len(set(places))
    assert {place.partition("#")[2] for place in places} <= {term.id for term in TERMS}


def test_every_form_is_of_one_word_and_leads_to_it() -> None:
    forms = [form for term in TERMS for form in term.forms]
    assert len(forms) == len(set(forms))
    for term in TERMS:
        for form in term.forms:
            assert form == form.lower()
            assert linked(form) == [(form, term.id)]
            assert linked(form.capitalize()) == [(form.capitalize(), term.id)]


def test_the_page_and_the_paper_hold_the_same_words_in_the_order_of_the_alphabet() -> None:
    page = present_glossary()
    assert [term.heading for term in page.terms] == [fact.term for fact in GLOSSARY]
    assert [term.heading.lower() for term in page.terms] == sorted(term.heading.lower() for term in TERMS)
    assert len({term.id for term in TERMS}) == len(TERMS)
    # What a reader of any page meets, whatever the list of words becomes.
    assert {"fit-factor", "donning", "interval", "undecided", "requirement"} <= {term.id for term in TERMS}
