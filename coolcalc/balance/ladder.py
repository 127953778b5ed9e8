"""The ladder of products: from the strongest to the weakest, with what there is of each.

A litre swapped for the strongest does most, so a weak mix takes the strongest first and goes on
down the ladder where it runs out; a strong mix takes the weakest first and goes up.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import density_kg_m3_unchecked
from . import ledger
from .composition import frac_mass_of, product_density_kg_m3

#: Less room than this is none: the dust of a sum. [m3]
_NO_ROOM_M3 = 1e-10

#: A product no further from the target than this stands at it. [kg/kg]
_AT_TARGET = 1e-12


class Steps(NamedTuple):
    """Measuring steps to which volumes are rounded; 0 leaves them exact. [m3].

    Of the drain, and of each product in the order given: they differ where products are weighed.
    """

    drain_m3: float
    pour_m3: tuple


def round_up(volume, step):
    """Return volumes on the next step up; a step of 0 leaves them. [m3]."""
    return np.ceil(volume / step - 1e-9) * step + 0.0 if step else volume  # + 0.0: never -0


def round_down(volume, step):
    """Return volumes on the next step down; a step of 0 leaves them. [m3]."""
    return np.floor(volume / step + 1e-9) * step if step else volume


class Shelf(NamedTuple):
    """Products from the strongest to the weakest, and what there is of each, (product, n). [m3].

    ``order`` says where each stands in the order given.
    """

    products: tuple
    on_hand_m3: np.ndarray
    steps: tuple
    order: tuple


def shelf_of(products, on_hand_m3, steps, count):
    """Return the `Shelf` of products in any order; ``on_hand_m3`` None is no end of them.

    Of what there is counts what can be measured out: whole steps.
    """
    order = pouring_order(products)
    if on_hand_m3 is None:
        on_hand_m3 = np.full((len(products), 1), np.inf)
    on_hand_m3 = np.broadcast_to(on_hand_m3, (len(products), count))
    return Shelf(
        tuple(products[at] for at in order),
        np.array([round_down(on_hand_m3[at], steps.pour_m3[at]) for at in order]),
        tuple(steps.pour_m3[at] for at in order),
        order,
    )


def with_no_end(shelf):
    """Return a shelf with as much of everything as one likes."""
    return shelf._replace(on_hand_m3=np.full_like(shelf.on_hand_m3, np.inf))


def pouring_order(products):
    """Return where each product stands among those given, the strongest first."""
    shares = [-frac_mass_of(product.share) for product in products]
    return tuple(int(at) for at in np.argsort(shares, kind="stable"))


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


def _surplus_kg(glycol, water, target):
    """Glycol beyond what the target needs; negative where it is missing. [kg]."""
    return glycol - target * (glycol + water)


class Exact(NamedTuple):
    """The unrounded step, and what kind of step it is, (n,); a row may be none of the three.

    ``kept`` is the share that stays inside, ``fill_m3`` what a fill without a drain takes,
    ``tops_up`` which products it is filled up with, from the weakest, and ``used`` which others
    (all that a drain is made up with) are poured, (product, n). ``short`` marks rows that only
    lack enough of a product. [-, m3, bool]
    """

    kept: np.ndarray
    fill_m3: np.ndarray
    tops_up: np.ndarray
    used: np.ndarray
    fill: np.ndarray
    strengthen: np.ndarray
    dilute: np.ndarray
    short: np.ndarray
    no_strong: np.ndarray


def exact_step(inside, capacity, target, shelf, temp_k):
    """Return the unrounded drain and fill that bring rows to the target, as `Exact`."""
    at_target = density_kg_m3_unchecked(inside.fluid, target, temp_k)
    held_surplus = _surplus_kg(inside.glycol_kg, inside.water_kg, target)
    held_space = (inside.glycol_kg + inside.water_kg) / at_target + inside.additive_m3
    densities = [product_density_kg_m3(product, temp_k) for product in shelf.products]
    on_hand = [
        volume * density for volume, density in zip(shelf.on_hand_m3, densities, strict=True)
    ]
    rungs = []
    for product, most in zip(shelf.products, on_hand, strict=True):
        glycol, water, additive = product.share
        space = (glycol + water) / at_target + additive * product.additive_volume_m3_kg
        surplus = _surplus_kg(glycol, water, target)
        surplus = np.where(np.abs(surplus) < _AT_TARGET, 0.0, surplus)
        rungs.append((surplus, space, most))

    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        fill, fill_kg, tops_up = _fill_rungs(rungs, held_surplus, held_space, capacity)
        down, last_down = _drain_rungs(rungs, held_surplus, held_space, capacity)
        up, last_up = _drain_rungs(rungs[::-1], held_surplus, held_space, capacity)
    missing = -held_surplus
    # A weak mix is exchanged whole for a product that stands at the target.
    can_strengthen, can_dilute = rungs[0][0] >= 0.0, rungs[-1][0] < 0.0
    strengthen = ~fill & can_strengthen & (missing >= 0.0) & np.isfinite(down)
    dilute = ~fill & can_dilute & (missing <= 0.0) & np.isfinite(up) & ~strengthen
    short = ~(fill | strengthen | dilute)
    if np.any(short) and np.isfinite(shelf.on_hand_m3).any():
        free = exact_step(inside, capacity, target, with_no_end(shelf), temp_k)
        short = short & (free.fill | free.strengthen | free.dilute)
    else:
        short = np.zeros_like(short)
    kept = np.where(strengthen, down, np.where(dilute, up, 1.0))
    at = np.arange(len(rungs))[:, None]
    drained = np.where(strengthen, at <= last_down, at >= len(rungs) - 1 - last_up)
    used = np.where(fill, ~tops_up, drained | ~(strengthen | dilute))
    fill_m3 = np.array([kg / density for kg, density in zip(fill_kg, densities, strict=True)])
    no_strong = np.where(missing > 0.0, ~can_strengthen, can_dilute & ~can_strengthen)
    return Exact(kept, fill_m3, tops_up, used, fill, strengthen, dilute, short, no_strong)


def _fill_rungs(rungs, held_surplus, held_space, capacity):
    """Fill without a drain, from both ends of the ladder: it finds one wherever there is one.

    Part of a product, all that is stronger, part of a weaker one, and all that is weaker still:
    between all from the strongest down, and all from the weakest up, nothing is left out.
    Returns which rows it does, kilograms of each product, and what is poured from the weak end.
    """
    count = len(rungs)
    done = np.zeros(np.shape(held_surplus), bool)
    taken = np.zeros((count, *done.shape))
    tops_up = np.zeros(taken.shape, bool)
    for high in range(count - 1):
        for low in range(count - 1, high, -1):
            whole = [*rungs[:high], *rungs[low + 1 :]]
            missing = -held_surplus - sum(surplus * most for surplus, _, most in whole)
            room = capacity - held_space - sum(space * most for _, space, most in whole)
            surplus, space, most = rungs[high]
            weak_surplus, weak_space, weak_most = rungs[low]
            both = surplus * weak_space - weak_surplus * space
            strong = (missing * weak_space - weak_surplus * room) / both
            weak = (surplus * room - missing * space) / both
            fits = (strong >= 0.0) & (strong <= most) & (weak >= 0.0) & (weak <= weak_most)
            now = fits & ~done
            for at, (_, _, all_of_it) in enumerate(rungs):
                if at < high or at > low:
                    taken[at] = np.where(now, all_of_it, taken[at])
                tops_up[at] = np.where(now, at >= low, tops_up[at])
            taken[high] = np.where(now, strong, taken[high])
            taken[low] = np.where(now, weak, taken[low])
            done = done | now
    return done, taken, tops_up


def _drain_rungs(rungs, held_surplus, held_space, capacity):
    """Share kept by a drain that is made up from the first rung on, and which rung is the last.

    NaN where none does it.
    """
    kept = np.full(np.shape(held_surplus), np.nan)
    last = np.zeros(kept.shape, int)
    used_surplus, used_space = 0.0, 0.0
    for at, (surplus, space, most) in enumerate(rungs):
        room = capacity - used_space
        both = held_surplus * space - surplus * held_space
        share = -(used_surplus * space + surplus * room) / both
        poured = (held_surplus * room + used_surplus * held_space) / both
        # Nothing missing in a full system: keep it all.
        fits = (share >= 0.0) & (share <= 1.0) & (poured >= 0.0) & (poured <= most)
        now = fits & np.isnan(kept)
        kept, last = np.where(now, share, kept), np.where(now, at, last)
        used_surplus, used_space = used_surplus + most * surplus, used_space + most * space
    return kept, last


class Filled(NamedTuple):
    """A fill without a drain that ends as near to a target as it can, (n,).

    ``below`` says whether all that can be had lies below the target, ``full`` whether there is
    enough for the mark. [bool, kg/kg, bool]
    """

    below: np.ndarray
    frac_mass: np.ndarray
    full: np.ndarray


def nearest_fill(inside, capacity, target, shelf, temp_k):
    """Return what filling up alone gives, of rows that it does not bring to the target.

    What fills to the mark is joined without a gap, so all of it lies on one side of a target
    that is out of reach: from the strongest down or from the weakest up comes nearest.
    """
    shelf = shelf._replace(steps=(0.0,) * len(shelf.steps))
    everything = np.ones(shelf.on_hand_m3.shape, bool)
    yes, no = np.ones(np.shape(capacity), bool), np.zeros(np.shape(capacity), bool)
    ends = []
    for modes in ((no, yes, no), (no, no, yes)):
        _, state = pours_to_mark(inside, capacity, shelf, None, everything, modes, temp_k)
        ends.append((ledger.frac_mass(state), ledger.volume_m3(state, temp_k)))
    (strong, volume), (weak, _) = ends
    below = strong < target
    return Filled(below, np.where(below, strong, weak), volume >= capacity - _NO_ROOM_M3)


def kept_for_stock(inside, capacity, shelf, strengthen, temp_k):
    """Share to keep where stock runs out: room for all that brings the mix nearer, and no more."""
    found = ledger.frac_mass(inside)
    stock = ledger.keep(inside, 0.0)
    for product, on_hand in zip(shelf.products, shelf.on_hand_m3, strict=True):
        share = frac_mass_of(product.share)
        helps = np.where(strengthen, share > found, share < found)
        # More than twice the capacity is as good as no end.
        volume = np.where(helps, np.minimum(on_hand, 2.0 * capacity), 0.0)
        stock = ledger.pour(stock, product, volume, temp_k)
    low, high = np.zeros_like(found), np.ones_like(found)
    for _ in range(40):
        kept = 0.5 * (low + high)
        both = ledger.State(
            *(old * kept + new for old, new in zip(inside[:4], stock[:4], strict=True)),
            inside.fluid,
        )
        over = ledger.volume_m3(both, temp_k) > capacity
        low, high = np.where(over, low, kept), np.where(over, kept, high)
    return high


def pours_to_mark(left, capacity, shelf, exact, used, modes, temp_k):
    """Pours, (product, n) from the strongest, that fill what is left to the mark, rounded.

    ``used`` says what a drain may be made up with. Returns the pours [m3], and the state after.
    """
    fill, strengthen, dilute = modes
    pours = [np.zeros_like(capacity) for _ in shelf.products]
    rungs = range(len(pours))

    def take(at, wanted, rows):
        nonlocal left
        if not np.any(rows):
            return
        product, step = shelf.products[at], shelf.steps[at]
        room = fill_to_mark_m3(left, product, capacity, temp_k)
        room = np.where(room < _NO_ROOM_M3, 0.0, room)
        most = round_down(np.minimum(room, shelf.on_hand_m3[at] - pours[at]), step)
        volume = np.where(rows, np.minimum(round_up(wanted, step), most), 0.0)
        pours[at] = pours[at] + volume
        left = ledger.pour(left, product, volume, temp_k)

    if np.any(fill):
        for at in rungs:
            take(at, exact.fill_m3[at], fill & ~exact.tops_up[at])
        for at in rungs[::-1]:
            take(at, np.inf, fill & exact.tops_up[at] & (exact.fill_m3[at] > 0.0))
    for at in rungs:
        take(at, np.inf, strengthen & used[at])
    for at in rungs[::-1]:
        take(at, np.inf, dilute & used[at])
    return np.array(pours), left


def against_rounding(exact, shelf, pours, after, target, rows, temp_k):
    """Return `Exact` and `Shelf` such that rows that rounding made too weak are so no longer.

    A fill takes as much more of its strong product, a dilution as much less of its weakest, as
    makes up for the glycol that is missing ``after`` the ``pours``. ``rows`` of either kind.
    """
    fill, dilute = rows
    missing = np.maximum(-_surplus_kg(after.glycol_kg, after.water_kg, target), 0.0)
    fill_m3, on_hand_m3 = exact.fill_m3.copy(), shelf.on_hand_m3.copy()
    instead_of = np.zeros(missing.shape)  # Surplus of what makes room for the strong. [kg/m3]
    for at in range(len(shelf.products) - 1, -1, -1):
        product, step = shelf.products[at], shelf.steps[at]
        glycol, water, _ = product.share
        gain = product_density_kg_m3(product, temp_k) * _surplus_kg(glycol, water, target)
        tops_up = exact.tops_up[at] & (fill_m3[at] > 0.0)
        instead_of = np.where(tops_up, np.maximum(gain, 0.0), instead_of)
        strong = fill & ~exact.tops_up[at] & (fill_m3[at] > 0.0) & (gain > instead_of)
        more = missing / np.where(strong, gain - instead_of, 1.0)
        fill_m3[at] = np.where(strong, pours[at] + more, fill_m3[at])
        less = dilute & (pours[at] > 0.0) & (gain < 0.0)
        left_out = round_up(missing / np.where(less, -gain, 1.0), step)
        on_hand_m3[at] = np.where(less, np.maximum(pours[at] - left_out, 0.0), on_hand_m3[at])
        fill, dilute = fill & ~strong, dilute & ~less
    return exact._replace(fill_m3=fill_m3), shelf._replace(on_hand_m3=on_hand_m3)
