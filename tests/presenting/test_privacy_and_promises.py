"""What no page may hold: who a wearer is, and a promise."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.model.catalogue import Catalogue
from generator.model.people import FacialHair
from generator.presenting.page_views import Site
from tests.presenting.small_sites import a_whole_catalogue, given, shown, texts_of
from tests.scoring.builders import a_device, a_run, a_session, a_test, a_wearer, readings

PROMISES = re.compile(
    r"\b(safe|safely|safest|certified|guaranteed?|guarantees|protects you|approved by us|fully protected)\b",
    re.IGNORECASE,
)
CANARIES = ("canaryid", "CANARY NOTE", "canarysize", "stubble", "beard")


@pytest.fixture(scope="module")
def demo(demo_records: Path) -> Catalogue:
    catalogue = load_catalogue(demo_records).catalogue
    assert catalogue is not None
    return catalogue


@pytest.fixture(scope="module")
def demo_pages(demo: Catalogue) -> Site:
    return shown(demo)


def a_site_with_canaries() -> Site:
    wearer = a_wearer("canaryid", "Q", private_note="CANARY NOTE").model_copy(
        update={"facial_hair": FacialHair.STUBBLE}
    )
    sessions = [
        a_session(readings(0, 4, 9), wearer="canaryid", size="canarysize", blower="high"),
        a_session(id="stop", wearer="canaryid", donning=2, outcome="aborted", reason="a strap broke", blower="off"),
        given(150.0, id="given", wearer="canaryid", donning=3, blower="off", size="canarysize"),
    ]
    test = a_test(sessions, [a_run([17.0, 17.1, 16.9])])
    kind = "tight_powered_half_facepiece"
    return shown(a_whole_catalogue(test, device=a_device(kind), wearers={"canaryid": wearer}))


def test_a_wearer_is_a_letter_and_nothing_more() -> None:
    texts = list(texts_of(a_site_with_canaries()))
    assert any("Q, donning 1" in text for text in texts)
    assert [text for text in texts for canary in CANARIES if canary in text] == []


def test_no_wearer_of_the_demo_is_named(demo: Catalogue, demo_pages: Site) -> None:
    names = "|".join(demo.wearers)
    notes = [wearer.private_note for wearer in demo.wearers.values() if wearer.private_note is not None]
    texts = list(texts_of(demo_pages))
    assert len(texts) > 1000
    assert notes != []
    assert [text for text in texts if re.search(rf"\b({names})\b", text, re.IGNORECASE)] == []
    assert [text for text in texts for note in notes if note in text] == []


def test_the_search_finds_a_planted_wearer(demo: Catalogue) -> None:
    record = next(iter(demo.device_tests.values()))
    planted = record.model_copy(update={"deviations": (f"Seen on {next(iter(demo.wearers))}.",)})
    texts = texts_of(shown(a_whole_catalogue(device=a_device(summary=planted.deviations[0]))))
    assert any(re.search(rf"\b{next(iter(demo.wearers))}\b", text) for text in texts)


def test_no_page_promises_anything(demo_pages: Site) -> None:
    texts = [*texts_of(demo_pages), *texts_of(a_site_with_canaries())]
    assert [text for text in texts if PROMISES.search(text)] == []


def test_the_templates_promise_nothing() -> None:
    folder = Path(__file__).resolve().parent.parent.parent / "site_templates"
    found = [path.name for path in folder.rglob("*.html") if PROMISES.search(path.read_text(encoding="utf-8"))]
    assert found == []


@pytest.mark.parametrize("text", ["It is safe.", "Certified!", "This protects you.", "Approved by us"])
def test_the_search_finds_planted_promises(text: str) -> None:
    assert PROMISES.search(text)
