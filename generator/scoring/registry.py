"""The topics that are scored, found by looking: one module below generator.scoring.topics each."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache, partial
from typing import Protocol, cast

from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import TopicResult, TopicSummary
from generator.scoring import topics


class Topic(Protocol):
    """What a topic's module provides. `ORDER` says where it stands on a page."""

    ORDER: int

    def score_record(self, test: PublishedTest, catalogue: PublishedCatalogue) -> TopicResult | None:
        """Score one record, or return None where it holds nothing of this topic."""

    def summarise_device(
        self, device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
    ) -> TopicSummary | None:
        """Sum up a device from its records' results by record id, or return None where there are none."""


@cache
def topic_names() -> tuple[str, ...]:
    """Return the names of all topics, with which their figures' keys begin."""
    return tuple(module.name for module in pkgutil.iter_modules(topics.__path__))


@cache
def scored_topics() -> Mapping[str, Topic]:
    """Return the topics by name, in the order they stand on a page."""
    return _in_order(topic_names())


def topics_of(test: PublishedTest) -> Mapping[str, Topic]:
    """Return the topics that a record may hold something of; those that it holds nothing of are not imported."""
    return _in_order(tuple(filter(partial(_may_hold, test), topic_names())))


def _may_hold(test: PublishedTest, topic: str) -> bool:
    keys = topics.SCORED_FROM.get(topic)
    return keys is None or any(getattr(test, key) not in (None, ()) for key in keys)


@cache
def _in_order(names: tuple[str, ...]) -> Mapping[str, Topic]:
    found = {name: cast(Topic, importlib.import_module(f"{topics.__name__}.{name}")) for name in names}
    return dict(sorted(found.items(), key=lambda item: (item[1].ORDER, item[0])))
