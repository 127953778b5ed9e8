"""The lowest temperature of each winter, from daily minima.

The block is the winter, not the calendar year: a cold spell over New Year is one event, and two
calendar years would count it twice. Where the cold half of the year lies is read from the record,
so that the same lines serve both hemispheres.
"""

from typing import NamedTuple

import numpy as np

#: Months in which a winter may begin: north, south.
NORTH, SOUTH = 7, 1

#: Days of the cold season that may be missing from a winter that is used. [count] etccdi: an
#: annual index is left out where more than 15 days of the year are missing. Counted here in the
#: cold season alone, since a missing day of summer takes no lowest away.
MISSING_MAX = 15

#: The cold season is the months whose mean minimum lies in so much of the way from the coldest to
#: the warmest month. [-] By judgement, no source: five months in a temperate climate. Of made-up
#: winters with 12 K between the months 2 in 100 have their lowest outside, with 16 K none.
COLD_SHARE = 1 / 3

#: It is no shorter than the season of climatology. [months]
COLD_MONTHS_MIN = 3

#: Months of the year that must be known to tell the hemisphere by them. [count]
HALF_YEAR = 6

_MONTHS = 12
_PHASE = 2.0 * np.pi * (np.arange(_MONTHS) + 0.5) / _MONTHS  # middle of each month
_HARMONIC = np.stack([np.ones(_MONTHS), np.cos(_PHASE), np.sin(_PHASE)], axis=1)


class Winters(NamedTuple):
    """Winters from the first to the last of which a day is known, (n,), in order of time.

    Attributes
    ----------
    first_year : ndarray of int
        Calendar year in which the winter begins.
    lowest_k : ndarray
        NaN where no day is known. Of a winter that is not used: the lowest of what is known. [K]
    lowest_day : ndarray of datetime64[D]
        The first day with it; NaT where no day is known.
    days : ndarray of int
        Days with a value. [count]
    missing : ndarray of int
        Days of the winter without one. [count]
    missing_cold : ndarray of int
        Days of the cold season without one. [count]
    used : ndarray of bool
        At most `MISSING_MAX` days of the cold season are missing.
    """

    first_year: np.ndarray
    lowest_k: np.ndarray
    lowest_day: np.ndarray
    days: np.ndarray
    missing: np.ndarray
    missing_cold: np.ndarray
    used: np.ndarray


def _known(days, minima_k):
    """Days with a value, in order of time; what is not finite is missing."""
    days = np.asarray(days, dtype="datetime64[D]")
    minima_k = np.asarray(minima_k, dtype=float)
    known = np.isfinite(minima_k) & ~np.isnat(days)
    days, minima_k = days[known], minima_k[known]
    order = np.argsort(days, kind="stable")
    return days[order], minima_k[order]


def _months_from_zero(days):
    """Whole months since January of year 0. [count]."""
    return days.astype("datetime64[M]").astype(int) + 1970 * _MONTHS


def _monthly_means_k(days, minima_k):
    """Mean minimum of January to December over the record; NaN where none is known. [K]."""
    month = _months_from_zero(days) % _MONTHS
    count = np.bincount(month, minlength=_MONTHS)
    total = np.bincount(month, weights=minima_k, minlength=_MONTHS)
    return np.where(count > 0, total / np.maximum(count, 1), np.nan)


def winter_begins(days, minima_k):
    """Return the month in which a winter begins: 7 in the north, 1 in the south.

    The split that lies in the warmer half of the year: the yearly wave through the means of the
    months says whether January or July is the cold one. A record of less than half of the months is
    taken as northern.

    Parameters
    ----------
    days : array_like of datetime64[D]
        In any order.
    minima_k : array_like
        NaN is missing. [K]

    Returns
    -------
    int
    """
    means_k = _monthly_means_k(*_known(days, minima_k))
    there = np.isfinite(means_k)
    if np.count_nonzero(there) < HALF_YEAR:
        return NORTH
    wave, *_ = np.linalg.lstsq(_HARMONIC[there], means_k[there], rcond=None)
    return SOUTH if wave[1] > 0.0 else NORTH


def cold_months(days, minima_k):
    """Which months are the cold season of this station, January to December.

    From the record itself: months in the coldest third of the way from the coldest to the warmest
    month (`COLD_SHARE`), and never fewer than the three coldest.

    Parameters
    ----------
    days : array_like of datetime64[D]
    minima_k : array_like
        NaN is missing. [K]

    Returns
    -------
    ndarray of bool, (12,)
    """
    means_k = _monthly_means_k(*_known(days, minima_k))
    if not np.any(np.isfinite(means_k)):
        return np.zeros(_MONTHS, dtype=bool)
    coldest, warmest = np.nanmin(means_k), np.nanmax(means_k)
    cold = means_k <= coldest + COLD_SHARE * (warmest - coldest)
    cold[np.argsort(means_k, kind="stable")[:COLD_MONTHS_MIN]] = True  # NaN sorts last
    return cold


def winters_of(days, minima_k, begins=None):
    """Return the lowest temperature of each winter.

    Partial winters, such as the first and the last of a record by calendar years, are used only
    where their cold season is covered.

    Parameters
    ----------
    days : array_like of datetime64[D]
        In any order, each at most once.
    minima_k : array_like
        Daily minimum; NaN is missing. [K]
    begins : int, optional
        Month in which a winter begins, `NORTH` or `SOUTH`; found from the record if not given.

    Returns
    -------
    Winters
    """
    days, minima_k = _known(days, minima_k)
    if days.size == 0:
        none = np.empty(0, dtype=int)
        no_day = np.empty(0, dtype="datetime64[D]")
        return Winters(none, np.empty(0), no_day, none, none, none, np.empty(0, dtype=bool))
    begins = winter_begins(days, minima_k) if begins is None else begins
    cold = cold_months(days, minima_k)

    month = _months_from_zero(days)
    year = (month - (begins - 1)) // _MONTHS
    first_year = np.arange(year[0], year[-1] + 1)
    at = year - year[0]
    count = np.bincount(at, minlength=first_year.size)
    cold_count = np.bincount(at, weights=cold[month % _MONTHS], minlength=first_year.size)

    # By winter, then by temperature, then by day: the first of each winter is its lowest.
    order = np.lexsort((days, minima_k, at))
    begin = np.cumsum(count) - count
    lowest = order[np.minimum(begin, order.size - 1)]
    empty = count == 0
    lowest_k = np.where(empty, np.nan, minima_k[lowest])
    lowest_day = np.where(empty, np.datetime64("NaT", "D"), days[lowest])

    length, cold_length = _lengths(first_year, begins, cold)
    missing_cold = cold_length - cold_count.astype(int)
    return Winters(
        first_year,
        lowest_k,
        lowest_day,
        count,
        length - count,
        missing_cold,
        ~empty & (missing_cold <= MISSING_MAX),
    )


def _lengths(first_year, begins, cold):
    """Days of each winter, and of its cold season, leap days counted. [count]."""
    month = (first_year * _MONTHS + begins - 1)[:, None] + np.arange(_MONTHS)
    starts = (month - 1970 * _MONTHS).astype("datetime64[M]")
    lengths = ((starts + 1).astype("datetime64[D]") - starts.astype("datetime64[D]")).astype(int)
    return lengths.sum(axis=1), np.sum(lengths * cold[month % _MONTHS], axis=1)


def colder_left_out(winters):
    """Return which winters are not used, though their known lowest is below that of all used.

    A gap takes nothing from a low that was seen: such a low is evidence that the fit has not had.

    Parameters
    ----------
    winters : Winters

    Returns
    -------
    ndarray of bool, (n,)
    """
    used_k = winters.lowest_k[winters.used]
    coldest_k = np.min(used_k) if used_k.size else np.inf
    return ~winters.used & (winters.lowest_k < coldest_k)
