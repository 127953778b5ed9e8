"""The main job: its figures against balances by hand, its words, and what it refuses to give."""

import itertools
import math
import re

import numpy as np
import pytest

import coolcalc as cc
from coolcalc import fluids
from coolcalc.balance import exchange, ledger
from coolcalc.errors import InputError, Status

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(scale="freeze point", made_for="ethylene glycol", error="1 K")


def correct(found, target, pour=(CAN, cc.WATER), capacity="10 L", system=None, **more):
    system = cc.CoolingSystem(capacity=capacity, **(system or {}))
    return cc.correct_mix(system=system, found=found, target=target, pour=pour, **more)


def exact(job):
    """Litres before rounding: out, in."""
    return 1e3 * job.exact.drain_m3[0, 0], 1e3 * np.sum(job.exact.pour_m3[0])


# --- figures against a balance by hand ------------------------------------------------------------
# Ethylene glycol and water at 20 °C, kg/L at mass %: CRC Handbook, Concentrative Properties of
# Aqueous Solutions; water 0.9982; pure glycol 1.1135. Between two rows, straight lines in volume.

ROWS = ((0, 0.9982), (24, 1.0296), (32, 1.0405), (44, 1.0567), (52, 1.0670), (60, 1.0765))
ROWS = (*ROWS, (100, 1.1135))


def volume_by_hand(share):
    """Litres of a kilogram of glycol and water."""
    for (low, light), (high, dense) in itertools.pairwise(ROWS):
        if share <= high / 100:
            part = (share - low / 100) / ((high - low) / 100)
            return (1 - part) / light + part / dense
    raise AssertionError(share)


ADDITIVE_LITRES = (1 / 1.128 - 0.97 * volume_by_hand(0.94 / 0.97)) / 0.03


def of_product(volume_share):
    """Glycol over glycol + water of a dilution of concentrate by volume."""
    kg, water = 1.128 * volume_share, 0.9982 * (1 - volume_share)
    return 0.94 * kg / (0.97 * kg + water)


def of_glycol(volume_share):
    kg, water = 1.1135 * volume_share, 0.9982 * (1 - volume_share)
    return kg / (kg + water)


def held(capacity, share):
    """Kilograms of glycol and water in a volume; the mix has the additives of the concentrate."""
    return capacity / (volume_by_hand(share) + share * 0.03 / 0.94 * ADDITIVE_LITRES)


def strengthen_by_hand(capacity, found, target):
    """Two lines: glycol, and glycol + water. Litres out and in."""
    before, after = held(capacity, found), held(capacity, target)
    poured = after * (target - found) / (0.94 - 0.97 * found)  # kg of concentrate
    kept = (after - 0.97 * poured) / before
    return capacity * (1 - kept), poured / 1.128


def dilute_by_hand(capacity, found, target):
    before, after = held(capacity, found), held(capacity, target)
    kept = after * target / (before * found)
    return capacity * (1 - kept), (after - before * kept) / 0.9982


@pytest.mark.parametrize(
    ("basis", "share", "known"),
    [("product", of_product, (2.83, 2.89)), ("vol glycol", of_glycol, (3.00, 3.06))],
)
def test_ten_litres_from_30_to_50(basis, share, known):
    by_hand = strengthen_by_hand(10.0, share(0.3), share(0.5))
    assert by_hand == pytest.approx(known, abs=0.015)
    job = correct(f"30 % {basis}", f"50 % {basis}")
    assert exact(job) == pytest.approx(by_hand, abs=0.02)
    assert exact(job) == pytest.approx(known, abs=0.02)
    # As printed: rounded to what can be measured out.
    assert job.drain.m_as("L") == pytest.approx(known[0], abs=0.05)
    assert job.pour[CAN].m_as("L") == pytest.approx(known[1], abs=0.05)
    assert job.pour[cc.WATER].m == 0.0


@pytest.mark.parametrize("basis", ["product", "vol glycol"])
def test_working_tells_meanings_and_rule_apart(basis):
    lines = {
        line.label: line.text for line in correct(f"30 % {basis}", f"50 % {basis}").working.lines
    }
    by_product = lines["If 30 and 50 mean % of product"]
    by_glycol = lines["If 30 and 50 mean % glycol by volume"]
    assert "2.83 L out, 2.89 L in." in by_product
    assert "3.00 L out, 3.06 L in." in by_glycol
    told = by_product if basis == "product" else by_glycol
    assert told.endswith("This is what was told.")
    assert "two litres" in lines["Why they differ"]


def test_working_holds_the_textbook_figure():
    lines = {
        line.label: line.text for line in correct("30 % product", "50 % product").working.lines
    }
    # 10 · (50 - 30) / (100 - 30)
    assert "take out 2.86 L, pour 2.86 L of ethylene glycol concentrate" in lines["Textbook rule"]
    assert "0.02 L less is taken out" in lines["Why they differ"]


def test_textbook_figure_of_the_told_percentages():
    """The rule asks for 2.86 L whatever the percentages mean: it does not know what they are of."""
    lines = {
        line.label: line.text
        for line in correct("30 % vol glycol", "50 % vol glycol").working.lines
    }
    assert "take out 2.86 L, pour 2.86 L of" in lines["Textbook rule"]
    assert "not pure glycol" in lines["Why they differ"]
    assert "0.15 L more is taken out, and 0.20 L more is poured" in lines["Why they differ"]


def test_forty_five_litres_too_strong():
    out, water = dilute_by_hand(45.0, of_product(0.65), of_product(0.5))
    job = correct("65 % product", "50 % product", capacity="45 L")
    assert exact(job) == pytest.approx((out, water), abs=0.09)  # 0.02 L in ten
    assert job.pour[cc.WATER].m_as("L") == pytest.approx(water, abs=0.4)  # two steps of 0.2 L
    assert job.pour[CAN].m == 0.0
    assert job.status == Status.TOO_STRONG | Status.START_NOT_SETTLED
    text = str(job)
    assert "More concentrate makes it worse" in text
    assert "only bounds are given" in text
    rows = dict(job.rows)
    assert rows["Freezing point as found"].startswith("not settled: between −")
    assert "not settled" not in rows["Freezing point afterwards"]


def test_low_and_weak_needs_no_drain():
    job = correct("45 % product", "50 % product", low="2 L")
    assert job.drain.m == 0.0
    assert "Take out" not in str(job)
    assert job.pour[CAN].m_as("L") + job.pour[cc.WATER].m_as("L") == pytest.approx(2.0, abs=0.1)
    # Glycol by hand: 8 L at 45 % become 10 L at 50 %.
    glycol = held(10, of_product(0.5)) * of_product(0.5) - held(8, of_product(0.45)) * of_product(
        0.45
    )
    assert job.pour[CAN].m_as("L") == pytest.approx(glycol / 0.94 / 1.128, abs=0.06)
    assert any("leak" in note for note in job.notes)


# --- the example of the README --------------------------------------------------------------------


def test_readme_example():
    van = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L", drainable="6.5 L")
    job = cc.correct_mix(
        system=van, found=TOOL.read("-16 °C"), target="-37 °C", pour=[CAN, cc.WATER], temp="20 °C"
    )
    assert job.status == Status.PLAIN
    assert job.pour[CAN].to("US quart").m == pytest.approx(
        job.pour[CAN].m_as("L") / 0.946353, rel=1e-5
    )
    low, value, high = (each.m_as("degC") for each in job.expect(TOOL))
    assert low < value < high
    assert value == pytest.approx(-37.0, abs=0.6)
    assert {source.key for source in job.sources} >= {"crc-concentrative"}
    assert "2.8" in str(job.working)


@pytest.mark.parametrize("found", ["-16 °C", "3.2 °F", TOOL.read("-16 °C"), cc.Q(257.15, "kelvin")])
def test_a_reading_may_be_told_in_many_ways(found):
    if not isinstance(found, (str, type(TOOL.read("-16 °C")))):
        found = TOOL.read(found)
    assert correct(found, "-37 °C").drain.m_as("L") == pytest.approx(2.8, abs=0.051)


@pytest.mark.parametrize("system", ["metric", "US", "imperial"])
@pytest.mark.parametrize(("found", "low"), [("30 % product", "0 L"), ("58 % product", "0.5 L")])
def test_unit_systems_give_the_same_litres(system, found, low):
    metric, other = (
        correct(found, "50 % product", low=low, show_in=each) for each in ("metric", system)
    )
    assert exact(other) == exact(metric)
    step = 1e3 * (metric.step.m3 + other.step.m3)
    assert other.drain.m_as("L") == pytest.approx(metric.drain.m_as("L"), abs=step)
    total = sum(each.m_as("L") for each in other.pour.values())
    assert total == pytest.approx(
        sum(each.m_as("L") for each in metric.pour.values()), abs=2 * step
    )
    unit = {"metric": " L", "US": " US qt", "imperial": " imp pt"}[system]
    assert f"{other.drain.m:.{other.step.decimals}f}{unit}" in str(other)


# --- what is not reachable ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("found", "target", "pour", "low", "status", "step"),
    [
        (
            CAN.mix("30 % product"),
            "55 % product",
            (READY, cc.WATER),
            "0 L",
            Status.PRODUCT_TOO_WEAK,
            "stronger",
        ),
        ("58 % product", "50 % product", (CAN,), "0 L", Status.NO_DILUENT, "List water"),
        ("45 % product", "48 % product", (CAN,), "3 L", Status.NO_DILUENT, "List water"),
        (TOOL.read("-16 °C"), "-37 °C", (cc.WATER,), "0 L", Status.PRODUCT_TOO_WEAK, "stronger"),
    ],
)
def test_not_reachable(found, target, pour, low, status, step):
    job = correct(found, target, pour, low=low)
    assert job.status & status
    assert job.blocked
    assert job.drain is None and job.pour == {} and job.after is None and job.expect() is None
    assert step in " ".join(job.steps)
    assert not re.search(r"\d", " ".join(job.steps))  # nothing that could be read as an amount
    told = str(job)
    assert "Not reachable" in told
    nearer = "Within reach of one drain with what is listed, if all of it comes out: "
    assert nearer in told or "Nothing that is listed brings the mix nearer" in told
    assert math.isfinite(job.reach.frac_mass)
    assert "take out" not in str(job.working).lower()
    (row,) = job.to_frame().to_dict("records")
    assert row["drain [L]"] is None


def test_reach_by_hand():
    """All that comes out replaced by ready-mixed: 6 L of 50 % over 4 L of 30 %, volumes adding."""
    job = correct(
        CAN.mix("30 % product"),
        "48 % product",
        (READY, cc.WATER),
        system={"drainable": "6 L"},
        passes=1,
    )
    assert job.status == Status.ONE_DRAIN_GIVES_PART  # 48 % needs more than 6 L
    job = correct(
        CAN.mix("30 % product"), "55 % product", (READY, cc.WATER), system={"drainable": "6 L"}
    )
    assert job.status == Status.PRODUCT_TOO_WEAK
    assert job.reach.strength().share == pytest.approx((6 * 0.5 + 4 * 0.3) / 10, abs=0.005)
    assert "Within reach of one drain with what is listed: 42 % of concentrate" in str(job)


def test_reach_is_never_further_off_than_the_mix_is():
    """Concentrate alone cannot mend a mix that is too strong, and is not offered as in reach."""
    job = correct("58 % product", "50 % product", (CAN,))
    assert job.reach.frac_mass == pytest.approx(job.before.frac_mass, abs=1e-9)
    assert "Nothing that is listed brings the mix nearer" in str(job)


def test_partial_drain():
    job = correct("30 % product", "50 % product", system={"drainable": "2 L"}, passes=1)
    assert job.status == Status.ONE_DRAIN_GIVES_PART
    assert job.drain.m_as("L") == 2.0
    told = str(job)
    assert "What comes out at the drain is not enough" in told
    assert "That is not yet the target (50 % of concentrate): correct again from the" in told
    # By hand: 8 L of 30 % stay, 2 L of concentrate go in.
    assert job.after.strength().share == pytest.approx((8 * 0.3 + 2) / 10, abs=0.01)
    why = {line.label: line.text for line in job.working.lines}["Why they differ"]
    assert "Only 2.00 L comes out" in why


def test_in_band_is_left_alone():
    job = correct(TOOL.read("-36.5 °C"), "-37 °C")
    assert job.status == Status.IN_BAND
    assert job.steps[0].startswith("Leave the mix as it is")
    assert job.drain.m == 0.0
    wide = correct("45 % product", "50 % product", accept=("40 % product", "55 % product"))
    assert wide.status == Status.IN_BAND


def test_per_cent_of_which_product():
    """Ready-mixed made from the concentrate: per cent of product is of the concentrate."""
    job = correct("20 % product", "40 % product", (READY, cc.WATER))
    assert "the product is ethylene glycol concentrate." in str(job)
    assert job.after.frac_mass == pytest.approx(of_product(0.4), abs=0.01)
    # By hand, volumes that add: 10 L from 20 to 40 % with 50 %: 10 * 20 / 30 = 6.67 L.
    assert job.drain.m_as("L") == pytest.approx(6.67, abs=0.1)


# --- what to read afterwards ----------------------------------------------------------------------


def test_expected_reading_against_monte_carlo():
    """Reading and capacity drawn, printed litres held fixed, and the second reading's own error."""
    job = cc.correct_mix(
        system=cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L"),
        found=TOOL.read("-16 °C"),
        target="-37 °C",
        pour=[CAN, cc.WATER],
    )
    random = np.random.default_rng(7)
    count, sd = 20_000, 1 / 1.959964
    reading = 257.15 + sd * random.standard_normal(count)
    capacity = 0.010 + 0.5e-3 * sd * random.standard_normal(count)
    found = fluids.frac_mass_from_freeze_temp_k("ethylene glycol", reading)
    si = CAN.si()
    inside = ledger.contents(
        si.fluid, capacity, found, 0.03 / 0.94, si.additive_volume_m3_kg, 293.15
    )
    products = tuple(each.si(si.fluid) for each in job.shelf)
    after = exchange.outcome(inside, job.plan, products, 293.15)
    read = fluids.freeze_temp_k(si.fluid, ledger.frac_mass(after))
    # Another instrument, as good as the first; the same one shares its offset: test_odds.
    other = cc.Refractometer(made_for="ethylene glycol", error="1 K", name="the other one")
    for tool, drawn in ((None, read), (other, read + sd * random.standard_normal(count))):
        low, value, high = (each.m_as("kelvin") for each in job.expect(tool))
        assert low < value < high
        drawn_low, drawn_high = np.quantile(drawn, [0.025, 0.975])
        assert high - low == pytest.approx(drawn_high - drawn_low, rel=0.04)
        assert (low, high) == pytest.approx((drawn_low, drawn_high), abs=0.15)
        assert value == pytest.approx(np.median(drawn), abs=0.05)


def test_exact_inputs_give_one_reading():
    job = correct("30 % product", "50 % product")
    low, value, high = (each.m_as("degC") for each in job.expect())
    assert low == value == high
    assert "a freezing point of about −37 °C" in str(job)


def test_expect_refuses_another_scale():
    other = cc.Refractometer(made_for="propylene glycol")
    with pytest.raises(InputError, match="tool: the scale was made for propylene glycol"):
        correct("30 % product", "50 % product").expect(other)


def test_rounded_litres_give_what_is_printed_as_outcome():
    job = correct("30 % product", "50 % product")
    products = tuple(each.si(CAN.fluid) for each in job.shelf)
    after = exchange.outcome(job.inside, job.plan, products, 293.15)
    assert job.after.frac_mass == pytest.approx(float(ledger.frac_mass(after)[0]), rel=1e-12)
    assert job.plan.drain_m3[0, 0] * 1e3 == pytest.approx(job.drain.m)


def test_a_mixture_names_the_product_of_its_per_cent():
    """Per cent of ready-mixed, for what was found and for the target alike: 100 % is neat."""
    job = correct(READY.mix("60 % product"), "90 % product", (READY, cc.WATER))
    # By hand, volumes that add: 10 L from 60 to 90 % with 100 %: 10 * 30 / 40 = 7.5 L.
    assert job.drain.m_as("L") == pytest.approx(7.5, abs=0.1)
    assert "90 % of product" in job.target_words
