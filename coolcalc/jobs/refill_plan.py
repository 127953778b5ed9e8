"""The plan of a refill: what of the caught mix goes back, what is poured, and what it may give."""

import dataclasses
from typing import NamedTuple

import numpy as np

from ..balance import exchange, ladder, ledger, residual
from ..balance.composition import frac_mass_of
from ..errors import BLOCKED, Status
from ..product import GENERIC, WATER
from .mix_plan import NOTHING_M3, MixRow, contents_of, told_plan

#: Sizes of residual among which the largest with a reachable target is looked for.
GRID = 401
#: Fills that are tried one after the other as a way out.
MOST_FILLS = 6
#: Nearer than this, a mix has the strength wanted: less than an instrument can tell; common
#: practice, no source. [kg/kg]
SAME_STRENGTH = 0.005
#: Weaker by no more than this is not weaker, where a pour is left out for it. [kg/kg]
HARDLY_WEAKER = 0.002
#: Share of the capacity below which a product is not worth pouring; common practice, no source. [-]
LEAST_POUR = 0.02
#: So near to a target that cannot quite be reached, a way out counts as one. [kg/kg]
NEAR = 0.01

_MISSES = int(BLOCKED) | int(Status.ONE_DRAIN_GIVES_PART)


class Inside(NamedTuple):
    """What a refill starts from, in SI.

    Attributes
    ----------
    row : MixRow
        What is still inside, nothing of which comes out.
    still : residual.Residual
        [m3]
    old_frac_mass : float
        Strength of the old mix, which the caught mix has too; 0 where it does not matter. [kg/kg]
    holds_old : bool
        Whether what is still inside is old mix, and not plain water.
    """

    row: MixRow
    still: residual.Residual
    old_frac_mass: float
    holds_old: bool

    @property
    def inside_frac_mass(self):
        """Strength of what is still inside. [kg/kg]."""
        return self.old_frac_mass if self.holds_old else 0.0


class Fill(NamedTuple):
    """A fill as it is told.

    Attributes
    ----------
    back_m3 : float
        Clean caught mix that is poured back, first. [m3]
    plan : exchange.Plan
        Of the products, rounded.
    bucket : bool
        Whether they are mixed in a bucket before they go in.
    """

    back_m3: float
    plan: exchange.Plan
    bucket: bool


def with_back(inside: Inside, back_m3):
    """Return the row once caught mix has been poured back; volumes of several rows. [m3]."""
    row = inside.row
    back = residual.old_mix_as_liquid(row.mix, inside.old_frac_mass)
    count = np.size(back_m3)
    start = ledger.repeated(row.inside, count)
    return row._replace(inside=ledger.pour(start, back, np.atleast_1d(back_m3), row.temp_k))


def fills(row, target, steps):
    """Return the plan of filling rows to the mark with nothing taken out; status as flags."""
    count = np.size(row.inside.glycol_kg)
    wanted = np.full(count, target)
    capacity = np.broadcast_to(np.asarray(row.capacity_m3, float), (count,))
    return exchange.plan_exchange(
        row.inside,
        capacity,
        np.zeros(count),
        wanted,
        row.products,
        exchange.Limits(wanted, wanted),
        row.temp_k,
        on_hand_m3=row.on_hand_m3,
        step_m3=steps,
    )


def missed(plan):
    """Return which rows of a plan do not reach their target, (n,) of bool."""
    return (plan.status & _MISSES) > 0


def most_back_m3(inside: Inside, target, clean_m3, step_m3):
    """Return the most clean caught mix that can go back with the target still reached. [m3].

    In whole measuring steps, and no more than there is room for; also where the most is inside
    that may be, if that can be reached at all. 0 where none can.
    """
    row, high = inside.row, inside.still.high_m3
    room = row.capacity_m3 - float(ledger.volume_m3(row.inside, row.temp_k)[0])
    most = min(clean_m3, room)
    if most <= 0.0:
        return 0.0
    volumes = np.append(np.arange(0.0, most, step_m3), ladder.round_down(most, step_m3))
    plans = fills(with_back(inside, volumes), target, step_m3)
    reached = ~missed(plans)
    fullest = contents_of(row.mix, high, inside.inside_frac_mass, row.temp_k)
    capacity = row.capacity_m3 + inside.still.likeliest_more_m3(high)
    full = inside._replace(row=row._replace(inside=fullest, capacity_m3=capacity))
    also = reached & ~missed(fills(with_back(full, volumes), target, 0.0))
    reached = also if np.any(also) else reached
    return float(volumes[reached].max()) if np.any(reached) else 0.0


def fill_of(inside: Inside, target, clean_m3, step_m3, bucket):
    """Return the `Fill` that reaches a target; its plan is missed where none does."""
    back = most_back_m3(inside, target, clean_m3, step_m3)
    row = with_back(inside, back)
    plan = fills(row, target, step_m3)
    if missed(plan)[0]:
        own = _with_one(inside.row, target, step_m3)
        return Fill(0.0, plan, False) if own is None else Fill(0.0, own, False)
    # What has the strength wanted is filled up all the same: there is no band to leave alone.
    plan = plan._replace(status=plan.status & ~int(Status.IN_BAND))
    return _without_slivers(inside, Fill(back, plan, bucket), row, target)


def _without_slivers(inside, fill: Fill, row, target):
    """Return the fill without pours too small to be worth it, where it then does as well."""
    pours = fill.plan.pour_m3[0, :, 0]
    kept = np.where(pours < LEAST_POUR * row.capacity_m3, 0.0, pours)
    if not np.any(kept < pours) or not (np.any(kept > 0.0) or fill.back_m3 > 0.0):
        return fill
    less = fill._replace(plan=told_plan(row, 0.0, kept))
    found = np.array([inside.old_frac_mass])
    off = float(_after(inside, less, found, np.zeros(1), inside.still.value_m3)[0]) - target
    return less if -HARDLY_WEAKER <= off <= SAME_STRENGTH else fill


def _with_one(row, target, step_m3):
    """Return the plan of filling with one product that as good as gives the target, or None.

    Ready-mixed in a dry system or over mix of the same strength; water over mix too strong.
    """
    for at, product in enumerate(row.products):
        fill = ladder.fill_to_mark_m3(row.inside, product, row.capacity_m3, row.temp_k)
        pours = np.zeros(len(row.products))
        pours[at] = ladder.round_down(float(fill[0]), step_m3)
        plan = told_plan(row, 0.0, pours)
        if abs(float(ledger.frac_mass(plan.after)[0]) - target) <= SAME_STRENGTH:
            return plan
    return None


def liquids_of(inside: Inside, fill: Fill, frac_mass=None):
    """Return what is poured, in order, as `ProductSI` and volume. [m3].

    Parameters
    ----------
    inside, fill
    frac_mass : ndarray, optional
        Strength of the caught mix, where it is not the likeliest. [kg/kg]
    """
    row = inside.row
    liquids, volumes = [], []
    if fill.back_m3 > 0.0:
        old = inside.old_frac_mass if frac_mass is None else frac_mass
        liquids.append(residual.old_mix_as_liquid(row.mix, old))
        volumes.append(fill.back_m3)
    poured = [
        (row.products[at], float(fill.plan.pour_m3[0, at, 0]))
        for at in ladder.pouring_order(row.products)
        if fill.plan.pour_m3[0, at, 0] > 0.0
    ]
    if fill.bucket and len(poured) > 1:
        products, litres = zip(*poured, strict=True)
        liquids.append(residual.blend(products, litres, row.temp_k))
        volumes.append(sum(litres))
    else:
        liquids += [product for product, _ in poured]
        volumes += [litres for _, litres in poured]
    return liquids, volumes


def _after(inside: Inside, fill: Fill, frac_mass, more_m3, inside_m3):
    """Return the strength after a fill of what is truly so, (m,). [kg/kg]."""
    row = inside.row
    strength = frac_mass if inside.holds_old else np.zeros_like(frac_mass)
    state = contents_of(row.mix, inside_m3, strength, row.temp_k)
    liquids, volumes = liquids_of(inside, fill, frac_mass)
    capacity = row.capacity_m3 + more_m3
    return ledger.frac_mass(residual.fill_up(state, capacity, liquids, volumes, row.temp_k).after)


def moves_of(inside: Inside, fill: Fill):
    """Return what the strength moves by with capacity, and with what came out, by half-widths.

    [kg/kg].
    """
    ways = np.array([[1.0, -1.0, 0.0, 0.0], [0.0, 0.0, 1.0, -1.0]])
    found = np.full(4, inside.old_frac_mass)
    capacity_up, capacity_down, out_up, out_down = _after(
        inside, fill, found, *inside.still.moved(*ways)
    )
    return float(capacity_up - capacity_down) / 2, float(out_up - out_down) / 2


def after_fill(inside: Inside, fill: Fill, moves):
    """Return the strength after a fill as a function of the truth, for `spread.spread_of`.

    Its second input is one error for two, capacity and what came out, in half-widths: it runs the
    way in which the two together move the strength most, which to first order is all of it.

    Parameters
    ----------
    inside, fill
    moves : pair of float
        As `moves_of` gives them. [kg/kg]
    """
    both = float(np.hypot(*moves)) or 1.0

    def after(frac_mass, error_u, _at):
        moved = inside.still.moved(*(error_u * move / both for move in moves))
        return _after(inside, fill, frac_mass, *moved)

    return after


def at_ends(inside: Inside, fill: Fill):
    """Return the strength after a fill at the least and the most that may be inside. [kg/kg]."""
    still = inside.still
    ends = np.array([float(still.low_m3[0]), float(still.high_m3[0])])
    found = np.full(2, inside.old_frac_mass)
    more = still.likeliest_more_m3(ends)
    return tuple(map(float, _after(inside, fill, found, more, ends)))


def may_miss(inside: Inside, target):
    """Whether the target is out of reach if the most that may be inside is inside."""
    row, high = inside.row, inside.still.high_m3
    if high[0] - inside.still.value_m3[0] <= NOTHING_M3:
        return False
    capacity = row.capacity_m3 + float(inside.still.likeliest_more_m3(high)[0])
    state = contents_of(row.mix, high, inside.inside_frac_mass, row.temp_k)
    row = row._replace(inside=state, capacity_m3=capacity)
    return bool(missed(fills(row, target, 0.0))[0]) and _with_one(row, target, 0.0) is None


# --- ways out -------------------------------------------------------------------------------------


@dataclasses.dataclass(frozen=True)
class WayOut:
    """A way to the target where the fill does not reach it.

    Attributes
    ----------
    kind : str
        "product" (pour another), "let out" (more, before filling), or "again" (fill, run, cool,
        drain and fill again).
    pours : tuple of (Product, float)
        What to pour, 0 where it is a whole fill. [m3]
    inside_m3 : float
        No more than this may stay inside. [m3]
    fills : int
        Fills in all.
    frac_mass : float
        What it ends at. [kg/kg]
    """

    kind: str
    pours: tuple = ()
    inside_m3: float = 0.0
    fills: int = 1
    frac_mass: float = 0.0


def ways_out(inside: Inside, target, shelf, step_m3, fluid):
    """Yield ways to a target that the fill does not reach, the quickest first."""
    row = inside.row
    others = [(GENERIC[f"{fluid} concentrate"], WATER), (*shelf, WATER)]
    if min(product.frac_mass for product in shelf) > target:
        others.reverse()  # only water is missing
    for products in others:
        if set(products) <= set(shelf):
            continue
        other = row._replace(products=tuple(p.si(fluid) for p in products), on_hand_m3=None)
        plan = fills(other, target, step_m3)
        if not missed(plan)[0]:
            yield WayOut(
                "product",
                pours=tuple(
                    (products[at], float(plan.pour_m3[0, at, 0]))
                    for at in ladder.pouring_order(other.products)
                    if plan.pour_m3[0, at, 0] > 0.0
                ),
                frac_mass=float(ledger.frac_mass(plan.after)[0]),
            )
            break
    yield from _let_out(inside, target, step_m3)
    yield from _again(inside, target, shelf)


def _let_out(inside, target, step_m3):
    row = inside.row
    held = float(ledger.volume_m3(row.inside, row.temp_k)[0])
    residuals = np.linspace(0.0, held, GRID)[:-1]
    states = contents_of(row.mix, residuals, np.full(GRID - 1, inside.inside_frac_mass), row.temp_k)
    plans = fills(row._replace(inside=states), target, 0.0)
    reached = residuals[~missed(plans)]
    if reached.size:
        most = float(ladder.round_down(reached.max(), step_m3))
        if held - most >= step_m3:
            yield WayOut("let out", inside_m3=most, frac_mass=target)
    elif any(abs(frac_mass_of(each.share) - target) <= SAME_STRENGTH for each in row.products):
        # A product of the very strength of the target gets there in an empty system.
        yield WayOut("let out", inside_m3=0.0, frac_mass=target)


def _again(inside, target, shelf):
    """Fill with one product, run, cool, drain what came out before, and fill again."""
    row = inside.row
    comes_out = row.capacity_m3 - float(ledger.volume_m3(row.inside, row.temp_k)[0])
    if comes_out <= NOTHING_M3:
        return
    strengths = [frac_mass_of(product.share) for product in row.products]
    weak = inside.inside_frac_mass < target
    at = int(np.argmax(strengths) if weak else np.argmin(strengths))
    product, state = row.products[at], row.inside
    for count in range(1, MOST_FILLS + 1):
        if count > 1:
            # The last fill is made up to the target where that can be done.
            last = fills(row._replace(inside=state), target, 0.0)
            if not missed(last)[0]:
                yield WayOut("again", pours=((shelf[at], 0.0),), fills=count, frac_mass=target)
                return
        volume = ladder.fill_to_mark_m3(state, product, row.capacity_m3, row.temp_k)
        full = ledger.pour(state, product, volume, row.temp_k)
        reached = float(ledger.frac_mass(full)[0])
        if count > 1 and abs(reached - target) <= NEAR:
            yield WayOut("again", pours=((shelf[at], 0.0),), fills=count, frac_mass=reached)
            return
        state = ledger.drain(full, np.array([comes_out]), row.temp_k)
