"""What limits a correction: shelf, stock, drains, circuits of their own, a drain that is warm.

Litres are held to balances by hand, with volumes that add, and to the printed litres carried out
by `simulation`; texts to what no answer may say.
"""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.errors import CoolcalcError, InputError, Status
from coolcalc.system import FILLS, SideCircuit

from .simulation import Can, Engine, Liquid, concentrate, water

CAN = cc.Product.generic("ethylene glycol concentrate")
READY = cc.Product.generic("ethylene glycol ready-mixed 50 %")
PG_CAN = cc.Product.generic("propylene glycol concentrate")
TOOL = cc.Refractometer(made_for="ethylene glycol", error="1 K")
RUNS_OUT, PART = Status.STOCK_RUNS_OUT, Status.ONE_DRAIN_GIVES_PART

EG_20 = Liquid("ethylene glycol", 20)
EG_CAN, PLAIN = concentrate(EG_20, 1.128), water(EG_20)
#: As in test_simulation: published densities are good to 0.05 %.
STRENGTH_ABS, VOLUME_ABS = 5e-4, 0.01


def half_and_half():
    """A litre of concentrate with a litre of water, from published densities."""
    kg, plain = 1 / EG_CAN.volume, 1 / PLAIN.volume
    shares = [0.94 * kg, 0.03 * kg + plain, 0.03 * kg]
    glycol, water_share, additive = (each / (kg + plain) for each in shares)
    both = glycol + water_share
    volume = both * EG_20.volume_m3_kg(glycol / both) + additive * EG_CAN.additive_volume
    return Can(glycol, water_share, additive, volume, EG_CAN.additive_volume)


CANS = {CAN: EG_CAN, READY: half_and_half(), cc.WATER: PLAIN}


def of_product(share):
    """Glycol over glycol + water of concentrate and water by volume, by hand."""
    kg, plain = share / EG_CAN.volume, (1 - share) / PLAIN.volume
    return 0.94 * kg / (0.97 * kg + plain)


def yard(van=None, **more):
    told = {"found": "30 % product", "target": "50 % product", "pour": [CAN, cc.WATER]} | more
    return cc.correct_mix(system=cc.CoolingSystem(**{"capacity": "10 L"} | (van or {})), **told)


def side(state, volume="2 L", name="rear heater"):
    return {"side_circuits": SideCircuit(name=name, volume=volume, state=state)}


def exact(job):
    """Litres before rounding: out, and in by product, of each drain."""
    return 1e3 * job.exact.drain_m3[:, 0], 1e3 * job.exact.pour_m3[:, :, 0]


def carried_out(job, found, litres=10.0, grown=1.0):
    """Engine after the printed litres; ``grown`` is the volume drained warm over that at 20 °C."""
    engine = Engine(EG_20, EG_CAN, litres, found)
    for each in job.passes:
        engine.take_out(each.drain.m_as("L") / grown)
        for product, poured in each.pour.items():
            engine.pour(CANS[product], poured.m_as("L"))
        assert each.after.frac_mass == pytest.approx(engine.share, abs=STRENGTH_ABS)
    return engine


ONE_LITRE, NO_CAN = {"on_hand": {CAN: "1 L"}}, {"on_hand": {CAN: "0 L"}}
LOW, ALONE = {"low": "2 L"}, {"pour": [READY]}
THREE = [CAN, READY, cc.WATER]
MANY = {"van": {"drainable": "2 L"}}
#: Inputs, and litres inside before, where they are not those of the full system.
JOBS = {
    "weak": ({}, 10),
    "can ends": (ONE_LITRE, 10),
    "can ends, in quarts": (ONE_LITRE | {"show_in": "US"}, 10),
    "can is empty": (NO_CAN, 10),
    "can ends, low": (ONE_LITRE | LOW, 8),
    "can is empty, low": (NO_CAN | LOW, 8),
    "water ends": ({"found": "58 % product", "on_hand": {cc.WATER: "0.5 L"}}, 10),
    "strong and low, no can": ({"found": "52 % product"} | NO_CAN | LOW, 8),
    "three": ({"pour": THREE, "target": "45 % product"} | ONE_LITRE, 10),
    "ready-mixed": (ALONE | {"target": "40 % product"}, 10),
    "two drains": (MANY, 10),
    "two drains, in pints": (MANY | {"show_in": "imperial"}, 10),
    "two drains, can ends": (MANY | {"on_hand": {CAN: "2.5 L"}}, 10),
    "two drains, strong": (MANY | {"found": "58 % product", "target": "40 % product"}, 10),
    "two drains, low": (MANY | {"low": "1 L"}, 9),
    "one drain of two": (MANY | {"passes": 1}, 10),
    "side mixes": ({"van": side("mixes")}, 10),
    "side may not mix": ({"van": side("may not mix")}, 10),
    "side is shut": ({"van": side("shut")}, 8),
    "side is shut, low": ({"van": side("shut"), "low": "1 L"}, 7),
    "a margin": ({"aim": 0.9, "found": TOOL.read("-16 °C")}, 10),
}
NO_LITRES = {
    "only ready-mixed is allowed": {"van": {"fill": "ready-mixed only"}},
    "low conductivity": {"van": {"fill": "low-conductivity"}},
    "low conductivity, low": {"van": {"fill": "low-conductivity"}, "low": "1 L"},
    "ready-mixed is too weak": ALONE | {"target": "55 % product"},
    "ready-mixed is too strong": ALONE | {"found": "60 % product", "target": "45 % product"},
    "too weak, and little of it": ALONE | {"target": "55 % product", "on_hand": {READY: "1 L"}},
}
ANSWERS = {name: inputs for name, (inputs, _) in JOBS.items()} | NO_LITRES
for name in ("weak", "two drains", "can ends"):
    ANSWERS[f"{name}, drained warm"] = ANSWERS[name] | {"drain_temp": "35 °C"}
PERMISSION = re.compile(r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b", re.I)
TEMPERATURE = re.compile(r"\d ?(°|deg|K\b)")


# --- every answer ---------------------------------------------------------------------------------


@pytest.mark.parametrize("inputs", ANSWERS.values(), ids=ANSWERS.keys())
def test_texts(inputs):
    job = yard(**inputs)
    texts = [str(job), str(job.odds), str(job.working), job._repr_html_()]
    for text in texts:
        assert not re.search(r"\bnan\b|\binf\b|None|<Quantity|\{|\}", text)
        assert not PERMISSION.search(text)
        for sentence in re.split(r"[.:;]\s|\n|<", text):
            assert not (re.search(r"\bopen", sentence) and TEMPERATURE.search(sentence)), sentence
    assert "Cautions:" in texts[0] and "cold to the hand" in texts[0]
    steps = " ".join(job.steps).replace(job.target_words, "")
    decimals = [len(each) for each in re.findall(r"\d\.(\d+) (?:L|US qt|imp pt)\b", steps)]
    assert all(each <= job.step.decimals for each in decimals)
    assert not re.search(r"\d\.\d+ ?(°|%)", steps)
    (row,) = job.to_frame().to_dict("records")
    for each in row.values():
        assert each is None or isinstance(each, str) or math.isfinite(each)


@pytest.mark.parametrize(("inputs", "litres"), JOBS.values(), ids=JOBS.keys())
def test_printed_litres_end_where_the_answer_says(inputs, litres):
    job = yard(**inputs)
    engine = carried_out(job, job.before.frac_mass, litres)
    assert job.after.frac_mass == pytest.approx(engine.share, abs=STRENGTH_ABS)
    full = 1e3 * job.system.worked_m3
    assert engine.litres <= full * (1 + 1e-3)
    # A step of each drain and each pour is left out at most.
    steps = 1e3 * job.step.m3 * (1 + len(job.passes))
    assert engine.litres >= full * (1 - 1e-3) - steps
    if not job.status & (RUNS_OUT | PART):
        wanted = float(inputs.get("target", "50 % product").split()[0]) / 100
        assert engine.share >= of_product(wanted) - STRENGTH_ABS
    assert job.drain.m == pytest.approx(sum(each.drain.m for each in job.passes))
    for product, poured in job.pour.items():
        assert poured.m == pytest.approx(sum(each.pour[product].m for each in job.passes))
        on_hand = inputs.get("on_hand", {}).get(product, "inf L")
        assert poured.m_as("L") <= float(on_hand.removesuffix(" L")) + 1e-9


@pytest.mark.parametrize("inputs", NO_LITRES.values(), ids=NO_LITRES.keys())
def test_no_litres_and_what_to_do_next(inputs):
    job = yard(**inputs)
    assert job.drain is None and job.pour == {} and job.passes == ()
    assert job.after is None and job.expect() is None and job.chance_to_hold is None
    assert job.steps and not re.search(r"\d", " ".join(job.steps))
    assert job.to_frame()["drain [L]"][0] is job.to_frame()["drains [count]"][0] is None


# --- what is on hand ------------------------------------------------------------------------------


def test_one_litre_left_in_the_can():
    """By hand, volumes that add: 9 L of 30 % and 1 L of concentrate are 37 %."""
    job = yard(**ONE_LITRE)
    assert job.status == RUNS_OUT
    assert job.pour[CAN].m_as("L") == 1.0 and job.pour[cc.WATER].m == 0.0
    assert job.drain.m_as("L") == pytest.approx(1.0, abs=0.051)
    assert 100 * job.after.strength().share == pytest.approx(37, abs=0.5)
    notes = " ".join(job.notes)
    assert "37 % of concentrate" in notes and "does not reach the target" in notes
    assert "Fetch more" in " ".join(job.steps) and "50 % of concentrate" in " ".join(job.steps)
    none = yard(**NO_CAN)
    assert none.status == RUNS_OUT and none.nothing_to_do and "Take nothing out" in none.steps[0]


def test_ready_mixed_goes_on_where_the_can_ends():
    """By hand, out V: (10 - V) 20 % + 1 L of 100 % + (V - 1) of 50 % are 10 L of 45 %: V = 6.67."""
    job = yard(found="20 % product", target="45 % product", pour=THREE, **ONE_LITRE)
    assert job.status == Status.PLAIN
    (out, *_), ((can, ready, plain), *_) = exact(job)
    assert out == pytest.approx(2.0 / 0.3, abs=0.1)
    assert (can, plain) == pytest.approx((1.0, 0.0), abs=1e-9)
    assert ready == pytest.approx(2.0 / 0.3 - 1, abs=0.15)
    assert job.pour[CAN].m_as("L") == 1.0
    assert 100 * job.after.strength().share == pytest.approx(45, abs=0.5)


def test_a_mix_a_little_strong_and_low_is_not_drained_for_want_of_concentrate():
    """8 L of 52 % and 2 L of water are 41.6 %: every litre drained would make it weaker yet."""
    job = yard(found="52 % product", **LOW, **NO_CAN)
    assert job.drain.m == 0.0 and job.status & RUNS_OUT
    assert job.pour[cc.WATER].m_as("L") == pytest.approx(2.0, abs=0.051)
    assert 100 * job.after.strength().share == pytest.approx(41.6, abs=0.5)


@pytest.mark.parametrize("on_hand", [{CAN: "3 L"}, {CAN: "50 L", cc.WATER: "50 L"}, {}, None])
def test_enough_on_hand_is_no_limit(on_hand):
    """By hand: 10 (50 - 30) / (100 - 30) = 2.86 L, volumes adding."""
    job = yard(on_hand=on_hand)
    assert job.status == Status.PLAIN
    assert job.drain.m_as("L") == pytest.approx(2.86, abs=0.05)
    assert "runs out" not in str(job) and "Fetch more" not in str(job)


@pytest.mark.parametrize(
    ("on_hand", "says"),
    [
        ({READY: "1 L"}, "on_hand: ethylene glycol ready-mixed 50 % is not among what is to be"),
        ({"can": "1 L"}, "on_hand: can is not among what is to be poured"),
        ({CAN: "-1 L"}, "on_hand: −1 L is below 0 L"),
        ({CAN: "1"}, "on_hand: 1 has no unit"),
        ({CAN: 1.0}, "on_hand: 1 has no unit"),
        ({CAN: "1 kg"}, "on_hand: "),
        ({CAN: None}, "on_hand: nothing was entered"),
        ({CAN: float("nan")}, "on_hand: the value is not a finite number"),
        ("1 L", "on_hand: give what is left by product"),
        ([CAN], "on_hand: give what is left by product"),
    ],
)
def test_on_hand_refused(on_hand, says):
    with pytest.raises(InputError, match=says):
        yard(on_hand=on_hand)


# --- ready-mixed and nothing else -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("found", "target", "out"),
    [
        # By hand, volumes that add: 10 (t - f) / (50 - f).
        pytest.param("30 % product", "40 % product", 5.0, id="stronger than the target"),
        pytest.param("58 % product", "52 % product", 7.5, id="as the weaker one"),
        pytest.param("30 % product", "50 % product", 10.0, id="at the target: all of it"),
    ],
)
def test_ready_mixed_alone(found, target, out):
    job = yard(pour=[READY], found=found, target=target)
    assert not job.status & ~Status.TOO_STRONG
    assert exact(job)[0][0] == pytest.approx(out, abs=0.1)
    wanted = of_product(float(target.split()[0]) / 100)
    assert carried_out(job, job.before.frac_mass).share == pytest.approx(wanted, abs=0.003)


def test_ready_mixed_weaker_than_the_target():
    """All exchanged for it is 50 %; a hair weaker than the target, a reading takes it for it."""
    job = yard(pour=[READY], target="55 % product")
    assert job.status & Status.PRODUCT_TOO_WEAK
    assert 100 * job.reach.strength().share == pytest.approx(50, abs=0.1)
    assert "stronger" in " ".join(job.steps)
    near = yard(pour=[READY], found=TOOL.read("-30 °C"), target="-37 °C")
    assert not near.blocked and near.edge_aimed
    assert READY.frac_mass < near.target_frac_mass
    assert near.band[0] <= carried_out(near, near.before.frac_mass).share + STRENGTH_ABS


# --- several drains -------------------------------------------------------------------------------


def drains_by_hand(found, target, poured, part):
    """Volumes that add, ``part`` of all exchanged each time; the count is clear of an edge."""
    count = math.log((poured - target) / (poured - found)) / math.log(1 - part)
    assert 0.15 < count % 1 < 0.85
    return math.ceil(count)


#: Found, target, what is poured, as shares of product; litres that come out.
DRAINS = [(0.3, 0.5, 1.0, 2.0), (0.3, 0.5, 1.0, 1.2), (0.1, 0.5, 1.0, 3.5)]
DRAINS += [(0.2, 0.5, 1.0, 1.0), (0.58, 0.45, 0.0, 1.0), (0.6, 0.35, 0.0, 1.4)]


@pytest.mark.parametrize(("found", "target", "poured", "drainable"), DRAINS)
def test_several_drains(found, target, poured, drainable):
    count = drains_by_hand(found, target, poured, drainable / 10)
    told = {"found": f"{100 * found} % product", "target": f"{100 * target} % product"}
    van = {"drainable": f"{drainable} L"}
    job = yard(van=van, passes=6, **told)
    assert len(job.passes) == count and not job.status & (PART | RUNS_OUT)
    out, pours = (each[:count] for each in exact(job))
    assert out[:-1] == pytest.approx(drainable, rel=1e-9) and 0.0 < out[-1] <= drainable
    single, single_pours = exact(yard(**told))
    assert out.sum() > single.sum() and pours.sum() > single_pours.sum()
    engine = Engine(EG_20, EG_CAN, 10.0, of_product(found))
    for at in range(count):
        engine.take_out(out[at])
        engine.pour(EG_CAN, pours[at, 0])
        engine.pour(PLAIN, pours[at, 1])
        by_hand = poured - (poured - found) * (1 - drainable / 10) ** (at + 1)
        if at + 1 < count:
            assert engine.share == pytest.approx(of_product(by_hand), abs=0.005)
    assert engine.share == pytest.approx(of_product(target), abs=STRENGTH_ABS)
    assert engine.litres == pytest.approx(10.0, abs=VOLUME_ABS)
    assert f"it takes {count}," in " ".join(job.notes)
    fewer = yard(van=van, passes=count - 1, **told)
    assert fewer.status & PART and len(fewer.passes) == count - 1
    # Rounded, a level that is a hair low brings a step less out.
    assert all(abs(each.drain.m_as("L") - drainable) < 0.051 for each in fewer.passes)


def test_two_drains_in_the_order_of_the_work():
    job = yard(**MANY)
    text = "\n".join(job.steps)
    order = ["Engine off and cold", "Drain 1 of 2: take out 2.00 L", "Pour ", "run the engine"]
    order += ["cool until it is cold to the hand", "Drain 2 of 2: take out ", "Pour "]
    order += ["run the engine", "cool until it is cold to the hand", "Read again: expect", "waste"]
    at = 0
    for each in order:
        at = text.lower().index(each.lower(), at) + len(each)
    (row,) = job.to_frame().to_dict("records")
    assert row["drains [count]"] == 2
    assert row["drain [L]"] == pytest.approx(job.drain.m_as("L"))
    assert f"{job.drain.m:.2f} L of old mix is waste" in text


def test_the_can_ends_in_the_second_drain():
    """2 L go in first: 44 %. The 0.5 L left exchange as much of that: 46.8 %."""
    job = yard(**MANY, on_hand={CAN: "2.5 L"})
    assert job.status == RUNS_OUT and len(job.passes) == 2
    assert job.pour[CAN].m_as("L") == 2.5
    assert 100 * job.after.strength().share == pytest.approx(44 * 0.95 + 5, abs=0.5)


@pytest.mark.parametrize("passes", [7, 0, -1, True, "2", 2.0, None])
def test_passes_refused(passes):
    with pytest.raises(InputError, match=r"passes: .* is not a number of drains from 1 to 6"):
        yard(passes=passes)


# --- circuits that are not corrected, and circuits of their own -----------------------------------


@pytest.mark.parametrize("fill", FILLS[1:])
def test_circuits_that_are_not_corrected(fill):
    job = yard(van={"fill": fill})
    assert job.status & Status.NOT_TO_BE_CORRECTED
    assert fill in job.notes[0] and "flush" in " ".join(job.steps)
    assert "Within reach" not in str(job)


def test_a_side_circuit_that_mixes_is_part_of_the_whole():
    job, plain = yard(van=side("mixes")), yard()
    engine = carried_out(job, of_product(0.3))
    assert engine.share == pytest.approx(of_product(0.5), abs=0.006)
    assert exact(job)[0] == pytest.approx(exact(plain)[0], rel=1e-12)
    assert job.steps[0].replace(" and valve of rear heater", "") == plain.steps[0]
    assert (job.notes, job.steps[1:], job.rows) == (plain.notes, plain.steps[1:], plain.rows)


def test_a_side_circuit_that_is_shut_is_left_out():
    """8 L are worked on, by hand: 8 (50 - 30) / 70 = 2.29 L."""
    job = yard(van=side("shut"))
    assert exact(job)[0][0] == pytest.approx(8 * 20 / 70, abs=0.03)
    engine = carried_out(job, of_product(0.3), 8.0)
    assert engine.share == pytest.approx(of_product(0.5), abs=0.007)
    assert "rear heater" not in job.steps[0]
    assert re.search(r"(?i)rear heater \(2\.00 L\) is shut", " ".join(job.notes))


@pytest.mark.parametrize("volume", [1.0, 2.0, 5.0])
@pytest.mark.parametrize("drains", [{}, MANY["van"]])
def test_a_side_circuit_that_may_not_mix(volume, drains):
    """The same litres into the capacity less the side: what the rest then reads."""
    job = yard(van=side("may not mix", f"{volume} L") | drains)
    assert exact(job)[0].sum() > 2.7  # the whole capacity is worked on
    engine = Engine(EG_20, EG_CAN, 10.0 - volume, of_product(0.3))
    for each in job.passes:
        engine.take_out(each.drain.m_as("L"))
        engine.pour(EG_CAN, each.pour[CAN].m_as("L"))
    (note,) = (each for each in job.notes if "may not have mixed" in each)
    told = int(re.search(r"the rest reads (\d+) % of concentrate", note)[1])
    assert of_product(told / 100) == pytest.approx(engine.share, abs=0.006)
    assert "valve of rear heater" in job.steps[0]


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (side("shut", "9.1 L"), r"side_circuits: 9\.10 L is more than nine tenths of the capacity"),
        ({"side_circuits": [SideCircuit(name=each, volume="5 L") for each in "ab"]}, "nine tenths"),
        (side("shut") | {"drainable": "9 L"}, r"drainable: 9\.00 L is more than the system holds"),
        (side("shut", "8 L") | {"capacity_error": "1 L"}, r"capacity_error: 1\.00 L is half of"),
        ({"side_circuits": "ab"}, r"side_circuits: 'ab' is no side circuit"),
        ({"fill": "oil"}, r'fill: "oil" is not one of the choices'),
        ({"state": "open"}, r'state: "open" is not one of the choices'),
        ({"volume": "-1 L"}, r"side circuit: −1 L is below 0 L"),
        ({"volume": "2"}, r"side circuit: 2 has no unit"),
    ],
)
def test_system_refused(more, says):
    of_a_side = {"state", "volume"} & set(more)
    made = SideCircuit if of_a_side else cc.CoolingSystem
    with pytest.raises(InputError, match=says):
        made(**{"name": "tank", "volume" if of_a_side else "capacity": "10 L"} | more)


# --- drained warm ---------------------------------------------------------------------------------
# 40 mass % of ethylene glycol, kg/m3 at 0, 20, 40 °C: source key `melinder-2010`; a parabola
# through the three gives 35 °C. Propylene glycol at 20 °C: `melinder-2010`, at 35 °C, measured:
# `macbeth-1951`. Each is stated to 1.5 at most, so the expansion to 0.2 %.

WARM_DENSITY = {
    CAN: (1051.86, 1041.35 * 0.65625 + 1051.86 * 0.4375 - 1060.39 * 0.09375),
    PG_CAN: (1032.27, 1022.95),
}


@pytest.mark.parametrize("can", [CAN, PG_CAN])
@pytest.mark.parametrize("van", [{}, {"drainable": "2 L"}])
def test_drained_warm_is_the_same_mix_in_more_litres(can, van):
    told = {"found": "40 % mass glycol", "target": "55 % mass glycol", "pour": [can, cc.WATER]}
    cold, warm = yard(van=van, **told), yard(van=van, **told, drain_temp="35 °C")
    additives = 0.4 * 0.03 / 0.94 * can.additive_volume_m3_kg  # they keep their volume
    at_20, at_35 = (1 / density + additives for density in WARM_DENSITY[can])
    assert at_35 / at_20 > 1.006
    (out, pours), (warm_out, warm_pours) = exact(cold), exact(warm)
    assert warm_out[0] / out[0] == pytest.approx(at_35 / at_20, abs=0.002)
    assert warm_pours == pytest.approx(pours, rel=1e-9, abs=1e-12)
    for one, other in zip(warm.exact.after[:4], cold.exact.after[:4], strict=True):
        assert one == pytest.approx(other, rel=1e-9)
    assert "those taken out at 35 °C" in str(warm) and "those taken out" not in str(cold)
    if can is CAN:
        engine = carried_out(warm, 0.4, grown=at_35 / at_20)
        assert engine.share == pytest.approx(0.55, abs=0.006)


@pytest.mark.parametrize("temp", ["41 °C", "90 °C", "200 °F"])
def test_a_hot_drain_is_refused(temp):
    with pytest.raises(InputError, match=r"drain_temp: .* is not the temperature of a cold"):
        yard(drain_temp=temp)


# --- whatever is entered --------------------------------------------------------------------------

LITRES = ["0 L", "0.3 L", "1 L", "1.9 L", "2,5 L", "1 US gal", "8.9 L", "10 L"]
LITRES += ["-1 L", "5", "", "1e9 L", None, 3.0, math.nan, math.inf, cc.Q(1, "L"), cc.Q(1, "kg")]
MIXES = ["30 % product", "49.9 % product", "60 % product", "100 % product", "33 % mass glycol"]
MIXES += ["-16 °C", "-37 °C", "-0.1 °C", READY.mix("60 % product"), TOOL.read("-30 °C")]
MIXES += ["0 % product", "5 °C", "50 %", "", "-80 °C", None, 50, cc.Q(-16, "degC"), object()]


def one(usual, *odd):
    """Mostly something usual."""
    odd = st.sampled_from([*odd, None, "", -1, math.nan])
    return st.integers(0, 19).flatmap(lambda draw: odd if draw == 19 else st.sampled_from(usual))


def some(fields):
    return st.fixed_dictionaries({}, optional=fields)


SIDES = st.fixed_dictionaries(
    {"name": st.text(max_size=4), "volume": one(LITRES[:2], "5", "1e9 L")},
    optional={"state": one(["mixes", "may not mix", "shut"])},
)
VANS = dict(
    capacity=one(["10 L", "5 L", "0.2 L", "45 L", "10000 L"], *LITRES),
    capacity_error=one(["0 L", "0.1 L", "1 L"], *LITRES),
    drainable=one(LITRES[:8], *LITRES),
    sides=st.lists(SIDES, max_size=2),
    fill=one(FILLS[:1] * 9 + FILLS),
)
ASKED = dict(
    found=one(MIXES[:10], *MIXES[10:]),
    target=one(MIXES[:7], *MIXES),
    pour=st.lists(st.sampled_from([*CANS] * 5 + [PG_CAN]), min_size=1, max_size=3, unique=True),
    on_hand=st.dictionaries(st.sampled_from([*CANS]), one(LITRES[:8], *LITRES), max_size=2),
    low=one(LITRES[:4], *LITRES),
    passes=one([1, 2, 4, 6], 0, 7, True, 2.5),
    temp=one(["20 °C", "1 °C", "40 °C"], "90 °C", 20),
    drain_temp=one(["20 °C", "35 °C", "0 °C"], "90 °C", 20),
    aim=one([0.5, 0.9, "99 %"], 2, "x"),
    show_in=one(["metric", "US", "imperial"], "x"),
)


@settings(max_examples=200, deadline=None)
@given(van=some(VANS), asked=some(ASKED))
def test_whatever_is_entered_is_answered_or_refused_in_words(van, asked):
    try:
        sides = [SideCircuit(**each) for each in van.pop("sides", [])]
        job = yard(van=van | {"side_circuits": sides}, **asked)
    except CoolcalcError:
        return
    told = str(job) + str(job.odds) + str(job.working) + job._repr_html_()
    assert not re.search(r"\bnan\b|\binf\b|<Quantity", told)
    assert job.blocked or 0.0 <= job.after.frac_mass <= 1.0
    assert job.to_frame().shape[0] == 1
