"""The aerosol of a record against its protocols."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.records import Records, good
from generator.model.air import Aerosol


def sprayed_aerosols_are_named(records: Records) -> Iterator[Problem]:
    """A protocol that is done in a sprayed aerosol is not done in the air of the room.

    The reverse is done: a room whose air holds too few particles is sprayed with more. Scoring notes it.
    """
    for entry, test in good(records.device_tests):
        if test.aerosol is not Aerosol.ROOM_AIR:
            continue
        for place, session in enumerate(test.fit):
            protocol = records.protocol(session.protocol)
            if protocol is not None and protocol.generated_aerosol:
                yield entry.problem(
                    ("fit", place, "protocol"),
                    "aerosol-not-named",
                    f"`{session.protocol}`, a protocol in a sprayed aerosol, and particles of the room's air",
                    "`aerosol: salt` or `aerosol: oil` for the record",
                    "Add `aerosol`, or name the protocol that was used",
                )
