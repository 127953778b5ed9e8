"""The low that a place comes to once in so many winters: from daily minima, or as it was told.

Three ways to it: daily minima of a station (fitted); the mean and standard deviation of its
annual extremes, as tables of building climatology print them; or a low that somebody gives.
"""

import dataclasses
import functools
import statistics
from typing import Any, NamedTuple

import numpy as np

from .. import units
from ..balance.spread import HALF_WIDTH_SD
from ..climate import bounds, extremes, winters
from ..errors import InputError, one_of
from .daily_minima import COLDEST_K, read_minima

#: Where a low comes from.
BASES = MINIMA, EXTREMES, GIVEN = ("daily minima", "mean and standard deviation", "given")

#: Families of extremes.
FITS = GUMBEL, GEV = ("Gumbel", "GEV")
_FAMILIES = {GUMBEL: extremes.gumbel_of, GEV: extremes.gev_of}

#: Lows of winters that are taken; beyond them a sign or a unit was mistaken. [K]
LOW_K = (COLDEST_K, 273.15 + 5.0)

#: Extremes of tables are of hourly values; a thermometer that keeps the lowest reading is so much
#: colder. Source key ``ashrae-climate``. [K]
HOURLY_K = 0.5

#: Winters that a printed mean and deviation may be of: tables ask for eight at least (source key
#: ``ashrae-climate``). [count]
EXTREMES_OF = (8.0, 300.0)

#: Return period where none is told; a given low says its own, or none. [winters]
RETURN_PERIOD = "20 winters"

#: Return periods that are taken. By judgement, no source. [winters]
WINTERS_RANGE = (2.0, 500.0)

#: Longest text that is printed on a sheet.
TEXT_MAX = 120


class Fitted(NamedTuple):
    """What daily minima give.

    Attributes
    ----------
    minima : coolcalc.jobs.daily_minima.DailyMinima
    begins : int
        Month in which a winter begins.
    each : coolcalc.climate.winters.Winters
        Winter by winter, the unused ones too.
    lowest_k : ndarray, (n,)
        Of the winters that count. [K]
    family : str
        One of `FITS`.
    fit : coolcalc.climate.extremes.LowFit
    other : coolcalc.climate.extremes.LowFit or None
        Of the other family; None where there are too few winters.
    goodness : coolcalc.climate.extremes.Goodness
    """

    minima: Any
    begins: int
    each: Any
    lowest_k: np.ndarray
    family: str
    fit: Any
    other: Any
    goodness: Any


@dataclasses.dataclass(frozen=True)
class WinterLow:
    """A low that comes once in so many winters.

    Attributes
    ----------
    low_k : float
        [K]
    years : float or None
        Return period; None where it was not told. [winters]
    basis : str
        One of `BASES`.
    told : str
        What a given low rests on, as it was told.
    error_k : float or None
        Give or take of a given low at 95 %; None where it was not told. [K]
    fitted : Fitted or None
    mean_k, sd_k, winters : float, float, int; or None
        Of the annual extremes, and of how many they are. [K, K, count]
    """

    low_k: float
    years: float | None
    basis: str
    told: str = ""
    error_k: float | None = None
    fitted: Fitted | None = None
    mean_k: float | None = None
    sd_k: float | None = None
    winters: int | None = None

    @property
    def hourly_k(self):
        """By how much a thermometer that keeps the lowest reading is colder, as counted. [K]."""
        return HOURLY_K if self.basis == EXTREMES else 0.0

    @property
    def formula_k(self):
        """Low by the published n-year formula, from the winters that were fitted. [K]."""
        lowest_k = self.fitted.lowest_k
        return float(extremes.n_year_low_k(lowest_k.mean(), lowest_k.std(ddof=1), self.years))

    @property
    def other_k(self):
        """Low by the other family; None where there are too few winters. [K]."""
        other = self.fitted.other
        return None if other is None else float(extremes.level_k(other, self.years))

    @property
    def doubt_known(self):
        """Whether anything is known of how sure it is."""
        return self.fitted is not None or self.winters is not None or self.error_k is not None

    def off_k(self, chances):
        """By how much the true low may be colder than this one, by one-sided chance. [K].

        Below 0 where it may be warmer; 0 where nothing is known of it.

        Parameters
        ----------
        chances : sequence of float
            [-]
        """
        if self.fitted is not None:
            bound = bounds.level_bounds_k(
                self.fitted.lowest_k, self.years, chances, self.fitted.family.casefold()
            )
        elif self.winters is not None:
            bound = bounds.moments_bounds_k(
                self.mean_k, self.sd_k, self.winters, self.years, chances
            )
        else:
            return np.array([one_sided(each) * (self.error_k or 0.0) for each in chances])
        return self.low_k - bound

    def at_years(self, years):
        """Return the low of another return period; None where there is no way to it."""
        if years == self.years:
            return self
        low_k = self.low_at_k(years)
        return None if low_k is None else dataclasses.replace(self, low_k=low_k, years=years)

    def low_at_k(self, years):
        """Low of another return period by the same fit; None where there is none. [K]."""
        if self.fitted is not None:
            return float(extremes.level_k(self.fitted.fit, years))
        if self.mean_k is not None:
            return float(extremes.n_year_low_k(self.mean_k, self.sd_k, years))
        return None

    def years_of(self, temp_k):
        """Return period of a low by the same fit; None where there is none. [winters]."""
        if self.fitted is not None:
            return float(extremes.years_of(self.fitted.fit, temp_k))
        if self.mean_k is not None:
            return float(
                extremes.years_of(extremes.gumbel_of_moments(self.mean_k, self.sd_k), temp_k)
            )
        return None


def one_sided(chance):
    """Return a one-sided bound in half-widths at 95 %. [-]."""
    return statistics.NormalDist().inv_cdf(chance) / HALF_WIDTH_SD


def read_years(winters_between):
    """Return a return period. [winters]."""
    low, high = WINTERS_RANGE
    value = units.read("return_period", winters_between, "winters")
    if not low <= value <= high:
        raise InputError(
            "return_period",
            winters_between,
            f"once in {value:g} winters is outside once in {low:g} to {high:g}; a frost standard "
            "is mostly set on once in 20 to 50 winters.",
        )
    return value


def read_text(field, text):
    """Return a line of text to print, or refuse what is none."""
    if not isinstance(text, str) or len(text) > TEXT_MAX or any(ord(sign) < 32 for sign in text):
        raise InputError(
            field, str(text)[:40], f"write one line of text of at most {TEXT_MAX} characters."
        )
    return " ".join(text.split())


def read_low(field, low):
    """Return a low of the air. [K]."""
    kelvin = units.read(field, low, "temperature")
    if not LOW_K[0] <= kelvin <= LOW_K[1]:
        found, cold, warm = (units.show(each, "temperature", "°C", 1) for each in (kelvin, *LOW_K))
        raise InputError(
            field,
            low,
            f"{found} is outside {cold} to {warm} for the lowest air of a winter. See whether "
            "a minus is missing, or the unit is another one.",
        )
    return kelvin


def given(low, error, told, years):
    """Return a `WinterLow` that somebody gives."""
    error_k = (
        None
        if error is None
        else units.read("low_error", error, "temperature difference", low=0.0, high=20.0)
    )
    return WinterLow(
        read_low("low", low), years, GIVEN, told=read_text("low_basis", told), error_k=error_k
    )


def from_extremes(mean, sd, count, years):
    """Return a `WinterLow` by the published n-year formula."""
    if mean is None or sd is None:
        missing = "mean_extreme" if mean is None else "sd_extreme"
        raise InputError(
            missing, "", "nothing was entered; the formula takes the mean and the deviation both."
        )
    mean_k = read_low("mean_extreme", mean)
    sd_k = units.read("sd_extreme", sd, "temperature difference", low=0.1, high=15.0)
    low, high = EXTREMES_OF
    count = None if count is None else units.read("extremes_of", count, "winters")
    if count is not None and not (low <= count <= high and count == int(count)):
        raise InputError(
            "extremes_of",
            count,
            f"{count:g} is no number of winters from {low:g} to {high:g}; leave it out if the "
            "table does not say.",
        )
    return WinterLow(
        float(extremes.n_year_low_k(mean_k, sd_k, years)),
        years,
        EXTREMES,
        mean_k=mean_k,
        sd_k=sd_k,
        winters=None if count is None else int(count),
    )


def from_minima(minima, column, years, fit):
    """Return a `WinterLow` fitted to daily minima."""
    one_of("fit", fit, FITS)
    fitted = _fitted(read_minima(minima, column), fit)
    return WinterLow(float(extremes.level_k(fitted.fit, years)), years, MINIMA, fitted=fitted)


@functools.lru_cache(maxsize=64)
def _fitted(table, fit):
    """Return what a record gives, but for the return period; kept, as the record itself is."""
    begins = winters.winter_begins(table.days, table.lowest_k)
    each = winters.winters_of(table.days, table.lowest_k, begins)
    lowest_k = each.lowest_k[each.used]
    _check_enough(table, each, lowest_k.size, fit)
    if np.ptp(lowest_k) <= 0.0:
        raise InputError(
            "minima",
            table.station,
            f"every winter of {table.station} has the same lowest figure; that is no measured "
            "record. Check the column.",
        )
    other = None
    if fit == GEV or lowest_k.size >= extremes.GEV_FROM:
        other = _FAMILIES[next(name for name in FITS if name != fit)](lowest_k)
    return Fitted(
        table,
        begins,
        each,
        lowest_k,
        fit,
        _FAMILIES[fit](lowest_k),
        other,
        extremes.goodness(lowest_k, each.first_year[each.used]),
    )


def _check_enough(table, each, count, fit):
    least = extremes.WINTERS_MIN
    if count < least:
        left_out = int(np.sum(~each.used))
        also = f" ({left_out} more have too many days missing)" if left_out else ""
        raise InputError(
            "minima",
            f"{count} winters",
            f"{table.station} has {count} winters that can be counted{also}, and a low that comes "
            f"once in many winters takes at least {least}, better 30. Take a longer record of a "
            "station near by, or give a low and what it rests on.",
        )
    if fit == GEV and count < extremes.GEV_FROM:
        raise InputError(
            "fit",
            fit,
            f"{count} winters are too few to tell the third figure of the GEV; from "
            f"{extremes.GEV_FROM} on it is fitted. Take Gumbel.",
        )
