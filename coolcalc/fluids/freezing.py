"""Freezing point of glycol and water, its inverse, and its bounds where it is not settled."""

import numpy as np

from ..errors import NotSettledError, one_of
from . import coolprop
from .fluid import (
    FRAC_MASS_SETTLED_MAX,
    TEMP_SLACK_K,
    WATER_FREEZE_K,
    check,
    check_frac_mass,
    fluid_named,
    horner,
    numeric,
    plain,
)

SOURCES = {
    "ethylene glycol": ("crc-concentrative", "cryoscopic-law"),
    "propylene glycol": ("ashrae-2001", "melinder-iir", "cryoscopic-law"),
    "glycerol": ("crc-concentrative", "lange-15", "melinder-iir", "cryoscopic-law"),
}

#: Who bounds the freezing point above FRAC_MASS_SETTLED_MAX.
BOUND_SOURCES = {
    "ethylene glycol": ("bowles-sae", "zinchenko", "ideal-liquidus"),
    "propylene glycol": ("ashrae-2001", "glass-recalled"),
    "glycerol": ("lane-recalled", "crc-constants", "ideal-liquidus"),
}

_NEWTON_STEPS = 3


def freeze_temp_k_unchecked(fluid, frac_mass):
    """Return `freeze_temp_k` of the consensus curve without its checks. [K]."""
    return WATER_FREEZE_K - frac_mass * horner(fluid_named(fluid).freeze, frac_mass)


def frac_mass_from_freeze_temp_k_unchecked(fluid, temp_k):
    """Return `frac_mass_from_freeze_temp_k` without its checks. [-].

    A polynomial starts within 1e-3; each Newton step on the curve itself squares the error.
    Outside the range of the checked twin the result means nothing: compare the temperature first.
    """
    here = fluid_named(fluid)
    slope = tuple((i + 1) * c for i, c in enumerate(here.freeze))
    depression = WATER_FREEZE_K - temp_k
    scaled = depression / here.freeze_end
    frac_mass = scaled * horner(here.freeze_start, scaled)
    for _ in range(_NEWTON_STEPS):
        step = frac_mass * horner(here.freeze, frac_mass)
        step -= depression
        step /= horner(slope, frac_mass)
        frac_mass = frac_mass - step
    return frac_mass


def _consensus(fluid, frac_mass):
    return freeze_temp_k_unchecked(fluid, frac_mass)


#: Freezing curves by name: both work up to FRAC_MASS_SETTLED_MAX.
MODELS = {"consensus": _consensus, "coolprop": coolprop.freeze_temp_k}


def freeze_temp_k(fluid, frac_mass, model="consensus"):
    """Return the temperature at which the first ice crystals form.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to ``FRAC_MASS_SETTLED_MAX``. [-]
    model : str
        "consensus", fitted to the published tables of the pure glycol and water, or "coolprop",
        asked live for comparison.

    Returns
    -------
    float or array
        First-crystal temperature, in the shape of `frac_mass`. [K]

    Raises
    ------
    NotSettledError
        Above ``FRAC_MASS_SETTLED_MAX``, with the bounds of `freeze_bound_k`.
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``freezing.SOURCES``; residuals in the head of ``_coefficients.py``; check values in
    ``data/published/``. Pure water is 273.15 K, and the slope there is that of the law of
    dilute solutions (1.86 K kg/mol).

    Examples
    --------
    >>> round(freeze_temp_k("ethylene glycol", 0.5) - 273.15, 1)
    -36.0
    """
    curve = MODELS[one_of("model", model, MODELS)]
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    _check_settled(fluid, frac_mass)
    return curve(fluid, frac_mass)


def _check_settled(fluid, frac_mass):
    over = frac_mass > FRAC_MASS_SETTLED_MAX
    if isinstance(over, np.ndarray):
        if not over.any():
            return
        index = int(np.argmax(over))
        frac_mass = float(frac_mass.flat[index])
    elif over:
        index = None
    else:
        return
    low, high = freeze_bound_k(fluid, frac_mass)
    raise NotSettledError(
        f"freezing point of {fluid} at {frac_mass:.4g} kg/kg",
        low,
        high,
        "K",
        BOUND_SOURCES[fluid],
        index=index,
    )


def frac_mass_from_freeze_temp_k(fluid, temp_k, side="water"):
    """Return the mass fraction of glycol whose first ice crystals form at a temperature.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    temp_k : float or array
        First-crystal temperature, from that at ``FRAC_MASS_SETTLED_MAX`` to 273.15. [K]
    side : str
        "water": the branch weaker than the lowest freezing point. Above it, two strengths freeze
        at one temperature, and the stronger one is not settled.

    Returns
    -------
    float or array
        Mass of glycol over mass of glycol and water. [-]

    Raises
    ------
    OutOfRangeError
        Outside the range above; NaN and inf too.
    UnknownChoiceError
        For another fluid or side.

    Notes
    -----
    The inverse of the consensus curve of `freeze_temp_k`, to 1e-8.

    Examples
    --------
    >>> round(frac_mass_from_freeze_temp_k("ethylene glycol", 273.15 - 20), 3)
    0.362
    """
    here = fluid_named(fluid)
    one_of("side", side, SIDES)
    temp_k = numeric("freezing temperature", temp_k)
    low = WATER_FREEZE_K - here.freeze_end
    check(
        "freezing temperature",
        temp_k,
        low - TEMP_SLACK_K,
        WATER_FREEZE_K,
        "K",
        f"{fluid} and water",
    )
    frac_mass = SIDES[side](fluid, temp_k)
    # The check lets the rounding of a temperature pass; the answer stays inside the range.
    return plain(np.clip(frac_mass, 0.0, FRAC_MASS_SETTLED_MAX))


#: Branches of the freezing curve that can be inverted.
SIDES = {"water": frac_mass_from_freeze_temp_k_unchecked}


def _ideal_liquidus_k(frac_mass, melt_k, fusion_j_mol, molar_mass):
    """Return Schröder's temperature at which an ideal liquid meets crystals of its glycol. [K]."""
    water_molar_mass, gas_constant = 18.01528, 8.314462618
    moles = frac_mass / molar_mass
    share = moles / (moles + (1 - frac_mass) / water_molar_mass)
    return 1 / (1 / melt_k - gas_constant / fusion_j_mol * np.log(share))


def _bound_ethylene(frac_mass, curve_end_k):
    # Warm end: the warmer stable eutectic of the hydrates (-42.7 °C, given to 3 K), or glycol
    # crystals from an ideal liquid, 3 K up. Cold end: the same glycol crystals 6 K down (rows
    # recalled for 80 to 95 mass % lie 3 K below to 3 K above the ideal), but no colder than the
    # metastable eutectic of ice and glycol, -63 °C by calorimetry, -68 °C by extrapolation.
    ideal = _ideal_liquidus_k(frac_mass, 260.15, 9960.0, 62.068)
    return np.maximum(205.15, ideal - 6.0), np.maximum(230.45 + 3.0, ideal + 3.0)


def _bound_propylene(frac_mass, curve_end_k):
    # It does not crystallise in practice above 60 mass %: it stiffens to a glass. Warm end: the
    # freezing point at 60 mass %, or -50 °C. Cold end: the glass, from memory.
    steady = np.zeros_like(frac_mass)
    return steady + 150.0, steady + max(curve_end_k, 223.15)


def _bound_glycerol(frac_mass, curve_end_k):
    # Crystals of glycerol from an ideal liquid are the warm end: real ones form colder, by 4 K
    # at 90 and 17 K at 70 mass %. Twice that is the cold end, but not below the eutectic.
    ideal = _ideal_liquidus_k(frac_mass, 291.35, 18300.0, 92.094)
    low = np.maximum(226.65, ideal - 1.5 - 100.0 * (1 - frac_mass))
    return low, np.maximum(curve_end_k, ideal + 1.5)


_BOUNDS = {
    "ethylene glycol": _bound_ethylene,
    "propylene glycol": _bound_propylene,
    "glycerol": _bound_glycerol,
}


def freeze_bound_k(fluid, frac_mass):
    """Return the bounds of the freezing point, at any strength.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]

    Returns
    -------
    low, high : float or array
        The bounds; up to ``FRAC_MASS_SETTLED_MAX`` both are the consensus curve. [K]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).

    Notes
    -----
    Sources: ``freezing.BOUND_SOURCES``. Ethylene glycol from 60 to 80 mass % forms hydrates and
    laboratories disagree; propylene glycol stiffens to a glass; glycerol has its own branch. The
    widths are judged, and the rows of ``data/published/`` above 60 mass % lie inside.

    Examples
    --------
    >>> low, high = freeze_bound_k("ethylene glycol", 0.7)
    >>> round(low - 273.15), round(high - 273.15)
    (-62, -40)
    """
    here = fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    settled = np.less_equal(frac_mass, FRAC_MASS_SETTLED_MAX)
    curve = freeze_temp_k_unchecked(fluid, np.minimum(frac_mass, FRAC_MASS_SETTLED_MAX))
    strong = np.maximum(frac_mass, FRAC_MASS_SETTLED_MAX)
    low, high = _BOUNDS[fluid](strong, WATER_FREEZE_K - here.freeze_end)
    return plain(np.where(settled, curve, low)), plain(np.where(settled, curve, high))


def liquid_from_k(fluid, frac_mass):
    """Return the temperature from which a mix is surely all liquid, at any strength. [K].

    The freezing point where it is settled, else the warm bound of `freeze_bound_k`.
    """
    return freeze_bound_k(fluid, frac_mass)[1]
