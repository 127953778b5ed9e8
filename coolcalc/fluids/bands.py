"""How far to trust each property: a band about its value, from how the sources spread.

A band is what published rows say of a fit that has not seen their lineage: at least 95 of 100
such rows lie inside (``data/left_out.py`` scores it). Where a region has one source only, or none,
the width is judged from the neighbours, the pure liquids and the inhibited tables, and is wider.
Additives are not part of it: what they may add is a mix's own (`coolcalc.Mixture.freeze_band`).
"""

from typing import Any, NamedTuple

import numpy as np

from ..errors import ArgumentCountError, one_of
from . import boiling, density, freezing, refraction, transport
from .fluid import Width, fluid_named, numeric, plain

#: Densities. Water alone is known to 0.02 kg/m3. [kg/m3]
DENSITY = {
    "ethylene glycol": Width(
        (0.0, 0.03, 0.1, 0.3, 0.5, 0.8, 1.0),
        (0.05, 0.6, 0.62, 0.7, 1.2, 1.2, 1.2),
        (-40.0, 0.0, 20.0, 40.0, 100.0, 130.0),
        (4.0, 1.8, 1.0, 1.1, 2.0, 3.0),
    ),
    "propylene glycol": Width(
        (0.0, 0.02, 0.05, 0.1, 0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0),
        (0.05, 0.7, 1.55, 1.95, 2.0, 1.9, 1.6, 1.35, 1.25, 1.15, 1.15),
        (-40.0, 0.0, 20.0, 40.0, 60.0, 100.0, 130.0),
        (3.0, 1.5, 1.0, 1.0, 2.0, 2.5, 4.0),
    ),
    "glycerol": Width(
        (0.0, 0.1, 0.3, 0.6, 0.8, 1.0),
        (0.05, 0.8, 1.3, 1.6, 1.2, 1.0),
        (-20.0, 0.0, 20.0, 40.0, 100.0, 130.0),
        (5.0, 2.0, 1.0, 1.2, 4.5, 7.0),
    ),
}

#: Refractive indices. [-]
REFRACTION = {
    "ethylene glycol": Width(
        (0.0, 0.3, 0.6, 1.0), (1e-4, 4e-4, 6e-4, 8e-4), (0.0, 20.0, 60.0), (1.5, 1.0, 2.5)
    ),
    "propylene glycol": Width(
        (0.0, 0.3, 0.5, 0.6, 0.9, 1.0),
        (1e-4, 7e-4, 1.05e-3, 1.15e-3, 1.28e-3, 1.3e-3),
        (0.0, 20.0, 60.0),
        (1.3, 1.0, 1.5),
    ),
    "glycerol": Width(
        (0.0, 0.3, 0.6, 1.0), (1e-4, 5e-4, 9e-4, 1.1e-3), (0.0, 20.0, 60.0), (1.3, 1.0, 2.0)
    ),
}

#: Heat capacities: mixes have one source of measured origin, and a formula beside it. [share]
HEAT_CAPACITY = {
    "ethylene glycol": Width(
        (0.0, 0.1, 0.6, 0.8, 1.0),
        (0.001, 0.02, 0.02, 0.025, 0.015),
        (-40.0, 0.0, 100.0),
        (2.0, 1.0, 1.0),
    ),
    "propylene glycol": Width(
        (0.0, 0.1, 0.6, 0.8, 1.0),
        (0.001, 0.02, 0.03, 0.03, 0.02),
        (-40.0, 0.0, 100.0),
        (2.0, 1.2, 1.0),
    ),
    "glycerol": Width(
        (0.0, 0.1, 0.6, 0.8, 1.0),
        (0.001, 0.02, 0.03, 0.03, 0.015),
        (-40.0, 0.0, 40.0, 100.0),
        (2.0, 1.0, 1.0, 1.7),
    ),
}

#: Conductivities, likewise. [share]
CONDUCTIVITY = {
    "ethylene glycol": Width(
        (0.0, 0.1, 0.3, 0.6, 0.8, 1.0),
        (0.002, 0.03, 0.038, 0.05, 0.06, 0.04),
        (-40.0, -10.0, 20.0, 130.0),
        (2.6, 2.3, 1.0, 1.2),
    ),
    "propylene glycol": Width(
        (0.0, 0.1, 0.3, 0.6, 0.8, 1.0),
        (0.002, 0.035, 0.045, 0.055, 0.06, 0.04),
        (-40.0, -10.0, 20.0, 130.0),
        (2.2, 2.05, 1.05, 1.2),
    ),
    "glycerol": Width(
        (0.0, 0.1, 0.6, 0.8, 1.0),
        (0.002, 0.03, 0.03, 0.06, 0.04),
        (-40.0, 0.0, 40.0, 100.0),
        (2.0, 1.0, 1.0, 2.5),
    ),
}

#: Viscosities. [share]
VISCOSITY = {
    "ethylene glycol": Width(
        (0.0, 0.02, 0.1, 0.2, 0.4, 0.6, 0.85, 1.0),
        (0.002, 0.052, 0.055, 0.072, 0.075, 0.082, 0.09, 0.05),
        (-60.0, -40.0, -30.0, 0.0, 20.0, 130.0),
        (6.0, 3.0, 2.4, 1.5, 1.0, 1.05),
    ),
    "propylene glycol": Width(
        (0.0, 0.05, 0.15, 0.3, 0.6, 0.75, 0.9, 1.0),
        (0.002, 0.1, 0.14, 0.135, 0.095, 0.094, 0.09, 0.102),
        (-60.0, -40.0, -30.0, 0.0, 20.0, 40.0, 130.0),
        (6.0, 3.0, 2.0, 1.5, 1.0, 1.3, 1.3),
    ),
    "glycerol": Width(
        (0.0, 0.02, 0.1, 0.3, 0.4, 0.6, 0.9, 1.0),
        (0.002, 0.012, 0.022, 0.05, 0.075, 0.09, 0.075, 0.08),
        (-40.0, 0.0, 20.0, 60.0, 130.0),
        (3.0, 1.6, 1.0, 2.3, 2.3),
        pure=(0.6, 0.35, 0.28, 0.08, 0.08),
    ),
}


def _freezing(fluid, frac_mass):
    low, high = freezing.freeze_bound_k(fluid, frac_mass)
    # Where nothing is settled, the bounds hold the widths already.
    half = np.where(
        freezing.settled(fluid, frac_mass), freezing.HALF_WIDTHS[fluid].at(frac_mass), 0
    )
    return low - half, high + half


def _absolute(function, widths):
    def band(fluid, frac_mass, temp_k):
        value = function(fluid, frac_mass, temp_k)
        half = widths[fluid].at(frac_mass, temp_k)
        return value - half, value + half

    return band


def _relative(function, widths):
    def band(fluid, frac_mass, temp_k):
        value = function(fluid, frac_mass, temp_k)
        share = widths[fluid].at(frac_mass, temp_k)
        return value * (1.0 - share), value * (1.0 + share)

    return band


def _gravity(fluid, frac_mass, temp_k, reference_temp_k=density.REFERENCE_60_F_K):
    value = density.specific_gravity(fluid, frac_mass, temp_k, reference_temp_k)
    half = DENSITY[fluid].at(frac_mass, temp_k) / density.density_kg_m3(
        fluid, 0.0, reference_temp_k
    )
    return value - half, value + half


def _vapor(fluid, frac_mass, temp_k):
    # What a boiling point is uncertain by, the pressure is at that many kelvin beside.
    value = boiling.vapor_pressure_pa(fluid, frac_mass, temp_k)
    below, above = boiling.boil_widths_k(fluid, frac_mass, value)
    return tuple(
        boiling.vapor_pressure_pa_unchecked(fluid, frac_mass, temp_k + step)
        for step in (-above, below)
    )


class _Property(NamedTuple):
    """How a property's band is found: what it is asked at beside the fraction, and whose it is."""

    band: Any
    sources: dict
    at: tuple = ("temperature",)


#: By the name of the function: its band, and the sources of each fluid.
BANDS = {
    "freeze_temp_k": _Property(_freezing, freezing.SOURCES, ()),
    "density_kg_m3": _Property(_absolute(density.density_kg_m3, DENSITY), density.SOURCES),
    "specific_gravity": _Property(
        _gravity, density.SOURCES, ("temperature", "reference temperature")
    ),
    "boil_temp_k": _Property(boiling.boil_bound_k, boiling.SOURCES, ("pressure",)),
    "vapor_pressure_pa": _Property(_vapor, boiling.SOURCES),
    "refractive_index": _Property(
        _absolute(refraction.refractive_index, REFRACTION), refraction.SOURCES
    ),
    "heat_capacity_j_kg_k": _Property(
        _relative(transport.heat_capacity_j_kg_k, HEAT_CAPACITY), transport.HEAT_CAPACITY_SOURCES
    ),
    "conductivity_w_m_k": _Property(
        _relative(transport.conductivity_w_m_k, CONDUCTIVITY), transport.CONDUCTIVITY_SOURCES
    ),
    "viscosity_pa_s": _Property(
        _relative(transport.viscosity_pa_s, VISCOSITY), transport.VISCOSITY_SOURCES
    ),
}


def band(name, fluid, *where):
    """Return between which values a property lies, at 95 %, and whose rows say so.

    Parameters
    ----------
    name : str
        A property by the name of its function: a key of ``bands.BANDS``.
    fluid : str
        A name in ``FLUIDS``.
    *where : float or array
        What the function is asked with after the fluid: mass fraction of glycol, and temperature
        or pressure where it takes one. [-, K, Pa]

    Returns
    -------
    low, high : float or array
        The ends, in the function's unit.
    sources : tuple of str
        Keys of ``coolcalc.sources.SOURCES``: whose rows the value was fitted to; where no
        freezing point is settled, who bounds it.

    Raises
    ------
    UnknownChoiceError
        For another property or fluid; the message lists the choices.
    OutOfRangeError
        As the property itself. A freezing point that is not settled is no error here: the band is
        that of `freeze_bound_k`.

    Notes
    -----
    Scored by ``data/left_out.py`` on rows of a lineage that the fit has not seen; the widths were
    drawn until 95 of 100 of those rows lay inside, so that score has seen its own rows. Regions
    with one source are judged: freezing points of ethylene glycol, glycol above 60 mass % away
    from room temperature, mixes above 100 °C, all conductivities and heat capacities of mixes,
    glycerol above 40 °C.

    Examples
    --------
    >>> low, high, sources = band("density_kg_m3", "ethylene glycol", 0.5, 293.15)
    >>> round(low, 1), round(high, 1), sources[0]
    (1063.3, 1065.7, 'crc-concentrative')
    """
    found = BANDS[one_of("property", name, BANDS)]
    fluid_named(fluid)
    wanted = ("glycol mass fraction", *found.at)
    least = min(len(wanted), 2)  # the reference temperature may be left out
    if not least <= len(where) <= len(wanted):
        raise ArgumentCountError(name, len(where), wanted)
    where = tuple(map(numeric, wanted, where))
    low, high = found.band(fluid, *where)
    sources = found.sources[fluid]
    if name == "freeze_temp_k" and not np.all(freezing.settled(fluid, where[0])):
        sources = freezing.BOUND_SOURCES[fluid]
    return plain(low), plain(high), sources


class _Growth(NamedTuple):
    """How far published growth with heat lies below and above the model's, as shares of volume.

    Below: so much for each kelvin under 20 °C, so much from there to ``below_to_k``, none beyond.
    Above: so much for each kelvin, up to ``above``. In water, next to none. [1/K, K, share]
    """

    below_cold: float
    below_warm: float
    below_to_k: float
    above_per_k: float
    above: float


#: Growth of the volume from one temperature to another. One density table alone cannot tell it:
#: pure and inhibited tables of one strength differ by up to 0.8 % of the volume from a cold start.
GROWTH = {
    "ethylene glycol": _Growth(1.08e-4, 7.8e-5, 338.15, 3.4e-5, 0.00216),
    "propylene glycol": _Growth(1.05e-4, 4.0e-5, 333.15, 6.5e-5, 0.0067),
}
_COLD_K = 293.15

#: Growth of water itself, over how many kelvin, and from which share of glycol on the widths
#: above hold. [share, K, kg/kg]
_WATER_GROWTH, _WATER_FULL_K, _GROWTH_FULL = 1e-4, 40.0, 0.1


def growth_widths(fluid, frac_mass, from_k, to_k):
    """Return by how much growth with heat may be less and more than the model's.

    Parameters
    ----------
    fluid : str
        "ethylene glycol" or "propylene glycol".
    frac_mass : float or array
        Mass of glycol over mass of glycol and water. [-]
    from_k, to_k : float or array
        [K]

    Returns
    -------
    below, above : float or array
        Shares of the volume at ``from_k``, at 95 %, for pure and inhibited mixes alike. [-]

    Notes
    -----
    Drawn about the published tables with rows at both ends, up to 70 volume % of glycol: pure
    (``melinder-2010``, ``dtu-solar``) and inhibited (``ashrae-2001``, ``ashrae-ip``).
    """
    here = GROWTH[one_of("fluid", fluid, GROWTH)]
    low_k, high_k = np.minimum(from_k, to_k), np.maximum(from_k, to_k)
    share = np.minimum(np.divide(frac_mass, _GROWTH_FULL), 1.0)

    def crossed(start_k, end_k):
        return np.maximum(np.minimum(high_k, end_k) - np.maximum(low_k, start_k), 0.0)

    below = here.below_cold * crossed(0.0, _COLD_K)
    below = below + here.below_warm * crossed(_COLD_K, here.below_to_k)
    above = np.minimum(here.above_per_k * (high_k - low_k), here.above)
    water = np.minimum((high_k - low_k) / _WATER_FULL_K, 1.0) * _WATER_GROWTH
    return plain(water + share * below), plain(water + share * above)
