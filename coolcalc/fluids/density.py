"""Density of glycol and water: one surface from pure water to pure glycol."""

import numpy as np

from ..errors import one_of
from . import coolprop
from ._coefficients import KELL_BOTTOM, KELL_CURVE, KELL_SLOPE, KELL_TOP
from .fluid import (
    DENSITY_TEMP_MAX_K,
    FRAC_MASS_SETTLED_MAX,
    TEMP_SLACK_K,
    WATER_FREEZE_K,
    check,
    check_frac_mass,
    fluid_named,
    horner,
    numeric,
    scaled_temp,
    surface,
)
from .freezing import liquid_from_k

SOURCES = {
    "ethylene glycol": ("crc-concentrative", "melinder-2010", "vdi-atlas", "perry-8", "kell-1975"),
    "propylene glycol": (
        *("nakanishi-1967", "george-2003", "sun-2004", "eisenbach-2021", "crc-constants"),
        *("melinder-2010", "perry-8", "kell-1975"),
    ),
    "glycerol": (
        *("bosart-1927", "lange-15", "crc-concentrative", "melinder-2010", "volk-2018"),
        "kell-1975",
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
    excess = surface(fluid_named(fluid).excess_volume, frac_mass, scaled_temp(temp_k))
    water = water_volume_m3_kg(temp_k)
    glycol = glycol_volume_m3_kg(fluid, temp_k)
    return 1.0 / (water + frac_mass * (glycol - water + (1.0 - frac_mass) * excess))


def _consensus(fluid, frac_mass, temp_k):
    # Above 60 mass % no freezing point is settled, so the range starts at 0 °C.
    low = np.where(
        np.less_equal(frac_mass, FRAC_MASS_SETTLED_MAX),
        liquid_from_k(fluid, frac_mass),
        WATER_FREEZE_K,
    )
    check("temperature", temp_k, low - TEMP_SLACK_K, DENSITY_TEMP_MAX_K, "K", f"{fluid} and water")
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
        Temperature: from the freezing point (above ``FRAC_MASS_SETTLED_MAX`` from 273.15) to
        373.15. Broadcasts with `frac_mass`. [K]
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
    part of this. Water alone is Kell 1975. The published rows of mixes lie between 20 and 40 °C;
    colder and hotter, ethylene and propylene glycol up to 60 mass % rest on Melinder's
    polynomials, above that on the pure liquids alone (judged band 5 kg/m3; 8 for propylene
    glycol from 80 °C). Glycerol above 40 °C is untested (judged band 10 kg/m3).

    Examples
    --------
    >>> round(density_kg_m3("ethylene glycol", 0.5, 293.15), 1)
    1064.4
    """
    surface = MODELS[one_of("model", model, MODELS)]
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    temp_k = numeric("temperature", temp_k)
    check_frac_mass(frac_mass, "mass fractions")
    density = surface(fluid, frac_mass, temp_k)
    return density if isinstance(density, np.ndarray) else float(density)
