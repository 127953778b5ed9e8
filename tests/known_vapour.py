"""What the library gives for a published row of vapour, boiling or mixing, and the known misses.

Used by the tests of the published rows. Values come from the unchecked twins: some rows, hotter
than 200 °C or a hair below the freezing point, lie outside the range of the checked ones.
"""

import math

from coolcalc import fluids
from coolcalc.fluids.boiling import activity_coefficients_unchecked

from .published import MOLAR_MASS, ZERO_C, frac_mass

GAS_CONSTANT = 8.314462618  # J/(mol K)
VAPOUR_PROPERTIES = {"vapor_pressure", "boiling_point", "excess_enthalpy", "water_activity"}

_HEAT = "four terms leave 4 %, which moves a boiling point by less than 0.1 K"
_TRC_PROPYLENE = "the tables are 1.8 times apart at 15 to 20 °C and 10 % at 78 °C; between them"
_OLD = "old table, 18 % above two others at 53 °C"
_GLYCEROL_PURE = "three other sources of pure glycerol lie 1 K higher at this pressure"
_ACTIVITY_90 = "the boiling points at 14 kPa have less vapour at 90 mass %; the curve follows them"
_ICE_GLYCEROL = "kept from the fit; the water activities at 25 °C lie as much above it"


def _heat(source, fluid, misses):
    """Return the entries of one table of heats of mixing, by mole fraction."""
    return {
        f"{source} excess_enthalpy {fluid} {x} mole fraction at 25 C": (off, _HEAT)
        for x, off in misses.items()
    }


#: Row name -> (model minus row, why). Distances in the row's unit.
VAPOUR_DISAGREEMENTS = {
    **_heat(
        "enthalpy-2009",
        "ethylene glycol",
        {
            **{"0.8986": -4.12, "0.8006": 5.26, "0.6326": 13.6, "0.6005": 12.0},
            **{"0.4545": -20.2, "0.3856": -12.5, "0.2051": 25.7, "0.1344": 15.0, "0.085": -8.97},
        },
    ),
    **_heat(
        "enthalpy-2005",
        "propylene glycol",
        {"0.0579": 17.3, "0.5454": -15.4, "0.8236": 9.06},
    ),
    "glycerol-tx boiling_point glycerol 1 mole fraction at 14.28 kPa": (0.942, _GLYCEROL_PURE),
    "trc-vapour vapor_pressure propylene glycol 100 mass % at 13 C": (-2.22, _TRC_PROPYLENE),
    "trc-vapour vapor_pressure propylene glycol 100 mass % at 78 C": (-66.8, _TRC_PROPYLENE),
    "crc-44 vapor_pressure ethylene glycol 100 mass % at 53.0 C": (-18.3, _OLD),
}
VAPOUR_COMPUTED_DISAGREEMENTS = {
    "ice-line vapor_pressure glycerol 40.0 mass % at -15.5 C": (2.59, _ICE_GLYCEROL),
    "zhang-2022 water_activity glycerol 90 mass % at 25 C": (-0.0268, _ACTIVITY_90),
    "zhang-2022 water_activity glycerol 90 mass % at 100 C": (-0.0141, _ACTIVITY_90),
    "eisenbach-2021 vapor_pressure propylene glycol 100 mass % at 60 C": (33.7, _TRC_PROPYLENE),
    "perry-8-vapour vapor_pressure propylene glycol 100 mass % at 20.0 C": (3.93, _TRC_PROPYLENE),
}


def mole_frac(fluid, frac):
    """Return the mole fraction of glycol."""
    glycol = frac / MOLAR_MASS[fluid]
    return glycol / (glycol + (1 - frac) / 18.01528)


def mixing_heat(fluid, frac, temp_k):
    """Return the heat of mixing, J/mol, from the drift of the activity coefficients."""
    x = mole_frac(fluid, frac)
    warm, cold = (
        [math.log(g) for g in activity_coefficients_unchecked(fluid, frac, temp_k + step)]
        for step in (0.01, -0.01)
    )
    slope = [(w - c) / 0.02 for w, c in zip(warm, cold, strict=True)]
    return -GAS_CONSTANT * temp_k**2 * ((1 - x) * slope[0] + x * slope[1])


def pressure_pa(row):
    """Return the pressure of a row, absolute."""
    return 1000 * float(row["pressure"].removesuffix(" kPa"))


def vapour_value(row):
    """Return what the library gives for a row, in the row's unit."""
    prop, fluid = row["property"], row["fluid"]
    if fluid == "water":
        fluid = "glycerol"  # with none of it, every fluid is water
    frac = frac_mass(row)
    if prop == "boiling_point":
        return fluids.boil_temp_k_unchecked(fluid, frac, pressure_pa(row)) - ZERO_C
    temp_k = float(row["temp_c"]) + ZERO_C
    if prop == "vapor_pressure":
        return fluids.vapor_pressure_pa_unchecked(fluid, frac, temp_k)
    if prop == "excess_enthalpy":
        return mixing_heat(fluid, frac, temp_k)
    water, _ = activity_coefficients_unchecked(fluid, frac, temp_k)
    return (1 - mole_frac(fluid, frac)) * water
