"""What a run-down shows, in words: how long the flow was enough, when the alarm came, whether a task can be done."""

from __future__ import annotations

from generator.model.result import Figure, Outcome, Relation
from generator.model.run_down import StatedTask
from generator.model.run_time_result import AlarmOutcome, RunDownResult
from generator.presenting.digits import THIN, figure_decimals, quantity_text, value_text
from generator.presenting.wording import sentence_case, shortened

OF_ONE_BATTERY = (
    "A run time is of one battery, on one day, with one filter. Batteries age, and a loaded filter or a cold day makes "
    "it shorter."
)
_FILTER = {"new": "new filter", "loaded": "loaded filter"}
_MINUTES = 60


def run_down_state(result: RunDownResult) -> str:
    """Say at which setting and with which filter a run-down was done."""
    return f"{shortened(result.setting, 40)}, {_FILTER[result.filter]}"


def hours_text(minutes: float) -> str:
    """Write whole minutes from an hour on as hours and minutes: `4 h 40 min`."""
    hours, rest = divmod(int(minutes), _MINUTES)
    return " ".join(f"{number}{THIN}{unit}" for number, unit in ((hours, "h"), (rest, "min")) if number)


def time_text(figure: Figure) -> str:
    """Write a time in minutes, and from an hour on in hours and minutes too, to the digits that it deserves."""
    if figure.value is None:
        return "not scored"
    text = value_text(figure)
    shown = round(figure.value, min(figure_decimals(figure), 0))
    if figure.relation is Relation.AT_LEAST:
        shown = min(shown, figure.value)
    return f"{text} ({hours_text(shown)})" if shown >= _MINUTES else text


def required_text(result: RunDownResult) -> str:
    """Name the flow that a run time goes by."""
    assert result.required_l_per_min is not None, "asked for scored run times only"
    flow = quantity_text(result.required_l_per_min, "L/min")
    return f"the benchmark of {flow}" if result.benchmark_only else f"the required {flow}"


def run_time_words(result: RunDownResult) -> str:
    """Say how long the flow stayed at or above what is required, the state first."""
    figure, state = result.run_time, sentence_case(run_down_state(result))
    if figure.value is None:
        return f"{state}: how long it delivers enough air on one charge is not scored: {figure.not_scored}."
    required = required_text(result)
    stayed = f"{state}: on one charge the flow stayed at or above {required} for {time_text(figure)}"
    if figure.relation is Relation.AT_LEAST:
        ended = "then the blower stopped" if result.to_stop is not None else "the test ended before it fell below"
        return f"{stayed}; {ended}."
    if not figure.value:
        return f"{state}: it never delivered {required} on this charge."
    back = " It came back for a while later: the first time below is what ends the run time." * result.came_back
    return f"{stayed}.{back}"


def stop_words(result: RunDownResult) -> str | None:
    """Say how long the blower turned, and that this is not the run time; nothing where it did not stop."""
    if result.to_stop is None or result.to_stop.value is None or result.run_time.relation is Relation.AT_LEAST:
        return None
    turned = f"The blower turned for {time_text(result.to_stop)}"
    if result.run_time.value is None:
        return f"{turned}."
    if not result.run_time.value:
        return f"{turned}, but that is not the run time."
    after = "." if result.came_back else ": after the run time it delivered less than is required."
    return f"{turned}, but that is not the run time{after}"


def alarm_words(result: RunDownResult) -> str | None:
    """Say when the first alarm came, and how that stands to the end of the run time."""
    if result.first_alarm is None or result.first_alarm.value is None:
        return {
            AlarmOutcome.NONE_HEARD: "No alarm was heard.",
            AlarmOutcome.NOT_NEEDED: "No alarm was heard; the flow did not fall below in this time.",
        }.get(result.alarm)
    came = f"The first alarm came after {time_text(result.first_alarm)}"
    return {
        AlarmOutcome.BEFORE: f"{came}, before the flow fell below.",
        AlarmOutcome.AFTER: f"{came}, when the flow had already fallen below.",
        AlarmOutcome.UNDECIDED: f"{came}; whether that was before the flow fell below cannot be told.",
    }.get(result.alarm, f"{came}.")


def task_words(task: StatedTask | None, outcome: Outcome | None) -> str | None:
    """Say whether the run time is as long as a task; nothing where none is stated."""
    if task is None or outcome is None:
        return None
    named = f"the stated task: {task.what.rstrip('.')}, {quantity_text(task.duration.number, task.duration.unit)}"
    said = f"{named} ({task.source.rstrip('.')})."
    return {
        Outcome.MEETS: f"It lasted as long as {said}",
        Outcome.DOES_NOT_MEET: f"It did not last as long as {said}",
    }.get(outcome, f"It cannot be told whether it lasts as long as {said}")


def run_down_words(result: RunDownResult, task: StatedTask | None) -> tuple[str, ...]:
    """Return the sentences about one run-down."""
    said = (run_time_words(result), stop_words(result), alarm_words(result), task_words(task, result.task))
    return tuple(sentence for sentence in said if sentence is not None)
