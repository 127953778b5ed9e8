"""Mass is kept: through every operation of the ledger, and over every branch of the exchange."""

from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coolcalc.balance import ledger
from coolcalc.balance.composition import (
    Composition,
    ProductSI,
    composition_of_mix,
    density_kg_m3,
    frac_mass_from_product_share,
    frac_mass_of,
    product_density_kg_m3,
    product_share_from_frac_mass,
)
from coolcalc.balance.exchange import Limits, outcome, plan_exchange, reach_frac_mass
from coolcalc.errors import BLOCKED, REASONS, Status

TEMP_K = 293.15
FLUIDS = ("ethylene glycol", "propylene glycol", "glycerol")
EG = "ethylene glycol"
# Invented shelf: a concentrate, a ready-mixed coolant and a product with other additives.
CONCENTRATE = ProductSI(EG, Composition(0.94, 0.03, 0.03), 4.6e-4)
READY_MIXED = ProductSI(EG, Composition(0.50, 0.484, 0.016), 4.6e-4)
HEAVY_ADDITIVES = ProductSI(EG, Composition(0.88, 0.04, 0.08), 3e-4)
PURE = ProductSI(EG, Composition(1.0, 0.0, 0.0), 0.0)
WATER = ProductSI(EG, Composition(0.0, 1.0, 0.0), 0.0)
SHELF = (CONCENTRATE, READY_MIXED, HEAVY_ADDITIVES, PURE, WATER)
PER_GLYCOL = 0.03 / 0.94


def row(value):
    return np.array([value], float)


def filled(volume, found, temp_k=TEMP_K, fluid=EG):
    """Mix of the concentrate's additives, (n,) for arrays."""
    return ledger.contents(fluid, volume, found, PER_GLYCOL, 4.6e-4, temp_k)


def amounts(state):
    return np.array([np.asarray(part, float) for part in state[:4]])


def brought(product, mass):
    """What a mass of product brings, by hand: kg, kg, kg, m3."""
    glycol, water, additive = product.share
    additive_m3 = additive * product.additive_volume_m3_kg
    return np.array([mass * each for each in (glycol, water, additive, additive_m3)])


def held_to(found, wanted):
    np.testing.assert_allclose(found, wanted, rtol=1e-12, atol=1e-15)


# --- the ledger's own operations ------------------------------------------------------------------

operations = st.lists(
    st.one_of(
        st.tuples(st.just("drain"), st.floats(0.0, 0.95), st.just(WATER)),
        st.tuples(st.just("pour"), st.floats(0.0, 0.02), st.sampled_from(SHELF)),
        st.tuples(st.just("add"), st.floats(0.0, 20.0), st.sampled_from(SHELF)),
    ),
    max_size=8,
)


@settings(deadline=None)
@given(
    volume=st.floats(2e-4, 10.0),
    found=st.floats(0.0, 1.0),
    temp_k=st.floats(273.15, 323.15),
    fluid=st.sampled_from(FLUIDS),
    work=operations,
)
def test_operations_conserve(volume, found, temp_k, fluid, work):
    state = filled(volume, found, temp_k, fluid)
    put_in, taken = amounts(state), np.zeros(4)
    for what, amount, product in work:
        product = product._replace(fluid=fluid)
        before = state
        if what == "drain":
            out = amount * ledger.volume_m3(before, temp_k)
            state = ledger.drain(before, out, temp_k)
            held_to(amounts(state), amounts(before) * (1 - amount))
            taken = taken + amount * amounts(before)
        elif what == "pour":
            state = ledger.pour(before, product, amount, temp_k)
            put_in = put_in + brought(product, amount * product_density_kg_m3(product, temp_k))
        else:
            state = ledger.add(before, product, amount)
            put_in = put_in + brought(product, amount)
        assert state.fluid == fluid
        held_to(amounts(state) + taken, put_in)


@settings(deadline=None)
@given(found=st.floats(0.0, 1.0), volume=st.floats(2e-4, 10.0), fluid=st.sampled_from(FLUIDS))
def test_contents_is_what_it_was_asked_for(found, volume, fluid):
    state = filled(volume, found, fluid=fluid)
    assert ledger.frac_mass(state) == pytest.approx(found, rel=1e-12, abs=1e-15)
    assert ledger.volume_m3(state, TEMP_K) == pytest.approx(volume, rel=1e-12)
    assert state.additive_kg == pytest.approx(PER_GLYCOL * state.glycol_kg, rel=1e-12)
    assert state.additive_m3 == pytest.approx(4.6e-4 * state.additive_kg, rel=1e-12)


@settings(deadline=None)
@given(frac=st.floats(0.0, 1.0), per_glycol=st.floats(0.0, 0.2), va=st.floats(1e-4, 2e-3))
def test_density_is_mass_over_volume(frac, per_glycol, va):
    share = composition_of_mix(frac, per_glycol)
    assert sum(share) == pytest.approx(1.0, rel=1e-12)
    state = ledger.contents(EG, 1.0, frac, per_glycol, va, TEMP_K)
    assert sum(state[:3]) == pytest.approx(density_kg_m3(EG, share, TEMP_K, va), rel=1e-12)


@settings(deadline=None)
@given(share=st.floats(0.0, 1.0), product=st.sampled_from(SHELF[:4]))
def test_share_of_product_goes_both_ways(share, product):
    frac = frac_mass_from_product_share(product, share)
    assert product_share_from_frac_mass(product, frac) == pytest.approx(share, abs=1e-12)


# --- the branches of the exchange -----------------------------------------------------------------


class Case(NamedTuple):
    """One branch; volumes as shares of the capacity, step too."""

    found: float
    target: float = 0.5
    low: float = 0.0
    drainable: float = 1.0
    band: float = 0.0
    products: tuple = (CONCENTRATE, WATER)
    passes: int = 1
    status: Status = Status.PLAIN
    drains: bool = True
    pours: tuple = (True, False)  # of the concentrate, of the other


def strong(found, **more):
    return Case(found, status=Status.TOO_STRONG | more.pop("also", 0), **more)


ONLY_STRONG, ONLY_WEAK = (CONCENTRATE,), (WATER,)
PART = Status.ONE_DRAIN_GIVES_PART
CASES = {
    "weak": Case(0.3),
    "weak, made up with plain water inside": Case(0.0),
    "weak, pure glycol": Case(0.3, products=(PURE, WATER)),
    "weak, other additives": Case(0.3, products=(HEAVY_ADDITIVES, WATER)),
    "weak, only ready-mixed that is stronger": Case(0.3, 0.4, products=(READY_MIXED,)),
    "strong": strong(0.58, pours=(False, True)),
    "strong, ready-mixed as diluent": strong(
        0.58, target=0.55, products=(CONCENTRATE, READY_MIXED), pours=(False, True)
    ),
    "far too strong": strong(0.75, also=Status.START_NOT_SETTLED, pours=(False, True)),
    "far too strong, on the glycol side": strong(
        0.85, also=Status.START_NOT_SETTLED, pours=(False, True)
    ),
    "low and weak, filling is enough": Case(0.45, low=0.2, drains=False, pours=(True, True)),
    "low and weak, with a drain": Case(0.3, low=0.1),
    "low and strong, filling is enough": strong(0.55, low=0.2, drains=False, pours=(True, True)),
    "low and strong, with a drain": strong(0.58, low=0.05, pours=(False, True)),
    "in band": Case(0.5, band=0.02, status=Status.IN_BAND, drains=False, pours=(False, False)),
    "in band and low, filling meets the target": Case(
        0.49, band=0.02, low=0.1, status=Status.IN_BAND, drains=False, pours=(True, True)
    ),
    "in band and low, topped with water": Case(
        0.515, band=0.02, low=0.02, status=Status.IN_BAND, drains=False, pours=(False, True)
    ),
    "in band and low, topped with concentrate": Case(
        0.485, band=0.02, low=0.02, status=Status.IN_BAND, drains=False, pours=(True, False)
    ),
    "in band and low, nothing keeps it there": Case(
        0.49,
        band=0.02,
        low=0.2,
        products=ONLY_WEAK,
        status=Status.IN_BAND | Status.PRODUCT_TOO_WEAK,
    ),
    "one drain gives part, weak": Case(0.3, drainable=0.2, status=PART),
    "one drain gives part, strong": strong(0.58, drainable=0.1, also=PART, pours=(False, True)),
    "several drains, weak": Case(0.3, drainable=0.2, passes=3),
    "several drains, strong": strong(0.58, drainable=0.1, passes=3, pours=(False, True)),
    "several drains, still not enough": Case(0.1, drainable=0.1, passes=3, status=PART),
    "product too weak": Case(
        0.3, 0.55, products=(READY_MIXED, WATER), status=Status.PRODUCT_TOO_WEAK
    ),
    "water makes nothing stronger": Case(0.3, products=ONLY_WEAK, status=Status.PRODUCT_TOO_WEAK),
    "no diluent": strong(0.58, products=ONLY_STRONG, also=Status.NO_DILUENT),
    "no diluent for what is missing": Case(
        0.48, low=0.2, products=ONLY_STRONG, status=Status.NO_DILUENT
    ),
    "target not settled": Case(0.3, 0.65, status=Status.TARGET_NOT_SETTLED),
}
EVERY_CASE = pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())


def planned(case, capacity=0.01, step=0.0, temp_k=TEMP_K):
    """Plan of one case; ``step`` is a share of the capacity."""
    inside = filled(row(capacity * (1 - case.low)), row(case.found), temp_k)
    limits = Limits(row(case.target - case.band), row(case.target + case.band))
    plan = plan_exchange(
        inside,
        row(capacity),
        row(capacity * case.drainable),
        row(case.target),
        case.products,
        limits,
        temp_k,
        step_m3=capacity * step,
        passes=case.passes,
    )
    return inside, plan


def blocked(case):
    return bool(case.status & BLOCKED)


@EVERY_CASE
@pytest.mark.parametrize("step", [0.0, 0.005])
def test_branch(case, step):
    _, plan = planned(case, step=step)
    assert Status(int(plan.status[0])) == case.status
    if blocked(case):
        return
    assert (np.sum(plan.drain_m3) > 0.0) == case.drains
    poured = np.sum(plan.pour_m3, axis=0)[:, 0] > 0.0
    assert tuple(poured) == case.pours[: len(case.products)]
    assert 1 <= plan.passes[0] <= case.passes


def test_every_status_is_reached():
    reached = Status.PLAIN
    for case in CASES.values():
        reached |= case.status
    at_the_door = Status.AIM_NOT_REACHED | Status.NOT_TO_BE_CORRECTED
    # Stock that runs out: test_ladder; rows that are none: test_jobs_hold; fills: test_refill and
    # test_flush.
    elsewhere = Status.STOCK_RUNS_OUT | Status.UNUSABLE | Status.FLUSH_NOT_REACHED
    elsewhere |= Status.REFILL_NOT_REACHED | Status.REFILL_MAY_MISS
    assert reached | elsewhere | at_the_door == sum(REASONS)
    assert set(REASONS) == set(Status)


@EVERY_CASE
@pytest.mark.parametrize("step", [0.0, 0.005])
@settings(max_examples=15, deadline=None)
@given(capacity=st.floats(3e-4, 9.0), temp_k=st.floats(275.0, 320.0))
def test_plan_conserves(case, step, capacity, temp_k):
    """What was inside, less what came out, plus what was poured, by hand from the litres."""
    inside, plan = planned(case, capacity, step, temp_k)
    here = amounts(inside)
    if blocked(case):
        assert np.all(np.isnan(plan.drain_m3)) and np.all(np.isnan(plan.pour_m3))
        held_to(amounts(plan.after), here)
        return
    for drained, poured in zip(plan.drain_m3, plan.pour_m3, strict=True):
        held = ledger.volume_m3(ledger.State(*here, EG), temp_k)
        here = here * (1 - drained / held)
        for product, volume in zip(case.products, poured, strict=True):
            here = here + brought(product, volume * product_density_kg_m3(product, temp_k))
    held_to(amounts(plan.after), here)
    held_to(amounts(outcome(inside, plan, case.products, temp_k)), here)


@EVERY_CASE
@settings(max_examples=15, deadline=None)
@given(capacity=st.floats(3e-4, 9.0), temp_k=st.floats(275.0, 320.0))
def test_exact_plan_meets_target_and_mark(case, capacity, temp_k):
    _, plan = planned(case, capacity, temp_k=temp_k)
    if blocked(case) or case.status & Status.IN_BAND:
        return
    assert ledger.volume_m3(plan.after, temp_k) == pytest.approx(capacity, rel=1e-9)
    frac = ledger.frac_mass(plan.after)
    if case.status & PART:
        assert min(case.found, case.target) < frac < max(case.found, case.target)
        assert np.sum(plan.drain_m3) == pytest.approx(
            case.passes * case.drainable * capacity, rel=1e-9
        )
    else:
        assert frac == pytest.approx(case.target, abs=1e-9)


@EVERY_CASE
def test_topping_up_stays_in_band(case):
    _, plan = planned(case, step=0.005)
    if case.status & Status.IN_BAND and not blocked(case):
        assert abs(ledger.frac_mass(plan.after) - case.target) <= case.band


@EVERY_CASE
@settings(max_examples=30, deadline=None)
@given(capacity=st.floats(3e-4, 9.0), step=st.floats(1e-4, 0.02), temp_k=st.floats(275.0, 320.0))
def test_rounded_plan(case, capacity, step, temp_k):
    _, plan = planned(case, capacity, step, temp_k)
    if blocked(case):
        return
    litres = np.append(plan.drain_m3, plan.pour_m3) / (capacity * step)
    np.testing.assert_allclose(litres, np.round(litres), atol=1e-6)
    assert ledger.volume_m3(plan.after, temp_k) <= capacity * (1 + 1e-9)
    if not case.status & (PART | Status.IN_BAND) and case.passes == 1:
        assert ledger.frac_mass(plan.after) >= case.target * (1 - 1e-9)


@pytest.mark.parametrize(
    ("found", "more"),
    [
        (0.3, {"drainable": np.linspace(0.25, 0.32, 1401)}),
        (0.3, {"low": np.linspace(0.2, 0.4, 2001)}),
        (0.45, {"low": np.linspace(0.0, 0.3, 2001)}),
        (0.58, {"low": np.linspace(0.0, 0.3, 2001)}),
        (0.3, {"low": np.linspace(0.2, 0.4, 2001), "drainable": 0.1}),
        (np.linspace(0.3, 0.7, 2001), {}),
        (np.linspace(0.3, 0.7, 2001), {"low": 0.1}),
    ],
)
def test_rounding_never_ends_weaker_unsaid(found, more):
    """Where a rounded plan ends weaker, the row says that one drain gives part."""
    plan = many(found, **more, step_m3=5e-5)
    weaker = ledger.frac_mass(plan.after) < 0.5 - 1e-9
    said = plan.status & int(PART | Status.IN_BAND) > 0
    assert np.all(said[weaker])
    assert not np.any(said[~weaker] & (plan.status[~weaker] & int(Status.IN_BAND) == 0))


# --- properties of the plan -----------------------------------------------------------------------


def many(found, target=0.5, low=0.0, drainable=1.0, products=(CONCENTRATE, WATER), **more):
    """Plan of arrays, for 10 L systems."""
    found, target, low, drainable = np.broadcast_arrays(
        *(np.asarray(each, float) for each in (found, target, low, drainable))
    )
    capacity = np.full(found.shape, 0.01)
    inside = filled(capacity * (1 - low), found)
    return plan_exchange(
        inside,
        capacity,
        capacity * drainable,
        target,
        products,
        Limits(target, target),
        TEMP_K,
        **more,
    )


@pytest.mark.parametrize("step", [0.0, 5e-5])
@pytest.mark.parametrize("passes", [1, 3])
def test_a_row_is_the_same_alone(step, passes):
    random = np.random.default_rng(20)
    found = random.uniform(0.0, 0.95, 200)
    rows = {
        "target": random.uniform(0.2, 0.65, 200),
        "low": random.choice([0.0, 0.02, 0.2], 200),
        "drainable": random.uniform(0.1, 1.0, 200),
    }
    whole = many(found, **rows, step_m3=step, passes=passes)
    assert len(set(whole.status)) > 5
    for at in range(200):
        alone = many(
            *(each[at : at + 1] for each in (found, *rows.values())), step_m3=step, passes=passes
        )
        assert alone.status[0] == whole.status[at]
        assert alone.passes[0] == whole.passes[at]
        held_to(alone.drain_m3[:, 0], whole.drain_m3[:, at])
        held_to(alone.pour_m3[:, :, 0], whole.pour_m3[:, :, at])
        held_to(amounts(alone.after)[:, 0], amounts(whole.after)[:, at])


@EVERY_CASE
@pytest.mark.parametrize("step", [0.0, 0.005])
def test_double_the_capacity_double_the_litres(case, step):
    (_, one), (_, two) = planned(case, 0.01, step), planned(case, 0.02, step)
    assert one.status[0] == two.status[0]
    np.testing.assert_allclose(two.drain_m3, 2 * one.drain_m3, rtol=1e-9, atol=1e-15)
    np.testing.assert_allclose(two.pour_m3, 2 * one.pour_m3, rtol=1e-9, atol=1e-15)


def test_the_weaker_the_more_is_drained():
    drained = many(np.linspace(0.0, 0.499, 200)).drain_m3[0]
    assert np.all(np.diff(drained) < 0.0)


def test_the_stronger_beyond_the_target_the_more_is_drained():
    drained = many(np.linspace(0.501, 0.95, 200)).drain_m3[0]
    assert np.all(np.diff(drained) > 0.0)


def test_the_stronger_the_target_the_more_is_drained():
    drained = many(0.3, np.linspace(0.301, 0.6, 200)).drain_m3[0]
    assert np.all(np.diff(drained) > 0.0)


@pytest.mark.parametrize(
    ("found", "low"),
    [
        pytest.param(np.linspace(0.59, 0.61, 2001), 0.0, id="across 60 mass %"),
        pytest.param(np.linspace(0.4, 0.6, 20001), 0.1, id="across the target, low"),
        pytest.param(np.linspace(0.45, 0.55, 10001), 0.0, id="across the target, full"),
        pytest.param(0.3, np.linspace(0.2, 0.4, 20001), id="weak, drain or fill"),
        pytest.param(0.58, np.linspace(0.05, 0.3, 25001), id="strong, drain or fill"),
    ],
)
def test_continuous_across_branches(found, low):
    """No jump where the kind of step changes: litres move by at most 5 times the input."""
    plan = many(found, low=low)
    moved = max(np.max(np.abs(np.diff(each))) for each in (found, low) if np.ndim(each))
    for volumes in (plan.drain_m3[0], *plan.pour_m3[0]):
        assert np.max(np.abs(np.diff(volumes))) <= 5 * 0.01 * moved
    kinds = plan.drain_m3[0] > 0.0
    assert np.ndim(low) == 0 or 0 < np.sum(kinds) < kinds.size  # both branches were walked


def test_what_is_missing_at_the_top_is_missing_at_the_drain():
    """3 L come out of the full system; 1 L low, 2 L; 4 L low, nothing."""
    plan = many(0.1, low=[0.0, 0.1, 0.4], drainable=0.3, target=0.55)
    assert np.all(plan.status == int(PART))
    np.testing.assert_allclose(plan.drain_m3[0], [3e-3, 2e-3, 0.0], atol=1e-15)
    np.testing.assert_allclose(ledger.volume_m3(plan.after, TEMP_K), 0.01, rtol=1e-9)


def test_no_more_comes_out_than_is_inside():
    emptied = ledger.drain(filled(row(0.01), row(0.3)), row(0.02), TEMP_K)
    held_to(amounts(emptied), np.zeros((4, 1)))
    assert ledger.volume_m3(emptied, TEMP_K) == pytest.approx(0.0, abs=1e-15)


def test_an_emptied_system_fills():
    """Reach where all comes out is the product itself, not a division by nothing."""
    inside, capacity = filled(row(0.01), row(0.3)), row(0.01)
    reached = reach_frac_mass(inside, capacity, capacity, row(0.55), (READY_MIXED, WATER), TEMP_K)
    assert reached == pytest.approx(frac_mass_of(READY_MIXED.share), rel=1e-12)


def test_products_may_stand_in_any_order():
    there = many([0.3, 0.58, 0.45], low=[0.0, 0.0, 0.2])
    back = many([0.3, 0.58, 0.45], low=[0.0, 0.0, 0.2], products=(WATER, CONCENTRATE))
    held_to(back.drain_m3, there.drain_m3)
    held_to(back.pour_m3, there.pour_m3[:, ::-1])


def test_only_the_strongest_and_the_weakest_are_poured():
    plan = many([0.3, 0.58], products=(READY_MIXED, WATER, CONCENTRATE))
    assert np.all(plan.pour_m3[0, 0] == 0.0)
    assert frac_mass_of(CONCENTRATE.share) > frac_mass_of(READY_MIXED.share)
