"""The frost-protection standard of a depot: from its winters to one number on a sheet."""

import dataclasses
import functools
from collections.abc import Iterable

from .. import units
from ..errors import InputError, Reader, one_of
from ..instruments import Refractometer
from ..instruments.instrument import Instrument
from ..mixture import Mixture
from ..strength import Strength
from . import winter_low
from .boil_margin import boil_margin
from .frost_answer import FrostStandard
from .frost_inputs import NOT_TOLD, reach_of, read_site, read_stops, read_within
from .frost_plan import (
    CHANCE,
    SWITCHES,
    Bound,
    Needs,
    half_width_of_mixing,
    plan_standard,
)
from .inputs import (
    base_of,
    kept,
    read_found,
    read_shelf,
    read_unit_system,
)
from .winter_low import one_sided

#: What is taken where nothing is told. Floor and ceiling: range of heavy-duty coolant in service
#: (source key ``astm-d6210``). Margin and mixing: by judgement, no source.
FLOOR, CEILING, MARGIN, MIXING = "40 % product", "60 % product", "3 K", "2 %"
TEST_EVERY = "before each winter, at midwinter, and after every top-up"

#: Ends of what is taken: beyond 0.98 the draws of the low's doubt are too few; the others by
#: judgement, no source. [K, -]
MARGIN_MAX_K = 20.0
MIXING_MAX, LOST_MAX = 0.1, 0.3
CONFIDENCE = (0.6, 0.98)

#: Stronger than this no floor and no ceiling is. By judgement, no source. [kg/kg]
STRONGEST = 0.75


def frost_standard(
    *,
    depot,
    pour,
    minima=None,
    column=None,
    fit=winter_low.GUMBEL,
    mean_extreme=None,
    sd_extreme=None,
    extremes_of=None,
    low=None,
    low_error=None,
    low_basis="",
    return_period=None,
    site=NOT_TOLD,
    station_height=None,
    depot_height=None,
    colder_than_station=None,
    colder_error=None,
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
    mean_extreme, sd_extreme, extremes_of : text or Quantity, optional
        In place of daily minima: mean and standard deviation of the lowest of each year, as
        tables of building climatology print them, and of how many years they are. [K, K, count]
    low, low_error, low_basis : text or Quantity, text or Quantity, str; optional
        In place of both: a low, its give or take at 95 %, and what it rests on. [K]
    return_period : text or number, optional
        The low is passed once in so many winters, 2 to 500; 20 unless told. Of a given low: what
        it was given as, else not known.
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
        depot's `FrostStandard`, whose low of the same return period is taken. [K]
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
    known = reader(
        _read_low,
        dict(minima=minima, column=column, fit=fit),
        (mean_extreme, sd_extreme, extremes_of),
        (low, low_error, low_basis),
        return_period,
    )
    place = reader(
        read_site,
        site,
        (station_height, depot_height),
        (colder_than_station, colder_error),
        nights,
    )
    stops = reader(read_stops, night_stops, None if known is None else known.years)
    tool = reader(_read_instrument, instrument, product) if product else None
    needs = Needs(
        product,
        tool,
        reader(read_within, "confidence", confidence, "share", *CONFIDENCE),
        reader(read_within, "margin", margin, "temperature difference", 0.0, MARGIN_MAX_K),
        reader(read_within, "mixing_error", mixing_error, "share", 0.0, MIXING_MAX),
        reader(read_within, "lost_between_tests", lost_between_tests, "share", 0.0, LOST_MAX),
        reader(_read_strength, "floor", floor, product) if product else None,
        reader(_read_strength, "ceiling", ceiling, product) if product else None,
        reach_of(shelf, product) if product else None,
        reader(_read_without, without),
    )
    every = reader(_read_every, test_every)
    now = reader(read_found, today, shelf, "today") if shelf and today is not None else None
    reader.raise_if_any()
    reader(_check_order, needs)
    reader.raise_if_any()
    plan = functools.partial(plan_standard, known, place.colder_k, place.half_width_k or 0.0, stops)
    answer = FrostStandard(
        asked=asked,
        depot=name,
        shelf=shelf,
        winter_low=known,
        site=place,
        stops=stops,
        needs=needs,
        plan=plan,
        standard=plan(needs),
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


def _read_every(test_every):
    text = winter_low.read_text("test_every", test_every)
    if not text:
        raise InputError("test_every", "", "nothing was entered; say when vehicles are tested.")
    return text


def _glycol_of(shelf):
    product = base_of(shelf)
    if product.is_water:
        raise InputError(
            "pour", product.name, "only water is listed; list the glycol product that is mixed."
        )
    return product


def _read_low(fitted, extremes, given, return_period):
    """Return the `WinterLow` by the one way that was told, and refuse what belongs to another."""
    low, low_error, low_basis = given
    ways = {
        "minima": {"minima": fitted["minima"], "column": fitted["column"]},
        "mean_extreme": dict(
            zip(("mean_extreme", "sd_extreme", "extremes_of"), extremes, strict=True)
        ),
        "low": {"low": low, "low_error": low_error, "low_basis": low_basis or None},
    }
    heads = ("minima", "mean_extreme", "sd_extreme", "low")
    told = [way for way, parts in ways.items() if any(parts.get(h) is not None for h in heads)]
    if len(told) != 1:
        found = " and ".join(told) if told else ""
        raise InputError(
            told[0] if told else "low",
            found,
            f"{found + ' are given; keep one of them' if told else 'nothing was entered'}: daily "
            "minima of a station (minima), mean and deviation of its annual extremes "
            "(mean_extreme, sd_extreme), or a low and what it rests on (low, low_basis).",
        )
    (way,) = told
    for other, parts in ways.items():
        stray = [name for name, value in parts.items() if other != way and value is not None]
        if stray:
            raise InputError(
                stray[0],
                parts[stray[0]],
                f"it goes with {other}, and {way} is given; leave it out: it would not count.",
            )
    if way != "minima" and fitted["fit"] != winter_low.GUMBEL:
        raise InputError("fit", fitted["fit"], "only daily minima are fitted; leave it out.")
    usual = winter_low.RETURN_PERIOD if way != "low" else None
    told_years = usual if return_period is None else return_period
    years = None if told_years is None else winter_low.read_years(told_years)
    if way == "minima":
        return winter_low.from_minima(years=years, **fitted)
    if way == "mean_extreme":
        return winter_low.from_extremes(*extremes, years)
    return winter_low.given(low, low_error, low_basis, years)


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


def _check_order(needs):
    floor, ceiling = needs.floor.counted, needs.ceiling.counted
    guard = one_sided(needs.chance) if needs.counts("mixing") else 0.0
    least, most = (
        each + sign * guard * half_width_of_mixing(needs, each)
        for each, sign in ((floor, 1.0), (ceiling, -1.0))
    )
    if floor >= ceiling:
        raise InputError(
            "floor",
            str(needs.floor.told),
            f"the floor ({needs.floor.told}) is not weaker than the ceiling "
            f"({needs.ceiling.told}); exchange them, or widen the range.",
        )
    if least > most:
        raise InputError(
            "floor",
            str(needs.floor.told),
            f"from the floor ({needs.floor.told}) to the ceiling ({needs.ceiling.told}) there is "
            f"no room for what mixing may be out by (± {100 * needs.mixing:.3g} % of product); "
            "widen the range, or mix more closely.",
        )
    if needs.reach.most < floor:
        raise InputError(
            "pour",
            needs.product.name,
            f"what is listed cannot be mixed as strong as the floor ({needs.floor.told}); list a "
            "stronger product.",
        )
    if needs.reach.least > ceiling:
        raise InputError(
            "pour",
            needs.product.name,
            f"what is listed is stronger than the ceiling ({needs.ceiling.told}), and there is no "
            "water listed; list water too.",
        )
