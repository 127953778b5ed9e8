"""Freezing point of glycol and water on both sides, its inverses, and its bounds in between.

On the water side ice forms first, on the glycol side crystals of the glycol do. In between no
value is settled, and for propylene glycol no glycol side is known.
"""

from typing import NamedTuple

import numpy as np

from ..errors import COLDER_THAN_COVERED, NoGlycolSideError, NotSettledError, one_of
from . import coolprop
from .fluid import (
    FRAC_MASS_SETTLED_MAX,
    FRAC_SLACK,
    TEMP_MIN_K,
    TEMP_SLACK_K,
    WATER_FREEZE_K,
    Width,
    check,
    check_frac_mass,
    fluid_named,
    horner,
    horner_inverse,
    in_chunks,
    numeric,
    plain,
)

SOURCES = {
    "ethylene glycol": (
        *("crc-concentrative", "cryoscopic-law"),
        *("crc-constants", "crc-fusion", "ideal-liquidus"),
    ),
    "propylene glycol": ("lange-15", "melinder-iir", "melinder-2010", "cryoscopic-law"),
    "glycerol": (
        *("crc-concentrative", "lange-15", "melinder-iir", "cryoscopic-law"),
        *("crc-constants", "crc-fusion"),
    ),
}

#: Who bounds the freezing point where it is not settled.
BOUND_SOURCES = {
    "ethylene glycol": ("bowles-sae", "zinchenko", "ideal-liquidus"),
    "propylene glycol": ("ashrae-2001", "melinder-2010", "glass-recalled"),
    "glycerol": ("lange-15", "melinder-iir", "lane-recalled"),
}

#: Half-widths of the band where a value is given; at both ends of a gap its bounds start there.
#: Ethylene glycol: judged on the water side (two authors who agree to 0.1 K are all there is); on
#: the glycol side theory, beside it the activities that boiling points give (2.7 K colder at 80
#: mass %); one table that does not say what its per cent are of lies outside it (7 K
#: warmer at 85). Propylene glycol at 60 mass %: the two tables there are 0.5 and
#: 1.6 K warmer. [K]
HALF_WIDTHS = {
    "ethylene glycol": Width(
        (0.0, 0.05, 0.3, 0.45, 0.6, 0.8, 0.85, 0.95, 1.0),
        (0.0, 0.15, 0.25, 0.3, 0.5, 4.0, 4.0, 3.0, 0.3),
    ),
    "propylene glycol": Width((0.0, 0.1, 0.3, 0.5, 0.6), (0.0, 0.9, 0.85, 1.1, 2.0)),
    "glycerol": Width(
        (0.0, 0.1, 0.3, 0.5, 0.6, 0.7, 0.9, 1.0), (0.0, 0.75, 0.8, 1.5, 1.6, 1.2, 1.2, 1.2)
    ),
}


def freeze_temp_k_unchecked(fluid, frac_mass):
    """Return `freeze_temp_k` of the consensus curve without its checks. [K].

    Where no value is settled, the result means nothing.
    """
    here = fluid_named(fluid)
    ice = WATER_FREEZE_K - frac_mass * horner(here.freeze, frac_mass)
    strong = np.greater_equal(frac_mass, here.melt_from - FRAC_SLACK)
    if not strong.any():
        return ice
    water = 1.0 - frac_mass
    return plain(np.where(strong, here.melt_k - water * horner(here.melt, water), ice))


def frac_mass_from_freeze_temp_k_unchecked(fluid, temp_k, side="water"):
    """Return `frac_mass_from_freeze_temp_k` without its checks. [-].

    Outside the range of the checked twin the result means nothing: compare the temperature first.
    """
    here = fluid_named(fluid)
    if side == "water":
        depression = WATER_FREEZE_K - temp_k
        return horner_inverse(here.freeze, here.freeze_start, depression, here.freeze_end)
    return 1.0 - horner_inverse(here.melt, here.melt_start, here.melt_k - temp_k, here.melt_end)


def settled_unchecked(fluid, frac_mass):
    """Return `settled` without its check; NaN is not settled. [bool]."""
    return np.less_equal(frac_mass, FRAC_MASS_SETTLED_MAX + FRAC_SLACK) | np.greater_equal(
        frac_mass, fluid_named(fluid).melt_from - FRAC_SLACK
    )


def settled(fluid, frac_mass):
    """Say whether `freeze_temp_k` has a value at a strength.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]

    Returns
    -------
    bool or array of bool
        True up to ``FRAC_MASS_SETTLED_MAX``, where laboratories agree, and from 0.80 for ethylene
        glycol (theory) and 0.70 for glycerol (one table). How far to trust a value:
        ``band("freeze_temp_k", ...)``.

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).

    Examples
    --------
    >>> settled("ethylene glycol", 0.7), settled("ethylene glycol", 0.9)
    (False, True)
    """
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    found = settled_unchecked(fluid, frac_mass)
    return found if isinstance(frac_mass, np.ndarray) else bool(found)


#: Freezing curves by name; CoolProp's ends at ``FRAC_MASS_SETTLED_MAX``.
MODELS = {"consensus": freeze_temp_k_unchecked, "coolprop": coolprop.freeze_temp_k}


def freeze_temp_k(fluid, frac_mass, model="consensus"):
    """Return the temperature at which the first crystals form.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, where `settled` says so: 0 to
        ``FRAC_MASS_SETTLED_MAX`` (ice), and 0.80 to 1 for ethylene glycol, 0.70 to 1 for
        glycerol (crystals of the glycol). [-]
    model : str
        "consensus", fitted to the published tables of the pure glycol and water, or "coolprop",
        asked live for comparison, up to ``FRAC_MASS_SETTLED_MAX`` only.

    Returns
    -------
    float or array
        First-crystal temperature, in the shape of `frac_mass`. [K]

    Raises
    ------
    NotSettledError
        Where no value is settled, with the bounds of `freeze_bound_k`.
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).
    UnknownChoiceError
        For another fluid or model; the message lists the choices.

    Notes
    -----
    Sources: ``freezing.SOURCES``; residuals in the head of ``_coefficients.py``; check values in
    ``data/published/``; errors on lineages left out from ``data/left_out.py``. Pure water is
    273.15 K, and the slope there is that of the law of dilute solutions (1.86 K kg/mol).

    The glycol side ends at the published melting point of the glycol, with the slope that its
    published heat of melting gives. Glycerol: one source, Lange's table (judged band 1.2 K, by
    which that table's own melting point differs). Ethylene glycol: no published row of a mix
    that says per cent of what was found, so the liquid is taken as ideal (judged band 4 K to 85
    mass %, 3 K at 95); one table that does not say is 1 K colder at 80 and 7 K warmer at 85.

    Examples
    --------
    >>> round(freeze_temp_k("ethylene glycol", 0.5) - 273.15, 1)
    -36.0
    >>> round(freeze_temp_k("glycerol", 0.8) - 273.15, 1)
    -19.6
    """
    curve = MODELS[one_of("model", model, MODELS)]
    fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    _check_settled(fluid, frac_mass)
    return curve(fluid, frac_mass)


def _check_settled(fluid, frac_mass):
    open_question = ~settled_unchecked(fluid, frac_mass)
    if not open_question.any():
        return
    index = None
    if isinstance(frac_mass, np.ndarray):
        index = int(np.argmax(open_question))
        frac_mass = float(frac_mass.flat[index])
    low, high = freeze_bound_k(fluid, frac_mass)
    ranges = [(0.0, FRAC_MASS_SETTLED_MAX), (fluid_named(fluid).melt_from, 1.0)]
    raise NotSettledError(
        f"freezing point of {fluid} at {frac_mass:.4g} kg/kg",
        low,
        high,
        "K",
        BOUND_SOURCES[fluid],
        index=index,
        settled=[each for each in ranges if each[0] <= 1.0],
    )


def frac_mass_from_freeze_temp_k(fluid, temp_k, side="water"):
    """Return the mass fraction of glycol whose first crystals form at a temperature.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    temp_k : float or array
        First-crystal temperature. Water side: from that at ``FRAC_MASS_SETTLED_MAX`` to 273.15.
        Glycol side: from that at 0.80 (ethylene glycol) or 0.70 (glycerol) to the melting point
        of the glycol. [K]
    side : str
        "water", where ice forms first, or "glycol", where crystals of the glycol do: two
        strengths freeze at one temperature, and the caller says which is meant.

    Returns
    -------
    float or array
        Mass of glycol over mass of glycol and water. [-]

    Raises
    ------
    OutOfRangeError
        Outside the range above; NaN and inf too.
    NoGlycolSideError
        For the glycol side of propylene glycol, which stiffens to a glass.
    UnknownChoiceError
        For another fluid or side.

    Notes
    -----
    The inverse of the consensus curve of `freeze_temp_k`, to 1e-8.

    Examples
    --------
    >>> round(frac_mass_from_freeze_temp_k("ethylene glycol", 273.15 - 20), 3)
    0.363
    >>> round(frac_mass_from_freeze_temp_k("ethylene glycol", 273.15 - 20, side="glycol"), 3)
    0.962
    """
    here = fluid_named(fluid)
    water_side = one_of("side", side, SIDES) == "water"
    if not water_side and here.melt_from > 1.0:
        raise NoGlycolSideError("side", side, fluid)
    temp_k = numeric("freezing temperature", temp_k)
    pure_k, end = (WATER_FREEZE_K, here.freeze_end) if water_side else (here.melt_k, here.melt_end)
    source = f"{fluid} and water" if water_side else f"the glycol side of {fluid} and water"
    check("freezing temperature", temp_k, pure_k - end - TEMP_SLACK_K, pure_k, "K", source)
    frac_mass = frac_mass_from_freeze_temp_k_unchecked(fluid, temp_k, side)
    # The check lets the rounding of a temperature pass; the answer stays inside the range.
    low, high = (0.0, FRAC_MASS_SETTLED_MAX) if water_side else (here.melt_from, 1.0)
    return plain(np.clip(frac_mass, low, high))


#: Sides of the lowest freezing point.
SIDES = ("water", "glycol")


class _Gap(NamedTuple):
    """Judged bounds where no value is settled: fractions, and the bounds there. [-, K].

    Between them, and to the settled curves with their `HALF_WIDTHS` at both ends of the gap, the
    bounds run straight.
    """

    cold_at: tuple
    cold: tuple
    warm_at: tuple
    warm: tuple


_GAPS = {
    # Cold: the metastable eutectic of ice and glycol, -63 °C by calorimetry, -68 °C where the
    # two curves would meet. Warm: the warmer stable eutectic of the hydrates, -42.7 °C to 3 K.
    "ethylene glycol": _Gap((0.65, 0.75), (205.15, 205.15), (0.65, 0.75), (233.45, 233.45)),
    # It does not crystallise in practice above 60 mass %: it stiffens to a glass. Cold: the
    # glass, from memory. Warm: the tables are 2 K apart at 60 mass %, the warmest at -50 °C.
    "propylene glycol": _Gap((0.70, 1.0), (150.0, 150.0), (0.65, 1.0), (223.65, 223.65)),
    # Cold: the eutectic, -46.5 °C from memory, and 1.5 K. Warm: either curve falls faster than
    # the straight line from one end of the gap to the other.
    "glycerol": _Gap((0.65, 0.68), (225.15, 225.15), (), ()),
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
        The bounds; where `settled` says so both are the consensus curve, whose own band is that
        of ``band("freeze_temp_k", ...)``. [K]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).

    Notes
    -----
    Sources: ``freezing.BOUND_SOURCES``. Ethylene glycol from 60 to 80 mass % forms hydrates and
    laboratories disagree; propylene glycol stiffens to a glass; glycerol has its eutectic near
    66.7 mass %. The bounds widen from the bands of the settled curves. The widths are judged (the
    glass and glycerol's eutectic are from memory), and the rows of ``data/published/`` where
    nothing is settled lie inside.

    Examples
    --------
    >>> low, high = freeze_bound_k("ethylene glycol", 0.7)
    >>> round(low - 273.15), round(high - 273.15)
    (-68, -40)
    """
    here = fluid_named(fluid)
    frac_mass = numeric("glycol mass fraction", frac_mass)
    check_frac_mass(frac_mass, "mass fractions")
    known = settled_unchecked(fluid, frac_mass)
    curve = freeze_temp_k_unchecked(fluid, frac_mass)
    if known.all():
        return curve, curve + 0.0
    gap = _GAPS[fluid]
    edges = [(FRAC_MASS_SETTLED_MAX, WATER_FREEZE_K - here.freeze_end)]
    if here.melt_from <= 1.0:
        edges.append((here.melt_from, here.melt_k - here.melt_end))
    bounds = []
    for sign, at, temps in ((-1, gap.cold_at, gap.cold), (1, gap.warm_at, gap.warm)):
        start, *end = ((w, temp + sign * HALF_WIDTHS[fluid].at(w)) for w, temp in edges)
        nodes = [start, *zip(at, temps, strict=True), *end]
        bound = np.interp(frac_mass, *zip(*nodes, strict=True))
        bounds.append(plain(np.where(known, curve, bound)))
    return bounds[0], bounds[1]


def liquid_from_k(fluid, frac_mass):
    """Return the temperature from which a mix is surely all liquid, at any strength.

    The freezing point where it is settled, else the warm bound of `freeze_bound_k`.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]

    Returns
    -------
    float or array
        [K]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).
    """
    return freeze_bound_k(fluid, frac_mass)[1]


def covered_from_k(fluid, frac_mass):
    """Return the temperature from which the other properties are given.

    The freezing point; where none is settled the cold bound, for the liquid that may still be
    there. Not below ``TEMP_MIN_K``; and from 0 °C on at any strength, since strong glycerol, whose
    crystals would melt at up to 18 °C, stays liquid and is published as one.

    Parameters
    ----------
    fluid : str
        A name in ``FLUIDS``.
    frac_mass : float or array
        Mass of glycol over mass of glycol and water, 0 to 1. [-]

    Returns
    -------
    float or array
        [K]

    Raises
    ------
    OutOfRangeError
        For a fraction that is not from 0 to 1 (NaN and inf too).
    """
    return plain(np.clip(freeze_bound_k(fluid, frac_mass)[0], TEMP_MIN_K, WATER_FREEZE_K))


def check_covered(fluid, frac_mass, temp_k, high_k):
    """Raise for the first temperature that is not from `covered_from_k` to `high_k`. [K]."""
    low_k = WATER_FREEZE_K - TEMP_SLACK_K
    # From 0 °C on no strength needs its own limit; a NaN is neither below nor above.
    least, most = np.min(temp_k, initial=np.inf), np.max(temp_k, initial=-np.inf)
    if not (least >= low_k and most <= high_k):
        low_k = in_chunks(lambda frac: covered_from_k(fluid, frac) - TEMP_SLACK_K, frac_mass)
    source = f"{fluid} and water"
    check("temperature", temp_k, low_k, high_k, "K", source, COLDER_THAN_COVERED)
