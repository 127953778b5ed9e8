"""What is inside now: against sums by hand, algebra, the simulation, and drawn systems."""

import itertools
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc import fluids
from coolcalc.balance import ledger
from coolcalc.errors import CoolcalcError, InputError
from coolcalc.instruments import Hydrometer, Refractometer
from coolcalc.jobs.what_now import what_now

from .brute_odds import chance, draw_outcomes
from .simulation import Engine, Liquid, concentrate, water
from .test_correct_mix import ADDITIVE_LITRES, held, of_product, volume_by_hand

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")
TEN = cc.CoolingSystem(capacity="10 L")


def now(found="50 % product", poured=None, taken_out="0 L", system=TEN, **more):
    if isinstance(found, str) and "product" in found:
        found = CAN.mix(found)
    return what_now(system=system, found=found, poured=poured, taken_out=taken_out, **more)


def share(job):
    """Share of product of the mix inside now."""
    return job.after.strength().share


# --- against sums by hand -------------------------------------------------------------------------
# Densities at 20 °C: CRC Handbook, Concentrative Properties of Aqueous Solutions, as copied in
# test_correct_mix; concentrate 1.128 kg/L of 94 % glycol, 3 % water, 3 % additives by mass.


def by_hand(capacity, found, taken, can_litres, water_litres):
    """Glycol over glycol + water, and litres, after a drain and two pours."""
    before = held(capacity, of_product(found)) * (1 - taken / capacity)
    glycol = before * of_product(found) + 0.94 * 1.128 * can_litres
    glycol_water = before + 0.97 * 1.128 * can_litres + 0.9982 * water_litres
    additive = before * of_product(found) * 0.03 / 0.94 + 0.03 * 1.128 * can_litres
    part = glycol / glycol_water
    return part, glycol_water * volume_by_hand(part) + additive * ADDITIVE_LITRES


@pytest.mark.parametrize(
    ("found", "taken", "can", "plain"),
    [(0.5, 2, 0, 1.5), (0.5, 2, 0, 2), (0.3, 3, 2.5, 0.4), (0.45, 0, 0.3, 0.2), (0.5, 6, 1, 5)],
)
def test_by_hand(found, taken, can, plain):
    strength, litres = by_hand(10, found, taken, can, plain)
    job = now(f"{100 * found:g} % product", {CAN: f"{can} L", cc.WATER: f"{plain} L"}, f"{taken} L")
    assert job.after.frac_mass == pytest.approx(strength, abs=3e-4)
    # To the step of 0.05 L, and straight lines between the rows: 0.01 L.
    assert job.level.m_as("L") == pytest.approx(10 - litres, abs=0.035)


def test_shrinking_is_counted_in_the_level():
    """5 L of concentrate over 5 L of water is short of 10 L by more than a tenth of a litre."""
    job = now(CAN.mix("0 % product"), {CAN: "5 L"}, low="5 L")
    litres = by_hand(5, 0.0, 0, 5, 0)[1]
    assert 9.85 < litres < 9.92
    assert job.level.m_as("L") == pytest.approx(10 - litres, abs=0.026)
    assert "still missing below the mark" in job.level_words
    assert "take up 0.1" in str(job.working)


def test_what_is_drained_warm_is_less():
    """2 L at 40 °C are fewer kilograms: what stays is 1 - 2/V(40 °C), V from the mix's density."""
    cold = now(taken_out="2 L", poured={cc.WATER: "2 L"})
    warm = now(taken_out="2 L", poured={cc.WATER: "2 L"}, drain_temp="40 °C")
    grows = (cold.before.density("20 °C") / cold.before.density("40 °C")).m
    glycol = cold.plan.after.glycol_kg[0] / 0.8
    assert warm.plan.after.glycol_kg[0] == pytest.approx(glycol * (1 - 0.2 / grows), rel=1e-9)
    assert "those taken out at 40 °C" in str(warm)


# --- published problems: the published litres give the published strength ------------------------
# data/worked_problems.csv; their volumes add, ours shrink: half a per cent of product.

EXCHANGED = [
    ("3.6 L", 60, "0.6 L", cc.WATER, 50),
    ("12 US qt", 40, "4 US qt", CAN, 60),
    ("70 L", 20, "17.5 L", CAN, 40),
    ("7 US qt", 35, "1.615 US qt", CAN, 50),
    ("15 US qt", 40, "2.5 US qt", CAN, 50),
    ("20 US qt", 25, "9.333 US qt", CAN, 60),
]


@pytest.mark.parametrize(("capacity", "found", "swapped", "product", "target"), EXCHANGED)
def test_published_exchanges(capacity, found, swapped, product, target):
    job = now(
        f"{found} % product",
        {product: swapped},
        swapped,
        system=cc.CoolingSystem(capacity=capacity),
    )
    assert 100 * share(job) == pytest.approx(target, abs=0.5)


def test_the_published_slip_does_not_reach_its_target():
    """wrong-1: 5 gal of 30 % with 5 gal exchanged for water would be plain water, not 9 %."""
    gallons = cc.CoolingSystem(capacity="5 US gal")
    right = now("30 % product", {cc.WATER: "3.5 US gal"}, "3.5 US gal", system=gallons)
    assert 100 * share(right) == pytest.approx(9.0, abs=0.2)
    wrong = now("30 % product", {cc.WATER: "5 US gal"}, "5 US gal", system=gallons)
    assert share(wrong) == pytest.approx(0.0, abs=1e-12)


def test_published_refill_over_trapped_water():
    """refill-13: 3 qt of water inside, 4 qt of concentrate first, 1 qt of water: half."""
    job = now(
        CAN.mix("0 % product"),
        {CAN: "4 US qt", cc.WATER: "1 US qt"},
        system=cc.CoolingSystem(capacity="8 US qt"),
        low="5 US qt",
        show_in="US",
    )
    assert 100 * share(job) == pytest.approx(50.0, abs=0.1)
    assert 0.0 < job.level.m_as("US quart") < 0.15  # shrunk


@pytest.mark.parametrize("count", [1, 2, 3, 5, 8])
@pytest.mark.parametrize("litres", [0.5, 1.0, 2.0])
def test_plain_water_top_ups(count, litres):
    """What leaks away and is made up with water n times: c0 (1 - d/V)^n, were volumes to add."""
    mix = CAN.mix("50 % product")
    for _ in range(count):
        mix = now(mix, {cc.WATER: f"{litres} L"}, f"{litres} L").after
    assert mix.strength().share == pytest.approx(0.5 * (1 - litres / 10) ** count, abs=0.006)


# --- what is kept ---------------------------------------------------------------------------------


@pytest.mark.parametrize("temp", ["5 °C", "20 °C", "35 °C"])
def test_nothing_is_lost(temp):
    job = now(poured={CAN: "1 L", READY: "0.7 L", cc.WATER: "0.3 L"}, taken_out="2 L", temp=temp)
    kept = 1 - 2 / 10
    masses = [
        each.mass_of(litres, temp).m_as("kg")
        for each, litres in ((CAN, "1 L"), (READY, "0.7 L"), (cc.WATER, "0.3 L"))
    ]
    for kind in range(3):
        brought = sum(
            mass * each.share[kind]
            for mass, each in zip(masses, (CAN, READY, cc.WATER), strict=True)
        )
        assert job.plan.after[kind][0] == pytest.approx(
            kept * job.inside[kind][0] + brought, rel=1e-12
        )
    total = sum(each[0] for each in job.inside[:3]) * kept + sum(masses)
    assert sum(each[0] for each in job.plan.after[:3]) == pytest.approx(total, rel=1e-12)


@pytest.mark.parametrize("times", [2, 10])
def test_twice_the_system_twice_the_litres(times):
    one = now(poured={CAN: "0.5 L", cc.WATER: "1 L"}, taken_out="2 L")
    many = now(
        poured={CAN: f"{0.5 * times} L", cc.WATER: f"{times} L"},
        taken_out=f"{2 * times} L",
        system=cc.CoolingSystem(capacity=f"{10 * times} L"),
    )
    assert many.after.frac_mass == pytest.approx(one.after.frac_mass, rel=1e-12)
    assert many.plan.after.glycol_kg[0] == pytest.approx(
        times * one.plan.after.glycol_kg[0], rel=1e-12
    )


def test_the_order_of_pouring_does_not_matter_to_the_mix():
    one, other = (
        now(poured=dict(pours), taken_out="2 L")
        for pours in itertools.permutations([(CAN, "0.7 L"), (cc.WATER, "1.2 L")])
    )
    assert one.after.frac_mass == pytest.approx(other.after.frac_mass, rel=1e-12)
    assert list(one.poured) == list(other.poured)[::-1]


@pytest.mark.parametrize("show_in", ["metric", "US", "imperial"])
def test_unit_systems_tell_the_same_mix(show_in):
    job = now(poured={CAN: "0.5 L", cc.WATER: "1 L"}, taken_out="2 L").shown_in(show_in)
    assert job.after == now(poured={CAN: "0.5 L", cc.WATER: "1 L"}, taken_out="2 L").after
    assert job.taken_out.m_as("L") == pytest.approx(2.0, abs=1e-6)  # as told
    assert job.level.m_as("L") == pytest.approx(0.5, abs=0.05)
    unit = {"metric": "L", "US": "US qt", "imperial": "imp pt"}[show_in]
    assert f" {unit} still missing below the mark" in str(job)


# --- the independent simulation -------------------------------------------------------------------
# Tolerances as in test_simulation.

EG_20, PG_25 = Liquid("ethylene glycol", 20), Liquid("propylene glycol", 25)
PG_20 = Liquid("propylene glycol", 20)
SIMULATED = {
    "ethylene glycol": (EG_20, concentrate(EG_20, 1.128), "20 °C"),
    "propylene glycol": (PG_25, concentrate(PG_25, 1.050, at_20=PG_20), "25 °C"),
}
WORK = [  # low, taken out, and what is poured after it, in order
    (0.0, 2.0, (("water", 1.5),)),
    (1.0, 0.0, (("can", 0.6), ("water", 0.4))),
    (0.5, 4.0, (("water", 2.0), ("can", 2.3))),
    (0.0, 9.0, (("can", 5.0), ("water", 4.1))),
    (3.0, 1.0, (("can", 1.5),)),
]


@pytest.mark.parametrize("fluid", SIMULATED)
@pytest.mark.parametrize("found", [0.0, 0.35, 0.5, 0.7])
@pytest.mark.parametrize(("low", "taken", "pours"), WORK)
def test_against_the_simulation(fluid, found, low, taken, pours):
    liquid, can, temp = SIMULATED[fluid]
    engine = Engine(liquid, can, 10.0 - low, found)
    engine.take_out(taken)
    product = cc.Product.generic(f"{fluid} concentrate")
    poured = {}
    for what, litres in pours:
        engine.pour(can if what == "can" else water(liquid), litres)
        poured[product if what == "can" else cc.WATER] = f"{litres} L"
    job = now(
        product.mix(f"{100 * found} % mass glycol"),
        poured,
        f"{taken} L",
        low=f"{low} L",
        temp=temp,
    )
    assert job.after.frac_mass == pytest.approx(engine.share, abs=5e-4)
    filled = 1e3 * float(ledger.volume_m3(job.plan.after, job.temp_k)[0])
    # Of dilute propylene glycol, the rows of the simulation are denser than all others, and two
    # of them far apart: data/README.md.
    dilute = fluid == "propylene glycol" and job.after.frac_mass < 0.3
    assert filled == pytest.approx(engine.litres, abs=0.035 if dilute else 0.01)
    assert job.level.m_as("L") == pytest.approx(10.0 - filled, abs=0.0251)


@pytest.mark.parametrize(
    ("taken", "pours"), [(2.0, ((CAN, 1.0), (cc.WATER, 0.9))), (3.0, ((cc.WATER, 2.5),))]
)
def test_against_drawn_systems(taken, pours):
    """Reading and capacity drawn; the span of a second reading, and the chance to hold."""
    liquid, can, _ = SIMULATED["ethylene glycol"]
    tool = Refractometer(made_for="ethylene glycol", error="1 K", repeatability="0.6 K")
    drawn = draw_outcomes(
        liquid=liquid,
        can=can,
        reading=-30.0,
        offset=0.8,
        repeatability=0.6,
        capacity=10.0,
        capacity_error=1.0,
        low=0.5,
        passes=[(taken, [(water(liquid) if p is cc.WATER else can, v) for p, v in pours])],
    )
    middle = float(np.median(drawn.share)) + 0.004
    job = now(
        tool.read("-30 °C"),
        {product: f"{litres} L" for product, litres in pours},
        f"{taken} L",
        system=cc.CoolingSystem(capacity="10 L", capacity_error="1 L"),
        low="0.5 L",
        target=f"{100 * middle} % mass glycol",
    )
    assert job.chance_to_hold == pytest.approx(chance(drawn, middle), abs=0.03)
    low, value, high = (each.m_as("degC") for each in job.expect(tool))
    ends = np.quantile(drawn.second_reading_c, [0.025, 0.975])
    assert value == pytest.approx(np.median(drawn.second_reading_c), abs=0.15)
    assert (low, high) == pytest.approx(tuple(ends), abs=0.25)
    weak, strong = np.quantile(drawn.share, [0.025, 0.975])
    assert job.half_width == pytest.approx((strong - weak) / 2, rel=0.05)


# --- give or take ---------------------------------------------------------------------------------


def test_the_offset_of_one_instrument_counts_once():
    job = now(TOOL.read("-30 °C"), {cc.WATER: "0.5 L"}, "0.5 L")
    another = Refractometer(made_for="ethylene glycol", error="1 K", name="another")
    same, other = job.expect(TOOL), job.expect(another)
    assert (same.high - same.low).m < 0.9 * (other.high - other.low).m
    assert same.value == other.value


def test_nothing_poured_nothing_changed():
    """The strength is as found, and its give or take too, however much came out."""
    system = cc.CoolingSystem(capacity="10 L", capacity_error="2 L")
    job = now(TOOL.read("-30 °C"), None, "9 L", system=system)
    assert job.after.frac_mass == pytest.approx(job.before.frac_mass, rel=1e-12)
    assert job.half_width == pytest.approx(job.before.half_width, rel=1e-9)
    assert job.level.m == 9.0
    assert "one of the two readings is out" in str(job)


def test_exact_inputs_expect_one_figure():
    job = now(poured={cc.WATER: "1 L"}, taken_out="1 L")
    assert job.half_width == 0.0
    low, value, high = job.expect()
    assert low == value == high
    assert "No error that moves the strength was entered" in str(job.odds)


def test_expect_on_other_instruments():
    job = now(poured={cc.WATER: "1 L"}, taken_out="1 L")
    float_tool = Hydrometer(reference_temp="20 °C")
    low, value, high = job.expect(float_tool)
    assert low < value < high
    assert value.m == pytest.approx(job.after.density("20 °C").m / 998.2, abs=5e-4)
    with pytest.raises(InputError, match="tool: the scale was made for propylene glycol"):
        job.expect(Refractometer(made_for="propylene glycol"))


@pytest.mark.parametrize(
    ("target", "holds", "says"),
    [
        ("40 % product", True, "It holds the target (40 % of concentrate)"),
        ("50 % product", False, "It is weaker than the target (50 % of concentrate):"),
        ("45.5 % product", False, ", by less than 1 % of concentrate: the chance"),
        ("-25 °C", True, "It holds the target (−25.0 °C)"),
        ("-37 °C", False, "It is weaker than the target (−37.0 °C)"),
    ],
)
def test_target(target, holds, says):
    job = now(TOOL.read("-36.9 °C"), {cc.WATER: "1 L"}, "1 L", target=target)
    assert job.holds is holds
    assert (job.chance_to_hold > 0.5) is holds
    assert says in job.notes[1]
    assert ("correction of the mix" in " ".join(job.steps)) is not holds
    assert "Chance to hold the target" in dict(job.rows)


def test_without_a_target_no_chance_is_told():
    job = now(poured={cc.WATER: "1 L"}, taken_out="1 L")
    assert job.holds is None and job.chance_to_hold is None
    assert "chance" not in str(job).lower()


# --- level ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("litres", "words"),
    [
        (0.6, "0.40 L still missing below the mark"),
        (0.95, "0.05 L still missing below the mark"),
        (0.98, "full to the mark"),
        (1.0, "full to the mark"),
        (1.02, "full to the mark"),
        (1.06, "0.05 L above the mark: that is the room for hot coolant; take it out"),
        (1.3, "0.30 L above the mark: that is the room for hot coolant; take it out"),
    ],
)
def test_level_words(litres, words):
    job = now(poured={READY: f"{litres} L"}, low="1 L")
    assert job.level_words == words
    assert dict(job.rows)["Level"] == words
    assert f"Level: {words}." in str(job)
    above = "above" in words
    assert ("take out" in job.steps[0]) is above
    assert (job.level.m < 0.0) is above


def test_half_a_step_counts_as_full():
    for litres in (0.976, 1.024):
        assert now(poured={READY: f"{litres} L"}, low="1 L").level.m == 0.0
    for litres in (0.974, 1.026):
        assert abs(now(poured={READY: f"{litres} L"}, low="1 L").level.m) == 0.05


def test_what_is_missing_is_for_the_correction_where_the_target_is_not_held():
    job = now(poured={cc.WATER: "1.5 L"}, taken_out="2 L", target="50 % product")
    assert "that room is for the correction" in job.steps[0]
    strength = f"{100 * share(job):.0f} % of concentrate"
    assert f"Enter {strength} as found and 0.50 L as missing" in job.steps[0]
    fixed = cc.correct_mix(
        system=TEN, found=job.after, target="50 % product", pour=[CAN, cc.WATER], low=job.level
    )
    assert fixed.after.strength().share == pytest.approx(0.5, abs=0.01)


# --- anything -------------------------------------------------------------------------------------

litres = st.floats(0.0, 12.0).map(lambda each: f"{each:.2f} L")
founds = st.one_of(
    st.floats(0.0, 100.0).map(lambda each: f"{each:.1f} % product"),
    st.floats(-60.0, 0.0).map(lambda each: f"{each:.1f} °C"),
    st.floats(-50.0, -1.0).map(lambda each: TOOL.read(f"{each:.1f} °C")),
    st.floats(0.0, 100.0).map(lambda each: CAN.mix(f"{each:.1f} % product")),
    st.sampled_from(["30 %", "", None, "nonsense"]),
)


@settings(deadline=None, max_examples=120)
@given(
    found=founds,
    taken=litres,
    pours=st.dictionaries(st.sampled_from([CAN, READY, cc.WATER, PG_CAN]), litres, max_size=3),
    low=litres,
    error=st.floats(0.0, 4.0),
    target=st.sampled_from([None, "-37 °C", "50 % product", "33 % mass glycol"]),
    show_in=st.sampled_from(["metric", "US", "imperial"]),
)
def test_answers_or_refuses(found, taken, pours, low, error, target, show_in):
    try:
        job = what_now(
            system=cc.CoolingSystem(capacity="10 L", capacity_error=f"{error:.2f} L"),
            found=found,
            taken_out=taken,
            poured=pours,
            low=low,
            target=target,
            show_in=show_in,
        )
    except CoolcalcError:
        return
    text = f"{job}{job.working}{job.odds}{job.rows}"
    assert not re.search(r"\bnan\b|\binf\b", text), text
    assert 0.0 <= job.after.frac_mass <= 1.0
    assert job.chance_to_hold is None or 0.0 <= job.chance_to_hold <= 1.0
    strongest = max([job.before.frac_mass, *(product.frac_mass for product in job.shelf)])
    assert job.after.frac_mass <= strongest + 1e-9
    low_k, value, high = job.expect()
    assert low_k <= value <= high
    if job.after.frac_mass <= fluids.FRAC_MASS_SETTLED_MAX:
        assert "Inside now: " in text
