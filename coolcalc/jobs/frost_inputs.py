"""What a frost standard is told of the depot, its night stops, and what there is to mix."""

import dataclasses
import math

from .. import fluids, units
from ..balance.atmosphere import LAPSE_K_M
from ..errors import InputError, Reader, one_of
from ..mixture import Mixture
from ..strength import OF_PRODUCT, Strength
from . import winter_low
from .compared_nights import read_nights
from .frost_answer import FrostStandard
from .frost_plan import Reach, Stop
from .inputs import read_altitude

#: Where a depot lies.
SITES = NOT_TOLD, OPEN, SLOPE, TOWN, HOLLOW = (
    "not told",
    "open",
    "slope",
    "town",
    "hollow or valley floor",
)

#: By how much a yard may be colder than its station. By judgement, no source: basins have been
#: found up to 24 K colder (source key ``whiteman-2004``). [K]
SITE_K = (-10.0, 25.0)

#: Most night stops that are taken.
NIGHT_STOPS_MAX = 12


@dataclasses.dataclass(frozen=True)
class Site:
    """How a depot lies to its station.

    Attributes
    ----------
    kind : str
        One of `SITES`.
    station_m, depot_m : float or None
        Heights above the sea. [m]
    colder_k : float
        By how much the depot is colder, as counted. [K]
    half_width_k : float or None
        Its give or take at 95 %; None where it is not known. [K]
    measured : bool
        Whether that was told, not worked out from heights.
    nights : int
        Nights that it was worked out from; 0 where it was told. [count]
    """

    kind: str
    station_m: float | None
    depot_m: float | None
    colder_k: float
    half_width_k: float | None
    measured: bool
    nights: int


def reach_of(shelf, product):
    """Return what can be mixed of what is listed.

    A product that can be filled as it is, without water listed, is. Of a concentrate it goes
    without saying that water is poured with it.
    """
    strongest = max(each.frac_mass for each in shelf)
    ready = strongest <= fluids.FRAC_MASS_SETTLED_MAX
    if ready and not any(each.is_water for each in shelf):
        return Reach(min(each.frac_mass for each in shelf), strongest)
    percent = 100.0 * Mixture(product=product, frac_mass=strongest).strength().share
    whole = Strength(math.floor(percent + 1e-6) / 100.0, OF_PRODUCT)
    return Reach(0.0, whole.frac_mass(product))


def read_site(site, heights, colder, nights):
    """Return the `Site` of a depot."""
    reader = Reader()
    kind = reader(one_of, "site", site, SITES)
    station_m, depot_m = (
        None if each is None else reader(_under, field, each)
        for field, each in zip(("station_height", "depot_height"), heights, strict=True)
    )
    colder_k, half_width_k, count = reader(_read_colder, *colder, nights) or (None, None, 0)
    reader.raise_if_any()
    if kind == HOLLOW and colder_k is None:
        raise InputError(
            "colder_than_station",
            "",
            "nothing was entered, and the depot lies in a hollow or on a valley floor, where cold "
            "air gathers: by how much is not to be told from heights. Hang a thermometer that "
            "keeps the lowest reading in the yard, compare it with the station on ten or more "
            "clear, still, cold nights, and enter them (nights); basins have been found 13 and "
            "24 K colder on their floor than 120 m higher (Whiteman and others, 2004).",
        )
    by_height = max((depot_m - station_m) * LAPSE_K_M, 0.0) if _both(station_m, depot_m) else 0.0
    return Site(
        kind,
        station_m,
        depot_m,
        by_height if colder_k is None else colder_k,
        half_width_k,
        colder_k is not None,
        count,
    )


def _read_colder(colder, error, nights):
    """Return by how much the yard is colder, its give or take, and by how many nights."""
    if nights is not None and colder is not None:
        raise InputError(
            "nights",
            len(nights) if hasattr(nights, "__len__") else "",
            "the nights are given, and colder_than_station too; keep one of them.",
        )
    half_width_k = (
        None
        if error is None
        else read_within("colder_error", error, "temperature difference", 0.0, 10.0)
    )
    if error is not None and colder is None:
        raise InputError(
            "colder_error",
            error,
            "it is the give or take of colder_than_station, which was not entered; enter both, or "
            "leave it out.",
        )
    if nights is not None:
        return read_nights(nights)
    if colder is None:
        return None
    low, high = SITE_K
    colder_k = read_within("colder_than_station", colder, "temperature difference", low, high)
    return colder_k, half_width_k, 0


def _both(*values):
    return all(value is not None for value in values)


def _under(field, height):
    try:
        return read_altitude(height)
    except InputError as error:
        raise error.under(field) from None


def read_stops(night_stops, years):
    """Return the `Stop` of each place on a route."""
    if night_stops is None:
        return ()
    if not hasattr(night_stops, "items"):
        raise InputError(
            "night_stops",
            night_stops,
            "give each place with its low: {'pass house': '-31 °C'}.",
        )
    if len(night_stops) > NIGHT_STOPS_MAX:
        raise InputError(
            "night_stops",
            len(night_stops),
            f"{len(night_stops)} are more than {NIGHT_STOPS_MAX}; list the coldest.",
        )
    reader = Reader()
    stops = tuple(reader(_read_stop, name, low, years) for name, low in night_stops.items())
    reader.raise_if_any()
    return stops


def _read_stop(name, low, years):
    name = winter_low.read_text("night_stops", name)
    if not name:
        raise InputError("night_stops", "", "a place has no name; name it as the sheet is to.")
    if not isinstance(low, FrostStandard):
        return Stop(name, winter_low.read_low("night_stops", low))
    there = None if years is None else low.winter_low.at_years(years)
    if there is None:
        raise InputError(
            "night_stops",
            name,
            f"the low of {name} and that of this depot do not say that they come once in as many "
            "winters; tell the return period of both, and the same.",
        )
    return Stop(
        name,
        there.low_k - there.hourly_k - low.site.colder_k,
        there.off_k if there.doubt_known else None,
        low.site.half_width_k if low.site.measured else 0.0,
    )


def read_within(field, value, kind, low, high):
    """Return a value within limits. [SI unit of the kind]."""
    return units.read(field, value, kind, low=low, high=high)
