"""Where the values marked "tests/scoring/oracle_over_breathing.py" come from. Run it with scipy; it prints them.

Nothing of the generator is imported. Breaths are followed one after another by scipy's solver until they no longer
change; shares are integrals over the half sine by scipy's quadrature.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable

from scipy.integrate import quad, solve_ivp

BREATHS = 2000


def share_by_quadrature(supply: float, peak: float) -> float:
    """Return the over-breathed share of a half sine, by quadrature of both volumes. [1]"""
    if supply >= peak:
        return 0.0
    begins = math.asin(supply / peak)
    over, _ = quad(lambda angle: peak * math.sin(angle) - supply, begins, math.pi - begins, epsabs=0, epsrel=1e-13)
    whole, _ = quad(lambda angle: peak * math.sin(angle), 0, math.pi, epsabs=0, epsrel=1e-13)
    return float(over / whole)


def mixed_share_step_by_step(
    supply: float, minute_volume: float, peak: float, breaths: float, volume: float, returned: float
) -> float:
    """Return the share of the outside concentration that is breathed in from a well-mixed hood. [1]"""
    inhaling = math.pi * minute_volume / (2 * peak) / breaths
    exhaling, tidal = 1 / breaths - inhaling, minute_volume / breaths
    height = math.pi * tidal / (2 * exhaling)
    begins = math.asin(min(supply / peak, 1)) * inhaling / math.pi

    def breathing_in(time: float, state: list[float]) -> list[float]:
        drawn = peak * math.sin(math.pi * time / inhaling)
        enters = max(drawn - supply, 0) - max(drawn, supply) * state[0]
        return [enters / volume, drawn * state[0]]

    def breathing_out(time: float, state: list[float]) -> list[float]:
        given = height * math.sin(math.pi * time / exhaling)
        return [(returned * inhaled * given - (supply + given) * state[0]) / volume]

    concentration, inhaled, before = 0.0, 0.0, math.inf
    for _ in range(BREATHS):
        state = [concentration, 0.0]
        for start, end in ((0, begins), (begins, inhaling - begins), (inhaling - begins, inhaling)):
            if end > start:
                state = _solved(breathing_in, start, end, state)
        inhaled = state[1] / tidal
        concentration = _solved(breathing_out, 0, exhaling, state[:1])[0]
        if abs(inhaled - before) < 1e-13:
            break
        before = inhaled
    return inhaled


def _solved(
    slope: Callable[[float, list[float]], list[float]], start: float, end: float, state: list[float]
) -> list[float]:
    found = solve_ivp(slope, (start, end), state, method="LSODA", rtol=1e-11, atol=1e-14)
    return [float(values[-1]) for values in found.y]


if __name__ == "__main__":
    for pair in ((17, 31), (170, 266), (100, 192)):
        sys.stdout.write(f"share {pair} {share_by_quadrature(*pair)!r}\n")
    for case in (
        (17, 8, 31, 20, 6, 0),
        (17, 8, 31, 20, 6, 1),
        (100, 45.1, 266, 20, 3, 0.5),
        (100, 110, 284, 33, 0.4, 1),
        (60, 80, 192, 25, 2, 0),
    ):
        sys.stdout.write(f"mixed {case} {mixed_share_step_by_step(*case)!r}\n")
