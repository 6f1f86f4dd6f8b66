"""The link check finds every planted fault, and nothing in a site without faults."""

import json

import pytest

from generator.errors import BrokenLink
from generator.publishing.links import check_links, link_faults

GOOD = {
    "index.html": b"""<!doctype html><html lang=en><head><link rel=stylesheet href=look/site.css></head>
<body id=top><a href="#top">up</a> <a href="devices/hood.html#fit.morning.overall">hood</a>
<a href='devices/hood.html'>x</a>
<a href="https://standards.example/doc?x=1#y">outside</a> <a href="mailto:desk@library.example">write</a>
<a href="index.html">self</a> <a href="sheets/hood.pdf">sheet</a></body></html>""",
    "devices/hood.html": b"""<h1 id="a-b">Hood</h1><p id="fit.morning.overall" aria-describedby="a-b c">x</p><p id=c>
<img src="../drawings/scale.svg" alt="" srcset="../drawings/scale.svg 1x, ../drawings/scale.svg 2x">
<svg><defs><clipPath id="cut"><path d="M0 0"/></clipPath></defs>
<path clip-path="url(#cut)"/><use xlink:href="#cut"/></svg>
<a href="../index.html#%74op">percent-encoded</a><style>.x { background: url(../drawings/scale.svg) }</style>""",
    "drawings/scale.svg": b'<svg xmlns="http://www.w3.org/2000/svg" aria-labelledby="t"><title id="t">S</title></svg>',
    "look/site.css": b"@font-face { src: url('text.woff2') format('woff2') }",
    "look/text.woff2": b"font",
    "sheets/hood.pdf": b"%PDF",
    "compare.html": b'<p id="short">x</p> <a href="#devices=hood,mask">both</a> <a href="#short">a place</a>',
    "panels/hood.js": b'comparing.take({"id": "hood", "parts": {"short": "<a href=devices/hood.html#c>x</a>"}});\n',
    "panels/mask.js": b'comparing.take({"id": "mask", "never": null, "parts": {}});\n',
}


def with_page(markup: str, path: str = "devices/other.html") -> dict[str, bytes]:
    return GOOD | {path: markup.encode()}


def test_a_good_site_has_no_faults() -> None:
    assert link_faults(GOOD) == []
    check_links(GOOD)


@pytest.mark.parametrize(
    ("markup", "fault"),
    [
        ('<a href="gone.html">', '<a href="gone.html">: there is no file devices/gone.html'),
        ('<a href="../index.html#gone">', '<a href="../index.html#gone">: there is no id="gone" in index.html'),
        ('<a href="#gone">', '<a href="#gone">: there is no id="gone" in devices/other.html'),
        ('<a href="#">', '<a href="#">: it names no place after the #'),
        ('<a href="">', '<a href="">: it is empty'),
        ("<a href>", '<a href="">: it is empty'),
        ('<a href="../devices/">', '<a href="../devices/">: there is no file devices'),
        ('<a href="../../index.html">', '<a href="../../index.html">: there is no file ../index.html'),
        ('<a href="/index.html">', '<a href="/index.html">: it starts at the root of a host'),
        ('<a href="../sheets/hood.pdf#p">', '<a href="../sheets/hood.pdf#p">: there is no id="p" in sheets/hood.pdf'),
        ('<a href="javascript:alert(1)">', "addresses of the kind javascript: are not allowed"),
        ('<a href="data:text/html,x">', "addresses of the kind data: are not allowed"),
        ('<a href="file:///etc/passwd">', "addresses of the kind file: are not allowed"),
        ('<a href="http://[x">', "it cannot be read as an address"),
        ('<img src="https://a.example/x.png">', "only a link that a reader follows may lead outside"),
        ('<img src="//a.example/x.png">', "only a link that a reader follows may lead outside"),
        ('<a href="//a.example/">', "only a link that a reader follows may lead outside"),
        ('<link rel="stylesheet" href="https://a.example/x.css">', "only a link that a reader follows"),
        ('<script src="gone.js"></script>', '<script src="gone.js">: there is no file devices/gone.js'),
        ('<img srcset="../drawings/scale.svg 1x, gone.png 2x">', '<img srcset="gone.png">: there is no file'),
        ('<form action="https://a.example/"></form>', "only a link that a reader follows"),
        ('<p style="background: url(gone.png)">', '<p style="gone.png">: there is no file devices/gone.png'),
        ("<style>p { background: url('gone.png') }</style>", '<style content="gone.png">: there is no file'),
        ('<style>@import "gone.css";</style>', '<style content="gone.css">: there is no file'),
        ('<svg><path fill="url(#gone)"/></svg>', '<path fill="#gone">: there is no id="gone"'),
        ('<svg><use href="#gone"/></svg>', '<use href="#gone">: there is no id="gone"'),
        ('<label for="gone">x</label>', '<label for="#gone">: there is no id="gone"'),
        ('<td headers="a b" id="a">x</td>', '<td headers="#b">: there is no id="b"'),
        ('<a href="../compare.html#devices=hood,gone,lost">', "there is no panel of gone, lost to choose"),
        ('<a href="../compare.html#devices=">', "there is no panel of  to choose"),
        ('<a href="../compare.html#gone">', 'there is no id="gone" in compare.html'),
        ('<a href="../index.html#devices=hood">', 'there is no id="devices=hood" in index.html'),
        ('<p id="twice"></p><p id="twice">', 'id="twice": the id is used twice on this page'),
    ],
)
def test_each_planted_fault_is_found_and_no_other(markup: str, fault: str) -> None:
    faults = link_faults(with_page(f"<!doctype html>\n{markup}"))
    assert len(faults) == 1
    assert fault in faults[0]
    assert faults[0].startswith("devices/other.html:2: ")


@pytest.mark.parametrize(
    "markup",
    [
        '<meta name="description" content="url(http://a.example/x)">',
        '<a href="#here" id="here" title="url(gone.png)" aria-label="url(gone.png)">x</a>',
        "<p>url(gone.png) @import 'gone.css'</p>",
    ],
)
def test_words_for_readers_are_no_addresses(markup: str) -> None:
    assert link_faults(with_page(f"<!doctype html>\n{markup}")) == []


@pytest.mark.parametrize(
    ("markup", "fault"),
    [
        ('<a href="devices/gone.html">', "there is no file devices/gone.html"),
        ('<a href="../devices/hood.html">', "there is no file ../devices/hood.html"),
        ('<svg aria-labelledby="gone"></svg>', 'there is no id="gone" in panels/other.js'),
        ('<p id="a"></p><p id="a"></p>', "the id is used twice on this page"),
    ],
)
def test_a_fault_in_a_panel_is_found_by_where_the_panel_is_shown(markup: str, fault: str) -> None:
    script = f"comparing.take({json.dumps({'pairs': {'hood': {'said': markup}}})});\n"
    (found,) = link_faults(with_page(script, "panels/other.js"))
    assert found.startswith("panels/other.js:")
    assert fault in found


@pytest.mark.parametrize("sheet", ["a { b: url(gone.png) }", '@import "gone.css";', "@import url(gone.css);"])
def test_a_fault_in_a_style_sheet_is_found(sheet: str) -> None:
    (fault,) = link_faults(with_page(sheet, "look/other.css"))
    assert "there is no file look/gone." in fault


def test_a_fault_in_a_drawing_is_found() -> None:
    (fault,) = link_faults(with_page('<svg><a xlink:href="gone.html"/></svg>', "drawings/other.svg"))
    assert "there is no file drawings/gone.html" in fault


def test_the_error_names_the_faults_and_counts_the_rest() -> None:
    markup = "\n".join(f'<a href="gone-{number}.html">' for number in range(25))
    with pytest.raises(BrokenLink, match=r"found 25 that do not[\s\S]*gone-0\.html[\s\S]*\.\.\. and 5 more$"):
        check_links(with_page(markup))
