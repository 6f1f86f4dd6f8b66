"""How fit sessions were done, as pages say it: aerosol, probe, zero check, what was adjusted or left out."""

from __future__ import annotations

from generator.model.air import Aerosol
from generator.model.published import PublishedSession, PublishedTest
from generator.model.reference import Principle
from generator.model.zero_check import ZeroCheck
from generator.presenting.context import Context
from generator.presenting.views import Fact
from generator.presenting.wording import recorded_text

NOT_RECORDED = "not recorded"
_AEROSOLS = {
    Aerosol.ROOM_AIR: "particles of the room's own air",
    Aerosol.SALT: "salt particles that were sprayed",
    Aerosol.OIL: "oil droplets that were sprayed",
}
_SPRAYED = {Aerosol.ROOM_AIR: "", Aerosol.SALT: "sprayed salt", Aerosol.OIL: "sprayed oil"}


def sprayed_words(aerosol: Aerosol) -> str:
    """Name the particles that were sprayed, or nothing for those of the room's air."""
    return _SPRAYED[aerosol]


def record_condition_facts(test: PublishedTest, context: Context) -> tuple[Fact, ...]:
    """Say which particles were counted in the fit sessions of a record, and where inside; nothing without particles."""
    protocols = (context.catalogue.protocols[session.protocol] for session in test.fit)
    if all(protocol.principle is not Principle.PARTICLES for protocol in protocols):
        return ()
    return (
        Fact("Aerosol", _AEROSOLS[test.aerosol], id="aerosol"),
        Fact("Probe inside", test.probe or NOT_RECORDED, id="probe"),
    )


def session_condition_facts(session: PublishedSession) -> tuple[Fact, ...]:
    """Say of a session what its zero check read, what of the protocol was left out, and what was adjusted."""
    facts = []
    if session.zero_check is not None:
        facts.append(Fact("Zero check", _zero_text(session.zero_check), id=f"fit.{session.id}.zero-check"))
    if session.partial is not None:
        facts.append(Fact("Part of the protocol", session.partial, id=f"fit.{session.id}.partial"))
    if session.adjusted is not None:
        facts.append(Fact("Adjusted", session.adjusted, id=f"fit.{session.id}.adjusted"))
    return tuple(facts)


def _zero_text(check: ZeroCheck) -> str:
    read = f"{check.count} counted" if check.concentration is None else recorded_text(check.concentration)
    return f"{read} in {recorded_text(check.time)} of air without particles"
