"""Kernel of `correct_mix`: the least drain, and the pours, that bring a system to a target.

Once the mix stands at the target, the volume of its glycol and water is a plain multiple of
their mass, so the drain has a closed form. What is poured then fills the system to its mark.
"""

from typing import NamedTuple

import numpy as np

from ..errors import BLOCKED, Status
from ..fluids import FRAC_MASS_SETTLED_MAX, density_kg_m3_unchecked
from . import ledger
from .composition import frac_mass_of, product_density_kg_m3

#: Closer than this, rounding is not told from the target. [kg/kg]
_EQUAL = 1e-9


class Limits(NamedTuple):
    """Weakest and strongest mix that is left alone, (n,). [kg glycol / kg glycol + water]."""

    weakest: np.ndarray
    strongest: np.ndarray


class Plan(NamedTuple):
    """What to take out and pour, and what it gives.

    Attributes
    ----------
    drain_m3 : ndarray, (pass, n)
        Taken out before each pour. [m3]
    pour_m3 : ndarray, (pass, product, n)
        Poured in, products in the order given; the strongest goes in first. [m3]
    after : ledger.State
        What is inside when it has all been done. [kg]
    passes : ndarray of int, (n,)
        Passes that the row needs, as far as they were allowed.
    status : ndarray of int, (n,)
        `coolcalc.errors.Status` flags. A blocked row carries NaN litres and its old state.
    """

    drain_m3: np.ndarray
    pour_m3: np.ndarray
    after: ledger.State
    passes: np.ndarray
    status: np.ndarray


class _Shelf(NamedTuple):
    """The strongest and the weakest product, and where they stand in the order given."""

    strong: object
    weak: object
    strong_at: int
    weak_at: int


def _shelf(products):
    shares = [frac_mass_of(product.share) for product in products]
    strong_at, weak_at = int(np.argmax(shares)), int(np.argmin(shares))
    return _Shelf(products[strong_at], products[weak_at], strong_at, weak_at)


def fill_to_mark_m3(state, product, capacity_m3, temp_k):
    """Volume of one product that brings the contents up to ``capacity_m3``, (n,). [m3].

    Volumes shrink on mixing, so a little more goes in than the room that is left.
    """
    density = product_density_kg_m3(product, temp_k)

    def short(volume):
        full = ledger.add(state, product, volume * density)
        return capacity_m3 - ledger.volume_m3(full, temp_k)

    volume = capacity_m3 - ledger.volume_m3(state, temp_k)
    rest = short(volume)
    move = rest
    for _ in range(4):  # secant: 5 % off at first, squared and better each time
        volume = volume + move
        last, rest = rest, short(volume)
        slope = last - rest
        move = np.where(slope == 0.0, 0.0, move * rest / np.where(slope == 0.0, 1.0, slope))
    return np.maximum(volume, 0.0)


def available_drain_m3(inside, capacity_m3, drainable_m3, temp_k):
    """Return what still comes out at the drain, (n,). [m3].

    What is missing at the top is missing there.
    """
    held = ledger.volume_m3(inside, temp_k)
    return np.clip(drainable_m3 - (capacity_m3 - held), 0.0, held)


def reach_frac_mass(inside, capacity_m3, drainable_m3, target, products, temp_k):
    """Strength nearest to a target out of reach, filled to the mark with one product, (n,).

    After draining nothing or all that comes out: what lies between lies further off. [kg/kg].
    """
    out = available_drain_m3(inside, capacity_m3, drainable_m3, temp_k)
    nearest = np.full_like(out, np.inf)
    for product in products:
        for drained in (0.0 * out, out):
            left = ledger.drain(inside, drained, temp_k)
            volume = fill_to_mark_m3(left, product, capacity_m3, temp_k)
            reached = ledger.frac_mass(ledger.pour(left, product, volume, temp_k))
            nearer = np.abs(reached - target) < np.abs(nearest - target)
            nearest = np.where(nearer, reached, nearest)
    return nearest


def outcome(true_inside, plan, products, temp_k):
    """State after a plan's litres are carried out on what is truly inside, (n,). [kg]."""
    order = np.argsort([-frac_mass_of(product.share) for product in products], kind="stable")
    state = true_inside
    for drained, poured in zip(plan.drain_m3, plan.pour_m3, strict=True):
        state = ledger.drain(state, drained, temp_k)
        for at in order:
            state = ledger.pour(state, products[at], poured[at], temp_k)
    return state


def _surplus_kg(glycol, water, target):
    """Glycol beyond what the target needs; negative where it is missing. [kg]."""
    return glycol - target * (glycol + water)


def _exact(inside, capacity, target, shelf, temp_k):
    """Drain and strong pour of the unrounded step, and what kind of step it is. [m3].

    Returns ``drain, strong, fill, strengthen, dilute, no_strong``; a row that is none of the
    three kinds cannot be brought to the target with this shelf.
    """
    at_target = density_kg_m3_unchecked(inside.fluid, target, temp_k)
    missing = -_surplus_kg(inside.glycol_kg, inside.water_kg, target)
    old = (inside.glycol_kg + inside.water_kg) / at_target + inside.additive_m3
    held = ledger.volume_m3(inside, temp_k)

    def per_kg(product):
        glycol, water, additive = product.share
        space = (glycol + water) / at_target + additive * product.additive_volume_m3_kg
        return _surplus_kg(glycol, water, target), space

    (gives, strong_space), (takes, weak_space) = per_kg(shelf.strong), per_kg(shelf.weak)
    can_strengthen, can_dilute = gives > 0.0, takes < 0.0
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        # Without a drain: glycol and volume balance in the masses of two products.
        room = capacity - old
        both = gives * weak_space - takes * strong_space
        strong_kg = (missing * weak_space - takes * room) / both
        weak_kg = (gives * room - missing * strong_space) / both
        # With a drain: the share kept follows from the volume at the target's strength.
        kept_strong = capacity / (old + missing / gives * strong_space)
        kept_weak = capacity / (old + missing / takes * weak_space)
    fill = can_strengthen & can_dilute & (strong_kg >= 0.0) & (weak_kg >= 0.0)
    strengthen = ~fill & can_strengthen & (missing >= 0.0) & (kept_strong <= 1.0)
    dilute = ~fill & can_dilute & (missing <= 0.0) & (kept_weak <= 1.0) & ~strengthen
    kept = np.where(strengthen, kept_strong, np.where(dilute, kept_weak, 1.0))
    density = product_density_kg_m3(shelf.strong, temp_k)
    strong = np.where(fill, strong_kg / density, 0.0)
    no_strong = np.where(missing > 0.0, ~can_strengthen, can_dilute & ~can_strengthen)
    return held * (1.0 - kept), strong, fill, strengthen, dilute, no_strong


def _in_band_fill(inside, capacity, target, shelf, limits, temp_k):
    """Which single product tops up a mix in band: strong, weak, or (both False) neither."""
    kept_in = []
    for product in (shelf.strong, shelf.weak):
        volume = fill_to_mark_m3(inside, product, capacity, temp_k)
        reached = ledger.frac_mass(ledger.pour(inside, product, volume, temp_k))
        off = np.abs(reached - target)
        kept_in.append(
            np.where((reached >= limits.weakest) & (reached <= limits.strongest), off, np.inf)
        )
    strong = np.isfinite(kept_in[0]) & (kept_in[0] <= kept_in[1])
    return strong, np.isfinite(kept_in[1]) & ~strong


def _one_pass(inside, capacity, available, target, shelf, limits, temp_k, step):
    """One drain and fill, rounded to ``step`` (0: exact). [m3].

    Nothing is poured above the mark, and no rounding ends weaker than the target: a drain that
    is made up with the strong product is rounded up, one that is made up with water down.
    """

    def up(volume):
        return np.ceil(volume / step - 1e-9) * step if step else volume

    def down(volume):
        return np.floor(volume / step + 1e-9) * step if step else volume

    found = ledger.frac_mass(inside)
    room = capacity - ledger.volume_m3(inside, temp_k)
    measurable = max(step / 2, 1e-12)
    drain, strong, fill, strengthen, dilute, no_strong = _exact(
        inside, capacity, target, shelf, temp_k
    )
    in_band = (found >= limits.weakest) & (found <= limits.strongest)
    in_band |= (strengthen | dilute) & (drain < measurable) & (room < measurable)
    idle = in_band & (room < measurable)
    topped = in_band & ~idle & ~fill
    drain = np.where(in_band, 0.0, drain)
    strengthen, dilute, fill = strengthen & ~idle, dilute & ~idle, fill & ~idle
    if np.any(topped):
        strong_on_top, weak_on_top = _in_band_fill(inside, capacity, target, shelf, limits, temp_k)
        strengthen = np.where(topped, strong_on_top, strengthen)
        dilute = np.where(topped, weak_on_top, dilute)

    def poured(out):
        left = ledger.drain(inside, out, temp_k)
        most = fill_to_mark_m3(left, shelf.strong, capacity, temp_k)
        first = np.where(fill, np.minimum(up(strong), down(most)), 0.0)
        first = np.where(strengthen, down(most), first)
        left = ledger.pour(left, shelf.strong, first, temp_k)
        second = down(fill_to_mark_m3(left, shelf.weak, capacity, temp_k))
        second = np.where(fill | dilute, second, 0.0)
        reached = ledger.frac_mass(ledger.pour(left, shelf.weak, second, temp_k))
        return first, second, reached

    most = down(available)
    partial = drain > available
    out = np.minimum(np.where(strengthen, up(drain), down(drain)), most)
    first, second, reached = poured(out)
    if step:
        weaker = ~in_band & (reached < target - _EQUAL)
        more = weaker & (strengthen | fill) & (out + step <= most)
        if np.any(more):
            strengthen, fill = strengthen | more, fill & ~more
            out = np.where(more, out + step, out)
            first, second, reached = poured(out)
        partial |= ~in_band & (strengthen | fill) & (reached < target - _EQUAL)

    blocked = ~(idle | fill | strengthen | dilute)
    status = np.where(in_band, int(Status.IN_BAND), 0)
    status |= np.where(~in_band & (found > limits.strongest), int(Status.TOO_STRONG), 0)
    status |= np.where(partial & ~blocked, int(Status.ONE_DRAIN_GIVES_PART), 0)
    lacking = np.where(no_strong, int(Status.PRODUCT_TOO_WEAK), int(Status.NO_DILUENT))
    status |= np.where(blocked, lacking, 0)
    return out, first, second, status


def plan_exchange(
    inside, capacity_m3, drainable_m3, target, products, limits, temp_k, *, step_m3=0.0, passes=1
):
    """Least drain, and pours, that bring what is inside to the target and to the mark.

    What is missing (a low level) is the capacity less the volume of ``inside``. If filling up
    alone reaches the target, nothing is drained. If one drain does not bring out enough, all
    that comes out is drained and the row says so; the next pass starts from what that gave.

    Parameters
    ----------
    inside : ledger.State, (n,)
        What is in the systems, all of one fluid. [kg]
    capacity_m3, drainable_m3 : ndarray, (n,)
        Full to the cold mark; what comes out of a full system at the drain. [m3]
    target : ndarray, (n,)
        Glycol over glycol + water wanted. [kg/kg]
    products : sequence of ProductSI
        What can be poured; the strongest and the weakest of them are used.
    limits : Limits, (n,)
        What is left alone; holds the target.
    temp_k : float
        Temperature at which litres are measured. [K]
    step_m3 : float
        Measuring step to which litres are rounded; 0 leaves them exact. [m3]
    passes : int
        Drains allowed.

    Returns
    -------
    Plan
    """
    shelf = _shelf(products)
    count = np.shape(inside.glycol_kg)[0]
    drains = np.zeros((passes, count))
    pours = np.zeros((passes, len(products), count))
    used = np.ones(count, int)
    state, band = inside, limits
    status = np.where(ledger.frac_mass(inside) > FRAC_MASS_SETTLED_MAX, Status.START_NOT_SETTLED, 0)
    part = int(Status.ONE_DRAIN_GIVES_PART)
    open_rows = np.ones(count, bool)
    for at in range(passes):
        available = available_drain_m3(state, capacity_m3, drainable_m3, temp_k)
        out, strong, weak, found = _one_pass(
            state, capacity_m3, available, target, shelf, band, temp_k, step_m3
        )
        drains[at] = np.where(open_rows, out, 0.0)
        pours[at, shelf.strong_at] += np.where(open_rows, strong, 0.0)
        pours[at, shelf.weak_at] += np.where(open_rows, weak, 0.0)
        if at:  # a row that was drained is not one that is left alone
            found = found & ~int(Status.IN_BAND)
        status = (status & ~part) | np.where(open_rows, found, status & part)
        used = np.where(open_rows, at + 1, used)
        state = outcome(
            state,
            Plan(drains[at : at + 1], pours[at : at + 1], state, used, status),
            products,
            temp_k,
        )
        open_rows = open_rows & ((found & part) > 0)
        band = Limits(target, target)  # once begun, a correction goes on to the target itself
        if not np.any(open_rows):
            break
    status |= np.where(target > FRAC_MASS_SETTLED_MAX, int(Status.TARGET_NOT_SETTLED), 0)
    blocked = (status & int(BLOCKED)) > 0
    drains[:, blocked] = np.nan
    pours[:, :, blocked] = np.nan
    after = ledger.State(
        *(np.where(blocked, old, new) for old, new in zip(inside[:4], state[:4], strict=True)),
        inside.fluid,
    )
    return Plan(drains, pours, after, used, status)
