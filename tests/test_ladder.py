"""What there is on the shelf: the plan held to ways found without the kernel.

Least drain: once a mix stands at its target, volumes are plain multiples of masses, so all ways
of getting there are a linear programme, whose corners are tried one by one. Apart from that, all
drains and pours of a grid, with a mass balance and published densities of `simulation`.
"""

import itertools
from typing import NamedTuple

import numpy as np
import pytest

from coolcalc import fluids
from coolcalc.balance import ledger
from coolcalc.balance.composition import Composition, ProductSI, product_density_kg_m3
from coolcalc.balance.exchange import Limits, plan_exchange
from coolcalc.balance.ladder import Steps
from coolcalc.errors import BLOCKED, Status

from .simulation import Can, Engine, Liquid, concentrate

TEMP_K = 293.15
CAPACITY = 0.01
EG = "ethylene glycol"
EG_20 = Liquid(EG, 20)
# The usual concentrate, from published densities; a made-up ready-mixed and a weaker one with its
# additives, pure glycol, water.
EG_CAN = concentrate(EG_20, 1.128)
ADDITIVE_M3_KG = EG_CAN.additive_volume
PER_GLYCOL = 0.03 / 0.94
SHARES = {
    "can": (0.94, 0.03, 0.03),
    "ready": (0.50, 0.484, 0.016),
    "thin": (0.25, 0.742, 0.008),
    "pure": (1.0, 0.0, 0.0),
    "water": (0.0, 1.0, 0.0),
}
PRODUCTS = {
    name: ProductSI(EG, Composition(*shares), ADDITIVE_M3_KG if shares[2] else 0.0)
    for name, shares in SHARES.items()
}
NO_END = np.inf
CAN_AND_WATER = {"can": NO_END, "water": NO_END}
RUNS_OUT, PART = Status.STOCK_RUNS_OUT, Status.ONE_DRAIN_GIVES_PART


class Yard(NamedTuple):
    """A system, a shelf (name to litres on hand) and a target; volumes in litres."""

    found: float
    target: float
    shelf: dict
    low: float = 0.0
    drainable: float = 10.0
    band: float = 0.0

    @property
    def products(self):
        return tuple(PRODUCTS[name] for name in self.shelf)

    @property
    def on_hand(self):
        return np.array([list(self.shelf.values())]).T * 1e-3

    @property
    def out_most(self):
        """What is missing at the top is missing at the drain."""
        return max(self.drainable - self.low, 0.0)

    def endless(self):
        return self._replace(shelf=dict.fromkeys(self.shelf, NO_END))


def inside(yard, count=1):
    volume, found = np.full(count, CAPACITY - yard.low * 1e-3), np.full(count, yard.found)
    return ledger.contents(EG, volume, found, PER_GLYCOL, ADDITIVE_M3_KG, TEMP_K)


def planned(yard, count=1, **more):
    target = np.full(count, yard.target)
    return plan_exchange(
        inside(yard, count),
        np.full(count, CAPACITY),
        np.full(count, yard.drainable * 1e-3),
        target,
        yard.products,
        Limits(target - yard.band, target + yard.band),
        TEMP_K,
        **{"on_hand_m3": yard.on_hand} | more,
    )


def status(plan):
    return Status(int(plan.status[0]))


def after(plan):
    return float(ledger.frac_mass(plan.after)[0])


def litres(plan):
    return 1e3 * plan.drain_m3[:, 0], 1e3 * plan.pour_m3[:, :, 0]


# --- the linear programme -------------------------------------------------------------------------
# Unknown: the share kept, and litres of each product. Two lines hold at a strength: glycol less
# that share of glycol + water is nought, and the volumes at that strength's density fill the
# system. The least drain stands in a corner: all but two unknowns at one of their ends.


def columns(yard, strength):
    """Surplus of glycol [kg] and volume [L] of all that is inside, and of a litre of each."""
    per_kg = 1e3 / fluids.density_kg_m3(EG, strength, TEMP_K)

    def column(glycol, water_kg, additive_m3):
        both = glycol + water_kg
        return glycol - strength * both, both * per_kg + 1e3 * additive_m3

    here = inside(yard)
    told = [column(here.glycol_kg[0], here.water_kg[0], here.additive_m3[0])]
    for product in yard.products:
        kg = 1e-3 * product_density_kg_m3(product, TEMP_K)
        glycol, water_kg, additive = (kg * part for part in product.share)
        told.append(column(glycol, water_kg, additive * product.additive_volume_m3_kg))
    return np.array(told).T


def corners(yard, strength, out_most=NO_END):
    """Every corner: share kept, litres of each product. An empty array: out of reach."""
    lines = columns(yard, strength)
    held = 10.0 - yard.low
    lowest = np.array([max(1.0 - out_most / held, 0.0), *(0.0 for _ in yard.shelf)])
    highest = np.array([1.0, *yard.shelf.values()])
    found = []
    for pair in itertools.combinations(range(len(lowest)), 2):
        rest = [at for at in range(len(lowest)) if at not in pair]
        ends = [
            [lowest[at], highest[at]] if np.isfinite(highest[at]) else [lowest[at]] for at in rest
        ]
        ways = list(itertools.product(*ends))
        fixed = np.array(ways, float).reshape(len(ways), len(rest))
        square = lines[:, list(pair)]
        if abs(np.linalg.det(square)) < 1e-9:
            continue
        both = np.linalg.solve(square, np.array([[0.0], [10.0]]) - lines[:, rest] @ fixed.T)
        whole = np.empty((len(fixed), len(lowest)))
        whole[:, list(pair)], whole[:, rest] = both.T, fixed
        good = np.all((whole >= lowest - 1e-9) & (whole <= highest + 1e-9), axis=1)
        found.append(whole[good])
    return np.concatenate(found)


def least_drain(yard, out_most=NO_END):
    """Litres, or None where nothing reaches the target."""
    ways = corners(yard, yard.target, out_most)
    return None if not len(ways) else (1.0 - ways[:, 0].max()) * (10.0 - yard.low)


def room_filled_evenly(yard):
    """Strength after filling to the mark with the same share of all there is; None: too little."""
    most = np.minimum(list(yard.shelf.values()), 10.0)
    if np.sum(most) < yard.low - 1e-9:
        return None
    low, high = 0.0, 1.0
    for _ in range(60):
        state, share = inside(yard), (low + high) / 2
        for product, volume in zip(yard.products, most, strict=True):
            state = ledger.pour(state, product, 1e-3 * share * volume, TEMP_K)
        over = ledger.volume_m3(state, TEMP_K)[0] > CAPACITY
        low, high = (low, share) if over else (share, high)
    return float(ledger.frac_mass(state)[0])


def nearest(yard):
    """Strength nearest to a target out of reach, the system full; None where it cannot be filled.

    What is within reach is joined, so between a strength that is and the target lies one edge.
    """
    here = room_filled_evenly(yard)
    if here is None:
        return None
    beyond = yard.target
    for _ in range(45):
        middle = (here + beyond) / 2
        if len(corners(yard, middle, yard.out_most)):
            here = middle
        else:
            beyond = middle
    return here


def drawn(seed, count):
    """Yards at random: one to four products, some with an end, full and low, strong and weak."""
    random = np.random.default_rng(seed)
    for _ in range(count):
        names = random.choice(list(SHARES), random.integers(1, 5), replace=False)
        stocks = [[NO_END, 0.0, random.uniform(0, 3), random.uniform(0, 10)] for _ in names]
        yard = Yard(
            found=random.choice([random.uniform(0.0, 0.7), random.uniform(0.4, 0.56)]),
            target=random.uniform(0.2, 0.6),
            shelf={str(name): random.choice(stocks.pop()) for name in names},
            low=random.choice([0.0, 0.0, 0.2, 1.0, 2.5, 5.0]),
            drainable=random.choice([10.0, 10.0, random.uniform(1, 10)]),
        )
        if abs(yard.found - yard.target) > 0.005:
            yield yard


YARDS = [*drawn(11, 400)]


def answered():
    plans = ((yard, planned(yard)) for yard in YARDS)
    return ((yard, plan) for yard, plan in plans if not status(plan) & BLOCKED)


def test_least_drain_of_all_corners():
    reached = 0
    for yard, plan in answered():
        least = least_drain(yard)
        if least is None or least > yard.out_most - 1e-9:
            continue
        reached += 1
        (out,), _ = litres(plan)
        assert after(plan) == pytest.approx(yard.target, abs=1e-9), yard
        assert out == pytest.approx(least, abs=1e-7), yard
        assert ledger.volume_m3(plan.after, TEMP_K)[0] == pytest.approx(CAPACITY, rel=1e-9), yard
    assert reached > 100


def test_out_of_reach_ends_as_near_as_any_way_does():
    missed = {"stock": 0, "drain": 0}
    for yard, plan in answered():
        least = least_drain(yard)
        if least is not None and least <= yard.out_most - 1e-9:
            continue
        nearest_by_hand = nearest(yard)
        if nearest_by_hand is None:
            continue
        missed["drain" if least is not None else "stock"] += 1
        assert after(plan) == pytest.approx(nearest_by_hand, abs=1e-6), yard
        assert ledger.volume_m3(plan.after, TEMP_K)[0] == pytest.approx(CAPACITY, rel=1e-9), yard
    assert min(missed.values()) > 10


def test_too_little_for_the_mark_is_all_poured():
    """Nothing is drained, and all there is goes in: the level comes first."""
    seen = 0
    for yard, plan in answered():
        if room_filled_evenly(yard) is None and status(plan) & RUNS_OUT:
            seen += 1
            (out,), (poured,) = litres(plan)
            assert out == 0.0
            assert poured == pytest.approx(list(yard.shelf.values()), abs=1e-9), yard
    assert seen > 10


def test_stock_runs_out_just_where_more_of_it_would_reach():
    told = {True: 0, False: 0}
    for yard in YARDS:
        plan = planned(yard)
        free, limited = least_drain(yard.endless()), least_drain(yard)
        assert bool(status(plan) & BLOCKED) == (free is None), yard
        runs_out = bool(status(plan) & RUNS_OUT)
        assert runs_out == (free is not None and limited is None), yard
        if limited is not None:
            assert bool(status(plan) & PART) == (limited > yard.out_most + 1e-9), yard
        told[runs_out] += 1
    assert min(told.values()) > 40


def test_never_more_than_is_on_hand_never_above_the_mark_and_no_mass_is_lost():
    random = np.random.default_rng(5)
    for yard in YARDS:
        step = random.choice([0.0, 5e-5])
        passes = int(random.choice([1, 3]))
        plan = planned(yard, step_m3=step, passes=passes)
        if status(plan) & BLOCKED:
            assert np.all(np.isnan(plan.drain_m3)) and np.all(np.isnan(plan.pour_m3))
            continue
        out, poured = litres(plan)
        assert np.all(np.sum(poured, axis=0) <= 1e3 * yard.on_hand[:, 0] + 1e-9), yard
        assert ledger.volume_m3(plan.after, TEMP_K)[0] <= CAPACITY * (1 + 1e-9), yard
        moved = (out > 0.0) | np.any(poured > 0.0, axis=1)
        assert plan.passes[0] == max(np.sum(moved), 1) and not np.any(moved[plan.passes[0] :])
        here = np.array([float(part[0]) for part in inside(yard)[:4]])
        for drained, pours in zip(out, poured, strict=True):
            state = ledger.State(*here, EG)
            here = here * (1 - 1e-3 * drained / ledger.volume_m3(state, TEMP_K))
            for product, volume in zip(yard.products, pours, strict=True):
                kg = 1e-3 * volume * product_density_kg_m3(product, TEMP_K)
                additive_m3 = product.share.additive * product.additive_volume_m3_kg
                here = here + kg * np.array([*product.share, additive_m3])
        ends = [float(part[0]) for part in plan.after[:4]]
        assert ends == pytest.approx(here, rel=1e-9, abs=1e-14), yard


@pytest.mark.parametrize("even", [True, False])
def test_rounded_litres_end_at_the_target_or_say_why_not(even):
    """Each on its own step; never weaker unsaid, and stronger by no more than the steps make."""
    random = np.random.default_rng(6)
    for yard in YARDS:
        out, pours = 5e-5, [5e-5] * len(yard.shelf)
        if not even:
            out = float(random.choice([5e-5, 2e-5]))
            pours = random.choice([5e-5, 1e-5, 2.3e-5, 1.3e-4], len(yard.shelf)).tolist()
        steps = Steps(out, tuple(pours))
        plan, exact = planned(yard, step_m3=steps), planned(yard)
        if status(plan) & BLOCKED:
            continue
        step = np.array([[steps.drain_m3, *steps.pour_m3]]).T
        whole = np.vstack([plan.drain_m3, plan.pour_m3[0]]) / step
        assert whole == pytest.approx(np.round(whole), abs=1e-6), yard
        slack = 2 * (steps.drain_m3 + sum(steps.pour_m3)) / CAPACITY
        said = status(plan) & (RUNS_OUT | PART)
        if status(plan) & PART:
            assert plan.drain_m3[0, 0] > yard.out_most * 1e-3 - 1.3e-4 - steps.drain_m3, yard
        if status(exact) & (RUNS_OUT | PART):
            assert said, yard
            assert after(plan) == pytest.approx(after(exact), abs=3 * slack), yard
        else:
            assert after(plan) <= yard.target + slack, yard
            assert after(plan) >= yard.target - (slack if said else 1e-9), yard


def test_a_drain_for_less_than_half_a_step_is_not_counted():
    yard = Yard(0.302, 0.5, CAN_AND_WATER)
    assert 0.0 < least_drain(yard) - 2.8 < 0.025
    assert planned(yard._replace(drainable=2.8), step_m3=5e-5, passes=3).passes[0] == 1


@pytest.mark.parametrize(
    ("found", "pours", "poured"),
    [(0.3, (1.3e-4, 1e-5), 0), (0.3, (5e-4, 1e-5), 0), (0.58, (1e-5, 1.3e-4), 1)],
)
def test_weighed_products_keep_to_their_own_steps(found, pours, poured):
    """No finer product fills the last of a coarser one's step, and none ends weaker."""
    plan = planned(Yard(found, 0.5, CAN_AND_WATER), step_m3=Steps(2e-5, pours))
    assert not status(plan) & (PART | RUNS_OUT)
    assert plan.pour_m3[0, poured, 0] > 0.0 == plan.pour_m3[0, 1 - poured, 0]
    assert 0.5 - 1e-9 <= after(plan) <= 0.5 + max(pours) / CAPACITY


# --- all ways of a grid, with published densities -------------------------------------------------


def made(glycol, water_kg, additive):
    """A kilogram of these, with published densities and the additives of the can."""
    both = glycol + water_kg
    volume = both * EG_20.volume_m3_kg(glycol / both) + additive * ADDITIVE_M3_KG
    return Can(glycol, water_kg, additive, volume, ADDITIVE_M3_KG)


BY_NAME = {name: made(*shares) for name, shares in SHARES.items()}
#: Published densities are good to 0.05 %, which moves a drain of 10 L by less than 0.01 L and a
#: strength as in test_simulation.
OUT_ABS, STRENGTH_ABS = 0.01, 5e-4

GRID_YARDS = {
    "weak, all of the can": Yard(0.3, 0.5, {"can": 1.5, "water": NO_END}),
    "weak, ready-mixed goes on": Yard(0.2, 0.45, {"can": 1.0, "ready": NO_END, "water": NO_END}),
    "weak, four of which three end": Yard(
        0.25, 0.42, {"pure": 0.5, "can": 0.7, "ready": 2.0, "water": NO_END}
    ),
    "strong, little water": Yard(0.58, 0.45, {"can": NO_END, "water": 0.8}),
    "strong, little water, then thin": Yard(0.58, 0.40, {"thin": NO_END, "water": 0.8}),
    "low, can ends": Yard(0.4, 0.5, {"can": 0.6, "water": NO_END}, low=2.0),
    "low, can and ready": Yard(0.35, 0.42, {"can": 0.3, "ready": 1.5, "water": NO_END}, low=1.5),
    "low, water ends": Yard(0.5, 0.5001, {"can": NO_END, "ready": NO_END, "water": 0.3}, low=2.0),
    "low and strong, no can left": Yard(0.52, 0.5, {"can": 0.0, "water": NO_END}, low=2.0),
    "low and weak, no water left": Yard(0.48, 0.5, {"can": NO_END, "water": 0.0}, low=2.0),
    "low, all stronger than the target": Yard(0.1, 0.22, {"ready": NO_END, "thin": NO_END}, low=4),
    "little comes out": Yard(0.3, 0.5, {"can": 2.0, "water": NO_END}, drainable=1.2),
}


def masses(yard, out):
    """Kilograms left inside after draining ``out`` litres, and the volume of its additives."""
    engine = Engine(EG_20, EG_CAN, 10.0 - yard.low, yard.found)
    kept = 1 - out / engine.litres
    volume = engine.additive * ADDITIVE_M3_KG
    return np.array([engine.glycol, engine.water, volume])[:, None] * kept


def strength_and_litres(kg):
    """Of many mixes; published densities are given up to pure glycol."""
    share = kg[0] / (kg[0] + kg[1])
    return share, 1e3 * ((kg[0] + kg[1]) * EG_20.volume_m3_kg(share) + kg[2])


def every_way(yard, outs, grid):
    """Strength after each drain and each way of filling to the mark, within half a grid step."""
    cans = [BY_NAME[name] for name in yard.shelf]
    per_litre = np.array(
        [[can.glycol, can.water, can.additive * can.additive_volume] for can in cans]
    ) / np.array([[1e3 * can.volume] for can in cans])
    for out in outs:
        room = yard.low + out
        axes = []
        for most in yard.shelf.values():
            amounts = np.arange(0.0, min(most, 1.05 * room) + 1e-9, grid)
            axes.append(np.union1d(amounts, min(most, 1.05 * room)))
        ways = np.stack(np.meshgrid(*axes, indexing="ij")).reshape(len(axes), -1)
        ways = ways[:, np.abs(ways.sum(axis=0) - 1.01 * room) <= grid + 0.05 * room]
        if not ways.size:
            continue
        share, volume = strength_and_litres(masses(yard, out) + per_litre.T @ ways)
        full = np.abs(volume - 10.0) <= grid / 2
        if np.any(full):
            yield out, share[full]


@pytest.mark.parametrize("yard", GRID_YARDS.values(), ids=GRID_YARDS.keys())
def test_no_way_of_the_grid_does_better(yard):
    plan = planned(yard)
    out, poured = (each[0] for each in litres(plan))
    grid = 0.05 if len(yard.shelf) < 4 else 0.125
    most = min(yard.out_most, 10.0 - yard.low)
    # A grid's fill is off by half its step, which moves the mix by less than as much of 10 L.
    blur = grid / 2 / 10.0 + STRENGTH_ABS
    if not status(plan) & (RUNS_OUT | PART):
        fewer = np.arange(0.0, out - OUT_ABS, 0.1)
        side = np.sign(yard.target - yard.found)
        for drained, shares in every_way(yard, fewer, grid):
            short_of_it = np.min(side * (yard.target - shares))
            assert short_of_it > -blur, drained
        if out == 0.0:
            assert after(plan) == pytest.approx(yard.target, abs=1e-9)
    else:
        off = abs(after(plan) - yard.target)
        for drained, shares in every_way(yard, np.linspace(0.0, most, 40), grid):
            assert np.min(np.abs(shares - yard.target)) > off - blur, drained
    # Carried out by the simulation the litres end where the plan says.
    engine = Engine(EG_20, EG_CAN, 10.0 - yard.low, yard.found)
    engine.take_out(out)
    for name, volume in zip(yard.shelf, poured, strict=True):
        engine.pour(BY_NAME[name], volume)
    assert engine.share == pytest.approx(after(plan), abs=STRENGTH_ABS)
    assert engine.litres == pytest.approx(10.0, abs=0.01)


# --- how a plan moves with what is on hand --------------------------------------------------------

MOVING = {
    "weak": (Yard(0.3, 0.5, CAN_AND_WATER), "can"),
    "weak, ready-mixed goes on": (Yard(0.2, 0.45, CAN_AND_WATER | {"ready": 3.0}), "can"),
    "strong": (Yard(0.58, 0.45, CAN_AND_WATER), "water"),
    "low, can ends": (Yard(0.35, 0.5, CAN_AND_WATER, low=2.0), "can"),
    "low, water ends": (Yard(0.48, 0.5, CAN_AND_WATER, low=2.0), "water"),
    "low and strong, can ends": (Yard(0.52, 0.5, CAN_AND_WATER, low=2.0), "can"),
}


@pytest.mark.parametrize(("yard", "which"), MOVING.values(), ids=MOVING.keys())
def test_continuous_in_what_is_on_hand(yard, which):
    """Half a millilitre more of a product moves no litres by more than five times that."""
    count, most = 8001, 4.0
    on_hand = np.repeat(yard.on_hand, count, axis=1)
    on_hand[list(yard.shelf).index(which)] = 1e-3 * np.linspace(0.0, most, count)
    plan = planned(yard, count, on_hand_m3=on_hand)
    ran_out = plan.status & int(RUNS_OUT) > 0
    assert np.all(np.diff(ran_out.astype(int)) <= 0) and 0 < np.sum(ran_out) < count
    for volumes in (plan.drain_m3[0], *plan.pour_m3[0]):
        assert np.max(np.abs(np.diff(volumes))) <= 5 * 1e-3 * most / (count - 1)


@pytest.mark.parametrize("passes", [1, 3])
def test_enough_is_as_good_as_no_end(passes):
    for yard in YARDS:
        free = planned(yard.endless(), on_hand_m3=None, passes=passes)
        if status(free) & BLOCKED:
            continue
        needed = free.pour_m3[:, :, 0].sum(axis=0)[:, None]
        for stock in (needed * (1 + 1e-9), 2 * needed + 1e-3):
            plan = planned(yard, on_hand_m3=stock, passes=passes)
            # Of a drain that gives part, what it takes is not yet what the target takes.
            assert status(plan) == status(free) or status(free) & PART, yard
            np.testing.assert_allclose(plan.drain_m3, free.drain_m3, rtol=1e-6, atol=1e-10)
            np.testing.assert_allclose(plan.pour_m3, free.pour_m3, rtol=1e-6, atol=1e-10)


@pytest.mark.parametrize(
    ("low", "stock", "band", "poured", "flags"),
    [
        pytest.param(1.0, (0.0, NO_END), 0.02, (0.0, 0.0), RUNS_OUT, id="water would spoil it"),
        pytest.param(0.3, (0.0, NO_END), 0.03, (0.0, 0.3), 0, id="water keeps it"),
        pytest.param(0.3, (0.1, NO_END), 0.03, (0.1, 0.2), 0, id="what can is left first"),
        pytest.param(0.3, (0.0, 0.1), 0.03, (0.0, 0.1), RUNS_OUT, id="too little for the mark"),
    ],
)
def test_level_of_a_mix_in_band_with_little_on_hand(low, stock, band, poured, flags):
    yard = Yard(0.49, 0.5, dict(zip(CAN_AND_WATER, stock, strict=True)), low=low, band=band)
    plan = planned(yard)
    assert status(plan) == Status.IN_BAND | flags
    (out,), (pours,) = litres(plan)
    assert out == 0.0
    assert pours == pytest.approx(poured, abs=0.01)  # a little more, since volumes shrink
    assert abs(after(plan) - yard.target) <= band
