"""A flush: against plain arithmetic, conservation, the simulation, and drawn systems."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.balance import flush as kernel
from coolcalc.balance import ledger
from coolcalc.errors import BLOCKED, InputError, Status

from .simulation import Engine, Liquid, concentrate, water

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")


def system(capacity=10.0, drainable=6.5, **more):
    return cc.CoolingSystem(capacity=f"{capacity} L", drainable=f"{drainable} L", **more)


def flushed(capacity=10.0, drainable=6.5, found="30 % product", **more):
    asked = {"system": system(capacity, drainable), "found": found, "target": "50 % product"}
    return cc.flush(**asked | {"pour": [CAN, cc.WATER]} | more)


# --- the closed form, by plain arithmetic --------------------------------------------------------
# Half drained: 1/2, 1/4, 1/8, 1/16. Four fifths drained: 1/5, 1/25, 1/125.

HALVES = [(1, 0.5), (2, 0.25), (3, 0.125), (4, 0.0625)]
FIFTHS = [(1, 0.20), (2, 0.04), (3, 0.008)]


@pytest.mark.parametrize(
    ("drainable", "drains", "left"),
    [*((5.0, n, left) for n, left in HALVES), *((8.0, n, left) for n, left in FIFTHS)],
)
@pytest.mark.parametrize("margin", [1.0, 1.01])
def test_closed_form(drainable, drains, left, margin):
    """What may stay is met to the last digit, or with a hundredth to spare."""
    job = flushed(10.0, drainable, may_stay=left * margin, target="30 % product")
    assert job.drains == drains
    assert job.stays == pytest.approx(left, rel=1e-12)
    # The ledger, by mass, tells the same: the old mix is what carried glycol and additives. A
    # step of 0.05 L below the mark at each flush fill is half a per cent of what is left.
    trapped, before = job.flushed.left, job.inside
    within = 0.005 * (drains - 1) + 1e-9
    assert job.flushed.stays[-1, 0] == pytest.approx(left, rel=within)
    assert trapped.glycol_kg[0] == pytest.approx(left * before.glycol_kg[0], rel=within)
    assert trapped.additive_kg[0] == pytest.approx(left * before.additive_kg[0], rel=within)


@pytest.mark.parametrize(
    ("drainable", "left"), [(5.0, [0.5, 0.25, 0.125, 0.0625]), (8.0, [0.2, 0.04, 0.008, 0.0016])]
)
def test_closed_form_of_the_kernel(drainable, left):
    """Not rounded, glycol and additives fall as the closed form does, whatever volumes shrink."""
    count = np.array([4])
    one = np.ones(1)
    inside = ledger.contents("ethylene glycol", 1e-2 * one, 0.5 * one, 0.032, 7e-4, 293.15)
    wanted = kernel.Wanted(0.1 * one, 0.005 * one)
    products = (CAN.si(), cc.WATER.si("ethylene glycol"))
    capacity, out = 1e-2 * one, drainable * 1e-3 * one
    done = kernel.plan_flush(
        inside, capacity, out, wanted, products, 2, 1, count, 293.15, 0.0
    )  # fmt: skip
    assert done.stays[:, 0] == pytest.approx(left, rel=1e-9)
    assert done.left.glycol_kg[0] == pytest.approx(left[-1] * inside.glycol_kg[0], rel=1e-9)
    assert done.left.additive_kg[0] == pytest.approx(left[-1] * inside.additive_kg[0], rel=1e-9)


@pytest.mark.parametrize(("drains", "left"), HALVES)
def test_a_hair_less_takes_one_more(drains, left):
    assert flushed(10.0, 5.0, may_stay=left * 0.999, target="30 % product").drains == drains + 1


@pytest.mark.parametrize("low", [0.5, 2.0])
def test_what_is_missing_is_missing_at_the_top(low):
    """2 L missing of 10: the first drain gives 6 of 8 L, so 2 L stay, a fifth of the full 10."""
    job = flushed(10.0, 8.0, low=f"{low} L")
    assert job.drain[0].m_as("L") == pytest.approx(8.0 - low, abs=1e-9)
    assert job.drain[1].m_as("L") == pytest.approx(8.0, abs=0.05)
    assert job.flushed.stays[:, 0] == pytest.approx([0.2, 0.04], rel=0.005)


def test_all_of_it_comes_out():
    job = flushed(10.0, 10.0)
    assert (job.drains, job.stays, job.flush_fills) == (1, 0.0, ())
    assert job.after.strength().share == pytest.approx(0.5, abs=0.006)


def test_many_rows_with_unlike_numbers_of_drains():
    """Each row as if it were alone."""
    si, plain = CAN.si(), cc.WATER.si("ethylene glycol")
    drains, out = np.array([1, 3, 2]), np.array([9.5e-3, 6.5e-3, 8e-3])

    def planned(rows):
        count = len(drains[rows])
        inside = ledger.contents(
            "ethylene glycol", np.full(count, 1e-2), np.full(count, 0.3), 0.032, 7e-4, 293.15
        )
        wanted = kernel.Wanted(np.full(count, 0.5), np.full(count, 0.005))
        capacity = np.full(count, 1e-2)
        return kernel.plan_flush(
            inside, capacity, out[rows], wanted, (si, plain), 2, 1, drains[rows], 293.15, 5e-5
        )

    together = planned(slice(None))
    assert np.all((together.plan.status & int(BLOCKED)) == 0)
    for at in range(3):
        alone = planned(slice(at, at + 1))
        used = drains[at]
        assert together.plan.drain_m3[:used, at] == pytest.approx(alone.plan.drain_m3[:, 0])
        assert np.all(together.plan.drain_m3[used:, at] == 0.0)
        assert together.plan.pour_m3[:used, :, at] == pytest.approx(alone.plan.pour_m3[:, :, 0])
        assert together.reach[at] == pytest.approx(alone.reach[0], rel=1e-12)


def test_a_row_that_is_none_gets_no_litres():
    si = CAN.si()
    odd = np.array([np.nan, 1e-2])
    inside = ledger.contents("ethylene glycol", odd, np.full(2, 0.3), 0.032, 7e-4, 293.15)
    wanted = kernel.Wanted(np.full(2, 0.5), np.full(2, 0.005))
    products = (si, cc.WATER.si("ethylene glycol"))
    out = np.full(2, 8e-3)
    with np.errstate(invalid="ignore"):
        plan = kernel.plan_flush(
            inside, odd, out, wanted, products, 2, 1, np.array([2, 2]), 293.15, 0.0
        ).plan
    assert Status(int(plan.status[0])) & Status.UNUSABLE
    assert np.all(np.isnan(plan.drain_m3[:, 0])) and np.all(np.isfinite(plan.drain_m3[:, 1]))


# --- what is kept ---------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(
    capacity=st.floats(2.0, 60.0),
    part=st.floats(0.45, 1.0),
    found=st.floats(0.0, 0.9),
    target=st.floats(0.2, 0.55),
    low=st.floats(0.0, 0.3),
    may_stay=st.floats(0.02, 0.9),
    with_mix=st.booleans(),
)
def test_nothing_is_lost(capacity, part, found, target, low, may_stay, with_mix):
    """Glycol, water, additives and all: what was inside, what came and went, what is inside."""
    job = flushed(
        capacity,
        part * capacity,
        cc.Mixture(product=CAN, frac_mass=found),
        target=f"{100 * target:.6f} % mass glycol",
        low=cc.Q(low * capacity, "L"),
        may_stay=may_stay,
        flush_with=READY if with_mix else cc.WATER,
    )
    if job.blocked:
        assert job.drain == () and job.pour == {} and job.last_fill == {} and job.waste is None
        assert np.all(np.isnan(job.plan.drain_m3))
        return
    inside = np.array([float(each[0]) for each in job.inside[:3]])
    came, went = np.zeros(3), np.zeros(3)
    now = inside.copy()
    for drained, poured in zip(job.plan.drain_m3[:, 0], job.plan.pour_m3[:, :, 0], strict=True):
        held = float(ledger.volume_m3(_state(job, now), 293.15)[0])
        out = now * drained / held
        went, now = went + out, now - out
        for product, volume in zip(job.shelf, poured, strict=True):
            mass = product.mass_of(cc.Q(volume, "m^3")).m_as("kg")
            brought = mass * np.array(product.share)
            came, now = came + brought, now + brought
    after = np.array([float(each[0]) for each in job.plan.after[:3]])
    assert came - went == pytest.approx(after - inside, rel=1e-9, abs=1e-9)
    assert came.sum() - went.sum() == pytest.approx(after.sum() - inside.sum(), rel=1e-9, abs=1e-9)
    assert job.stays <= may_stay * (1 + 1e-9)
    # Never above the mark, and no further below it than the last fill is rounded.
    held = ledger.volume_m3(job.plan.after, 293.15)[0]
    steps = len(job.last_fill) * job.step.m3
    assert job.row.capacity_m3 - steps - 1e-9 <= held <= job.row.capacity_m3 + 1e-9


def _state(job, masses):
    additive_m3 = masses[2] * CAN.additive_volume_m3_kg
    return ledger.State(*(np.array([each]) for each in (*masses, additive_m3)), job.before.fluid)


# --- the independent simulation -------------------------------------------------------------------

EG_20 = Liquid("ethylene glycol", 20)
PG_20 = Liquid("propylene glycol", 20)
EG = (EG_20, concentrate(EG_20, 1.128), CAN, "20 °C")
PG = (PG_20, concentrate(PG_20, 1.050), PG_CAN, "20 °C")


@pytest.mark.parametrize(("liquid", "can", "product", "temp"), [EG, PG], ids=["EG", "PG"])
@pytest.mark.parametrize(
    ("drainable", "found", "target", "low", "may_stay"),
    [
        (6.5, 0.30, 0.5, 0.0, 0.05),
        (8.0, 0.58, 0.5, 0.0, 0.05),
        (5.55, 0.20, 0.4, 0.7, 0.10),
        (7.0, 0.45, 0.55, 0.3, 0.01),
        (9.0, 0.05, 0.3, 0.0, 0.5),
    ],
)
def test_printed_litres_carried_out(liquid, can, product, temp, drainable, found, target, low, may_stay):  # fmt: skip  # noqa: E501
    """A gram at a time, with its own densities from published rows: strength and level.

    Strength, as in test_simulation: 0.05 mass % for the densities; and 0.1 mass % for drains
    printed to 0.01 L, of which half, thrice, is 0.15 % of the volume.
    """
    job = cc.flush(
        system=system(drainable=drainable),
        found=f"{100 * found:g} % mass glycol",
        target=f"{100 * target:g} % mass glycol",
        pour=[product, cc.WATER],
        low=f"{low} L",
        may_stay=may_stay,
        temp=temp,
    )
    engine = Engine(liquid, can, 10.0 - low, found)
    for at, drained in enumerate(job.drain):
        engine.take_out(drained.m_as("L"))
        if at < len(job.flush_fills):
            engine.pour(water(liquid), job.flush_fills[at].m_as("L"))
    for poured, volume in job.last_fill.items():
        engine.pour(water(liquid) if poured is cc.WATER else can, volume.m_as("L"))
    assert job.after.frac_mass == pytest.approx(engine.share, abs=1.5e-3)
    assert engine.share == pytest.approx(target, abs=5e-3)
    assert 10.0 - 0.25 <= engine.litres <= 10.0 * 1.001


@pytest.mark.parametrize("error", [0.0, 0.3, 0.5])
def test_give_or_take_is_what_other_capacities_give(error):
    """The printed litres in a system that holds more or less, by the simulation."""
    job = flushed(system=system(capacity_error=f"{error} L"))
    liquid, can = EG[:2]
    ends = []
    for true in (10.0 - error, 10.0 + error):
        engine = Engine(liquid, can, true, job.before.frac_mass)
        for at, drained in enumerate(job.plan.drain_m3[:, 0]):
            engine.take_out(1e3 * drained)
            for place, poured in enumerate(job.shelf):
                volume = 1e3 * float(job.plan.pour_m3[at, place, 0])
                engine.pour(water(liquid) if poured is cc.WATER else can, volume)
        ends.append(engine.share)
    assert job.half_width == pytest.approx((ends[0] - ends[1]) / 2, abs=1e-3)
    # 6.5 L out of 9.5 L and of 10.5 L, thrice.
    assert job.stays_ends == pytest.approx(
        [(1 - 6.5 / (10 - error)) ** 3, (1 - 6.5 / (10 + error)) ** 3], rel=1e-9
    )


# --- what must be so ------------------------------------------------------------------------------


@pytest.mark.parametrize("times", [2, 10])
def test_twice_the_system_twice_the_litres(times):
    one, many = flushed(), flushed(10.0 * times, 6.5 * times)
    assert many.drains == one.drains
    steps = times * one.step.m3 + many.step.m3
    assert many.plan.drain_m3 == pytest.approx(times * one.plan.drain_m3, abs=steps)
    assert many.plan.pour_m3 == pytest.approx(times * one.plan.pour_m3, abs=2 * steps)
    assert many.stays == pytest.approx(one.stays, rel=1e-12)


def test_less_may_stay_more_drains():
    shares = [0.9, 0.5, 0.3, 0.2, 0.1, 0.05, 0.02, 0.01, 0.001]
    jobs = [flushed(may_stay=share) for share in shares]
    drains = [job.drains for job in jobs]
    assert drains == sorted(drains) and drains[0] == 1 and drains[-1] > 5
    waste = [job.waste.m_as("L") for job in jobs]
    assert waste == sorted(waste)


def test_totals_are_the_sums_of_what_is_printed():
    job = flushed()
    last = job.last_fill
    fills = sum(each.m_as("L") for each in job.flush_fills)
    assert job.pour[cc.WATER].m_as("L") == pytest.approx(fills + last[cc.WATER].m_as("L"))
    assert job.pour[CAN] == last[CAN]
    assert job.waste.m_as("L") == pytest.approx(sum(each.m_as("L") for each in job.drain))


@pytest.mark.parametrize("show_in", ["metric", "US", "imperial"])
def test_unit_systems_tell_the_same_flush(show_in):
    job = flushed(found=TOOL.read("-16 °C"), target="-37 °C").shown_in(show_in)
    assert job.drains == 3
    assert job.stays == pytest.approx(0.35**3, rel=1e-9)
    assert job.after.frac_mass == pytest.approx(job.target_frac_mass, abs=6e-3)


# --- a last fill that is out of reach ------------------------------------------------------------


def test_ready_mixed_over_a_water_flush_is_not_reachable():
    """3.5 L of water trapped, 6.5 L of half: a third, volumes adding, never half."""
    job = flushed(pour=[READY])
    assert job.blocked and job.status & Status.FLUSH_NOT_REACHED
    assert job.after is None and job.expect() is None
    # 0.35³ of 30 %, and 0.65 of 50 %.
    assert job.reach.strength().share == pytest.approx(0.35**3 * 0.3 + 0.65 * 0.5, abs=0.01)
    # Each further drain and fill leaves 0.35 of what is missing: 17, 6, 2.1, 0.7 of 50 %.
    assert job.ways.more_drains in (2, 3)
    assert job.ways.comes_out_m3 > 9e-3


def test_ready_mixed_over_a_flush_with_itself_is():
    job = flushed(pour=[READY], flush_with=READY, may_stay="1 %")
    assert not job.blocked
    assert 0.49 < job.after.strength().share < 0.5
    # Each fill but the last is 6.5 L of it, and so is the last.
    assert job.pour[READY].m_as("L") == pytest.approx(6.5 * job.drains, abs=0.05 * job.drains)


def test_too_little_comes_out():
    """4 L of 10: 6 L of water stay, and 4 L of concentrate on top make two fifths."""
    job = flushed(drainable=4.0, may_stay="5 %")
    assert job.blocked
    assert job.reach.strength().share == pytest.approx(0.4 + 0.6**6 * 0.3, abs=0.01)
    # The target takes half of the system, less what little glycol is trapped.
    out = 1e3 * job.ways.comes_out_m3
    assert 4.5 <= out <= 5.0
    assert not flushed(drainable=out, may_stay="5 %").blocked
    assert flushed(drainable=out - 0.1, may_stay="5 %").blocked
    # One strong fill in the place of the last flush fill: 6 L of 40 % hold 2.4 of the 5 L.
    assert (job.ways.strong_fills, job.ways.more_drains) == (1, 1)


def test_only_concentrate_over_a_water_flush():
    job = flushed(pour=[CAN])
    assert job.status & Status.FLUSH_NOT_REACHED and job.status & Status.NO_DILUENT
    assert job.ways[1:] == (None, None, None)
    assert [product for product, _ in job.ways.product_pours] == [CAN, cc.WATER]


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"system": cc.CoolingSystem(capacity="10 L")}, "drain the full system once into a meas"),
        ({"system": system(drainable=0.0)}, "nothing comes out at the drain"),
        (
            {"system": system(drainable=1.0)},
            "29 drains; after 12 there is still 28.2 %.*block plugs, lower hose",
        ),
        ({"system": "van"}, "is not a cooling system"),
        ({"may_stay": "0 %"}, "may_stay: 0 % is no share"),
        ({"may_stay": "100 %"}, "may_stay: 100 % is no share"),
        ({"may_stay": 5.0}, "may_stay"),
        ({"pour": [cc.WATER]}, "only water is listed"),
        ({"pour": [CAN, PG_CAN]}, "both listed"),
        ({"flush_with": "water"}, "flush_with: 'water' is not a product"),
        ({"flush_with": PG_CAN}, "flush_with: ethylene glycol and propylene glycol"),
        ({"low": "6.5 L"}, "low: 6.50 L is missing, and no more than 6.50 L"),
        ({"found": PG_CAN.mix("30 % product")}, "found: propylene glycol is inside and ethylene"),
        ({"target": "90 % product"}, "target"),
        ({"found": None}, "found"),
        ({"show_in": "SI"}, "show_in"),
        ({"temp": "-5 °C"}, "temp"),
    ],
)
def test_refusals(asked, says):
    with pytest.raises(InputError, match=says):
        flushed(**asked)


def test_a_reading_of_another_glycol_inside():
    reading = TOOL.read("-16 °C", inside="propylene glycol")
    with pytest.raises(InputError, match="propylene glycol is inside and ethylene"):
        flushed(found=reading)
