"""Links that are followed part by part: the same faults as when all files are looked at together."""

import json
import random

import pytest

from generator.publishing.links import link_faults
from generator.publishing.part_links import PartLinks, faults_of_parts, part_links, part_links_from
from tests.publishing.test_links import GOOD

FAULTY = GOOD | {
    "devices/other.html": b"""<!doctype html><p id="twice"></p><p id="twice">
<a href="../gone.html">1</a> <a href="hood.html#gone">2</a> <a href="hood.html#a-b">3</a> <a href="#twice">4</a>
<a href="/index.html">5</a> <a href="../compare.html#devices=hood,lost">6</a> <a href="../compare.html#short">7</a>
<img src="https://a.example/x.png" alt=""> <a href="../sheets/hood.pdf#p">8</a> <a href="#">9</a>""",
    "methods/one.html": b"""<a href="../devices/other.html#twice">1</a> <a href="../devices/other.html#once">2</a>
<a href="../devices/other.html#">3</a> <a href="../index.html#%74op">4</a> <a href="javascript:x">5</a>""",
    "panels/third.js": b'comparing.take({"id": "third", "a": "<a href=devices/hood.html#none>x</a>"});\n',
}


def in_parts(files: dict[str, bytes], parts: list[dict[str, bytes]]) -> list[str]:
    """Return the faults that are found when each part was read by itself and what is known of it was written down."""
    known = [part_links(part) for part in parts]
    ids = {path: of_page for each in known for path, of_page in each.ids.items()}
    plain = [part_links_from(json.loads(json.dumps(each.plain()))) for each in known]
    return list(faults_of_parts(plain, files.keys(), ids.get))


@pytest.mark.parametrize("seed", range(40))
def test_faults_are_those_of_all_files_together_however_they_are_divided(seed: int) -> None:
    draw = random.Random(seed)
    parts: list[dict[str, bytes]] = [{} for _ in range(draw.randrange(1, 6))]
    for path, content in FAULTY.items():
        draw.choice(parts)[path] = content
    together = sorted(link_faults(FAULTY))
    assert len(together) == 12
    assert sorted(in_parts(FAULTY, parts)) == together


def test_a_good_site_has_no_faults_in_parts() -> None:
    assert in_parts(GOOD, [{path: content} for path, content in GOOD.items()]) == []


def test_a_page_that_went_away_is_missed_by_parts_that_did_not_change() -> None:
    parts = [{path: content} for path, content in GOOD.items()]
    left = {path: content for path, content in GOOD.items() if path != "devices/hood.html"}
    faults = in_parts(left, [part for part in parts if "devices/hood.html" not in part])
    assert faults == sorted(link_faults(left))
    assert len(faults) >= 2


def test_ids_are_asked_for_only_of_pages_that_another_part_links_to() -> None:
    asked: list[str] = []

    def ids_of(path: str) -> tuple[str, ...]:
        asked.append(path)
        return ("here",)

    part = part_links(
        {"a.html": b'<p id="x"></p><a href="#x">x</a> <a href="b.html#here">b</a> <a href="c.html">c</a>'}
    )
    assert isinstance(part, PartLinks)
    assert faults_of_parts([part], {"a.html", "b.html", "c.html"}, ids_of) == []
    assert asked == ["b.html"]
