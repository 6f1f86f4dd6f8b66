"""A panel is one call with one object of JSON, whatever its device is called."""

from __future__ import annotations

import json
from typing import Any

import html5lib
import pytest

from generator.presenting.page_views import Site
from generator.publishing.links import link_faults
from generator.publishing.page_links import page_links
from generator.rendering import whole_site
from generator.rendering.panels import panel_script
from generator.rendering.whole_site import render_site
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_wearer
from tests.scoring.comparison_builders import WEARERS, one_each, several, worn

HOSTILE = "</script><script>alert(1)</script> \"'`${x}\\ \u2028\u2029 <!-- & ]]> קסדה"


def a_site(**said: Data) -> Site:
    """Return the site of two devices that the same three people wore."""
    tests = [worn(name, one_each(*[inside] * 3)) for name, inside in (("first", "30 /cm3"), ("other", "9 /cm3"))]
    wearers = {name: a_wearer(name, letter) for name, letter in zip(WEARERS, "ABCD", strict=True)}
    devices = {"first": said.get("first", {}), "other": {}}
    return shown(several([], devices, base=a_whole_catalogue(*tests, wearers=wearers)))


def handed(script: bytes) -> dict[str, Any]:
    """Return the object that a panel hands over; there is nothing else in its script."""
    text = script.decode()
    assert text.startswith("comparing.take({")
    assert text.endswith("});\n")
    found: dict[str, Any] = json.loads(text.removeprefix("comparing.take(").removesuffix(");\n"))
    return found


def markup_of(panel: dict[str, Any]) -> list[str]:
    return [*panel["parts"].values(), *panel["facts"].values(), *(pair["said"] for pair in panel["pairs"].values())]


def test_a_panel_is_one_call_with_one_object_of_json() -> None:
    first, other = (handed(panel_script(panel)) for panel in a_site().comparing.panels)
    assert list(first) == ["id", "kind", "parts", "facts", "pairs", "neverCompared", "notWithinKind"]
    assert (first["id"], first["kind"], first["neverCompared"]) == ("first", "filtering-facepiece", None)
    assert list(first["parts"]) == ["short", "fit", "flow", "column"]
    assert [list(first["pairs"]), list(other["pairs"])] == [["other"], []]


def test_a_hostile_name_stays_a_text_in_script_and_markup() -> None:
    site = a_site(first={"name": HOSTILE, "maker": HOSTILE, "withdrawn": {"date": "2025-11-02", "reason": HOSTILE}})
    for panel in site.comparing.panels:
        script = panel_script(panel)
        # Nothing that could end a script element, a comment or a line of script, wherever the file might be put.
        assert [character for character in "<>&'\u2028\u2029" if character in script.decode()] == []
        for markup in markup_of(handed(script)):
            page = html5lib.parse(markup, namespaceHTMLElements=False)
            assert [
                element for element in page.iter() if str(element.tag).rpartition("}")[2] in ("script", "img")
            ] == []
            assert [name for element in page.iter() for name in element.attrib if str(name).startswith("on")] == []
    short = html5lib.parse(markup_of(handed(panel_script(site.comparing.panels[0])))[0], namespaceHTMLElements=False)
    (heading,) = short.iter("h3")
    # Isolated, since it holds letters that run from right to left.
    assert "".join(heading.itertext()) == f"\u2068{HOSTILE.strip()}\u2069"


def test_the_reason_why_a_device_is_never_compared_is_escaped_too() -> None:
    site = a_site(first={"name": HOSTILE, "withdrawn": {"date": "2025-11-02", "reason": "x"}})
    reason = handed(panel_script(site.comparing.panels[0]))["neverCompared"]
    assert isinstance(reason, str)
    assert reason.startswith("<p>\u2068Not compared: &lt;/script&gt;&lt;script&gt;")


def test_every_device_has_a_panel_and_every_link_in_it_leads_somewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
    files = render_site(a_site(), lambda done, total, what: None)
    assert {path for path in files if path.startswith("panels/")} == {"panels/first.js", "panels/other.js"}
    assert "scripts/compare.js" in files
    assert link_faults(files) == []
    links = {link.target for link in page_links("panels/first.js", files["panels/first.js"]).links}
    assert {
        "devices/first.html",
        "devices/first.pdf",
        "devices/first.html#cautions",
        "comparisons/kind-filtering-facepiece.html#difference-first-other",
    } <= links


def test_no_id_of_a_panel_stands_in_another_one_or_on_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
    files = render_site(a_site(), lambda done, total, what: None)
    own = set(page_links("compare.html", files["compare.html"]).ids)
    panels = [page_links(path, files[path]) for path in ("panels/first.js", "panels/other.js")]
    assert [panel.repeated_ids for panel in panels] == [(), ()]
    first, other = (set(panel.ids) for panel in panels)
    assert first
    assert other
    assert own & first == own & other == first & other == set()
