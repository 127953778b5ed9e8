"""Kernel: boiling points at an altitude and under a cap, air to boil, steam of what is opened hot.

Pressures of caps are above the outside air. Arrays of shape (n,) and floats run through the same
source; nothing here raises for a row.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import (
    TEMP_MAX_K,
    boil_temp_k_unchecked,
    density_kg_m3_unchecked,
    heat_capacity_j_kg_k_unchecked,
    water_vapor_pressure_pa_unchecked,
)
from ..fluids.boiling import boil_widths_k
from .atmosphere import WEATHER_PA, air_pressure_pa

#: Steps in which steam leaves; more change it by less than two in a thousand. [-]
STEPS = 8

#: Saturated vapour of water, ln(rho/rho_c) in powers of 1 - T/Tc, and its critical point. Source
#: key ``wagner-1993``, equation (3). [kg/m3, K]
_VAPOR_TERMS = (-2.03150240, -2.68302940, -5.38626492, -17.2991605, -44.7586581, -63.9201063)
_VAPOR_POWERS = tuple(sixths / 6.0 for sixths in (2.0, 4.0, 8.0, 18.0, 37.0, 71.0))
_CRITICAL_KG_M3, _CRITICAL_K = 322.0, 647.096

_SLOPE_STEP_K = 0.05


class OpenAndCapped(NamedTuple):
    """Boiling points of a mix by altitude, (n,).

    Attributes
    ----------
    outside_pa : ndarray
        Pressure of the outside air. [Pa]
    open_k, capped_k : ndarray
        Without pressure, and under the cap. [K]
    """

    outside_pa: np.ndarray
    open_k: np.ndarray
    capped_k: np.ndarray


class Parts(NamedTuple):
    """What a boiling point is uncertain by, one cause each, at 95 %. [K]."""

    strength: np.ndarray
    liquid: np.ndarray
    cap: np.ndarray
    weather: np.ndarray


class BoilBand(NamedTuple):
    """A boiling point with its ends at 95 %, (n,), and by which cause it may be lower or higher.

    ``low_k``, ``value_k``, ``high_k`` in K; the parts add in squares.
    """

    low_k: np.ndarray
    value_k: np.ndarray
    high_k: np.ndarray
    below: Parts
    above: Parts


class Flash(NamedTuple):
    """Steam of one kilogram of glycol and water that loses its pressure, (n,).

    NaN where the liquid is not above its boiling point without pressure.

    Attributes
    ----------
    steam_kg, steam_m3 : ndarray
        Mass, and volume at the pressure of the outside air. [kg/kg, m3/kg]
    left_frac_mass, left_k : ndarray
        Strength and temperature of the liquid that is left. [kg/kg, K]
    """

    steam_kg: np.ndarray
    steam_m3: np.ndarray
    left_frac_mass: np.ndarray
    left_k: np.ndarray


def open_and_capped(fluid, frac_mass, altitude_m, cap_gauge_pa):
    """Return the boiling points without pressure and under a cap, by altitude.

    Parameters
    ----------
    fluid : str
    frac_mass : float or ndarray
        Glycol over glycol + water. [kg/kg]
    altitude_m : float or ndarray
        Height above the sea; the standard atmosphere gives the outside air. [m]
    cap_gauge_pa : float or ndarray
        What the cap holds, above the outside air. [Pa]
    """
    outside = air_pressure_pa(altitude_m)
    return OpenAndCapped(
        outside,
        boil_temp_k_unchecked(fluid, frac_mass, outside),
        boil_temp_k_unchecked(fluid, frac_mass, outside + cap_gauge_pa),
    )


def boil_band(fluid, frac_mass, counted, half_width, outside_pa, gauge_pa, gauge_error_pa):
    """Return a boiling point with all that it is uncertain by.

    Parameters
    ----------
    fluid : str
    frac_mass, counted : float or ndarray
        Glycol over glycol + water, and the same with additives counted as glycol, which is as
        far as they may raise it. [kg/kg]
    half_width : float or ndarray
        Give or take of the strength at 95 %. [kg/kg]
    outside_pa, gauge_pa, gauge_error_pa : float or ndarray
        Outside air, what the cap holds above it, and the give or take of that. [Pa]

    Returns
    -------
    BoilBand
    """
    pressure = outside_pa + gauge_pa

    def boils(frac, at):
        return boil_temp_k_unchecked(fluid, frac, at)

    value = boils(frac_mass, pressure)
    below_curve, _ = boil_widths_k(fluid, frac_mass, pressure)
    _, above_curve = boil_widths_k(fluid, counted, pressure)
    below = Parts(
        value - boils(np.maximum(frac_mass - half_width, 0.0), pressure),
        below_curve + np.zeros_like(value),
        value - boils(frac_mass, pressure - gauge_error_pa),
        value - boils(frac_mass, pressure - WEATHER_PA),
    )
    above = Parts(
        boils(np.minimum(frac_mass + half_width, 1.0), pressure) - value,
        boils(counted, pressure) - value + above_curve,
        boils(frac_mass, pressure + gauge_error_pa) - value,
        boils(frac_mass, pressure + WEATHER_PA) - value,
    )
    return BoilBand(value - _in_squares(below), value, value + _in_squares(above), below, above)


def _in_squares(parts):
    return np.sqrt(sum(part**2 for part in parts))


def air_to_boil_k(boil_k, top_tank_k, outside_k):
    """Outside air at which the top tank boils, where its rise over the air stays the same. [K].

    Parameters
    ----------
    boil_k, top_tank_k, outside_k : float or ndarray
        Boiling point, and the top tank and the outside air as measured together. [K]

    Notes
    -----
    Source key ``sae-j1393``: the outside air at which the coolant at the radiator's inlet reaches
    its boiling point; a kelvin of air is taken as a kelvin of coolant.
    """
    return boil_k - (top_tank_k - outside_k)


def steam_volume_m3_kg(pressure_pa, temp_k):
    """Volume of steam at a pressure, at or a little above the boiling point of water. [m3/kg].

    Saturated vapour (source key ``wagner-1993``), grown with the absolute temperature.
    """
    saturated_k = boil_temp_k_unchecked("ethylene glycol", 0.0, pressure_pa)
    return temp_k / saturated_k / _saturated_vapor_kg_m3(saturated_k)


def heat_of_vaporization_j_kg(temp_k):
    """Heat that water takes to become steam, 0 to 200 °C. [J/kg].

    Notes
    -----
    Clapeyron's equation, T (dp/dT)(v'' - v'), on the vapour pressure and the vapour density of
    Wagner and Pruss. Source key ``wagner-1993``.
    """
    rise = water_vapor_pressure_pa_unchecked(temp_k + _SLOPE_STEP_K)
    rise = rise - water_vapor_pressure_pa_unchecked(temp_k - _SLOPE_STEP_K)
    liquid = density_kg_m3_unchecked("ethylene glycol", 0.0, np.minimum(temp_k, TEMP_MAX_K))
    growth = 1.0 / _saturated_vapor_kg_m3(temp_k) - 1.0 / liquid
    return temp_k * rise / (2.0 * _SLOPE_STEP_K) * growth


def _saturated_vapor_kg_m3(temp_k):
    tau = 1.0 - temp_k / _CRITICAL_K
    terms = zip(_VAPOR_TERMS, _VAPOR_POWERS, strict=True)
    return _CRITICAL_KG_M3 * np.exp(sum(term * tau**power for term, power in terms))


def flash(fluid, frac_mass, hot_k, outside_pa, lower_k=0.0):
    """Return the steam of a liquid that loses its pressure, step by step.

    The liquid cools to the boiling point of what is left of it, and its heat turns water to
    steam: dm = m c dT/h. The glycol stays, so what is left boils hotter and hotter.

    Parameters
    ----------
    fluid : str
    frac_mass : float or ndarray
        Glycol over glycol + water. [kg/kg]
    hot_k : float or ndarray
        The liquid before; its heat capacity is taken at `TEMP_MAX_K` where it is hotter. [K]
    outside_pa : float or ndarray
        Outside air. [Pa]
    lower_k : float or ndarray
        By how much the boiling points are taken lower than they are likely to be. [K]

    Returns
    -------
    Flash
    """

    def gap_k(frac, temp):
        return temp - (boil_temp_k_unchecked(fluid, frac, outside_pa) - lower_k)

    above = gap_k(frac_mass, hot_k) > 0.0
    temp, frac = np.where(above, hot_k, np.nan), frac_mass
    kilograms = 1.0
    # The last one makes up for what the steam of the one before it moved the boiling point.
    for to_go in (*range(STEPS, 0, -1), 1):
        drop = gap_k(frac, temp) / to_go
        middle = temp - 0.5 * drop
        capacity = heat_capacity_j_kg_k_unchecked(fluid, frac, np.minimum(middle, TEMP_MAX_K))
        kilograms = kilograms * np.exp(-capacity * drop / heat_of_vaporization_j_kg(middle))
        temp, frac = temp - drop, frac_mass / kilograms
    steam = 1.0 - kilograms
    return Flash(steam, steam * steam_volume_m3_kg(outside_pa, temp), frac, temp)
