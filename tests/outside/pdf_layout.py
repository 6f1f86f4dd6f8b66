"""What a reader of tagged PDFs finds of rows, headings, captions and bookmarks: on which page each of them stands."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from pypdf import PdfReader

HEADINGS = ("/H1", "/H2", "/H3", "/H4")
LEADING = (*HEADINGS, "/Caption")
"""Elements that belong on the page of what comes after them."""


def one_line(text: str) -> str:
    return " ".join(text.split())


class Layout:
    """The structure of one PDF with the numbers of its pages, counted from 1.

    What goes on over the end of a page has an element for each of its pages, one after the other.
    """

    def __init__(self, reader: PdfReader) -> None:
        self.reader = reader
        found = ((page.indirect_reference, number) for number, page in enumerate(reader.pages, start=1))
        self._numbers = {reference.idnum: number for reference, number in found if reference is not None}
        catalog: Any = reader.trailer["/Root"]
        self.root = catalog["/StructTreeRoot"]

    @staticmethod
    def kids(node: Any) -> list[Any]:
        """Return what stands directly below an element: elements, and marks of content."""
        kids = node.get("/K", [])
        found: list[Any] = kids if isinstance(kids, list) else [kids]
        return [each.get_object() for each in found]

    def elements(self, node: Any) -> Iterator[Any]:
        """Go through the elements below a node, in reading order."""
        for each in self.kids(node):
            if isinstance(each, dict) and "/S" in each:
                yield each
                yield from self.elements(each)

    def content(self, node: Any, within: Any = None, page: int | None = None) -> Iterator[tuple[Any, int]]:
        """Yield, in reading order, the page of each piece of content, and the leading element it belongs to or None."""
        within = node if node.get("/S") in LEADING else within
        page = self._numbers[node.raw_get("/Pg").idnum] if "/Pg" in node else page
        for each in self.kids(node):
            if not isinstance(each, dict) or each.get("/Type") == "/MCR":
                own = page if isinstance(each, int) or "/Pg" not in each else self._numbers[each.raw_get("/Pg").idnum]
                assert own is not None
                yield within, own
            elif each.get("/Type") != "/OBJR":
                yield from self.content(each, within, page)

    def texts(self) -> list[str]:
        """Return the text of every page, as poppler reads it: what reads the structure takes long for texts."""
        self.reader.stream.seek(0)
        command = ["pdftotext", "-raw", "-", "-"]
        done = subprocess.run(command, input=self.reader.stream.read(), capture_output=True, check=True)
        return done.stdout.decode().split("\f")

    def bookmarks(self) -> Iterator[tuple[str, int]]:
        """Return text and page of every bookmark, in order."""
        levels: list[Any] = [self.reader.outline]
        while levels:
            each = levels.pop(0)
            if isinstance(each, list):
                levels[:0] = each
            else:
                number = self.reader.get_destination_page_number(each)
                assert number is not None
                yield one_line(str(each.title)), number + 1


def _left_alone(layout: Layout) -> Iterator[str]:
    """Yield headings and captions after which a page ends."""
    for (leading, page), (after, there) in pairwise(layout.content(layout.root)):
        if leading is not None and leading is not after and page != there:
            yield f"{leading['/S']} on page {page} is parted from what follows on page {there}"


def _split_rows(layout: Layout) -> Iterator[str]:
    """Yield rows that go on on another page: their first cell, which names the row, is empty there."""
    tables = [element for element in layout.elements(layout.root) if element["/S"] == "/Table"]
    for before, after in pairwise(tables):
        first, second = list(layout.content(before)), list(layout.content(after))
        rows = [row for body in layout.kids(after) if body.get("/S") == "/TBody" for row in layout.kids(body)]
        goes_on = first and second and first[-1][1] + 1 == second[0][1] and before["/P"] == after["/P"]
        if goes_on and rows and not list(layout.content(layout.kids(rows[0])[0])):
            yield f"a row is split between page {first[-1][1]} and page {second[0][1]}"


def _astray(layout: Layout) -> Iterator[str]:
    """Yield bookmarks that lead to a page without their words."""
    bookmarks = list(layout.bookmarks())
    texts = dict(enumerate(map(one_line, layout.texts()), start=1))
    if not bookmarks:
        yield "there are no bookmarks"
    for title, page in bookmarks:
        if title not in texts[page]:
            yield f"the bookmark {title!r} leads to page {page}"


def layout_faults(reader: PdfReader) -> list[str]:
    """Return rows that are split, headings and captions left alone, and bookmarks that lead astray."""
    layout = Layout(reader)
    return [*_left_alone(layout), *_split_rows(layout), *_astray(layout)]
