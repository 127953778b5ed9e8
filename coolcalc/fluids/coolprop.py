"""Properties asked live of CoolProp, for comparison. The one lazy file.

CoolProp is imported when first asked. Its incompressible fluids are asked one point at a time:
an array call returns inf for a refused element and says nothing, so the range is checked here
first. A state is mutable and must not be shared, so each thread keeps its own.
"""

import threading

import numpy as np

from .fluid import FRAC_MASS_SETTLED_MAX, TEMP_SLACK_K, check, plain

_SOURCE = "CoolProp's fits"
_PRESSURE_PA = 101325.0  # ignored by the fits, but has to be given

#: CoolProp's name of the mass-based fluid, and the highest temperature of its fits. [K]
_FITS = {
    "ethylene glycol": ("MEG", 373.15),
    "propylene glycol": ("MPG", 373.15),
    "glycerol": ("MGL", 313.15),
}

_local = threading.local()


def _state(fluid):
    """Return this thread's state of a fluid, made on first use."""
    states = _local.__dict__.setdefault("states", {})
    if fluid not in states:
        import CoolProp  # seconds, so only when asked

        states[fluid] = CoolProp.AbstractState("INCOMP", _FITS[fluid][0])
    return states[fluid]


def _check_frac_mass(frac_mass):
    check("glycol mass fraction", frac_mass, 0.0, FRAC_MASS_SETTLED_MAX, "kg/kg", _SOURCE)


def _freeze(state, frac_mass):
    import CoolProp

    state.set_mass_fractions([frac_mass])
    return state.trivial_keyed_output(CoolProp.iT_freeze)


def freeze_temp_k(fluid, frac_mass):
    """Return CoolProp's freezing point; mass fraction 0 to 0.60, float or array. [K]."""
    _check_frac_mass(frac_mass)
    state = _state(fluid)
    found = [_freeze(state, float(w)) for w in np.ravel(frac_mass)]
    return plain(np.reshape(found, np.shape(frac_mass)))


def _asked(name, fluid, frac_mass, temp_k):
    """Return one of the state's outputs, from CoolProp's own freezing point up."""
    import CoolProp

    _check_frac_mass(frac_mass)
    state = _state(fluid)
    low = freeze_temp_k(fluid, frac_mass)
    check("temperature", temp_k, low - TEMP_SLACK_K, _FITS[fluid][1], "K", _SOURCE)
    pairs = np.broadcast(frac_mass, np.maximum(temp_k, low))
    found = []
    for w, temp in pairs:
        state.set_mass_fractions([float(w)])
        state.update(CoolProp.PT_INPUTS, _PRESSURE_PA, float(temp))
        found.append(getattr(state, name)())
    return plain(np.reshape(found, pairs.shape))


def density_kg_m3(fluid, frac_mass, temp_k):
    """Return CoolProp's density, from its own freezing point up; floats or arrays. [kg/m^3]."""
    return _asked("rhomass", fluid, frac_mass, temp_k)


def heat_capacity_j_kg_k(fluid, frac_mass, temp_k):
    """Return CoolProp's heat capacity, from its own freezing point up. [J/(kg K)]."""
    return _asked("cpmass", fluid, frac_mass, temp_k)


def conductivity_w_m_k(fluid, frac_mass, temp_k):
    """Return CoolProp's thermal conductivity, from its own freezing point up. [W/(m K)]."""
    return _asked("conductivity", fluid, frac_mass, temp_k)


def viscosity_pa_s(fluid, frac_mass, temp_k):
    """Return CoolProp's dynamic viscosity, from its own freezing point up. [Pa s]."""
    return _asked("viscosity", fluid, frac_mass, temp_k)
