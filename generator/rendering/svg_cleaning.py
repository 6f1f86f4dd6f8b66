"""Turns a drawing by matplotlib, and the texts on it, into SVG that may stand inside a page.

As it comes, the drawing has a prologue, metadata, style attributes (which a strict content security policy ignores)
and ids that repeat from drawing to drawing. Cleaned, it has presentation attributes only, ids that start with the
chart's own, a title and a description as its first children, and ink in `currentColor`; then `svg_compacting` says it
in fewer bytes, to a tenth of a pixel.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from xml.etree import ElementTree

from generator.rendering.svg_compacting import SVG, compact, short_path, to_a_tenth, written

INK = "#1c1a17"
_KEPT_STYLES = {
    "fill",
    "fill-opacity",
    "stroke",
    "stroke-width",
    "stroke-opacity",
    "stroke-dasharray",
    "stroke-linecap",
    "stroke-linejoin",
    "opacity",
    "text-anchor",
    "font-weight",
}
_OWN_ID = "own:"
"""Prefix by which a drawing marks the ids it wants to keep."""


def own_id(name: str) -> str:
    """Return the id to give to a drawn thing so that cleaning keeps it."""
    return _OWN_ID + name


@lru_cache(maxsize=1024)
def _attributes_of(style: str) -> dict[str, str]:
    """Return a style as attributes; a drawing has few, again and again."""
    attributes: dict[str, str] = {}
    for declaration in style.split(";"):
        name, _, value = (part.strip() for part in declaration.partition(":"))
        if name == "font-size":
            attributes[name] = value.removesuffix("px")
        elif name == "font-family":
            attributes[name] = f"{value}, sans-serif"
        elif name in _KEPT_STYLES:
            attributes[name] = "currentColor" if value.lower() == INK else value
    return attributes


def _clean(element: ElementTree.Element, prefix: str) -> None:
    # Not by ElementTree.register_namespace: its table is shared by the whole process, and other libraries change it.
    element.tag = element.tag.removeprefix(f"{{{SVG}}}")
    for child in list(element):
        _clean(child, prefix)
        if child.tag in ("metadata", "style", "defs", "title", "desc") or (child.tag == "g" and len(child) == 0):
            element.remove(child)
    element.attrib |= _attributes_of(element.attrib.pop("style", ""))
    identity = element.attrib.pop("id", "")
    if identity.startswith(_OWN_ID):
        element.set("id", f"{prefix}-{identity.removeprefix(_OWN_ID)}")
    element.attrib.pop("clip-path", None)
    if element.get("transform", "").startswith("rotate(-0 "):
        del element.attrib["transform"]
    for name in element.attrib.keys() & {"x", "y", "transform"}:
        element.set(name, to_a_tenth(element.attrib[name]))
    if "d" in element.attrib:
        element.set("d", short_path(element.attrib["d"]))
    if element.text is not None and element.tag != "text":
        element.text = None
    element.tail = None


def cleaned(
    drawing: str | bytes,
    texts: Sequence[ElementTree.Element],
    prefix: str,
    title: str,
    description: str,
    css_class: str,
) -> str:
    """Return the drawing as inline SVG.

    Parameters
    ----------
    drawing
        What matplotlib wrote.
    texts
        Texts that lie on it, as elements that are clean.
    prefix
        Unique in the page; every id in the result starts with it.
    title, description
        What the drawing is, and what it shows, for readers who do not see it.
    css_class
        Class of the svg element.
    """
    root = ElementTree.fromstring(drawing)
    _clean(root, prefix)
    view_box = root.attrib["viewBox"]
    root.attrib.clear()
    _, _, width, height = view_box.split()
    root.attrib.update(
        {
            "class": css_class,
            "viewBox": view_box,
            "width": width,
            "height": height,
            "role": "img",
            "aria-labelledby": f"{prefix}-title {prefix}-desc",
            "fill": "none",
        }
    )
    root.extend(texts)
    compact(root)
    for position, (tag, text) in enumerate((("title", title), ("desc", description))):
        child = ElementTree.Element(tag, {"id": f"{prefix}-{tag}"})
        child.text = text
        root.insert(position, child)
    root.set("xmlns", SVG)
    return written(root)
