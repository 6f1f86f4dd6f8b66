"""Rules that look across parts and files of the records. Each is a function of its own that gives problems."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from generator.errors import Problem
from generator.loading.cross_checks import (
    aerosols,
    air_parts,
    amendments,
    days,
    exercises,
    filter_sessions,
    names,
    settings,
)
from generator.loading.records import Records

Rule = Callable[[Records], Iterable[Problem]]

RULES: tuple[Rule, ...] = (
    names.references_exist,
    names.own_ids_are_not_published_ones,
    names.letters_are_unique,
    names.names_are_unique_in_a_record,
    names.comparisons_and_letters_name_what_exists,
    names.configurations_are_based_on_others,
    names.automatic_comparisons_keep_their_ids,
    amendments.earlier_figures_are_of_the_record,
    amendments.device_amendments_have_no_figures,
    days.amendments_follow_the_issue,
    days.consent_comes_before_the_test,
    days.calibrations_are_in_order,
    days.session_rules_come_before_the_test,
    days.withdrawals_follow_the_issue,
    days.check_readings_are_in_order,
    exercises.exercises_are_those_of_the_protocol,
    exercises.ambient_is_as_the_protocol_says,
    exercises.counts_can_become_concentrations,
    aerosols.sprayed_aerosols_are_named,
    settings.blower_is_as_the_device_has_it,
    settings.flow_belongs_to_a_powered_device,
    settings.claims_name_settings_of_the_device,
    settings.instruments_measure_what_is_needed,
    settings.protective_settings_are_settings_of_the_device,
    air_parts.air_parts_belong_to_a_powered_device,
    air_parts.names_of_air_parts_are_unique,
    air_parts.blower_curves_that_are_named_exist,
    air_parts.resistances_say_how_the_blower_stood,
    filter_sessions.penetrations_name_sessions_of_the_record,
)


def cross_check(records: Records) -> Iterator[Problem]:
    """Apply every rule to the records that could be read."""
    for rule in RULES:
        yield from rule(records)
