"""How far a mix is from boiling, under its cap and at its altitude."""

import numpy as np

from .. import fluids, units
from ..balance import atmosphere, boiling
from ..balance.composition import frac_mass_counted
from ..errors import InputError, OutOfRangeError, Reader
from ..fluids.boiling import PRESSURE_RANGE_PA
from .boil_margin_answer import BoilMargin
from .boil_margin_words import MARKED_SHARE, TESTER_PA
from .inputs import (
    CAP_MAX_PA,
    kept,
    read_altitude,
    read_cap,
    read_mix,
    read_system,
    read_unit_system,
)

#: Coolant and outside air that are taken; beyond them a unit was mistaken. [K]
COOLANT_K, OUTSIDE_K = (273.15, 423.15), (223.15, 333.15)


def boil_margin(
    *,
    found,
    cap="100 kPa",
    cap_holds=None,
    altitude="0 m",
    hottest=None,
    top_tank=None,
    outside=None,
    system=None,
    show_in="metric",
):
    """Work out where a mix boils, and how far its hottest coolant is from it.

    Parameters
    ----------
    found : Reading, Mixture or WATER
        What is inside.
    cap : text, Quantity or None
        Pressure marked on the cap, above the outside air; None where there is none. [Pa]
    cap_holds : text or Quantity, optional
        What a cap tester showed that it holds; 0 for one that holds nothing. [Pa]
    altitude : text or Quantity
        Height above the sea, −500 to 6,000 m. [m]
    hottest : text or Quantity, optional
        Hottest coolant, measured or specified, 0 to 150 °C. [K]
    top_tank, outside : text or Quantity, optional
        Top tank (radiator inlet) and outside air, measured together at full load; for air to
        boil. Where `hottest` is not told, the top tank is the hottest coolant. [K]
    system : CoolingSystem, optional
        For the litres of steam of what it holds.
    show_in : str
        One of `coolcalc.units.SYSTEMS`.

    Returns
    -------
    BoilMargin

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Notes
    -----
    Boiling points: `coolcalc.fluids.boil_temp_k`. Outside air: source key ``iso-2533``. Steam:
    source key ``wagner-1993``.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = boil_margin(found=can.mix("50 % product"), hottest="105 °C")
    >>> job.verdict
    'margin'
    >>> [round(each) for each in job.margin_k]
    [21, 24, 26]
    """
    asked = kept(locals())
    reader = Reader()
    inside = reader(read_mix, found)
    cap_pa = reader(read_cap, cap)
    holds_pa = reader(_read_holds, cap_holds, cap)
    altitude_m = reader(read_altitude, altitude)
    hottest_k = reader(_read_temp, "hottest", hottest, COOLANT_K)
    top_tank_k = reader(_read_temp, "top_tank", top_tank, COOLANT_K)
    outside_k = reader(_read_temp, "outside", outside, OUTSIDE_K)
    reader(_check_together, top_tank, outside)
    read = None if system is None else reader(read_system, system)
    unit_system = reader(read_unit_system, show_in)
    reader.raise_if_any()
    reader(_check_rise, top_tank_k, outside_k, unit_system)
    reader(_check_hottest, hottest_k, top_tank_k, unit_system)
    tested = holds_pa is not None
    # A cap that holds more than it should lets go too late: its marking is what to count on.
    held_pa = min(holds_pa, cap_pa) if tested else cap_pa or 0.0
    gauge_pa = np.array([0.0, cap_pa or 0.0, held_pa])
    outside_pa = float(atmosphere.air_pressure_pa(altitude_m))
    reader(_check_covered, inside.mixture, outside_pa, gauge_pa, unit_system)
    reader.raise_if_any()

    mixture = inside.mixture
    points = boiling.boil_band(
        mixture.fluid,
        mixture.frac_mass,
        frac_mass_counted(mixture.share),
        mixture.half_width,
        outside_pa,
        gauge_pa,
        np.array(
            [0.0, MARKED_SHARE * gauge_pa[1], TESTER_PA if tested else MARKED_SHARE * held_pa]
        ),
    )
    hot_k = top_tank_k if hottest_k is None else hottest_k
    flash = None
    if hot_k is not None and hot_k > points.low_k[0]:
        lower_k = float(points.value_k[0] - points.low_k[0])
        flash = boiling.flash(mixture.fluid, mixture.frac_mass, hot_k, outside_pa, lower_k)
    return BoilMargin(
        asked=asked,
        found=inside.told,
        before=mixture,
        cap_pa=cap_pa,
        held_pa=held_pa,
        tester_pa=holds_pa,
        altitude_m=altitude_m,
        outside_pa=outside_pa,
        points=points,
        hottest_k=hottest_k,
        top_tank_k=top_tank_k,
        outside_k=outside_k,
        system=read,
        flash=flash,
        unit_system=unit_system,
        step=units.measuring_step(read.capacity_m3 if read else 0.01, unit_system.volume),
    )


def _read_holds(cap_holds, cap):
    if cap_holds is None:
        return None
    value = units.read("cap_holds", cap_holds, "gauge pressure", low=0.0, high=CAP_MAX_PA)
    if cap is None:
        raise InputError(
            "cap_holds",
            cap_holds,
            "there is no cap that could hold it; enter the pressure marked on the cap too, or "
            "leave both out.",
        )
    return value


def _read_temp(field, temp, limits):
    if temp is None:
        return None
    low, high = limits
    return units.read(field, temp, "temperature", low=low, high=high)


def _check_together(top_tank, outside):
    if (top_tank is None) == (outside is None):
        return
    missing, told = ("outside", "top_tank") if outside is None else ("top_tank", "outside")
    raise InputError(
        missing,
        "",
        f"nothing was entered, and {told} was; air to boil needs both, measured together at full "
        "load.",
    )


def _check_rise(top_tank_k, outside_k, unit_system):
    if top_tank_k is None or top_tank_k > outside_k:
        return
    tank, air = (_shown(each, unit_system) for each in (top_tank_k, outside_k))
    raise InputError(
        "top_tank",
        tank,
        f"{tank} is not above the outside air ({air}), and at full load it always is. Check both "
        "numbers and their units.",
    )


def _check_hottest(hottest_k, top_tank_k, unit_system):
    if hottest_k is None or top_tank_k is None or hottest_k >= top_tank_k:
        return
    hot, tank = (_shown(each, unit_system) for each in (hottest_k, top_tank_k))
    raise InputError(
        "hottest",
        hot,
        f"{hot} is below the top tank ({tank}), which is coolant too. Enter the hottest of all "
        "coolant, or leave it out: the top tank is then taken.",
    )


def _check_covered(mixture, outside_pa, gauge_pa, unit_system):
    """Refuse what lies beyond the boiling points that are covered."""
    most_pa = float(outside_pa + gauge_pa.max())
    unit = f"{unit_system.gauge_pressure.split()[0]} absolute"
    if most_pa > PRESSURE_RANGE_PA[1]:
        found, limit = (
            units.show(each, "absolute pressure", unit, 0)
            for each in (most_pa, PRESSURE_RANGE_PA[1])
        )
        raise InputError(
            "cap",
            found,
            f"cap and outside air together are {found}, above {limit}, up to which boiling points "
            "are given. Check the number and its unit: caps of vehicles are marked far lower.",
        )
    try:
        fluids.boil_temp_k(mixture.fluid, mixture.frac_mass, most_pa)
    except OutOfRangeError as error:
        limit = _shown(error.high, unit_system)
        raise InputError(
            "found",
            f"{100.0 * mixture.frac_mass:.0f} % mass glycol",
            f"{100.0 * mixture.frac_mass:.0f} mass % of glycol boils hotter than {limit} under "
            "this cap, up to which boiling points are given. No engine is run on so strong a mix: "
            "check the strength.",
        ) from None


def _shown(temp_k, unit_system):
    return units.show(temp_k, "temperature", unit_system.temperature, 0)
