"""The links of a page as the parser of the standard library finds them: slower, and another way than the link check."""

from html.parser import HTMLParser

LINKS = {"href", "src", "xlink:href", "poster", "action", "formaction", "data", "cite"}
LISTS_OF_IDS = {"for", "headers", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details", "list"}

Found = tuple[int, str, str, str]
"""Line, tag, attribute and what it holds."""


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.ids: list[tuple[int, str]] = []
        self.links: list[Found] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        line = self.getpos()[0]
        for attribute, value in attrs:
            if attribute == "id":
                self.ids.append((line, value or ""))
            elif attribute in LINKS:
                self.links.append((line, tag, attribute, value or ""))
            elif attribute in LISTS_OF_IDS:
                self.links += [(line, tag, attribute, f"#{name}") for name in (value or "").split()]


def parsed(markup: str) -> tuple[list[tuple[int, str]], list[Found]]:
    """Return all ids with their lines, and all links."""
    reader = _Reader()
    reader.feed(markup)
    reader.close()
    return reader.ids, sorted(reader.links)
