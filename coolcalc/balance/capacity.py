"""Kernels of the capacity jobs: volumes of parts, and the capacity that a swap tells.

A swap takes mix out of a full system and pours as many litres of a product in. Both readings
and the litres then tell how much there is: by mass, since volumes shrink on mixing.
"""

import math
from typing import NamedTuple

import numpy as np

from ..fluids import FRAC_MASS_SETTLED_MAX
from .composition import OldMix, ProductSI, product_density_kg_m3
from .ledger import contents
from .spread import HALF_WIDTH_SD, normal_points

#: Draws of a swap's errors. [count]
DRAWS = 4096

#: A change of the readings under so many of its standard deviations tells no capacity. [-]
LEAST_SD = 3.0

#: With half of its span wider than this share of it, no job is planned with a capacity. By
#: judgement, no source. [-]
ROUGH = 0.25

_LOW, _HIGH = 2.5, 97.5  # per cent
_SHARES = np.linspace(0.01, 0.99, 99)  # of the capacity, swaps that are tried


def round_bore_m3(bore_m, length_m, count):
    """Volume of hoses or tubes of a round bore. [m, m, pieces -> m3]."""
    return math.pi / 4 * bore_m**2 * length_m * count


def flat_bore_m3(width_m, height_m, length_m, count):
    """Volume of flat tubes with round edges; inner width and height. [m, m, m, pieces -> m3]."""
    section = (width_m - height_m) * height_m + math.pi / 4 * height_m**2
    return section * length_m * count


class Swap(NamedTuple):
    """A swap and its two readings, (n,), with give or take at 95 %.

    Attributes
    ----------
    mix : OldMix
        What the old mix carries beside glycol and water.
    product : ProductSI
        What was poured.
    before, after : ndarray
        Strengths as read. [kg/kg]
    offset : ndarray
        What both readings share. [kg/kg]
    repeat_before, repeat_after : ndarray
        What each has of its own. [kg/kg]
    swapped_m3, swapped_error_m3 : ndarray
        Taken out, and poured in. [m3]
    temp_k : float
        At which both were measured. [K]
    """

    mix: OldMix
    product: ProductSI
    before: np.ndarray
    after: np.ndarray
    offset: np.ndarray
    repeat_before: np.ndarray
    repeat_after: np.ndarray
    swapped_m3: np.ndarray
    swapped_error_m3: np.ndarray
    temp_k: float


def _per_m3(mix, frac_mass, temp_k):
    """Glycol, and glycol + water, in a cubic metre of mix. [kg/m3]."""
    held = contents(
        mix.fluid, 1.0, frac_mass, mix.additive_per_glycol, mix.additive_volume_m3_kg, temp_k
    )
    return held.glycol_kg, held.glycol_kg + held.water_kg


def _poured_per_m3(product, temp_k):
    density = product_density_kg_m3(product, temp_k)
    return density * product.share.glycol, density * (product.share.glycol + product.share.water)


def per_m3(swap):
    """Return glycol, and glycol + water, in a cubic metre of first mix and of product. [kg/m3]."""
    return (
        *_per_m3(swap.mix, swap.before, swap.temp_k),
        *_poured_per_m3(swap.product, swap.temp_k),
    )


def capacity_m3(mix, product, before, after, swapped_m3, temp_k):
    """Capacity that a swap tells, (n,). [m3].

    Glycol before, less what came out, plus what was poured, is the glycol of the second reading:
    linear in the capacity. Infinite where the second reading is no nearer to the product; no
    less than what was swapped, where it is beyond it.

    Parameters
    ----------
    mix, product, before, after, swapped_m3, temp_k
        As for `Swap`.
    """
    glycol, both = _per_m3(mix, before, temp_k)
    poured_glycol, poured_both = _poured_per_m3(product, temp_k)
    way = np.sign(poured_glycol * both - glycol * poured_both)
    # By a cubic metre that is poured; none where the second reading is that of the product.
    gained = np.maximum(way * (poured_glycol - after * poured_both), 0.0)
    moved = way * (after * both - glycol)  # by a cubic metre that stays
    told = moved > 0.0
    return np.where(told, swapped_m3 * (1.0 + gained / np.where(told, moved, 1.0)), np.inf)


def after_swap(mix, product, before, capacity, swapped_m3, temp_k):
    """Strength after a swap in a system of known capacity, (n,). [kg/kg]."""
    glycol, both = _per_m3(mix, before, temp_k)
    poured_glycol, poured_both = _poured_per_m3(product, temp_k)
    stays = capacity - swapped_m3
    return (glycol * stays + poured_glycol * swapped_m3) / (both * stays + poured_both * swapped_m3)


def change_in_sd(swap):
    """Change of the readings over the standard deviation of their difference, (n,). [-].

    What both readings share is out of the difference. Infinite where both are exact.
    """
    sd = np.hypot(swap.repeat_before, swap.repeat_after) / HALF_WIDTH_SD
    change = np.abs(swap.after - swap.before)
    return np.where(sd > 0.0, change / np.where(sd > 0.0, sd, 1.0), np.where(change, np.inf, 0.0))


def spread_m3(swap):
    """Least and most capacity at 95 %, (n,): from one fixed set of draws, skewed as it is. [m3].

    An end is infinite where the change is lost in the errors.
    """
    shared, first, second, measured = (each[:, None] for each in normal_points(4, DRAWS))
    before = swap.before + swap.offset * shared + swap.repeat_before * first
    after = swap.after + swap.offset * shared + swap.repeat_after * second
    swapped = swap.swapped_m3 + swap.swapped_error_m3 * measured
    found = capacity_m3(
        swap.mix, swap.product, np.clip(before, 0, 1), np.clip(after, 0, 1), swapped, swap.temp_k
    )
    with np.errstate(invalid="ignore"):
        low, high = np.percentile(found, [_LOW, _HIGH], axis=0, method="higher")
    return low, high


def swap_for(swap, wanted, most_share):
    """Smallest share of the capacity to swap for a wanted precision, one row.

    It does not depend on the capacity. Swaps that leave a mix stronger than freezing points are
    settled for are not tried: no reading could be relied on.

    Parameters
    ----------
    swap : Swap
        Its errors, its first reading and its product; the litres' error as a share of them.
    wanted : float
        Half of the span at 95 %, over the capacity. [-]
    most_share : float
        Of the capacity that one drain lets out. [-]

    Returns
    -------
    share : float
        NaN where no swap does. [-]
    precision : float
        With the best swap; infinite where none tells anything. [-]
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        relative = np.nan_to_num(swap.swapped_error_m3 / swap.swapped_m3)
    after = after_swap(swap.mix, swap.product, swap.before, 1.0, _SHARES, swap.temp_k)
    tried = swap._replace(after=after, swapped_m3=_SHARES, swapped_error_m3=relative * _SHARES)
    with np.errstate(invalid="ignore"):
        low, high = spread_m3(tried)
        told = (change_in_sd(tried) >= LEAST_SD) & (after <= FRAC_MASS_SETTLED_MAX)
        told &= most_share >= _SHARES
        precision = np.where(told, (high - low) / 2.0, np.inf)
    enough = np.flatnonzero(precision <= wanted)
    share = float(_SHARES[enough[0]]) if enough.size else float("nan")
    return share, float(precision.min())
