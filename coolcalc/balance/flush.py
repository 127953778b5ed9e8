"""Kernel of `flush`: drain, fill to the mark, mix, as often as it takes; then one last fill.

What comes out is the same each time, so the share of the old coolant that is left falls by the
same factor: (1 - d/C)^N after N drains of d out of C. The ledger carries glycol, water and
additives beside that.
"""

from typing import NamedTuple

import numpy as np

from ..errors import BLOCKED, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from . import exchange, ladder, ledger


class FlushPlan(NamedTuple):
    """A flush as litres, and what it leaves.

    Attributes
    ----------
    plan : exchange.Plan
        Pass k is drain k and the fill after it; passes that a row does not use are 0.
    left : ledger.State, (n,)
        What is trapped after the last drain. [kg]
    stays : ndarray, (pass, n)
        Old coolant left after each drain, as a share of the full system. [m3/m3]
    reach : ndarray, (n,)
        Strength that the last fill gives, or comes nearest to. [kg/kg]
    """

    plan: exchange.Plan
    left: ledger.State
    stays: np.ndarray
    reach: np.ndarray


class Fill(NamedTuple):
    """A fill to the mark without a drain, (product, n) and (n,). [m3, kg, bool]."""

    pour_m3: np.ndarray
    after: ledger.State
    reached: np.ndarray
    status: np.ndarray


class Wanted(NamedTuple):
    """What a last fill is to reach, (n,), and how near to it is near enough. [kg/kg]."""

    target: np.ndarray
    slack: np.ndarray


def share_left(capacity_m3, drainable_m3, drains):
    """Share of the full system that is old coolant after a number of drains, (n,). [m3/m3].

    Full and well mixed before each drain; what a low level lacked at first is counted as drained,
    since it was missing at the top.
    """
    return np.clip(1.0 - drainable_m3 / capacity_m3, 0.0, 1.0) ** drains


def drains_needed(capacity_m3, drainable_m3, may_stay):
    """Least number of drains that leave no more of the old coolant, (n,) of float, inf for never.

    ``may_stay`` above 0 and below 1. [m3, m3, m3/m3]
    """
    stays = share_left(capacity_m3, drainable_m3, 1)
    with np.errstate(divide="ignore", invalid="ignore"):
        count = np.log(may_stay) / np.log(stays)
    # A share that is met to the last digit needs no further drain.
    return np.where(stays < 1.0, np.maximum(np.ceil(count - 1e-9), 1.0), np.inf)


def plan_flush(
    inside, capacity_m3, drainable_m3, wanted, products, offered, flush_at, drains, temp_k, step_m3
):
    """Drains and fills of a flush, and the last fill that stands at the target.

    Every fill is rounded down to the measuring step, so that what it gives belongs to the litres
    as printed. A drain is all that comes out, and as much less as is missing below the mark.

    Parameters
    ----------
    inside : ledger.State, (n,)
        What is in the systems, all of one fluid. [kg]
    capacity_m3, drainable_m3 : ndarray, (n,)
        Full to the cold mark; what comes out of a full system at the drain. [m3]
    wanted : Wanted, (n,)
    products : sequence of ProductSI
        The first ``offered`` of them are there for the last fill.
    flush_at : int
        Which of them is filled in between drains.
    drains : ndarray of int, (n,)
        At least 1.
    temp_k : float
        [K]
    step_m3 : float
        Measuring step of the fills; 0 leaves them exact. [m3]

    Returns
    -------
    FlushPlan
        A row whose last fill cannot reach the target is blocked: NaN litres, its old state.
    """
    count, most = np.size(capacity_m3), int(np.max(drains))
    drained = np.zeros((most, count))
    poured = np.zeros((most, len(products), count))
    stays = np.zeros((most, count))
    state, old = inside, ledger.volume_m3(inside, temp_k) / capacity_m3
    for at in range(most):
        open_rows = at < drains
        out = exchange.available_drain_m3(state, capacity_m3, drainable_m3, temp_k)
        drained[at] = np.where(open_rows, out, 0.0)
        held = np.maximum(ledger.volume_m3(state, temp_k), 1e-300)
        old = old * np.maximum(1.0 - drained[at] / held, 0.0)
        stays[at] = old
        state = ledger.drain(state, drained[at], temp_k)
        product = products[flush_at]
        fill = ladder.fill_to_mark_m3(state, product, capacity_m3, temp_k)
        fill = ladder.round_down(fill, step_m3)
        poured[at, flush_at] = np.where(at + 1 < drains, fill, 0.0)
        state = ledger.pour(state, product, poured[at, flush_at], temp_k)
    left = state
    last = last_fill(left, capacity_m3, wanted, products[:offered], temp_k, step_m3)
    for product_at in range(offered):
        poured[drains - 1, product_at, np.arange(count)] += last.pour_m3[product_at]

    status = last.status
    strong = ledger.frac_mass(inside) > FRAC_MASS_SETTLED_MAX
    status = status | np.where(strong, int(Status.START_NOT_SETTLED), 0)
    blocked = (status & int(BLOCKED)) > 0
    drained[:, blocked] = np.nan
    poured[:, :, blocked] = np.nan
    after = ledger.State(
        *(np.where(blocked, old, new) for old, new in zip(inside[:4], last.after[:4], strict=True)),
        inside.fluid,
    )
    plan = exchange.Plan(drained, poured, after, drains, status)
    return FlushPlan(plan, left, stays, ledger.frac_mass(last.after))


def last_fill(left, capacity_m3, wanted, products, temp_k, step_m3):
    """Fill to the mark over what is trapped, as near to the target as it can, as `Fill`, (n,)."""
    target = wanted.target
    plan = exchange.plan_exchange(
        left,
        capacity_m3,
        np.zeros_like(capacity_m3),
        target,
        products,
        exchange.Limits(target, target),
        temp_k,
        step_m3=step_m3,
    )
    none = (plan.status & int(BLOCKED)) > 0
    # A mix that is left alone since what is listed would spoil it does not fill the system.
    mark = capacity_m3 * (1.0 - 1e-6) - len(products) * step_m3
    none |= ledger.volume_m3(plan.after, temp_k) < mark
    pours = np.where(none, 0.0, plan.pour_m3[0])
    after = plan.after
    miss = np.where(none, np.inf, np.abs(ledger.frac_mass(after) - target))
    exact = ~none & ((plan.status & int(Status.ONE_DRAIN_GIVES_PART)) == 0)
    # One product alone may come nearer: a ready-mixed one that is all but the target.
    for at, product in enumerate(products):
        volume = ladder.fill_to_mark_m3(left, product, capacity_m3, temp_k)
        volume = ladder.round_down(volume, step_m3)
        alone = ledger.pour(left, product, volume, temp_k)
        missed = np.abs(ledger.frac_mass(alone) - target)
        nearer = ~exact & (missed < miss)
        pours = np.where(nearer, 0.0, pours)
        pours[at] = np.where(nearer, volume, pours[at])
        after = ledger.State(
            *(np.where(nearer, a, b) for a, b in zip(alone[:4], after[:4], strict=True)),
            left.fluid,
        )
        miss = np.where(nearer, missed, miss)
    unusable = plan.status & int(Status.UNUSABLE)
    reached = (exact | (miss <= wanted.slack)) & (unusable == 0)
    why = plan.status & int(Status.PRODUCT_TOO_WEAK | Status.NO_DILUENT)
    status = np.where(reached, 0, why | int(Status.FLUSH_NOT_REACHED)) | unusable
    status |= plan.status & int(Status.TARGET_NOT_SETTLED)
    return Fill(pours, after, reached, status)


def more_drains(left, capacity_m3, drainable_m3, wanted, products, temp_k, most):
    """Least number of further drains, each filled up with what is there, (n,) of float.

    Drained and filled again as near to the target as it can, until it stands there; inf where
    ``most`` do not do it.
    """
    needed = np.full(np.size(capacity_m3), np.inf)
    state = left
    for count in range(most + 1):
        fill = last_fill(state, capacity_m3, wanted, products, temp_k, 0.0)
        needed = np.where(np.isinf(needed) & fill.reached, float(count), needed)
        state = ledger.drain(fill.after, drainable_m3, temp_k)
    return needed
