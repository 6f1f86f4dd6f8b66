"""Where the values marked "scipy 1.17.1" and "statsmodels 0.15.0" in the methods and tests about wearers come from.

Needs scipy, numpy and statsmodels (which the tests themselves do not). Run: python tests/scoring/oracle_wearers.py
"""

from __future__ import annotations

import math
import sys

from scipy import integrate, optimize, stats


def tolerance_factor(wearers: int, share: float, confidence: float) -> float:
    """Return the one-sided tolerance factor without a noncentral t distribution, by integrating over the deviation."""
    degrees, root = wearers - 1, math.sqrt(wearers)
    quantile, scaled = stats.norm.ppf(share), stats.chi(degrees, scale=1 / math.sqrt(degrees))

    def shortfall(factor: float) -> float:
        low, high = scaled.ppf(1e-15), scaled.isf(1e-15)
        held = integrate.quad(
            lambda s: stats.norm.cdf(root * (factor * s - quantile)) * scaled.pdf(s), low, high, epsabs=1e-13
        )
        return float(held[0]) - confidence

    return float(optimize.brentq(shortfall, quantile, 60, xtol=1e-12))


if __name__ == "__main__":
    factors = {number: tolerance_factor(number, 0.95, 0.95) for number in (2, 8, 999, 1000, 1001)}
    sys.stdout.write(f"tolerance factors {factors}\n")
    for less, more in ((999, 1000), (1000, 1001)):
        sys.stdout.write(f"mean for {more}: {math.exp((factors[less] + factors[more]) / 2)}\n")
