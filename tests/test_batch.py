"""A batch: against sums by hand, published blends, the simulation, and its own printed figures."""

import dataclasses
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.balance import ledger
from coolcalc.errors import CoolcalcError, InputError, Status
from coolcalc.instruments import Refractometer
from coolcalc.jobs.batch import batch

from .simulation import Engine, Liquid, concentrate, water
from .test_correct_mix import ADDITIVE_LITRES, of_product, volume_by_hand

CAN = cc.Product.generic("ethylene glycol concentrate")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")
BOTH = (CAN, cc.WATER)


def mix(target="50 % product", pour=BOTH, volume="20 L", **more):
    return batch(volume=volume, target=target, pour=pour, **more)


def exact(job):
    """Litres before rounding, in the order given: out, then in."""
    out = job.spare_m3 + job.exact.drain_m3[0, 0]
    return [1e3 * float(each) for each in (out, *job.exact.pour_m3[0, :, 0])]


# --- against sums by hand -------------------------------------------------------------------------
# Densities at 20 °C: CRC Handbook, Concentrative Properties of Aqueous Solutions, as copied in
# test_correct_mix; concentrate 1.128 kg/L of 94 % glycol, 3 % water, 3 % additives by mass.


def litres_by_hand(volume, share):
    """Litres of concentrate and of water for a volume of a dilution by volume."""
    kg, plain = 1.128 * share, 0.9982 * (1 - share)  # of one litre, apart
    glycol_water = 0.97 * kg + plain
    together = glycol_water * volume_by_hand(0.94 * kg / glycol_water) + 0.03 * kg * ADDITIVE_LITRES
    return volume / together * share, volume / together * (1 - share)


@pytest.mark.parametrize("share", [0.25, 0.33, 0.4, 0.5, 0.58])
@pytest.mark.parametrize("volume", [5, 20, 200])
def test_an_empty_container_by_hand(share, volume):
    job = mix(f"{100 * share} % product", volume=f"{volume} L")
    by_hand = litres_by_hand(volume, share)
    assert exact(job)[1:] == pytest.approx(by_hand, rel=1e-3)
    step = 1e3 * job.step.m3
    assert job.pour[CAN].m_as("L") == pytest.approx(by_hand[0], abs=1.1 * step)
    assert job.pour[cc.WATER].m_as("L") == pytest.approx(by_hand[1], abs=2.1 * step)
    assert job.take_out.m == 0.0


def test_half_and_half_shrinks_by_one_per_cent():
    """10 L and 10 L make 19.8 L: known to everyone who has filled a drum."""
    job = mix()
    assert sum(exact(job)[1:]) == pytest.approx(20.2, abs=0.03)
    assert exact(job)[1] == pytest.approx(exact(job)[2], abs=1e-9)
    assert "10.00 L of ethylene glycol concentrate, and 10.00 L of water." in str(job.working)


def test_a_remnant_by_hand():
    """5 L of 30 % in 20 L of 50 %, two lines: glycol, and volume at the end."""
    job = mix(inside="30 % product", inside_volume="5 L")
    old, new = of_product(0.3), of_product(0.5)

    def glycol_water(litres, share):
        return litres / (volume_by_hand(share) + share * 0.03 / 0.94 * ADDITIVE_LITRES)

    before, after = glycol_water(5, old), glycol_water(20, new)
    can = (after * new - before * old) / 0.94 / 1.128
    plain = (after - before - 0.97 * 1.128 * can) / 0.9982
    assert exact(job) == pytest.approx([0.0, can, plain], abs=0.015)


# --- published blends -----------------------------------------------------------------------------
# data/worked_problems.csv, blend-11: 100 % and 50 % to 11 qt of 70 %, volumes add: 4.4 and 6.6 qt.

STRONG = cc.Product.from_shares(
    name="strong", fluid="propylene glycol", glycol="80 %", density="1.045 kg/L"
)


def diluted(product, strength, name):
    mixture = product.mix(strength)
    return dataclasses.replace(
        product,
        name=name,
        share=type(product.share)(*map(float, mixture.share)),
        density_kg_m3=mixture.density().m,
        made_from=product,
    )


HALF = diluted(STRONG, "50 % product", "half")


def test_published_blend():
    """A product whose 70 % is within 60 mass % of glycol; ours lies within what it shrinks by."""
    job = mix("70 % product", (STRONG, HALF), "11 US qt", show_in="US")
    lines = {line.label: line.text for line in job.working.lines}
    rule = lines["Blend by the rule"]
    assert "11.00 US qt" in rule and "(70.0 − 50.0) / (100.0 − 50.0) = 4.40 US qt" in rule
    assert "of strong, and 6.60 US qt (6.2459 L) of half." in rule
    _, strong, half = (each / 0.946353 for each in exact(job))
    # Half a litre of each, apart a litre, are a little less together, by the densities.
    litre = (STRONG.mass_of("0.5 L") + cc.WATER.mass_of("0.5 L")).m_as("kg")
    together = litre / (HALF.density_kg_m3 / 1e3)
    assert 0.98 < together < 0.995
    assert 11.0 < strong + half < 11.0 / together
    assert (strong, half) == pytest.approx((4.4, 6.6), abs=11 * (1 - together))
    # A litre of half is more than a litre apart: 0.3 strong = 0.2 half / together, for 70 %.
    assert strong / half == pytest.approx(2 / 3 / together, rel=1e-3)
    assert job.pour[STRONG].to("US quart").m == pytest.approx(4.4, abs=0.06)


def test_published_exchange_as_a_batch():
    """exchange-7: 7 qt of 35 % in a bucket that holds 7 qt, 50 % wanted: 1.615 qt out and in."""
    job = mix("50 % product", (CAN,), "7 US qt", inside="35 % product", inside_volume="7 US qt")
    out, poured = (each / 0.946353 for each in exact(job))
    assert (out, poured) == pytest.approx((1.615, 1.615), abs=0.03)
    assert job.take_out.to("US quart").m == pytest.approx(1.62, abs=0.05)


# --- what is kept ---------------------------------------------------------------------------------

REMNANTS = {
    "none": {},
    "weak": {"inside": "30 % product", "inside_volume": "5 L"},
    "weak, some comes out": {"inside": "30 % product", "inside_volume": "16 L"},
    "strong": {"inside": "70 % product", "inside_volume": "5 L"},
    "strong, some comes out": {"inside": "70 % product", "inside_volume": "18 L"},
    "water": {"inside": "0 % product", "inside_volume": "2 L"},
    "more than is wanted": {"inside": "35 % product", "inside_volume": "30 L"},
    "of the strength wanted": {"inside": "50 % product", "inside_volume": "7 L"},
    "full, of the strength wanted": {"inside": "50 % product", "inside_volume": "30 L"},
    "next to nothing": {"inside": "30 % product", "inside_volume": "0.02 L"},
}
EVERY_REMNANT = pytest.mark.parametrize("remnant", REMNANTS.values(), ids=REMNANTS.keys())


def printed(job, what):
    """Amounts as printed: those that the steps tell."""
    return (job.weigh if what else job.pour).items()


@EVERY_REMNANT
@pytest.mark.parametrize("weigh", [False, True])
@pytest.mark.parametrize("temp", ["5 °C", "20 °C", "35 °C"])
def test_printed_amounts_give_the_printed_outcome(remnant, weigh, temp):
    """By kilograms alone: what stays of the remnant, and what the printed figures bring."""
    job = mix(weigh=weigh, temp=temp, **remnant)
    held = [float(each[0]) for each in job.remnant[:3]]
    total = sum(held)
    stays = 1.0
    if job.remnant_m3:
        out = job.take_out_kg / total if weigh else job.take_out.m_as("L") / (1e3 * job.remnant_m3)
        assert out == pytest.approx(job.take_out_m3 / job.remnant_m3, rel=1e-6)
        stays = 1.0 - out
    parts = [stays * each for each in held]
    for product, amount in printed(job, weigh):
        kilograms = amount if weigh else product.mass_of(amount, temp)
        parts = [
            part + kilograms.m_as("kg") * each
            for part, each in zip(parts, product.share, strict=True)
        ]
    for part, after in zip(parts, job.plan.after[:3], strict=True):
        assert part == pytest.approx(float(after[0]), rel=1e-9)
    assert parts[0] / (parts[0] + parts[1]) == pytest.approx(job.after.frac_mass, rel=1e-9)
    assert sum(parts) == pytest.approx(job.made_kg, rel=1e-9)


@EVERY_REMNANT
@pytest.mark.parametrize("weigh", [False, True])
@pytest.mark.parametrize("target", ["50 % product", "-25 °C"])
def test_never_above_the_volume_nor_weaker_than_the_target(remnant, weigh, target):
    job = mix(target, weigh=weigh, **remnant)
    assert job.made_m3 <= job.volume_m3 * (1 + 1e-9)
    assert job.made_m3 >= job.volume_m3 - 3.2 * job.step.m3
    assert job.target_frac_mass - 1e-9 <= job.after.frac_mass <= job.target_frac_mass + 0.012


@pytest.mark.parametrize("remnant", [REMNANTS["none"], REMNANTS["weak"], REMNANTS["strong"]])
def test_weighed_and_measured_are_one_mix(remnant):
    measured, weighed = (mix(weigh=weigh, **remnant) for weigh in (False, True))
    assert exact(measured) == pytest.approx(exact(weighed), abs=1e-9)
    # One step is half a per cent of the batch; up to two of them by each way.
    assert measured.after.frac_mass == pytest.approx(weighed.after.frac_mass, abs=0.01)
    for product in BOTH:
        mass, litres = weighed.weigh[product], measured.pour[product]
        assert product.volume_of(mass).m_as("L") == pytest.approx(litres.m_as("L"), abs=0.25)


def test_twice_the_volume_twice_the_litres():
    one = mix(volume="20 L", inside="30 % product", inside_volume="16 L")
    two = mix(volume="40 L", inside="30 % product", inside_volume="32 L")
    assert exact(two) == pytest.approx([2 * each for each in exact(one)], rel=1e-9)


def test_a_colder_day_weighs_the_same():
    """Masses of a strength do not hang on the temperature: volumes do."""
    cold, warm = (mix(weigh=True, temp=temp, volume="1000 L") for temp in ("5 °C", "35 °C"))
    ratio = {t: job.weigh[CAN].m / job.weigh[cc.WATER].m for t, job in (("c", cold), ("w", warm))}
    assert ratio["c"] == pytest.approx(ratio["w"], rel=0.02)
    assert cold.weigh[CAN].m > warm.weigh[CAN].m  # the same litres, colder: more kilograms


# --- the independent simulation -------------------------------------------------------------------

EG_20, PG_25 = Liquid("ethylene glycol", 20), Liquid("propylene glycol", 25)
PG_20 = Liquid("propylene glycol", 20)
SIMULATED = {
    "ethylene glycol": (EG_20, concentrate(EG_20, 1.128), "20 °C"),
    "propylene glycol": (PG_25, concentrate(PG_25, 1.050, at_20=PG_20), "25 °C"),
}


@pytest.mark.parametrize("fluid", SIMULATED)
@pytest.mark.parametrize("target", [0.35, 0.5, 0.58])
@pytest.mark.parametrize(
    ("found", "held"),
    [(0.2, 3.0), (0.35, 17.0), (0.7, 4.0), (0.9, 18.0), (0.35, 24.0), (0.0, 1.0)],
)
@pytest.mark.parametrize("weigh", [False, True])
def test_against_the_simulation(fluid, target, found, held, weigh):
    liquid, can, temp = SIMULATED[fluid]
    product = cc.Product.generic(f"{fluid} concentrate")
    job = mix(
        f"{100 * target} % mass glycol",
        (cc.WATER, product),
        inside=f"{100 * found} % mass glycol",
        inside_volume=f"{held} L",
        temp=temp,
        weigh=weigh,
    )
    engine = Engine(liquid, can, held, found)
    engine.take_out(1e3 * job.take_out_m3)
    for each, can_like in ((product, can), (cc.WATER, water(liquid))):
        kilograms = job.weigh[each].m_as("kg")
        litres = 1e3 * kilograms * can_like.volume if weigh else job.pour[each].m_as("L")
        engine.pour(can_like, litres)
    assert job.after.frac_mass == pytest.approx(engine.share, abs=5e-4)
    assert engine.litres <= 20.0 * 1.001
    assert 1e3 * job.made_m3 == pytest.approx(engine.litres, abs=20 * 1e-3)


# --- remnants -------------------------------------------------------------------------------------


def test_a_remnant_that_fits_stays_in():
    job = mix(inside="30 % product", inside_volume="5 L")
    assert job.take_out.m == 0.0
    assert "Leave the 5.0 L that is inside in the container." in job.steps[0]
    assert job.whole_m3 is None and not job.notes


@pytest.mark.parametrize(
    ("remnant", "says"),
    [
        ("weak, some comes out", "is too weak for what there is room to pour: some of it has to"),
        ("strong, some comes out", "is too strong for what there is room to pour: some of it"),
        ("more than is wanted", "More is inside (30.0 L) than is wanted (20.0 L): some of it has"),
    ],
)
def test_why_some_has_to_come_out(remnant, says):
    job = mix(**REMNANTS[remnant])
    assert says in job.notes[0]
    assert job.take_out.m > 0.0
    assert f"take out {job.take_out.m:.1f} L of it" in job.steps[0]
    assert "it is no part of this batch" in job.steps[0]
    # And the volume that would take in all of it does.
    whole = mix(volume=f"{1e3 * job.whole_m3:.1f} L", **REMNANTS[remnant])
    assert whole.take_out.m_as("L") <= 0.2
    assert f"A batch of {1e3 * job.whole_m3:.1f} L would take in all of it." in job.notes[0]


def test_no_larger_batch_is_named_than_the_container_holds():
    job = mix(container="20 L", **REMNANTS["weak, some comes out"])
    assert "would take in all of it" not in str(job)


def test_a_remnant_that_is_no_use_is_thrown_out_whole():
    """Ready-mixed of the strength wanted: nothing of a weaker remnant can stay."""
    job = mix(pour=(READY, cc.WATER), inside="30 % product", inside_volume="3.33 L")
    assert job.emptied
    assert "Take out all that is inside (3.3 L)" in job.steps[0]
    assert job.take_out.m_as("L") == pytest.approx(3.3)
    assert job.pour[READY].m_as("L") == 20.0
    assert job.after.strength().share == pytest.approx(0.5, abs=1e-9)
    assert job.half_width == 0.0


def test_more_of_the_strength_wanted_than_is_wanted():
    job = mix(inside="50 % product", inside_volume="30 L")
    assert job.take_out.m_as("L") == pytest.approx(10.0)
    assert not any(each.m for each in job.pour.values())
    assert "Pour nothing: what is inside is the batch." in job.steps


@pytest.mark.parametrize(("found", "much"), [("60 % product", 7.5), ("50 % product", 6.25)])
def test_a_smaller_batch_where_the_remnant_is_all_the_glycol(found, much):
    """5 L of it thinned with water to 40 %, volumes adding: 5 · 60 / 40 = 7.5 L."""
    job = mix("40 % product", (cc.WATER,), inside=CAN.mix(found), inside_volume="5 L")
    assert job.blocked and job.status & Status.PRODUCT_TOO_WEAK
    assert 1e3 * job.whole_m3 == pytest.approx(much, abs=0.1)
    told = f"too little of it for 20.0 L: with all of it, {1e3 * job.whole_m3:.1f} L can be made."
    assert told in str(job)
    smaller = mix(
        "40 % product",
        (cc.WATER,),
        f"{1e3 * job.whole_m3:.1f} L",
        inside=CAN.mix(found),
        inside_volume="5 L",
    )
    assert not smaller.blocked and smaller.take_out.m_as("L") <= 0.2


# --- out of reach ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("target", "pour", "remnant", "status", "reach"),
    [
        ("55 % product", (READY, cc.WATER), {}, Status.PRODUCT_TOO_WEAK, "50 % of concentrate"),
        ("55 % product", (READY,), REMNANTS["weak"], Status.PRODUCT_TOO_WEAK, "50 % of conc"),
        ("40 % product", (READY, CAN), {}, Status.NO_DILUENT, "50 % of concentrate"),
        ("40 % product", (CAN,), {}, Status.NO_DILUENT, None),
        ("40 % product", (CAN,), REMNANTS["strong"], Status.NO_DILUENT, None),
    ],
)
def test_not_reachable(target, pour, remnant, status, reach):
    job = mix(target, pour, **remnant)
    assert job.blocked and job.status & status
    assert job.take_out is None and job.after is None and job.expect() is None
    assert job.pour == {} and job.weigh == {}
    assert "Not reachable" in str(job)
    assert not re.search(r"\d", " ".join(job.steps))
    if reach is None:
        assert "Within reach" not in str(job) + str(job.rows)
        return
    assert f"Within reach with what is listed: {reach}" in str(job)
    share = re.search(r"Within reach with what is listed: (\d+) %", str(job))[1]
    again = mix(f"{share} % product", pour, **remnant)
    assert not again.blocked
    assert again.after.frac_mass == pytest.approx(job.reach.frac_mass, abs=0.01)


def test_the_product_as_it_is():
    job = mix(pour=(READY,))
    assert job.pour[READY].m_as("L") == 20.0 and not job.notes
    assert "Stir" not in str(job.steps)
    assert "Shrinking" not in str(job.working)
    both = mix(pour=(READY, cc.WATER))
    assert both.pour[READY].m_as("L") == 20.0 and both.pour[cc.WATER].m == 0.0


# --- what to read ---------------------------------------------------------------------------------


def test_an_empty_container_is_as_sure_as_the_measure():
    """Half a step of 0.1 L of concentrate in 20 L moves half of it by 0.12 %: 0.2 K."""
    job = mix("-37 °C")
    low, value, high = (each.m_as("degC") for each in job.expect())
    assert high - low == pytest.approx(2 * 0.24, abs=0.1)
    assert low < value < high
    low, value, high = (each.m_as("degC") for each in job.expect(TOOL))
    assert high - low == pytest.approx(2.0, abs=0.1)
    with pytest.raises(InputError, match="tool: the scale was made for propylene glycol"):
        job.expect(Refractometer(made_for="propylene glycol"))


def test_the_give_or_take_of_the_remnant_goes_on():
    """By hand: a part of the glycol and water has the give or take of the reading."""
    job = mix("-37 °C", inside=TOOL.read("-16 °C"), inside_volume="10 L")
    old = float(job.remnant.glycol_kg[0] + job.remnant.water_kg[0])
    new = float(job.plan.after.glycol_kg[0] + job.plan.after.water_kg[0])
    assert job.half_width == pytest.approx(job.before.half_width * old / new, rel=0.03)
    assert "from the reading" in str(job.odds)
    another = Refractometer(made_for="ethylene glycol", error="1 K", name="another")
    same, other = job.expect(TOOL), job.expect(another)
    assert (same.high - same.low).m < (other.high - other.low).m


# --- weigh instead of measure ---------------------------------------------------------------------


def test_mass_and_volume_of_a_product():
    """5 L of concentrate of 1.128 kg/L; water of 0.9982 kg/L (CRC)."""
    assert CAN.mass_of("5 L").m_as("kg") == pytest.approx(5.64, abs=1e-9)
    assert cc.WATER.mass_of("10 L").m_as("kg") == pytest.approx(9.982, abs=5e-4)
    assert cc.WATER.mass_of("1 L", "4 °C").m_as("kg") == pytest.approx(0.99997, abs=5e-5)
    assert cc.WATER.mass_of("1 US gal").m_as("lb") == pytest.approx(8.33, abs=0.005)


@pytest.mark.parametrize("product", [CAN, PG_CAN, READY, cc.WATER, STRONG], ids=lambda p: p.name)
@pytest.mark.parametrize("temp", ["0 °C", "20 °C", "104 °F"])
def test_weighing_and_measuring_go_both_ways(product, temp):
    assert product.volume_of(product.mass_of("7 L", temp), temp).m_as("L") == pytest.approx(7.0)
    dense = product.mass_of("1 L", "0 °C"), product.mass_of("1 L", "40 °C")
    assert dense[0] > dense[1]


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: CAN.mass_of("5"), r"volume: 5 has no unit"),
        (lambda: CAN.mass_of("-5 L"), r"volume: −5 L is below 0 L"),
        (lambda: CAN.mass_of("5 kg"), r'volume: "kg" is not a unit of volume'),
        (lambda: CAN.volume_of("5 L"), r'mass: "L" is not a unit of mass'),
        (lambda: CAN.volume_of(cc.Q(5, "L")), r"mass: 5 .* is not a mass"),
        (lambda: CAN.mass_of("5 L", "50 °C"), r"temp: 50 °C is above 40 °C, the limit here"),
        (lambda: CAN.volume_of("5 kg", "-1 °C"), r"temp: −1 °C is below 0 °C, the limit here"),
    ],
)
def test_weighing_refuses(call, says):
    with pytest.raises(InputError, match=says):
        call()


# --- anything -------------------------------------------------------------------------------------

litres = st.floats(0.0, 60.0).map(lambda each: f"{each:.2f} L")
shelves = st.lists(st.sampled_from([CAN, READY, cc.WATER, PG_CAN]), max_size=3, unique=True)
remnants = st.one_of(
    st.none(),
    st.floats(0.0, 100.0).map(lambda each: f"{each:.1f} % product"),
    st.floats(-50.0, 0.0).map(lambda each: f"{each:.1f} °C"),
    st.floats(0.0, 100.0).map(lambda each: CAN.mix(f"{each:.1f} % product")),
)


@settings(deadline=None, max_examples=150)
@given(
    volume=litres,
    target=st.floats(0.0, 70.0).map(lambda each: f"{each:.1f} % product"),
    pour=shelves,
    inside=remnants,
    inside_volume=st.one_of(st.just("0 L"), litres),
    temp=st.floats(-2.0, 45.0).map(lambda each: f"{each:.0f} °C"),
    weigh=st.booleans(),
    show_in=st.sampled_from(["metric", "US", "imperial"]),
)
def test_answers_or_refuses(volume, target, pour, inside, inside_volume, temp, weigh, show_in):
    try:
        job = batch(
            volume=volume,
            target=target,
            pour=pour,
            inside=inside,
            inside_volume=inside_volume,
            temp=temp,
            weigh=weigh,
            show_in=show_in,
        )
    except CoolcalcError:
        return
    text = f"{job}{job.working}{job.odds}{job.rows}{job.columns()}"
    assert not re.search(r"\bnan\b|\binf\b", text), text
    if job.blocked:
        return
    coarsest = max(job.step.m3, job.mass_step.kg / 990.0)
    assert job.made_m3 <= job.volume_m3 * (1 + 1e-6) + 1e-9
    assert job.made_m3 >= job.volume_m3 - 4.0 * coarsest
    assert job.take_out_m3 <= job.remnant_m3 * (1 + 1e-9)
    assert float(ledger.volume_m3(job.plan.after, job.temp_k)[0]) == pytest.approx(job.made_m3)
    # A few steps of what is poured, against the whole.
    off = job.after.frac_mass - job.target_frac_mass
    told = "ends a little weaker than the target" in text
    assert told or off >= -2e-6
    assert abs(off) <= 4.0 * coarsest / job.volume_m3 + 1e-6
