"""What a plan says of the states of a powered device in which it is worn: the blower off, each setting that counts."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.plan_result import Activity, PlannedSession, PlannedStatement, Standing, Tier
from generator.model.session import BLOWER_OFF
from generator.scoring.flow_states import claimed_settings
from generator.scoring.planning.reviewed import Reviewed, Ruled, records_of


def worn_with_blower_off(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices with a seal: how it fits with the blower off. A loose one is never worn so."""
    if of.device.power is None or not of.device.kind.tight:
        return
    off = [group for group in of.groups if group.blower == BLOWER_OFF]
    level = of.pass_level
    session = worn_in_state(of, BLOWER_OFF, of.protocol(level.protocols if level is not None else ()))
    yield Ruled(
        PlannedStatement(
            id="fit-blower-off",
            rule="fit-blower-off",
            standing=Standing.SAID if off else Standing.LACKING,
            records=tuple(dict.fromkeys(record for group in off for record in records_of(group))),
            facts={"wearers": len({letter for group in off for letter in group.wearers})},
        ),
        () if off else (session,),
    )


def worn_at_every_setting(of: Reviewed) -> Iterator[Ruled]:
    """For powered devices: at which of the settings that count it was worn."""
    settings = claimed_settings(of.device)
    if not settings:
        return
    worn_at = {group.blower for group in of.groups}
    missing = tuple(setting for setting in settings if setting not in worn_at)
    found = [group for group in of.groups if group.blower in settings]
    standing = Standing.LACKING if not found else Standing.IN_PART if missing else Standing.SAID
    protocol = of.main_group.protocol if of.main_group is not None else of.protocol()
    yield Ruled(
        PlannedStatement(
            id="fit-every-setting",
            rule="fit-every-setting",
            standing=standing,
            records=tuple(dict.fromkeys(record for group in found for record in records_of(group))),
            facts={"settings": len(settings)},
            missing=missing,
        ),
        tuple(worn_in_state(of, setting, protocol) for setting in missing),
    )


def worn_in_state(of: Reviewed, blower: str, protocol: str | None, tier: Tier = Tier.HARM) -> PlannedSession:
    """Return a session in a state in which nobody wore it: of those who know it, or of one new wearer.

    All settings are worn in one session; with the blower off it is another.
    """
    letters = of.main_group.wearers if of.main_group is not None else ()
    donnings = max(len(letters), 1)
    return PlannedSession(
        id="worn-off" if blower == BLOWER_OFF else "worn-running",
        tier=tier,
        activity=Activity.WORN_IN_STATE,
        settings=(blower,),
        protocol=protocol,
        new_wearers=0 if letters else 1,
        wearers=letters,
        donnings=donnings,
        minutes=of.minutes(protocol, donnings),
    )
