"""The daily minima of a weather station, read from a table as somebody kept it.

A row that cannot be used is listed with its reason; a day that stands twice, or far from the days
beside it, is named and kept. A missing day stays missing: nothing is filled in.
"""

import dataclasses
import datetime as dt
import re
from typing import NamedTuple

import numpy as np

from .. import units
from ..errors import CoolcalcError, InputError
from ..tables import rows_from

#: Coldest air measured at a station (Vostok, 21 July 1983; source key ``wmo-extremes``), and a
#: night that no station has had. [K]
COLDEST_K, WARMEST_K = 273.15 - 89.2, 273.15 + 45.0

#: Numbers that tables hold where nothing was measured. Common practice, no source.
NOTHING_MEASURED = frozenset({-99.0, -99.9, -999.0, -999.9, -9999.0, 99.9, 999.0, 999.9, 9999.0})

#: A day this far from both its neighbours is worth a look. By judgement, no source. [K]
FAR_K = 22.0

#: More days than this beyond what air can be are no single slips. By judgement, no source.
#: [count]
SLIPS_MAX = 4

#: Most rows that are read: two centuries and a half.
ROWS_MAX = 100_000

#: A plain number, which needs no reader of units.
_PLAIN = re.compile(rf"[+\-{units.MINUS}]?[0-9]+(?:\.[0-9]+)?")
_DATE = re.compile(r"([0-9]{4})-?([0-9]{2})-?([0-9]{2})(?:[T ]00:00(?::00(?:\.0+)?)?)?")

DATE = "date"


class _BeyondAirError(InputError):
    """A figure that no air has had."""


class BadDay(NamedTuple):
    """A row that cannot be used: its number (the header not counted), what stands there, why."""

    number: int
    found: str
    why: str


class Odd(NamedTuple):
    """A day that was kept, and is worth a look: the day, and why."""

    day: dt.date
    why: str


@dataclasses.dataclass(frozen=True, eq=False)
class DailyMinima:
    """Daily minima of one station.

    Attributes
    ----------
    station : str
        Name of the column.
    days : ndarray of datetime64[D], (n,)
        In order of time, each once.
    lowest_k : ndarray, (n,)
        [K]
    unit : str
        In which the table holds them.
    empty : int
        Rows with a date and no figure: days that were not measured.
    bad : tuple of BadDay
    odd : tuple of Odd
    """

    station: str
    days: np.ndarray
    lowest_k: np.ndarray
    unit: str
    empty: int
    bad: tuple
    odd: tuple


def read_minima(minima, column=None):
    """Read daily minima.

    Parameters
    ----------
    minima : path, str, bytes, pandas.DataFrame or sequence of dict
        With a column ``date`` (2004-01-31), and a column for each station, its unit in brackets:
        ``Fernside [°C]``.
    column : str, optional
        Name of the station, where there are several.

    Returns
    -------
    DailyMinima

    Raises
    ------
    InputError
        If it is no table, a column is missing or has no unit, or no row can be used.
    """
    if isinstance(minima, DailyMinima):
        return minima
    rows = rows_from("minima", minima, "daily minima")
    if not rows:
        raise InputError(
            "minima",
            type(minima).__name__,
            "that is no table of daily minima; give the path of a CSV file, a DataFrame or a list "
            "of rows, with a column date (2004-01-31) and one such as Fernside [°C].",
        )
    if len(rows) > ROWS_MAX:
        raise InputError(
            "minima", len(rows), f"{len(rows)} rows are more than {ROWS_MAX}; one row is one day."
        )
    date_header, header, station, unit = _columns(rows[0], column)
    days, values, bad, empty, beyond = [], [], [], 0, []
    for number, row in enumerate(rows, 1):
        date, value = row.get(date_header), row.get(header)
        if _is_empty(date) and _is_empty(value):
            continue
        try:
            day = _day(date)
            if _is_empty(value):
                empty += 1
                continue
            lowest = _lowest(value, unit)
        except CoolcalcError as error:
            bad.append(BadDay(number, f"{_shown(date)}: {_shown(value)}", error.what))
            if isinstance(error, _BeyondAirError):
                beyond.append(bad[-1])
            continue
        days.append(day)
        values.append(lowest)
    _check_any(days, bad, beyond, station, unit)
    days, values, twice = _each_once(np.array(days, "datetime64[D]"), np.array(values), unit)
    odd = (*twice, *_far_from_neighbours(days, values, unit))
    return DailyMinima(station, days, values, unit, empty, tuple(bad), odd)


def _is_empty(value):
    if value is None or (isinstance(value, str) and not value.strip()):
        return True
    return value != value  # NaN, NaT and what else is not itself


def _shown(value):
    return "nothing" if _is_empty(value) else str(value).strip()[:40]


def _columns(row, column):
    """Return the header of the dates, that of the minima, its name and its unit."""
    headers = [str(header) for header in row]
    named = {header: units.read_header(header) for header in headers if header.strip()}
    dates = [header for header, (name, _) in named.items() if name.casefold() == DATE]
    if not dates:
        raise InputError(
            "minima",
            ", ".join(headers)[:80],
            "there is no column date; name the column of the days so, and write days as "
            "2004-01-31.",
        )
    stations = {header: each for header, each in named.items() if header not in dates}
    if column is not None:
        wanted = units.read_header(str(column))[0].casefold()
        stations = {
            header: each for header, each in stations.items() if each[0].casefold() == wanted
        }
    if len(stations) != 1:
        known = ", ".join(name for header, (name, _) in named.items() if header not in dates)
        raise InputError(
            "column",
            "" if column is None else column,
            f"{'nothing was entered, and ' if column is None else f'{column}: '}the table has the "
            f"columns {known or 'date only'}; name the station whose minima are meant.",
        )
    ((header, (name, unit)),) = stations.items()
    if unit is None:
        raise InputError(
            "minima",
            header,
            f'the column "{header}" does not say in what; write {name} [°C] or {name} [°F].',
        )
    units.read(name, 0.0, "temperature", unit=unit)  # refuses what is no temperature
    return dates[0], header, name, unit


def _day(value):
    if isinstance(value, dt.date):  # a datetime too
        return np.datetime64(value.strftime("%Y-%m-%d"), "D")
    match = _DATE.fullmatch(str(value).strip())
    try:
        return np.datetime64(dt.date(*(int(each) for each in match.groups())), "D")
    except (AttributeError, ValueError):
        raise InputError(
            DATE,
            _shown(value),
            f"{_shown(value)} is no day written as 2004-01-31; write it so.",
        ) from None


def _lowest(value, unit):
    if isinstance(value, str) and _PLAIN.fullmatch(value.strip()):
        value = float(value.strip().replace(units.MINUS, "-"))
    if isinstance(value, (int, float, np.number)) and float(value) in NOTHING_MEASURED:
        raise InputError(
            "minimum",
            value,
            "that stands in many tables for a day that was not measured; leave the cell empty.",
        )
    kelvin = units.read("minimum", value, "temperature", unit=unit)
    if not COLDEST_K <= kelvin <= WARMEST_K:
        found, low, high = (
            units.show(each, "temperature", unit, 1) for each in (kelvin, COLDEST_K, WARMEST_K)
        )
        raise _BeyondAirError(
            "minimum",
            found,
            f"{found} is outside {low} (the coldest air measured at a station) to {high}; check "
            "the figure and the unit of the column.",
        )
    return kelvin


def _check_any(days, bad, beyond, station, unit):
    if not days:
        first = f" The first: {bad[0].why}" if bad else ""
        raise InputError(
            "minima", station, f"no day of {station} [{unit}] has a figure that can be used.{first}"
        )
    # A column in °F that says °C is too hot in every summer; single slips are listed.
    if len(beyond) > max(SLIPS_MAX, 0.05 * len(days)):
        raise InputError(
            "minima",
            f"{station} [{unit}]",
            f"{len(beyond)} days of {station} are beyond what air can be in {unit}. The first: "
            f"{beyond[0].why} The column is likely to be in another unit than its header says.",
        )


def _each_once(days, values, unit):
    """Return days and minima in order, a day that stands twice with its colder figure."""
    order = np.lexsort((values, days))  # of one day the coldest comes first
    days, values = days[order], values[order]
    first = np.concatenate([[True], days[1:] != days[:-1]])
    odd = []
    for day in np.unique(days[~first]):
        here = [units.show(each, "temperature", unit, 1) for each in values[days == day]]
        odd.append(
            Odd(
                day.astype(object),
                f"the day stands {len(here)} times ({', '.join(here)}); the coldest counts. Keep "
                "the right one.",
            )
        )
    return days[first], values[first], odd


def _far_from_neighbours(days, values, unit):
    one = np.timedelta64(1, "D")
    if days.size < 3:
        return []
    before, here, after = values[:-2], values[1:-1], values[2:]
    beside = (days[1:-1] - days[:-2] == one) & (days[2:] - days[1:-1] == one)
    far = beside & (np.minimum(abs(here - before), abs(here - after)) > FAR_K)
    far &= np.sign(here - before) == np.sign(here - after)

    def show(value_k):
        return units.show(value_k, "temperature", unit, 1)

    found = []
    for at in np.flatnonzero(far):
        text = f"{show(here[at])} between {show(before[at])} and {show(after[at])}"
        if here[at] > 273.15 and before[at] < 273.15:
            turned = units.to_display(here[at], "temperature", unit)
            text += f"; is a minus missing ({units.MINUS}{turned:.1f})?"
        found.append(Odd(days[at + 1].astype(object), f"{text} Check it against the station."))
    return found
