"""Capacity by a fill, from parts and by a swap: sums by hand, chance drawn apart, closed forms."""

import math

import numpy as np
import pytest

import coolcalc as cc
from coolcalc.balance import capacity as kernel
from coolcalc.balance import ledger
from coolcalc.balance.composition import Composition, OldMix, ProductSI
from coolcalc.jobs.parts_table import EXAMPLE_PARTS, read_parts, save_parts

EG = "ethylene glycol"
CAN = cc.Product.generic(f"{EG} concentrate")
TOOL = cc.Refractometer(scale="freeze point", made_for=EG, error="1 K")
SD = 1.959964  # half-width at 95 % over the standard deviation
TEMP_K = 293.15


def read(per_cent, give_or_take=2.0, basis="volume % of product"):
    return cc.Strength(per_cent / 100, basis, half_width=give_or_take / 100)


def mixed(per_cent, give_or_take):
    return CAN.mix(read(per_cent, give_or_take))


def swap_of(**more):
    told = {"before": read(35), "after": read(41.5), "swapped": "1 L", "pour": CAN}
    return cc.capacity_from_swap(**(told | more))


# --- by a swap ------------------------------------------------------------------------------------


def pure_swap(before, after, swapped, poured, offset=0.0, own=0.0, error=0.0):
    """One row on pure glycol and water, for what is tested in mass fractions alone."""
    rows = (np.array([float(each)]) for each in (before, after, offset, own, own, swapped, error))
    product = ProductSI(EG, Composition(poured, 1.0 - poured, 0.0), 0.0)
    return kernel.Swap(OldMix(EG, 0.0, 0.0), product, *rows, TEMP_K)


def test_ten_litres_one_litre_of_95_percent_into_35():
    """10 L, 1 L of 95 % swapped into 35 %, readings to 2 points: about 7 to 18 L."""
    glycol = {"basis": "volume % of glycol"}
    # Volumes add: 35 + (95 - 35) 1/10 = 41 %. The can holds 94 mass %, 94 volume % of glycol.
    job = swap_of(before=read(35, **glycol), after=read(41, **glycol))
    low, value, high = (each.m_as("L") for each in job.interval)
    assert value == pytest.approx(10, abs=0.6)
    assert low == pytest.approx(7, abs=0.5) and high == pytest.approx(18, abs=1.5)
    assert high - value > 2 * (value - low)


def test_span_against_chance_drawn_apart():
    """200,000 draws of the textbook's formula, volumes adding: D (s - c0) / (c1 - c0)."""
    rng = np.random.default_rng(20)
    first = 0.35 + 0.02 / SD * rng.standard_normal(200_000)
    second = 0.415 + 0.02 / SD * rng.standard_normal(200_000)
    drawn = (1.0 - first) / (second - first)
    low, high = np.percentile(drawn[drawn > 0], [2.5, 97.5])
    found = [each.m_as("L") for each in swap_of().interval]
    # Shrinking takes 1 % off the capacity; 4,096 draws settle the ends to 2 %.
    assert found[0] == pytest.approx(low, rel=0.03)
    assert found[2] == pytest.approx(high, rel=0.05)


def test_span_is_fieller_s():
    """Ratio of two normal figures, in closed form (Fieller 1954), volumes adding."""
    top, bottom = 0.65, 0.065
    var = (0.02 / SD) ** 2
    var_top, var_bottom, both = var, 2 * var, var  # s - c0 and c1 - c0 share c0
    t2 = SD**2
    a = bottom**2 - t2 * var_bottom
    b = top * bottom - t2 * both
    c = top**2 - t2 * var_top
    root = math.sqrt(b * b - a * c)
    low, _, high = (each.m_as("L") for each in swap_of().interval)
    assert low == pytest.approx((b - root) / a, rel=0.03)
    assert high == pytest.approx((b + root) / a, rel=0.05)


def test_shared_offset_moves_it_far_less():
    shared = pure_swap(0.375, 0.436, 1.0, 0.955, offset=0.02)
    own = pure_swap(0.375, 0.436, 1.0, 0.955, own=0.02)
    spans = [float((high - low)[0]) for low, high in map(kernel.spread_m3, (shared, own))]
    assert spans[0] < 0.12 * spans[1]
    # By hand: with both readings 2 points higher, (0.955 - 0.456)/(0.456 - 0.395): 3 % more.
    moved = [
        float(kernel.capacity_m3(own.mix, own.product, 0.375 + u, 0.436 + u, 1.0, TEMP_K))
        for u in (0.02, -0.02)
    ]
    assert abs(moved[0] - moved[1]) / 2 < 0.05 * 9.5


def test_one_instrument_shares_its_offset():
    apart = cc.Refractometer(scale="freeze point", made_for=EG, error="1 K", repeatability="1 K")
    same = swap_of(before=TOOL.read("-20 °C"), after=TOOL.read("-34 °C"), swapped="3 L")
    other = swap_of(before=TOOL.read("-20 °C"), after=apart.read("-34 °C"), swapped="3 L")
    assert same.same_instrument and not other.same_instrument
    assert float(same.swap.offset[0]) > 0.0 and float(other.swap.offset[0]) == 0.0
    assert same.precision < other.precision


@pytest.mark.parametrize("capacity", [0.004, 0.010, 0.050])
@pytest.mark.parametrize("pour", [CAN, cc.WATER], ids=["concentrate", "water"])
def test_the_ledger_gives_the_capacity_back(capacity, pour):
    """A swap carried out on a known system: masses moved by the ledger, read without error."""
    mixture = CAN.mix("45 % product")
    share = CAN.share
    inside = ledger.contents(
        EG, np.array([capacity]), mixture.frac_mass, share.additive / share.glycol,
        CAN.additive_volume_m3_kg, TEMP_K,
    )  # fmt: skip
    swapped = 0.2 * capacity
    after = ledger.pour(ledger.drain(inside, swapped, TEMP_K), pour.si(EG), swapped, TEMP_K)
    read_after = cc.Mixture(product=CAN, frac_mass=float(ledger.frac_mass(after)[0]))
    job = swap_of(before=mixture, after=read_after, swapped=cc.Q(swapped, "m^3"), pour=pour)
    assert job.likeliest_m3 == pytest.approx(capacity, rel=1e-9)


def test_published_problem_backwards():
    """exchange-5: 70 L, 20 to 40 % by 17.5 L of pure antifreeze, volumes adding: 17.5 of 70 L."""
    job = swap_of(before=read(20, 0.1), after=read(40, 0.1), swapped="17.5 L")
    rule = next(line.text for line in job.working.lines if line.label == "Textbook rule")
    assert "= 70.000 L" in rule
    assert job.likeliest_m3 == pytest.approx(0.070, rel=0.01)  # shrinking


def test_under_three_standard_deviations_nothing_is_told():
    """Readings to 2 points: 3 sd of their difference are 3 · 1.44 = 4.33 points."""
    for points, told in ((4.2, False), (4.5, True)):
        job = swap_of(before=read(35), after=read(35 + points))
        assert (job.known is not None) == told
        assert job.change_sd == pytest.approx(points / 1.443, rel=0.01)
    assert swap_of(after=read(37)).capacity is None


@pytest.mark.parametrize("wanted", ["5 %", "10 %", "20 %"])
def test_the_swap_that_would_do_does(wanted):
    """Carried out on 10 L: the span that its readings give is as wanted, and hardly better."""
    exact = {"before": read(25, 1.0), "pour": CAN, "wanted": wanted}
    share = swap_of(after=read(40, 1.0), **exact).next_share
    precisions = []
    for each in (share, share - 0.02):
        after = 0.25 + each * 0.75
        job = swap_of(after=read(100 * after, 1.0), swapped=cc.Q(10 * each, "L"), **exact)
        precisions.append(job.precision if job.known else math.inf)
    limit = float(wanted.split()[0]) / 100
    assert precisions[0] <= 1.05 * limit < 1.15 * precisions[1]


def test_a_swap_for_more_than_can_be_had():
    job = swap_of(before=read(35, 4.0), after=read(37, 4.0), wanted="1 %")
    assert job.next_share is None
    assert "No swap of ethylene glycol concentrate in one drain" in str(job)


def test_no_swap_ends_where_no_reading_can_be_relied_on():
    """35 % made up with concentrate reaches 60 mass % of glycol by a swap of some 37 %."""
    job = swap_of(wanted="12 %")
    best = kernel.after_swap(
        job.swap.mix, job.swap.product, job.swap.before, 1.0, job.next_share, TEMP_K
    )
    assert float(best[0]) <= 0.60
    assert swap_of(before=read(50), after=read(55), wanted="5 %").next_share is None


def test_a_swap_is_not_advised_beyond_one_drain():
    """50 to 45 % by 2 L of water, 5 % wanted: that takes four fifths; a drain lets out less."""
    told = {"before": mixed(50, 2), "after": mixed(45, 2), "swapped": "2 L", "pour": cc.WATER}
    assert swap_of(**told, wanted="5 %").advised is None
    assert "in one drain" in str(swap_of(**told, wanted="5 %"))
    wide = swap_of(**told, wanted="5 %", drainable="19 L")
    assert 0.6 < wide.advised[0] <= 19 / 20
    with pytest.raises(cc.CoolcalcError, match=r"drainable: 1\.00 L is less than what"):
        swap_of(**told, drainable="1 L")


@pytest.mark.parametrize(("before", "after", "give_or_take"), [(40, 2, 3), (20, 1, 2)])
def test_a_reading_near_what_was_poured_tells_a_finite_capacity(before, after, give_or_take):
    """Where a draw is beyond the product, all that there is was swapped."""
    ends = {"before": mixed(before, give_or_take), "after": mixed(after, give_or_take)}
    job = swap_of(**ends, swapped="9 L", pour=cc.WATER)
    low, value, high = (each.m_as("L") for each in job.interval)
    assert 9.0 - 1e-6 <= low <= value <= high < 20
    assert "9." in str(job)


def test_no_system_is_that_large():
    with pytest.raises(cc.CoolcalcError, match=r"swapped: in all 2\d{4}\.\d L, which is not"):
        swap_of(after=read(48), swapped="5000 L")


def test_rows_do_not_know_of_each_other():
    rng = np.random.default_rng(3)
    count = 50
    before = rng.uniform(0.2, 0.5, count)
    columns = (
        before, before + rng.uniform(0.05, 0.1, count), rng.uniform(0, 0.01, count),
        *rng.uniform(0.001, 0.01, (2, count)), rng.uniform(1, 5, count), rng.uniform(0, 0.1, count),
    )  # fmt: skip
    many = kernel.Swap(OldMix(EG, 0.03, 5e-4), CAN.si(EG), *columns, TEMP_K)
    together = kernel.spread_m3(many)
    for at in (0, 31):
        one = kernel.Swap(many.mix, many.product, *(each[at : at + 1] for each in columns), TEMP_K)
        for alone, all_of_them in zip(kernel.spread_m3(one), together, strict=True):
            np.testing.assert_allclose(alone, all_of_them[at : at + 1], rtol=1e-12)


def test_double_the_swap_doubles_the_capacity():
    one, two = swap_of(), swap_of(swapped="2 L")
    assert two.known == pytest.approx([2 * each for each in one.known], rel=1e-12)


# --- by a fill ------------------------------------------------------------------------------------


def test_fill_by_hand():
    job = cc.capacity_from_fill(
        poured=["5 L", "3.8 L"], topped_up="0.4 L", still_inside="0.8 L",
        still_inside_error="0.3 L", jug_error="2 %", each_error="50 mL",
    )  # fmt: skip
    assert job.capacity.m_as("L") == pytest.approx(10.0)
    by_hand = math.sqrt((0.02 * 9.2) ** 2 + 3 * 0.05**2 + 0.3**2)
    low, _, high = (each.m_as("L") for each in job.interval)
    assert (high - low) / 2 == pytest.approx(by_hand, rel=1e-12)
    assert job.capacity_error.m_as("L") == pytest.approx(0.37)  # 0.362, rounded up as printed
    van = job.system(drainable="6 L")
    assert [van.capacity.m_as("L"), van.drainable.m_as("L")] == pytest.approx([10.0, 6.0])


# --- from parts -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "litres"),
    [
        # π/4 · 0.32² · 15 dm³ and so on, by hand.
        ({"kind": "hose", "bore": "32 mm", "length": "1.5 m"}, 1.2064),
        ({"kind": "hose", "bore": "1.25 in", "length": "5 ft", "count": "2"}, 2.4132),
        # ((22 − 2) · 2 + π/4 · 4) mm² · 520 mm · 96
        ({"kind": "flat tubes", "width": "22 mm", "height": "2 mm", "length": "520 mm",
          "count": 96}, 2.1537),
        ({"kind": "flat tubes", "width": "2 mm", "height": "2 mm", "length": "1 m"}, 0.0031416),
        ({"kind": "tank", "volume": "0.9 L", "count": "2"}, 1.8),
        ({"kind": "side circuit", "volume": cc.Q(1.2, "liter")}, 1.2),
    ],
)  # fmt: skip
def test_parts_by_hand(row, litres):
    (part,), bad = read_parts([row])
    assert bad == () and part.volume_m3 * 1e3 == pytest.approx(litres, rel=2e-4)


def test_sum_of_parts_and_its_give_or_take():
    job = cc.capacity_from_parts(
        parts=[
            {"part": "block", "kind": "passage", "volume": "4 L", "give or take": "10 %"},
            {"part": "tank", "kind": "tank", "volume": "3 L", "give or take": "10 %"},
        ]
    )
    assert job.sum_m3 == pytest.approx(0.007)
    assert job.half_width_m3 * 1e3 == pytest.approx(math.hypot(0.4, 0.3), rel=1e-12)
    assert job.measure_better.name == "block"


def test_side_circuits_go_on_to_the_system():
    job = cc.capacity_from_parts(parts=EXAMPLE_PARTS)
    (side,) = job.system().side_circuits
    assert side.name == "cabin heater of the deckhouse"
    assert side.volume.m_as("L") == pytest.approx(1.2)


def test_a_table_kept_as_csv_comes_back(tmp_path):
    import pandas as pd

    path = save_parts(tmp_path / "pusher.csv", EXAMPLE_PARTS)
    again = cc.capacity_from_parts(parts=path)
    first = cc.capacity_from_parts(parts=EXAMPLE_PARTS)
    assert [part.volume_m3 for part in again.parts] == pytest.approx(
        [part.volume_m3 for part in first.parts], rel=1e-12
    )
    assert [part.name for part in again.parts] == [part.name for part in first.parts]
    frame = cc.capacity_from_parts(parts=pd.read_csv(path))
    assert frame.sum_m3 == pytest.approx(first.sum_m3, rel=1e-12)
    assert save_parts(tmp_path / "again.csv", path).read_bytes() == path.read_bytes()


def test_bad_rows_are_listed_and_the_good_ones_counted():
    job = cc.capacity_from_parts(
        parts=[
            {"part": "hose", "kind": "hose", "bore": "32 mm", "length": "1.5 m"},
            {"part": "mystery", "kind": "pipe", "volume": "-1 L"},
            {},
            {"part": "coil", "kind": "hose", "bore": "30"},
        ]
    )
    assert job.sum_m3 * 1e3 == pytest.approx(1.2064, rel=1e-4)
    assert job.capacity is None and job.interval is None
    assert [(bad.number, bad.name, len(bad.why)) for bad in job.bad] == [
        (2, "mystery", 2),
        (4, "coil", 2),
    ]
    assert "is not the capacity" in str(job)
    with pytest.raises(cc.CoolcalcError, match="capacity: it is not told by this"):
        job.system()
