"""Markdown of records: everything that is not plain Markdown is shown as text; links lead out only by known ways."""

from __future__ import annotations

import html5lib
import pytest

from generator.rendering.markdown import markdown


def tags(text: str) -> list[str]:
    page = html5lib.parseFragment(markdown(text), namespaceHTMLElements=False)
    return [str(element.tag) for element in page.iter()][1:]


def test_plain_markdown_is_set() -> None:
    # source: CommonMark 0.31.2, sections 5.3, 6.1, 6.2
    assert markdown("One *two* **three** `four`\n\n- a\n- b\n") == (
        "<p>One <em>two</em> <strong>three</strong> <code>four</code></p>\n<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n"
    )


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "a <b onclick=x>b</b> c",
        "<!-- hidden -->",
        "<iframe src=//evil.example></iframe>",
        "</p></div></main><h1>Approved</h1>",
        "<style>* {display: none}</style>",
        "<p>\n\n<script>\nalert(1)\n</script>",
        "<![CDATA[x]]>",
        "&lt;script&gt;",
    ],
)
def test_raw_html_is_shown_as_text(text: str) -> None:
    assert set(tags(text)) <= {"p"}
    if "&" not in text:
        shown = "".join(html5lib.parseFragment(markdown(text), namespaceHTMLElements=False).itertext())
        assert "<" in shown


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "JaVaScRiPt:alert(1)",
        "data:text/html,x",
        "data:image/png;base64,xx",
        "file:///etc/passwd",
        "vbscript:x",
        "//other.example/x",
        "../index.html",
        "#working",
        "java&#115;cript:alert(1)",
        "&#x6A;avascript:alert(1)",
        "ftp://other.example/",
    ],
)
@pytest.mark.parametrize("form", ["[x]({})", "[x](<{}>)", "<{}>", "[x][1]\n\n[1]: {}"])
def test_other_links_are_dead(address: str, form: str) -> None:
    assert "a" not in tags(form.format(address))


@pytest.mark.parametrize("address", ["https://example.org/a?b=c&d", "http://example.org", "mailto:a@example.org"])
@pytest.mark.parametrize("form", ["[x]({})", "<{}>", "[x][1]\n\n[1]: {}", '[x]({} "title")'])
def test_links_to_the_web_and_to_mail_say_that_nobody_vouches_for_them(address: str, form: str) -> None:
    page = html5lib.parseFragment(markdown(form.format(address)), namespaceHTMLElements=False)
    (link,) = page.iter("a")
    assert link.attrib["href"] == address
    assert link.attrib["rel"] == "nofollow noopener noreferrer"


@pytest.mark.parametrize("text", ["![x](https://example.org/x.png)", "![x][1]\n\n[1]: https://example.org/x.png"])
def test_pictures_are_not_loaded(text: str) -> None:
    assert "img" not in tags(text)


@pytest.mark.parametrize("text", ["# Approved", "Approved\n========", "## Approved\n\ntext"])
def test_headings_cannot_pose_as_the_pages_own(text: str) -> None:
    assert not {"h1", "h2", "h3"} & set(tags(text))


def test_an_address_in_a_text_is_no_link() -> None:
    assert tags("see https://example.org/ there") == ["p"]
