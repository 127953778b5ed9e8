"""Flush a system: drain, fill and run until little of the old coolant is left, then fill."""

import numpy as np

from .. import units
from ..balance import flush as kernel
from ..balance import ladder, ledger
from ..errors import BLOCKED, InputError, Reader, Status
from ..instruments import Reading, frac_mass_half_width
from ..mixture import Mixture
from ..product import GENERIC, WATER, Product
from ..system import FILLS
from .correct_mix import WEAK_SIDE_K
from .flush_answer import Flush, FlushWays
from .inputs import (
    kept,
    read_found,
    read_low,
    read_shelf,
    read_system,
    read_target,
    read_temp,
    read_unit_system,
)
from .mix_plan import outcome_spread, row_of

#: More drains than this are no job of drains; common practice, no source.
DRAINS_MAX = 12


def flush(
    *,
    system,
    found,
    target,
    pour,
    may_stay="5 %",
    flush_with=WATER,
    temp="20 °C",
    low="0 L",
    show_in="metric",
):
    """Drain and flush until little of the old coolant is left, and fill to the target.

    Drain, fill to the mark, run, let it cool, and drain again; after the last drain the last fill
    makes up for what is trapped. What comes out is taken to be the same each time, so after N
    drains of d out of C the share (1 - d/C)^N is left. Whether the last fill can reach the target
    is worked out before the first drain.

    Parameters
    ----------
    system : CoolingSystem
        Must say what is ``drainable``.
    found : Reading, Strength, Mixture or text
        What is inside now, as for `correct_mix`.
    target : Strength, text or Quantity
        As for `correct_mix`.
    pour : sequence of Product
        What there is for the last fill, as much as is needed. The strongest goes in first.
    may_stay : text or share
        Old coolant that may be left, as a share of the full system at the end; above 0 and below
        100 %. [m3/m3]
    flush_with : Product
        What is filled in between drains: `WATER`, or a product of the same glycol.
    temp : text or Quantity
        Temperature at which litres are measured, on a cold engine; above 0 °C. [K]
    low : text or Quantity
        What is missing below the cold mark now. [m3]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    Flush
        Also where the last fill cannot reach the target: it then says what it would reach and
        what to do instead, and carries no litres.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = cc.flush(
    ...     system=cc.CoolingSystem(capacity="10 L", drainable="8 L"), found="30 % product",
    ...     target="50 % product", pour=[can, cc.WATER])
    >>> job.drains, round(job.stays, 3)
    (2, 0.04)
    """
    asked = kept(locals())
    pour = asked["pour"]
    reader = Reader()
    system_given = reader(read_system, system)
    shelf = reader(_read_pour, pour)
    temp_k = reader(read_temp, temp)
    low_m3 = reader(read_low, low, system_given)
    unit_system = reader(read_unit_system, show_in)
    share = reader(_read_share, may_stay)
    if system_given is not None:
        reader(_check_drainable, system_given, low_m3)
    products = old = wanted = None
    if shelf is not None:
        products = reader(_read_flush_with, flush_with, shelf)
        old = reader(_read_old, found, shelf)
    if old is not None:
        wanted = reader(read_target, "target", target, old.mixture.product)
    reader.raise_if_any()
    drains = _drains(system_given, share)

    fluid = old.mixture.fluid
    row = row_of(
        old.mixture,
        system_given.worked_m3,
        low_m3,
        products,
        temp_k,
        drainable_m3=system_given.drainable_m3,
    )
    # No better than a good refractometer tells apart, as a mix that is left alone.
    slack = frac_mass_half_width(fluid, wanted.frac_mass, WEAK_SIDE_K)
    goal = kernel.Wanted(np.array([wanted.frac_mass]), np.array([float(slack)]))
    step = units.measuring_step(row.capacity_m3, unit_system.volume)
    rows = _Rows(row, goal, len(shelf), products.index(flush_with))
    flushed = rows.flushed(np.array([row.drainable_m3]), np.array([drains]), step.m3)
    status = Status(int(flushed.plan.status[0]))
    by_hand = system_given.fill == FILLS[0]
    if not by_hand and not _is_ready_mixed(system_given, shelf, flushed.plan, flush_with):
        status = (status & ~BLOCKED) | Status.NOT_TO_BE_CORRECTED
    outcome = reach = ways = None
    if status & BLOCKED:
        reach = Mixture(product=old.mixture.product, frac_mass=float(flushed.reach[0]))
        ways = rows.ways_out(drains, share, step.m3)
        if not by_hand:
            ways = ways._replace(product_pours=())
    else:
        outcome = outcome_spread(row, flushed.plan, old.inputs(system_given.capacity_error_m3))
    return Flush(
        asked=asked,
        system=system_given,
        found=old.told,
        offset_share=old.offset_share,
        before=old.mixture,
        target=wanted.told,
        target_frac_mass=wanted.frac_mass,
        may_stay=share,
        flush_with=flush_with,
        shelf=products,
        offered=shelf,
        drains=drains,
        row=row,
        flushed=flushed,
        plan=flushed.plan,
        status=status,
        outcome=outcome,
        reach=reach,
        ways=ways,
        unit_system=unit_system,
        step=step,
    )


def _is_ready_mixed(system, offered, plan, flush_with):
    """Whether a circuit that is only filled ready-mixed is filled so, with one product.

    Then drained, flushed with water or with that product, and filled with it, as it is to be.
    """
    poured = plan.pour_m3[-1, : len(offered), 0]
    # Where there are no litres, all that is offered counts as poured.
    last = [p for p, each in zip(offered, poured, strict=True) if not each <= 0.0]
    if system.fill != FILLS[1] or len(last) != 1 or last[0].made_from is None:
        return False
    return flush_with in (WATER, last[0])


class _Rows:
    """One system, asked of the kernel with one drain figure or with many."""

    def __init__(self, row, goal, offered, flush_at):
        self.row, self.goal, self.offered, self.flush_at = row, goal, offered, flush_at

    def _many(self, count):
        goal = kernel.Wanted(*(np.broadcast_to(each, (count,)) for each in self.goal))
        return np.full(count, self.row.capacity_m3), goal

    def flushed(self, drainable_m3, drains, step_m3):
        """Return the `kernel.FlushPlan` of drain figures and numbers of drains, (n,)."""
        count = np.size(drains)
        capacity, goal = self._many(count)
        return kernel.plan_flush(
            ledger.repeated(self.row.inside, count),
            capacity,
            drainable_m3,
            goal,
            self.row.products,
            self.offered,
            self.flush_at,
            drains,
            self.row.temp_k,
            step_m3,
        )

    def ways_out(self, drains, may_stay, step_m3):
        """Return what else would bring the last fill to the target, as `FlushWays`."""
        row = self.row
        first = ladder.round_up(row.drainable_m3 + step_m3 / 2, step_m3)
        larger = np.arange(first, row.capacity_m3 + step_m3 / 2, step_m3)
        larger = np.minimum(larger, row.capacity_m3)
        comes_out = None
        if larger.size:
            counts = kernel.drains_needed(row.capacity_m3, larger, may_stay).astype(int)
            status = self.flushed(larger, counts, step_m3).plan.status
            reached = (status & int(BLOCKED)) == 0
            comes_out = float(larger[np.argmax(reached)]) if np.any(reached) else None
        # Strong fills after any number of drains: at the end, or in the place of flush fills.
        counts = np.arange(1, drains + 1)
        drainable = np.full(drains, row.drainable_m3)
        left = self.flushed(drainable, counts, step_m3).left
        capacity, goal = self._many(drains)
        more = kernel.more_drains(
            left,
            capacity,
            drainable,
            goal,
            row.products[: self.offered],
            row.temp_k,
            DRAINS_MAX,
        )
        fits = counts + more <= drains
        return FlushWays(
            self._by_concentrate(left, step_m3),
            comes_out,
            int(more[-1]) if np.isfinite(more[-1]) else None,
            drains - int(counts[fits].max()) if np.any(fits) else None,
        )

    def _by_concentrate(self, left, step_m3):
        """Return the last fill with generic concentrate and water, where that reaches."""
        row = self.row
        last = ledger.State(*(each[-1:] for each in left[:4]), left.fluid)
        capacity, goal = self._many(1)
        products = (GENERIC[f"{left.fluid} concentrate"], WATER)
        shelf = tuple(product.si(left.fluid) for product in products)
        fill = kernel.last_fill(last, capacity, goal, shelf, row.temp_k, step_m3)
        if not fill.reached[0]:
            return ()
        volumes = map(float, fill.pour_m3[:, 0])
        return tuple(each for each in zip(products, volumes, strict=True) if each[1] > 0.0)


# --- reading --------------------------------------------------------------------------------------


def _read_pour(pour):
    shelf = read_shelf(pour)
    if all(product.is_water for product in shelf):
        raise InputError(
            "pour",
            WATER.name,
            "only water is listed, and the last fill is to be a mix. List the product that it is "
            "made from.",
        )
    return shelf


def _read_flush_with(flush_with, shelf):
    """Return all that is poured: the shelf, and what it is flushed with."""
    if not isinstance(flush_with, Product):
        raise InputError(
            "flush_with",
            flush_with,
            f"{flush_with!r} is not a product; flush with WATER, or with a product such as "
            "Product.generic('ethylene glycol ready-mixed 50 %').",
        )
    if flush_with in shelf:
        return shelf
    try:
        return read_shelf((*shelf, flush_with))
    except InputError as error:
        raise error.under("flush_with") from None


def _read_old(found, shelf):
    fluid = next(product.fluid for product in shelf if not product.is_water)
    inside = fluid
    if isinstance(found, Mixture):
        inside = found.fluid
    elif isinstance(found, Reading):
        inside = found.inside or found.line or fluid
    if inside != fluid:
        raise InputError(
            "found",
            inside,
            f"{inside} is inside and {fluid} is to be poured. What is left of the one beside the "
            "other is not worked out here, and no instrument can read it. Change the glycol only "
            "as the maker's handbook says.",
        )
    return read_found(found, shelf)


def _read_share(may_stay):
    share = units.read("may_stay", may_stay, "share")
    if not 0.0 < share < 1.0:
        shown = units.show(share, "share", "%", 0)
        raise InputError(
            "may_stay",
            shown,
            f"{shown} is no share that a flush can end at. It is above 0 % (some always stays) and "
            "below 100 % (all of it may stay).",
        )
    return share


def _check_drainable(system, low_m3):
    drainable = system.drainable_m3
    if drainable is None:
        raise InputError(
            "drainable",
            "",
            "what comes out at one drain is not entered, and the whole flush goes by it. With the "
            "engine cold to the hand, drain the full system once into a measured container, or "
            "take the figure of the maker's handbook; enter that as drainable.",
        )
    if drainable <= 0.0:
        raise InputError(
            "drainable",
            units.show(drainable, "volume", "L", 2),
            "nothing comes out at the drain, so nothing can be flushed. With the engine off and "
            "cold to the hand, find what does come out (lower hose, block plugs, as the maker's "
            "handbook says).",
        )
    if low_m3 is not None and low_m3 >= drainable:
        shown = units.show(low_m3, "volume", "L", 2)
        raise InputError(
            "low",
            shown,
            f"{shown} is missing, and no more than {units.show(drainable, 'volume', 'L', 2)} comes "
            "out of the full system: nothing would come out. With the engine off and cold to the "
            "hand, fill to the mark with what it is flushed with; run it with the heater on hot "
            "until it has gone round, and keep it out of frost; let it cool until it is cold to "
            "the hand, read again, and enter that.",
        )


def _drains(system, may_stay):
    """Return the number of drains, or refuse more than are a job of drains."""
    volumes = (np.array([system.worked_m3]), np.array([system.drainable_m3]))
    needed = float(kernel.drains_needed(*volumes, may_stay)[0])
    if needed > DRAINS_MAX:
        drain, capacity = (
            units.show(each, "volume", "L", 2) for each in (system.drainable_m3, system.worked_m3)
        )
        stays = 100 * float(kernel.share_left(*volumes, DRAINS_MAX)[0])
        raise InputError(
            "drainable",
            drain,
            f"{drain} out of {capacity} would take {needed:.0f} drains; after {DRAINS_MAX} there "
            f"is still {stays:.3g} % of the old coolant inside. That is no job of drains: with the "
            "engine off and cold to the hand, let out more (block plugs, lower hose, as the "
            "maker's handbook says) and enter what then comes out, or let more stay.",
        )
    return int(needed)
