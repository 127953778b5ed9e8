"""How often the bounds of a low once in n winters hold, by winters and by truth.

The truth is drawn with SciPy and its level is SciPy's quantile: nothing of it comes from the
fits. Run as `python tests/interval_coverage.py`; `test_extremes.py` asserts a smaller part.
"""

import functools
import sys

import numpy as np
from scipy import stats

from coolcalc.climate import bounds

#: Of SciPy; its `genextreme` is of maxima, turned round for lows. A shape above zero is a lighter
#: cold tail.
TRUTHS = {
    "Gumbel": stats.gumbel_l(loc=252.0, scale=3.5),
    "lighter, +0.15": stats.genextreme(0.15, loc=-252.0, scale=3.5),
    "heavier, -0.10": stats.genextreme(-0.10, loc=-252.0, scale=3.5),
    "heavier, -0.20": stats.genextreme(-0.20, loc=-252.0, scale=3.5),
}
WINTERS = (15, 30, 60)
YEARS = 20
TWO_SIDED, ONE_SIDED = 0.90, 0.95


def drawn_lows(truth, winters, samples, seed):
    """Return lows in kelvin, (samples, winters), and the true low once in `YEARS` winters."""
    dist = TRUTHS[truth]
    values = dist.rvs(size=(samples, winters), random_state=np.random.default_rng(seed))
    if truth == "Gumbel":
        return values, float(dist.ppf(1.0 / YEARS))
    return -values, -float(dist.isf(1.0 / YEARS))


@functools.cache
def coverage(truth, winters, family, samples=4000, seed=2026):
    """Return the shares of two-sided and cold one-sided bounds that hold, and the mean width."""
    lows, true_k = drawn_lows(truth, winters, samples, [seed, winters])
    beyond = (1.0 - TWO_SIDED) / 2.0
    low = bounds.level_bound_k(lows, YEARS, 1.0 - beyond, family)
    high = bounds.level_bound_k(lows, YEARS, beyond, family)
    cold = bounds.level_bound_k(lows, YEARS, ONE_SIDED, family)
    both = np.mean((low <= true_k) & (true_k <= high))
    return float(both), float(np.mean(cold <= true_k)), float(np.mean(high - low))


def three_sigma(nominal, samples):
    """Return three standard errors of a share of so many samples."""
    return 3.0 * (nominal * (1.0 - nominal) / samples) ** 0.5


def main(samples=4000):
    """Print the table."""
    print(f"low once in {YEARS} winters, {samples} records each;")
    print(
        f"3 sigma: {three_sigma(TWO_SIDED, samples):.3f} and {three_sigma(ONE_SIDED, samples):.3f}"
    )
    print(
        f"{'truth':16}{'family':8}{'winters':>8}{TWO_SIDED:>8.2f}{ONE_SIDED:>8.2f}{'width, K':>10}"
    )
    for truth in TRUTHS:
        for family in ("gumbel", "gev"):
            for winters in WINTERS:
                both, cold, width = coverage(truth, winters, family, samples)
                print(f"{truth:16}{family:8}{winters:8d}{both:8.3f}{cold:8.3f}{width:10.2f}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
