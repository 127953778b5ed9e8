"""Lows once in n winters: published rows and fits, other routes, how often bounds hold."""

import csv
import itertools
import math
import re

import numpy as np
import pytest
from scipy import stats

from coolcalc.climate import bounds, extremes
from coolcalc.climate.extremes import LowFit, gev_of, gumbel_of, level_k
from coolcalc.sources import SOURCES

from . import interval_coverage
from .published import DATA, ZERO_C

with (DATA / "system_checks.csv").open(encoding="utf-8", newline="") as file:
    ROWS = [row for row in csv.DictReader(file) if row["property"].startswith("extreme_min_")]

#: hosking-1996: a series of maxima with its L-moments, fits and quantiles, as printed there.
SERIES = np.array([2.0, 3.0, 4.0, 2.4, 5.5, 1.2, 5.4, 2.2, 7.1, 1.3, 1.5])
#: coles-2001: annual maximum sea levels at Port Pirie, 1923 to 1987. [m]
PORT_PIRIE = np.array(
    [
        *(4.03, 3.83, 3.65, 3.88, 4.01, 4.08, 4.18, 3.80, 4.36, 3.96, 3.98, 4.69, 3.85),
        *(3.96, 3.85, 3.93, 3.75, 3.63, 3.57, 4.25, 3.97, 4.05, 4.24, 4.22, 3.73, 4.37),
        *(4.06, 3.71, 3.96, 4.06, 4.55, 3.79, 3.89, 4.11, 3.85, 3.86, 3.86, 4.21, 4.01),
        *(4.11, 4.24, 3.96, 4.21, 3.74, 3.85, 3.88, 3.66, 4.11, 3.71, 4.18, 3.90, 3.78),
        *(3.91, 3.72, 4.00, 3.66, 3.62, 4.33, 4.55, 3.75, 4.08, 3.90, 3.88, 3.94, 4.33),
    ]
)
LIGHTER = {"c": 0.15, "loc": -252.0, "scale": 3.5}


def of_property(name):
    found = [row for row in ROWS if row["property"] == name]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


def numbers(row):
    return [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", row["given"])]


def meets(row, value):
    assert value == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


def lows_of(seed, n=30, scale=3.5):
    """Lows in kelvin from SciPy's Gumbel distribution of minima."""
    return stats.gumbel_l.rvs(252.0, scale, size=n, random_state=np.random.default_rng(seed))


# --- published rows -------------------------------------------------------------------------------


@pytest.mark.parametrize("row", of_property("extreme_min_n_year"))
def test_published_n_year_lows(row):
    mean_c, sd_k, years = numbers(row)
    meets(row, extremes.n_year_low_k(mean_c + ZERO_C, sd_k, years) - ZERO_C)


@pytest.mark.parametrize("years", [5, 10, 20, 50])
def test_published_n_year_lows_agree_closer_on_average(years):
    """Rounding of mean, deviation and low is as often up as down: three standard errors of it."""
    rows = [row.values[0] for row in of_property("extreme_min_n_year")]
    rows = [row for row in rows if numbers(row)[2] == years]
    off = [float(row["value"]) - extremes.n_year_low_k(*numbers(row)) for row in rows]
    # A tenth rounds with a standard deviation of 0.029; the deviation's is stretched by up to 2.6.
    assert len(off) >= 30
    assert abs(np.mean(off)) < 3 * 0.029 * math.sqrt(2 + 2.6**2) / math.sqrt(len(off))


@pytest.mark.parametrize("row", of_property("extreme_min_variate"))
def test_published_variate(row):
    meets(row, extremes.reduced_variate(numbers(row)[0]))


@pytest.mark.parametrize("row", of_property("extreme_min_step"))
def test_published_step_between_two_lows(row):
    sd_k, years, other = numbers(row)
    fit = LowFit(260.0, math.sqrt(6.0) / math.pi * sd_k, 0.0)
    meets(row, level_k(fit, years) - level_k(fit, other))


@pytest.mark.parametrize("row", of_property("extreme_min_ratio"))
def test_published_ratio_to_the_fifty_year_low(row):
    """One ratio of location to scale for all places is the assumption of that standard."""
    location, scale, *_, years = numbers(row)
    meets(row, -level_k(LowFit(-location, scale, 0.0), years))


def test_every_source_is_known():
    assert {row["source"] for row in ROWS} <= set(SOURCES)
    cited = {"hosking-1985", "hosking-1990", "hosking-1996", "gringorten-1963", "coles-2001"}
    assert {*cited, "etccdi", "ashrae-climate"} <= set(SOURCES)


# --- published fits -------------------------------------------------------------------------------


def test_published_l_moments():
    # hosking-1996
    printed = (3.23636364, 1.14181818, 0.27388535)
    assert np.array(extremes.l_moments(SERIES)) == pytest.approx(np.array(printed), abs=5e-9)


def test_published_gumbel_fit():
    fit = gumbel_of(-SERIES)  # hosking-1996: 2.285519, 1.647295
    assert -fit.location_k == pytest.approx(2.285519, abs=5e-7)
    assert fit.scale_k == pytest.approx(1.647295, abs=1e-6)
    assert fit.shape == 0.0
    # Quantiles at 0.2, 0.5 and 0.8, of a fit printed in six digits
    quantiles = -level_k(fit, 1.0 / (1.0 - np.array([0.2, 0.5, 0.8])))
    assert quantiles == pytest.approx(np.array([1.501596, 2.889274, 4.756363]), abs=2e-6)


def test_published_gev_fit():
    fit = gev_of(-SERIES)  # hosking-1996: 2.1792884, 1.3956404, -0.1555609
    printed = np.array([2.1792884, 1.3956404, -0.1555609])
    assert np.array([-fit.location_k, fit.scale_k, fit.shape]) == pytest.approx(printed, abs=1e-7)
    quantiles = -level_k(fit, 1.0 / (1.0 - np.array([0.2, 0.5, 0.8])))
    assert quantiles == pytest.approx(np.array([1.539112, 2.705672, 4.537048]), abs=5e-7)
    # The chance to stay below 2 and 6, from its table of the distribution
    below = 1.0 - extremes.chance_colder(fit, np.array([-2.0]))
    assert below == pytest.approx(np.array([0.3202800]), abs=5e-7)


def test_port_pirie_lies_within_a_standard_error_of_the_published_fit():
    """coles-2001: by maximum likelihood 3.87, 0.198, xi -0.050; ours is by L-moments."""
    fit = gev_of(-PORT_PIRIE)
    variances = np.array([0.000780, 0.000410, 0.00965])
    ours = np.array([-fit.location_k, fit.scale_k, -fit.shape])
    assert np.all(np.abs(ours - [3.87, 0.198, -0.050]) < np.sqrt(variances))
    assert -level_k(fit, 10) == pytest.approx(4.30, abs=math.sqrt(0.00303))
    # 10 years at 95 %: 4.30 with a variance of 0.00303; the half-widths agree to a quarter
    low, _, high = bounds.level_interval(-PORT_PIRIE, 10, 0.95, "gev")
    assert (high - low) / 2 == pytest.approx(1.96 * math.sqrt(0.00303), rel=0.25)


def test_scipy_by_maximum_likelihood_gives_about_the_same_fit():
    lows = lows_of(3, n=400)
    location, scale = stats.gumbel_l.fit(lows)
    fit = gumbel_of(lows)
    assert fit.location_k == pytest.approx(location, abs=3.5 * 1.05 / math.sqrt(400))
    assert fit.scale_k == pytest.approx(scale, abs=3.5 * 0.78 / math.sqrt(400))


# --- other routes ---------------------------------------------------------------------------------


def test_l_moments_are_what_they_are_defined_as_row_by_row():
    """From every pair and every triple: hosking-1990, definition of sample L-moments."""
    values = np.random.default_rng(5).normal(250.0, 4.0, (3, 17))
    mean, second, skewness = extremes.l_moments(values)
    for at, row in enumerate(values):
        pairs = [abs(a - b) for a, b in itertools.combinations(row, 2)]
        triples = [np.sort(each) for each in itertools.combinations(row, 3)]
        third = np.mean([c - 2 * b + a for a, b, c in triples]) / 3
        assert mean[at] == pytest.approx(row.mean())
        assert second[at] == pytest.approx(np.mean(pairs) / 2)
        assert skewness[at] == pytest.approx(third / second[at])
        alone = np.array(extremes.l_moments(row))
        assert alone == pytest.approx(np.array([mean[at], second[at], skewness[at]]), rel=1e-12)


@pytest.mark.parametrize("shape", [-0.3, -0.1, -1e-7, 0.0, 1e-10, 0.15, 0.4])
def test_levels_are_quantiles_of_scipy(shape):
    years = np.array([1.1, 2.0, 20.0, 100.0, 1000.0])
    fit = LowFit(252.0, 3.5, shape)
    theirs = stats.genextreme(shape, loc=-252.0, scale=3.5)
    assert level_k(fit, years) == pytest.approx(-theirs.isf(1 / years), abs=1e-6)
    temps = np.array([225.0, 235.0, 245.0, 252.0, 258.0])
    assert extremes.chance_colder(fit, temps) == pytest.approx(theirs.sf(-temps), rel=1e-6)
    assert extremes.years_of(fit, level_k(fit, years)) == pytest.approx(years, rel=1e-9)


def test_gumbel_levels_are_quantiles_of_scipy():
    theirs = stats.gumbel_l(252.0, 3.5)
    assert level_k(LowFit(252.0, 3.5, 0.0), 20) == pytest.approx(theirs.ppf(0.05), abs=1e-9)


def test_a_shape_above_zero_has_a_bound_and_a_lighter_cold_tail():
    lighter, plain, heavier = (LowFit(252.0, 3.5, each) for each in (0.15, 0.0, -0.1))
    assert level_k(lighter, 100) > level_k(plain, 100) > level_k(heavier, 100)
    bound_k = 252.0 - 3.5 / 0.15
    assert level_k(lighter, 1e12) == pytest.approx(bound_k, abs=0.5)
    assert extremes.years_of(lighter, bound_k - 1.0) == math.inf
    assert extremes.chance_colder(lighter, bound_k - 1.0) == 0.0
    assert extremes.years_of(heavier, 252.0 + 3.5 / 0.1 + 1.0) == 1.0
    assert extremes.years_of(heavier, 100.0) < extremes.years_of(plain, 100.0)


def test_chance_over_several_winters_is_the_complement_of_none():
    fit = LowFit(252.0, 3.5, 0.0)
    low_k = level_k(fit, 20)
    assert extremes.chance_colder(fit, low_k) == pytest.approx(0.05, rel=1e-12)
    assert extremes.chance_within(20, 10) == pytest.approx(1 - 0.95**10, rel=1e-12)
    assert extremes.chance_within(20, 20) == pytest.approx(0.6415, abs=5e-5)


def test_a_long_series_gives_back_what_it_was_drawn_with():
    values = -stats.genextreme.rvs(**LIGHTER, size=200_000, random_state=np.random.default_rng(1))
    fit = gev_of(values)
    assert fit.location_k == pytest.approx(252.0, abs=0.05)
    assert fit.scale_k == pytest.approx(3.5, abs=0.03)
    assert fit.shape == pytest.approx(0.15, abs=0.01)


def test_shape_and_skewness_are_inverse():
    shapes = np.array([-0.9, -0.5, -0.1, -1e-5, 0.0, 1e-5, 0.15, 0.5, 1.0])
    assert extremes.shape_of(extremes.skewness_of(shapes)) == pytest.approx(shapes, abs=1e-7)
    assert extremes.skewness_of(0.0) == pytest.approx(extremes.GUMBEL_SKEWNESS, abs=1e-12)
    assert pytest.approx(0.169925, abs=5e-7) == extremes.GUMBEL_SKEWNESS  # hosking-1996
    # hosking-1985: its approximation is off by less than 9e-4 for shapes within a half
    near = np.linspace(-0.5, 0.5, 21)
    off = 2 / (3 + extremes.skewness_of(near)) - math.log(2) / math.log(3)
    assert near == pytest.approx(7.8590 * off + 2.9554 * off**2, abs=9e-4)


def test_fits_move_with_the_scale_of_the_thermometer():
    lows = lows_of(8)
    for fitted in (gumbel_of, gev_of):
        plain, moved = fitted(lows), fitted(1.8 * lows - 459.67)
        assert moved.location_k == pytest.approx(1.8 * plain.location_k - 459.67, abs=1e-8)
        assert moved.scale_k == pytest.approx(1.8 * plain.scale_k, rel=1e-9)
        assert moved.shape == pytest.approx(plain.shape, abs=1e-9)
    for family in ("gumbel", "gev"):
        here = bounds.level_bound_k(lows, 20, 0.95, family)
        there = bounds.level_bound_k(1.8 * lows - 459.67, 20, 0.95, family)
        assert there == pytest.approx(1.8 * here - 459.67, abs=1e-6)


def test_plotting_positions_by_hand():
    # gringorten-1963: (n + 0.12) / (i - 0.44), the coldest first
    found = extremes.plotting_years([250.0, 240.0, 255.0, 245.0])
    assert found == pytest.approx(4.12 / np.array([2.56, 0.56, 3.56, 1.56]), rel=1e-12)
    assert sorted(extremes.plotting_years([250.0, 250.0])) == pytest.approx(
        [2.12 / 1.56, 2.12 / 0.56]
    )


# --- bounds ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("winters", interval_coverage.WINTERS)
def test_gumbel_bounds_hold_as_often_as_they_say(winters):
    """Truth drawn by SciPy; three standard errors of the count."""
    samples = 2000
    both, cold, _ = interval_coverage.coverage("Gumbel", winters, "gumbel", samples)
    assert both == pytest.approx(0.90, abs=interval_coverage.three_sigma(0.90, samples))
    assert cold == pytest.approx(0.95, abs=interval_coverage.three_sigma(0.95, samples))


@pytest.mark.parametrize("truth", interval_coverage.TRUTHS)
@pytest.mark.parametrize("winters", [30, 60])
def test_bounds_with_a_shape_hold_about_as_often_as_they_say(truth, winters):
    """No exact method is known: within 0.025 of the chance named, over three standard errors."""
    samples = 1000
    both, cold, _ = interval_coverage.coverage(truth, winters, "gev", samples)
    assert both == pytest.approx(0.90, abs=0.025 + interval_coverage.three_sigma(0.90, samples))
    assert cold == pytest.approx(0.95, abs=0.025 + interval_coverage.three_sigma(0.95, samples))


def test_gumbel_bounds_fail_where_the_cold_tail_is_heavier():
    """What a wrong family costs: said in the goodness of fit, not covered by the bound."""
    _, cold, _ = interval_coverage.coverage("heavier, -0.10", 60, "gumbel", 1000)
    assert cold < 0.92


@pytest.mark.parametrize("family", ["gumbel", "gev"])
def test_bounds_are_in_order_and_narrow_with_winters(family):
    lows = lows_of(4, n=60)
    chances = (0.02, 0.05, 0.5, 0.95, 0.98)
    found = [bounds.level_bound_k(lows, 20, each, family) for each in chances]
    assert np.all(np.diff(found) < 0)
    low, value, high = bounds.level_interval(lows, 20, 0.90, family)
    assert (low, high) == (found[3], found[1]) and low < value < high
    few_low, _, few_high = bounds.level_interval(lows[:20], 20, 0.90, family)
    assert few_high - few_low > high - low
    curve = bounds.level_curve(lows, 0.90, family)
    assert (curve.years[0], curve.years[-1]) == pytest.approx(bounds.CURVE_YEARS, rel=1e-9)
    for each in (curve.level_k, curve.low_k, curve.high_k):
        assert np.all(np.diff(each) < 0)
    assert np.all((curve.low_k < curve.level_k) & (curve.level_k < curve.high_k))
    assert np.all(np.diff((curve.high_k - curve.low_k)[curve.years > 3]) > 0)


@pytest.mark.parametrize("family", ["gumbel", "gev"])
def test_a_row_of_many_is_the_row_alone_and_digits_stay(family):
    rows = np.stack([lows_of(each) for each in range(5)])
    years = np.array([5.0, 20.0])
    together = bounds.level_bound_k(rows, years, 0.95, family)
    assert together.shape == (2, 5)
    bounds._gumbel_quantiles.cache_clear()
    bounds._gumbel_units.cache_clear()
    bounds._gev_units.cache_clear()
    for at, row in enumerate(rows):
        alone = bounds.level_bound_k(row, years, 0.95, family)
        assert together[:, at] == pytest.approx(alone, abs=1e-9)


def test_the_draws_are_many_enough():
    """Quantiles from other draws of SciPy differ by little against their distance."""
    drawn = stats.gumbel_r.rvs(size=(60_000, 30), random_state=np.random.default_rng(99))
    fit = gumbel_of(-drawn)
    variate = float(extremes.reduced_variate(20))
    pivot = (variate * (fit.scale_k - 1.0) - fit.location_k) / fit.scale_k
    for chance in (0.02, 0.05, 0.95, 0.98):
        ours = bounds._gumbel_quantiles(30, variate, (chance,))[0]
        assert ours == pytest.approx(np.quantile(pivot, chance), rel=0.025)


# --- how well it fits -----------------------------------------------------------------------------


def test_the_distance_is_that_of_scipy():
    lows = lows_of(6)
    fit = gumbel_of(lows)
    theirs = stats.goodness_of_fit(
        stats.gumbel_l,
        lows,
        known_params={"loc": fit.location_k, "scale": fit.scale_k},
        statistic="ad",
        n_mc_samples=9,
    )
    assert extremes.goodness(lows).distance == pytest.approx(theirs.statistic, rel=1e-9)


def test_chances_are_even_where_lows_are_of_gumbel():
    """Under the truth every chance is as likely as another."""
    found = [extremes.goodness(lows_of(seed)) for seed in range(600)]
    for each in (*("distance_chance", "skewness_chance", "trend_chance"),):
        chances = np.array([getattr(one, each) for one in found])
        assert stats.kstest(chances, "uniform").pvalue > 0.01


def test_a_bent_series_is_told_and_which_way():
    lighter = -stats.genextreme.rvs(0.45, size=80, random_state=np.random.default_rng(2))
    heavier = -stats.genextreme.rvs(-0.45, size=80, random_state=np.random.default_rng(2))
    for lows, heavy in ((lighter, False), (heavier, True)):
        found = extremes.goodness(lows)
        assert (found.skewness > extremes.GUMBEL_SKEWNESS) == heavy
        assert found.skewness_chance < 0.05 and found.distance_chance < 0.05


def test_a_drift_is_told_in_kelvin_a_decade():
    lows = lows_of(12, n=40, scale=1.0)
    years = np.arange(1981, 2021)
    found = extremes.goodness(lows + 0.08 * (years - 2000), years)
    assert found.trend_low_k_decade < 0.8 < found.trend_high_k_decade
    assert found.trend_chance < 0.01
    kept = np.delete(np.arange(40), [5, 6, 20])  # winters left out leave a gap in time
    exact = extremes.goodness(250.0 + 0.05 * kept, years[kept])
    assert exact.trend_k_decade == pytest.approx(0.5, abs=1e-9)


def test_the_same_lows_give_the_same_digits():
    lows = lows_of(21)
    first = extremes.goodness(lows)
    extremes._gumbel_pivots.cache_clear()
    assert extremes.goodness(lows) == first


# --- ends -----------------------------------------------------------------------------------------


def test_equal_lows_have_no_spread():
    equal = np.full(12, 251.37)
    fit = gumbel_of(equal)
    assert fit == LowFit(251.37, 0.0, 0.0)
    assert level_k(fit, 20) == 251.37
    assert bounds.level_interval(equal, 20) == (251.37, 251.37, 251.37)
    assert np.isnan(extremes.years_of(fit, 240.0))
    assert np.all(np.isnan(gev_of(equal)))
    assert np.isnan(bounds.level_bound_k(equal, 20, 0.95, "gev"))
    found = extremes.goodness(equal)
    assert np.isnan(found.distance) and found.trend_k_decade == 0.0


@pytest.mark.parametrize("lows", [[], [250.0], [250.0, math.nan, 251.0, 252.0]])
def test_too_little_gives_nan_and_raises_nothing(lows):
    assert np.isnan(gumbel_of(lows).scale_k) and np.isnan(gev_of(lows).shape)
    for family in ("gumbel", "gev"):
        assert np.all(np.isnan(bounds.level_interval(lows, 20, 0.90, family)))
        assert np.all(np.isnan(bounds.level_curve(lows, 0.90, family).low_k))
    assert np.all(np.isnan(extremes.goodness(lows)))
    assert extremes.plotting_years(lows).size == len(lows)


def test_two_lows_make_a_wide_gumbel_and_no_shape():
    low, value, high = bounds.level_interval([250.0, 252.0], 20)
    assert low < value < high and value - low > 20.0
    assert np.isnan(bounds.level_bound_k([250.0, 252.0], 20, 0.95, "gev"))


def test_once_a_year_or_less_has_no_level():
    fit = LowFit(252.0, 3.5, 0.0)
    assert level_k(fit, 1.0) == math.inf
    assert np.isnan(level_k(fit, 0.5))
