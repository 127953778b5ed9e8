"""What a sample's light and weight say of its strength: kernels under the instruments.

Light is taken as the refractive index at 20 °C or at the sample's temperature, weight as the
specific gravity that a floating hydrometer shows.
"""

import functools
from typing import NamedTuple

import numpy as np

from ..fluids import (
    REFERENCE_20_C_K,
    density_kg_m3_unchecked,
    frac_mass_from_refractive_index_unchecked,
    refractive_index_unchecked,
)
from .composition import composition_of_mix, density_kg_m3

#: Expansion of a glass hydrometer's volume, source key ``iso-1768``. [1/K]
GLASS_PER_K = 25e-6

#: Fractions of a grid, on which the densest mix and a root's bracket are looked for, and steps
#: from the bracket to the root: each doubles the digits, nearly.
_GRID, _STEPS = 65, 7


class Roots(NamedTuple):
    """Both strengths that float a hydrometer at one mark, (n,). [kg/kg].

    ``weak`` lies below the densest mix, ``strong`` above it; NaN where there is none.
    """

    weak: np.ndarray
    strong: np.ndarray


# --- light ----------------------------------------------------------------------------------------


def frac_mass_on_line(
    line_fluid, line_frac_mass, fluid, temp_k=REFERENCE_20_C_K, water_frac_mass=None
):
    """Strength of a sample that stands at a mark of a line made for a strength of another fluid.

    A line is laid out at 20 °C for one glycol; at one mark all samples bend light alike.

    Parameters
    ----------
    line_fluid : str
        The glycol that the line was made for.
    line_frac_mass : float or ndarray
        The strength that the mark stands for. [kg/kg]
    fluid : str
        The glycol in the sample.
    temp_k : float or ndarray
        Of the sample, as the light meets it: 20 °C where the instrument compensates. [K]
    water_frac_mass : float, optional
        The strength that plain water, as warm as the sample, showed on the line; None on an
        instrument that was set to zero. [kg/kg]

    Returns
    -------
    float or ndarray
        Glycol over glycol + water in the sample; below 0 or above 1 where no mix shows it.
        [kg/kg]
    """
    if line_fluid == fluid and temp_k == REFERENCE_20_C_K and water_frac_mass is None:
        return line_frac_mass
    shown = refractive_index_unchecked(line_fluid, line_frac_mass, REFERENCE_20_C_K)
    if water_frac_mass is not None:
        water = refractive_index_unchecked(line_fluid, water_frac_mass, REFERENCE_20_C_K)
        shown = shown - (water - refractive_index_unchecked(fluid, 0.0, temp_k))
    return frac_mass_from_refractive_index_unchecked(fluid, shown, temp_k)


def frac_mass_from_counted(counted, additive_per_glycol):
    """Inverse of `composition.frac_mass_counted` for a mix of one product. [kg/kg].

    Parameters
    ----------
    counted : float or ndarray
        Glycol and additives over all. [kg/kg]
    additive_per_glycol : float
        As in the product that the mix was made from. [kg/kg]
    """
    return counted / (1.0 + additive_per_glycol * (1.0 - counted))


# --- weight ---------------------------------------------------------------------------------------


def gravity_shown(mix, frac_mass, temp_k, reference_temp_k, glass_per_k=GLASS_PER_K):
    """Specific gravity that a hydrometer shows in a sample. [-].

    Parameters
    ----------
    mix : composition.OldMix
        The glycol, and the additives that it carries.
    frac_mass : float or ndarray
        Glycol over glycol + water. [kg/kg]
    temp_k : float or ndarray
        Of the sample. [K]
    reference_temp_k : float
        That the scale was laid out at, against water of the same temperature. [K]
    glass_per_k : float
        Expansion of the hydrometer's volume; 0 leaves it as it is. [1/K]
    """
    share = composition_of_mix(frac_mass, mix.additive_per_glycol)
    density = density_kg_m3(mix.fluid, share, temp_k, mix.additive_volume_m3_kg)
    water = density_kg_m3_unchecked(mix.fluid, 0.0, reference_temp_k)
    return density * (1.0 + glass_per_k * (temp_k - reference_temp_k)) / water


@functools.lru_cache(maxsize=256)
def densest_frac_mass(mix, most, temp_k):
    """Strength of the densest mix up to ``most``, where a hydrometer's marks turn. [kg/kg].

    Parameters
    ----------
    mix : composition.OldMix
    most : float
        Strength of the product itself: no mix of it is stronger. [kg/kg]
    temp_k : float
        Of the sample. [K]
    """

    def density(fracs):
        share = composition_of_mix(fracs, mix.additive_per_glycol)
        return density_kg_m3(mix.fluid, share, temp_k, mix.additive_volume_m3_kg)

    low, high = 0.0, most
    for _ in range(4):  # each round narrows the bracket thirty times
        fracs = np.linspace(low, high, _GRID)
        at = int(np.argmax(density(fracs)))
        low, high = fracs[max(at - 1, 0)], fracs[min(at + 1, _GRID - 1)]
    return 0.5 * (low + high) if high < most else most


def frac_mass_from_gravity(mix, gravity, temp_k, reference_temp_k, most, glass_per_k=GLASS_PER_K):
    """Both strengths that show a specific gravity, as `Roots`.

    Parameters
    ----------
    mix, temp_k, reference_temp_k, glass_per_k
        As for `gravity_shown`; one temperature for all rows.
    gravity : ndarray, (n,)
        As shown. [-]
    most : float
        Strength of the product itself. [kg/kg]
    """
    densest = densest_frac_mass(mix, most, temp_k)

    def shown(frac_mass):
        return gravity_shown(mix, frac_mass, temp_k, reference_temp_k, glass_per_k)

    def root(start, end):
        """Bracket on a grid, then false position, the end that stays put halved (Illinois)."""
        fracs = np.linspace(start, end, _GRID)
        marks = shown(fracs)
        rising = 1.0 if marks[-1] > marks[0] else -1.0
        cell = np.clip(np.searchsorted(rising * marks, rising * gravity), 1, _GRID - 1)
        low, high = fracs[cell - 1], fracs[cell]
        below, above = marks[cell - 1] - gravity, marks[cell] - gravity
        for _ in range(_STEPS):
            apart = above - below
            at = np.where(apart == 0.0, low, (low * above - high * below) / _or_one(apart))
            off = shown(at) - gravity
            same = off * above > 0.0
            low, below = np.where(same, low, high), np.where(same, below / 2, above)
            high, above = at, off
        inside = (gravity - marks[0]) * (gravity - marks[-1]) <= 0.0
        return np.where(inside, high, np.nan)

    strong = np.full_like(gravity, np.nan) if densest >= most else root(densest, most)
    return Roots(root(0.0, densest), strong)


def _or_one(values):
    return np.where(values == 0.0, 1.0, values)


# --- a sample diluted before it is read -----------------------------------------------------------


def frac_mass_before_dilution(mix, diluted_frac_mass, water_parts, temp_k):
    """Strength of a sample that was read after water had been added to it. [kg/kg].

    Parameters
    ----------
    mix : composition.OldMix
    diluted_frac_mass : float or ndarray
        Glycol over glycol + water, as read. [kg/kg]
    water_parts : float
        Volume of water to one volume of the sample, before mixing. [m3/m3]
    temp_k : float or ndarray
        At which both were measured out. [K]

    Returns
    -------
    float or ndarray
        Above 1 where no mix can have given the reading.
    """
    water = water_parts * density_kg_m3_unchecked(mix.fluid, 0.0, temp_k)
    original = np.minimum(diluted_frac_mass * (1.0 + water_parts), 1.0)
    for _ in range(30):  # the density of the sample moves slowly with its strength
        share = composition_of_mix(np.minimum(original, 1.0), mix.additive_per_glycol)
        density = density_kg_m3(mix.fluid, share, temp_k, mix.additive_volume_m3_kg)
        glycol_water = density * (share.glycol + share.water)
        original = diluted_frac_mass * (glycol_water + water) / glycol_water
    return original
