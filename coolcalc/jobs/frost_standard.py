"""The frost-protection standard of a depot: from its winters to one number on a sheet."""

import dataclasses
import functools
from collections.abc import Iterable
from typing import Any

from .. import units
from ..balance.atmosphere import LAPSE_K_M
from ..errors import InputError, Reader, one_of
from ..instruments import Refractometer
from ..instruments.instrument import Instrument
from ..mixture import Mixture
from ..strength import Strength
from . import winter_low
from .boil_margin import boil_margin
from .compared_nights import read_nights
from .frost_answer import FrostStandard
from .frost_plan import CHANCE, SWITCHES, Bound, Needs, plan_standard
from .inputs import (
    base_of,
    kept,
    read_altitude,
    read_found,
    read_shelf,
    read_unit_system,
)

#: Where a depot lies.
SITES = NOT_TOLD, OPEN, SLOPE, TOWN, HOLLOW = (
    "not told",
    "open",
    "slope",
    "town",
    "hollow or valley floor",
)

#: What is taken where nothing is told. Floor and ceiling: range of heavy-duty coolant in service
#: (source key ``astm-d6210``). Margin and mixing: by judgement, no source.
FLOOR, CEILING, MARGIN, MIXING = "40 % product", "60 % product", "3 K", "2 %"
TEST_EVERY = "before each winter, at midwinter, and after every top-up"

#: Ends of what is taken. [K, -]
MARGIN_MAX_K, SITE_K = 20.0, (-10.0, 25.0)
MIXING_MAX, LOST_MAX = 0.1, 0.3
CONFIDENCE = (0.6, 0.98)
NIGHT_STOPS_MAX = 12

#: Stronger than this no floor and no ceiling is. [kg/kg]
STRONGEST = 0.75


@dataclasses.dataclass(frozen=True)
class Site:
    """How a depot lies to its station.

    Attributes
    ----------
    kind : str
        One of `SITES`.
    station_m, depot_m : float or None
        Heights above the sea. [m]
    colder_k, doubt_k : float
        By how much the depot is colder, as counted, and its give or take at 95 %. [K]
    measured : bool
        Whether that was told, not worked out from heights.
    nights : int
        Nights that it was worked out from; 0 where it was told. [count]
    """

    kind: str
    station_m: float | None
    depot_m: float | None
    colder_k: float
    doubt_k: float
    measured: bool
    nights: int


def frost_standard(
    *,
    depot,
    pour,
    minima=None,
    column=None,
    fit=winter_low.GUMBEL,
    mean_extreme=None,
    sd_extreme=None,
    low=None,
    low_error=None,
    low_basis="",
    return_period="20 winters",
    site=NOT_TOLD,
    station_height=None,
    depot_height=None,
    colder_than_station=None,
    colder_error="0 K",
    nights=None,
    night_stops=None,
    margin=MARGIN,
    mixing_error=MIXING,
    instrument=None,
    confidence=0.95,
    without=(),
    floor=FLOOR,
    ceiling=CEILING,
    lost_between_tests="0 %",
    test_every=TEST_EVERY,
    today=None,
    hottest=None,
    cap="100 kPa",
    show_in="metric",
):
    """Set the frost-protection standard of a depot.

    Parameters
    ----------
    depot : str
        Its name, as the sheet prints it.
    pour : Product or sequence of Product
        What is mixed; strengths are per cent of the strongest.
    minima, column : path, bytes, DataFrame or rows; str
        Daily minima of a station, as `coolcalc.jobs.daily_minima.read_minima` takes them. [K]
    fit : str
        "Gumbel", or "GEV" from 30 winters on.
    mean_extreme, sd_extreme : text or Quantity, optional
        In place of daily minima: mean and standard deviation of the lowest of each year, as
        tables of building climatology print them. [K]
    low, low_error, low_basis : text or Quantity, text or Quantity, str; optional
        In place of both: a low, its give or take at 95 %, and what it rests on. [K]
    return_period : text or number
        The low is passed once in so many winters, 2 to 500.
    site : str
        How the depot lies: one of `SITES`.
    station_height, depot_height : text or Quantity, optional
        Above the sea. [m]
    colder_than_station, colder_error : text or Quantity, optional
        By how much the depot was found colder than the station on cold, clear nights (negative
        where it is warmer), and its give or take at 95 %. [K]
    nights : sequence of pairs, optional
        In place of both: lowest of the night at the station and in the yard, of five or more
        cold, clear, still nights; the difference and its give or take are worked out. [K]
    night_stops : dict, optional
        Name of a place on a route to its low on the same terms (text or Quantity), or to another
        depot's `FrostStandard`. [K]
    margin : text or Quantity
        Kept free between the coldest air and the freezing point. [K]
    mixing_error : text or number
        Give or take of the strength after filling, in per cent of product, at 95 %. [-]
    instrument : Refractometer or Hydrometer, optional
        With which vehicles are read; a refractometer by freezing point unless told.
    confidence : float
        One-sided chance of every doubt together, 0.6 to 0.98. [-]
    without : sequence of str
        What is not to be counted, of `SWITCHES`, or "confidence" for every doubt.
    floor, ceiling : text or Strength
        Weakest for the inhibitors, strongest for cooling; of the latter, what is above 60 mass %
        of glycol is told and not used.
    lost_between_tests : text or number
        Share of the coolant that plain water takes the place of between two tests. [-]
    test_every : str
        Interval of tests, as the sheet prints it.
    today : Mixture, Strength or text, optional
        The mix that vehicles run with now, to set the cooling beside.
    hottest, cap : text or Quantity, optional
        Hottest coolant in summer and pressure of the cap, for the margin to boiling at the
        height of the depot; nothing is worked out without `hottest`. [K, Pa]
    show_in : str
        One of `coolcalc.units.SYSTEMS`.

    Returns
    -------
    FrostStandard

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    Low: `coolcalc.climate`. The stack of margins: `coolcalc.jobs.frost_plan`. Cooling:
    `coolcalc.balance.cooling`.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> standard = frost_standard(depot="Upper yard", low="-27 °C", low_error="3 K", site="open",
    ...                           pour=[can, cc.WATER])
    >>> standard.decides, f"{100 * standard.strength.share:.0f} %"
    ('frost', '49 %')
    """
    asked = kept(locals())
    reader = Reader()
    unit_system = reader(read_unit_system, show_in)
    name = reader(_read_name, depot)
    shelf = reader(read_shelf, pour)
    product = reader(_glycol_of, shelf) if shelf else None
    years = reader(winter_low.read_years, return_period)
    known = (
        None
        if years is None
        else reader(
            functools.partial(_read_low, years=years),
            dict(minima=minima, column=column, fit=fit),
            (mean_extreme, sd_extreme),
            (low, low_error, low_basis),
        )
    )
    place = reader(
        _read_site,
        site,
        (station_height, depot_height),
        (colder_than_station, colder_error),
        nights,
    )
    stops = reader(_read_stops, night_stops)
    tool = reader(_read_instrument, instrument, product) if product else None
    needs = Needs(
        product,
        tool,
        reader(_read_confidence, confidence),
        reader(_read_within, "margin", margin, "temperature difference", 0.0, MARGIN_MAX_K),
        reader(_read_within, "mixing_error", mixing_error, "share", 0.0, MIXING_MAX),
        reader(_read_within, "lost_between_tests", lost_between_tests, "share", 0.0, LOST_MAX),
        reader(_read_strength, "floor", floor, product) if product else None,
        reader(_read_strength, "ceiling", ceiling, product) if product else None,
        reader(_read_without, without),
    )
    every = reader(winter_low.read_text, "test_every", test_every)
    now = reader(read_found, today, shelf, "today") if shelf and today is not None else None
    reader.raise_if_any()
    reader(_check_order, needs)
    reader.raise_if_any()
    home = functools.partial(_low_and_doubt, known)
    standard = plan_standard(home, stops, place.colder_k, place.doubt_k, needs)
    answer = FrostStandard(
        asked=asked,
        depot=name,
        shelf=shelf,
        winter_low=known,
        site=place,
        stops=stops,
        needs=needs,
        standard=standard,
        test_every=every,
        today=None if now is None else now.mixture,
        boil=None,
        unit_system=unit_system,
        step=units.measuring_step(0.01, unit_system.volume),
    )
    if hottest is None:
        return answer
    height = "0 m" if place.depot_m is None else units.Q(place.depot_m, "m")
    boil = boil_margin(
        found=answer.fill, cap=cap, altitude=height, hottest=hottest, show_in=show_in
    )
    return dataclasses.replace(answer, boil=boil)


def _read_name(depot):
    name = winter_low.read_text("depot", depot)
    if not name:
        raise InputError("depot", "", "nothing was entered; name the depot as the sheet is to.")
    return name


def _glycol_of(shelf):
    product = base_of(shelf)
    if product.is_water:
        raise InputError(
            "pour", product.name, "only water is listed; list the glycol product that is mixed."
        )
    return product


def _read_low(fitted, extremes, given, *, years):
    """Return the `WinterLow` by the one way that was told."""
    low, low_error, low_basis = given
    told = [
        field
        for field, value in (
            ("minima", fitted["minima"]),
            ("mean_extreme", extremes[0] if extremes[0] is not None else extremes[1]),
            ("low", low),
        )
        if value is not None
    ]
    if len(told) != 1:
        found = " and ".join(told) if told else ""
        raise InputError(
            told[0] if told else "low",
            found,
            f"{found + ' are given; keep one of them' if told else 'nothing was entered'}: daily "
            "minima of a station (minima), mean and deviation of its annual extremes "
            "(mean_extreme, sd_extreme), or a low and what it rests on (low, low_basis).",
        )
    if told == ["minima"]:
        return winter_low.from_minima(years=years, **fitted)
    if told == ["mean_extreme"]:
        return winter_low.from_extremes(*extremes, years)
    return winter_low.given(low, low_error, low_basis, years)


def _read_site(site, heights, colder, nights):
    reader = Reader()
    kind = reader(one_of, "site", site, SITES)
    station_m, depot_m = (
        None if each is None else reader(_under, field, each)
        for field, each in zip(("station_height", "depot_height"), heights, strict=True)
    )
    colder_k, doubt_k, count = reader(_read_colder, *colder, nights) or (None, 0.0, 0)
    reader.raise_if_any()
    if kind == HOLLOW and colder_k is None:
        raise InputError(
            "colder_than_station",
            "",
            "nothing was entered, and the depot lies in a hollow or on a valley floor, where cold "
            "air gathers: by how much is not to be told from heights. Hang a thermometer that "
            "keeps the lowest reading in the yard, compare it with the station on ten or more "
            "clear, still, cold nights, and enter them (nights); basins have been found 13 and "
            "24 K colder on their floor than 120 m higher (source key whiteman-2004).",
        )
    by_height = max((depot_m - station_m) * LAPSE_K_M, 0.0) if _both(station_m, depot_m) else 0.0
    return Site(
        kind,
        station_m,
        depot_m,
        by_height if colder_k is None else colder_k,
        doubt_k,
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
    if nights is not None:
        return read_nights(nights)
    doubt_k = _read_within("colder_error", error, "temperature difference", 0.0, 10.0)
    if colder is None:
        return None
    low, high = SITE_K
    colder_k = _read_within("colder_than_station", colder, "temperature difference", low, high)
    return colder_k, doubt_k, 0


def _both(*values):
    return all(value is not None for value in values)


def _under(field, height):
    try:
        return read_altitude(height)
    except InputError as error:
        raise error.under(field) from None


def _read_stops(night_stops):
    """Return (name, function of a chance that gives low and doubt) of each night stop."""
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
    stops = tuple(reader(_read_stop, name, low) for name, low in night_stops.items())
    reader.raise_if_any()
    return stops


def _read_stop(name, low):
    name = winter_low.read_text("night_stops", name)
    if isinstance(low, FrostStandard):
        return name, low.low_and_doubt
    return name, functools.partial(_told_low, winter_low.read_low("night_stops", low))


def _told_low(low_k, chance):
    return low_k, 0.0


def _low_and_doubt(known, chance):
    return known.low_k, known.doubt_k(chance)


def _read_instrument(instrument, product):
    if instrument is None:
        instrument = Refractometer(made_for=product.fluid)
    if not isinstance(instrument, Instrument):
        found = getattr(instrument, "name", repr(instrument))
        raise InputError(
            "instrument",
            found,
            f"{found} has no scale that a limit can stand on; give a refractometer or a "
            "hydrometer.",
        )
    instrument.must_suit(product.fluid, "instrument")
    return instrument


def _read_confidence(confidence):
    low, high = CONFIDENCE
    return units.read("confidence", confidence, "share", low=low, high=high)


def _read_within(field, value, kind, low, high):
    return units.read(field, value, kind, low=low, high=high)


def _read_strength(field, value, product):
    strength = Strength.of(field, value)
    frac_mass = strength.frac_mass(product)
    most = Mixture(product=product, frac_mass=STRONGEST).strength(strength.basis)
    if not 0.0 < frac_mass <= STRONGEST:
        raise InputError(
            field,
            str(strength),
            f"{strength} is not above 0 and up to {most}; no coolant is run stronger.",
        )
    return Bound(frac_mass, strength)


def _read_without(without):
    listed = isinstance(without, Iterable) and not isinstance(without, str)
    names = tuple(without) if listed else (without,)
    return frozenset(one_of("without", name, (*SWITCHES, CHANCE)) for name in names)


def _check_order(needs: Any):
    floor, ceiling = needs.floor.told, needs.ceiling.told
    if needs.floor.counted < needs.ceiling.counted:
        return
    raise InputError(
        "floor",
        str(floor),
        f"the floor ({floor}) is not weaker than the ceiling ({ceiling}); exchange them, or "
        "widen the range.",
    )
