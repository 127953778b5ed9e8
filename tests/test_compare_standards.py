"""One standard for all depots, or one each: product, cooling, mistakes."""

import re

import pytest

import coolcalc as cc
from coolcalc.errors import InputError

CAN = cc.Product.generic("ethylene glycol concentrate")


def standard(depot, mean, **more):
    return cc.frost_standard(
        depot=depot, mean_extreme=mean, sd_extreme="4 K", pour=[CAN, cc.WATER], **more
    )


QUAY, MOOR, PASS = (
    standard(name, mean)
    for name, mean in (("quay", "-5 °C"), ("moor", "-20 °C"), ("pass", "-42 °C"))
)
COOLANT = {"quay": "900 L", "moor": "600 L", "pass": "300 L"}


def compared(*standards, **more):
    standards = standards or (QUAY, MOOR, PASS)
    coolant = {each.depot: COOLANT[each.depot] for each in standards}
    return cc.compare_standards(standards=standards, coolant=coolant, **more)


def test_product_is_what_a_batch_of_that_strength_takes():
    """Another job, another kernel: litres of concentrate in 900 L mixed in a tank."""
    job = compared()
    for depot in job.depots:
        tank = cc.batch(
            volume=cc.Q(depot.coolant_m3, "m^3"),
            target=depot.standard.strength,
            pour=[CAN, cc.WATER],
        )
        litres = tank.pour[CAN].m_as("L")
        # Poured up to a measuring step more than asked for.
        step = 1e3 * tank.step.m3
        assert litres - step <= 1e3 * depot.each_m3 <= litres + 0.05 * step


def test_one_for_all_is_the_strongest_and_costs_more_product():
    job = compared(price="3.50")
    assert job.one_for_all is PASS
    assert job.all_m3 > job.each_m3
    frame = job.to_frame()
    assert frame["product, one for all [L]"].sum() == pytest.approx(1e3 * job.all_m3)
    litres, cost = (
        float(each) for each in re.findall(r"about (\d+) L \(cost (\d+)", job.notes[0])[0]
    )
    assert litres == pytest.approx(1e3 * job.all_m3, rel=0.005)
    assert cost == pytest.approx(3.5e3 * job.all_m3, rel=0.005)  # both to three digits


def test_cooling_is_given_away_where_the_own_fill_is_weaker():
    job = compared()
    heat = job.to_frame()["heat of radiator, one for all over own"]
    assert heat[0] < heat[1] < heat[2] == pytest.approx(1.0)


def test_mistakes_are_moves_to_a_depot_that_asks_for_more():
    job = compared()
    moves = {(move.home, move.stands): move for move in job.short_moves}
    assert set(moves) == {("quay", "moor"), ("quay", "pass"), ("moor", "pass")}
    worst = moves[("quay", "pass")]
    assert worst == job.short_moves[0]
    assert worst.chance == pytest.approx(1.0, abs=0.01)
    assert moves[("quay", "moor")].chance < 0.2


def test_the_air_of_a_yard_is_that_of_the_yard_not_of_its_station():
    """5 K colder than its station is as a station 5 K colder."""
    chances = []
    for moor in (
        standard("moor", "-20 °C", colder_than_station="5 K"),
        standard("moor", "-25 °C"),
    ):
        (move,) = compared(QUAY, moor).short_moves
        chances.append(move.chance)
    assert chances[0] == pytest.approx(chances[1])


def test_one_for_all_does_not_mend_a_depot_that_is_short():
    """The pass is short with its own fill, so it is with every other, and no sentence denies it."""
    alike = standard("quay", "-42 °C")
    job = compared(alike, PASS)
    assert {(move.home, move.stands) for move in job.short_moves} == {
        ("quay", "pass"),
        ("pass", "quay"),
    }
    assert job.short_depots == ("quay", "pass")
    assert not any("With one for all there are none" in note for note in job.notes)
    assert any("With one for all there are none" in note for note in compared(QUAY, MOOR).notes)


def test_a_ceiling_that_one_for_all_passes_is_named():
    low = standard("quay", "-5 °C", ceiling="45 % product")
    job = compared(low, MOOR)
    assert job.over_ceiling == ("quay",)
    assert any("stronger than the ceiling of quay" in note for note in job.notes)


def test_a_shelf_that_cannot_mix_one_for_all_is_named():
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    quay = cc.frost_standard(
        depot="quay", mean_extreme="-5 °C", sd_extreme="4 K", pour=[ready, cc.WATER]
    )
    job = compared(quay, PASS)
    assert job.beyond_shelf == ("quay",)
    assert any("cannot be mixed as strong" in note for note in job.notes)


def test_standards_that_were_not_set_alike_are_named():
    assert compared().unlike == ()
    other = standard("moor", "-20 °C", return_period="50", confidence="80 %", without=["curve"])
    job = compared(QUAY, other)
    assert job.unlike == ("return period", "confidence", "what is switched off")
    assert any("Not set alike: return period" in note for note in job.notes)


def test_a_move_to_a_night_stop_tells_no_chance():
    stop = standard("moor", "-20 °C", night_stops={"pass house": "-44 °C"})
    (move,) = compared(QUAY, stop).short_moves
    assert (move.chance, move.stop) == (None, "pass house")
    assert "its night stop pass house" in compared(QUAY, stop).odds_lines[0].text


def test_depots_that_no_strength_meets_are_named_either_way():
    assert compared().short_depots == ("pass",)
    assert any("Whichever way" in note for note in compared().notes)
    assert not any("Whichever way" in note for note in compared(QUAY, MOOR).notes)


def test_alike_depots_make_no_mistakes():
    other = standard("moor", "-5 °C")
    job = compared(QUAY, other)
    assert job.short_moves == ()
    assert any("the frost of no depot asks for more" in note for note in job.notes)


def test_a_given_low_tells_kelvin_and_no_chance():
    given = cc.frost_standard(depot="moor", low="-30 °C", pour=[CAN, cc.WATER])
    job = compared(QUAY, given)
    (move,) = job.short_moves
    assert move.chance is None
    assert "winters" not in job.odds_lines[0].text


def test_us_units_and_text():
    job = compared(show_in="US")
    assert "US qt" in str(job)
    assert "°F" in str(job)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"standards": [QUAY]}, "standards"),
        ({"standards": "quay"}, "standards"),
        ({"standards": [QUAY, QUAY]}, "standards"),
        ({"standards": [QUAY, 3]}, "standards"),
        ({"standards": None}, "standards"),
        ({"coolant": "900 L"}, "coolant"),
        ({"coolant": {"quay": "900 L"}}, "coolant"),
        ({"coolant": {"quay": "900 L", "moor": "600 L", "hill": "1 L"}}, "coolant"),
        ({"coolant": {"quay": "900", "moor": "600 L"}}, "coolant"),
        ({"price": "-1"}, "price"),
        ({"show_in": "SI"}, "show_in"),
    ],
)
def test_refusals(more, field):
    asked = {"standards": [QUAY, MOOR], "coolant": {"quay": "900 L", "moor": "600 L"}, **more}
    with pytest.raises(InputError) as refused:
        cc.compare_standards(**asked)
    assert refused.value.field == field


def test_two_products_are_not_compared():
    other = cc.frost_standard(
        depot="moor",
        low="-20 °C",
        pour=[cc.Product.generic("propylene glycol concentrate"), cc.WATER],
    )
    with pytest.raises(InputError, match="two products"):
        compared(QUAY, other)
