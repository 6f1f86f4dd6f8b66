"""How to read: what the drawn examples show is what scoring makes of their numbers."""

from __future__ import annotations

from statistics import fmean, harmonic_mean

from generator.presenting.reading_page import NOT_A_FIT_FACTOR, present_reading

PAGE = present_reading()


def test_the_diamond_is_the_harmonic_mean_of_the_strokes_and_lies_in_its_bar() -> None:
    (row, *_) = PAGE.scale.chart.rows
    strokes = [mark.value for mark in row.marks if mark.minor]
    (overall,) = (mark for mark in row.marks if not mark.minor)
    # source: Python 3.11 statistics.harmonic_mean and fmean
    assert abs(overall.value - harmonic_mean(strokes)) < 1e-9
    assert overall.low is not None
    assert overall.high is not None
    assert overall.low < overall.value < overall.high
    told = next(note.text for note in PAGE.scale.notes if note.term == "a")
    assert f"harmonic mean is {round(harmonic_mean(strokes), -1):.0f};" in told
    assert f"mean, {round(fmean(strokes), -1):.0f}, would hide" in told


def test_each_mark_has_a_note_and_each_flow_its_verdict() -> None:
    letters = [row.label.split()[0] for row in (*PAGE.scale.chart.rows, *PAGE.flow.chart.rows)]
    terms = [note.term for note in (*PAGE.scale.notes, *PAGE.flow.notes)]
    assert letters == ["a", "b", "c", "d", "e", "f", "g"]
    assert set(letters) < set(terms)
    outcomes = [row.label.partition(", ")[2] for row in PAGE.flow.chart.rows]
    assert outcomes == ["meets it", "undecided", "does not meet it"]
    for row, whole in zip(PAGE.flow.chart.rows, (True, None, False), strict=True):
        (mark,) = row.marks
        assert mark.low is not None
        assert mark.high is not None
        # source: the guarded rule, JCGM 106:2012 8.3: the whole interval on one side of 170
        assert {True: mark.low >= 170, None: mark.low < 170 <= mark.high, False: mark.high < 170}[whole]


def test_what_a_fit_factor_is_not_is_told_with_its_sources() -> None:
    assert NOT_A_FIT_FACTOR == "not"
    assert len(PAGE.not_a_fit_factor) == 9
    for item in PAGE.not_a_fit_factor:
        assert item.id.startswith("not-")
        assert item.facts[0].term == "Source"
        assert item.facts[0].text.endswith((")", "no source", "."))
    mean = next(item for item in PAGE.not_a_fit_factor if item.id == "not-mean")
    # source: published worked examples of the harmonic mean in the appendix's way: six of 1000 and one of 10 are 66.0
    assert "give 66, where an ordinary mean would be 859." in mean.text
