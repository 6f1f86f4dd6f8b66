"""The filter of a record: face velocities, penetrations, leak and filter, resistances, loading."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat

from generator.loading import load_reference
from generator.model.device import Device
from generator.model.filter_result import FilterResult, FilterSummary, PenetrationResult, PressureDropResult
from generator.model.fit_result import FitResult
from generator.model.result import Figure, Outcome, Relation
from generator.model.series import Series
from tests.scoring.builders import (
    NONE,
    Data,
    a_catalogue,
    a_device,
    a_run,
    a_session,
    a_test,
    readings,
    score_all,
    score_one,
)
from tests.scoring.test_methods import check_symbols, methods_used

HALF, HOOD, TIGHT = "elastomeric_half_facepiece", "loose_powered_hood", "tight_powered_half_facepiece"
OF_ROOM: Data = {"not_recorded": "the room's particles of every size"}
RUN = [184.0, 185.0, 186.0, 185.0]
SHA = "0" * 64


def device(kind: str = HALF, count: int = 1, area: Any = "300 cm2", **changes: Any) -> Device:
    described = {"stated_class": "P3", "media_area": area, "count": count}
    return a_device(kind, filter=described, **changes)


def drops(*points: tuple[float, float], **changes: Any) -> Data:
    data: Data = {
        "id": "drops",
        "of": "filter",
        "filter": "new",
        "what": "on the bench",
        "points": [{"flow": f"{flow} L/min", "pressure": f"{pressure} Pa"} for flow, pressure in points],
        "uncertainty": "3 Pa",
    }
    return data | changes


def penetration(**changes: Any) -> Data:
    return {
        "id": "pen",
        "filter": "new",
        "flow": "85 L/min",
        "filters_at_once": 1,
        "aerosol": "salt",
        "diameter": "75 nm",
        "charge": "neutralised",
        "penetration": "1 %",
        "uncertainty": "0.2 %",
        "where": "on the bench",
    } | changes


def of_room(**changes: Any) -> Data:
    """Return a penetration of the room's own particles while a wearer breathed, for the session of the record."""
    as_worn: Data = {
        "aerosol": "room_air",
        "diameter": OF_ROOM,
        "charge": "as_in_room",
        "breathing": True,
        "penetration": "0.2 %",
        "uncertainty": "0.05 %",
        "sessions": ["am"],
    }
    return penetration(**as_worn | changes)


def scored(of: Device, fit: Any = (), flow: Any = (), series: Any = None, **parts: Any) -> FilterResult:
    test = a_test(fit, flow, **parts)
    catalogue = a_catalogue(test, device=of)
    if series is not None:
        catalogue = replace(catalogue, series={series.file: series})
    result = score_one(test, catalogue).topics.get("filter")
    assert isinstance(result, FilterResult)
    check_figures(result)
    return result


def check_figures(result: FilterResult) -> None:
    """Hold every figure to what the pages rely on: one key each, a working or a reason, symbols that are explained."""
    keys = [figure.key for figure in result.figures]
    assert len(keys) == len(set(keys))
    for figure in result.figures:
        assert (figure.value is None) == (figure.not_scored is not None) == (figure.working is None)
        assert methods_used(figure)
        assert {*methods_used(figure)} <= set(load_reference().methods)
        if figure.value is not None:
            assert (figure.interval is None) == (figure.no_interval is not None)
        if figure.working is not None:
            check_symbols(figure.working)


def one_penetration(item: Data, of: Device | None = None, **parts: Any) -> PenetrationResult:
    tested = {"media_charge": "not_charged"} | parts.pop("medium", {}) | {"penetrations": [item]}
    return scored(of or device(), filter_test=tested, **parts).penetrations[0]


def one_drop(item: Data, of: Device | None = None) -> PressureDropResult:
    return scored(of or device(), pressure_drops=[item]).drops[0]


def ends(figure: Figure) -> tuple[float | None, float | None]:
    assert figure.interval is not None
    return figure.interval.low, figure.interval.high


# Face velocity.


def test_face_velocity_of_a_run_and_of_the_requirement() -> None:
    # source: pint 0.25.3: (185 L/min / (900 cm**2)).to("cm/s") = 3.42593; 42 CFR 84.175(b): 170 L/min, 3.14815 cm/s
    result = scored(device(HOOD, area="900 cm2", count=2), flow=[a_run(RUN)])
    of_run, required = result.velocities
    assert (of_run.at, of_run.run, of_run.flow_l_per_min, of_run.area_cm2) == ("run", "high", 185.0, 900.0)
    assert of_run.velocity.value == pytest.approx(3.4259259)
    assert (required.at, required.run) == ("required", None)
    assert required.velocity.value == pytest.approx(3.1481481)
    assert required.velocity.no_interval == "how well the area of the medium is known is not on record"
    # source: the interval's ends are the flow's, times 1000 / (60 x 900)
    test = a_test(flow=[a_run(RUN)])
    mean = score_one(test, a_catalogue(test, device=device(HOOD))).topics["flow"].figures[0]
    assert ends(of_run.velocity) == pytest.approx([end / 54 for end in ends(mean) if end is not None])


def test_one_reading_leaves_the_face_velocity_without_an_interval() -> None:
    figure = scored(device(HOOD), flow=[a_run(RUN[:1])]).velocities[0].velocity
    assert figure.no_interval == "the flow has none: repeatability not estimated: there is one reading"


def test_measured_area_goes_before_that_of_the_maker() -> None:
    found = scored(device(), filter_test={"media_area": "0.0175 m2", "how": "with a rule"}).velocities[0]
    # source: 85 L/min on 175 cm2: 8.10 cm/s (pint 0.25.3: 8.0952381)
    assert found.at == "test"
    assert found.area_cm2 == pytest.approx(175.0)
    assert found.velocity.value == pytest.approx(8.0952381)
    assert found.velocity.working is not None
    assert found.velocity.working.inputs[1].where == "filter_test.media_area"


def test_without_an_area_the_reason_is_given() -> None:
    of = device(HOOD, area=NONE)
    velocities = scored(of, flow=[a_run(RUN)], pressure_drops=[drops((85, 100))]).velocities
    assert [item.velocity.not_scored for item in velocities] == ["the area of the filter medium is not on record"] * 2


@pytest.mark.parametrize(
    ("of", "parts"),
    [
        (a_device(HALF), {"fit": [a_session(readings(100, 110, 90))]}),
        (a_device(HOOD), {"flow": [a_run(RUN)]}),
        (device("face_covering"), {"fit": [a_session(readings(100, 110, 90))]}),
    ],
    ids=["no area", "no area of a hood", "not made to filter"],
)
def test_a_record_that_says_nothing_of_the_filter_has_no_result(of: Device, parts: Data) -> None:
    test = a_test(**parts)
    assert "filter" not in score_one(test, a_catalogue(test, device=of)).topics


def test_a_device_that_follows_the_breath_has_no_required_face_velocity() -> None:
    result = scored(device(HOOD, breath_responsive=True), flow=[a_run(RUN)])
    assert [item.at for item in result.velocities] == ["run"]


# Penetration.


def test_quality_factor_at_the_same_flow_through_one_filter() -> None:
    # source: uncertainties 3.2.3, first order; ufloats of half widths: -log(0.01(2)) / 100(3)
    item = penetration(filters_at_once=2, flow="170 L/min")
    result = one_penetration(item, pressure_drops=[drops((60, 70.0), (85, 100.0), (120, 143.0))])
    assert result.quality.value == pytest.approx(-math.log(0.01) / 100)
    low, high = ends(result.quality)
    assert low is not None
    assert high is not None
    share, pressure = ufloat(0.01, 0.002), ufloat(100, 3)
    by_library = math.hypot(share.s / share.n / pressure.n, math.log(0.01) / pressure.n**2 * pressure.s)
    assert (high - low) / 2 == pytest.approx(by_library, rel=0.02)
    assert low < -math.log(0.01) / 100 < high


def test_quality_factor_between_points_and_its_ends_without_a_bound() -> None:
    # source: numpy 2.4.6: numpy.interp(85, [60, 110], [70, 130]) = 100
    points = drops((60, 70.0), (110, 130.0))
    result = one_penetration(penetration(uncertainty="1 %"), pressure_drops=[points])
    assert result.quality.value == pytest.approx(-math.log(0.01) / 100)
    assert ends(result.quality)[1] is None


@pytest.mark.parametrize(
    ("change", "points", "reason"),
    [
        ({"breathing": True}, drops((85, 100)), "the penetration is of breathing"),
        ({"penetration": "0 %"}, drops((85, 100)), "nothing was seen to get through"),
        ({}, drops((85, 0)), "the pressure drop at that flow reads zero"),
        ({}, drops((83.2, 100)), r"no pressure drop of such a filter is on record at 85 L/min"),
        ({}, drops((85, 100), of="hose"), "no pressure drop of such a filter is on record"),
        ({}, drops((85, 100), alternative=True), "no pressure drop of such a filter is on record"),
        ({"filter": "loaded"}, drops((85, 100)), "no pressure drop of such a filter is on record"),
    ],
)
def test_where_there_is_no_quality_factor(change: Data, points: Data, reason: str) -> None:
    result = one_penetration(penetration(**change), pressure_drops=[points])
    assert result.quality.not_scored is not None
    assert result.quality.not_scored.startswith(reason)


@pytest.mark.parametrize(
    ("item", "points", "reason"),
    [
        (penetration(uncertainty=NONE), drops((85, 100)), "the uncertainty of the penetration is not on record"),
        (penetration(), drops((83.4, 100), uncertainty=NONE), "the uncertainty of the pressure drop is not on record"),
    ],
)
def test_a_quality_factor_without_an_interval_says_why(item: Data, points: Data, reason: str) -> None:
    assert one_penetration(item, pressure_drops=[points]).quality.no_interval == reason


def test_penetration_at_the_greatest_flow_that_was_measured() -> None:
    # source: numpy 2.4.6: numpy.exp(numpy.log(0.01) * numpy.power(85 / 92.5, 2 / 3)): 185 L/min through two filters
    runs = [
        a_run(RUN),
        a_run([150.0, 151.0], id="low", setting="low"),
        a_run([300.0, 301.0], id="old", filter="loaded"),
    ]
    result = one_penetration(penetration(), device(HOOD, count=2), flow=runs)
    assert result.other_flow == "at the flow of high"
    assert result.at_other_flow.value == pytest.approx(100 * math.exp(math.log(0.01) * (85 / 92.5) ** (2 / 3)))
    assert result.at_other_flow.interval is not None
    low, high = ends(result.at_other_flow)
    assert low is not None
    assert high is not None
    # The flow's interval adds to that of the penetration alone, which would reach to P of 0.8 % and of 1.2 %.
    alone = [100 * math.exp(math.log(share) * (85 / 92.5) ** (2 / 3)) for share in (0.008, 0.012)]
    assert low < alone[0]
    assert high > alone[1]


def test_penetration_at_the_test_flow_of_a_pair() -> None:
    # source: shared worked value, two equal filters halve the flow through each: 1 % becomes 0.067 %
    result = one_penetration(penetration(), device(count=2))
    assert result.other_flow == "at 85 L/min"
    assert result.at_other_flow.value == pytest.approx(0.067, abs=0.0005)


@pytest.mark.parametrize(
    ("change", "medium", "reason"),
    [
        ({}, "charged", "the medium is charged, and for such a medium no rule for another flow is known"),
        ({}, "not_known", "it is not known whether the medium is charged"),
        ({"aerosol": "room_air"}, "not_charged", "the room's particles are of many sizes"),
        ({"diameter": NONE}, "not_charged", "the diameter of the particles is not on record"),
        ({"diameter": "101 nm"}, "not_charged", "the rule is for particles of 100 nm or less"),
        ({"breathing": True}, "not_charged", "it was measured with breathing, which has no one flow"),
        ({"penetration": "0 %"}, "not_charged", "nothing was seen to get through"),
        ({"flow": "20 L/min"}, "not_charged", "that flow is 4.25 times the measured one"),
        ({"flow": "345 L/min"}, "not_charged", "that flow is 0.246 times the measured one"),
    ],
)
def test_where_no_other_flow_is_worked_out(change: Data, medium: str, reason: str) -> None:
    result = one_penetration(penetration(**change), medium={"media_charge": medium})
    assert result.at_other_flow.not_scored is not None
    assert result.at_other_flow.not_scored.startswith(reason)


def test_a_diameter_of_100_nm_is_small_enough_in_any_unit() -> None:
    assert one_penetration(penetration(diameter="0.1 um")).at_other_flow.value is not None


def test_a_powered_device_without_a_measured_flow_has_no_other_flow() -> None:
    result = one_penetration(penetration(), device(HOOD))
    assert (result.other_flow, result.at_other_flow.not_scored) == (None, "no flow with such a filter is on record")


def test_one_filter_of_a_pair_stands_for_both() -> None:
    result = one_penetration(penetration(flow="42.5 L/min"), device(count=2))
    assert result.together is not None
    assert result.together.name == "penetration of 2 such filters at 85 L/min in all"
    assert result.together.value == pytest.approx(1.0)
    assert ends(result.together) == pytest.approx((0.8, 1.2))
    # source: pint 0.25.3: 85 L/min over the 300 cm2 of both is 4.7222 cm/s
    assert result.velocity.value == pytest.approx(4.7222, rel=1e-4)
    assert one_penetration(penetration(filters_at_once=2), device(count=2)).together is None


# Leak and filter.


def inside(count: int) -> list[Data]:
    """Return a session in which so many of 200 000 particles were counted inside in each exercise."""
    return [a_session(readings(count, count + 10, count - 10))]


def test_the_share_past_the_seal() -> None:
    # source: uncertainties 3.2.3: (T - P) / (1 - P) with T = 0.005 and P = 0.002, half widths as standard deviations
    result = scored(device(), fit=inside(1000), filter_test={"penetrations": [of_room()]})
    (share,) = result.past_seal
    assert (share.session, share.penetration, share.wearer, share.donning) == ("am", "pen", "A", 1)
    assert share.share.value == pytest.approx(100 * 0.003 / 0.998, rel=1e-6)
    test = a_test(inside(1000))
    fit = score_one(test, a_catalogue(test, device=device())).topics["fit"]
    assert isinstance(fit, FitResult)
    assert fit.sessions[0].overall is not None
    bottom, top = ends(fit.sessions[0].overall)
    assert bottom is not None
    assert top is not None
    leak, through = ufloat(0.005, (1 / bottom - 1 / top) / 2), ufloat(0.002, 0.0005)
    by_library = (leak - through) / (1 - through)
    low, high = ends(share.share)
    assert low is not None
    assert high is not None
    assert (high - low) / 2 == pytest.approx(100 * by_library.s, rel=0.02)
    assert result.penetrations[0].highest_fit_factor.value == pytest.approx(500)
    assert ends(result.penetrations[0].highest_fit_factor) == pytest.approx((400, 1 / 0.0015))


@pytest.mark.parametrize(
    ("item", "count", "reason"),
    [
        (of_room(), 420, "unresolved: within the intervals there may be no leak past the seal"),
        (of_room(), 100, "fewer particles were inside than the filter lets through"),
        (of_room(uncertainty=NONE), 1000, "the uncertainty of the penetration is not on record"),
    ],
)
def test_where_no_share_past_the_seal_is_stated(item: Data, count: int, reason: str) -> None:
    (share,) = scored(device(), fit=inside(count), filter_test={"penetrations": [item]}).past_seal
    assert share.share.not_scored is not None
    assert share.share.not_scored.startswith(reason)


def test_a_factor_as_given_has_no_interval_to_tell_a_leak_by() -> None:
    fit = [a_session(readings(200.0, 210.0, 190.0))]
    (share,) = scored(device(), fit=fit, filter_test={"penetrations": [of_room()]}).past_seal
    assert share.share.not_scored is not None
    assert share.share.not_scored.startswith("the fit factor has no interval with two ends")


@pytest.mark.parametrize(
    ("item", "parts", "reason"),
    [
        (of_room(sessions=[]), {}, "the record names no fit session"),
        (of_room(aerosol="salt"), {}, "it was measured with salt, the fit sessions with the room's own particles"),
        (
            of_room(aerosol="salt"),
            {"aerosol": "salt"},
            "the charge of the particles in the fit sessions is not on record",
        ),
        (of_room(charge="neutralised"), {}, "the charge of its particles was not that of the room's"),
        (of_room(charge="not_known"), {}, "the charge of its particles was not that of the room's"),
        (of_room(diameter="75 nm"), {}, "it was measured with particles of a stated size"),
        (of_room(breathing=False), {}, "it was measured at a steady flow"),
        (
            of_room(),
            {"fit": [a_session(outcome="voided", reason="r")]},
            "none of the fit sessions that it names counts",
        ),
        (of_room(), {"fit": [a_session(readings(0, 0, 0))]}, "none of the fit sessions that it names counts"),
        (of_room(penetration="0 %"), {}, "nothing was seen to get through"),
    ],
)
def test_no_highest_fit_factor_where_the_two_are_not_of_the_same(item: Data, parts: Data, reason: str) -> None:
    whole: Data = {"fit": inside(1000)} | parts
    result = scored(device(), filter_test={"penetrations": [item]}, **whole)
    figure = result.penetrations[0].highest_fit_factor
    assert figure.not_scored is not None
    assert figure.not_scored.startswith(reason)
    # A filter that lets nothing through has no highest factor, but what came in came past the seal.
    assert bool(result.past_seal) is (item["penetration"] == "0 %")


@pytest.mark.parametrize(("flow", "same"), [("181.4 L/min", True), ("181.3 L/min", False), ("189 L/min", False)])
def test_a_running_blower_gives_the_flow_itself(flow: str, same: bool) -> None:
    # source: own rule, within 2 %: 185 / 1.02 = 181.37 and 185 / 0.98 = 188.78
    fit = [a_session(readings(1000, 1010, 990), blower="high")]
    item = of_room(breathing=False, flow=flow)
    result = scored(device(HOOD), fit=fit, flow=[a_run(RUN)], filter_test={"penetrations": [item]})
    assert bool(result.past_seal) is same
    reason = result.penetrations[0].highest_fit_factor.not_scored
    assert reason == (
        None if same else "it was not measured at the flow that the blower delivered at the session's setting"
    )


# Resistance.


def test_a_line_through_the_points_with_its_ends() -> None:
    # source: numpy 2.4.6: numpy.linalg.lstsq(flows / 60, drops) = 85.044976; 3 Pa more at each point: 87.220...
    points = drops((30, 42), (60, 85), (85, 118), (120, 172))
    result = one_drop(points)
    assert result.resistance.value == pytest.approx(85.044976)
    assert result.off_line.value == pytest.approx(0.11164407)
    more = 60 * 3 * (30 + 60 + 85 + 120) / (30**2 + 60**2 + 85**2 + 120**2)
    assert ends(result.resistance) == pytest.approx((85.044976 - more, 85.044976 + more))
    assert (result.at_test_flow, result.verdict) == (None, None)


def test_two_filters_side_by_side_have_half_the_resistance() -> None:
    result = one_drop(drops((30, 42), (60, 85), (85, 118), (120, 172)), device(count=2))
    assert result.together is not None
    assert result.together.value == pytest.approx(85.044976 / 2)
    whole = ends(result.resistance)
    assert ends(result.together) == pytest.approx([end / 2 for end in whole if end is not None])
    # Four filters that were measured at once, of which the device uses two, have twice the resistance.
    four = one_drop(drops((30, 42), (60, 85), filters_at_once=4), device(count=2))
    assert four.together is not None
    assert four.together.value == pytest.approx(2 * (four.resistance.value or 0))


def breathing(*points: tuple[float, float], **changes: Any) -> Data:
    return drops(*points, of="inhalation") | changes


@pytest.mark.parametrize(
    ("points", "pressure"),
    [
        # source: numpy 2.4.6: numpy.interp(85, [60, 120], [85, 172]) = 121.25; 42 CFR 84.172(a): within 2 L/min
        (((60, 85.0), (120, 172.0)), 121.25),
        (((60, 85.0), (85, 118.0), (120, 172.0)), 118.0),
        (((30, 40.0), (83, 115.0)), 115.0),
        (((87, 119.0), (120, 172.0)), 119.0),
        (((30, 40.0), (82.9, 115.0)), None),
        (((87.1, 119.0), (120, 172.0)), None),
    ],
)
def test_the_drop_at_85_is_never_extrapolated(points: tuple[tuple[float, float], ...], pressure: float | None) -> None:
    result = one_drop(breathing(*points))
    assert result.at_test_flow is not None
    assert result.at_test_flow.value == (None if pressure is None else pytest.approx(pressure))
    assert result.verdict is not None
    assert result.verdict.outcome is (Outcome.NOT_APPLICABLE if pressure is None else Outcome.MEETS)


@pytest.mark.parametrize(
    ("pressure", "uncertainty", "outcome"),
    [
        # source: 42 CFR 84.172(c), 35 mm of water = 343.23 Pa; guarded by JCGM 106:2012
        (340.2, "3 Pa", Outcome.MEETS),
        (340.3, "3 Pa", Outcome.UNDECIDED),
        (346.2, "3 Pa", Outcome.UNDECIDED),
        (346.3, "3 Pa", Outcome.DOES_NOT_MEET),
        (340.2, "1 %", Outcome.UNDECIDED),
        (300.0, NONE, Outcome.UNDECIDED),
    ],
)
def test_the_interval_decides_on_a_resistance(pressure: float, uncertainty: Any, outcome: Outcome) -> None:
    verdict = one_drop(breathing((85, pressure), uncertainty=uncertainty)).verdict
    assert verdict is not None
    assert (verdict.outcome, verdict.criterion) == (outcome, "inhalation-resistance-unpowered")
    if uncertainty == "3 Pa":
        # source: scipy 1.17.1: scipy.stats.norm.cdf((343.23275 - pressure) / (3 / 1.959964))
        by_erf = 0.5 * (1 + math.erf((343.23275 - pressure) / (3 / 1.959964) / math.sqrt(2)))
        assert verdict.probability_of_conformity == pytest.approx(by_erf, rel=1e-5)


@pytest.mark.parametrize(
    ("of", "change", "criterion"),
    [
        (device(TIGHT), {"blower": "off"}, "inhalation-resistance-powered-new"),
        (device(TIGHT), {"blower": "off", "filter": "loaded"}, "inhalation-resistance-powered-loaded"),
        (device(TIGHT), {"blower": "off", "of": "exhalation"}, "exhalation-resistance-powered"),
        (device(TIGHT), {"blower": "off", "of": "exhalation", "filter": "loaded"}, "exhalation-resistance-powered"),
        (device("filtering_facepiece"), {"of": "exhalation"}, "exhalation-resistance-unpowered"),
    ],
)
def test_a_limit_is_that_of_kind_and_filter(of: Device, change: Data, criterion: str) -> None:
    verdict = one_drop(breathing((85, 100)) | change, of).verdict
    assert verdict is not None
    assert verdict.criterion == criterion


@pytest.mark.parametrize(
    ("of", "change", "reason"),
    [
        (device(HALF), {"filter": "loaded"}, "no limit is on record for a loaded filter of this kind of device"),
        (device(HOOD), {"blower": "off"}, "no limit of this resistance is on record for this kind of device"),
        (device("face_covering"), {}, "no limit of this resistance is on record for this kind of device"),
        (device(TIGHT), {"blower": "high"}, "the blower was running"),
    ],
)
def test_where_no_limit_applies(of: Device, change: Data, reason: str) -> None:
    result = one_drop(breathing((60, 90), (85, 130)) | change, of)
    assert result.verdict is not None
    assert result.verdict.outcome is Outcome.NOT_APPLICABLE
    assert result.verdict.reason.startswith(reason)
    assert (result.resistance.value is None) is (change.get("blower") == "high")


def test_a_home_built_device_is_held_against_a_benchmark_only() -> None:
    verdict = one_drop(breathing((85, 100)), device(home_built=True)).verdict
    assert verdict is not None
    assert verdict.benchmark_only


def test_drops_of_the_hose_and_of_other_filters_say_nothing_of_the_filter() -> None:
    others = [drops((85, 100), id="hose", of="hose"), drops((85, 100), id="other", alternative=True)]
    assert scored(device(), pressure_drops=others).drops == ()


def test_the_resistance_furthest_above_its_limit_governs() -> None:
    tests = [
        a_test(pressure_drops=[breathing((85, pressure), id="in")], id=name)
        for name, pressure in [("a", 350.0), ("b", 380.0), ("c", 100.0)]
    ]
    summary = score_all(a_catalogue(*tests, device=device())).devices["device"].topics["filter"]
    assert isinstance(summary, FilterSummary)
    assert summary.above_limit_record == "b"
    assert summary.above_limit is not None
    lighter = score_all(a_catalogue(tests[2], device=device())).devices["device"].topics["filter"]
    assert isinstance(lighter, FilterSummary)
    assert (lighter.above_limit, lighter.above_limit_record) == (None, None)


# Loading.


def loaded(flows: tuple[float, ...] | None, pressures: tuple[float, ...] | None = None, kind: str = HOOD) -> Any:
    length = len(flows or pressures or ())
    series = Series(
        file="logs/dust.csv",
        sha256=SHA,
        time_s=tuple(30.0 + 60.0 * place for place in range(length)),
        flow_l_per_min=flows,
        pressure_pa=pressures,
    )
    columns: Data = {}
    if flows is not None:
        columns["flow"] = {"heading": "flow", "unit": "L/min"}
    if pressures is not None:
        columns["pressure"] = {"heading": "pressure", "unit": "Pa"}
    log = {"file": series.file, "sha256": SHA, "time": "time"} | columns
    item = {"id": "dust", "what": "quartz", "log": log}
    return scored(device(kind), filter_test={"loading": [item]}, series=series).loading[0]


def test_what_loading_changed_and_when_the_flow_fell() -> None:
    # source: numpy 2.4.6: numpy.interp, 172 to 168 L/min between 2 and 3 min after the first reading crosses 170 at 2.5
    found = loaded((180.0, 176.0, 172.0, 168.0, 171.0, 153.0), (200.0, 210.0, 220.0, 230.0, 240.0, 250.0))
    assert found.flow_change.value == pytest.approx(-15)
    assert found.pressure_change.value == pytest.approx(25)
    assert (found.time_to_required.value, found.time_to_required.relation) == (pytest.approx(2.5), Relation.EQUAL)


def test_a_flow_that_never_fell_held_at_least_as_long_as_the_log() -> None:
    found = loaded((180.0, 176.0, 170.0))
    assert (found.time_to_required.value, found.time_to_required.relation) == (2.0, Relation.AT_LEAST)
    assert found.pressure_change is None


@pytest.mark.parametrize(
    ("flows", "kind", "reason"),
    [
        ((169.9, 160.0), HOOD, "the flow was below the requirement from the first reading on"),
        ((180.0, 160.0), HALF, "no flow is required of this device"),
    ],
)
def test_where_there_is_no_time_to_the_requirement(flows: tuple[float, ...], kind: str, reason: str) -> None:
    assert loaded(flows, kind=kind).time_to_required.not_scored == reason


def test_a_first_reading_of_zero_gives_no_change() -> None:
    found = loaded(None, (0.0, 20.0))
    assert found.pressure_change.not_scored == "the first reading is not above zero"
    assert (found.flow_change, found.time_to_required) == (None, None)
