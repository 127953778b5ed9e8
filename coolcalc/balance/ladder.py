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


class Steps(NamedTuple):
    """Measuring steps to which volumes are rounded; 0 leaves them exact. [m3].

    Of the drain, and of each product in the order given: they differ where products are weighed.
    """

    drain_m3: float
    pour_m3: tuple


def round_up(volume, step):
    """Return volumes on the next step up; a step of 0 leaves them. [m3]."""
    return np.ceil(volume / step - 1e-9) * step if step else volume


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
    """Return the `Shelf` of products in any order; ``on_hand_m3`` None is no end of them."""
    order = pouring_order(products)
    if on_hand_m3 is None:
        on_hand_m3 = np.full((len(products), 1), np.inf)
    on_hand_m3 = np.broadcast_to(on_hand_m3, (len(products), count))
    return Shelf(
        tuple(products[at] for at in order),
        on_hand_m3[list(order)],
        tuple(steps.pour_m3[at] for at in order),
        order,
    )


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

    ``kept`` is the share that stays inside, ``fill_m3`` (product, n) what a fill without a
    drain takes, ``short`` marks rows that only lack enough of a product. [-, m3, bool]
    """

    kept: np.ndarray
    fill_m3: np.ndarray
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
        rungs.append((_surplus_kg(glycol, water, target), space, most))

    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        fill, fill_kg = _fill_rungs(rungs, held_surplus, held_space, capacity)
        down = _drain_rungs(rungs, held_surplus, held_space, capacity)
        up = _drain_rungs(rungs[::-1], held_surplus, held_space, capacity)
    missing = -held_surplus
    can_strengthen, can_dilute = rungs[0][0] > 0.0, rungs[-1][0] < 0.0
    strengthen = ~fill & can_strengthen & (missing >= 0.0) & np.isfinite(down)
    dilute = ~fill & can_dilute & (missing <= 0.0) & np.isfinite(up) & ~strengthen
    # With as much of everything as one likes, would it be reached?
    short = ~(fill | strengthen | dilute)
    if np.any(short) and np.isfinite(shelf.on_hand_m3).any():
        plenty = shelf._replace(on_hand_m3=np.full_like(shelf.on_hand_m3, np.inf))
        free = exact_step(inside, capacity, target, plenty, temp_k)
        short = short & (free.fill | free.strengthen | free.dilute)
    else:
        short = np.zeros_like(short)
    kept = np.where(strengthen, down, np.where(dilute, up, 1.0))
    fill_m3 = np.array([kg / density for kg, density in zip(fill_kg, densities, strict=True)])
    no_strong = np.where(missing > 0.0, ~can_strengthen, can_dilute & ~can_strengthen)
    return Exact(kept, fill_m3, fill, strengthen, dilute, short, no_strong)


def _fill_rungs(rungs, held_surplus, held_space, capacity):
    """Fill without a drain: a product of the ladder, all that is stronger, and the weakest.

    Returns which rows it does, and kilograms of each product.
    """
    weak_surplus, weak_space, weak_most = rungs[-1]
    done = np.zeros(np.shape(held_surplus), bool)
    taken = [np.zeros(np.shape(held_surplus)) for _ in rungs]
    used_surplus, used_space = 0.0, 0.0
    for at, (surplus, space, most) in enumerate(rungs[:-1]):
        missing = -(held_surplus + used_surplus)
        room = capacity - held_space - used_space
        both = surplus * weak_space - weak_surplus * space
        strong = (missing * weak_space - weak_surplus * room) / both
        weak = (surplus * room - missing * space) / both
        fits = (strong >= 0.0) & (strong <= most) & (weak >= 0.0) & (weak <= weak_most)
        now = fits & ~done & (rungs[0][0] > 0.0) & (weak_surplus < 0.0)
        for above in range(at):
            taken[above] = np.where(now, rungs[above][2], taken[above])
        taken[at] = np.where(now, strong, taken[at])
        taken[-1] = np.where(now, weak, taken[-1])
        done = done | now
        used_surplus, used_space = used_surplus + most * surplus, used_space + most * space
    return done, taken


def _drain_rungs(rungs, held_surplus, held_space, capacity):
    """Share kept by a drain that is made up from the first rung on; NaN where none does it."""
    kept = np.full(np.shape(held_surplus), np.nan)
    used_surplus, used_space = 0.0, 0.0
    for surplus, space, most in rungs:
        room = capacity - used_space
        both = held_surplus * space - surplus * held_space
        share = -(used_surplus * space + surplus * room) / both
        poured = (held_surplus * room + used_surplus * held_space) / both
        # Nothing missing in a full system: keep it all.
        fits = (share >= 0.0) & (share <= 1.0) & (poured >= 0.0) & (poured <= most)
        kept = np.where(fits & np.isnan(kept), share, kept)
        used_surplus, used_space = used_surplus + most * surplus, used_space + most * space
    return kept


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


def pours_to_mark(left, capacity, shelf, exact, modes, temp_k):
    """Pours, (product, n) from the strongest, that fill what is left to the mark, rounded. [m3]."""
    fill, strengthen, dilute = modes
    pours = [np.zeros_like(capacity) for _ in shelf.products]
    last = len(pours) - 1

    def take(at, wanted, rows):
        nonlocal left
        product, step = shelf.products[at], shelf.steps[at]
        room = fill_to_mark_m3(left, product, capacity, temp_k)
        room = np.where(room < _NO_ROOM_M3, 0.0, room)
        most = round_down(np.minimum(room, shelf.on_hand_m3[at] - pours[at]), step)
        volume = np.where(rows, np.minimum(round_up(wanted, step), most), 0.0)
        pours[at] = pours[at] + volume
        left = ledger.pour(left, product, volume, temp_k)

    if np.any(fill):
        for at in range(last):
            take(at, exact.fill_m3[at], fill)
        take(last, np.inf * np.ones_like(capacity), fill)
    for at in range(last + 1):
        take(at, np.inf * np.ones_like(capacity), strengthen)
    for at in range(last, -1, -1):
        take(at, np.inf * np.ones_like(capacity), dilute)
    return np.array(pours), ledger.frac_mass(left)
