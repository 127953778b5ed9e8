"""Kernel of `correct_mix`: the least drain, and the pours, that bring a system to a target.

Once the mix stands at the target, the volume of its glycol and water is a plain multiple of
their mass, so the drain has a closed form. What is poured then fills the system to its mark.
"""

from typing import NamedTuple

import numpy as np

from ..errors import BLOCKED, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from . import ledger
from .ladder import (
    Steps,
    against_rounding,
    exact_step,
    fill_to_mark_m3,
    kept_for_stock,
    nearest_fill,
    pouring_order,
    pours_to_mark,
    round_down,
    round_up,
    shelf_of,
    with_no_end,
)

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
        Passes that the row uses, as far as they were allowed.
    status : ndarray of int, (n,)
        `coolcalc.errors.Status` flags. A blocked row carries NaN litres and its old state.
    """

    drain_m3: np.ndarray
    pour_m3: np.ndarray
    after: ledger.State
    passes: np.ndarray
    status: np.ndarray


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


def outcome(true_inside, plan, products, temp_k, drain_temp_k=None):
    """State after a plan's litres are carried out on what is truly inside, (n,). [kg].

    Pours are measured at ``temp_k``, drains at ``drain_temp_k`` where it differs. [K]
    """
    order = pouring_order(products)
    state = true_inside
    for drained, poured in zip(plan.drain_m3, plan.pour_m3, strict=True):
        state = ledger.drain(state, drained, temp_k if drain_temp_k is None else drain_temp_k)
        for at in order:
            state = ledger.pour(state, products[at], poured[at], temp_k)
    return state


def _spoils(filled, limits):
    """Whether filling up alone takes a mix that was left alone beyond the limits."""
    return (filled.frac_mass < limits.weakest) | (filled.frac_mass > limits.strongest)


def _lacks_stock(inside, capacity, target, shelf, limits, temp_k):
    """Whether there would be enough of all products to top up a mix in band, were there no end."""
    if not np.isfinite(shelf.on_hand_m3).any():
        return np.zeros(np.shape(capacity), bool)
    shelf = with_no_end(shelf)
    filled = nearest_fill(inside, capacity, target, shelf, temp_k)
    return exact_step(inside, capacity, target, shelf, temp_k).fill | ~_spoils(filled, limits)


class _Drains(NamedTuple):
    """What comes out at most, its temperature, and the step of the measure. [m3, K, m3].

    ``more_m3`` is what more is taken out, a step at a time, where the rounding of pours asks.
    """

    available_m3: np.ndarray
    temp_k: float
    step_m3: float
    more_m3: tuple


def _drains(available, temp_k, steps):
    coarsest = max(steps.pour_m3)
    by = steps.drain_m3 or coarsest
    count = 1 + int(np.ceil(coarsest / by)) if by else 0
    return _Drains(available, temp_k, steps.drain_m3, (by,) * count)


def _one_pass(inside, capacity, drains, target, shelf, limits, temp_k):
    """One drain and fill, rounded; the pours from the strongest product. [m3].

    Nothing is poured above the mark, and no rounding ends weaker than the target: a drain that
    is made up with the strong product is rounded up, one that is made up with water down.
    """
    step = drains.step_m3
    found = ledger.frac_mass(inside)
    held = ledger.volume_m3(inside, drains.temp_k)
    room = capacity - ledger.volume_m3(inside, temp_k)
    measurable = max(step / 2, 1e-12)
    exact = exact_step(inside, capacity, target, shelf, temp_k)
    fill, strengthen, dilute, short = exact.fill, exact.strengthen, exact.dilute, exact.short
    drain = held * (1.0 - exact.kept)
    in_band = (found >= limits.weakest) & (found <= limits.strongest)
    in_band |= (strengthen | dilute) & (drain < measurable) & (room < measurable)
    idle = in_band & (room < measurable)
    topped = in_band & ~idle & ~fill
    lacking = short & ~in_band
    used = exact.used
    if np.any(short | topped):
        filled = nearest_fill(inside, capacity, target, shelf, temp_k)
        strengthen = np.where(short | topped, filled.below, strengthen)
        dilute = np.where(short | topped, ~filled.below, dilute)
        used = used | topped
        kept = kept_for_stock(inside, capacity, shelf, strengthen, temp_k)
        drain = np.where(short, held * (1.0 - kept), drain)
    if np.any(topped):
        spoils = topped & _spoils(filled, limits)
        strengthen, dilute = strengthen & ~spoils, dilute & ~spoils
        lacking |= (
            topped
            & (spoils | ~filled.full)
            & _lacks_stock(inside, capacity, target, shelf, limits, temp_k)
        )
        idle |= spoils & lacking
    drain = np.where(in_band, 0.0, drain)
    strengthen, dilute, fill = strengthen & ~idle, dilute & ~idle, fill & ~idle

    def poured(out):
        left = ledger.drain(inside, out, drains.temp_k)
        modes = (fill, strengthen, dilute)
        pours, after = pours_to_mark(left, capacity, shelf, exact, used, modes, temp_k)
        return pours, after, ledger.frac_mass(after) < target - _EQUAL

    most = round_down(drains.available_m3, step)
    partial = drain > drains.available_m3
    # Rounded up, there is room for all of a product that runs out.
    up = strengthen | short
    out = np.minimum(np.where(up, round_up(drain, step), round_down(drain, step)), most)
    pours, after, weaker = poured(out)
    judged = ~in_band & ~short
    mended = tuple(judged & weaker & kind for kind in (fill, dilute))
    if np.any(mended):
        exact, shelf = against_rounding(exact, shelf, pours, after, target, mended, temp_k)
        pours, after, weaker = poured(out)
    judged = judged & (strengthen | fill)
    for more_m3 in drains.more_m3:
        more = judged & weaker & (out + more_m3 <= most)
        if not np.any(more):
            break
        strengthen, fill = strengthen | more, fill & ~more
        out = np.where(more, out + more_m3, out)
        pours, after, weaker = poured(out)
    partial |= judged & weaker

    blocked = ~(idle | fill | strengthen | dilute)
    status = np.where(in_band, int(Status.IN_BAND), 0)
    status |= np.where(~in_band & (found > limits.strongest), int(Status.TOO_STRONG), 0)
    status |= np.where(partial & ~blocked, int(Status.ONE_DRAIN_GIVES_PART), 0)
    status |= np.where(lacking & ~blocked, int(Status.STOCK_RUNS_OUT), 0)
    missing = np.where(exact.no_strong, int(Status.PRODUCT_TOO_WEAK), int(Status.NO_DILUENT))
    status |= np.where(blocked, missing, 0)
    return out, pours, status


def plan_exchange(
    inside,
    capacity_m3,
    drainable_m3,
    target,
    products,
    limits,
    temp_k,
    *,
    drain_temp_k=None,
    on_hand_m3=None,
    step_m3=0.0,
    passes=1,
):
    """Least drain, and pours, that bring what is inside to the target and to the mark.

    What is missing (a low level) is the capacity less the volume of ``inside``. If filling up
    alone reaches the target, nothing is drained. If one drain does not bring out enough, all
    that comes out is drained, and the next pass starts from what that gave; the last pass drains
    just what is needed. If a product runs out, all of it is used and the row says so.

    Parameters
    ----------
    inside : ledger.State, (n,)
        What is in the systems, all of one fluid. [kg]
    capacity_m3, drainable_m3 : ndarray, (n,)
        Full to the cold mark; what comes out of a full system at the drain. [m3]
    target : ndarray, (n,)
        Glycol over glycol + water wanted. [kg/kg]
    products : sequence of ProductSI
        What can be poured.
    limits : Limits, (n,)
        What is left alone; holds the target.
    temp_k, drain_temp_k : float
        Temperature of the capacity and of what is poured; of what is drained, the same unless
        given. [K]
    on_hand_m3 : ndarray, (product, 1) or (product, n), optional
        What there is of each product; no end of it unless given. [m3]
    step_m3 : float or Steps
        Measuring step to which litres are rounded; 0 leaves them exact. [m3]
    passes : int
        Drains allowed.

    Returns
    -------
    Plan
    """
    count = np.shape(inside.glycol_kg)[0]
    usable = _usable(inside, capacity_m3, drainable_m3, target, limits)
    if not np.all(usable):
        # In their place stands a row that can be reckoned with, so that the others are not
        # disturbed; what comes out for it is thrown away.
        asked = inside
        inside, capacity_m3, drainable_m3, target, limits = _made_usable(
            usable, inside, capacity_m3, drainable_m3, target, limits
        )
    steps = step_m3 if isinstance(step_m3, Steps) else Steps(step_m3, (step_m3,) * len(products))
    shelf = shelf_of(products, on_hand_m3, steps, count)
    out_k = temp_k if drain_temp_k is None else drain_temp_k
    drained = np.zeros((passes, count))
    poured = np.zeros((passes, len(products), count))
    used = np.ones(count, int)
    state, band = inside, limits
    status = np.where(ledger.frac_mass(inside) > FRAC_MASS_SETTLED_MAX, Status.START_NOT_SETTLED, 0)
    part, left_alone = int(Status.ONE_DRAIN_GIVES_PART), int(Status.IN_BAND)
    open_rows = np.ones(count, bool)
    for at in range(passes):
        available = available_drain_m3(state, capacity_m3, drainable_m3, temp_k)
        if out_k != temp_k:
            available = available * _warmed(state, temp_k, out_k)
        out, pours, found = _one_pass(
            state,
            capacity_m3,
            _drains(available, out_k, steps),
            target,
            shelf,
            band,
            temp_k,
        )
        drained[at] = np.where(open_rows, out, 0.0)
        for rung, product_at in enumerate(shelf.order):
            poured[at, product_at] = np.where(open_rows, pours[rung], 0.0)
        if at:  # a row that was drained is not one that is left alone
            found = found & ~left_alone
        status = (status & ~part) | np.where(open_rows, found, status & part)
        moved = open_rows & ((out > 0.0) | np.any(pours > 0.0, axis=0))
        used = np.where(moved, at + 1, used)
        this_pass = Plan(drained[at : at + 1], poured[at : at + 1], state, used, status)
        state = outcome(state, this_pass, products, temp_k, out_k)
        shelf = shelf._replace(
            on_hand_m3=np.maximum(shelf.on_hand_m3 - poured[at][list(shelf.order)], 0.0)
        )
        open_rows = moved & ((found & part) > 0)
        band = Limits(target, target)  # once begun, a correction goes on to the target itself
        if not np.any(open_rows):
            break
    status |= np.where(target > FRAC_MASS_SETTLED_MAX, int(Status.TARGET_NOT_SETTLED), 0)
    if not np.all(usable):
        inside = asked
        status = np.where(usable, status, int(Status.UNUSABLE))
    blocked = (status & int(BLOCKED)) > 0
    drained[:, blocked] = np.nan
    poured[:, :, blocked] = np.nan
    after = ledger.State(
        *(np.where(blocked, old, new) for old, new in zip(inside[:4], state[:4], strict=True)),
        inside.fluid,
    )
    return Plan(drained, poured, after, used, status)


def _usable(inside, capacity_m3, drainable_m3, target, limits):
    """Whether every figure of a row is one, (n,)."""
    figures = (*inside[:4], capacity_m3, drainable_m3, target, *limits)
    finite = np.logical_and.reduce([np.isfinite(each) & (each >= 0.0) for each in figures])
    return finite & (capacity_m3 > 0.0)


def _made_usable(usable, inside, capacity_m3, drainable_m3, target, limits):
    """Return the figures with half a litre of water in the place of rows that are not usable."""

    def instead(figure, value):
        return np.where(usable, figure, value)

    water = (0.0, 0.5, 0.0, 0.0)
    return (
        ledger.State(*map(instead, inside[:4], water), inside.fluid),
        instead(capacity_m3, 1e-3),
        instead(drainable_m3, 1e-3),
        instead(target, 0.3),
        Limits(instead(limits.weakest, 0.3), instead(limits.strongest, 0.3)),
    )


def _warmed(state, temp_k, out_k):
    """Volume at the temperature of the drain over that at the other one, (n,). [-]."""
    held = ledger.volume_m3(state, temp_k)
    return np.where(held > 0.0, ledger.volume_m3(state, out_k) / np.maximum(held, 1e-30), 1.0)
