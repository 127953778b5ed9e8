"""One system for the kernels: what is inside, the plan that corrects it, and how sure it is."""

from typing import NamedTuple

import numpy as np

from ..balance import exchange, ledger, spread
from ..balance.composition import OldMix, ProductSI, mix_of_product
from ..balance.ladder import Steps
from ..errors import BLOCKED, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..mixture import Mixture

#: Less than this is the dust of a sum, not a volume. [m3]
NOTHING_M3 = 1e-9
#: The same of a strength, of a share of a volume, and of a temperature. [kg/kg, -, K]
DUST = 1e-9
#: Figures nearer than this are one to whoever pours, reads or prints. [kg/kg, -, K, SI of a scale]
EQUAL = 1e-6

#: A drain that does not reach the target is done for at least this gain; common practice, no
#: source. [kg/kg]
LEAST_GAIN = 0.02

#: Targets among which an aim is looked for, from the target to some give or take beyond it;
#: then as many between the two where it comes into reach.
AIM_GRID, AIM_SPAN = 13, 3.0


class MixRow(NamedTuple):
    """What a correction starts from, in SI; every array has one element.

    Attributes
    ----------
    mix : OldMix
    inside : ledger.State
        [kg]
    capacity_m3, low_m3, drainable_m3 : float
        Full to the cold mark; what is missing below it; what comes out of the full system. [m3]
    products : tuple of ProductSI
        What there is to pour.
    on_hand_m3 : ndarray or None
        What there is of each product, (product, 1). [m3]
    temp_k, drain_temp_k : float
        Of the litres that are poured, and that are taken out. [K]
    """

    mix: OldMix
    inside: ledger.State
    capacity_m3: float
    low_m3: float
    drainable_m3: float
    products: tuple[ProductSI, ...]
    on_hand_m3: np.ndarray | None
    temp_k: float
    drain_temp_k: float


class MixInputs(NamedTuple):
    """What is known of the reading and the capacity, at 95 %.

    ``rise`` and ``bend`` as in `coolcalc.balance.spread.Inputs`; ``offset_share`` is the part of
    the reading's give or take that all readings of the instrument share. [kg/kg, -, m3]
    """

    frac_mass: float
    rise: float
    bend: float
    offset_share: float
    capacity_error_m3: float


def row_of(
    mixture: Mixture,
    capacity_m3,
    low_m3,
    shelf,
    temp_k,
    *,
    drainable_m3=None,
    on_hand_m3=None,
    drain_temp_k=None,
):
    """Return the `MixRow` of a mix in a system. [m3, K].

    What is drainable is all, and drained as warm as it is poured, unless given.
    """
    mix = mix_of_product(mixture.product.si())
    inside = contents_of(mix, capacity_m3 - low_m3, mixture.frac_mass, temp_k)
    products = tuple(product.si(mixture.fluid) for product in shelf)
    return MixRow(
        mix,
        inside,
        capacity_m3,
        low_m3,
        capacity_m3 if drainable_m3 is None else drainable_m3,
        products,
        on_hand_m3,
        temp_k,
        temp_k if drain_temp_k is None else drain_temp_k,
    )


def contents_of(mix, volume_m3, frac_mass, temp_k):
    """Return the `ledger.State` of volumes of an `OldMix`, (n,). [m3, kg/kg, K]."""
    return ledger.contents(
        mix.fluid,
        np.atleast_1d(np.asarray(volume_m3, float)),
        np.atleast_1d(np.asarray(frac_mass, float)),
        mix.additive_per_glycol,
        mix.additive_volume_m3_kg,
        temp_k,
    )


def plan_row(row, target, band, steps=0.0, passes=1):
    """Return the `exchange.Plan` of a row, for one target or for several.

    Parameters
    ----------
    row : MixRow
    target : float or ndarray, (n,)
        Glycol over glycol + water. [kg/kg]
    band : pair of float or ndarray
        Weakest and strongest that is left alone. [kg/kg]
    steps : float or Steps
        Measuring steps, 0 for exact litres. [m3]
    passes : int
        Drains allowed.
    """
    target = np.atleast_1d(target)
    count = np.size(target)
    return exchange.plan_exchange(
        ledger.repeated(row.inside, count),
        np.full(count, row.capacity_m3),
        np.full(count, row.drainable_m3),
        target,
        row.products,
        exchange.Limits(*(np.broadcast_to(edge, (count,)) for edge in band)),
        row.temp_k,
        drain_temp_k=row.drain_temp_k,
        on_hand_m3=row.on_hand_m3,
        step_m3=steps,
        passes=passes,
    )


def told_plan(row, drain_m3, pours_m3):
    """Return litres as they are given, as an `exchange.Plan` of one pass. [m3].

    Parameters
    ----------
    row : MixRow
    drain_m3 : float
    pours_m3 : sequence of float
        Of each product of the row.
    """
    plan = exchange.Plan(
        np.array([[float(drain_m3)]]),
        np.reshape(np.array(pours_m3, float), (1, -1, 1)),
        row.inside,
        np.array([1]),
        np.array([0]),
    )
    return plan._replace(after=state_after(row, plan))


def state_after(row, plan, passes=None, inside=None):
    """Return what is inside after the first passes of a plan, or after all. [kg].

    ``inside`` is what it starts from, where that is not what is inside of the row.
    """
    part = plan._replace(drain_m3=plan.drain_m3[:passes], pour_m3=plan.pour_m3[:passes])
    start = row.inside if inside is None else inside
    return exchange.outcome(start, part, row.products, row.temp_k, row.drain_temp_k)


def drains_worth(row, plan):
    """Return how many of a plan's drains a workshop would do. [count].

    Not more than empty the system once in all; and where they do not reach the target, none that
    gains less than `LEAST_GAIN`. At least one.
    """
    used = int(plan.passes[0])
    in_all = np.cumsum(plan.drain_m3[:used, 0])
    worth = int(np.sum(in_all <= row.capacity_m3 * (1.0 + DUST)))
    if int(plan.status[0]) & Status.ONE_DRAIN_GIVES_PART:
        before = float(ledger.frac_mass(row.inside)[0])
        for at in range(used):
            after = float(ledger.frac_mass(state_after(row, plan, at + 1))[0])
            if abs(after - before) < LEAST_GAIN:
                worth = min(worth, at)
                break
            before = after
    return max(worth, 1)


def reach_row(row, target):
    """Return the strength nearest to a target out of reach, with what there is no end of. [kg/kg].

    The strength as it is, where nothing is without end.
    """
    products = row.products
    if row.on_hand_m3 is not None:
        endless = np.isinf(row.on_hand_m3[:, 0])
        products = tuple(p for p, each in zip(products, endless, strict=True) if each)
    if not products:
        return float(ledger.frac_mass(row.inside)[0])
    near = exchange.reach_frac_mass(
        row.inside,
        np.array([row.capacity_m3]),
        np.array([row.drainable_m3]),
        np.array([target]),
        products,
        row.temp_k,
    )
    return float(near[0])


# --- how sure it is -------------------------------------------------------------------------------


def spread_inputs(row, inputs, count):
    """Return `MixInputs` as the `spread.Inputs` of a row, ``count`` times."""
    return spread.Inputs(
        np.full(count, inputs.frac_mass),
        np.full(count, inputs.rise),
        np.full(count, inputs.bend),
        np.full(count, row.capacity_m3),
        np.full(count, inputs.capacity_error_m3),
    )


def _outcome(row, plan):
    """Return the strength afterwards as a function of what is truly inside."""

    def after(frac_mass, capacity_m3, at):
        inside = contents_of(row.mix, capacity_m3 - row.low_m3, frac_mass, row.temp_k)
        chosen = exchange.Plan(
            plan.drain_m3[:, at], plan.pour_m3[:, :, at], plan.after, plan.passes, plan.status
        )
        true = exchange.outcome(inside, chosen, row.products, row.temp_k, row.drain_temp_k)
        return ledger.frac_mass(true)

    return after


def outcome_spread(row, plan, inputs):
    """Return the `spread.Spread` of the strength after a plan's litres, held fixed. [kg/kg]."""
    return spread.spread_of(_outcome(row, plan), spread_inputs(row, inputs, plan.drain_m3.shape[1]))


def chance_to_hold(row, plan, inputs, after, hold):
    """Return the chance that a plan holds, (n,). [-].

    Parameters
    ----------
    row : MixRow
    plan : exchange.Plan
    inputs : MixInputs
    after : spread.Spread
        As `outcome_spread` gives it.
    hold : spread.Hold
        [kg/kg]
    """
    known = spread_inputs(row, inputs, plan.drain_m3.shape[1])
    return spread.chance_to_hold(_outcome(row, plan), known, after, hold)


def litre_spread(row, target, band, inputs, passes):
    """Return how the litres move with what was measured: a `spread.Spread` each. [m3].

    Of all that is taken out, then of all that is poured of each product.
    """
    count = len(row.products)
    known = spread_inputs(row, inputs, 1)
    cache = {}

    def figure(which):
        def litres(frac_mass, capacity_m3, at):
            key = (frac_mass.tobytes(), capacity_m3.tobytes())
            if key not in cache:
                cache[key] = _litres(row, target, band, frac_mass, capacity_m3, passes)
            return cache[key][which]

        return litres

    return tuple(spread.spread_of(figure(which), known) for which in range(count + 1))


def _litres(row, target, band, frac_mass, capacity_m3, passes):
    inside = contents_of(row.mix, capacity_m3 - row.low_m3, frac_mass, row.temp_k)
    size = np.size(frac_mass)
    plan = exchange.plan_exchange(
        inside,
        capacity_m3,
        np.minimum(row.drainable_m3, capacity_m3),
        np.full(size, target),
        row.products,
        exchange.Limits(*(np.full(size, edge) for edge in band)),
        row.temp_k,
        drain_temp_k=row.drain_temp_k,
        on_hand_m3=row.on_hand_m3,
        passes=passes,
    )
    return np.concatenate([plan.drain_m3.sum(axis=0)[None], plan.pour_m3.sum(axis=0)])


def aim_row(row, target, band, inputs, hold, aim, steps: Steps, passes):
    """Return the weakest target whose printed litres hold with a chance, else the best. [kg/kg].

    Parameters
    ----------
    row, inputs, hold
        As for `chance_to_hold`.
    target : float
        What is to be held. [kg/kg]
    band : pair of float
        Weakest and strongest that is left alone without an aim. [kg/kg]
    aim : float
        [-]
    """
    plain = plan_row(row, target, band, steps, passes)
    wide = outcome_spread(row, plain, inputs).half_width
    half = float(np.nan_to_num(wide)[0] or inputs.rise)
    reach = max(AIM_SPAN * float(np.hypot(half, hold.curve[0])), 1e-3)
    most = min(target + reach, FRAC_MASS_SETTLED_MAX)

    def chances(targets):
        strongest = np.maximum(band[1], targets)
        plans = plan_row(row, targets, (targets, strongest), steps, passes)
        found = chance_to_hold(row, plans, inputs, outcome_spread(row, plans, inputs), hold)
        return np.where((plans.status & int(BLOCKED)) > 0, -1.0, found)

    targets = np.linspace(target, max(most, target), AIM_GRID)
    found = chances(targets)
    if not np.any(found >= aim):
        return float(targets[np.argmax(found)])
    first = int(np.argmax(found >= aim))
    if first > 0:
        targets = np.linspace(targets[first - 1], targets[first], AIM_GRID)
        first = int(np.argmax(chances(targets) >= aim))
    return float(targets[first])
