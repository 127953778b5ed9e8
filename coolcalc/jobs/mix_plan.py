"""One row for the kernel of `correct_mix`: what is inside, and the plan that corrects it."""

from typing import NamedTuple

import numpy as np

from ..balance import exchange, ledger
from ..balance.composition import ProductSI
from ..balance.spread import OldMix, outcome_spread
from ..mixture import Mixture


class MixRow(NamedTuple):
    """What a correction starts from, in SI; every array has one element.

    Attributes
    ----------
    mix : OldMix
    inside : ledger.State
        [kg]
    capacity_m3, low_m3 : float
        Full to the cold mark; what is missing below it. [m3]
    products : tuple of ProductSI
        What there is to pour.
    temp_k : float
        Of the litres. [K]
    """

    mix: OldMix
    inside: ledger.State
    capacity_m3: float
    low_m3: float
    products: tuple[ProductSI, ...]
    temp_k: float


def row_of(mixture: Mixture, capacity_m3, low_m3, shelf, temp_k):
    """Return the `MixRow` of a mix in a system. [m3, K]."""
    si = mixture.product.si()
    mix = OldMix(mixture.fluid, si.share.additive / si.share.glycol, si.additive_volume_m3_kg)
    inside = ledger.contents(
        mix.fluid,
        np.array([capacity_m3 - low_m3]),
        np.array([mixture.frac_mass]),
        mix.additive_per_glycol,
        mix.additive_volume_m3_kg,
        temp_k,
    )
    products = tuple(product.si(mixture.fluid) for product in shelf)
    return MixRow(mix, inside, capacity_m3, low_m3, products, temp_k)


def plan_row(row, target, band, drainable_m3, step_m3=0.0):
    """Return the `exchange.Plan` of a row.

    Parameters
    ----------
    row : MixRow
    target : float
        Glycol over glycol + water. [kg/kg]
    band : pair of float
        Weakest and strongest that is left alone. [kg/kg]
    drainable_m3, step_m3 : float
        What comes out of the full system; the measuring step, 0 for exact litres. [m3]
    """
    return exchange.plan_exchange(
        row.inside,
        np.array([row.capacity_m3]),
        np.array([drainable_m3]),
        np.array([target]),
        row.products,
        exchange.Limits(*(np.array([edge]) for edge in band)),
        row.temp_k,
        step_m3=step_m3,
    )


def reach_row(row, target, drainable_m3):
    """Return the strength nearest to a target out of reach. [kg/kg]."""
    near = exchange.reach_frac_mass(
        row.inside,
        np.array([row.capacity_m3]),
        np.array([drainable_m3]),
        np.array([target]),
        row.products,
        row.temp_k,
    )
    return float(near[0])


def spread_row(row, plan, mixture, capacity_error_m3):
    """Return give or take of the strength afterwards, and what each input gives. [kg/kg]."""
    total, parts = outcome_spread(
        row.mix,
        plan,
        row.products,
        row.temp_k,
        row.low_m3,
        {"frac_mass": np.array([mixture.frac_mass]), "capacity_m3": np.array([row.capacity_m3])},
        {"frac_mass": mixture.half_width, "capacity_m3": capacity_error_m3},
    )
    return float(total[0]), {name: float(part[0]) for name, part in parts.items()}
