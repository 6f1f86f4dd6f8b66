"""Words of a log's columns of marks to exercises of the protocol and kinds of air, each told to be confirmed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.contributing.taking_in.cut import Mark
from generator.contributing.taking_in.readings import Readings
from generator.contributing.taking_in.told import Choice, Unclear
from generator.loading.characters import shortened
from generator.model.log import Sampling
from generator.model.reference import Protocol, ProtocolExercise

MOST_WORDS = 60
"""Different marks of a log; a column with more holds remarks."""
_AIR = {
    Sampling.AMBIENT: {"ambient", "outside", "room", "room-air"},
    Sampling.IN_MASK: {"in-mask", "mask", "inside", "in"},
    Sampling.PURGE: {"purge", "settle", "settling", "flush", "pause", "wait", "none"},
    Sampling.SIDE_BY_SIDE: {"side-by-side", "both"},
}
_AGAIN = "-again"
_NOT_IN_A_NAME = re.compile(r"[^a-z0-9]+")


@dataclass(frozen=True)
class Meaning:
    """A word in a column of marks, and what it was taken for."""

    column: str
    word: str
    lines: int
    taken_for: str


@dataclass(frozen=True)
class Marks:
    """The marks of every row, and what each word was taken for."""

    rows: tuple[Mark, ...]
    meanings: tuple[Meaning, ...]


def marks_of(readings: Readings, protocol: Protocol, told: Mapping[str, str]) -> Marks:
    """Read the marks of a log; `told` says of words what they mean.

    Raises
    ------
    Unclear
        A word is neither an exercise of the protocol nor a kind of air.
    """
    exercises, samplings = readings.exercise, readings.sampling
    of_air = {} if samplings is None else {word: _air(word, told) for word in _words(samplings)}
    of_exercise = {} if exercises is None else {word: _exercises(word, protocol, told) for word in _words(exercises)}
    rows: list[Mark] = []
    runs = _Runs(protocol)
    for place in range(len(readings.time_s)):
        candidates = of_exercise[exercises[place]] if exercises is not None else None
        air = of_air[samplings[place]] if samplings is not None else _air_of(candidates)
        if air is Sampling.IN_MASK:
            rows.append(Mark(air, runs.exercise(candidates)))
        else:
            runs.note_other(air)
            rows.append(Mark(air))
    meanings = _meanings("sampling", samplings, {word: air.value for word, air in of_air.items()})
    no_exercise = Sampling.PURGE.value if samplings is None else "no exercise"
    shown = {word: _shown(candidates, no_exercise) for word, candidates in of_exercise.items()}
    return Marks(tuple(rows), (*meanings, *_meanings("exercise", exercises, shown)))


Candidates = tuple[str, ...] | Sampling
"""What a word in the column of exercises can mean: exercises in the protocol's order, or a kind of air."""


class _Runs:
    """Gives each stretch of a word its exercise, where a protocol has one movement several times."""

    def __init__(self, protocol: Protocol) -> None:
        self._order = [exercise.id for exercise in protocol.exercises]
        self._word: Candidates | None = None
        self._done: str | None = None
        self._stretch = -1
        self._inside = False

    def exercise(self, candidates: Candidates | None) -> str:
        """Return the exercise of an in-mask row."""
        if candidates is None:
            # Without a column of exercises the stretches inside are the exercises in their order.
            self._stretch += not self._inside
            self._inside = True
            if self._stretch >= len(self._order):
                found = f"more stretches inside than the protocol's {len(self._order)} exercises"
                raise Unclear("--exercise", found, "Which column holds the exercise?")
            return self._order[self._stretch]
        if not isinstance(candidates, tuple) or not candidates:
            found = "rows marked in-mask without an exercise"
            raise Unclear("--exercise", found, "Which column holds the exercise?")
        if candidates != self._word:
            self._word = candidates
            later = (each for each in candidates if self._done is None or self._place(each) > self._place(self._done))
            self._done = next(later, candidates[-1])
        assert self._done is not None, "a stretch of a word has begun"
        return self._done

    def _place(self, exercise: str) -> int:
        return self._order.index(exercise)

    def note_other(self, air: Sampling) -> None:
        """Note that something else was drawn."""
        self._inside = self._inside and air is Sampling.PURGE


def _words(cells: Sequence[str]) -> list[str]:
    words = sorted(set(cells))
    if len(words) > MOST_WORDS:
        found = f"{len(words)} different words in a column of marks"
        raise Unclear("--exercise", found, "Which column holds the exercise? (`none` where there is none)")
    return words


def _name(text: str) -> str:
    return _NOT_IN_A_NAME.sub("-", text.casefold()).strip("-")


def _air(word: str, told: Mapping[str, str]) -> Sampling:
    wanted = _name(told.get(word, word))
    found = _air_called(wanted)
    if found is not None:
        return found
    choices = [Choice(f"{word}={air.value}") for air in Sampling]
    raise Unclear("--mark", f"`{shortened(word)}` in the column of what was drawn", "What does it mean?", choices)


def _air_called(name: str) -> Sampling | None:
    return next((air for air, names in _AIR.items() if name in names), None)


def _exercises(word: str, protocol: Protocol, told: Mapping[str, str]) -> Candidates:
    wanted = _name(told.get(word, word))
    if not wanted or wanted == "0":
        return Sampling.PURGE
    if wanted.isdecimal() and int(wanted) <= len(protocol.exercises):
        return (protocol.exercises[int(wanted) - 1].id,)
    found = tuple(each.id for each in protocol.exercises if wanted in _names(each, strictly=word in told))
    if found:
        return found
    air = _air_called(wanted)
    if air is not None and air is not Sampling.IN_MASK:
        return air
    choices = [Choice(f"{word}={each.id}", each.name) for each in protocol.exercises]
    choices.append(Choice(f"{word}=purge", "no exercise"))
    found_words = f"`{shortened(word)}` in the column of exercises, which protocol `{protocol.id}` does not have"
    raise Unclear("--mark", found_words, "What does it mean?", choices)


def _names(exercise: ProtocolExercise, strictly: bool) -> set[str]:
    """Return how a log may call an exercise; both times of a movement that comes twice by one name, unless strictly."""
    names = {exercise.id, _name(exercise.name)}
    return names if strictly else names | {name.removesuffix(_AGAIN) for name in names}


def _air_of(candidates: Candidates | None) -> Sampling:
    """Return what was drawn by the column of exercises alone: inside, where it names one."""
    return candidates if isinstance(candidates, Sampling) else Sampling.IN_MASK


def _shown(candidates: Candidates, no_exercise: str) -> str:
    if isinstance(candidates, Sampling):
        return no_exercise if candidates is Sampling.PURGE else candidates.value
    return ", then ".join(candidates)


def _meanings(column: str, cells: Sequence[str] | None, taken: Mapping[str, str]) -> tuple[Meaning, ...]:
    if cells is None:
        return ()
    numbers = dict.fromkeys(taken, 0)
    for cell in cells:
        numbers[cell] += 1
    return tuple(Meaning(column, word, numbers[word], meaning) for word, meaning in taken.items())
