"""The limits of carbon dioxide that come with the generator, held against what is known of them from elsewhere."""

from __future__ import annotations

import pytest

from generator.loading.reference import load_reference
from generator.model.reference import SourceStatus
from generator.model.work_gas import GasLimitOf

LIMITS = load_reference().gas_limits
# source: NIOSH criteria document 1976 (1 % over ten hours, 3 % at most ten minutes), seen; NIOSH, OSHA and ACGIH 0.5 %
# over a working day as an abstract of 1998 states them; 30 CFR 11, print of 1959, 11.4: 1 % on the side that is inhaled
# from, seen; EN 12941, 6.13: 1 %, from memory, so that its status must say so.
KNOWN = {
    "niosh-1976-ten-hours": (1.0, GasLimitOf.ROOM_AIR, SourceStatus.SEEN),
    "niosh-1976-ceiling": (3.0, GasLimitOf.ROOM_AIR, SourceStatus.SEEN),
    "eight-hours": (0.5, GasLimitOf.ROOM_AIR, SourceStatus.SEEN_IN_SECONDARY),
    "recirculating-1959": (1.0, GasLimitOf.MEAN_INHALED, SourceStatus.SEEN),
    "en-powered-hoods": (1.0, GasLimitOf.MEAN_INHALED, SourceStatus.FROM_MEMORY),
}


def test_there_are_no_other_limits_than_those_tested_here() -> None:
    assert list(LIMITS) == list(KNOWN)


@pytest.mark.parametrize("name", KNOWN)
def test_a_limit_is_the_published_one_and_says_how_it_is_known(name: str) -> None:
    assert (LIMITS[name].percent, LIMITS[name].of, LIMITS[name].source.status) == KNOWN[name]
