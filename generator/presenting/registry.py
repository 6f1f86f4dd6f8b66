"""The topics that are shown: the scored ones, each with its module below generator.presenting.topics."""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from functools import cache
from typing import Protocol, cast

from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.model.result import TopicResult, TopicSummary
from generator.presenting import topics
from generator.presenting.context import Context
from generator.presenting.views import IndexCell, TopicSection
from generator.scoring.registry import scored_topics


class ShownTopic(Protocol):
    """What a topic's module provides. The template `topics/<name>.html` prints what it returns.

    `ANSWER_ORDER` says where its sentences stand among what a device's page says in brief, `HOLDS` what a record with
    this topic holds, `PART` what a figure's key names after the topic, such as a session.
    """

    ANSWER_ORDER: int
    HOLDS: str
    PART: str

    def present_record(self, test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
        """Show a topic of one record."""

    def present_device(
        self, device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
    ) -> TopicSection | None:
        """Show a topic of one device, or None where it says nothing about a device of this kind."""


class IndexedTopic(ShownTopic, Protocol):
    """What the module of a topic with a column in the index provides besides.

    `INDEX_HEADING` heads that column, `INDEX_ORDER` says by what the column is ordered.
    """

    INDEX_HEADING: str
    INDEX_ORDER: str

    def present_in_index(
        self, device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
    ) -> IndexCell:
        """Show a topic of one device in the index."""


@cache
def indexed_topics() -> Mapping[str, IndexedTopic]:
    """Return the topics that have a column in the index."""
    return {
        name: cast(IndexedTopic, topic) for name, topic in shown_topics().items() if hasattr(topic, "INDEX_HEADING")
    }


@cache
def shown_topics() -> Mapping[str, ShownTopic]:
    """Return the topics by name, in the order they stand on a page."""
    return {name: cast(ShownTopic, importlib.import_module(f"{topics.__name__}.{name}")) for name in scored_topics()}
