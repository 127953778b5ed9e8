"""What the answer of `what_now` says: order, notes, cautions, figures as told, each refusal."""

import re

import numpy as np
import pytest

import coolcalc as cc
from coolcalc.errors import CoolcalcError, FormError, Status
from coolcalc.instruments import Refractometer
from coolcalc.jobs.what_now import what_now
from coolcalc.system import SideCircuit

from .test_what_now import CAN, PG_CAN, READY, TEN, TOOL, now


def test_steps_come_in_the_order_of_the_work():
    text = str(now(TOOL.read("-20 °C"), {CAN: "2.2 L"}, "2 L"))
    order = ["Inside now:", "above the mark", "1. Engine off and cold to the hand: take out"]
    order += ["heater on hot until the thermostat", "before the vehicle stands in frost", "Stop, "]
    order += ["cold to the hand. Check the level", "Read on the same refractometer: expect −"]
    order += ["If it reads otherwise, go by", "Cautions:", "Assumed:"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("poured", "first"), [({CAN: "1 L"}, "weaker"), ({cc.WATER: "1 L"}, "stronger")]
)
def test_what_another_reading_means(poured, first):
    job = now(TOOL.read("-30 °C"), poured, "1 L")
    assert f"If it reads {first} than that, more was inside than is reckoned here" in str(job)
    # And so it is: with more inside, the same litres move it less.
    more = now(TOOL.read("-30 °C"), poured, "1 L", system=cc.CoolingSystem(capacity="12 L"))
    moved = more.after.frac_mass - job.after.frac_mass
    assert (moved < 0.0) is (first == "weaker")


@pytest.mark.parametrize(
    ("job", "says"),
    [
        (lambda: now("45 % product", {cc.WATER: "2 L"}, "2 L"), "weaker than 40 % of concentrate"),
        (lambda: now("58 % product", {CAN: "2 L"}, "2 L"), "Stronger than 60 mass % of glycol"),
        (lambda: now("70 % product", {cc.WATER: "3 L"}, "3 L"), "The mix as found is stronger"),
        (lambda: now(poured={READY: "1 L"}, low="1 L"), "a leak until shown otherwise"),
        (lambda: now(poured={label_beyond(): "1 L"}, low="1 L"), "yard blue: The label promises"),
        (
            lambda: now(
                TOOL.read("-30 °C"),
                {cc.WATER: "3 L"},
                "3 L",
                system=cc.CoolingSystem(capacity="10 L", drainable="2.5 L"),
            ),
            "More came out (3.00 L) than what was entered as coming out of the full system (2.50",
        ),
        (
            lambda: now(
                poured={cc.WATER: "2 L"},
                taken_out="2 L",
                system=cc.CoolingSystem(
                    capacity="10 L", side_circuits=SideCircuit(name="rear heater", volume="1.5 L")
                ),
            ),
            "open its valve, run, let it cool, and read; that reading decides",
        ),
    ],
)
def test_notes(job, says):
    job = job()
    assert any(says in note for note in job.notes), job.notes


def label_beyond():
    return cc.Product.from_label(
        name="yard blue",
        fluid="ethylene glycol",
        freezing_point="-45 °C",
        dilution="50 %",
        density="1.128 kg/L",
    )


def test_beyond_60_no_protection_is_promised():
    job = now("90 % product", {CAN: "1 L"}, "1 L")
    assert "freezing point not settled: between −" in job.notes[0]
    assert "nothing to count on; dilute a sample" in str(job)


def test_a_circuit_that_is_not_corrected_by_hand():
    job = now(
        poured={cc.WATER: "1 L"},
        taken_out="1 L",
        system=cc.CoolingSystem(capacity="10 L", fill="low-conductivity"),
    )
    assert job.status == Status.NOT_TO_BE_CORRECTED
    assert len(job.steps) == 1 and "flush" in job.steps[0]
    assert "The circuit is low-conductivity." in str(job)
    assert job.columns()["status"] == "not_to_be_corrected"


def test_stronger_than_the_ready_mixed_that_was_inside():
    job = now(READY.mix("90 % product"), {CAN: "3 L"}, "3 L")
    assert "% glycol by mass" in job.notes[0]
    assert not re.search(r"1\d\d % of", str(job.notes))


ANSWERS = {
    "water": lambda: now(poured={cc.WATER: "1.5 L"}, taken_out="2 L"),
    "reading": lambda: now(TOOL.read("-30 °C"), {CAN: "2.3 L"}, "2 L", target="-37 °C"),
    "text": lambda: now("-30 °C", {CAN: "1 L", cc.WATER: "1 L"}, "2 L", target="50 % product"),
    "US": lambda: now("-30 °C", {CAN: "1 L"}, "2 L", show_in="US", target="-34 F"),
    "imperial": lambda: now("-30 °C", {CAN: "1 L"}, "2 L", show_in="imperial", low="0.5 L"),
    "drained only": lambda: now(taken_out="2 L"),
    "propylene glycol": lambda: now("-20 °C", {PG_CAN: "1 L"}, "1 L", target="-30 °C"),
    "strong": lambda: now("90 % product", {cc.WATER: "1 L"}, "1 L"),
    "not by hand": lambda: now(
        poured={cc.WATER: "1 L"}, system=cc.CoolingSystem(capacity="10 L", fill="ready-mixed only")
    ),
    "give or take": lambda: now(
        TOOL.read("-30 °C"),
        {CAN: "1 L"},
        "1 L",
        system=cc.CoolingSystem(capacity="45 L", capacity_error="3 L", drainable="20 L"),
    ),
    "sides": lambda: now(
        poured={cc.WATER: "1 L"},
        taken_out="1 L",
        system=cc.CoolingSystem(
            capacity="20 L",
            side_circuits=(
                SideCircuit(name="rear heater", volume="2 L"),
                SideCircuit(name="tank", volume="3 L", state="shut"),
                SideCircuit(name="floor heater", volume="1 L", state="mixes"),
            ),
        ),
    ),
}
EVERY_ANSWER = pytest.mark.parametrize("make", ANSWERS.values(), ids=ANSWERS.keys())
PERMISSION = re.compile(
    r"\bsafe(ly)?\b|\b(may|can|could)\b (now )?(be )?open|\bok(ay)?\b|harmless", re.IGNORECASE
)


@EVERY_ANSWER
def test_texts(make):
    job = make()
    for text in (str(job), job._repr_html_(), str(job.working), str(job.odds)):
        assert not re.search(r"\bnan\b|\binf\b|None\b(?! was)|<Quantity|\{|\}|-1", text), text
        assert not PERMISSION.search(text)
        for sentence in re.split(r"[.:;]\s|\n", text):
            assert not (re.search(r"\bopen", sentence) and re.search(r"\d ?(°|K\b)", sentence))
    codes = {caution.code for caution in job.cautions}
    swallow = "poison" if job.before.fluid == "ethylene glycol" else "swallow"
    assert codes == {"hot", "cold_into_hot", swallow, "skin", "waste", "authority"}
    assert all(caution.text in str(job) for caution in job.cautions)
    assert job.sources
    assert all(isinstance(text, str) for row in job.rows for text in row)


@EVERY_ANSWER
def test_no_more_decimals_than_can_be_measured(make):
    """Litres that were told are printed as they were told, in metric units here."""
    job = make().shown_in("metric")
    printed = [*job.steps, *job.notes, *(row.text for row in job.rows)]
    for number in re.findall(r"\d+(\.\d+)? (?:L|US qt|imp pt)\b", " ".join(printed)):
        assert len(number.lstrip(".")) <= job.step.decimals


@EVERY_ANSWER
def test_frame(make):
    (row,) = make().to_frame().to_dict("records")
    for name, value in row.items():
        assert name == "status" or re.search(r" \[(L|°C|mass share of glycol|share)\]$", name)
        assert value is None or isinstance(value, str) or np.isfinite(value)


@EVERY_ANSWER
@pytest.mark.parametrize("show_in", ["metric", "US", "imperial"])
def test_what_is_printed_carried_out_gives_what_is_printed(make, show_in):
    """The printed litres, read off the rows and entered again."""
    job = make().shown_in(show_in)
    rows = dict(job.rows)
    again = what_now(
        **{
            **job.asked,
            "taken_out": rows["Taken out"],
            "poured": {product: rows[f"Poured {product.name}"] for product in job.shelf},
            "low": rows.get("Missing below the mark before", "0 L"),
        },
        show_in=show_in,
    )
    if show_in == "metric":
        assert again.notes == job.notes
        assert again.after == job.after
    # Of litres told in another unit, at most half of a hundredth of that unit is lost.
    assert again.after.frac_mass == pytest.approx(job.after.frac_mass, abs=3e-4)
    assert abs((again.level - job.level).m_as("L")) <= 1e3 * job.step.m3 * 1.01


@pytest.mark.parametrize(
    ("capacity", "told", "shown"),
    [
        ("200 L", "0.4 L", "0.4 L"),
        ("200 L", "0.25 L", "0.25 L"),
        ("45 L", "3.25 L", "3.25 L"),
        ("10 L", "2 L", "2.00 L"),
        ("10 L", "1.2345678 L", "1.235 L"),
    ],
)
def test_what_was_told_is_not_printed_coarser(capacity, told, shown):
    job = now(poured={cc.WATER: told}, low="5 L", system=cc.CoolingSystem(capacity=capacity))
    assert dict(job.rows)["Poured water"] == shown
    assert job.poured[cc.WATER].m == pytest.approx(float(told.split()[0]), abs=1e-6)


def test_the_working_can_be_followed_on_a_calculator():
    job = now("30 % product", {CAN: "2.3 L", cc.WATER: "0.9 L"}, "3.15 L", show_in="US")
    lines = {line.label: line.text for line in job.working.lines}
    kept = re.search(r"leaves ([\d.]+) % .*: glycol ([\d.]+), water ([\d.]+)", lines["Taken out"])
    before = re.search(
        r"\(([\d.]+) L\) of ([\d.]+) kg/L = ([\d.]+) kg: glycol ([\d.]+), water ([\d.]+)",
        lines["Inside before"],
    )
    litres, density, mass = (float(each) for each in before.groups()[:3])
    assert litres * density == pytest.approx(mass, abs=2e-3)
    left = float(kept[1]) / 100
    glycol, water_kg = (left * float(each) for each in before.groups()[3:])
    assert (glycol, water_kg) == pytest.approx((float(kept[2]), float(kept[3])), abs=2e-3)
    for product in (CAN, cc.WATER):
        told = re.search(
            r"([\d.]+) L\)? of ([\d.]+) kg/L = ([\d.]+) kg: glycol ([\d.]+), water ([\d.]+)",
            lines[f"Poured {product.name}"],
        )
        litres, density, mass = (float(each) for each in told.groups()[:3])
        assert litres * density == pytest.approx(mass, abs=2e-3)
        glycol, water_kg = glycol + float(told[4]), water_kg + float(told[5])
    told = re.search(r"= ([\d.]+) mass %", lines["Inside now"])
    assert 100 * glycol / (glycol + water_kg) == pytest.approx(float(told[1]), abs=0.02)
    assert 100 * job.after.frac_mass == pytest.approx(float(told[1]), abs=0.005)


def test_the_textbook_rule_stands_beside_it():
    """(8 · 50 + 1.5 · 0) / 9.5 = 42.1 %."""
    job = now(poured={cc.WATER: "1.5 L"}, taken_out="2 L")
    lines = {line.label: line.text for line in job.working.lines}
    assert "(8.00 L × 50.0 % + 1.50 L × 0.0 %) / 9.50 L = 42.1 %" in lines["Textbook rule"]


# --- what is told of the old mix ------------------------------------------------------------------


@pytest.mark.parametrize("poured", [{cc.WATER: "1 L"}, None])
def test_a_reading_tells_which_glycol_is_inside(poured):
    job = now(TOOL.read("-30 °C"), poured, "1 L")
    assert job.before.product is CAN
    assert job.before.freeze_temp.m_as("degC") == pytest.approx(-30.0, abs=1e-6)


def test_water_listed_beside_a_product_that_was_not_poured():
    job = now("-30 °C", {CAN: "0 L", cc.WATER: "1 L"}, "1 L")
    assert job.before.product is CAN
    assert list(job.poured) == [cc.WATER]


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"poured": None}, r"taken_out: 0.00 L was taken out, and nothing was poured: what is"),
        ({"poured": {CAN: "0 L"}}, r"taken_out: 0.00 L was taken out, and nothing was poured"),
        ({"poured": [CAN]}, r"poured: give what was poured by product"),
        ({"poured": {"can": "1 L"}}, r"poured: 'can' is not a product"),
        ({"poured": {CAN: "1"}}, r"poured, ethylene glycol concentrate: 1 has no unit"),
        ({"poured": {CAN: "-1 L"}}, r"poured, ethylene glycol concentrate: −1 L is below 0 L"),
        (
            {"poured": {CAN: "1 L", PG_CAN: "1 L"}},
            r"poured: ethylene glycol and propylene glycol were both poured. .* drain, flush and",
        ),
        ({"poured": {PG_CAN: "1 L"}}, r"found: ethylene glycol is inside and propylene glycol is"),
        ({"taken_out": "10.1 L"}, r"taken_out: 10.10 L is more than was inside \(10.00 L"),
        (
            {"taken_out": "9.5 L", "low": "1 L"},
            r"taken_out: 9.50 L is more than was inside \(9.00 L: the capacity less what was",
        ),
        (
            {"taken_out": "10 L", "poured": None},
            r"taken_out: 10.00 L is all that was inside, and nothing was poured",
        ),
        ({"taken_out": "2"}, r"taken_out: 2 has no unit"),
        (
            {"poured": {CAN: "3 L"}},
            r"poured: 3.00 L would stand 2.9\d L above the mark, more than a quarter of the capa",
        ),
        ({"low": "9.5 L"}, r"low: 9.50 L is more than nine tenths of the capacity"),
        ({"temp": "90 °C"}, r"temp: 90 °C is not the temperature of a cold engine"),
        ({"temp": "-5 °C"}, r"temp: −5 °C: water to pour is ice"),
        ({"drain_temp": "80 °C"}, r"drain_temp: 80 °C is not the temperature of a cold engine"),
        ({"system": "10 L"}, r"system: '10 L' is not a cooling system"),
        ({"target": "50 %"}, r"target: 50 %: per cent of what"),
        ({"target": "70 % product"}, r"target: 70 % of product is stronger than 60 mass %"),
        ({"show_in": "furlongs"}, r'show_in: "furlongs" is not one of the choices'),
        ({"found": "50 %"}, r"found: 50 %: per cent of what"),
        ({"found": None}, r"found: .*nothing was entered"),
        ({"found": "16 °C"}, r"found: 16 °C: .* did you mean −16 °C"),
        (
            {"found": "-30 °C", "poured": {cc.WATER: "1 L"}},
            r"found: -30 °C does not say which glycol is inside, and nothing poured tells",
        ),
        (
            {"found": "-30 °C", "poured": None, "taken_out": "1 L"},
            r"found: -30 °C does not say which glycol is inside, and nothing was poured that",
        ),
        (
            {"found": Refractometer(scale="Brix").read("30"), "poured": None, "taken_out": "1 L"},
            r"does not say which glycol is inside, and nothing was poured",
        ),
        ({"found": None, "poured": None, "taken_out": "1 L"}, r"found: nothing was entered"),
    ],
)
def test_refusals(more, says):
    asked = {"system": TEN, "found": CAN.mix("50 % product"), "poured": {CAN: "1 L"}} | more
    with pytest.raises(CoolcalcError, match=says) as caught:
        what_now(**asked)
    assert not isinstance(caught.value, FormError)
    assert str(caught.value).rstrip().endswith((".", "?", ")"))


def test_all_slips_are_told_at_once():
    with pytest.raises(FormError) as caught:
        what_now(
            system="van", found="50 %", poured={CAN: "1"}, temp="90 °C", taken_out="2", low="-1 L"
        )
    fields = [error.field for error in caught.value.errors]
    assert set(fields) >= {"system", "temp", "taken_out", "low"}
    assert any(field.startswith("poured") for field in fields)


def test_a_hot_engine_is_refused_without_a_limit():
    with pytest.raises(CoolcalcError) as refused:
        now(poured={CAN: "1 L"}, low="1 L", temp="50 °C")
    assert "40" not in str(refused.value)
