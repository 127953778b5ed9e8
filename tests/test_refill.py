"""Refill after a repair: published sums, hand sums, and an independent engine that is filled."""

import csv
import math
import pathlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.errors import FormError, InputError, Status

from .simulation import Engine, Liquid, concentrate, water

TABLE = pathlib.Path(__file__).resolve().parent.parent / "data" / "worked_problems.csv"
CAN = cc.Product.generic("ethylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
VAN = cc.CoolingSystem(capacity="12 L", capacity_error="0.5 L")
TOOL = cc.Refractometer(scale="freeze point", made_for="ethylene glycol", error="1 K")
EG_20 = Liquid("ethylene glycol", 20)
EG_CAN = concentrate(EG_20, 1.128)

#: As `test_simulation` has it: published densities are good to 0.05 %.
STRENGTH_ABS = 5e-4


def refill(**changes):
    asked = {
        "system": VAN,
        "found": TOOL.read("-20 °C"),
        "caught": "7.5 L",
        "caught_error": "0.3 L",
        "spilled": "0.3 L",
        "spilled_error": "0.2 L",
        "target": "-37 °C",
        "pour": [CAN, cc.WATER],
    }
    return cc.refill(**(asked | changes))


def litres(quantity):
    return quantity.m_as("L")


# --- published ------------------------------------------------------------------------------------


def published(problem):
    with TABLE.open(encoding="utf-8", newline="") as file:
        return next(row for row in csv.DictReader(file) if row["id"] == problem)


def test_published_refill_over_trapped_water():
    """Problem refill-13: 3 of 8 qt of water trapped, half wanted: 4 qt of concentrate, all first.

    The sum lets volumes add. Half and half of concentrate shrink by up to 1.2 % (source key
    crc-concentrative), so a little more goes in; both are measured to 0.05 qt.
    """
    answer = float(published("refill-13")["right_answer"])
    job = cc.refill(
        system=cc.CoolingSystem(capacity="8 US qt"),
        inside="plain water",
        caught="5 US qt",
        target="50 % product",
        pour=[CAN, cc.WATER],
        show_in="US",
    )
    poured = job.pour[CAN].m_as("quart")
    assert answer <= poured <= answer * 1.012 + 0.05
    assert job.pour[cc.WATER].m_as("quart") == pytest.approx(5 - answer, abs=0.05 + 0.012 * 5)
    steps = list(job.steps)
    first = next(at for at, step in enumerate(steps) if "concentrate first" in step)
    assert "water up to the cold mark" in steps[first + 1]


@pytest.mark.parametrize(
    ("air_f", "pints"), [(-10, 3.25), (-20, 3.5), (-30, 4.0), (-40, 4.25)], ids=str
)
def test_army_pints_per_gallon(air_f, pints):
    """US Army TM 5-6115-400-12, Table 2-1 (source key army-tm-5-6115), a dry gallon.

    The pints are those of the table, to a pour's rounding and the shrinking of the mix. It is laid
    out for the lowest air expected, so the mix freezes there or colder, by 5 K at the most (2 °F
    of the table's own rounding to a quarter pint allowed for).
    """
    job = cc.refill(
        system=cc.CoolingSystem(capacity="10 US gal"),
        inside="nothing",
        target=f"{100 * pints / 8} % product",
        pour=[CAN, cc.WATER],
        show_in="US",
    )
    assert pints - 0.05 <= job.pour[CAN].m_as("pint") / 10 <= pints * 1.012 + 0.05
    air_k = (air_f + 459.67) / 1.8
    assert -5.0 - 2 / 1.8 <= job.expect().value.m_as("kelvin") - air_k <= 2 / 1.8


def test_ready_mixed_over_trapped_water_is_not_reachable():
    """5/8 of 50 % is 31.25 %, by hand: said, with two ways out and no litres."""
    job = cc.refill(
        system=cc.CoolingSystem(capacity="8 US qt"),
        inside="plain water",
        caught="5 US qt",
        target="50 % product",
        pour=[READY],
        show_in="US",
    )
    assert job.status & Status.REFILL_NOT_REACHED
    assert job.blocked and not job.pour and job.pour_back is None and job.after is None
    assert job.reach.strength().share == pytest.approx(0.3125, abs=0.005)
    assert "Not reachable" in str(job) and "31 % of concentrate" in str(job)
    kinds = [way.kind for way in job.ways]
    assert kinds == ["product", "let out", "again"]
    product, let_out, again = job.ways
    assert product.pours[0][0] == CAN
    assert product.pours[0][1] == pytest.approx(4 * 0.946352946e-3, rel=0.03)
    assert let_out.inside_m3 == 0.0
    # (3/8)^n of the shortfall of 50 % stays after n + 1 fills: 18.75, 7.03, 2.64, 0.99 % by hand.
    assert again.fills == 4
    assert job.chance_to_hold is None and job.to_frame().shape[0] == 1


def test_way_out_by_letting_out_is_enough():
    """Of 10 L, R of water may stay for 45 % with ready-mixed 50 %: 1 L, by hand."""
    job = cc.refill(
        system=cc.CoolingSystem(capacity="10 L"),
        inside="plain water",
        caught="8 L",
        target="45 % product",
        pour=[READY, cc.WATER],
    )
    way = next(each for each in job.ways if each.kind == "let out")
    assert way.inside_m3 * 1e3 == pytest.approx(1.0, abs=0.1)
    again = cc.refill(
        system=cc.CoolingSystem(capacity="10 L"),
        inside="plain water",
        caught=f"{10 - way.inside_m3 * 1e3} L",
        target="45 % product",
        pour=[READY, cc.WATER],
    )
    assert not again.blocked


# --- what is still inside, by hand ----------------------------------------------------------------


def test_still_inside_by_hand():
    """12 − 7.5 − 0.3 = 4.2 L; √(0.5² + 0.3² + 0.2²) = 0.616 L."""
    low, value, high = map(litres, refill().still_inside)
    assert value == pytest.approx(4.2)
    half = math.sqrt(0.5**2 + 0.3**2 + 0.2**2)
    assert (low, high) == pytest.approx((4.2 - half, 4.2 + half), abs=0.005)


def test_half_of_a_guessed_spill_is_its_give_or_take():
    still = refill(spilled="1 L", spilled_error=None, caught_error="0 L").start.still
    assert float(still.half_width_m3[0]) * 1e3 == pytest.approx(math.hypot(0.5, 0.5))


def test_less_than_nothing_is_not_inside():
    still = refill(caught="11.5 L", spilled="0 L").still_inside
    assert litres(still.low) == 0.0
    assert litres(still.value) == pytest.approx(0.5)
    assert "less than nothing" in str(refill(caught="11.5 L", spilled="0 L").working)


def test_still_inside_by_what_was_opened():
    """Radiator and lower hose: 42 to 68 % of 12 L come out, 55 ± 13 %; 5.4 L stay."""
    job = refill(caught=None, spilled="0 L", opened=("radiator", "lower hose"))
    still = job.start.still
    assert float(still.value_m3[0]) * 1e3 == pytest.approx(12 * 0.45)
    half = math.hypot(12 * 0.13, 0.45 * 0.5)
    assert float(still.half_width_m3[0]) * 1e3 == pytest.approx(half)
    assert any("common practice, no source" in each for each in job.assumptions)


def test_shares_can_be_another_workshops():
    job = refill(caught=None, opened=("radiator", "sump"), shares={"sump": ("10 %", "20 %")})
    assert job.opened[1:] == pytest.approx((0.5, 0.8))
    head = refill(caught=None, opened=("head", "block plugs"))
    assert head.opened[1:] == (0.25, 0.35)  # the plugs let out what the head would


def test_what_was_opened_checks_what_was_caught():
    told = " ".join(refill(opened=("heater",)).notes)
    assert "0.48 L to 1.20 L is usual" in told
    assert "is usual" not in " ".join(refill(opened=("radiator", "lower hose")).notes)


# --- an engine that is filled, independent of ours ------------------------------------------------


def filled(engine, can, capacity, first, back=None):
    """Pour back, then litres of concentrate, then water to the mark by an engine's own volume."""
    if back is not None:
        for part in ("glycol", "water", "additive"):
            setattr(engine, part, getattr(engine, part) + getattr(back, part))
    engine.pour(can, first)
    for _ in range(8):  # shrinks by a hundredth of the rest each time
        engine.pour(water(EG_20), np.maximum(capacity - engine.litres, 0.0))
    return engine


@pytest.mark.parametrize("back", ["0 L", "2 L"])
@pytest.mark.parametrize("inside", ["old mix", "plain water"])
def test_interval_in_interval_out(back, inside):
    """At the least, the likeliest and the most inside, the engine ends where the answer says."""
    found = 0.35
    job = refill(found="35 % mass glycol", inside=inside, pour_back=back, target="45 % mass glycol")
    least, most = job.ends()
    first = litres(job.pour[CAN])
    still = job.start.still
    slope = 0.5**2 / (0.5**2 + 0.3**2 + 0.2**2)
    value = float(still.value_m3[0]) * 1e3
    for held, ours in (
        (float(still.low_m3[0]) * 1e3, least),
        (value, job.after),
        (float(still.high_m3[0]) * 1e3, most),
    ):
        capacity = 12 + slope * (held - value)
        engine = Engine(EG_20, EG_CAN, held, found if inside == "old mix" else 0.0)
        old = Engine(EG_20, EG_CAN, litres(job.pour_back), found) if job.fill.back_m3 else None
        filled(engine, EG_CAN, capacity, first, old)
        assert ours.frac_mass == pytest.approx(float(engine.share), abs=STRENGTH_ABS)
    low, high = sorted((least.frac_mass, most.frac_mass))
    assert low < job.after.frac_mass < high


@pytest.mark.parametrize("target", ["42 % mass glycol", "46 % mass glycol"])
def test_chance_to_hold_against_drawn_engines(target):
    """Capacity, caught, spilled and reading are drawn apart; 20,000 engines filled to the mark."""
    rng = np.random.default_rng(20261128)
    count = 20_000
    sd = 1 / 1.959964
    job = cc.refill(
        system=VAN,
        found=CAN.mix(cc.Strength.of("found", "35 % mass glycol", error="1 %")),
        caught="7.5 L",
        caught_error="0.3 L",
        spilled="0.3 L",
        spilled_error="0.2 L",
        target=target,
        pour=[CAN, cc.WATER],
    )
    capacity = 12 + 0.5 * sd * rng.standard_normal(count)
    out = 7.8 + math.hypot(0.3, 0.2) * sd * rng.standard_normal(count)
    found = job.old.frac_mass + job.old.half_width * sd * rng.standard_normal(count)
    engine = Engine(EG_20, EG_CAN, capacity - out, found, steps=4)
    filled(engine, EG_CAN, capacity, litres(job.pour[CAN]))
    wanted = job.target_frac_mass
    assert job.chance_to_hold == pytest.approx(np.mean(engine.share >= wanted), abs=0.02)
    assert job.half_width == pytest.approx(1.959964 * np.std(engine.share), rel=0.03)


def test_the_most_that_may_be_inside_may_be_too_much():
    """7 L of water ± 1.4: at 8.4 of 12 L only 3.6 L of concentrate fit, 30 %; 40 % are wanted."""
    job = cc.refill(
        system=cc.CoolingSystem(capacity="12 L"),
        inside="plain water",
        caught="5 L",
        caught_error="1.4 L",
        target="40 % product",
        pour=[CAN, cc.WATER],
    )
    assert not job.blocked
    assert job.status & Status.REFILL_MAY_MISS
    assert "out of reach in this fill" in " ".join(job.notes)


# --- what goes back, in which order ---------------------------------------------------------------


def test_as_much_goes_back_as_the_target_allows():
    """By hand, volumes adding, in % of product: x ≤ (F s − (C t − R c)) / (s − c)."""
    system = cc.CoolingSystem(capacity="10 L")
    job = cc.refill(
        system=system,
        found="30 % product",
        caught="6 L",
        pour_back="6 L",
        target="50 % product",
        pour=[CAN, cc.WATER],
    )
    by_hand = (6 * 1.0 - (10 * 0.5 - 4 * 0.3)) / (1.0 - 0.3)
    assert litres(job.pour_back) == pytest.approx(by_hand, abs=0.15)  # shrinking makes room
    assert job.after.strength().share >= 0.5 - 0.001
    told = " ".join(job.notes)
    assert "The rest is waste." in told
    assert "of caught mix" in list(job.steps)[-1]


def test_what_goes_back_leaves_room_if_the_most_is_inside():
    """By hand, as above, at the most that may be inside: x ≤ (F s − (C t − R c))/(s − c).

    Volumes shrink on mixing, and all is measured to 0.05 L: 0.15 L.
    """
    job = refill(pour_back="5 L")
    high = litres(job.still_inside.high)
    capacity = 12 + 0.5**2 / (0.5**2 + 0.3**2 + 0.2**2) * (high - 4.2)
    s, c, t = 1.0, job.old.strength().share, job.chart_target[0].strength().share
    by_hand = ((capacity - high) * s - (capacity * t - high * c)) / (s - c)
    assert litres(job.pour_back) == pytest.approx(by_hand, abs=0.15)
    exact = refill(
        system=cc.CoolingSystem(capacity="12 L"),
        caught_error="0 L",
        spilled_error="0 L",
        pour_back="5 L",
    )
    assert litres(exact.pour_back) == pytest.approx(5.0)
    assert litres(job.pour_back) < 4.9


def test_good_mix_goes_back_whole():
    job = cc.refill(
        system=cc.CoolingSystem(capacity="10 L"),
        found="50 % product",
        caught="6 L",
        pour_back="6 L",
        target="50 % product",
        pour=[CAN, cc.WATER],
    )
    assert litres(job.pour_back) == pytest.approx(6.0)
    assert sum(map(litres, job.pour.values())) == 0.0
    assert not job.blocked


def test_ready_mixed_is_right_in_a_dry_system_and_over_its_own_strength():
    for inside, found in (("nothing", None), ("old mix", "50 % product")):
        job = cc.refill(
            system=cc.CoolingSystem(capacity="10 L"),
            inside=inside,
            found=found,
            caught=None if inside == "nothing" else "6 L",
            target="50 % product",
            pour=[READY],
        )
        assert not job.blocked, inside
        assert litres(job.pour[READY]) == pytest.approx(10 if inside == "nothing" else 6, abs=0.06)


def test_too_strong_inside_is_filled_weaker():
    job = refill(found="70 % mass glycol", target="50 % mass glycol")
    assert not job.blocked
    assert job.after.frac_mass == pytest.approx(0.5, abs=0.006)
    assert any("reads stronger, more was inside" in step for step in job.steps)


def test_buckets():
    one, two = (list(refill(bucket=size).steps) for size in ("10 L", "5 L"))
    assert any("In a clean bucket mix" in step and "make-up mix" in step for step in one)
    assert any("in 2 bucketfuls with the same parts" in step for step in two)
    layered = list(refill().steps)
    assert any("concentrate first" in step for step in layered)
    assert any("stands in frost" in step for step in layered)


def test_two_stages_pour_all_of_it():
    job = cc.refill(
        system=VAN, inside="nothing", engine_only="7 L", target="-37 °C", pour=[CAN, cc.WATER]
    )
    (first, pours_1), (second, pours_2) = job.stages()
    assert first + second == pytest.approx(12e-3)
    whole = {product: litres(each) for product, each in job.pour.items()}
    for (product, one), (_, two) in zip(pours_1, pours_2, strict=True):
        assert (one + two) * 1e3 == pytest.approx(whole[product])
    steps = " ".join(job.steps)
    assert "On the stand" in steps and "In the vehicle" in steps


# --- level signs ----------------------------------------------------------------------------------


def test_level_signs():
    job = refill()
    expected = litres(job.volume_quantity(job.goes_in_m3))
    assert job.level_sign(f"{expected} L").name == "as expected"
    less = job.level_sign(f"{expected - 1.0} L")
    assert less.name == "took less" and "air" in less.sentence and "next morning" in less.next_step
    little = job.level_sign("3 L")
    assert "air in the block" in little.sentence and "Do not run it" in little.next_step
    assert "cold to the hand" in little.next_step and "cold to the hand" in less.next_step
    more = job.level_sign(f"{expected + 1.5} L")
    assert more.name == "took more" and "leak" in more.next_step
    assert less.sentence in " ".join(refill(went_in=f"{expected - 1.0} L").notes)


def test_next_morning_stands_in_the_steps():
    steps = list(refill().steps)
    assert any(step.startswith("Next morning") for step in steps)


# --- properties -----------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(
    caught=st.floats(2, 11),
    found=st.floats(0.05, 0.6),
    target=st.floats(0.25, 0.58),
    clean=st.floats(0, 1),
)
def test_no_fill_ends_weak_above_the_mark_or_with_a_volume_below_nothing(
    caught, found, target, clean
):
    job = cc.refill(
        system=cc.CoolingSystem(capacity="12 L"),
        found=f"{100 * found:.3f} % mass glycol",
        caught=f"{caught:.3f} L",
        pour_back=f"{clean * caught:.3f} L",
        target=f"{100 * target:.3f} % mass glycol",
        pour=[CAN, cc.WATER],
    )
    if job.blocked:
        assert job.ways and job.reach is not None
        return
    poured = [litres(each) for each in (*job.pour.values(), job.pour_back)]
    assert min(poured) >= 0.0
    assert litres(job.pour_back) <= clean * caught + 1e-3  # as typed, to a millilitre
    assert sum(poured) <= (caught + 0.001) * 1.013 + 0.1
    # 0.5 mass % is as good as the target, where that itself is just out of reach.
    assert job.after.frac_mass >= target - 0.0055


def test_double_the_system_double_the_litres():
    one = cc.refill(
        system=cc.CoolingSystem(capacity="10 L"),
        found="30 % product",
        caught="6 L",
        target="50 % product",
        pour=[CAN, cc.WATER],
    )
    two = cc.refill(
        system=cc.CoolingSystem(capacity="20 L"),
        found="30 % product",
        caught="12 L",
        target="50 % product",
        pour=[CAN, cc.WATER],
    )
    for product in one.pour:
        assert litres(two.pour[product]) == pytest.approx(2 * litres(one.pour[product]), abs=0.15)


def test_units_and_cards(tmp_path):
    job = refill(pour_back="2 L", bucket="10 L", opened=("radiator",))
    us = job.shown_in("US")
    assert us.after.frac_mass == pytest.approx(job.after.frac_mass, abs=0.004)
    for name, each in (("a", job), ("b", us), ("c", refill(pour=[READY], target="49 % product"))):
        path = each.save_card(tmp_path / f"{name}.pdf")
        assert path.stat().st_size > 1000
        assert "Cautions" in str(each)
        assert "nan" not in str(each).lower().replace("finance", "")


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"caught": None, "spilled": "0 L"}, "no part that was opened"),
        ({"caught": "14 L"}, "the capacity is larger"),
        ({"caught": "0 L", "spilled": "0 L"}, "the system is full"),
        ({"found": None}, "old mix is still inside"),
        ({"inside": "plain water", "found": None, "pour_back": "1 L"}, "caught mix is to go back"),
        ({"inside": "oil"}, "old mix"),
        ({"pour_back": "8 L"}, "more than was caught"),
        ({"engine_only": "5 L"}, "goes with a dry engine"),
        ({"inside": "nothing", "found": None, "engine_only": "13 L"}, "between nothing and"),
        ({"bucket": "0.1 L"}, "less than a twentieth"),
        ({"opened": ("gearbox",)}, "not in the table of parts"),
        ({"opened": ("head", "head")}, "listed twice"),
        ({"shares": {"head": ("30 %", "20 %")}}, "swap them"),
        ({"shares": {"head": "30 %"}}, "no pair"),
        ({"shares": "30 %"}, "by part"),
        ({"went_in": "nan L"}, "went_in"),
        ({"target": "5 °C"}, "target"),
    ],
)
def test_refusals(changes, told):
    with pytest.raises(InputError, match=told):
        refill(**changes)


def test_all_refusals_at_once():
    with pytest.raises(FormError) as caught:
        refill(caught="x", temp="200 °C", inside="oil")
    assert {error.field for error in caught.value.errors} == {"caught", "temp", "inside"}


def test_a_circuit_that_is_not_mixed_by_hand():
    system = cc.CoolingSystem(capacity="12 L", fill="low-conductivity")
    job = refill(system=system)
    assert job.blocked and not job.pour
    assert "low-conductivity" in str(job)
