"""The list of instruments, and the page of each: calibrations, tests in doubt, check standards, where it was used."""

from __future__ import annotations

from generator.model.instrument import Calibration, Instrument, InstrumentKind
from generator.model.instrument_result import CalibrationResult, CalibrationState, InstrumentResult
from generator.presenting.check_standards import STATE_WORDS, check_standard_view
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.instrument_views import ListedRecord
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import InstrumentPage, InstrumentsPage
from generator.presenting.views import Cell, Column, Fact, Link, Row, Table
from generator.presenting.wording import count_text, day_text, recorded_text, sentence_case

INDEX = Link("Instruments", "instruments/index.html")
KIND_WORDS = {
    InstrumentKind.THERMAL_MASS_FLOW_METER: "Thermal mass flow meter",
    InstrumentKind.VOLUMETRIC_FLOW_METER: "Volumetric flow meter",
    InstrumentKind.VARIABLE_AREA_FLOW_METER: "Variable-area flow meter",
    InstrumentKind.CONDENSATION_PARTICLE_COUNTER: "Condensation particle counter",
    InstrumentKind.OPTICAL_PARTICLE_COUNTER: "Optical particle counter",
}
_STATE_WORDS = {
    CalibrationState.IN_FORCE: "in force",
    CalibrationState.LAPSED: "lapsed",
    CalibrationState.SUPERSEDED: "replaced by a later one",
    CalibrationState.MADE_LATER: "made after that day",
}
_DAY_RULE = "A test on the day of a calibration is marked too, since no record says which of the two came first."


def _newest(result: InstrumentResult) -> CalibrationResult | None:
    """Return the newest calibration made by the day the instrument is looked at."""
    made = [each for each in result.calibrations if each.state is not CalibrationState.MADE_LATER]
    return made[-1] if made else None


def _as_of_words(result: InstrumentResult, context: Context) -> str:
    what = "newest test in this catalogue" if context.catalogue.device_tests else "newest calibration"
    return f"{day_text(result.as_of)}, the day of the {what}"


def _answer(result: InstrumentResult, context: Context) -> str:
    day, newest = _as_of_words(result, context), _newest(result)
    if newest is None:
        return f"On {day}, it had no calibration: the first was made on {day_text(result.calibrations[0].date)}."
    made, due = day_text(newest.date), day_text(newest.due)
    if newest.state is CalibrationState.LAPSED:
        return f"On {day}, its calibration had lapsed: made on {made}, it was due anew by {due}."
    return f"On {day}, its calibration of {made} was in force; the next was due by {due}."


def _state_text(result: InstrumentResult) -> str:
    newest = _newest(result)
    if newest is None:
        return "none yet"
    return f"{_STATE_WORDS[newest.state]}, due {day_text(newest.due)}"


def _facts(instrument: Instrument) -> tuple[Fact, ...]:
    facts = [
        Fact("Kind", KIND_WORDS[instrument.kind]),
        Fact("Serial number", recorded_text(instrument.serial)),
        Fact("Smallest step of its display", recorded_text(instrument.resolution)),
    ]
    if instrument.drift_per_year is not None:
        facts.append(Fact("Drifts in a year by at most", recorded_text(instrument.drift_per_year)))
    reference, counter = instrument.reference_conditions, instrument.counter
    if reference is not None:
        facts.append(
            Fact(
                "Reference conditions",
                # To the last digit: readings are converted from exactly these.
                f"{quantity_text(reference.temperature.number, reference.temperature.unit, 8)}, "
                f"{quantity_text(reference.pressure.number, reference.pressure.unit, 8)}"
                f"{f', humidity {recorded_text(reference.humidity)}' if reference.humidity is not None else ''}",
            )
        )
    if counter is not None:
        facts += [
            Fact("Flow in which particles are counted", recorded_text(counter.counted_flow)),
            Fact("Counts single particles", "yes" if counter.single_particle else "no"),
            Fact("Least concentration for a fit test", recorded_text(counter.ambient_minimum)),
            Fact("Highest concentration it reads right", recorded_text(counter.ceiling)),
        ]
    return tuple(facts)


def _as_found_text(calibration: Calibration) -> str:
    if calibration.as_found is None:
        return "not recorded"
    within = calibration.as_found.within_tolerance
    return f"{'within' if within else 'out of'} tolerance: {calibration.as_found.found}"


def _calibration_row(number: int, calibration: Calibration, result: CalibrationResult) -> Row:
    key = f"calibration.{number}"
    return Row(
        (
            Cell(day_text(calibration.date), id=f"{key}.date"),
            Cell(day_text(calibration.due), id=f"{key}.due"),
            Cell(_STATE_WORDS[result.state], id=f"{key}.state"),
            Cell(recorded_text(calibration.correction)),
            Cell(f"{recorded_text(calibration.expanded_uncertainty)} (k = {calibration.k:g})"),
            Cell(_as_found_text(calibration), id=f"{key}.as_found"),
            Cell(calibration.certificate, note=calibration.laboratory),
        ),
        id=key,
    )


def _calibrations(instrument: Instrument, result: InstrumentResult) -> Table:
    ordered = sorted(instrument.calibrations, key=lambda calibration: calibration.date)
    return Table(
        "calibrations-made",
        "Calibrations, oldest first. True value = reading + correction, within the expanded uncertainty. "
        f"State on {day_text(result.as_of)}",
        (
            Column("Calibrated"),
            Column("Due"),
            Column("State"),
            Column("Correction"),
            Column("Expanded uncertainty"),
            Column("As found"),
            Column("Certificate and laboratory"),
        ),
        tuple(
            _calibration_row(number, calibration, scored)
            for number, (calibration, scored) in enumerate(zip(ordered, result.calibrations, strict=True), start=1)
        ),
    )


def _found_out(result: InstrumentResult) -> tuple[CalibrationResult, ...]:
    return tuple(each for each in result.calibrations if each.within_tolerance is False)


def _found_out_fact(calibration: CalibrationResult) -> Fact:
    since = (
        "Every test done with it up to that day is marked; no calibration came before."
        if calibration.before is None
        else f"Every test done with it since the calibration of {day_text(calibration.before)} is marked."
    )
    found = sentence_case((calibration.found or "").rstrip("."))
    return Fact(f"Calibration of {day_text(calibration.date)}", f"{found}. {since}")


def _affected(result: InstrumentResult, context: Context) -> tuple[ListedRecord, ...]:
    out = _found_out(result)
    by_record = {record: [each for each in out if record in each.affected] for record in result.records}
    return tuple(
        ListedRecord(f"affected-{record}", context.record_link(record), _affected_text(record, found, context))
        for record, found in by_record.items()
        if found
    )


def _affected_text(record: str, found: list[CalibrationResult], context: Context) -> str:
    begin = found[0].before
    end = day_text(found[-1].date)
    between = f"not after the calibration of {end}"
    if begin is not None:
        between = f"between the calibrations of {day_text(begin)} and {end}"
    return f"{_device_and_day(record, context)}, {between}"


def _device_and_day(record: str, context: Context) -> str:
    test = context.catalogue.device_tests[record]
    return f"{context.catalogue.devices[test.device].name}, tested {day_text(test.dates.performed)}"


def _affected_answer(affected: tuple[ListedRecord, ...]) -> str:
    if not affected:
        return "No test record in this catalogue is touched by it."
    marked = sentence_case(count_text(len(affected), "test record is", "test records are"))
    return f"{marked} marked, and each says so among its cautions. {_DAY_RULE}"


def present_instrument(instrument: Instrument, context: Context) -> InstrumentPage:
    """Return the page of one instrument."""
    result = context.result.instruments[instrument.id]
    affected = _affected(result, context)
    return InstrumentPage(
        head=page_head(
            f"instruments/{instrument.id}.html",
            instrument.name,
            f"{instrument.name}: calibrations, check standards and the tests it was used for.",
            state=(Fact("Instrument", instrument.id), Fact("Version", instrument.version)),
            trail=(INDEX,),
        ),
        id=instrument.id,
        name=instrument.name,
        kind=KIND_WORDS[instrument.kind],
        answer=_answer(result, context),
        facts=_facts(instrument),
        calibrations=_calibrations(instrument, result),
        found_out=tuple(_found_out_fact(calibration) for calibration in _found_out(result)),
        affected_answer=_affected_answer(affected),
        affected=affected,
        checks=tuple(
            check_standard_view(instrument, standard, check, context)
            for standard, check in zip(instrument.check_standards, result.checks, strict=True)
        ),
        used=tuple(
            ListedRecord(f"used-{record}", context.record_link(record), _device_and_day(record, context))
            for record in result.records
        ),
    )


def _last_check(result: InstrumentResult) -> str | None:
    """Say where the newest reading of any check standard lies."""
    last = [check.readings[-1] for check in result.checks]
    if not last:
        return None
    newest = max(last, key=lambda reading: reading.date)
    return f"last check on {day_text(newest.date)}: {STATE_WORDS[newest.state]}"


def _row(instrument: Instrument, context: Context) -> Row:
    result, page = context.result.instruments[instrument.id], f"instruments/{instrument.id}.html"
    affected = len(_affected(result, context))
    marked = Cell("none", id=f"{instrument.id}.marked")
    if affected:
        marked = Cell(str(affected), f"{page}#found-out", id=f"{instrument.id}.marked")
    return Row(
        (
            Cell(instrument.name, page, note=instrument.id),
            Cell(KIND_WORDS[instrument.kind], id=f"{instrument.id}.kind"),
            Cell(_state_text(result), note=_last_check(result), id=f"{instrument.id}.state"),
            Cell(str(len(result.records)), f"{page}#used", id=f"{instrument.id}.records"),
            marked,
        ),
        id=f"instrument-{instrument.id}",
    )


def present_instruments(context: Context) -> InstrumentsPage:
    """Return the list of all instruments."""
    instruments = list(context.catalogue.instruments.values())
    note = "No instrument is on record."
    if instruments:
        day = _as_of_words(context.result.instruments[instruments[0].id], context)
        note = f"The state of each calibration is that of {day}. It does not depend on when this page is read."
    return InstrumentsPage(
        head=page_head(
            INDEX.href,
            "Instruments",
            "What the tests were measured with: calibrations, check standards, and which tests a calibration put in "
            "doubt.",
        ),
        note=note,
        instruments=Table(
            "instruments",
            "Instruments of this catalogue",
            (
                Column("Instrument"),
                Column("Kind"),
                Column("Calibration"),
                Column("Test records", numeric=True),
                Column("Marked", numeric=True),
            ),
            tuple(_row(instrument, context) for instrument in instruments),
        ),
        data=Link("Instruments and their results (JSON)", "data/catalogue.json"),
    )
