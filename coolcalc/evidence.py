"""Published rows beside the model: what each source says, how far the model is, in which band.

The rows are files of ``data/published/`` in a checkout; they are not part of the installed
package, so the folder is given. A row keeps the source's own basis and unit, and is compared in
them. The tests hold every row by these functions, and the notebooks show them.
"""

import csv
import pathlib

import numpy as np

from . import fluids
from .balance.composition import frac_mass_counted
from .errors import CoolcalcError, UnknownChoiceError, one_of
from .fluids._coefficients import WATER_MOLAR_MASS
from .fluids.boiling import mole_fractions
from .mixture import Mixture
from .product import Product
from .units import Q

_ZERO_C = 273.15
_GAS_CONSTANT = 8.314462618  # CODATA 2018 [J/(mol K)]
#: Refractive index of air at 20 °C and 1 atm, 589 nm: a row against vacuum over one against air.
_AIR_INDEX = 1.000272

#: Bases of a row that describe a product or an inhibited fluid, not glycol and water.
PRODUCT_BASES = ("volume % product", "volume % inhibited", "mass % inhibited")


def read_rows(folder):
    """Return every published row of a folder of CSV files, as dicts of text."""
    rows = []
    for path in sorted(pathlib.Path(folder).glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            rows += csv.DictReader(file)
    return rows


def name(row):
    """Return the name of a row: source, property, fluid, strength, and where."""
    at = f" at {row['temp_c']} C" if row["temp_c"] else ""
    at += f" at {row['pressure']}" if row["property"] == "boiling_point" else ""
    what = f"{row['source']} {row['property']} {row['fluid']}"
    return f"{what} {row['concentration']} {row['basis']}{at}"


def is_product(row):
    """Say whether a row describes a product or an inhibited fluid."""
    return row["basis"] in PRODUCT_BASES


def product_mixture(row):
    """Return the mix of the generic concentrate that such a row means.

    "volume % inhibited" and "volume % product" are read as volume per cent of product, "mass %
    inhibited" as mass per cent of it.
    """
    can = Product.generic(f"{row['fluid']} concentrate")
    if row["basis"] == "mass % inhibited":
        share = float(row["concentration"]) / 100
        glycol, water, _ = can.share
        frac = share * glycol / (share * (glycol + water) + 1 - share)
        return Mixture(product=can, frac_mass=frac)
    return can.mix(f"{row['concentration']} % product")


def additive_bracket_k(mixture):
    """Return the ends of the curve, additives counted and ignored, without its band. [K]."""
    fracs = np.linspace(mixture.frac_mass, frac_mass_counted(mixture.share), 17)
    low, high = fluids.freeze_bound_k(mixture.fluid, fracs)
    return float(low.min()), float(high.max())


def _of_the_mix(row, share):
    """Return the mass fraction at which glycol over the volume of the mix is this share."""
    frac = np.linspace(0, 1, 10001)
    volume = frac * fluids.density_kg_m3(row["fluid"], frac, _ZERO_C + 15.6)
    return float(np.interp(share, volume / volume[-1], frac))


def _of_molecules(row, share):
    glycol = share * fluids.FLUIDS[row["fluid"]].molar_mass
    return glycol / (glycol + (1 - share) * WATER_MOLAR_MASS)


#: Mass fraction of a row's share, by the row's basis.
_FROM_BASIS = {
    **dict.fromkeys(PRODUCT_BASES, lambda row, share: product_mixture(row).frac_mass),
    "mass %": lambda row, share: share,
    "volume % before mixing": lambda row, share: fluids.frac_mass_from_frac_vol(
        row["fluid"], share
    ),
    "volume % of the mix at 15.6 C": _of_the_mix,
    "mole fraction": _of_molecules,
}


def frac_mass(row):
    """Return the mass fraction of glycol over glycol + water of a row, from its own basis."""
    basis = one_of("basis", row["basis"], _FROM_BASIS)
    value = float(row["concentration"])
    return _FROM_BASIS[basis](row, value if basis == "mole fraction" else value / 100)


def _fluid(row):
    # Every fluid without glycol is water: one of them answers.
    return "glycerol" if row["fluid"] == "water" else row["fluid"]


def _at(row):
    return float(row["temp_c"]) + _ZERO_C


def _freezing(row, **model):
    if not is_product(row):
        return fluids.freeze_temp_k(row["fluid"], frac_mass(row), **model) - _ZERO_C
    # The nearest point between additives ignored and counted, without the curve's own band: a
    # curve that is wrong by its band is missed here too.
    low_k, high_k = additive_bracket_k(product_mixture(row))
    return min(max(float(row["value"]), low_k - _ZERO_C), high_k - _ZERO_C)


def _freezing_limit(row):
    # "or colder": the limit itself where the weaker promise meets it.
    return max(product_mixture(row).freeze_temp.m_as("degC"), float(row["value"]))


def _boiling_limit(row):
    # "or hotter", at one atmosphere.
    return min(product_mixture(row).boil_temp().m_as("degC"), float(row["value"]))


def _density(row, **model):
    if is_product(row):
        return product_mixture(row).density(Q(_at(row), "kelvin")).m_as("kg/m^3")
    return fluids.density_kg_m3(_fluid(row), frac_mass(row), _at(row), **model)


def _expansion(row, **model):
    cold = _density({**row, "temp_c": "20"}, **model)
    return 100 * (cold / _density(row, **model) - 1)


def _reference(row):
    return fluids.REFERENCE_20_C_K if "20/20" in row["where"] else fluids.REFERENCE_60_F_K


def _gravity(row):
    return fluids.specific_gravity(row["fluid"], frac_mass(row), _at(row), _reference(row))


def _index(row):
    return fluids.refractive_index(_fluid(row), frac_mass(row), _at(row))


def _index_drift(row):
    # Per kelvin from 5 K below to 5 K above, as the rows were taken. [1e-4/K]
    warm, cold = (_index({**row, "temp_c": float(row["temp_c"]) + step}) for step in (5, -5))
    return 1e4 * (warm - cold) / 10


def _transport(name, factor=1.0):
    """Ask a property of heat and flow; below freezing too, some rows are of a supercooled mix."""

    def ask(row, **model):
        checked, formula = getattr(fluids, name), getattr(fluids, f"{name}_unchecked")
        function = checked if model or _at(row) > fluids.TEMP_MAX_K else formula
        return factor * function(_fluid(row), frac_mass(row), _at(row), **model)

    return ask


def pressure_pa(row):
    """Return the absolute pressure of a boiling point. [Pa]."""
    return 1000 * float(row["pressure"].removesuffix(" kPa"))


def _boiling(row):
    # Unchecked: the pure liquids boil hotter than any mix is asked for.
    return fluids.boil_temp_k_unchecked(_fluid(row), frac_mass(row), pressure_pa(row)) - _ZERO_C


def _vapor(row):
    # Unchecked: rows of the ice line lie a hair below the freezing point.
    return fluids.vapor_pressure_pa_unchecked(_fluid(row), frac_mass(row), _at(row))


def _activities(row, temp_k):
    return fluids.activity_coefficients_unchecked(row["fluid"], frac_mass(row), temp_k)


def _water_activity(row):
    water, _ = mole_fractions(row["fluid"], frac_mass(row))
    return water * _activities(row, _at(row))[0]


def _heat_of_mixing(row):
    # From how the activity coefficients move with temperature (Gibbs and Helmholtz). [J/mol]
    step, shares = 0.01, mole_fractions(row["fluid"], frac_mass(row))
    warm, cold = (np.log(_activities(row, _at(row) + each)) for each in (step, -step))
    return float(-_GAS_CONSTANT * _at(row) ** 2 * np.dot(shares, warm - cold) / (2 * step))


#: What the model gives for a row, in the row's unit, by the row's property.
MODELS = {
    "freezing_point": _freezing,
    "freezing_point_limit": _freezing_limit,
    "melting_point": _freezing,
    "density": _density,
    "volume_expansion_from_20": _expansion,
    "specific_gravity": _gravity,
    "boiling_point": _boiling,
    "boiling_point_limit": _boiling_limit,
    "vapor_pressure": _vapor,
    "water_activity": _water_activity,
    "excess_enthalpy": _heat_of_mixing,
    "heat_capacity": _transport("heat_capacity_j_kg_k"),
    "conductivity": _transport("conductivity_w_m_k"),
    "viscosity": _transport("viscosity_pa_s", 1e3),
    "refractive_index": _index,
    "refractive_index_vacuum": lambda row: _AIR_INDEX * _index(row),
    "refractive_index_temp_coefficient": _index_drift,
    "refractive_index_sucrose": lambda row: fluids.refractive_index_from_brix(
        float(row["concentration"])
    ),
    "volume_percent_from_mass_percent": lambda row: (
        100 * fluids.frac_vol_from_frac_mass(row["fluid"], frac_mass(row))
    ),
}


def model_value(row, **model):
    """Return what the model gives for a row, in the row's unit.

    Parameters
    ----------
    row : dict of text
        Its property is a key of `MODELS`. A row of a product is answered by the generic
        concentrate of its fluid.
    **model : str
        ``model="coolprop"`` asks the second opinion, where the property has one.

    Raises
    ------
    CoolcalcError
        Where the library refuses: outside its range, or not settled.
    """
    try:
        ask = MODELS[row["property"]]
    except KeyError:
        raise UnknownChoiceError("property", row["property"], MODELS) from None
    return float(ask(row, **model))


#: Name in `coolcalc.fluids.band` of a row's property, what it is asked at, and the row's unit.
_BANDS = {
    "freezing_point": ("freeze_temp_k", (), 1.0, _ZERO_C),
    "boiling_point": ("boil_temp_k", (pressure_pa,), 1.0, _ZERO_C),
    "vapor_pressure": ("vapor_pressure_pa", (_at,), 1.0, 0.0),
    "density": ("density_kg_m3", (_at,), 1.0, 0.0),
    "specific_gravity": ("specific_gravity", (_at, _reference), 1.0, 0.0),
    "heat_capacity": ("heat_capacity_j_kg_k", (_at,), 1.0, 0.0),
    "conductivity": ("conductivity_w_m_k", (_at,), 1.0, 0.0),
    "viscosity": ("viscosity_pa_s", (_at,), 1e3, 0.0),
    "refractive_index": ("refractive_index", (_at,), 1.0, 0.0),
}


def band_of(row):
    """Return the ends of the band where a row stands, in the row's unit.

    Raises
    ------
    CoolcalcError
        Where the property has no band, or the library refuses.
    """
    name, at, factor, zero = _BANDS[one_of("property", row["property"], _BANDS)]
    low, high, _ = fluids.band(name, _fluid(row), frac_mass(row), *(each(row) for each in at))
    return factor * low - zero, factor * high - zero


#: What a row of a product or an inhibited fluid is held to; heat and flow are those of another
#: maker's fluid.
_HELD_OF_PRODUCTS = (
    *("freezing_point", "freezing_point_limit", "boiling_point", "boiling_point_limit"),
    *("density", "volume_expansion_from_20"),
)


def is_held(row):
    """Say whether the model's value can be held to a row: not from memory, not beyond its range."""
    if row["property"] not in MODELS or row["kind"] == "memory":
        return False
    if is_product(row):
        return row["property"] in _HELD_OF_PRODUCTS
    try:
        model_value(row)
    except CoolcalcError:
        return False
    return True


def tolerance(row):
    """Return a row's tolerance in its unit; a limit has none."""
    return 0.0 if row["tolerance"] in ("", "limit") else float(row["tolerance"])


def missed(rows):
    """Yield the rows that the model misses by more than their tolerance, and how far it is off."""
    for row in rows:
        if is_held(row):
            off = model_value(row) - float(row["value"])
            if abs(off) > tolerance(row):
                yield row, off


#: Properties that CoolProp answers too, for pure glycol and water.
SECOND_OPINION = ("freezing_point", "density", "heat_capacity", "conductivity", "viscosity")
