"""Chances that a frost standard names, against draws made another way."""

import csv
import math
import types

import numpy as np
import pytest
from scipy import stats

import coolcalc as cc
from coolcalc import fluids
from coolcalc.climate import bounds, extremes
from coolcalc.jobs.frost_plan import plan_standard

from .published import DATA
from .test_frost_standard import CAN, celsius, depot, part_of, standard


def freezes_at(frac_mass):
    """Freezing point by straight lines between published rows of pure mixes. [°C]."""
    with (DATA / "published" / "freezing.csv").open(encoding="utf-8", newline="") as file:
        rows = sorted(
            (float(row["concentration"]) / 100.0, float(row["value"]))
            for row in csv.DictReader(file)
            if row["source"] == "crc-concentrative" and row["fluid"] == "ethylene glycol"
        )
    return np.interp(frac_mass, *np.transpose(rows))


@pytest.mark.parametrize("error_k", [1.0, 4.4])
def test_a_vehicle_read_at_the_limit_holds_with_the_chance_that_is_named(error_k):
    """30 winters of a known Gumbel law, fitted; a vehicle that reads just the limit; does it hold?

    The truth is drawn by SciPy: winters, the reading's error in kelvin, the curve's.
    """
    rng = np.random.default_rng(7)
    needs = standard(
        instrument=cc.Refractometer(made_for="ethylene glycol", error=f"{error_k} K"),
        floor="1 % product",
    ).needs
    stations, scale, location = 600, 2.2, -14.0
    true_low = location - scale * -math.log(-math.log(1 - 1 / 20))
    held, named = [], []
    for _ in range(stations):
        winters = stats.gumbel_l.rvs(location, scale, size=30, random_state=rng) + 273.15
        level = float(extremes.level_k(extremes.gumbel_of(winters), 20.0))
        low = types.SimpleNamespace(
            low_k=level,
            hourly_k=0.0,
            off_k=lambda chances, winters=winters, level=level: (
                level - bounds.level_bounds_k(winters, 20.0, chances)
            ),
        )
        made = plan_standard(low, 0.0, 0.0, (), needs)
        read = freezes_at(made.weakest)
        near_k = fluids.band("freeze_temp_k", "ethylene glycol", made.weakest)
        curve_k = (near_k[1] - near_k[0]) / 2 / 1.96
        frozen = read + rng.normal(0.0, error_k / 1.96, 40) + rng.normal(0.0, curve_k, 40)
        held.append(np.mean(frozen <= true_low - 3.0))
        # With every other doubt at nothing, the chance that is named for the fill as well.
        named.append(made.chance_holds)
    assert len(held) == stations
    # Errors of one station go together: its own spread tells how sure the mean is.
    sure = 3.0 * np.std(held) / math.sqrt(len(held))
    assert np.mean(held) == pytest.approx(0.95, abs=0.005 + sure)
    assert 0.95 < np.mean(named) <= 1.0


@pytest.mark.parametrize(
    ("low_c", "error_k", "mixing", "without"),
    [
        (-24.0, 1.0, 0.06, []),
        (-24.0, 6.0, 0.01, []),
        # The curve's own band is all that counts here.
        (-24.45, 0.1, 0.001, ["confidence"]),
        (-24.6, 0.1, 0.001, ["confidence"]),
    ],
)
def test_a_vehicle_that_is_filled_so_holds_with_the_chance_that_is_named(
    low_c, error_k, mixing, without
):
    """Low, curve and mixing drawn; freezing points by straight lines between published rows."""
    job = standard(
        low=f"{low_c} °C",
        low_error=f"{error_k} K",
        mixing_error=mixing,
        without=without,
        floor="1 % product",
        margin="0 K",
        confidence="75 %",
    )
    rng = np.random.default_rng(11)
    count = 100_000
    low = low_c + rng.normal(0.0, error_k / 1.96, count)
    share = job.strength.share + rng.normal(0.0, mixing / 1.96, count)
    # Shares of product to glycol by mass, between two strengths of the product by its own label.
    ends = np.array([0.2, 0.5])
    fracs = [CAN.mix(f"{100 * each:.0f} % product").frac_mass for each in ends]
    mixed = fracs[0] + (share - ends[0]) * (fracs[1] - fracs[0]) / (ends[1] - ends[0])
    low_k, high_k, _ = fluids.band("freeze_temp_k", "ethylene glycol", job.standard.fill)
    frozen = freezes_at(mixed) + rng.normal(0.0, (high_k - low_k) / 2 / 1.96, count)
    frozen += celsius(fluids.freeze_temp_k("ethylene glycol", job.standard.fill)) - freezes_at(
        np.interp(job.strength.share, ends, fracs)
    )  # the two curves are set to one at the fill: here the chance is asked about
    assert job.chance_to_hold == pytest.approx(np.mean(frozen <= low), abs=0.02)


def test_the_chance_of_a_short_depot_takes_the_doubt_as_skewed_as_it_is():
    """A record's own bounds, drawn anew by SciPy: where the fill is warmer than the likely low."""
    job = depot("Vorrahult")
    lows = job.winter_low.fitted.lowest_k
    rng = np.random.default_rng(5)
    drawn = stats.gumbel_r.rvs(size=(20_000, lows.size), random_state=rng)
    gini = np.sort(drawn, axis=1) @ (2 * np.arange(1, 31) - 31) / (30 * 29)
    scale = gini / math.log(2)
    place = drawn.mean(axis=1) - np.euler_gamma * scale
    variate = -math.log(-math.log(1 - 1 / 20))
    off = (variate - place - scale * variate) / scale * float(job.winter_low.fitted.fit.scale_k)
    low = job.winter_low.low_k - off
    rest = (
        math.hypot(
            0.5
            * np.diff(fluids.band("freeze_temp_k", "ethylene glycol", job.standard.fill)[:2])[0],
            0.02 * 150.0,  # ± 2 % of product at some 1.5 K a per cent: published rows by volume
        )
        / 1.96
    )
    frozen = job.fill.freeze_temp.m_as("kelvin") + rng.normal(0.0, rest, low.size)
    assert job.chance_to_hold == pytest.approx(np.mean(frozen <= low - 3.0), abs=0.02)


def test_no_chance_is_told_where_a_doubt_is_not_known():
    assert standard(low_error=None).chance_to_hold is None
    assert standard(colder_than_station="3 K").chance_to_hold is None
    assert standard(colder_than_station="3 K", colder_error="1 K").chance_to_hold > 0.9
    extreme = {"low": None, "low_error": None, "mean_extreme": "-20 °C", "sd_extreme": "4 K"}
    assert standard(**extreme).chance_to_hold is None
    few, many = (standard(**extreme, extremes_of=count) for count in ("10", "40"))
    assert few.chance_to_hold > 0.9
    assert part_of(few, "low").alone_k > 1.7 * part_of(many, "low").alone_k > 0.0


def test_bounds_of_the_formula_hold_as_often_as_named():
    """Mean and deviation of records of a known law, drawn by SciPy."""
    winters = stats.gumbel_l.rvs(250.0, 3.0, size=(2000, 25), random_state=np.random.default_rng(8))
    true = float(stats.gumbel_l.ppf(1 / 20, 250.0, 3.0))
    bound = [
        float(bounds.moments_bounds_k(each.mean(), each.std(ddof=1), 25, 20.0, (0.95,))[0])
        for each in winters
    ]
    assert np.mean(np.array(bound) <= true) == pytest.approx(0.95, abs=3 * math.sqrt(0.05 / 2000))


def test_a_fresh_fill_reads_within_the_limits_with_the_chance_that_is_named():
    job = standard(low="-30 °C")
    rng = np.random.default_rng(3)
    mixed = job.strength.share + rng.normal(0.0, 0.02 / 1.96, 200_000)
    # ± 2 °F by the slope of published rows by volume, 40 to 50 %: 1.3 K a per cent.
    read = mixed + rng.normal(0.0, 2.0 / 1.8 / 1.3 / 100 / 1.96, 200_000)
    weakest, strongest = (
        job.mixture_of(each).strength().share
        for each in (job.standard.weakest, job.standard.strongest)
    )
    within = np.mean((read >= weakest) & (read <= strongest))
    assert job.chance_within == pytest.approx(within, abs=0.02)
