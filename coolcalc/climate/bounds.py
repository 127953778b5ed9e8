"""How sure a low once in n winters is: bounds, intervals, and the curve of a chart.

Gumbel's distribution has a location and a scale, and L-moments follow both. (level fitted - true
level) / scale fitted has therefore one distribution for a number of winters and an n, whatever
the station: drawn once, it gives bounds that hold with the chance that is named, up to the
drawing.

With a shape no such quantity exists. Samples are drawn for shapes all over `SHAPES`, and those
are kept whose L-skewness is nearest to the one found: what their true levels were, in units of
their own L-moments, is what the true level of the station may be. This is the answer of Bayes to
these three numbers with every shape of the range alike likely beforehand. How often it holds for
one given shape, `tests/interval_coverage.py` prints.
"""

import functools
from typing import Any, NamedTuple

import numpy as np

from .extremes import (
    gev_of,
    gumbel_draws,
    gumbel_of,
    l_moments,
    level_k,
    n_year_low_k,
    reduced_variate,
    stretched_variate,
    years_at,
)

#: Samples drawn for a number of winters. [count] Quantiles from 0.02 to 0.98 are good to 1 % of
#: the distance from the level.
GUMBEL_DRAWS = 60_000
GEV_DRAWS = 200_000
BLOCK = 10_000

#: Samples of these that are near enough in L-skewness. [count]
GEV_KEPT = 8_000

#: Shapes that are drawn. [-] By judgement, no source: lows of air temperature are seldom outside.
SHAPES = (-0.5, 0.6)

#: Winters that a curve is drawn for.
CURVE_YEARS = (1.1, 200.0)
CURVE_POINTS = 61


class LevelInterval(NamedTuple):
    """A level and its two-sided interval, floats or arrays as asked. [K].

    Attributes
    ----------
    low_k, value_k, high_k : float or ndarray
    """

    low_k: Any
    value_k: Any
    high_k: Any


class LevelCurve(NamedTuple):
    """Levels over winters, (m,), with their band.

    Attributes
    ----------
    years : ndarray
    level_k, low_k, high_k : ndarray
        [K]
    """

    years: np.ndarray
    level_k: np.ndarray
    low_k: np.ndarray
    high_k: np.ndarray


def _in_blocks(n, count, of_block):
    """Join what is made of fixed samples block by block: long ones would fill the memory."""
    made = [of_block(block, gumbel_draws(n, BLOCK, block)) for block in range(count // BLOCK)]
    return [np.concatenate(each) for each in zip(*made, strict=True)]


@functools.lru_cache(maxsize=32)
def _gumbel_units(n):
    """Location and scale that fixed standard samples of n are fitted with, (draws,) each."""

    def fitted(_, drawn):
        fit = gumbel_of(-drawn)
        return -fit.location_k, fit.scale_k

    return _in_blocks(n, GUMBEL_DRAWS, fitted)


@functools.lru_cache(maxsize=1024)
def _gumbel_quantiles(n, variate, chances):
    """Quantiles of (fitted - true) / fitted scale of x = -T, by chance. [-]."""
    location, scale = _gumbel_units(n)
    return np.quantile((location + scale * variate - variate) / scale, chances)


@functools.lru_cache(maxsize=8)
def _gev_units(n):
    """Shapes of fixed samples of n, their L-moments and L-skewness, in order of the last."""
    blocks = GEV_DRAWS // BLOCK
    shapes = np.linspace(*SHAPES, GEV_DRAWS).reshape(-1, blocks)

    def drawn_with(block, drawn):
        shape = shapes[:, block]  # every block from end to end of the shapes
        return shape, *l_moments(stretched_variate(shape[:, None], drawn))

    shape, mean, second, skewness = _in_blocks(n, GEV_DRAWS, drawn_with)
    order = np.argsort(skewness)
    return shape[order], mean[order], second[order], skewness[order]


def _gev_quantiles(n, skewness, variate, chances):
    """Quantiles of (true level - mean) / second L-moment of x = -T, by chance. [-]."""
    shape, mean, second, skewnesses = _gev_units(n)
    begin = np.searchsorted(skewnesses, skewness) - GEV_KEPT // 2
    begin = min(max(begin, 0), GEV_DRAWS - GEV_KEPT)
    kept = slice(begin, begin + GEV_KEPT)
    return np.quantile(
        (stretched_variate(shape[kept], variate) - mean[kept]) / second[kept], chances
    )


def _gumbel_bounds_k(lowest_k, years, chances):
    fit = gumbel_of(lowest_k)
    variate = float(reduced_variate(years))
    # Colder than the level by what the fit may have been too warm.
    off = _gumbel_quantiles(lowest_k.shape[-1], variate, tuple(1.0 - each for each in chances))
    return level_k(fit, years) + np.multiply.outer(off, fit.scale_k)


def _gev_bounds_k(lowest_k, years, chances):
    n = lowest_k.shape[-1]
    mean, second, skewness = l_moments(-lowest_k)
    variate = float(reduced_variate(years))
    bounds = np.full((len(chances), *mean.shape), np.nan)
    for at in np.ndindex(mean.shape):
        if np.isfinite(skewness[at]):
            above = _gev_quantiles(n, skewness[at], variate, chances)
            bounds[(slice(None), *at)] = -(mean[at] + second[at] * above)
    return bounds


_FAMILIES = {"gumbel": (gumbel_of, _gumbel_bounds_k), "gev": (gev_of, _gev_bounds_k)}


def _bounds_k(lowest_k, years, chances, family):
    """Bounds by chance, then by years, then by record, (chances, *years, ...). [K]."""
    lowest_k = np.asarray(lowest_k, dtype=float)
    years = np.asarray(years, dtype=float)
    shape = (*years.shape, *lowest_k.shape[:-1])
    if lowest_k.shape[-1] < 2:
        return np.full((len(chances), *shape), np.nan)
    of_year = _FAMILIES[family][1]
    each = [of_year(lowest_k, year, chances) for year in years.ravel()]
    return np.stack(each, axis=1).reshape(len(chances), *shape)


def level_bound_k(lowest_k, years, chance, family="gumbel"):
    """Return the temperature above which the true low once in n winters lies with a chance.

    One-sided: 0.95 gives a cold bound, 0.5 lies near the level, 0.05 is a warm one.

    Parameters
    ----------
    lowest_k : array_like, (..., n)
        Lowest of each winter. [K]
    years : float or array_like
        Above 1.
    chance : float
        From 0.02 to 0.98: farther out the drawing is too coarse. [-]
    family : str
        "gumbel" or "gev".

    Returns
    -------
    float or ndarray
        Shape of `years`, then of the records. NaN for fewer than two winters (three for "gev");
        the level itself where all lows are equal (NaN for "gev"). [K]
    """
    return _bounds_k(lowest_k, years, (float(chance),), family)[0][()]


def level_bounds_k(lowest_k, years, chances, family="gumbel"):
    """Return `level_bound_k` of several chances at once, (chances,), for one record and n. [K]."""
    return _bounds_k(lowest_k, float(years), tuple(map(float, chances)), family)


def moments_bounds_k(mean_k, sd_k, winters, years, chances):
    """Return bounds of the low once in n winters by the published formula.

    Parameters
    ----------
    mean_k, sd_k : float
        Of the lowest of so many winters. [K]
    winters : int
        That they are of; two at least.
    years : float
        Above 1.
    chances : sequence of float
        As for `level_bound_k`. [-]

    Returns
    -------
    ndarray, (chances,)
        [K]
    """
    off = _moments_quantiles(int(winters), float(years), tuple(1.0 - each for each in chances))
    return n_year_low_k(mean_k, sd_k, years) + off * sd_k


@functools.lru_cache(maxsize=256)
def _moments_quantiles(n, years, chances):
    """Quantiles of (formula - true) / deviation of x = -T, by chance. [-]."""

    def formula(_, drawn):
        deviation = drawn.std(axis=1, ddof=1)
        return -n_year_low_k(-drawn.mean(axis=1), deviation, years), deviation

    level, deviation = _in_blocks(n, GUMBEL_DRAWS, formula)
    return np.quantile((level - float(reduced_variate(years))) / deviation, chances)


def level_interval(lowest_k, years, confidence=0.90, family="gumbel"):
    """Return the low once in n winters with its two-sided interval, equal chances on both sides.

    Parameters
    ----------
    lowest_k : array_like, (n,)
        Lowest of each winter. [K]
    years : float or array_like
        Above 1.
    confidence : float
        Up to 0.96. [-]
    family : str
        "gumbel" or "gev".

    Returns
    -------
    LevelInterval
        NaN as in `level_bound_k`.
    """
    beyond = (1.0 - confidence) / 2.0
    low, high = _bounds_k(lowest_k, years, (1.0 - beyond, beyond), family)
    value = level_k(_FAMILIES[family][0](lowest_k), np.asarray(years, dtype=float))
    return LevelInterval(low[()], value, high[()])


def level_curve(lowest_k, confidence=0.90, family="gumbel", years=None):
    """Return levels and their band for a chart.

    Parameters
    ----------
    lowest_k : array_like, (n,)
        Lowest of each winter. [K]
    confidence : float
        [-]
    family : str
        "gumbel" or "gev".
    years : array_like, optional
        `CURVE_YEARS` in equal steps of the reduced variate if not given: a straight line of Gumbel
        then has its points at equal distances.

    Returns
    -------
    LevelCurve
    """
    if years is None:
        variate = np.linspace(*reduced_variate(np.array(CURVE_YEARS)), CURVE_POINTS)
        years = years_at(variate)
    years = np.asarray(years, dtype=float)
    interval = level_interval(lowest_k, years, confidence, family)
    return LevelCurve(years, interval.value_k, interval.low_k, interval.high_k)
