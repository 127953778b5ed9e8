"""Heat capacity, thermal conductivity and viscosity of glycol and water: one form for the three.

y = w yg(T) + (1 - w) yw(T) + w (1 - w) P(w, T), where y is the heat capacity, the conductivity or
the logarithm of the viscosity; yg and yw are the pure liquids, P a stiff excess.
"""

import numpy as np

from ..errors import one_of
from . import coolprop
from ._coefficients import WATER_CONDUCTIVITY, WATER_HEAT_CAPACITY, WATER_VISCOSITY
from .fluid import (
    TEMP_MAX_K,
    check_frac_mass,
    fluid_named,
    horner,
    in_chunks,
    numeric_pair,
    plain,
    scaled_temp,
    surface,
)
from .freezing import check_covered

_PURE = ("perry-8-transport", "iapws-transport")

HEAT_CAPACITY_SOURCES = {
    "ethylene glycol": ("melinder-2010", "zabransky-2001", *_PURE),
    "propylene glycol": ("melinder-2010", "zabransky-2001", *_PURE),
    "glycerol": ("melinder-2010", "zabransky-2001", "iapws-transport"),
}
CONDUCTIVITY_SOURCES = {
    "ethylene glycol": ("melinder-2010", "vdi-transport", *_PURE),
    "propylene glycol": ("melinder-2010", *_PURE),
    "glycerol": ("melinder-2010", "vdi-transport", "iapws-transport"),
}
VISCOSITY_SOURCES = {
    "ethylene glycol": (
        *("yang-2003", "sun-teja-2003", "crc-concentrative", "melinder-2010"),
        *_PURE,
    ),
    "propylene glycol": ("sun-2004", "melinder-2010", *_PURE),
    "glycerol": (
        *("segur-1951", "cheng-2008", "crc-concentrative", "melinder-2010"),
        *("vdi-transport", "iapws-transport"),
    ),
}

#: Pole and zero of the temperature variable of the viscosity. [K]
_VOGEL_POLE_K, _VOGEL_ZERO_K = 120.0, 313.15


def _vogel_temp(temp_k):
    """Return the variable in which ln(viscosity) is nearly a straight line. [-]."""
    return (_VOGEL_ZERO_K - _VOGEL_POLE_K) / (temp_k - _VOGEL_POLE_K) - 1.0


def _mixed(frac_mass, temp_k, variable, water, glycol, excess):
    """Return y of the mix from its parts, polynomials in `variable` of the temperature."""

    def formula(frac_mass, temp_k):
        x = variable(temp_k)
        of_water = horner(water, x)
        result = surface(excess, frac_mass, x)
        result = result * (1.0 - frac_mass)
        result += horner(glycol, x)
        result -= of_water
        result = result * frac_mass
        return result + of_water

    return in_chunks(formula, frac_mass, temp_k)


def heat_capacity_j_kg_k_unchecked(fluid, frac_mass, temp_k):
    """Return `heat_capacity_j_kg_k` without its checks. [J/(kg K)]."""
    here = fluid_named(fluid)
    glycol, excess = here.heat_capacity_glycol, here.heat_capacity_excess
    return _mixed(frac_mass, temp_k, scaled_temp, WATER_HEAT_CAPACITY, glycol, excess)


def conductivity_w_m_k_unchecked(fluid, frac_mass, temp_k):
    """Return `conductivity_w_m_k` without its checks. [W/(m K)]."""
    here = fluid_named(fluid)
    glycol, excess = here.conductivity_glycol, here.conductivity_excess
    return _mixed(frac_mass, temp_k, scaled_temp, WATER_CONDUCTIVITY, glycol, excess)


def viscosity_pa_s_unchecked(fluid, frac_mass, temp_k):
    """Return `viscosity_pa_s` without its checks. [Pa s]."""
    here = fluid_named(fluid)
    glycol, excess = here.viscosity_glycol, here.viscosity_excess
    return np.exp(_mixed(frac_mass, temp_k, _vogel_temp, WATER_VISCOSITY, glycol, excess))


def _consensus(unchecked):
    """Return the checked model of a property."""

    def model(fluid, frac_mass, temp_k):
        check_covered(fluid, frac_mass, temp_k, TEMP_MAX_K)
        return unchecked(fluid, frac_mass, temp_k)

    return model


HEAT_CAPACITY_MODELS = {
    "consensus": _consensus(heat_capacity_j_kg_k_unchecked),
    "coolprop": coolprop.heat_capacity_j_kg_k,
}
CONDUCTIVITY_MODELS = {
    "consensus": _consensus(conductivity_w_m_k_unchecked),
    "coolprop": coolprop.conductivity_w_m_k,
}
VISCOSITY_MODELS = {
    "consensus": _consensus(viscosity_pa_s_unchecked),
    "coolprop": coolprop.viscosity_pa_s,
}


def _asked(models, model, fluid, frac_mass, temp_k):
    """Return what a model gives for checked arguments."""
    formula = models[one_of("model", model, models)]
    fluid_named(fluid)
    frac_mass, temp_k = numeric_pair("glycol mass fraction", frac_mass, "temperature", temp_k)
    check_frac_mass(frac_mass, "mass fractions")
    return plain(formula(fluid, frac_mass, temp_k))


def heat_capacity_j_kg_k(fluid, frac_mass, temp_k, model="consensus"):
    """Return the heat capacity of glycol and water at constant pressure.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature: from `covered_from_k` (never below 213.15) to 403.15. Broadcasts with
        `frac_mass`. [K]
    model : str
        "consensus", fitted to published tables and formulas of the pure glycol and water, or
        "coolprop", asked live for comparison, up to ``FRAC_MASS_SETTLED_MAX`` and in its range.

    Returns
    -------
    float or array
        Heat capacity. [J/(kg K)]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``transport.HEAT_CAPACITY_SOURCES``; residuals in the head of ``_coefficients.py``.
    Liquid water: IAPWS-95 at 1 atm, from 100 °C at 300 kPa, to 0.1 %. The mixes rest on one
    source, Melinder's polynomials: 10 to 60 mass %, to 100 °C (glycerol to 40 °C); stronger,
    and hotter, on the pure liquids and a stiff excess, which no row of a mix checks.

    Examples
    --------
    >>> round(heat_capacity_j_kg_k("ethylene glycol", 0.5, 333.15), -1)
    3500.0
    """
    return _asked(HEAT_CAPACITY_MODELS, model, fluid, frac_mass, temp_k)


def conductivity_w_m_k(fluid, frac_mass, temp_k, model="consensus"):
    """Return the thermal conductivity of glycol and water.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature: from `covered_from_k` (never below 213.15) to 403.15. Broadcasts with
        `frac_mass`. [K]
    model : str
        "consensus", fitted to published tables and formulas of the pure glycol and water, or
        "coolprop", asked live for comparison, up to ``FRAC_MASS_SETTLED_MAX`` and in its range.

    Returns
    -------
    float or array
        Thermal conductivity. [W/(m K)]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``transport.CONDUCTIVITY_SOURCES``; residuals in the head of ``_coefficients.py``.
    Liquid water: IAPWS R15-11 at 1 atm, from 100 °C at 300 kPa, to 0.2 %. The mixes rest on one
    source, Melinder's polynomials: 10 to 60 mass %, to 100 °C (glycerol to 40 °C). Hotter, the
    excess is held near what it is there: the polynomials rise on, the tables of inhibited fluids
    are flat. Above 60 mass % only the pure liquids hold it.

    Examples
    --------
    >>> round(conductivity_w_m_k("ethylene glycol", 0.5, 293.15), 2)
    0.4
    """
    return _asked(CONDUCTIVITY_MODELS, model, fluid, frac_mass, temp_k)


def viscosity_pa_s(fluid, frac_mass, temp_k, model="consensus"):
    """Return the dynamic viscosity of glycol and water.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature: from `covered_from_k` (never below 213.15) to 403.15. Broadcasts with
        `frac_mass`. [K]
    model : str
        "consensus", fitted to published tables and formulas of the pure glycol and water, or
        "coolprop", asked live for comparison, up to ``FRAC_MASS_SETTLED_MAX`` and in its range.

    Returns
    -------
    float or array
        Dynamic viscosity. [Pa s]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``transport.VISCOSITY_SOURCES``; residuals in the head of ``_coefficients.py``.
    Liquid water: IAPWS R12-08 at 1 atm, from 100 °C at 300 kPa, to 0.2 %. The logarithm is a
    polynomial in 1/(T - 120 K), in which it is nearly straight. Measured rows: ethylene glycol
    0 to 100 mass % at 20 to 80 °C, stronger than 50 mass % to 130 °C; propylene glycol at
    20 to 40 °C (fitted from 50 mass %, weaker ones are checks); glycerol at 20 and 30 °C, and a
    formula made on such rows from 0 to 100 °C. Below 0 °C the mixes rest on Melinder's polynomials
    alone.

    Examples
    --------
    >>> round(1000 * viscosity_pa_s("ethylene glycol", 0.5, 293.15), 1)
    3.8
    """
    return _asked(VISCOSITY_MODELS, model, fluid, frac_mass, temp_k)
