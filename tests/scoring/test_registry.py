"""Which topics a record is scored by."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.model.published import PublishedCatalogue, PublishedTest, published
from generator.scoring.registry import scored_topics, topic_names, topics_of
from generator.scoring.topics import SCORED_FROM

DEMO = Path(__file__).parents[2] / "records"


@pytest.fixture(scope="module")
def catalogue() -> PublishedCatalogue:
    loaded = load_catalogue(DEMO).catalogue
    assert loaded is not None
    return published(loaded)


def without(test: PublishedTest, topic: str) -> PublishedTest:
    fields = PublishedTest.model_fields
    return test.model_copy(update={key: fields[key].get_default() for key in SCORED_FROM[topic]})


def test_every_topic_that_is_listed_is_one() -> None:
    assert set(SCORED_FROM) <= set(topic_names())


def test_topics_of_a_record_are_in_the_order_of_all(catalogue: PublishedCatalogue) -> None:
    for test in catalogue.device_tests.values():
        assert list(topics_of(test)) == [name for name in scored_topics() if name in topics_of(test)]


@pytest.mark.parametrize("topic", sorted(SCORED_FROM))
def test_without_its_keys_a_topic_scores_nothing(topic: str, catalogue: PublishedCatalogue) -> None:
    score = scored_topics()[topic].score_record
    scored = [test for test in catalogue.device_tests.values() if score(test, catalogue) is not None]
    assert scored, "no record of the demo shows it"
    # All records, for what other topics leave behind, such as a fit session that names a filter test.
    emptied = {name: without(test, topic) for name, test in catalogue.device_tests.items()}
    for test in emptied.values():
        assert topic not in topics_of(test)
        assert score(test, catalogue) is None


@pytest.mark.parametrize("topic", sorted(SCORED_FROM))
def test_each_key_by_itself_has_the_topic_asked(topic: str, catalogue: PublishedCatalogue) -> None:
    for key in SCORED_FROM[topic]:
        holding = [test for test in catalogue.device_tests.values() if getattr(test, key) not in (None, ())]
        assert holding, "no record of the demo has it"
        for test in holding:
            assert topic in topics_of(without(test, topic).model_copy(update={key: getattr(test, key)}))
