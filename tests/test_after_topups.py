"""Topping up with water: the textbook rule, the simulation, what is kept, words, refusals."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc import fluids
from coolcalc.balance import dilution, ledger
from coolcalc.balance.composition import Composition, ProductSI
from coolcalc.errors import FormError, InputError, Status

from .brute_odds import HALF_WIDTH_IN_SD
from .simulation import Engine, Liquid, concentrate, water

EG, PG = "ethylene glycol", "propylene glycol"
CAN = cc.Product.generic(f"{EG} concentrate")
PG_CAN = cc.Product.generic(f"{PG} concentrate")
TOOL = cc.Refractometer(made_for=EG, error="1 K")
TEN = cc.CoolingSystem(capacity="10 L")
TEMP_K = 293.15


def topped(topups=6 * ("0.5 L",), found="50 % product", system=TEN, **more):
    if isinstance(found, str):
        found = CAN.mix(found)
    return cc.after_topups(system=system, found=found, topups=topups, **more)


def shares(job):
    return [mixture.strength().share for mixture in job.strengths]


# --- the textbook rule ----------------------------------------------------------------------------

# Plain arithmetic: 50 % × 0.95^n.
RULE = (47.5, 45.1, 42.9, 40.7, 38.7, 36.8)


def test_textbook_rule():
    for count, percent in enumerate(RULE, 1):
        rule = dilution.rule_share(0.5, count * [0.5], 10.0)
        assert 100 * rule == pytest.approx(percent, abs=0.05)
    assert dilution.rule_share(0.5, [0.5, 1.0, 2.0], 10.0) == pytest.approx(0.5 * 0.95 * 0.9 * 0.8)
    assert dilution.rule_count(0.5, 0.5 * 0.95**4, 0.5, 10.0) == pytest.approx(4.0)


def test_by_mass_is_near_the_rule():
    """Glycol and water take up about 1 % less together: that of 3 L of water, 0.2 % of product."""
    job = topped()
    assert 100 * np.array(shares(job)) == pytest.approx(RULE, abs=0.2)
    assert "50.0 % × (1 − 0.50 L / 10.00 L) to the power 6 = 36.8 %; by mass it is 36.9 %" in str(
        job.working
    )
    # A number that is broken on purpose is found out.
    assert 100 * np.array(shares(topped(6 * ("0.55 L",))))[-1] != pytest.approx(36.8, abs=1.0)


@pytest.mark.parametrize(
    ("standard", "lost"), [("48 %", 1), ("45 %", 3), ("40 %", 5), ("31 %", 10)]
)
def test_with_which_top_up_the_standard_is_lost(standard, lost):
    """The rule: ln(standard / 50) / ln 0.95 is 0.8, 2.05, 4.4 and 9.3."""
    job = topped(("0.5 L",), standard=f"{standard} product")
    assert job.lost_after == lost
    assert "of equal top-ups of 0.50 L" in dict(job.rows)["Standard lost"]
    held = topped((lost - 1) * ("0.5 L",), standard=f"{standard} product") if lost > 1 else None
    assert held is None or held.holds
    assert topped(lost * ("0.5 L",), standard=f"{standard} product").holds is False


def test_a_standard_that_is_just_held_is_lost_with_the_first():
    job = topped(standard="50 % product")
    assert job.lost_after == 1


def test_a_standard_that_was_never_held():
    job = topped(standard="55 % product")
    assert job.lost_after == 0
    assert "The standard was not held before the first top-up either." in job.notes


def test_a_standard_that_is_not_lost_by_so_little():
    job = topped(("0.01 L",), standard="10 % product", system=cc.CoolingSystem(capacity="1000 L"))
    assert job.lost_after is None
    assert "with none of 1000 top-ups" in dict(job.rows)["Standard lost"]


def test_unequal_top_ups_are_counted_by_their_mean():
    job = topped(("0.4 L", "0.6 L"), standard="45 % product")
    assert job.lost_after == 3
    assert "of equal top-ups of 0.500 L, their mean" in str(job)


# --- the independent simulation -------------------------------------------------------------------

# Densities good to 0.05 %, as in test_simulation; a gram's step is far below it.
STRENGTH_ABS = 5e-4
LIQUIDS = {
    EG: (Liquid(EG, 20), concentrate(Liquid(EG, 20), 1.128), "20 °C", CAN),
    PG: (Liquid(PG, 25), concentrate(Liquid(PG, 25), 1.050, at_20=Liquid(PG, 20)), "25 °C", PG_CAN),
}


@pytest.mark.parametrize("fluid", LIQUIDS)
@pytest.mark.parametrize("lost", ["mix", "steam"])
@pytest.mark.parametrize(
    ("found", "topups"), [(0.3, (1.0, 0.5)), (0.5, 6 * (0.5,)), (0.58, (2.0, 1.0, 0.3, 1.5))]
)
def test_carried_out_a_gram_at_a_time(fluid, lost, found, topups):
    liquid, can, temp, product = LIQUIDS[fluid]
    engine = Engine(liquid, can, 10.0, found)
    before = engine.additive / engine.litres
    job = cc.after_topups(
        system=TEN,
        found=product.mix(f"{100 * found} % mass glycol"),
        topups=[f"{litres} L" for litres in topups],
        temp=temp,
        lost=lost,
        additive={"nitrite": "1000 mg/L"},
    )
    for litres, low, full in zip(topups, job.lows, job.strengths, strict=True):
        if lost == "mix":
            engine.take_out(litres)
        else:
            engine.water -= litres * 1e-3 / liquid.volume_m3_kg(0.0)
        assert low.frac_mass == pytest.approx(engine.share, abs=STRENGTH_ABS)
        engine.pour(water(liquid), litres)
        assert full.frac_mass == pytest.approx(engine.share, abs=STRENGTH_ABS)
    carried = engine.additive / engine.litres / before
    assert job.carried == pytest.approx(carried, rel=2e-3)
    assert job.additive_after["nitrite"] == pytest.approx(1000 * carried, rel=2e-3)


# --- what is kept ---------------------------------------------------------------------------------

moves = st.lists(
    st.tuples(st.sampled_from(["mix", "steam", "water"]), st.floats(0.0, 0.02)), max_size=8
)


def filled(volume=0.01, found=0.5, fluid=EG):
    return ledger.contents(
        fluid, np.array([volume]), np.array([found]), 0.03 / 0.94, 4.6e-4, TEMP_K
    )


ONLY_WATER = Composition(0.0, 1.0, 0.0)


def amounts(state):
    return np.array([float(each[0]) for each in state[:4]])


@settings(deadline=None)
@given(
    found=st.floats(0.01, 0.9), temp_k=st.floats(275.0, 310.0), moves=moves,
    fluid=st.sampled_from([EG, PG, "glycerol"]),
)  # fmt: skip
def test_mass_is_kept(found, temp_k, moves, fluid):
    """Glycol, water, additives and all together, over any order of losses and top-ups."""
    state = filled(found=found, fluid=fluid)
    expected = amounts(state)
    for kind, volume in moves:
        kg = volume * float(fluids.density_kg_m3(fluid, 0.0, temp_k))
        if kind == "mix":
            held = float(ledger.volume_m3(state, temp_k)[0])
            expected *= max(1.0 - volume / held, 0.0) if held > 0.0 else 1.0
            state = dilution.lose(state, volume, temp_k, steam=False)
        elif kind == "steam":
            expected[1] = max(expected[1] - kg, 0.0)
            state = dilution.lose(state, volume, temp_k, steam=True)
        else:
            expected[1] += kg
            state = ledger.pour(state, ProductSI(fluid, ONLY_WATER, 0.0), volume, temp_k)
        assert amounts(state) == pytest.approx(expected, rel=1e-9, abs=1e-12)
        assert amounts(state)[:3].sum() == pytest.approx(expected[:3].sum(), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("steam", [False, True])
def test_top_ups_are_losses_and_pours_in_turn(steam):
    made = dilution.top_up(filled(), [1e-3, 2e-3], TEMP_K, steam=steam)
    low = dilution.lose(made.full[0], 2e-3, TEMP_K, steam)
    assert list(amounts(made.low[1])) == list(amounts(low))
    poured = amounts(made.full[1]) - amounts(made.low[1])
    # IAPWS-95: 998.21 kg/m3 at 20 °C.
    assert poured == pytest.approx([0.0, 2e-3 * 998.21, 0.0, 0.0], rel=1e-4, abs=1e-12)


def test_never_more_steam_than_water():
    state = ledger.boil_off(filled(), 1e3)
    assert state.water_kg[0] == 0.0
    assert state.glycol_kg == filled().glycol_kg
    assert state.additive_m3 == filled().additive_m3


def test_rows_do_not_disturb_each_other():
    many = ledger.contents(
        EG, np.array([0.01, 0.02, 0.05]), np.array([0.2, 0.4, 0.6]), 0.03, 4.6e-4, TEMP_K
    )
    volumes = np.array([[1e-3, 2e-3, 1e-3], [5e-4, 0.0, 3e-3]])
    together = dilution.top_up(many, volumes, TEMP_K).full[-1]
    counts = dilution.count_until_weaker(many, 1e-3, TEMP_K, np.array([0.15, 0.3, 0.61]))
    for at in range(3):
        one = ledger.State(*(each[at : at + 1] for each in many[:4]), EG)
        alone = dilution.top_up(one, volumes[:, at], TEMP_K).full[-1]
        assert alone.glycol_kg == together.glycol_kg[at]
        assert alone.water_kg == together.water_kg[at]
        weakest = (0.15, 0.3, 0.61)[at]
        assert dilution.count_until_weaker(one, 1e-3, TEMP_K, weakest) == counts[at]
    assert counts[2] == 0


def test_what_boils_off_comes_back():
    job = topped(("1 L", "2 L"), lost="steam", standard="45 % product")
    assert job.after.frac_mass == pytest.approx(job.before.frac_mass, rel=1e-12)
    assert [low.frac_mass > job.before.frac_mass for low in job.lows] == [True, True]
    assert job.carried == pytest.approx(1.0)
    assert job.holds and job.lost_after is None
    assert "the strength is as it was" in job.notes[1]
    assert "with water that meets the maker's limits" in job.steps[-1]
    # 10 L of 50 % hold 5.2 kg of water; without 0.998 kg of it 50.7 mass % is 5.35/(10.55 - 0.998).
    assert topped(("1 L",), lost="steam").lows[0].frac_mass == pytest.approx(0.5600, abs=5e-4)


# --- how sure it is -------------------------------------------------------------------------------


def test_spread_against_draws():
    """Reading and capacity drawn, the same litres lost and poured by the simulation's own sums."""
    found = cc.Mixture(product=CAN, frac_mass=0.5, half_width=0.02)
    system = cc.CoolingSystem(capacity="10 L", capacity_error="0.8 L")
    job = topped(found=found, system=system, standard="38 % mass glycol")
    random = np.random.default_rng(1)
    count = 20_000
    share = 0.5 + 0.02 * random.standard_normal(count) / HALF_WIDTH_IN_SD
    litres = 10.0 + 0.8 * random.standard_normal(count) / HALF_WIDTH_IN_SD
    liquid, can, _, _ = LIQUIDS[EG]
    engine = Engine(liquid, can, litres, share, steps=20)
    for _ in range(6):
        engine.take_out(0.5)
        engine.pour(water(liquid), 0.5)
    low, high = np.percentile(engine.share, [2.5, 97.5])
    assert job.half_width == pytest.approx((high - low) / 2, rel=0.04)
    assert job.chance_to_hold == pytest.approx(np.mean(engine.share >= 0.38), abs=0.03)
    assert set(job.causes) == {"found", "capacity"}
    exact = topped(found=CAN.mix("50 % product"))
    assert exact.half_width == 0.0
    assert "No error that moves the strength was entered." in str(exact.odds)


# --- hours and additives --------------------------------------------------------------------------


def test_litres_in_1000_hours():
    """3 L in 250 h is 12 L in 1,000 h."""
    job = topped(hours=250)
    assert job.rate_m3 == pytest.approx(0.012)
    assert (
        "That is 12.00 L in 1,000 h (3.00 L in 250 h). Topping up again and again is a leak until "
        "shown otherwise." in job.notes
    )
    assert job.columns()["topped up in 1000 h [L]"] == pytest.approx(12.0)
    assert topped().rate_m3 is None


def test_additives_are_carried_not_prescribed():
    job = topped(additive={"nitrite": "1200 ppm", "molybdate": 300})
    (note,) = (note for note in job.notes if "by dilution alone" in note)
    # 0.95^6 is 0.735: 882 and 221.
    assert "Nitrite: 1200 mg/L before, by dilution alone about 880 mg/L now; Molybdate: 300" in note
    assert "about 220 mg/L now. Used-up chemistry is not counted: test again" in note
    assert note.endswith("limits decide. No nitrite in an organic coolant is no fault.")
    assert not re.search(r"\b(add|dose|charge)\b", str(job), re.IGNORECASE)
    only = topped(additive={"molybdate": "300 mg/L"})
    assert "organic" not in str(only)


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_as", "says"),
    [
        ({"topups": "0.5 L"}, "topups: '0.5 L' is no list of top-ups; give the volume of each"),
        ({"topups": ()}, "topups: nothing was entered; give the volume of each, in their order"),
        ({"topups": None}, "topups: nothing was entered; give the volume"),
        ({"topups": cc.Q(1, "L")}, "topups: '1 liter' is no list of top-ups"),
        ({"topups": 501 * ("0.1 L",)}, "501 top-ups are more than 500; read the mix"),
        ({"topups": ("0.5 L", "0 L")}, "topups, 2: 0 L is no top-up; leave it out."),
        ({"topups": ("0.5",)}, "topups, 1: 0.5 has no unit"),
        ({"topups": ("9.5 L",)}, "topups, 1: 9.50 L is more than nine tenths of what the system"),
        ({"topups": ("7 L",), "lost": "steam"}, "7.00 L is as much water as is in the mix, or"),
        ({"lost": "steam leak"}, 'lost: "steam leak" is not one of the choices; use one of "mix"'),
        ({"found": CAN.mix("0 % product")}, "found: that is plain water, which water does not"),
        ({"found": None}, "found: nothing was entered; give a reading of an instrument"),
        ({"found": cc.Strength(0.5, "volume % of product")}, "does not say which glycol is inside"),
        ({"hours": 0}, "hours: 0 h give no rate; enter the hours over which"),
        ({"hours": "-1 h"}, "hours: −1 h is below 0 h"),
        ({"additive": "nitrite"}, "additive: 'nitrite' names nothing; give what was tested"),
        ({"additive": {"": "3 mg/L"}}, "additive: '' is no name; write what was tested."),
        ({"additive": {"nitrite": "lots"}}, 'additive, nitrite: "lots" does not begin with'),
        ({"standard": "50 %"}, "standard: 50 %: per cent of what?"),
        ({"standard": "20 °C"}, "standard: 20 °C: coolant freezes below zero"),
        ({"temp": "90 °C"}, "temp: 90 °C is not the temperature of a cold engine"),
        ({"system": "10 L"}, "system: '10 L' is not a cooling system"),
    ],
)
def test_refusals(given_as, says):
    with pytest.raises(InputError, match=re.escape(says)):
        topped(**given_as)


def test_all_refusals_at_once():
    with pytest.raises(FormError) as refused:
        topped(topups="0.5 L", lost="both", hours=-1)
    assert [error.field for error in refused.value.errors] == ["lost", "topups", "hours"]


# --- the answer -----------------------------------------------------------------------------------

ANSWERS = {
    "mix": lambda: topped(standard="-30 °C", hours="250 h", additive={"nitrite": "1200 mg/L"}),
    "reading": lambda: topped(found=TOOL.read("-37 °C"), standard="45 % product"),
    "steam": lambda: topped(("1 L", "2 L"), lost="steam", standard="-30 °C"),
    "one": lambda: topped(("0.3 L",)),
    "many": lambda: topped(40 * ("0.1 L",), standard="40 % product"),
    "US": lambda: topped(3 * ("1 US qt",), show_in="US", standard="-34 F"),
    "imperial": lambda: topped(("1 imp pt",), show_in="imperial"),
    "propylene glycol": lambda: topped(found=PG_CAN.mix("50 % product"), standard="-30 °C"),
    "strong": lambda: topped(("0.5 L",), found="90 % product", standard="50 % product"),
    "not by hand": lambda: topped(
        system=cc.CoolingSystem(capacity="10 L", fill="low-conductivity")
    ),
    "sides": lambda: topped(
        system=cc.CoolingSystem(
            capacity="20 L",
            capacity_error="1 L",
            side_circuits=(
                cc.SideCircuit(name="rear heater", volume="2 L"),
                cc.SideCircuit(name="tank", volume="3 L", state="shut"),
            ),
        ),
    ),
}
EVERY = pytest.mark.parametrize("make", ANSWERS.values(), ids=ANSWERS.keys())
PERMISSION = re.compile(r"\bsafe(ly)?\b|\b(may|can|could)\b (be )?open|\bok(ay)?\b", re.IGNORECASE)


@EVERY
def test_every_answer_has_its_parts(make, tmp_path):
    job = make()
    for text in (str(job), job._repr_html_(), str(job.working), str(job.odds)):
        assert not re.search(r"\bnan\b|\binf\b|None\b|<Quantity|\{|\}", text), text
        assert not PERMISSION.search(text)
    swallow = "poison" if job.before.fluid == EG else "swallow"
    codes = {"hot", "cold_into_hot", swallow, "skin", "waste", "authority"}
    assert {caution.code for caution in job.cautions} == codes
    assert all(caution.text in str(job) for caution in job.cautions)
    assert job.sources and job.assumptions and job.steps
    labels = [row.label for row in job.rows]
    assert sum(label.startswith("After top-up") for label in labels) == len(job.topups_m3)
    (row,) = job.to_frame().to_dict("records")
    for name, value in row.items():
        assert value is None or isinstance(value, str) or np.isfinite(value), name
    for suffix in ("pdf", "html"):
        assert job.save_card(tmp_path / f"card.{suffix}").stat().st_size > 1000
    for show_in in ("metric", "US", "imperial"):
        again = job.shown_in(show_in)
        assert again.after == job.after
        assert again.status == job.status


def test_a_card_lists_the_last_of_many_top_ups():
    job = ANSWERS["many"]()
    labels = [row.label for row in job.card_rows if row.label.startswith("After top-up")]
    assert labels == ["After top-up 40 (0.10 L)"]


def test_steps_come_in_the_order_of_the_work():
    text = str(topped(found=TOOL.read("-37 °C"), standard="45 % product"))
    order = ["After 6 top-ups", "1. Engine off and cold to the hand: find out where it went"]
    order += ["leak until shown otherwise; look for it", "heater on hot", "before the vehicle"]
    order += [
        "cold to the hand, and read on the same refractometer: expect −",
        "If it reads weaker",
    ]
    order += ["enter the reading in a correction of the mix", "top up with mix that holds"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


def test_a_circuit_that_is_not_corrected_by_hand():
    job = ANSWERS["not by hand"]()
    assert job.status == Status.NOT_TO_BE_CORRECTED
    assert len(job.steps) == 2 and "flush" in job.steps[1]


def test_a_ready_mixed_circuit_is_run_and_read_and_not_corrected_by_hand():
    system = cc.CoolingSystem(capacity="10 L", fill="ready-mixed only")
    steps = topped(system=system, standard="50 % product").steps
    order = ["find out where it went", "heater on hot", "and read: expect", "out of frost"]
    order += ["drain it, flush it and fill it with what its maker", "as it is delivered"]
    text = "\n".join(steps)
    places = [text.index(each) for each in order]
    assert places == sorted(places)
    assert "correction of the mix" not in text and "clean can" not in text
    assert "Water in it makes it weaker" not in str(topped(system=system, lost="steam"))


def test_a_mix_that_is_too_strong_does_not_pass_as_held():
    """81 % of concentrate is about 80 mass % of glycol, past 60 where no target lies."""
    job = topped(("0.1 L",), found="81 % product", standard="45 % product")
    text = str(job)
    assert "It is too strong" in text and "It holds the standard" not in text
    assert "That is too strong: enter the reading in a correction" in text
    assert "top up with mix" not in text and "out of frost" in text
    assert "not to be counted on" in dict(job.rows)["Chance to hold the standard"]
    assert "more than 99 %" not in text + str(job.odds)


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ({"standard": "45 % product"}, "does not hold the standard"),
        ({}, "weaker than it was"),
        ({"lost": "steam"}, "made up with water, not mix"),
        (
            {"system": cc.CoolingSystem(capacity="10 L", fill="ready-mixed only")},
            "ready-mixed only, and water was poured in",
        ),
    ],
)
def test_no_label_tells_to_top_up_with_what_is_to_be_corrected(asked, why, tmp_path):
    with pytest.raises(InputError, match=why):
        topped(**asked).save_label(tmp_path / "label.html")
    topped(("0.1 L",), standard="45 % product").save_label(tmp_path / "label.html")


def test_what_was_asked_is_kept():
    topups = ["0.5 L", "0.5 L"]
    job = topped(topups)
    topups.append("5 L")
    assert job.shown_in("US").topups_m3 == job.topups_m3
