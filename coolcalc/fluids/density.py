"""Density of glycol and water: one surface from pure water to pure glycol."""

import numpy as np

from ..errors import one_of
from . import coolprop
from ._coefficients import KELL_BOTTOM, KELL_CURVE, KELL_SLOPE, KELL_TOP
from .fluid import (
    TEMP_MAX_K,
    WATER_FREEZE_K,
    check,
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

#: Temperatures of the water that specific gravities are measured against: 60 °F, 20 °C. [K]
REFERENCE_60_F_K, REFERENCE_20_C_K = 273.15 + 28 / 1.8, 293.15

SOURCES = {
    "ethylene glycol": ("crc-concentrative", "melinder-2010", "vdi-atlas", "perry-8", "kell-1975"),
    "propylene glycol": (
        *("nakanishi-1967", "george-2003", "sun-2004", "eisenbach-2021", "crc-constants"),
        *("melinder-2010", "perry-8", "kell-1975"),
    ),
    "glycerol": (
        *("bosart-1927", "lange-15", "crc-concentrative", "melinder-2010", "volk-2018"),
        *("vdi-atlas", "kell-1975"),
    ),
}


def water_volume_m3_kg(temp_k):
    """Return the specific volume of water. [m^3/kg].

    Kell 1975 from 0 °C up. Below, its own parabola at 0 °C: mixes are liquid there and water is
    not, so this is only the smooth frame on which the fitted excess volume stands.
    """
    temp_c = temp_k - WATER_FREEZE_K
    warm, cold = np.maximum(temp_c, 0.0), np.minimum(temp_c, 0.0)
    volume = (1 + KELL_BOTTOM * warm) / horner(KELL_TOP, warm)
    return volume + cold * (KELL_SLOPE + cold * KELL_CURVE)


def glycol_volume_m3_kg(fluid, temp_k):
    """Return the specific volume of the pure glycol. [m^3/kg]."""
    return horner(fluid_named(fluid).glycol_volume, scaled_temp(temp_k))


def density_kg_m3_unchecked(fluid, frac_mass, temp_k):
    """Return `density_kg_m3` without its checks. [kg/m^3]."""
    here = fluid_named(fluid)

    def formula(frac_mass, temp_k):
        tau = scaled_temp(temp_k)
        rest = 1.0 - frac_mass
        # Water's own curve enters with the square of its share: it dies out among glycol.
        water = rest * water_volume_m3_kg(temp_k)
        cross = frac_mass * surface(here.cross_volume, rest - frac_mass, tau)
        return 1.0 / (frac_mass * horner(here.glycol_volume, tau) + rest * (water + cross))

    return in_chunks(formula, frac_mass, temp_k)


def _consensus(fluid, frac_mass, temp_k):
    check_covered(fluid, frac_mass, temp_k, TEMP_MAX_K)
    return density_kg_m3_unchecked(fluid, frac_mass, temp_k)


#: Density models by name.
MODELS = {"consensus": _consensus, "coolprop": coolprop.density_kg_m3}


def density_kg_m3(fluid, frac_mass, temp_k, model="consensus"):
    """Return the density of glycol and water at atmospheric pressure.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature: from where the mix may be liquid (`covered_from_k`, never below 213.15)
        to 403.15, under enough pressure to stay liquid. Broadcasts with `frac_mass`. [K]
    model : str
        "consensus", fitted to the published tables of the pure glycol and water, or "coolprop",
        asked live for comparison, up to ``FRAC_MASS_SETTLED_MAX`` only.

    Returns
    -------
    float or array
        Density. [kg/m^3]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``density.SOURCES``; residuals in the head of ``_coefficients.py``; check values in
    ``data/published/``. Inhibited products are up to 0.7 % denser: their additives are not
    part of this. Water alone is Kell 1975. The measured rows of mixes lie between 15 and 40 °C;
    colder and hotter, ethylene and propylene glycol up to 60 mass % rest on Melinder's
    polynomials, and all strengths on the pure liquids and on an excess volume that is held stiff.
    Glycerol above 40 °C: a formula (volk-2018) is the only voice on mixes, their excess is taken to
    fade as that of ethylene glycol does. How far to trust it: ``band("density_kg_m3", ...)``.

    Examples
    --------
    >>> round(density_kg_m3("ethylene glycol", 0.5, 293.15), 1)
    1064.6
    """
    surface = MODELS[one_of("model", model, MODELS)]
    fluid_named(fluid)
    frac_mass, temp_k = numeric_pair("glycol mass fraction", frac_mass, "temperature", temp_k)
    check_frac_mass(frac_mass, "mass fractions")
    density = surface(fluid, frac_mass, temp_k)
    return density if isinstance(density, np.ndarray) else float(density)


def specific_gravity_unchecked(fluid, frac_mass, temp_k, reference_temp_k=REFERENCE_60_F_K):
    """Return `specific_gravity` without its checks. [-]."""
    density = density_kg_m3_unchecked(fluid, frac_mass, temp_k)
    return density * water_volume_m3_kg(reference_temp_k)


def specific_gravity(fluid, frac_mass, temp_k, reference_temp_k=REFERENCE_60_F_K):
    """Return the density of glycol and water over that of water at a reference temperature.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]
    temp_k : float or array
        Temperature of the mix, as in `density_kg_m3`. [K]
    reference_temp_k : float or array
        Temperature of the water, 273.15 to 403.15: ``REFERENCE_60_F_K`` (15.6 °C, as hydrometers
        and tables in °F say "60/60") or ``REFERENCE_20_C_K`` ("20/20"). [K]

    Returns
    -------
    float or array
        Specific gravity. [-]

    Raises
    ------
    OutOfRangeError
        Outside the ranges above; NaN and inf too.
    UnknownChoiceError
        For another fluid.

    Notes
    -----
    Sources and bands of `density_kg_m3`, over 1000. Water's own density is that of 1 atm.

    Examples
    --------
    >>> round(specific_gravity("ethylene glycol", 0.5, 273.15 + 15.56), 3)
    1.068
    """
    density, reference_temp_k = numeric_pair(
        "mix", density_kg_m3(fluid, frac_mass, temp_k), "reference temperature", reference_temp_k
    )
    check(
        "reference temperature",
        reference_temp_k,
        WATER_FREEZE_K,
        TEMP_MAX_K,
        "K",
        "water",
    )
    return plain(density * water_volume_m3_kg(reference_temp_k))
