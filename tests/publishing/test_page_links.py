"""What is read from pages: the same as a parser finds, in pages as templates write them and in any other."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.publishing import page_links as reading
from generator.publishing.page_links import Link, PageLinks, page_links
from tests.publishing.parsed_links import Found, parsed

PLAIN = [
    '<!doctype html><html lang="en"><head><script src="a.js" defer></script></head>',
    '<script type="application/ld+json">{"id": "x", "a": "href=#no"}</script>',
    "<script src=\"a.js\" defer>const a = '#no'</script>",
    '<p id="a">text</p>\n',
    '<a href="../b.html#c">x</a>\n\n',
    '<a id="d" href="x?a=1&amp;b=2">&lt;a href="#no"&gt;</a>',
    '<A HREF="big.html">x</A>',
    '<img src="a.png" alt="1 > 2 <a href=#no>"/>',
    '<svg viewBox="0 0 1 1" aria-labelledby="t u"><path d="M0 0"/></svg>',
    '<td headers="a  b" class="n">1</td>',
    '<a\n  href="deep.html"\n  class="x"\n>x</a>',
    "<p id>",
    '<p class="n" hidden></p>',
    "<br/>",
]
NOT_PLAIN = [
    '<!-- <a href="#no"> -->',
    "<a href=bare.html>x</a>",
    "<a href='single.html'>x</a>",
    '<style>p { color: red } <a href="#no"></style>',
    '<style media="print"><a href="#no"></style>',
    "<script>\"<a href='#no'>\"</script>",
    '<script src="open.js">',
    "<script>",
    "a < b",
    '<a href="open',
    '<a href = "spaced.html">',
    "<?xml version='1.0'?>",
    '<a href="x.html"id="close">',
    "<![CDATA[ <a href='#no'> ]]>",
    "</p class='x'>",
]
"""Left to the parser; a script or a comment that is not closed hides all that follows."""


def read(markup: str) -> tuple[list[tuple[int, str]], list[Found]]:
    """Return what `parsed` does, from what is read for the link check; of an id's first place no line is known."""
    page = page_links("a.html", markup.encode())
    ids = [(0, name) for name in page.ids] + list(page.repeated_ids)
    links = [(line, link.tag, link.attribute, link.target) for link in page.links for line in link.lines]
    return ids, sorted(links)


def as_read(ids: list[tuple[int, str]]) -> list[tuple[int, str]]:
    """Return ids as `read` gives them: each once without its line, then the repeated ones with theirs."""
    seen: set[str] = set()
    first = [(0, name) for name in dict.fromkeys(name for _, name in ids)]
    return first + [(line, name) for line, name in ids if name in seen or seen.add(name)]  # type: ignore[func-returns-value]


def assert_same(markup: str) -> None:
    ids, links = parsed(markup)
    assert read(markup) == (as_read(ids), links)


@settings(max_examples=400, deadline=None)
@given(parts=st.lists(st.sampled_from([*PLAIN, *NOT_PLAIN]), max_size=8))
def test_the_same_is_found_as_by_a_parser(parts: list[str]) -> None:
    assert_same("".join(parts))


@settings(max_examples=400, deadline=None)
@given(markup=st.text(st.sampled_from("<>/=\"' \na!-?&;p#"), max_size=30), before=st.sampled_from(["", *PLAIN]))
def test_the_same_is_found_in_any_text(markup: str, before: str) -> None:
    assert_same(before + markup)
    assert_same(f'<p id="{markup}">{before}'.replace('""', '"'))


@pytest.mark.parametrize("markup", PLAIN)
def test_what_templates_write_is_not_left_to_the_parser(markup: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "_in_any_markup", lambda markup: pytest.fail("left to the parser"))
    read(markup)


@pytest.mark.parametrize("markup", NOT_PLAIN)
def test_what_they_do_not_write_is_left_to_it(markup: str, monkeypatch: pytest.MonkeyPatch) -> None:
    left: list[str] = []

    def leave(markup: str) -> list[object]:
        left.append(markup)
        return []

    monkeypatch.setattr(reading, "_in_any_markup", leave)
    read(f"<p>{markup}")
    assert left == [f"<p>{markup}"]


def test_what_is_read_is_the_same_after_it_was_json() -> None:
    markup = '<p id="a"></p>\n<p id="a"><a href="ä.html">x</a>\n<a href="ä.html">x</a><img src="b.png">'
    page = page_links("a.html", markup.encode())
    # source: by hand
    expected = (Link("a", "href", "ä.html", (2, 3)), Link("img", "src", "b.png", (3,)))
    assert page == PageLinks(("a",), ((2, "a"),), expected)
    assert PageLinks.from_json(page.as_json()) == page


@pytest.mark.parametrize(
    "piece", ["<", "<a ", '<a b="', '<a b="c"', "<a b=", '"', "<!--", "<p>", "</", "<script ", '<script a="">', "<a\n"]
)
def test_hostile_text_takes_little_time(piece: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The parser of the standard library takes long on some; no page comes so far, since records' texts are escaped."""
    monkeypatch.setattr(reading, "_in_any_markup", lambda markup: [])
    content = (piece * (100_000 // len(piece))).encode()
    began = time.process_time()
    page_links("a.html", content)
    # By the square of the length it would take minutes.
    assert time.process_time() - began < 2
