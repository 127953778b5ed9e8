"""Properties of glycol and water: kelvin and mass fraction of glycol in, SI out.

The fluids are the strings in `FLUIDS`. Every fraction is the mass of glycol over the mass of
glycol and water; additives are not part of it. Floats in give floats out, arrays in give arrays
of the same shape. A function without a suffix checks its range and raises, naming the first bad
element; its twin ending in ``_unchecked`` is the same formula without the checks, for kernels
that have checked once.
"""

from .density import density_kg_m3, density_kg_m3_unchecked
from .fluid import FLUIDS, FRAC_MASS_SETTLED_MAX, Fluid
from .fraction import (
    frac_mass_from_frac_vol,
    frac_mass_from_frac_vol_unchecked,
    frac_vol_from_frac_mass,
    frac_vol_from_frac_mass_unchecked,
)
from .freezing import (
    frac_mass_from_freeze_temp_k,
    frac_mass_from_freeze_temp_k_unchecked,
    freeze_bound_k,
    freeze_temp_k,
    freeze_temp_k_unchecked,
    liquid_from_k,
    settled,
    settled_unchecked,
)
from .refraction import (
    frac_mass_from_refractive_index,
    frac_mass_from_refractive_index_unchecked,
    refractive_index,
    refractive_index_unchecked,
)

__all__ = [
    "FLUIDS",
    "FRAC_MASS_SETTLED_MAX",
    "Fluid",
    "density_kg_m3",
    "density_kg_m3_unchecked",
    "frac_mass_from_frac_vol",
    "frac_mass_from_frac_vol_unchecked",
    "frac_mass_from_freeze_temp_k",
    "frac_mass_from_freeze_temp_k_unchecked",
    "frac_mass_from_refractive_index",
    "frac_mass_from_refractive_index_unchecked",
    "frac_vol_from_frac_mass",
    "frac_vol_from_frac_mass_unchecked",
    "freeze_bound_k",
    "freeze_temp_k",
    "freeze_temp_k_unchecked",
    "liquid_from_k",
    "refractive_index",
    "refractive_index_unchecked",
    "settled",
    "settled_unchecked",
]
