"""The ledger: the only code that moves mass.

A `State` holds what is inside, in kilograms, as (n,) arrays of systems of one fluid. Volumes
follow from it at a stated temperature; nothing is balanced by volume.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import density_kg_m3_unchecked
from .composition import composition_of_mix, density_kg_m3, product_density_kg_m3

_NOTHING_KG = 1e-300
_NOTHING_M3 = 1e-300


class State(NamedTuple):
    """What is inside, (n,): kilograms of each, the volume of all additives, and the fluid.

    The additives' volume is carried because products differ in it. [kg, kg, kg, m3]
    """

    glycol_kg: float
    water_kg: float
    additive_kg: float
    additive_m3: float
    fluid: str


def frac_mass(state):
    """Glycol over glycol + water inside, 0 where nothing is. [kg/kg]."""
    return state.glycol_kg / np.maximum(state.glycol_kg + state.water_kg, _NOTHING_KG)


def volume_m3(state, temp_k):
    """Volume of what is inside. [m3]."""
    # An emptied system holds nothing of any strength.
    glycol_water = np.maximum(state.glycol_kg + state.water_kg, _NOTHING_KG)
    pure = density_kg_m3_unchecked(state.fluid, state.glycol_kg / glycol_water, temp_k)
    return glycol_water / pure + state.additive_m3


def contents(fluid, volume, mix_frac_mass, additive_per_glycol, additive_volume_m3_kg, temp_k):
    """State of a volume of mix of known strength.

    Parameters
    ----------
    fluid : str
    volume : float or ndarray
        Volume of mix. [m3]
    mix_frac_mass : float or ndarray
        Glycol over glycol + water. [kg/kg]
    additive_per_glycol, additive_volume_m3_kg : float
        Of the product that the mix was made from. [kg/kg, m3/kg]
    temp_k : float or ndarray
        Temperature at which the volume holds. [K]
    """
    share = composition_of_mix(mix_frac_mass, additive_per_glycol)
    mass = volume * density_kg_m3(fluid, share, temp_k, additive_volume_m3_kg)
    additive = mass * share.additive
    return State(
        mass * share.glycol, mass * share.water, additive, additive * additive_volume_m3_kg, fluid
    )


def repeated(state, count):
    """State of one row for several."""
    return State(*(np.broadcast_to(each, (count,)) for each in state[:4]), state.fluid)


def keep(state, share):
    """State of the share of the contents that stays. [-]."""
    return State(*(amount * share for amount in state[:4]), state.fluid)


def drain(state, volume, temp_k):
    """State after ``volume`` of the mixed contents has come out at ``temp_k``. [m3, K].

    No more comes out than is inside.
    """
    held = np.maximum(volume_m3(state, temp_k), _NOTHING_M3)
    return keep(state, np.maximum(1.0 - volume / held, 0.0))


def boil_off(state, water_kg):
    """State after ``water_kg`` has left as steam: glycol and additives stay. [kg].

    No more leaves than there is water inside.
    """
    return state._replace(water_kg=np.maximum(state.water_kg - water_kg, 0.0))


def add(state, product, mass_kg):
    """State after ``mass_kg`` of a product has gone in. [kg]."""
    glycol, water, additive = product.share
    return State(
        state.glycol_kg + mass_kg * glycol,
        state.water_kg + mass_kg * water,
        state.additive_kg + mass_kg * additive,
        state.additive_m3 + mass_kg * additive * product.additive_volume_m3_kg,
        state.fluid,
    )


def pour(state, product, volume, temp_k):
    """State after ``volume`` of a product at ``temp_k`` has been poured in. [m3, K]."""
    return add(state, product, volume * product_density_kg_m3(product, temp_k))
