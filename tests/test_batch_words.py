"""What the answer of `batch` says: order, masses, cautions, decimals, and each refusal."""

import re

import numpy as np
import pytest

import coolcalc as cc
from coolcalc.errors import CoolcalcError, FormError

from .test_batch import CAN, PG_CAN, READY, REMNANTS, TOOL, exact, mix

ANSWERS = {
    **{name: {"volume": "20 L", **remnant} for name, remnant in REMNANTS.items()},
    "weighed": {"weigh": True},
    "weighed, US": {"weigh": True, "show_in": "US", **REMNANTS["weak, some comes out"]},
    "imperial": {"show_in": "imperial", "container": "25 L"},
    "reading": {"inside": TOOL.read("-16 °C"), "inside_volume": "5 L", "target": "-37 °C"},
    "text": {"inside": "-16 °C", "inside_volume": "5 L", "target": "-37 °C"},
    "propylene glycol": {"pour": (PG_CAN, cc.WATER)},
    "not reachable": {"target": "55 % product", "pour": (READY, cc.WATER)},
    "too little": {
        "target": "40 % product",
        "pour": (cc.WATER,),
        "inside": CAN.mix("60 % product"),
        "inside_volume": "5 L",
    },
    "weak on purpose": {"target": "30 % product"},
    "ten thousand": {"volume": "10000 L"},
    "smallest": {"volume": "0.2 L"},
}
EVERY_ANSWER = pytest.mark.parametrize("asked", ANSWERS.values(), ids=ANSWERS.keys())


def test_steps_come_in_the_order_of_the_work():
    text = str(mix(inside=TOOL.read("-16 °C"), inside_volume="16 L"))
    order = ["1. Stir what is inside, and take out", "Pour ", "Stir well", "Read a sample on the"]
    order += [
        "same refractometer: expect −",
        "If it reads clearly outside",
        "label it: ethylene glycol",
    ]
    order += [", and the date", "Never in a drink container", "Cautions:", "Assumed:"]
    places = [text.index(each) for each in order]
    assert places == sorted(places)


@pytest.mark.parametrize(("target", "first"), [("58 % product", CAN), ("30 % product", cc.WATER)])
def test_the_larger_is_poured_first(target, first):
    poured = [step for step in mix(target).steps if step.startswith("Pour")]
    assert f"of {first.name}." in poured[0]
    assert poured[1].endswith(", stirring.")


def test_the_steps_of_a_scale_have_masses_and_the_rows_have_both():
    job = mix(weigh=True)
    assert job.mass_step.in_unit == 0.1  # half a per cent of 21.5 kg
    assert f"Weigh in {job.weigh[CAN].m:.1f} kg of ethylene glycol concentrate." in job.steps
    assert not re.search(r"Pour \d", " ".join(job.steps))
    assert re.fullmatch(r"1\d\.\d kg \(1\d\.\d L\)", dict(job.rows)[f"Pour {CAN.name}"])
    assert re.fullmatch(r"1\d\.\d L \(1\d\.\d kg\)", dict(mix().rows)[f"Pour {CAN.name}"])
    assert "Stand the container on the scale" in str(job)
    pounds = mix(weigh=True, show_in="US")
    assert pounds.mass_step.in_unit == 0.2 and " lb of water" in str(pounds)
    assert pounds.weigh[CAN].m_as("kg") == pytest.approx(job.weigh[CAN].m, abs=0.2)


@pytest.mark.parametrize("volume", ["1 L", "5 L", "25 L", "200 L", "1000 L"])
def test_printed_masses_are_whole_steps_of_the_scale(volume):
    for show_in in ("metric", "US"):
        job = mix("45 % product", volume=volume, weigh=True, show_in=show_in)
        for mass in job.weigh.values():
            steps = mass.m / job.mass_step.in_unit
            assert steps == pytest.approx(round(steps), abs=1e-6)


@EVERY_ANSWER
def test_texts(asked):
    job = mix(**asked)
    for text in (str(job), job._repr_html_(), str(job.working), str(job.odds)):
        assert not re.search(r"\bnan\b|\binf\b|None\b(?! was)|<Quantity|\{|\}|-1", text), text
    told = str(job).lower().replace("whether and how the system is opened", "")
    assert not re.search(r"\bsafe(ly)?\b|\bopen|\bok(ay)?\b|harmless", told)
    codes = {caution.code for caution in job.cautions}
    swallow = "poison" if job.before.fluid == "ethylene glycol" else "swallow"
    assert codes == {"hot", "cold_into_hot", swallow, "skin", "waste", "authority"}
    assert all(caution.text in str(job) for caution in job.cautions)
    assert job.sources
    assert all(isinstance(text, str) for row in job.rows for text in row)
    if not job.blocked:
        assert "drink container" in " ".join(job.steps)


@EVERY_ANSWER
def test_no_more_decimals_than_can_be_measured(asked):
    job = mix(**asked)
    printed = " ".join([*job.steps, *job.notes, *(row.text for row in job.rows)])
    for number in re.findall(r"\d+(\.\d+)? (?:L|US qt|imp pt)\b", printed):
        assert len(number.lstrip(".")) <= job.step.decimals
    for number in re.findall(r"\d+(\.\d+)? (?:kg|lb)\b", printed):
        assert len(number.lstrip(".")) <= job.mass_step.decimals


@EVERY_ANSWER
def test_frame(asked):
    (row,) = mix(**asked).to_frame().to_dict("records")
    for name, value in row.items():
        assert name == "status" or re.search(r" \[(L|kg|°C|mass share of glycol)\]$", name), name
        assert value is None or isinstance(value, str) or np.isfinite(value)


@pytest.mark.parametrize("weigh", [False, True])
@pytest.mark.parametrize("show_in", ["metric", "US", "imperial"])
def test_unit_systems_mix_the_same(weigh, show_in):
    one, other = (mix(weigh=weigh, show_in=each) for each in ("metric", show_in))
    assert exact(other) == exact(one)
    assert other.after.frac_mass == pytest.approx(one.after.frac_mass, abs=0.008)
    shown = one.shown_in(show_in)
    assert shown.pour == other.pour and shown.steps == other.steps


def test_the_working_can_be_followed_on_a_calculator():
    job = mix("-37 °C", inside="30 % product", inside_volume="16 L")
    lines = {line.label: line.text for line in job.working.lines}
    kept = re.search(r"leaves ([\d.]+) % .*: glycol ([\d.]+), water ([\d.]+)", lines["Taken out"])
    told = re.search(
        r"([\d.]+) L of ([\d.]+) kg/L = ([\d.]+) kg: glycol ([\d.]+)",
        lines[f"Poured {CAN.name}"],
    )
    litres, density, mass, brought = (float(each) for each in told.groups())
    assert litres * density == pytest.approx(mass, abs=2e-3)
    assert 0.94 * mass == pytest.approx(brought, abs=2e-3)
    glycol = float(kept[2]) + brought
    whole = glycol + float(kept[3]) + 0.03 * mass
    assert 100 * glycol / whole == pytest.approx(100 * job.after.frac_mass, abs=0.02)
    assert f"{100 * job.after.frac_mass:.2f} mass %" in lines["In the batch"]


# --- refusals -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"volume": "20"}, r"volume: 20 has no unit"),
        ({"volume": "0.1 L"}, r"volume: 0.1 L is below 0.2 L"),
        ({"volume": "20000 L"}, r"volume: 20000 L is above 10000 L"),
        (
            {"container": "10 L"},
            r"volume: 20.00 L does not fit into the container \(10.00 L\)\. Ask for what fits",
        ),
        ({"container": "10"}, r"container: 10 has no unit"),
        (
            {"container": "25 L", "inside": "30 % product", "inside_volume": "26 L"},
            r"inside_volume: 26.00 L is more than the container holds \(25.00 L\)",
        ),
        ({"inside_volume": "1 L"}, r"inside: nothing was entered, and 1.00 L is inside\. Read it"),
        ({"inside": "30 % product"}, r"inside_volume: 0.00 L of what was told to be inside"),
        ({"inside": "30 %", "inside_volume": "1 L"}, r"inside: 30 %: per cent of what"),
        ({"inside": "16 °C", "inside_volume": "1 L"}, r"inside: 16 °C: .* did you mean −16 °C"),
        (
            {"inside": PG_CAN.mix("30 % product"), "inside_volume": "1 L"},
            r"inside: propylene glycol is inside and ethylene glycol is to be poured",
        ),
        (
            {"inside": "-16 °C", "inside_volume": "1 L", "pour": (cc.WATER,)},
            r"inside: -16 °C does not say which glycol is inside, and nothing poured tells",
        ),
        ({"pour": (cc.WATER,)}, r"pour: only water is listed, and nothing is inside"),
        ({"pour": ()}, r"pour: nothing is listed"),
        ({"pour": (CAN, PG_CAN)}, r"pour: ethylene glycol and propylene glycol are both listed"),
        ({"target": "50 %"}, r"target: 50 %: per cent of what"),
        ({"target": "70 % product"}, r"target: 70 % of product is stronger than 60 mass %"),
        ({"target": PG_CAN.mix("50 % product")}, r"target: .*mixture of glycols"),
        ({"temp": "60 °C"}, r"temp: 60 °C is above 40 °C, up to which liquids are measured out"),
        ({"temp": "-5 °C"}, r"temp: −5 °C: water to pour is ice below 0 °C"),
        ({"weigh": "yes"}, r'weigh: "yes" is not one of the choices'),
        ({"show_in": "furlongs"}, r'show_in: "furlongs" is not one of the choices'),
        (
            {"pour": (READY,), "target": "55 % product", **REMNANTS["more than is wanted"]},
            r"inside_volume: 30.00 L is inside, more than the 20.00 L wanted, and taking some out",
        ),
    ],
)
def test_refusals(more, says):
    with pytest.raises(CoolcalcError, match=says) as caught:
        mix(**more)
    assert not isinstance(caught.value, FormError)
    assert str(caught.value).rstrip().endswith((".", "?", ")", '"'))


def test_all_slips_are_told_at_once():
    with pytest.raises(FormError) as caught:
        mix("50 %", volume="20", temp="90 °C", show_in="furlongs", inside_volume="1")
    fields = {error.field for error in caught.value.errors}
    assert fields == {"volume", "target", "temp", "show_in", "inside_volume"}
