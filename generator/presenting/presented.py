"""Pages of one kind that are presented when they are first looked at, so that one of them can be had alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Generic, TypeVar, overload

PageData = TypeVar("PageData")


class Presented(Sequence[PageData], Generic[PageData]):
    """Pages by their paths, in order. Each is presented once, when it is first looked at."""

    def __init__(self, presenters: Mapping[str, Callable[[], PageData]]) -> None:
        """Take for each path what presents the page that stands there."""
        self._presenters = {path: cache(presenter) for path, presenter in presenters.items()}
        self._in_order = tuple(self._presenters.values())

    @property
    def presenters(self) -> Mapping[str, Callable[[], PageData]]:
        """Return for each path what presents its page, or gives it again."""
        return self._presenters

    def at(self, path: str) -> PageData:
        """Return the page that stands at a path."""
        return self._presenters[path]()

    def __len__(self) -> int:
        return len(self._in_order)

    @overload
    def __getitem__(self, place: int) -> PageData: ...

    @overload
    def __getitem__(self, place: slice) -> tuple[PageData, ...]: ...

    def __getitem__(self, place: int | slice) -> PageData | tuple[PageData, ...]:
        if isinstance(place, slice):
            return tuple(presenter() for presenter in self._in_order[place])
        return self._in_order[place]()
