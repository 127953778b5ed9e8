"""Kernel: what a mix turns to below its freezing point, by the lever rule.

The crystals are taken as ice without glycol, so the liquid between them grows stronger until it
freezes at the temperature that it has. Arrays of shape (n,) and floats run through the same source.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import (
    FRAC_MASS_SETTLED_MAX,
    density_kg_m3_unchecked,
    frac_mass_from_freeze_temp_k_unchecked,
    freeze_temp_k_unchecked,
)

#: Density of ice at 0 °C; it is 0.5 % higher at −40 °C. Source key ``iapws-06``. [kg/m3]
ICE_KG_M3 = 916.7


class Slush(NamedTuple):
    """A mix at a temperature, (n,).

    Attributes
    ----------
    ice : ndarray
        Ice over ice + liquid; 0 above the freezing point, NaN where the liquid would be stronger
        than 60 mass % of glycol. [kg/kg]
    growth : ndarray
        By how much it takes more room than at its freezing point. [m3/m3]
    """

    ice: np.ndarray
    growth: np.ndarray


def slush(fluid, frac_mass, temp_k):
    """Return the `Slush` of a mix that stood long enough at a temperature. [kg/kg, K]."""
    first_k = freeze_temp_k_unchecked(fluid, frac_mass)
    end_k = freeze_temp_k_unchecked(fluid, FRAC_MASS_SETTLED_MAX)
    below = np.minimum(temp_k, first_k)
    liquid = frac_mass_from_freeze_temp_k_unchecked(fluid, np.maximum(below, end_k), "water")
    with np.errstate(divide="ignore", invalid="ignore"):
        ice = np.where(temp_k < first_k, 1.0 - frac_mass / np.asarray(liquid), 0.0)
    ice = np.where(below < end_k, np.nan, np.maximum(ice, 0.0))
    before = density_kg_m3_unchecked(fluid, frac_mass, first_k)
    room = ice / ICE_KG_M3 + (1.0 - ice) / density_kg_m3_unchecked(fluid, liquid, below)
    return Slush(ice, before * room - 1.0)
