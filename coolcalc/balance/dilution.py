"""Topping up with plain water: what is left of a mix, by mass, and by volumes that add.

What was lost before a top-up is mix (it leaked, or was pushed out), or only water (it boiled
off). Arrays of shape (n,) are systems; a leading axis is top-ups.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import density_kg_m3_unchecked
from . import ledger
from .composition import Composition, ProductSI

#: Top-ups after which it is no longer counted when a strength is lost. [count]
COUNT_MAX = 1000


class TopUps(NamedTuple):
    """What is inside before and after each top-up.

    Attributes
    ----------
    low, full : tuple of ledger.State, (top-up,) of (n,)
        After the loss and before the water; after the water. [kg]
    """

    low: tuple
    full: tuple


def _water(fluid):
    return ProductSI(fluid, Composition(0.0, 1.0, 0.0), 0.0)


def water_kg(fluid, volume_m3, temp_k):
    """Mass of a volume of plain water. [kg]."""
    return volume_m3 * density_kg_m3_unchecked(fluid, 0.0, temp_k)


def lose(state, volume_m3, temp_k, steam):
    """State after a loss: ``volume_m3`` of mix, or with ``steam`` of water. [m3, K].

    No more leaves than there is.
    """
    if steam:
        return ledger.boil_off(state, water_kg(state.fluid, volume_m3, temp_k))
    return ledger.drain(state, volume_m3, temp_k)


def top_up(inside, volumes_m3, temp_k, *, steam=False):
    """Return the `TopUps` of losses that are each made up with as much plain water.

    Parameters
    ----------
    inside : ledger.State, (n,)
        [kg]
    volumes_m3 : ndarray, (top-up, n) or (top-up,)
        Lost, and then poured. [m3]
    temp_k : float
        At which both are measured. [K]
    steam : bool
        Whether only water was lost.
    """
    low, full, state = [], [], inside
    for volume in volumes_m3:
        low.append(lose(state, volume, temp_k, steam))
        state = ledger.pour(low[-1], _water(inside.fluid), volume, temp_k)
        full.append(state)
    return TopUps(tuple(low), tuple(full))


def count_until_weaker(inside, volume_m3, temp_k, weakest):
    """Return after how many equal top-ups of lost mix a strength is lost, (n,). [count].

    Parameters
    ----------
    inside : ledger.State, (n,)
        [kg]
    volume_m3 : float or ndarray
        Of each top-up. [m3]
    temp_k : float
        [K]
    weakest : float or ndarray
        The weakest that still holds. [kg/kg]

    Returns
    -------
    ndarray of int
        0 where it does not hold as it is; −1 where `COUNT_MAX` top-ups do not lose it.
    """
    state = inside
    count = np.where(ledger.frac_mass(state) < weakest, 0, -1)
    for at in range(1, COUNT_MAX + 1):
        if np.all(count >= 0):
            break
        low = ledger.drain(state, volume_m3, temp_k)
        state = ledger.pour(low, _water(inside.fluid), volume_m3, temp_k)
        count = np.where((count < 0) & (ledger.frac_mass(state) < weakest), at, count)
    return count


def carried_by_dilution(before, after, temp_k):
    """Return what a content per litre is multiplied by when nothing is used up. [-].

    What is dissolved leaves with the glycol and stays with it, so it is carried as glycol is,
    over the volumes before and after.

    Parameters
    ----------
    before, after : ledger.State, (n,)
        Only water has come in between them; glycol inside before. [kg]
    temp_k : float
        [K]
    """
    kept = after.glycol_kg / before.glycol_kg
    return kept * ledger.volume_m3(before, temp_k) / ledger.volume_m3(after, temp_k)


def rule_share(share, volumes_m3, capacity_m3):
    """Return the strength that volumes that add give: c0 (1 − d1/V) (1 − d2/V) … [-].

    The textbook rule beside the balance by mass, for lost mix. ``share`` is by volume of product.
    """
    return share * np.prod(1.0 - np.asarray(volumes_m3) / capacity_m3, axis=0)


def rule_count(share, weakest, volume_m3, capacity_m3):
    """Return after how many equal top-ups the textbook rule loses a strength. [-].

    Not rounded: the strength is just held after so many, ln(weakest/share) / ln(1 − d/V).
    """
    return np.log(weakest / share) / np.log1p(-volume_m3 / capacity_m3)


def share_within(figures, limits):
    """Return the largest share of a water that is within limits when made up with distilled. [-].

    Parameters
    ----------
    figures, limits : sequence of float
        Of what falls in proportion, in one unit each.

    Returns
    -------
    float
        1 where it is within them as it is, or there are none.
    """
    found, most = np.asarray(figures, float), np.asarray(limits, float)
    return float(np.min(most / np.maximum(found, most), initial=1.0))
