"""What must hold of every job: curves and limits counted, inputs kept, refusals whole."""

import pickle

import numpy as np
import pytest

import coolcalc as cc
from coolcalc.balance import exchange, ledger, spread
from coolcalc.errors import (
    FormError,
    InputError,
    OutOfRangeError,
    Status,
    TwoAnswersError,
)

EG = "ethylene glycol"
CAN = cc.Product.generic("ethylene glycol concentrate")
VAN = cc.CoolingSystem(capacity="10 L", drainable="6.5 L")
TOOL = cc.Refractometer(made_for=EG, error="1 K")


def correct(**more):
    asked = {"system": VAN, "found": "30 % product", "target": "50 % product"}
    return cc.correct_mix(**asked | {"pour": [CAN, cc.WATER]} | more)


# --- curves and limits ----------------------------------------------------------------------------


def test_a_freezing_point_is_no_surer_than_its_curve():
    """An exact mix 0.2 K beyond the target, on a curve good to some 0.35 K (judged band).

    By hand: 1.96 · 0.2 / 0.35 is 1.1 standard deviations, 87 of 100; 0.3 to 0.4 K give 82 to 90.
    """
    mixed = CAN.mix("50 % product")
    target = mixed.freeze_temp + cc.Q(0.2, "kelvin")
    job = correct(found=mixed, target=target, accept=("45 % product", "55 % product"))
    assert job.drain.m == 0.0
    assert 0.80 < job.chance_to_hold < 0.93
    # The same mix against a percentage rests on no curve.
    told = correct(found=mixed, target="49.5 % product", accept=("45 % product", "55 % product"))
    assert told.chance_to_hold > 0.999


def test_too_strong_loses_a_freezing_point_again():
    """Neat concentrate freezes near −13 to −25 °C, whatever is promised of half of it."""
    now = cc.what_now(
        system=VAN,
        found=CAN.mix("95 % product"),
        poured={cc.WATER: "0.1 L"},
        low="0.1 L",
        target="-37 °C",
    )
    assert now.after.frac_mass > now.target_frac_mass
    assert now.chance_to_hold < 0.01
    assert not now.holds
    assert cc.what_now(
        system=VAN, found=CAN.mix("55 % product"), poured={cc.WATER: "0.1 L"}, low="0.1 L",
        target="-37 °C",
    ).chance_to_hold > 0.99  # fmt: skip


def test_a_batch_offers_nothing_that_its_container_cannot_hold():
    """12 L of 60 % make 24 L of 30 %, volumes adding: offered where it fits, else not."""
    asked = {"target": "30 % product", "pour": [CAN, cc.WATER], "inside": "60 % product"}
    asked |= {"volume": "15 L", "inside_volume": "12 L"}
    offered = cc.batch(**asked, container="30 L")
    assert offered.whole_m3 == pytest.approx(24e-3, abs=0.5e-3)
    small = cc.batch(**asked, container="20 L")
    assert small.whole_m3 is None or small.whole_m3 <= 20e-3


def test_a_drain_that_is_warm_lets_out_as_much_more_as_it_has_grown():
    """60 mass %: 1077.14 kg/m3 at 20 °C, 1064.62 at 40 °C (melinder-2010, polynomial, evaluated).

    The additives, 2 % of the volume, keep theirs: that takes 0.0002 off.
    """
    strong = {"found": "60 % mass glycol", "target": "20 % product", "passes": 1}
    cold, warm = correct(**strong), correct(**strong, drain_temp="40 °C")
    assert cold.drain.m_as("L") == pytest.approx(6.5, abs=0.051)
    grown = warm.exact.drain_m3[0, 0] / cold.exact.drain_m3[0, 0]
    assert grown == pytest.approx(1077.14 / 1064.62, abs=1e-3)


def test_once_begun_a_correction_goes_on_to_the_target():
    """The first of two drains ends inside what would have been left alone unasked."""
    system = cc.CoolingSystem(capacity="10 L", drainable="2 L")
    job = correct(
        system=system, found="36 % product", accept=("48 % product", "55 % product"),
    )  # fmt: skip
    assert job.passes[0].after.strength().share > 0.48
    assert len(job.passes) == 2
    assert job.after.strength().share >= 0.4999


def test_many_bent_rows_are_drawn_in_pieces_alike():
    count = 150
    inputs = spread.Inputs(
        np.full(count, 0.01),
        np.linspace(0.01, 0.03, count),
        np.zeros(count),
        np.full(count, 1e-2),
        np.zeros(count),
    )

    def figure(found, capacity, at):
        return found

    many = spread.spread_of(figure, inputs)
    assert many.drawn[-1] and many.drawn.sum() > 64
    alone = spread.spread_of(figure, spread.Inputs(*(each[149:] for each in inputs)))
    assert alone.high[0] == pytest.approx(many.high[149], rel=1e-12)


def test_a_row_that_is_none_gets_no_litres_and_disturbs_no_other():
    fluid, si = EG, CAN.si()
    products = (si, cc.WATER.si(fluid))
    odd = [np.nan, np.inf, -np.inf, -1.0]
    usual = {"found": 0.3, "capacity": 0.01, "drainable": 0.0065, "target": 0.5}
    rows = [usual | {name: value} for value in odd for name in usual] + [usual]
    figures = {name: np.array([row[name] for row in rows]) for name in usual}
    with np.errstate(all="ignore"):
        inside = ledger.contents(
            fluid,
            figures["capacity"],
            figures["found"],
            0.03 / 0.94,
            si.additive_volume_m3_kg,
            293.15,
        )
    limits = exchange.Limits(figures["target"], figures["target"])
    plan = exchange.plan_exchange(
        inside,
        figures["capacity"],
        figures["drainable"],
        figures["target"],
        products,
        limits,
        293.15,
        passes=2,
    )
    assert np.all(plan.status[:16] == Status.UNUSABLE)
    assert np.all(np.isnan(plan.drain_m3[:, :16])) and np.all(np.isnan(plan.pour_m3[:, :, :16]))
    assert plan.status[16] == Status.PLAIN and plan.drain_m3[0, 16] > 0.0


# --- what was asked is kept -----------------------------------------------------------------------


def test_another_unit_system_answers_what_was_asked_then():
    on_hand = {CAN: "1 L"}
    job = correct(pour=iter([CAN, cc.WATER]), on_hand=on_hand)
    on_hand[CAN] = "0.1 L"
    other = job.shown_in("US")
    assert other.pour[CAN].m_as("L") == pytest.approx(job.pour[CAN].m_as("L"), abs=0.06)
    now = cc.what_now(
        system=VAN, found=TOOL.read("-20 °C"), taken_out="1 L", poured={CAN: "1 L"}, target="-30 °C"
    )
    for each in (now, cc.batch(volume="20 L", target="50 % product", pour=[CAN, cc.WATER])):
        assert each.shown_in("imperial").after.frac_mass == pytest.approx(
            each.after.frac_mass, abs=0.005
        )


def test_an_instrument_is_the_same_however_its_error_is_told():
    tools = [
        cc.Refractometer(made_for=EG, error=error)
        for error in ("1 K", "1.0 K", cc.Q(1.0, "delta_degC"))
    ]
    assert len(set(tools)) == 1
    job = correct(found=tools[0].read("-16 °C"))
    assert job.expect(tools[1]) == job.expect(tools[0])
    assert tools[0] != cc.Refractometer(made_for=EG, error="2 K")
    floats = [cc.Hydrometer(reference_temp=each) for each in ("60 °F", "15.5556 °C")]
    assert floats[0] == floats[1]


def test_a_side_circuit_larger_than_the_rest_promises_nothing():
    side = cc.SideCircuit(name="rear heater", volume="8 L")
    van = cc.CoolingSystem(capacity="10 L", side_circuits=[side])
    text = " ".join(correct(system=van, low="1 L").notes)
    assert "may not have mixed" in text and "If it takes no part" not in text


@pytest.mark.parametrize("name", ["", "  ", None, 5])
def test_a_side_circuit_has_a_name(name):
    with pytest.raises(InputError, match=r"side circuit, name: .* is no name"):
        cc.SideCircuit(name=name, volume="2 L")


@pytest.mark.parametrize("sides", [5, "rear heater", [None], {"rear heater"}])
def test_side_circuits_are_side_circuits(sides):
    with pytest.raises(InputError, match=r"side_circuits: .* is no side circuit"):
        cc.CoolingSystem(capacity="10 L", side_circuits=sides)


@pytest.mark.parametrize("left", [0, "", np.array([1.0]), "1 L", [CAN]])
def test_what_is_left_is_told_by_product(left):
    with pytest.raises(InputError, match="on_hand: give what is left by product"):
        correct(on_hand=left)
    assert correct(on_hand={}).drain == correct().drain


# --- refusals -------------------------------------------------------------------------------------


def test_a_refusal_names_one_field():
    float_ = cc.Hydrometer(reference_temp="20 °C")
    reading = float_.read("1.042", inside="propylene glycol", sample_temp="20 °C")
    pg_can = cc.Product.generic("propylene glycol concentrate")
    with pytest.raises(TwoAnswersError) as caught:
        correct(found=reading, target="50 % product", pour=[pg_can, cc.WATER])
    assert caught.value.field == "found"
    assert str(caught.value).startswith("found: ")
    assert len(caught.value.answers) == 2


@pytest.mark.parametrize(
    "error",
    [
        InputError("low", "-1 L", "−1 L is below 0 L."),
        OutOfRangeError("temperature", 500.0, 200.0, 400.0, "K", "water"),
        FormError([InputError("low", "-1 L", "too low."), InputError("temp", "hot", "too hot.")]),
    ],
    ids=lambda error: type(error).__name__,
)
def test_refusals_travel_between_processes(error):
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
    told, was = vars(again), vars(error)
    assert {name: str(each) for name, each in told.items()} == {
        name: str(each) for name, each in was.items()
    }


def test_answers_travel_between_processes():
    job = correct(found=TOOL.read("-16 °C"))
    again = pickle.loads(pickle.dumps(job))
    assert str(again) == str(job)
    assert str(again.odds) == str(job.odds)


# --- the page -------------------------------------------------------------------------------------


def test_a_card_that_cannot_be_a_pdf_is_told_and_still_given_as_html():
    from coolcalc.panels.workshop import workshop_panel

    panel = workshop_panel()
    panel.set(vehicle="\u8eca\u4e00")
    panel.make_cards()
    shown = panel._card_links.value
    assert "role='alert'" in shown and "job-card.html" in shown and "job-card.pdf" not in shown
    panel.set(vehicle="Van 3")
    assert panel._card_links.value == ""
    panel.make_cards()
    assert "job-card.pdf" in panel._card_links.value and "alert" not in panel._card_links.value
    panel.set(vehicle="V" * 200)
    panel.make_cards()
    assert panel._card_links.value.count("role='alert'") == 1


def test_one_slip_on_the_page_makes_one_refusal():
    from coolcalc.panels.workshop import ask
    from coolcalc.panels.workshop_form import FORM

    for texts in (
        {"task": "now", "put_water": "abc"},
        {"task": "now", "taken_out": "abc"},
        {"drain_temp": "abc"},
        {"can_left": "abc"},
        {"task": "batch", "remnant": "abc"},
        {"task": "batch", "container": "abc"},
        {"target_freezing": "abc"},
        {"capacity": "abc"},
    ):
        with pytest.raises(FormError) as caught:
            ask(FORM.defaults() | texts)
        assert len(caught.value.errors) == 1, texts
        assert "abc" in str(caught.value)
