"""The comment on a pull request: whatever a record says, it is text there, and the comment has an end."""

from __future__ import annotations

from dataclasses import replace

import pytest
from markdown_it import MarkdownIt
from markdown_it.token import Token

from generator.presenting.impact_views import ImpactRow, ImpactSection, ImpactView, Said
from generator.rendering.impact_comment import impact_comment, markdown_words

HOSTILE = (
    "<script>alert(1)</script>",
    "<!-- --> <img src=x onerror=y>",
    "</details>\n\n# A heading",
    "@everyone @nobody/team",
    "#12, GH-12, nobody/nothing#12",
    "[link](https://nowhere.example) ![picture](https://nowhere.example/x.png)",
    "https://nowhere.example www.nowhere.example nobody@nowhere.example",
    "`code` ``more`` ```all```",
    "`",
    "ends with `",
    "a | b \\| c",
    "| --- |",
    "*a* _b_ ~~c~~ **d**",
    "$\\frac{1}{2}$ :smile:",
    "&lt;b&gt; &#64;nobody",
    "\u202e1 right to left",
    "\x1b[31mred",
    "   ",
    "- [ ] a task",
    "fit.a.overall",
)


def a_view(text: str, rows: int = 1, detail: bool = False) -> ImpactView:
    said, plain = Said(text, True), Said("plain")
    row = ImpactRow(said, said, said, said, said, plain)
    heads = ("Of", "What", "Before", "After", "Change")
    section = ImpactSection("figures", "Figures", heads, (row,) * rows, detail=detail)
    return ImpactView("One figure changes.", (plain, said), ((said, plain),), (section,), ("A note.",))


def tokens_of(text: str) -> list[Token]:
    """Read Markdown as an outside parser does (markdown-it-py, CommonMark with tables and strikethrough)."""
    found = MarkdownIt("commonmark").enable(["table", "strikethrough"]).parse(text)
    return [token for outer in found for token in (outer, *(outer.children or ()))]


@pytest.mark.parametrize("text", HOSTILE)
def test_a_text_of_a_record_stays_text(text: str) -> None:
    tokens = tokens_of(impact_comment(a_view(text)))
    like = tokens_of(impact_comment(a_view("digits 1")))
    assert [token.type for token in tokens] == [token.type for token in like]
    code = [token.content for token in tokens if token.type == "code_inline"]
    shown = " ".join("".join(each if each.isprintable() else " " for each in text).split()) or "-"
    # Two in the paragraphs, and five in the cells of the row: owner, place and name, before, after.
    assert code == [shown] * 7


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("supply flow", "supply flow"),
        ("share of the air, moderate", "share of the air, moderate"),
        ("the Räucherlein-Maske", "the Räucherlein-Maske"),
        ("GH-12", "`GH-12`"),
        ("a, b,", "`a, b,`"),
        ("a  b", "a b"),
        ("@nobody", "`@nobody`"),
        ("", "`-`"),
    ],
)
def test_plain_words_need_no_code(text: str, shown: str) -> None:
    assert str(markdown_words(Said(text, True))) == shown


def test_our_own_words_are_escaped_as_markup() -> None:
    view = replace(a_view("x"), verdict="1 < 2 & 3")
    assert impact_comment(view).startswith("**1 &lt; 2 &amp; 3**\n")


def test_a_long_list_is_cut_and_says_so() -> None:
    text = impact_comment(a_view("x1" * 60, rows=500, detail=True))
    assert text.count("\n| `x1x1") == 40
    assert "### Figures (500)\n" in text
    assert "\n460 more: `inward impact` as text tells all.\n" in text
    assert text.count("<details>") == text.count("</details>") == 1
    # A comment on a pull request may have 65,536 characters (common practice, no source): eight such sections fit.
    assert 8 * len(text.partition("### ")[2]) < 8 * 65_536


def test_a_short_list_stands_open() -> None:
    assert "<details>" not in impact_comment(a_view("x", rows=10, detail=True))
    assert "<details>" not in impact_comment(a_view("x", rows=30))
