"""Whatever was kept of earlier builds, a build gives what a clean one gives: 200 random sequences of edits.

Edits are made and undone in a small catalogue, and after each of them the site is made from what the builds before
kept. It must have the same files with the same hashes as one that is made from nothing. PDFs are left out, but for a
few states: a data sheet is made by the same job, of the same things, as the page of its device.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.build import Wishes, site_files
from generator.build.timings import Timings
from generator.loading import load_catalogue
from generator.model.published import PublishedCatalogue, published
from generator.publishing.kept_files import KeptFiles
from tests.build.random_edits import EDITS, write_base, write_state

SEQUENCES = 200
BATCHES = 20
"""Each begins with nothing kept, and makes and undoes some edits only, so that a state is often come back to."""
EDITS_EACH = 3
LONGEST = 3
TOOL = "tool"
State = frozenset[int]
Hashes = dict[str, str]


def silent(done: int, total: int, what: str) -> None:
    """Take progress reports and show nothing."""


def hashes(catalogue: PublishedCatalogue, kept: KeptFiles, *, papers: bool = False) -> tuple[Hashes, Timings]:
    """Return the hash of each file of a catalogue's site, and what was done to make it."""
    timings = Timings()
    files, _ = site_files(catalogue, kept, TOOL, silent, Wishes(papers=papers), timings)
    return files.hashes, timings


class States:
    """The catalogue in each state that was asked for, and its site as made from nothing."""

    def __init__(self, base: Path, folder: Path) -> None:
        self._base, self._folder = base, folder
        self._catalogues: dict[State, PublishedCatalogue] = {}
        self._clean: dict[State, Hashes] = {}

    def catalogue(self, state: State) -> PublishedCatalogue:
        """Return the catalogue with these edits made."""
        if state not in self._catalogues:
            write_state(self._base, self._folder / "records", state)
            loaded = load_catalogue(self._folder / "records")
            assert [str(problem) for problem in loaded.problems] == []
            assert loaded.catalogue is not None
            self._catalogues[state] = published(loaded.catalogue)
        return self._catalogues[state]

    def clean(self, state: State) -> Hashes:
        """Return its site, made from nothing."""
        if state not in self._clean:
            nothing = KeptFiles(self._folder / f"clean-{len(self._clean)}", TOOL)
            self._clean[state], timings = hashes(self.catalogue(state), nothing)
            assert timings.taken.total() == 0
        return self._clean[state]


@pytest.fixture(scope="module")
def states(demo_records: Path, tmp_path_factory: pytest.TempPathFactory) -> States:
    """The states of the small catalogue."""
    folder = tmp_path_factory.mktemp("states")
    return States(write_base(demo_records, folder / "base"), folder)


def chosen(batch: int) -> tuple[int, ...]:
    """Return the edits of a batch: four batches have the same, and so share clean sites; all together have each."""
    shuffled = random.Random("edits").sample(range(len(EDITS)), len(EDITS))
    return tuple(shuffled[(batch // 4 * EDITS_EACH + place) % len(EDITS)] for place in range(EDITS_EACH))


def test_all_edits_are_chosen() -> None:
    assert {number for batch in range(BATCHES) for number in chosen(batch)} == set(range(len(EDITS)))


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_build_from_what_was_kept_equals_a_clean_one(batch: int, states: States, tmp_path: Path) -> None:
    draw, kept = random.Random(f"sequences {batch}"), KeptFiles(tmp_path / "kept", TOOL)
    taken = 0
    for _ in range(SEQUENCES // BATCHES):
        state: State = frozenset()
        for _ in range(draw.randint(1, LONGEST)):
            state ^= {draw.choice(chosen(batch))}
            given, timings = hashes(states.catalogue(state), kept)
            taken += timings.taken.total()
            assert given == states.clean(state), [EDITS[number].name for number in state]
    # It is what was kept that was put to the test.
    assert taken > 1000


@pytest.mark.parametrize("edit", ["the same day"])
def test_data_sheets_from_what_was_kept_equal_clean_ones(edit: str, states: States, tmp_path: Path) -> None:
    (number,) = (number for number, each in enumerate(EDITS) if each.name == edit)
    kept = KeptFiles(tmp_path / "kept", TOOL)
    hashes(states.catalogue(frozenset()), kept, papers=True)
    given, timings = hashes(states.catalogue(frozenset({number})), kept, papers=True)
    assert timings.taken["files of a device"] == 2
    clean, _ = hashes(states.catalogue(frozenset({number})), KeptFiles(tmp_path / "clean", TOOL), papers=True)
    assert given == clean


def edited(state: State, states: States) -> Callable[[str], str]:
    """Return what gives a page of a state as text."""
    folder = states._folder / "shown"
    files, _ = site_files(
        states.catalogue(state), KeptFiles(folder, TOOL), TOOL, silent, Wishes(papers=False), Timings()
    )
    return lambda path: files[path].decode()


def test_edits_that_reach_other_pages_do_so(states: States) -> None:
    """Otherwise the test above would show less than it says: a device's page changes with other devices' records."""
    number = {each.name: place for place, each in enumerate(EDITS)}
    before = edited(frozenset(), states)("devices/meadowrue-pleat.html")
    beside = edited(frozenset({number["the same day"]}), states)("devices/meadowrue-pleat.html")
    assert "Worn the same day" not in before
    assert "Patchwork Cover" in beside
    assert "Worn the same day" in beside
    both = frozenset({number["the same day"], number["a device's name"]})
    assert "Sewn Cover" in edited(both, states)("devices/meadowrue-pleat.html")
    replaced = frozenset({number["a device is replaced"], number["a device's name"]})
    assert "Sewn Cover" in edited(replaced, states)("devices/sallowby-pleat.html")
    compared = edited(frozenset({number["a comparison"]}), states)("devices/cinderpool-cup.html")
    assert "Two against a cup" in compared
