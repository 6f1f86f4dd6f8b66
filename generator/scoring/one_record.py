"""One test record, scored by every topic: apart from the catalogue, which takes much more to import."""

from __future__ import annotations

from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import RecordResult
from generator.scoring.record_findings import record_findings
from generator.scoring.registry import topics_of


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> RecordResult:
    """Score one test record by every topic that it holds something of."""
    scored = {name: topic.score_record(test, catalogue) for name, topic in topics_of(test).items()}
    return RecordResult(
        record=test.id,
        device=test.device,
        topics={name: result for name, result in scored.items() if result is not None},
        findings=record_findings(test, catalogue),
    )
