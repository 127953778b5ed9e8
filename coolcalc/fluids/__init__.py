"""Properties of glycol and water: kelvin and mass fraction of glycol in, SI out.

The fluids are the strings in `FLUIDS`. Every fraction is the mass of glycol over the mass of
glycol and water; additives are not part of it. Floats in give floats out, arrays in give arrays
of the same shape. A function without a suffix checks its range and raises, naming the first bad
element; its twin ending in ``_unchecked`` is the same formula without the checks, for kernels
that have checked once.
"""

from .bands import band
from .boiling import (
    activity_coefficients_unchecked,
    boil_bound_k,
    boil_temp_k,
    boil_temp_k_unchecked,
    vapor_pressure_pa,
    vapor_pressure_pa_unchecked,
    water_vapor_pressure_pa,
    water_vapor_pressure_pa_unchecked,
)
from .density import (
    REFERENCE_20_C_K,
    REFERENCE_60_F_K,
    density_kg_m3,
    density_kg_m3_unchecked,
    specific_gravity,
    specific_gravity_unchecked,
)
from .fluid import FLUIDS, FRAC_MASS_SETTLED_MAX, TEMP_MAX_K, TEMP_MIN_K, Fluid
from .fraction import (
    frac_mass_from_frac_vol,
    frac_mass_from_frac_vol_unchecked,
    frac_vol_from_frac_mass,
    frac_vol_from_frac_mass_unchecked,
)
from .freezing import (
    covered_from_k,
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
    brix_from_refractive_index,
    brix_from_refractive_index_unchecked,
    frac_mass_from_refractive_index,
    frac_mass_from_refractive_index_unchecked,
    refractive_index,
    refractive_index_from_brix,
    refractive_index_from_brix_unchecked,
    refractive_index_unchecked,
)
from .transport import (
    conductivity_w_m_k,
    conductivity_w_m_k_unchecked,
    heat_capacity_j_kg_k,
    heat_capacity_j_kg_k_unchecked,
    viscosity_pa_s,
    viscosity_pa_s_unchecked,
)

__all__ = [
    "FLUIDS",
    "FRAC_MASS_SETTLED_MAX",
    "REFERENCE_20_C_K",
    "REFERENCE_60_F_K",
    "TEMP_MAX_K",
    "TEMP_MIN_K",
    "Fluid",
    "activity_coefficients_unchecked",
    "band",
    "boil_bound_k",
    "boil_temp_k",
    "boil_temp_k_unchecked",
    "brix_from_refractive_index",
    "brix_from_refractive_index_unchecked",
    "conductivity_w_m_k",
    "conductivity_w_m_k_unchecked",
    "covered_from_k",
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
    "heat_capacity_j_kg_k",
    "heat_capacity_j_kg_k_unchecked",
    "liquid_from_k",
    "refractive_index",
    "refractive_index_from_brix",
    "refractive_index_from_brix_unchecked",
    "refractive_index_unchecked",
    "settled",
    "settled_unchecked",
    "specific_gravity",
    "specific_gravity_unchecked",
    "vapor_pressure_pa",
    "vapor_pressure_pa_unchecked",
    "viscosity_pa_s",
    "viscosity_pa_s_unchecked",
    "water_vapor_pressure_pa",
    "water_vapor_pressure_pa_unchecked",
]
