"""What the answer of `flush` says: order, notes, ways out, cautions, working, card."""

import datetime as dt
import math
import re

import numpy as np
import pypdfium2
import pytest

import coolcalc as cc
from coolcalc.answers import VOLUME
from coolcalc.errors import FormError, InputError, Status
from coolcalc.jobs.flush_words import share_words
from coolcalc.prints import card_html, card_pdf
from coolcalc.prints.content import PAPERS
from coolcalc.system import SideCircuit

from .test_flush import CAN, PG_CAN, READY, TOOL, flushed, system
from .test_what_now_words import PERMISSION, label_beyond

SIDES = (
    SideCircuit(name="rear heater", volume="1.5 L"),
    SideCircuit(name="tank", volume="2 L", state="shut"),
    SideCircuit(name="floor heater", volume="1 L", state="mixes"),
)
ANSWERS = {
    "reading": lambda: flushed(found=TOOL.read("-16 °C"), target="-37 °C"),
    "give or take": lambda: flushed(system=system(capacity_error="0.5 L")),
    "one drain": lambda: flushed(drainable=9.7),
    "two drains": lambda: flushed(drainable=8.0),
    "many drains": lambda: flushed(drainable=5.0, may_stay="0.1 %", target="40 % product"),
    "low": lambda: flushed(low="1.2 L"),
    "US": lambda: flushed(show_in="US", target="-34 F", found="-16 °C"),
    "imperial": lambda: flushed(show_in="imperial"),
    "with mix": lambda: flushed(pour=[CAN, cc.WATER], flush_with=READY),
    "ready-mixed": lambda: flushed(pour=[READY], flush_with=READY, may_stay="1 %"),
    "propylene glycol": lambda: flushed(found="-20 °C", target="-30 °C", pour=[PG_CAN, cc.WATER]),
    "one product": lambda: flushed(pour=READY),
    "too little": lambda: flushed(drainable=4.0),
    "much too little": lambda: flushed(drainable=3.0, may_stay="40 %"),
    "no water": lambda: flushed(pour=[CAN]),
    "too strong": lambda: flushed(found="80 % product", pour=[CAN, cc.WATER]),
    "label": lambda: flushed(pour=[label_beyond(), cc.WATER]),
    "not by hand": lambda: flushed(system=system(fill="low-conductivity")),
    "sides": lambda: flushed(system=system(20.0, 12.0, side_circuits=SIDES)),
    "large": lambda: flushed(200.0, 130.0),
}
BLOCKED = {"one product", "too little", "much too little", "no water", "not by hand"}
EVERY_ANSWER = pytest.mark.parametrize("make", ANSWERS.values(), ids=ANSWERS.keys())


def test_steps_come_in_the_order_of_the_work():
    text = str(ANSWERS["reading"]())
    order = ["3 drains of about 6.50 L", "4.3 % of what is inside at the end is old coolant"]
    order += ["It ends at 50 % of concentrate", "Not in frost", "1. Engine off and cold to the"]
    order += ["a pan that holds more than 6.50 L", "2. Drain 1 of 3: take out all that comes out"]
    order += ["3. Do this 2 times: shut the drain; fill slowly to the mark with water, about 6.45"]
    order += ["heater on hot until the thermostat has opened", "cool until it is cold to the hand"]
    order += ["then take out all that comes out", "That makes 3 drains in all", "4. Shut the drain"]
    order += [
        "of ethylene glycol concentrate, slowly",
        "Then pour water, slowly, up to the cold mark",
    ]
    order += ["make up what is missing with mix of 50 %", "Read again on the same refractometer: "]
    order += ["is waste, the flush fills too", "Local rules", "Cautions:", "Assumed:"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


@pytest.mark.parametrize(("case", "job"), ANSWERS.items())
def test_blocked_answers_have_no_litres_to_move(case, job):
    job = job()
    assert job.blocked is (case in BLOCKED)
    assert bool(VOLUME.search(" ".join(job.steps))) is not job.blocked
    if job.blocked:
        assert str(job.odds) == "How sure: There are no litres to be sure of."


@pytest.mark.parametrize(
    ("case", "says"),
    [
        ("give or take", r"If the system holds 10.50 L, 5.5 % stays: it then takes 4 drains\."),
        ("one drain", r"^1 drain of about 9.70 L: 3 % of what is inside at the end"),
        ("low", r"^3 drains of about 5.30 L, then 6.45 L: 4.3 % .*"),
        ("low", r"a leak until shown otherwise"),
        ("one product", r"^Not to be begun so: what stays inside after the last drain"),
        ("one product", r"^After 3 drains the last fill would end at 34 % of concentrate, freezin"),
        (
            "one product",
            r"cold to the hand: let out more .* With at least 9\.\d\d L at each drain the",
        ),
        (
            "one product",
            r"^Or drain, engine off and cold to the hand each time, and fill 3 times more, .* rea",
        ),
        ("too little", r"^Or flush with mix: make the last flush fill with ethylene glycol conc"),
        ("no water", r"^Not reachable: nothing weaker than the target is listed"),
        (
            "no water",
            r"^One way: list concentrate too.* then \d\.\d\d L of water up to the cold mark",
        ),
        (
            "ready-mixed",
            r"it ends a little weaker than the target \(50 % of concentrate\): by less",
        ),
        ("too strong", r"^The mix as found is stronger than 60 mass % of glycol\."),
        ("label", r"yard blue: The label promises"),
        ("not by hand", r"^The circuit is low-conductivity\. Such a circuit is not corrected"),
        ("sides", r"^Rear heater \(1.5 L\) may not have mixed: "),
        ("sides", r"^Tank \(2.0 L\) is shut and left out"),
    ],
)
def test_notes(case, says):
    job = ANSWERS[case]()
    assert any(re.search(says, note) for note in job.notes), job.notes


def test_a_flush_with_mix_is_not_said_to_freeze_like_water():
    assert "Not in frost" not in str(ANSWERS["with mix"]())
    assert "Not in frost" not in str(ANSWERS["one drain"]())


def test_valves_are_named_and_shut_ones_left_shut():
    text = " ".join(ANSWERS["sides"]().steps)
    assert "control, the valve of floor heater, the valve of rear heater fully open" in text
    assert "Leave the valve of tank shut" in text


def test_a_short_first_drain_is_not_lost():
    assert "enter what came out as drain figure" in ANSWERS["reading"]().steps[1]
    assert "what came out and what was missing, together, as drain" in ANSWERS["low"]().steps[1]


@EVERY_ANSWER
def test_texts(make):
    job = make()
    for text in (str(job), job._repr_html_(), str(job.working), str(job.odds)):
        assert not re.search(r"\bnan\b|\binf\b|None\b|<Quantity|\{|\}", text), text
        assert not PERMISSION.search(text)
        for sentence in re.split(r"[.:;]\s|\n|<", text):
            assert not (re.search(r"\bopen", sentence) and re.search(r"\d ?(°|K\b)", sentence))
    assert all(caution.text in str(job) for caution in job.cautions)
    codes = {caution.code for caution in job.cautions}
    swallow = "poison" if job.before.fluid == "ethylene glycol" else "swallow"
    assert codes == {"hot", "cold_into_hot", swallow, "skin", "waste", "authority"}
    assert job.sources and job.chart_points and job.chart_target
    assert all(isinstance(text, str) for row in job.rows for text in row)


@EVERY_ANSWER
def test_frame(make):
    (row,) = make().to_frame().to_dict("records")
    unit = r" \[(L|°C|count|mass share of glycol|share of the full system)\]$"
    for name, value in row.items():
        assert name == "status" or re.search(unit, name), name
        assert value is None or isinstance(value, str) or np.isfinite(value)


@EVERY_ANSWER
def test_no_more_decimals_than_can_be_measured(make):
    job = make()
    printed = [*job.steps, *job.notes, *(row.text for row in job.rows)]
    for number in re.findall(r"\d+(\.\d+)? (?:L|US qt|imp pt)\b", " ".join(printed)):
        assert len(number.lstrip(".")) <= job.step.decimals


def test_frame_has_the_figures_of_the_steps():
    (row,) = flushed().to_frame().to_dict("records")
    assert row["drains [count]"] == 3 and row["status"] == "plain"
    assert row["old coolant left [share of the full system]"] == pytest.approx(0.35**3)
    assert row["pour ethylene glycol concentrate in all [L]"] == pytest.approx(4.95, abs=0.11)
    (row,) = ANSWERS["one product"]().to_frame().to_dict("records")
    assert row["drains [count]"] is None and row["status"] == "flush_not_reached"


def test_not_by_hand():
    job = ANSWERS["not by hand"]()
    assert job.status == Status.NOT_TO_BE_CORRECTED
    assert len(job.notes) == 1 and len(job.steps) == 1
    assert "Drains" not in dict(job.rows)


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "none"), (2e-4, "less than 0.1 %"), (0.05, "5 %"), (0.0429, "4.3 %"), (0.999, "99.9 %")],
)
def test_share_words(share, words):
    assert share_words(share) == words


# --- working and odds -----------------------------------------------------------------------------


def test_the_working_can_be_followed_on_a_calculator():
    job = flushed()
    lines = {line.label: line.text for line in job.working.lines}
    assert lines["Old coolant left"] == (
        "(1 − 6.50 L / 10.00 L)^3 = 0.3500^3 = 4.29 %; 5 % may stay."
    )
    assert lines["One drain fewer"] == "0.3500^2 = 12.25 %: too much."
    # What each drain leaves, multiplied, on the kilograms of the first line.
    kept = math.prod(
        float(re.search(r"leaves ([\d.]+) %", lines[f"Drain {at}"])[1]) / 100 for at in (1, 2, 3)
    )
    told = re.search(r"are ([\d.]+) % of the ([\d.]+) kg.*: ([\d.]+) kg", lines["Old coolant left, by mass"])  # fmt: skip  # noqa: E501
    assert 100 * kept == pytest.approx(float(told[1]), abs=0.01)
    assert kept * float(told[2]) == pytest.approx(float(told[3]), abs=2e-3)
    glycol = re.search(r"glycol ([\d.]+), water ([\d.]+)", lines["Drain 3"])
    glycol, plain = float(glycol[1]), float(glycol[2])
    for product in job.last_fill:
        line = re.search(
            r"([\d.]+) L of ([\d.]+) kg/L = ([\d.]+) kg: glycol ([\d.]+), water ([\d.]+)",
            lines[f"Last fill, {product.name}"],
        )
        litres, density, mass = (float(each) for each in line.groups()[:3])
        assert litres * density == pytest.approx(mass, abs=2e-3)
        glycol, plain = glycol + float(line[4]), plain + float(line[5])
    assert 100 * glycol / (glycol + plain) == pytest.approx(100 * job.after.frac_mass, abs=0.02)


def test_odds_tell_what_stays_at_both_ends():
    """6.5 L out of 9.5 L and of 10.5 L, thrice: 3.1 % and 5.5 %."""
    text = str(ANSWERS["give or take"]().odds)
    assert "3.1 % if the system holds 9.50 L, 5.5 % if 10.50 L." in text
    assert "from the capacity" in text


# --- the card -------------------------------------------------------------------------------------


@EVERY_ANSWER
@pytest.mark.parametrize("paper", PAPERS)
def test_card_is_one_page(make, paper):
    job = make()
    options = {"vehicle": "Tractor 7", "by": "N. N.", "on": dt.date(2025, 11, 3), "paper": paper}
    document = pypdfium2.PdfDocument(card_pdf(job, **options))
    text = document[0].get_textpage().get_text_range().replace("\ufffe", "-")
    assert len(document) == 1
    packed = "".join(text.split())
    for each in (*job.notes, *job.steps, *(caution.text for caution in job.cautions)):
        assert "".join(each.split()) in packed, each
    assert "Flush the system" in card_html(job, **options)


def test_saved_card(tmp_path):
    path = flushed().save_card(tmp_path / "card.pdf", vehicle="Tractor 7")
    assert path.read_bytes().startswith(b"%PDF")


# --- refusals -------------------------------------------------------------------------------------


def test_all_slips_are_told_at_once():
    with pytest.raises(FormError) as caught:
        cc.flush(
            system="van", found="50 %", target="50 %", pour=[CAN], may_stay="2", temp="90 °C",
            low="-1 L", flush_with=None,
        )  # fmt: skip
    fields = {error.field for error in caught.value.errors}
    assert fields >= {"system", "found", "may_stay", "temp", "low", "flush_with"}


def test_refusals_end_as_sentences():
    for asked in ({"may_stay": "0 %"}, {"system": cc.CoolingSystem(capacity="10 L")}):
        with pytest.raises(InputError) as caught:
            flushed(**asked)
        assert str(caught.value).endswith(".")
