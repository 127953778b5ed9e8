"""Lowest of each winter: by hand, by a plain loop, both hemispheres, gaps, partial winters."""

import datetime as dt

import numpy as np
import pytest

from coolcalc.climate import winters as kernel
from coolcalc.climate.winters import NORTH, SOUTH, cold_months, winter_begins, winters_of

COLDEST_NORTH, COLDEST_SOUTH = 15, 197  # day of the year


def span(first, last):
    """Every day from the first to the last, both with."""
    return np.arange(np.datetime64(first), np.datetime64(last) + 1)


def made_up(days, coldest=COLDEST_NORTH, seed=7, mean_k=278.0, swing_k=11.0):
    """Daily minima with a yearly wave and weather that lasts for days."""
    rng = np.random.default_rng(seed)
    day = (days - days.astype("datetime64[Y]")).astype(int)
    weather = np.zeros(days.size)
    push = rng.normal(0.0, 2.2, days.size)
    for at in range(1, days.size):
        weather[at] = 0.8 * weather[at - 1] + push[at]
    return mean_k - swing_k * np.cos(2 * np.pi * (day - coldest) / 365.25) + weather


def by_loop(days, minima_k, begins):
    """Lowest of each winter, day by day: the independent route."""
    lowest = {}
    for day, value in sorted(zip(days.tolist(), minima_k.tolist(), strict=True)):
        if np.isnan(value):
            continue
        year = day.year if day.month >= begins else day.year - 1
        if year not in lowest or value < lowest[year][0]:
            lowest[year] = (value, day)
    return lowest


# --- winters and calendar years -------------------------------------------------------------------


def test_a_cold_spell_over_new_year_counts_once_by_winter_and_twice_by_calendar_year():
    days = span("2000-07-01", "2006-06-30")
    minima_k = np.full(days.size, 280.0)
    minima_k[np.isin(days.astype("datetime64[M]").astype(int) % 12, (11, 0, 1))] = 270.0
    spell = (days >= np.datetime64("2003-12-29")) & (days <= np.datetime64("2004-01-04"))
    minima_k[spell] = 240.0
    by_winter = winters_of(days, minima_k)
    by_year = winters_of(days, minima_k, begins=SOUTH)
    assert np.count_nonzero(by_winter.lowest_k < 250.0) == 1
    assert by_winter.first_year[by_winter.lowest_k < 250.0].tolist() == [2003]
    assert by_year.first_year[by_year.lowest_k < 250.0].tolist() == [2003, 2004]


def test_a_winter_ends_with_june():
    days = np.array(["2003-06-30", "2003-07-01", "2004-06-30", "2004-07-01"], "datetime64[D]")
    found = winters_of(days, [260.0, 261.0, 259.0, 262.0], begins=NORTH)
    assert found.first_year.tolist() == [2002, 2003, 2004]
    assert found.lowest_k.tolist() == [260.0, 259.0, 262.0]
    assert found.lowest_day.astype(str).tolist() == ["2003-06-30", "2004-06-30", "2004-07-01"]
    found = winters_of(days, [260.0, 261.0, 259.0, 262.0], begins=SOUTH)
    assert found.first_year.tolist() == [2003, 2004]
    assert found.lowest_k.tolist() == [260.0, 259.0]


@pytest.mark.parametrize(
    ("coldest", "begins"),
    [(COLDEST_NORTH, NORTH), (COLDEST_SOUTH, SOUTH), (45, NORTH), (230, SOUTH)],
)
def test_the_hemisphere_is_read_from_the_record(coldest, begins):
    days = span("1998-01-01", "2004-12-31")
    minima_k = made_up(days, coldest)
    assert winter_begins(days, minima_k) == begins
    assert np.array_equal(winters_of(days, minima_k)[1], winters_of(days, minima_k, begins)[1])
    # Half a year will do, either half, and so will a record that begins anywhere.
    for first, last in (("10", "03"), ("04", "09")):
        part = span(f"2000-{first}-01", f"{2000 + (first > last)}-{last}-28")
        assert winter_begins(part, made_up(part, coldest)) == begins


def test_equals_a_plain_loop_day_by_day():
    rng = np.random.default_rng(11)
    for begins, coldest in ((NORTH, COLDEST_NORTH), (SOUTH, COLDEST_SOUTH)):
        days = span("1991-03-04", "2009-11-12")
        minima_k = np.round(made_up(days, coldest), 1)  # ties among the days
        minima_k[rng.random(days.size) < 0.05] = np.nan
        minima_k[(days > np.datetime64("1997-02-01")) & (days < np.datetime64("1999-09-01"))] = (
            np.nan
        )
        shuffled = rng.permutation(days.size)
        found = winters_of(days[shuffled], minima_k[shuffled])
        loop = by_loop(days, minima_k, begins)
        for year, low, day in zip(*found[:3], strict=True):
            if int(year) in loop:
                assert (low, day.item()) == loop[int(year)]
            else:
                assert np.isnan(low) and np.isnat(day)
        known = [each for each in found.first_year.tolist() if each in loop]
        assert known == list(loop) and len(known) < found.first_year.size


# --- what is missing ------------------------------------------------------------------------------


def test_days_of_a_winter_add_up_leap_years_too():
    days = span("1999-07-01", "2004-06-30")
    minima_k = made_up(days)
    minima_k[10:30] = np.nan
    found = winters_of(days, minima_k)
    assert (found.days + found.missing).tolist() == [366, 365, 365, 365, 366]
    assert found.missing.tolist() == [20, 0, 0, 0, 0]
    assert found.missing_cold.tolist() == [0] * 5  # July
    left_out = np.isfinite(minima_k)
    same = winters_of(days[left_out], minima_k[left_out])  # a missing line is a missing value
    for one, other in zip(found, same, strict=True):
        assert np.array_equal(one, other)


@pytest.mark.parametrize(("gap", "used"), [(15, True), (16, False)])
def test_fifteen_days_of_the_cold_season_may_be_missing(gap, used):
    """etccdi: left out where more than 15 days are missing."""
    days = span("1990-07-01", "2000-06-30")
    minima_k = made_up(days)
    at = np.flatnonzero(days == np.datetime64("1995-01-10"))[0]
    minima_k[at : at + gap] = np.nan
    found = winters_of(days, minima_k)
    of_1994 = found.first_year == 1994
    assert found.missing_cold[of_1994] == gap
    assert found.used[of_1994] == used
    assert np.all(found.used[~of_1994])


def test_a_summer_without_values_costs_no_winter():
    days = span("1990-07-01", "2000-06-30")
    minima_k = made_up(days)
    month = days.astype("datetime64[M]").astype(int) % 12 + 1
    minima_k[np.isin(month, (6, 7, 8)) & (days > np.datetime64("1993-01-01"))] = np.nan
    found = winters_of(days, minima_k)
    assert found.missing.max() == 92
    assert np.all(found.used)


def test_first_and_last_winter_of_calendar_years_are_not_used():
    days = span("1991-01-01", "2020-12-31")
    found = winters_of(days, made_up(days))
    assert found.first_year.tolist() == list(range(1990, 2021))
    assert found.used.tolist() == [False] + [True] * 29 + [False]
    assert np.all(np.isfinite(found.lowest_k))  # kept, to be seen
    # One that begins in autumn has its cold season.
    days = span("1990-11-05", "1999-04-20")
    assert np.all(winters_of(days, made_up(days)).used)


def test_a_colder_low_in_a_winter_that_is_not_used_is_found():
    days = span("1990-07-01", "2000-06-30")
    minima_k = made_up(days)
    gap = (days >= np.datetime64("1994-12-01")) & (days <= np.datetime64("1995-01-31"))
    minima_k[gap] = np.nan
    minima_k[days == np.datetime64("1995-02-09")] = 230.0
    found = winters_of(days, minima_k)
    assert found.first_year[kernel.colder_left_out(found)].tolist() == [1994]
    minima_k[days == np.datetime64("1997-02-09")] = 229.0
    assert not np.any(kernel.colder_left_out(winters_of(days, minima_k)))


# --- the cold season ------------------------------------------------------------------------------


def test_the_cold_season_of_printed_monthly_means():
    """Means of a month, one day each: 15 K above the coldest month, a third is 5 K."""
    days = np.array([f"2001-{month:02}-15" for month in range(1, 13)], "datetime64[D]")
    offsets = np.array([0.0, 1.0, 4.9, 5.1, 9.0, 13.0, 15.0, 14.0, 11.0, 7.0, 4.0, 2.0])
    cold = cold_months(days, 265.0 + offsets)
    assert (np.flatnonzero(cold) + 1).tolist() == [1, 2, 3, 11, 12]
    # Where only one month is near the coldest, the three coldest are taken.
    offsets = np.array([0.0, 8.0, 9.0, 10, 11, 12, 15, 14, 13, 12, 11, 9.5])
    assert (np.flatnonzero(cold_months(days, 265.0 + offsets)) + 1).tolist() == [1, 2, 3]


@pytest.mark.parametrize(("swing_k", "share"), [(6.0, 0.95), (8.0, 0.99), (17.0, 0.99)])
def test_the_lowest_of_a_winter_lies_in_the_cold_season(swing_k, share):
    days = span("1900-07-01", "2000-06-30")
    minima_k = made_up(days, swing_k=swing_k)
    lowest_day = winters_of(days, minima_k).lowest_day
    month = lowest_day.astype("datetime64[M]").astype(int) % 12
    cold = cold_months(days, minima_k)
    assert 3 <= np.count_nonzero(cold) <= 6
    assert np.mean(cold[month]) >= share


# --- ends -----------------------------------------------------------------------------------------


def test_nothing_known_gives_no_winter():
    for days, minima_k in (([], []), (span("2000-01-01", "2000-01-03"), [np.nan] * 3)):
        found = winters_of(days, minima_k)
        assert all(each.size == 0 for each in found)
        assert kernel.colder_left_out(found).size == 0
        assert winter_begins(days, minima_k) == NORTH
        assert not np.any(cold_months(days, minima_k))


def test_one_day_is_a_winter_that_is_not_used():
    found = winters_of([dt.date(2004, 2, 29)], [250.0])
    assert (found.first_year[0], found.lowest_k[0], found.days[0]) == (2003, 250.0, 1)
    assert found.missing[0] == 365 and not found.used[0]
    assert kernel.colder_left_out(found).tolist() == [True]


def test_what_is_not_finite_is_missing():
    days = span("2000-12-01", "2001-02-28")
    minima_k = made_up(days)
    broken = minima_k.copy()
    broken[3], broken[4] = -np.inf, np.inf
    found = winters_of(days, broken)
    assert found.days[0] == days.size - 2
    assert found.lowest_k[0] == np.delete(minima_k, [3, 4]).min()


def test_years_before_1970_and_far_ones():
    days = span("1899-07-01", "1901-06-30")
    found = winters_of(days, made_up(days))
    assert found.first_year.tolist() == [1899, 1900]
    assert found.days.tolist() == [365, 365]  # 1900 was no leap year
