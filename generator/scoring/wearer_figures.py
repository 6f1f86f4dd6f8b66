"""How figures over wearers are put together: keys, places, reasons; and those that ask for no distribution."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from scipy.special import ndtri

from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.model.wearers_result import WearerDonning
from generator.scoring.censored_lognormal import least_geometric_mean, least_of_first_donnings
from generator.scoring.counting import COVERAGE
from generator.scoring.donnings import (
    by_wearer,
    donning_input,
    first_donnings,
    numbered_inputs,
    wearer_input,
    wearers_in,
)
from generator.scoring.log_normality import LEAST_WEARERS, log_normality
from generator.scoring.lognormal import geometric_mean
from generator.scoring.percentile_bound import PercentileBound
from generator.scoring.proportions import share_without_failures

SHARE = 0.95
"""Share of donnings of new wearers that is to lie above a low percentile."""
CONFIDENCE = 0.95
LEAST_BOUND = 1.0
"""A bound below it says nothing: it is no protection at all."""
COVERS = "how wearers like those tested differ; not other items, other days, or people unlike them"
ALL_THE_SAME = "the results are all the same, so that they show no spread"
ITSELF_A_BOUND = "it is itself a bound"


@dataclass(frozen=True)
class Group:
    """A group of donnings, with where its figures will stand."""

    device: str
    number: int
    donnings: tuple[WearerDonning, ...]

    @property
    def values(self) -> list[float]:
        """Each donning's factor, or what it is at least."""
        return [donning.least for donning in self.donnings]

    @property
    def letters(self) -> list[str]:
        """The wearer of each donning."""
        return [donning.wearer for donning in self.donnings]

    @property
    def wearers(self) -> tuple[str, ...]:
        """The wearers, each once."""
        return wearers_in(self.donnings)

    @property
    def wearer_means(self) -> list[float]:
        """The geometric mean of each wearer's donnings."""
        return [geometric_mean([each.least for each in donnings]) for donnings in by_wearer(self.donnings).values()]

    def key(self, name: str) -> str:
        """Return the key of one of its figures."""
        return f"wearers.{self.number}.{name}"

    def place(self, name: str) -> str:
        """Return where one of its figures stands, for the inputs of another."""
        return f"devices/{self.device}: {self.key(name)}"

    def figure(
        self,
        name: str,
        words: str,
        value: float,
        working: Working,
        interval: Interval | None = None,
        no_interval: str | None = None,
        relation: Relation = Relation.EQUAL,
        of_wearers: bool = True,
    ) -> Figure:
        """Return one of its figures."""
        return Figure(
            key=self.key(name),
            name=words,
            value=value,
            unit="1",
            relation=relation,
            interval=interval,
            no_interval=no_interval,
            sample_size=len(self.wearers) if of_wearers else len(self.donnings),
            sample_of="wearers" if of_wearers else "donnings",
            method=working.method,
            working=working,
        )

    def not_scored(self, name: str, words: str, method: str, reason: str) -> Figure:
        """Return one of its figures without a value."""
        return Figure(
            key=self.key(name),
            name=words,
            value=None,
            unit="1",
            sample_size=len(self.wearers),
            sample_of="wearers",
            method=method,
            not_scored=reason,
        )


def interval(limits: tuple[float, float], method: str, *inputs: Input) -> Interval:
    """Return the limits of a figure over wearers."""
    low, high = limits
    working = Working(method=method, inputs=inputs)
    return Interval(low=low, high=high, coverage=COVERAGE, method=method, covers=COVERS, working=working)


def given(symbol: str, meaning: str, value: float, where: str, unit: str = "1") -> Input:
    """Return an input that stands somewhere else, or is agreed on."""
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)


def agreed_share() -> Input:
    """Return the normal quantile of the share that is to lie above a low percentile."""
    return given("z", "normal quantile of the share that is to lie above", float(ndtri(SHARE)), "agreed share, 95 %")


def wearer_count(symbol: str, group: Group) -> Input:
    """Return the number of wearers."""
    return given(symbol, "number of wearers", len(group.wearers), "wearers of this group", "count")


def agreed_coverage() -> Input:
    """Return the coverage probability."""
    return given("p", "coverage probability", COVERAGE, "agreed for all intervals")


def agreed_confidence() -> Input:
    """Return the confidence of one-sided bounds."""
    return given("c", "confidence, one-sided", CONFIDENCE, "agreed for all one-sided bounds")


def why_no_bound(found: PercentileBound) -> str:
    """Say why there is no lower bound, and how many wearers would give one."""
    if found.wearers_needed is None:
        return "not enough wearers to say, and not even a thousand with this spread would do"
    return f"not enough wearers to say; {found.wearers_needed} with this spread would do"


def least_mean_figure(group: Group) -> Figure:
    """Return what the geometric mean of those tested is at least, where some results are only bounds."""
    means = group.wearer_means
    inputs = tuple(
        wearer_input(rf"G_{{{number}}}", wearer, donnings, mean)
        for number, ((wearer, donnings), mean) in enumerate(
            zip(by_wearer(group.donnings).items(), means, strict=True), start=1
        )
    )
    return group.figure(
        "mean",
        "geometric mean of those tested",
        least_geometric_mean(group.values, group.letters),
        Working(method="least-geometric-mean", inputs=inputs),
        no_interval=ITSELF_A_BOUND,
        relation=Relation.AT_LEAST,
    )


def log_normality_figure(group: Group) -> Figure | None:
    """Return the test of the log-normal model, or None where there are too few wearers or nothing to test."""
    means = group.wearer_means
    if len(means) < LEAST_WEARERS or len(set(means)) < 2:
        return None
    inputs = tuple(
        donning_input(rf"\mathrm{{FF}}_{{{number}}}", donnings[0])
        if len(donnings) == 1
        else given(rf"\mathrm{{FF}}_{{{number}}}", f"wearer {wearer}, mean", mean, group.place("mean"))
        for number, ((wearer, donnings), mean) in enumerate(
            zip(by_wearer(group.donnings).items(), means, strict=True), start=1
        )
    )
    return group.figure(
        "log-normality",
        "probability of results as little log-normal as these by chance",
        log_normality(means),
        Working(method="log-normality", inputs=inputs),
        no_interval="it is itself a probability",
    )


def level_figures(group: Group) -> tuple[Figure, Figure]:
    """Return the level that every wearer reached at the first donning, and the share of wearers who at least do."""
    firsts: Sequence[WearerDonning] = first_donnings(group.donnings)
    level = group.figure(
        "level-of-all",
        "level that every wearer reached at the first donning",
        least_of_first_donnings([donning.least for donning in firsts]),
        Working(method="least-of-first-donnings", inputs=numbered_inputs(firsts)),
        no_interval=ITSELF_A_BOUND,
        relation=Relation.AT_LEAST,
    )
    share = group.figure(
        "share-above",
        "share of wearers who reach that level",
        share_without_failures(len(firsts), CONFIDENCE),
        Working(method="share-without-failures", inputs=(wearer_count("n", group), agreed_confidence())),
        no_interval=ITSELF_A_BOUND,
        relation=Relation.AT_LEAST,
    )
    return level, share


def logarithm(symbol: str, meaning: str, value: float, group: Group) -> Input:
    """Return a logarithm of a figure over wearers as an input of another."""
    return given(symbol, meaning, math.log(value), group.place("mean"))
