"""A low that comes once in n winters: fits to the lowest of each winter, and how well they fit.

Extremes of minima: inside, x = -T is fitted as a series of maxima. `LowFit` carries the location
as a temperature, so that a level is `location_k - scale_k * w`, with w the reduced variate: the
more winters, the colder. The shape has the sign of Hosking, which is that of SciPy's
`genextreme`: above zero the lows have a bound (a lighter cold tail), at zero it is Gumbel's, below
zero there is none and the cold tail is heavier. The other sign is in use as well (Coles, xi).

"Once in n winters" is a chance of 1/n in each winter. SciPy is imported when called.
"""

import functools
import math
from typing import Any, NamedTuple

import numpy as np

#: Winters from which a shape may be fitted beside location and scale. [count] Practice of the
#: trade takes a normal period of 30 years; the shape of fewer is told by chance.
GEV_FROM = 30

#: Fewest winters that a Gumbel fit is made of. [count] By judgement, no source: with ten, the cold
#: bound (0.95) of the 20-winter low stands about twice as far below the level as with thirty.
WINTERS_MIN = 10

#: Up to so many winters are few. [count] By judgement, no source.
WINTERS_FEW = 15

#: L-skewness of Gumbel's distribution, 2 ln 3 / ln 2 - 3. [-] hosking-1990
GUMBEL_SKEWNESS = 2.0 * math.log(3.0) / math.log(2.0) - 3.0

#: Samples that the chances of `goodness` are drawn from. [count]
GOODNESS_DRAWS = 10_000

_LN2, _LN3 = math.log(2.0), math.log(3.0)
_STEPS = 12
_gamma = np.vectorize(math.gamma, otypes=[float])


class LowFit(NamedTuple):
    """A distribution of the lowest of a winter; floats, or arrays of as many fits.

    Attributes
    ----------
    location_k : float or ndarray
        [K]
    scale_k : float or ndarray
        Zero where all lows are equal. [K]
    shape : float or ndarray
        Hosking's and SciPy's sign; zero for Gumbel. [-]
    """

    location_k: Any
    scale_k: Any
    shape: Any


def n_year_low_k(mean_k, sd_k, years):
    """Return the low once in n years by the published formula of building climatology.

    ashrae-climate: T_n = M - F s with F = -(sqrt 6 / pi) {0.5772 + ln[ln(n / (n - 1))]}. A Gumbel
    distribution by the method of moments.

    Parameters
    ----------
    mean_k, sd_k : float or ndarray
        Mean of the annual lows, and their sample standard deviation (n - 1). [K]
    years : float or ndarray
        Above 1.

    Returns
    -------
    float or ndarray
        [K]
    """
    return level_k(gumbel_of_moments(mean_k, sd_k), years)


def gumbel_of_moments(mean_k, sd_k):
    """Return the Gumbel `LowFit` of a mean and a standard deviation, by moments. [K]."""
    scale_k = math.sqrt(6.0) / math.pi * np.asarray(sd_k, dtype=float)
    location_k = np.asarray(mean_k, dtype=float) + np.euler_gamma * scale_k
    return LowFit(location_k[()], scale_k[()], np.zeros_like(scale_k)[()])


def reduced_variate(years):
    """Gumbel's reduced variate of a level once in n winters, -ln(-ln(1 - 1/n)). [-]."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return -np.log(-np.log1p(-1.0 / np.asarray(years, dtype=float)))[()]


def years_at(variate):
    """Return the winters that a reduced variate stands for, inverse of `reduced_variate`. [-]."""
    return -1.0 / np.expm1(-np.exp(-np.asarray(variate, dtype=float)))[()]


# --- fits -----------------------------------------------------------------------------------------


def l_moments(values):
    """Return the first two L-moments and the L-skewness of the last axis (hosking-1990), by SciPy.

    The skewness is NaN for fewer than three values and for equal ones, all are for fewer than two.

    Parameters
    ----------
    values : array_like, (..., n)
        NaN passes.

    Returns
    -------
    tuple of ndarray, (...)
    """
    from scipy.stats import lmoment

    values = np.asarray(values, dtype=float)
    n = values.shape[-1]
    nothing = np.full(values.shape[:-1], np.nan)
    if n < 2:
        return nothing, nothing, nothing
    equal = np.ptp(values, axis=-1) == 0.0
    mean = np.where(equal, values[..., 0], np.mean(values, axis=-1))
    # From the mean: 250 K takes no digits from a spread of 1.
    off = values - mean[..., None]
    if n < 3:
        return mean, lmoment(off, order=2, axis=-1), nothing
    with np.errstate(invalid="ignore", divide="ignore"):
        _, second, skewness = lmoment(off, order=[1, 2, 3], axis=-1)
    return mean, second, np.where(equal, np.nan, skewness)[()]


def gumbel_of(lowest_k):
    """Fit Gumbel's distribution by L-moments.

    Parameters
    ----------
    lowest_k : array_like, (..., n)
        Lowest of each winter. [K]

    Returns
    -------
    LowFit
        NaN for fewer than two winters; a scale of zero where all are equal.
    """
    mean, second, _ = l_moments(-np.asarray(lowest_k, dtype=float))
    scale = second / _LN2
    return LowFit(-(mean - np.euler_gamma * scale)[()], scale[()], np.zeros_like(scale)[()])


def gev_of(lowest_k):
    """Fit the generalised extreme value distribution by L-moments (hosking-1985, hosking-1990).

    Parameters
    ----------
    lowest_k : array_like, (..., n)
        Lowest of each winter. [K]

    Returns
    -------
    LowFit
        NaN for fewer than three winters, and where all are equal.
    """
    mean, second, skewness = l_moments(-np.asarray(lowest_k, dtype=float))
    shape = np.asarray(shape_of(skewness))
    near = np.abs(shape) < 1e-6
    apart = np.where(near, 1.0, shape)
    with np.errstate(invalid="ignore"):
        gamma = _gamma(1.0 + apart) if apart.size else apart
        scale = np.where(near, second / _LN2, second * apart / (-np.expm1(-apart * _LN2) * gamma))
        above = np.where(near, np.euler_gamma, (1.0 - gamma) / apart)
    return LowFit(-(mean - scale * above)[()], scale[()], shape[()])


def skewness_of(shape):
    """L-skewness of x = -T for a shape, 2 (1 - 3^-k) / (1 - 2^-k) - 3; hosking-1985. [-]."""
    shape = np.asarray(shape, dtype=float)
    near = np.abs(shape) < 1e-8
    apart = np.where(near, 1.0, shape)
    ratio = np.expm1(-apart * _LN3) / np.expm1(-apart * _LN2)
    return (2.0 * np.where(near, _LN3 / _LN2, ratio) - 3.0)[()]


def shape_of(skewness):
    """Shape for an L-skewness of x = -T, by steps from the approximation of hosking-1985. [-]."""
    skewness = np.asarray(skewness, dtype=float)
    known = np.where(np.abs(skewness) < 1.0, skewness, np.nan)
    off = 2.0 / (3.0 + known) - _LN2 / _LN3
    shape = 7.8590 * off + 2.9554 * off**2
    slope = -(7.8590 + 5.9108 * off) * 2.0 / (3.0 + known) ** 2
    for _ in range(_STEPS):  # its slope is close enough that each step takes a digit or two
        shape = np.maximum(shape + slope * (known - skewness_of(shape)), -0.99)
    return shape[()]


# --- levels ---------------------------------------------------------------------------------------


def stretched_variate(shape, variate):
    """Reduced variate of a shape, (1 - exp(-k y)) / k; at zero it is y itself. [-]."""
    shape = np.asarray(shape, dtype=float)
    near = np.abs(shape) < 1e-9
    apart = np.where(near, 1.0, shape)
    with np.errstate(over="ignore"):
        return np.where(near, variate, -np.expm1(-apart * variate) / apart)


def level_k(fit, years):
    """Return the low that comes once in n winters.

    Parameters
    ----------
    fit : LowFit
    years : float or ndarray
        n; NaN comes of 1 or fewer.

    Returns
    -------
    float or ndarray
        [K]
    """
    with np.errstate(invalid="ignore"):
        return (
            fit.location_k - fit.scale_k * stretched_variate(fit.shape, reduced_variate(years))
        )[()]


def chance_colder(fit, temp_k):
    """Return the chance that it gets at least so cold in a winter.

    Parameters
    ----------
    fit : LowFit
    temp_k : float or ndarray
        [K]

    Returns
    -------
    float or ndarray
        Zero where a fit has a bound above it; NaN for a fit without spread. [-]
    """
    shape = np.asarray(fit.shape, dtype=float)
    near = np.abs(shape) < 1e-9
    apart = np.where(near, 1.0, shape)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        off = (fit.location_k - np.asarray(temp_k, dtype=float)) / fit.scale_k
        # Beyond the bound the variate is +inf for a shape above zero, -inf for one below.
        inside = np.log1p(np.maximum(-apart * off, -1.0)) / apart
        warmer = np.exp(np.where(near, -off, inside))
        chance = -np.expm1(-warmer)
    return np.where(np.asarray(fit.scale_k) > 0.0, chance, np.nan)[()]


def years_of(fit, temp_k):
    """Return once in how many winters it gets at least so cold.

    Parameters
    ----------
    fit : LowFit
    temp_k : float or ndarray
        [K]

    Returns
    -------
    float or ndarray
        inf where the fit has a bound above it; NaN for a fit without spread.
    """
    with np.errstate(divide="ignore"):
        return (1.0 / np.asarray(chance_colder(fit, temp_k)))[()]


def chance_within(years, winters):
    """Return the chance that the low once in n years is passed within so many winters. [-]."""
    return -np.expm1(winters * np.log1p(-1.0 / np.asarray(years, dtype=float)))[()]


def plotting_years(lowest_k):
    """Return at how many winters each low is drawn in a chart (gringorten-1963).

    (n + 0.12) / (i - 0.44) for the i-th coldest of n, in the order of the lows as given; equal
    lows in the order of time.

    Parameters
    ----------
    lowest_k : array_like, (n,)
        [K]

    Returns
    -------
    ndarray, (n,)
    """
    lowest_k = np.asarray(lowest_k, dtype=float)
    rank = np.empty(lowest_k.size)
    rank[np.argsort(lowest_k, kind="stable")] = np.arange(1, lowest_k.size + 1)
    return (lowest_k.size + 0.12) / (rank - 0.44)


# --- how well it fits -----------------------------------------------------------------------------


class Goodness(NamedTuple):
    """How the lows stand to Gumbel's distribution and to time.

    Attributes
    ----------
    distance : float
        Anderson-Darling statistic under the Gumbel fit. [-]
    distance_chance : float
        Chance of one as large, were they Gumbel's; parameters fitted in the same way. [-]
    skewness : float
        L-skewness of x = -T; `GUMBEL_SKEWNESS` is expected. Above: a heavier cold tail. [-]
    skewness_chance : float
        Chance of one as far from it on either side, were they Gumbel's. [-]
    trend_k_decade : float
        Slope of Theil and Sen. [K/10 a]
    trend_low_k_decade, trend_high_k_decade : float
        Its interval at 95 %. [K/10 a]
    trend_chance : float
        Chance of a rank correlation (Kendall) as strong, were there no trend. [-]
    """

    distance: float
    distance_chance: float
    skewness: float
    skewness_chance: float
    trend_k_decade: float
    trend_low_k_decade: float
    trend_high_k_decade: float
    trend_chance: float


def goodness(lowest_k, first_year=None):
    """Return how well Gumbel's distribution fits, and whether the lows drift.

    Chances of distance and skewness are drawn from fixed samples, once for each number of winters:
    the same lows give the same digits.

    Parameters
    ----------
    lowest_k : array_like, (n,)
        Lowest of each winter that is used. [K]
    first_year : array_like, (n,), optional
        Years in which they begin; winters that are left out leave a gap. One after another if not
        given.

    Returns
    -------
    Goodness
        NaN throughout for fewer than three winters or equal lows (but a trend of zero).
    """
    lowest_k = np.asarray(lowest_k, dtype=float)
    first_year = np.arange(lowest_k.size) if first_year is None else np.asarray(first_year)
    if lowest_k.size < 3 or not np.all(np.isfinite(lowest_k)):
        return Goodness(*[math.nan] * len(Goodness._fields))
    trend = _trend(lowest_k, first_year)
    if np.ptp(lowest_k) == 0.0:
        return Goodness(*[math.nan] * 4, *trend)
    distance = float(_distance(-lowest_k))
    skewness = float(l_moments(-lowest_k)[2])
    distances, skewnesses = _gumbel_pivots(lowest_k.size)
    return Goodness(
        distance,
        _upper_chance(distances, distance),
        skewness,
        min(
            1.0,
            2.0 * min(_upper_chance(skewnesses, skewness), _upper_chance(-skewnesses, -skewness)),
        ),
        *trend,
    )


def _trend(lowest_k, first_year):
    from scipy.stats import kendalltau, theilslopes

    slope, _, low, high = theilslopes(lowest_k, first_year)
    chance = kendalltau(first_year, lowest_k).pvalue if np.ptp(lowest_k) > 0.0 else math.nan
    return float(10.0 * slope), float(10.0 * low), float(10.0 * high), float(chance)


def _upper_chance(drawn, value):
    """Share of draws that are as large, the value itself counted among them. [-]."""
    return float((1 + np.count_nonzero(drawn >= value)) / (1 + drawn.size))


def _distance(maxima):
    """Anderson-Darling statistic of the last axis under its own Gumbel fit. [-]."""
    maxima = np.sort(maxima, axis=-1)
    n = maxima.shape[-1]
    mean, second, _ = l_moments(maxima)
    scale = (second / _LN2)[..., None]
    off = (maxima - (mean[..., None] - np.euler_gamma * scale)) / scale
    hazard = np.exp(-off)  # -ln of the chance to stay below
    weight = 2.0 * np.arange(1, n + 1) - 1.0
    above = np.log(-np.expm1(-hazard))[..., ::-1]
    return -n - np.sum(weight * (above - hazard), axis=-1) / n


@functools.lru_cache(maxsize=64)
def _gumbel_pivots(n):
    """Distances and skewnesses of fixed samples of n: neither depends on location and scale."""
    drawn = gumbel_draws(n, GOODNESS_DRAWS)
    return _distance(drawn), l_moments(drawn)[2]


def gumbel_draws(n, count, block=0):
    """Return fixed samples of n from Gumbel's standard distribution of maxima, (count, n)."""
    return -np.log(np.random.default_rng([n, count, block]).standard_exponential((count, n)))
