"""Kernel of `refill`: what is still inside after a repair, and what a fill to the mark gives.

A fill is told as liquids in pouring order. The last one goes in up to the mark, whatever is
printed for it: that is how it is poured, and it is what makes an unknown residual tell.
"""

from typing import NamedTuple

import numpy as np

from . import ledger
from .composition import Composition, OldMix, ProductSI, composition_of_mix, product_density_kg_m3
from .ladder import fill_to_mark_m3


class Residual(NamedTuple):
    """What is still inside, (n,), at 95 %, and the two things that it is known from. [m3].

    It moves with the capacity by ``per_capacity`` [m3/m3], and apart from that by
    ``came_out_half_m3``, the give or take of what came out.
    """

    low_m3: np.ndarray
    value_m3: np.ndarray
    high_m3: np.ndarray
    half_width_m3: np.ndarray
    capacity_half_m3: np.ndarray
    came_out_half_m3: np.ndarray
    per_capacity: np.ndarray

    def moved(self, capacity_u, came_out_u):
        """Return capacity more than thought, and what is inside, for errors in half-widths. [m3].

        More that came out is less inside; there is never less than nothing.
        """
        more = self.capacity_half_m3 * capacity_u
        inside = self.value_m3 + self.per_capacity * more - self.came_out_half_m3 * came_out_u
        return more, np.maximum(inside, 0.0)

    def likeliest_more_m3(self, inside_m3):
        """Return by how much the capacity is likely larger than thought if so much is inside.

        A larger residual may mean a larger system; by the share of its spread from there. [m3]
        """
        square = np.maximum(self.half_width_m3, 1e-30) ** 2
        per = self.per_capacity * self.capacity_half_m3**2 / square
        return per * (inside_m3 - self.value_m3)


def _residual(value, capacity_m3, capacity_half, came_out_half, per_capacity):
    half = np.hypot(per_capacity * capacity_half, came_out_half)
    value, *rest = np.broadcast_arrays(value, half, capacity_half, came_out_half, per_capacity)
    known = Residual(value, np.maximum(value, 0.0), value, *rest)
    high = value + half
    # No more than all of the system, as large as it then likely is.
    high = np.minimum(high, capacity_m3 + known.likeliest_more_m3(high))
    low = np.maximum(value - half, 0.0)
    return known._replace(low_m3=low, high_m3=np.maximum(high, low))


def still_inside(capacity_m3, capacity_half_m3, came_out_m3, came_out_half_m3):
    """Return the `Residual` after litres that were measured came out. [m3].

    Errors are half-widths at 95 % and add in squares. What was missing before counts as out.
    """
    inside = capacity_m3 - came_out_m3
    return _residual(inside, capacity_m3, capacity_half_m3, came_out_half_m3, 1.0)


def still_inside_by_share(capacity_m3, capacity_half_m3, low_m3, share_low, share_high):
    """Return the `Residual` where a share of the capacity came out. [m3, -]."""
    middle, half_share = (share_low + share_high) / 2, (share_high - share_low) / 2
    # What was missing at the top was missing there: it is part of the share that is out.
    inside = capacity_m3 - np.maximum(capacity_m3 * middle, low_m3)
    came_out_half = capacity_m3 * half_share
    return _residual(inside, capacity_m3, capacity_half_m3, came_out_half, inside / capacity_m3)


def old_mix_as_liquid(mix: OldMix, frac_mass):
    """Return caught mix as something to pour: a `ProductSI` of its strength. [kg/kg]."""
    share = composition_of_mix(frac_mass, mix.additive_per_glycol)
    return ProductSI(mix.fluid, share, mix.additive_volume_m3_kg)


def blend(products, volumes_m3, temp_k):
    """Return what products make in a bucket, as a `ProductSI`; volumes of floats. [m3, K]."""
    masses = [
        volume * product_density_kg_m3(product, temp_k)
        for product, volume in zip(products, volumes_m3, strict=True)
    ]
    total = sum(masses)
    parts = [
        sum(mass * product.share[at] for mass, product in zip(masses, products, strict=True))
        for at in range(3)
    ]
    additive_m3 = sum(
        mass * product.share.additive * product.additive_volume_m3_kg
        for mass, product in zip(masses, products, strict=True)
    )
    additive_volume = additive_m3 / parts[2] if parts[2] > 0.0 else 0.0
    share = Composition(*(part / total for part in parts))
    return ProductSI(products[0].fluid, share, additive_volume)


class Poured(NamedTuple):
    """State after a fill, and how much of each liquid went in, (liquid, n). [kg, m3]."""

    after: ledger.State
    volumes_m3: np.ndarray


def fill_up(inside, capacity_m3, liquids, volumes_m3, temp_k):
    """Pour liquids in order, the last one up to the mark, none above it.

    Parameters
    ----------
    inside : ledger.State, (n,)
        [kg]
    capacity_m3 : ndarray, (n,)
        [m3]
    liquids : sequence of ProductSI
        In pouring order; one of them may vary by row.
    volumes_m3 : sequence of float
        What is printed for each; the last counts for nothing. [m3]
    temp_k : float
        [K]

    Returns
    -------
    Poured
    """
    state, volumes = inside, []
    for at, liquid in enumerate(liquids):
        room = fill_to_mark_m3(state, liquid, capacity_m3, temp_k)
        volume = room if at == len(liquids) - 1 else np.minimum(volumes_m3[at], room)
        state = ledger.pour(state, liquid, volume, temp_k)
        volumes.append(volume)
    return Poured(state, np.array(volumes))
