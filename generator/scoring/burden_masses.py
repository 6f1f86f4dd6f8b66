"""What a wearer carries as figures: all parts together, and the share of them on the head."""

from __future__ import annotations

from generator.model.burden import Burden, CarriedMass, CarriedOn
from generator.model.burden_result import CarriedResult
from generator.model.result import Figure, Input, Working
from generator.scoring.carried_mass import share_on_head, total_mass

NO_UNCERTAINTY = "the uncertainty of the weighing is not on record"
_WHERE = "burden.masses"


def carried_result(burden: Burden) -> CarriedResult | None:
    """Sum up the parts that were weighed, or return None where none were."""
    if not burden.masses:
        return None
    total = _figure("total", "mass of all parts", total_mass([_grams(part) for part in burden.masses]), "g", burden)
    on_head = [part for part in burden.masses if part.where is CarriedOn.HEAD]
    head = total_mass([_grams(part) for part in on_head]) if on_head else 0.0
    assert total.value is not None
    share = share_on_head(head, total.value)
    return CarriedResult(
        total=total.model_copy(update={"working": Working(method="total-mass", inputs=_parts(burden.masses))}),
        head_share=_figure("head_share", "share of the mass on the head", share, "%", burden).model_copy(
            update={"method": "share-on-head", "working": _share_working(head, on_head, total)}
        ),
    )


def _figure(name: str, words: str, value: float, unit: str, burden: Burden) -> Figure:
    return Figure(
        key=f"burden.carried.{name}",
        name=words,
        value=value,
        unit=unit,
        no_interval=NO_UNCERTAINTY,
        sample_size=len(burden.masses),
        sample_of="parts",
        method="total-mass",
    )


def _share_working(head: float, on_head: list[CarriedMass], total: Figure) -> Working:
    assert total.value is not None
    of_head = Input(
        symbol=r"m_{\mathrm{head}}",
        meaning="mass of the parts on the head" if on_head else "mass on the head; no part is carried there",
        value=head,
        unit="g",
        where=_WHERE,
        working=Working(method="total-mass", inputs=_parts(on_head)) if on_head else None,
    )
    of_all = Input(symbol="m", meaning="mass of all parts", value=total.value, unit="g", where=f"{_WHERE}: {total.key}")
    return Working(method="share-on-head", inputs=(of_head, of_all))


def _parts(parts: tuple[CarriedMass, ...] | list[CarriedMass]) -> tuple[Input, ...]:
    return tuple(
        Input(symbol=f"m_{{{number}}}", meaning=part.what, value=_grams(part), unit="g", where=_WHERE)
        for number, part in enumerate(parts, start=1)
    )


def _grams(part: CarriedMass) -> float:
    return part.mass.to("g")
